//! The report of layups side by side.

use crate::bench::figure::{Verdict, figure_name};
use crate::bench::lies::Stack;
use crate::garment::layup::Layup;
use crate::garment::source::Source;
use crate::garment::suit::sewn_density;
use crate::garment::target::Target;
use crate::physics::units::GRAMS_PER_AREA;
use crate::report::anchored;
use crate::report::document::gap::beside_block;
use crate::report::document::layup::outcome_flags;
use crate::report::document::materials::{data_flags, layup_block, materials_block};
use crate::report::document::shared::{
    Again, again_block, assumptions, begin, exposure_block, flags,
};
use crate::report::document::{Document, Drawing, Grid};
use crate::report::figures::{BEYOND_MARK, in_words};
use crate::report::form::rows::grid;
use crate::report::number::Shown;
use crate::report::rank::columns::{places, rows};
use crate::report::rank::words::{all_told, order_words, places_of_skin, remark};
use crate::report::verdict;
use crate::study::gap_beside::Beside;
use crate::study::ordering::{Placed, Ranking};

/// The report of a ranking.
///
/// - `gap`: the same gap opened in each, drawn; none where that was not asked
pub fn rank_document(
    ranking: &Ranking<'_>,
    targets: &[&Target],
    (drawing, gap): (Drawing, Option<(Beside, Drawing)>),
    sources: &[&Source],
    again: &Again,
) -> Document {
    let n = ranking.placed.len();
    let exposure = ranking.placed.first().map(|placed| &placed.outcome.exposure);
    let under = exposure.map_or("", |exposure| exposure.name.as_str());
    let question =
        format!("Which of {n} layups holds heat back longest under {under}, and at what mass?");
    let title = format!("{n} layups side by side under {under}");
    let mut document = begin(&title, &question, again);
    document.front(answer(ranking, targets), drawing, &[remark(ranking)]);
    document.first_line(ranking.placed.iter().map(|placed| placed.outcome.lies.stack()));
    document.heading("Results");
    document.text(&order_words(ranking));
    document.table(grid(&places(ranking), &rows([ranking])));
    places_of_skin(ranking).iter().for_each(|line| document.note(line));
    document.note(&remark(ranking));
    anchored::block(&mut document, &all_told(ranking));
    if !targets.is_empty() {
        let called = called(ranking, targets);
        document.table(against(&called));
        let asked = called.iter().map(|(_, _, verdict)| &verdict.rule);
        verdict::rules(asked).iter().for_each(|sentence| document.note(sentence));
    }
    if let Some((beside, drawing)) = gap {
        beside_block(&mut document, &beside, drawing);
    }
    document.heading("Layups");
    let layups: Vec<&Layup> = ranking.placed.iter().map(|placed| &placed.outcome.layup).collect();
    let stacks: Vec<Stack> =
        ranking.placed.iter().map(|placed| placed.outcome.lies.stack()).collect();
    for (layup, stack) in layups.iter().zip(&stacks) {
        layup_block(&mut document, layup, *stack);
    }
    document.heading("Exposure");
    if let Some(exposure) = exposure {
        exposure_block(&mut document, exposure);
    }
    materials_block(&mut document, &layups, sources);
    assumptions(&mut document);
    let of_runs = ranking.placed.iter();
    let mut found: Vec<String> = of_runs
        .flat_map(|placed| outcome_flags(placed.outcome, &placed.outcome.layup.name))
        .collect();
    found.extend(data_flags(&layups, &stacks));
    flags(&mut document, found);
    again_block(&mut document, again);
    document
}

/// Which holds heat back longest, and what the lightest does.
fn answer(ranking: &Ranking<'_>, targets: &[&Target]) -> String {
    let Some(first) = ranking.placed.first() else { return String::new() };
    let (figure, exposure) = (ranking.by.figure(), &first.outcome.exposure);
    let name = figure_name(figure, exposure);
    let told = |placed: &Placed<'_>| {
        let mass = GRAMS_PER_AREA.fixed(sewn_density(&placed.outcome.layup), 0);
        let mark = if placed.found.is_beyond() { BEYOND_MARK } else { "" };
        let call = |target: &&Target| match placed.held(target).call {
            Ok(call) => format!("{}: {}", target.name, call.words()),
            Err(_) => format!("{}: not judged", target.name),
        };
        let calls: Vec<String> = targets.iter().map(call).collect();
        let calls = match calls.is_empty() {
            true => String::new(),
            false => format!(" ({})", calls.join("; ")),
        };
        format!("{name} {}{mark} at {mass} g/m²{calls}", in_words(&placed.found, figure))
    };
    let mass = |placed: &&Placed<'_>| sewn_density(&placed.outcome.layup);
    let lightest = ranking.placed.iter().min_by(|a, b| mass(a).total_cmp(&mass(b)));
    let second = match lightest {
        Some(light) if light.outcome.layup.name != first.outcome.layup.name => {
            format!("The lightest, \"{}\", reads {}.", light.outcome.layup.name, told(light))
        }
        _ => "It is the lightest, too.".to_owned(),
    };
    format!("\"{}\" holds heat back longest: {}. {second}", first.outcome.layup.name, told(first))
}

/// Target, layup and answer, target by target.
fn called<'a>(
    ranking: &'a Ranking<'_>,
    targets: &'a [&'a Target],
) -> Vec<(&'a Target, &'a str, Verdict)> {
    let of = |target: &'a Target| {
        ranking.placed.iter().map(move |placed| {
            let verdict = placed.held(target);
            (target, placed.outcome.layup.name.as_str(), verdict)
        })
    };
    targets.iter().flat_map(|target| of(target)).collect()
}

fn against(called: &[(&Target, &str, Verdict)]) -> Grid {
    let mut grid = Grid::new(["target", "asks", "layup", "needs predicted", "against it"]);
    for (target, layup, verdict) in called {
        grid.row([
            target.name.clone(),
            verdict::asks(&verdict.rule),
            (*layup).to_owned(),
            verdict::needs(&verdict.rule),
            verdict::in_short(verdict),
        ]);
    }
    grid
}
