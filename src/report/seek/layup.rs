//! Layups of a shortlist as files that the program reads.

use crate::NOTICE;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::Entry;
use crate::physics::units::MICROMETRES;
use crate::report::seek::words as say;
use crate::report::table::wrap;
use crate::shelf::layup::write::layup_toml;
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
    let mut layup = choice.point.layup(space);
    layup.name = format!("{}, layup {number}", brief.name);
    layup.note = names.join(" + ");
    let gaps = layup.stack.iter_mut().filter_map(|entry| match entry {
        Entry::Gap(gap) => Some(&mut gap.thickness),
        Entry::Ply(_) => None,
    });
    let of_quilting = layup
        .quilting
        .iter_mut()
        .flat_map(|q| [&mut q.pitch, &mut q.stitch_width, &mut q.loft, &mut q.pressed]);
    gaps.chain(of_quilting).for_each(chosen);
    // a brief's fabrics lie on the shelf
    text.push_str(&layup_toml(&layup, |_, _| None));
    LayupFile { name: format!("{number:02}-{}.toml", names.join("_")), text }
}

/// A length that the search has chosen, to the micrometre.
fn chosen(length: &mut Known) {
    length.value = MICROMETRES.inside(MICROMETRES.outside(length.value).round());
    (length.provenance, length.source) = (Provenance::Estimated, "chosen by a search".into());
}
