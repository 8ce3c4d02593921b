//! Layups of a shortlist as files that the program reads.

use crate::NOTICE;
use crate::garment::known::Provenance;
use crate::garment::layup::{PlyJoint, Quilting};
use crate::physics::units::GRAMS_PER_LENGTH;
use crate::report::number::Shown;
use crate::report::seek::words as say;
use crate::report::table::wrap;
use crate::study::seek::finding::{Choice, Finding};

/// A file's name and text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayupFile {
    /// Its name, with its place in the shortlist first.
    pub name: String,
    /// Its text.
    pub text: String,
}

/// One file for each layup of the shortlist, in its order.
pub fn layup_files(finding: &Finding<'_>) -> Vec<LayupFile> {
    finding.shortlist.iter().enumerate().map(|(i, choice)| file(finding, i, choice)).collect()
}

fn file(finding: &Finding<'_>, i: usize, choice: &Choice) -> LayupFile {
    let (space, brief) = (finding.space, finding.brief());
    let names = say::plies(space, &choice.point.candidate.plies);
    let mut text = String::new();
    for line in wrap(NOTICE, 96) {
        text.push_str(&format!("# {line}\n"));
    }
    let closed = choice.point.closed();
    for (reading, wanted) in closed.readings.iter().zip(&brief.wanted) {
        let value = say::value(reading, wanted);
        text.push_str(&format!("# {} {value} under {}\n", say::name(wanted), wanted.exposure.name));
    }
    let number = i + 1;
    text.push_str(&format!("name = {}\n", quoted(&format!("{}, layup {number}", brief.name))));
    text.push_str(&format!("note = {}\n", quoted(&names.join(" + "))));
    for (name, gap) in names.iter().zip(&choice.point.closed_candidate().gaps) {
        text.push_str(&format!("\n[[stack]]\nply = {}\n", quoted(name)));
        if *gap > 0.0 {
            let gap = say::millimetres(*gap);
            let from = quoted("estimated: chosen by a search");
            text.push_str(&format!("\n[[stack]]\ngap_mm = {gap}\nfrom = {from}\n"));
            continue;
        }
        match &brief.joint {
            PlyJoint::Faces => {}
            PlyJoint::Shared => text.push_str("joint = \"shared\"\n"),
            PlyJoint::Conductance(known) => {
                text.push_str(&format!("joint_W_m2K = {}\n", known.value));
                if !known.source.is_empty() || known.provenance != Provenance::Stated {
                    let from = format!("{}: {}", known.provenance.word(), known.source);
                    text.push_str(&format!("joint_from = {}\n", quoted(&from)));
                }
            }
        }
    }
    if let Some(quilting) = &choice.point.layup(space).quilting {
        text.push_str(&quilting_table(quilting));
    }
    LayupFile { name: format!("{number:02}-{}.toml", names.join("_")), text }
}

/// The quilting as a layup's file has it.
fn quilting_table(quilting: &Quilting) -> String {
    let pattern = quoted(quilting.pattern.word());
    let mut text = format!("\n[quilting]\npattern = {pattern}\n");
    let lengths = [
        ("pitch_mm", &quilting.pitch),
        ("stitch_width_mm", &quilting.stitch_width),
        ("loft_mm", &quilting.loft),
        ("pressed_mm", &quilting.pressed),
    ];
    for (key, length) in lengths {
        text.push_str(&format!("{key} = {}\n", say::millimetres(length.value)));
    }
    if let Some(thread) = &quilting.thread {
        text.push_str(&format!("thread_g_m = {}\n", GRAMS_PER_LENGTH.short(thread.value, 6)));
    }
    text + &format!("from = {}\n", quoted("estimated: chosen by a search"))
}

/// Text as TOML has it, between quotes.
fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}
