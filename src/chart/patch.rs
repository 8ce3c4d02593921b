//! A patched layup: times beside the patch, under it, and of the disc behind both.

use crate::bench::outcome::{Figures, Outcome, When};
use crate::chart::bars::{Bar, BarChart, BarGroup, bar_chart};
use crate::chart::error::ChartError;
use crate::chart::frame::{Axis, Heading};
use crate::chart::text::number;
use crate::physics::units::PERCENT;
use crate::study::patched::PatchOutcome;

/// The chart of a patched layup as SVG.
///
/// - `sentence`: what the disc averages away, in words
///
/// Errors: no time is reached, a value that is not finite.
pub fn patch_chart(outcome: &PatchOutcome, sentence: &str) -> Result<String, ChartError> {
    let beside = &outcome.beside;
    let rises = match beside.exposure.radiant_share {
        1.0 => ["RHTI12", "RHTI24"],
        _ => ["HTI12", "HTI24"],
    };
    let disc = [
        (rises[0], outcome.disc.rise12),
        (rises[1], outcome.disc.rise24),
        ("Stoll crossing", outcome.disc.stoll),
    ];
    let (one, other) = (disc_times(beside), disc_times(&outcome.under));
    let mut groups: Vec<BarGroup> = disc
        .iter()
        .zip(one.iter().zip(&other))
        .map(|((label, both), (one, other))| group(label, [Some(*one), Some(*other), Some(*both)]))
        .collect();
    let (one, other) = (burn(beside), burn(&outcome.under));
    groups.push(group("second-degree burn", [one, other, None]));
    let name = &beside.layup.name;
    let share = number(PERCENT.outside(outcome.patch.share), 1);
    bar_chart(&BarChart {
        heading: Heading {
            title: format!("{name}: {} over {share} % of the area", outcome.patch.fabric.name),
            subtitle: sentence.to_owned(),
            source: format!("layup {name}, exposure {}", beside.exposure.name),
            summary: format!("Times beside the patch, under it, and of the disc. {sentence}"),
        },
        axis: Axis::new("time [s]"),
        names: ["beside the patch", "under the patch", "one disc behind both"]
            .map(String::from)
            .to_vec(),
        groups,
        targets: Vec::new(),
    })
}

fn disc_times(outcome: &Outcome) -> Vec<When> {
    match outcome.disc.as_ref().map(|run| &run.figures) {
        Some(Figures::Disc(disc)) => vec![disc.rise12, disc.rise24, disc.stoll],
        _ => Vec::new(),
    }
}

fn burn(outcome: &Outcome) -> Option<When> {
    match outcome.skin.as_ref().map(|run| &run.figures) {
        Some(Figures::Skin(skin)) => Some(skin.second_degree),
        _ => None,
    }
}

fn group(label: &str, whens: [Option<When>; 3]) -> BarGroup {
    let bar = |when: Option<When>| match when {
        Some(When::At { t, error }) => Some(Bar {
            value: t,
            whisker: Some((t - error, t + error)),
            note: format!("{} s", number(t, 1)),
        }),
        _ => None,
    };
    BarGroup { label: label.to_owned(), bars: whens.map(bar).to_vec() }
}
