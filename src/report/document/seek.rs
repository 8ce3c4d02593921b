//! The report of a search.

use crate::bench::outcome::Outcome;
use crate::garment::brief::{Brief, Minimise};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::source::Source;
use crate::physics::units::{GRAMS_PER_AREA, MILLIMETRES};
use crate::report::anchored;
use crate::report::document::gap::map_block;
use crate::report::document::layup::outcome_flags;
use crate::report::document::materials::{data_flags, layup_block, materials_block};
use crate::report::document::shared::{
    Again, again_block, assumptions, begin, exposure_block, flags,
};
use crate::report::document::{Block, Document, Drawing, Grid};
use crate::report::form::rows::grid;
use crate::report::number::Shown;
use crate::report::seek::columns;
use crate::report::seek::text::{
    binds, limits, more, nothing, searched, shortlist_note, shortlist_rules,
};
use crate::report::seek::words as say;
use crate::report::verdict;
use crate::report::words::{count, list};
use crate::study::answer::{Quilts, stack};
use crate::study::gap_map::GapMap;
use crate::study::seek::finding::Finding;

/// The report of a search.
///
/// - `map`: the shortlist's plies against the brief's gaps, drawn; none where there are none
/// - `exposed`: layups of the shortlist exposed once more, each with its number in it from 1
pub fn seek_document(
    finding: &Finding<'_>,
    (drawing, map): (Drawing, Option<(GapMap, Drawing)>),
    exposed: &[(usize, Outcome)],
    sources: &[&Source],
    again: &Again,
) -> Document {
    let brief = finding.brief();
    let question = match brief.minimise {
        Minimise::Mass => {
            "Which are the lightest layups that keep to what is wanted, and what does \
                           the next gram buy?"
        }
        Minimise::Thickness => {
            "Which are the thinnest layups that keep to what is wanted, and what \
                                does the next millimetre buy?"
        }
    };
    let mut document = begin(&brief.name, question, again);
    document.front(answer(finding), drawing, &[]);
    document.text(&brief.note);
    document.heading("What is wanted");
    let wanted = brief.wanted.iter().map(say::wanted);
    let limits = format!("Limits: {}", limits(brief));
    document.blocks.push(Block::List(wanted.chain([limits]).collect()));
    document.heading("Results");
    document.blocks.push(Block::Lesser("Shortlist".to_owned()));
    shortlist(&mut document, finding);
    document.blocks.push(Block::Lesser("Frontier".to_owned()));
    frontier(&mut document, finding);
    if let Some((map, drawing)) = map {
        map_block(&mut document, &map, drawing);
    }
    document.heading("How it was searched");
    document.text(&searched(finding));
    document.heading("Layups of the shortlist");
    let layups = layups(finding);
    for layup in &layups {
        layup_block(&mut document, layup, stack(layup, Quilts::Computed));
    }
    document.heading("Exposure");
    exposures(brief).into_iter().for_each(|exposure| exposure_block(&mut document, exposure));
    let borrowed: Vec<&Layup> = layups.iter().collect();
    materials_block(&mut document, &borrowed, sources);
    assumptions(&mut document);
    flags(&mut document, found_flags(exposed, &borrowed));
    again_block(&mut document, again);
    document
}

/// The first of the shortlist in a sentence, and how many kept the margins.
fn answer(finding: &Finding<'_>) -> String {
    let brief = finding.brief();
    let Some(first) = finding.shortlist.first() else { return nothing(brief) };
    let closed = first.point.closed();
    let least = match brief.minimise {
        Minimise::Mass => "The lightest",
        Minimise::Thickness => "The thinnest",
    };
    format!(
        "{least} is S1, {}: {} g/m² and {} mm. {} of {} exposed kept every margin; the shortlist holds \
         {}.",
        say::stack(finding.space, first.point.closed_candidate()),
        GRAMS_PER_AREA.fixed(closed.areal_density, 0),
        MILLIMETRES.fixed(closed.thickness, 2),
        finding.counts.n_keeping,
        count(finding.counts.n_exposed() as usize, "combination", "combinations"),
        count(finding.shortlist.len(), "layup", "layups"),
    )
}

