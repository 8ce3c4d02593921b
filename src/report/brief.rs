//! The answer of an exposure in short: what was asked, the figures, their calls, and what to know of them first.

use crate::bench::figure::{Verdict, figure_name, of_outcome, shown};
use crate::bench::outcome::{Outcome, Valued};
use crate::garment::band::{Bands, Class};
use crate::garment::known::Provenance;
use crate::garment::layup::{Entry, Layup};
use crate::garment::target::{Figure, Target};
use crate::physics::units::{GRAMS_PER_AREA, KILOPASCALS, MILLIMETRES};
use crate::report::figures::Length;
use crate::report::layup::properties;
use crate::report::lies::{first_line, sentence};
use crate::report::limits::meaning;
use crate::report::number::{Shown, significant};
use crate::report::studies::Studies;
use crate::report::table::paragraph;
use crate::report::text::{heading, notice, own_tests, runs_sections, section, studies_sections};
use crate::report::words::list;
use crate::report::{exposure, verdict};

/// What the rest is told by.
const REST: &str =
    "`--full` tells the rest: where values come from, limits, where heat and water went.";

/// The outcome in some forty lines.
pub fn exposure_brief(
    outcome: &Outcome,
    verdicts: &[(&Target, Verdict)],
    studies: &Studies,
    bands: &Bands,
) -> String {
    let (layup, stack) = (&outcome.layup, outcome.lies.stack());
    let mut out = first_line([stack]);
    out.push_str(&heading(&format!("{} under {}", layup.name, outcome.exposure.name)));
    if layup.name != in_one_line(layup) {
        out.push_str(&paragraph(&in_one_line(layup), 2));
    }
    if let Some(quilted) = sentence(layup, stack) {
        out.push_str(&paragraph(&quilted, 2));
    }
    out.push_str(&paragraph(&so_much(outcome), 2));
    runs_sections(&mut out, outcome, Length::Brief);
    own_tests(&mut out, studies.anchored);
    if !verdicts.is_empty() {
        section(&mut out, "Against the targets", &verdict::section(verdicts));
    }
    studies_sections(&mut out, outcome, studies);
    // calls and own tests tell what the bench may read
    let told = !(verdicts.is_empty() && studies.anchored.is_empty());
    let asked = studies.sensitivity.is_some();
    section(&mut out, "What to know of it", &to_know(outcome, [told, asked], bands));
    out.push('\n');
    out + &notice()
}

/// "outer-aramid-200 + 1 mm + inner-jersey-140": plies and gaps as a layup in one line has them.
fn in_one_line(layup: &Layup) -> String {
    let part = |entry: &Entry| match entry {
        Entry::Ply(ply) => ply.fabric.name.clone(),
        Entry::Gap(gap) => format!("{} mm", MILLIMETRES.short(gap.thickness.value, 3)),
    };
    layup.stack.iter().map(part).collect::<Vec<_>>().join(" + ")
}

/// "440 g/m², 4.35 mm; 80 kW/m², 20 % of it radiant, continuous".
fn so_much(outcome: &Outcome) -> String {
    let layup = &outcome.layup;
    let pressed = layup.pressure.as_ref().map_or(String::new(), |pressure| {
        format!(", under {} kPa", KILOPASCALS.short(pressure.value, 3))
    });
    format!(
        "{} g/m², {} mm{pressed}; {}.",
        GRAMS_PER_AREA.fixed(layup.areal_density(), 0),
        MILLIMETRES.fixed(layup.thickness(), 2),
        exposure::brief(&outcome.exposure)
    )
}

/// The weakest things about the figures: limits passed, what measured layers leave open, guessed values.
fn to_know(outcome: &Outcome, [told, asked]: [bool; 2], bands: &Bands) -> String {
    let mut out = paragraph(&meaning(outcome), 2);
    if let Some(held) = exposure::held(&outcome.exposure) {
        out.push_str(&paragraph(&format!("In the flux {held}."), 2));
    }
    if !told {
        if let Some(words) = band_words(outcome, bands) {
            out.push_str(&paragraph(&words, 2));
        }
    }
    out.push_str(&paragraph(&values_words(&outcome.layup, asked), 2));
    let kept = outcome.runs().iter().all(|one| one.run.numerics.goal_met);
    let unkept = if kept { "" } else { " It was NOT kept within what was asked." };
    out.push_str(&paragraph(&format!("± is the numerical error alone.{unkept} {REST}"), 2));
    out
}

/// How far figures of the layup's class may lie from their prediction, with what the first of them rests on.
fn band_words(outcome: &Outcome, bands: &Bands) -> Option<String> {
    let layup = outcome.computed();
    let mut ranges: Vec<String> = Vec::new();
    for figure in [Figure::Rise24, Figure::SecondDegree] {
        let Some(Valued { value, .. }) = of_outcome(outcome, figure).valued() else { continue };
        let band = bands.of(&layup, figure, &outcome.exposure);
        let unit = shown(figure);
        let [low, high] = [band.factors.lower, band.factors.upper]
            .map(|factor| significant(unit.outside(factor * value), 3));
        let name = figure_name(figure, &outcome.exposure);
        let rests_on = match ranges.is_empty() {
            true => format!(" ({})", band.basis),
            false => String::new(),
        };
        ranges.push(format!("{name} between {low} and {high} {}{rests_on}", unit.unit));
    }
    let class = Class::of(&layup).in_words();
    (!ranges.is_empty()).then(|| format!("What was measured of {class} leaves {}.", list(&ranges)))
}

/// How the values of the plies are known, and what tells which of them matter unless that was asked.
fn values_words(layup: &Layup, asked: bool) -> String {
    let all = layup.plies().flat_map(|ply| properties(&ply.fabric));
    let kinds: Vec<Provenance> = all.map(|(_, provenance)| provenance).collect();
    let counted = Provenance::ALL.iter().filter_map(|kind| {
        let n = kinds.iter().filter(|one| *one == kind).count();
        (n > 0).then(|| format!("{n} {kind}"))
    });
    let more = if asked { "" } else { "; `--sensitivity` tells which of them move the times" };
    format!("Of {} values of its plies: {}{more}.", kinds.len(), list(&counted.collect::<Vec<_>>()))
}