fn shortlist(document: &mut Document, finding: &Finding<'_>) {
    let brief = finding.brief();
    if finding.shortlist.is_empty() {
        return;
    }
    let mut figures =
        Grid::new(["", "target", ">figure", ">margin", "against it", ">odds, set", ">odds, one"]);
    let mut layups = Grid::new(["", "outermost first", "mass [g/m²]", "thickness [mm]"]);
    let mut holds = Grid::new(["", "what binds it", "what more buys"]);
    for (i, choice) in finding.shortlist.iter().enumerate() {
        let number = format!("S{}", i + 1);
        let closed = choice.point.closed();
        layups.row([
            number.clone(),
            say::stack(finding.space, choice.point.closed_candidate()),
            GRAMS_PER_AREA.fixed(closed.areal_density, 1),
            MILLIMETRES.fixed(closed.thickness, 2),
        ]);
        let verdicts = say::verdicts(finding.space, choice.point.closed_candidate(), closed);
        for (j, (verdict, wanted)) in verdicts.iter().zip(&brief.wanted).enumerate() {
            let reading = &verdict.found;
            let margin = verdict.margin_or_least();
            let [set, one] = match choice.odds.get(j) {
                Some(Ok(chance)) => [say::share(&chance.set), say::share(&chance.one)],
                Some(Err(_)) => ["not known".to_owned(), String::new()],
                None => [String::new(), String::new()],
            };
            figures.row([
                number.clone(),
                wanted.target.name.clone(),
                format!("{} {}", say::name(wanted), say::value(reading, wanted)),
                margin.map_or("–".to_owned(), |margin| format!("{} %", say::spare(margin))),
                verdict::answer(verdict),
                set,
                one,
            ]);
        }
        holds.row([number, list(&binds(choice, brief)), more(choice, brief)]);
    }
    document.table(layups);
    own_tests(document, finding);
    document.table(figures);
    document.table(holds);
    document.note(&shortlist_note(brief));
    shortlist_rules(finding).iter().for_each(|sentence| document.note(sentence));
}

fn own_tests(document: &mut Document, finding: &Finding<'_>) {
    let mut all = Vec::new();
    for (i, choice) in finding.shortlist.iter().enumerate() {
        let (closed, point) = (choice.point.closed_candidate(), choice.point.closed());
        let verdicts = say::verdicts(finding.space, closed, point);
        all.extend(say::told(&verdicts, &format!("S{}", i + 1)));
    }
    anchored::sentences(&all).iter().for_each(|sentence| document.text(sentence));
}

fn frontier(document: &mut Document, finding: &Finding<'_>) {
    let brief = finding.brief();
    document.text("No layup within the limits has less of the one and more of the other.");
    document.table(grid(&columns::layups(finding), &columns::frontier(finding)));
    let ends = match brief.wanted.len() {
        1 => "",
        _ => " The figure is that of the target with the least spare.",
    };
    document.note(&format!(
        "Spare: the figure above what is wanted. Closed: thickness once the gaps are closed until the \
         margin is just kept; the plies stay. ± is the numerical error alone.{ends}"
    ));
}

/// The layups of the shortlist, called S1, S2, …
fn layups(finding: &Finding<'_>) -> Vec<Layup> {
    let all = finding.shortlist.iter().enumerate();
    all.map(|(i, choice)| Layup {
        name: format!("S{}", i + 1),
        ..choice.point.layup(finding.space)
    })
    .collect()
}

/// The different exposures of the targets.
fn exposures(brief: &Brief) -> Vec<&Exposure> {
    let mut all: Vec<&Exposure> = Vec::new();
    for wanted in &brief.wanted {
        if !all.contains(&&wanted.exposure) {
            all.push(&wanted.exposure);
        }
    }
    all
}

fn found_flags(exposed: &[(usize, Outcome)], layups: &[&Layup]) -> Vec<String> {
    let mut found = Vec::new();
    for (number, outcome) in exposed {
        found.extend(outcome_flags(outcome, &format!("S{number} under {}", outcome.exposure.name)));
    }
    let stacks: Vec<_> = layups.iter().map(|layup| stack(layup, Quilts::Computed)).collect();
    found.extend(data_flags(layups, &stacks));
    found
}
