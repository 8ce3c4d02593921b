//! The report of one layup.

use crate::bench::figure::{
    Found, Told, Verdict, figure_name, of_outcome, second_degree_at_centre, t_valid,
};
use crate::bench::outcome::{Outcome, PlyFate, Run};
use crate::garment::source::Source;
use crate::garment::target::{Figure, Target};
use crate::physics::units::{KILOJOULES_PER_AREA, PERCENT};
use crate::report::anchored;
use crate::report::document::materials::{data_flags, layup_block, materials_block};
use crate::report::document::shared::{
    Again, again_block, assumptions, begin, exposure_block, flags,
};
use crate::report::document::{Block, Document, Drawing, Grid};
use crate::report::figures::{BEYOND_MARK, in_words};
use crate::report::form::rows::grid;
use crate::report::heat;
use crate::report::lies;
use crate::report::limits::over_runs;
use crate::report::number::{Shown, looked_at, short, significant};
use crate::report::quilt::RESTS_ON;
use crate::report::quilt_beside::sentences;
use crate::report::quilt_sideways::sideways_words;
use crate::report::quilt_words::what_they_mean;
use crate::report::verdict;
use crate::study::quilt::beside::Way;

/// The figures told, in order.
const FIGURES: [Figure; 6] = [
    Figure::Rise12,
    Figure::Rise24,
    Figure::Rise24Less12,
    Figure::Stoll,
    Figure::Tpp,
    Figure::SecondDegree,
];

/// The report of a layup before disc and skin.
///
/// - `first`, `further`: the chart that shows the answer, of a quilted layup its `ways`, and what it leaves out
/// - `ways`: a quilted layup unquilted and under several patterns
pub fn layup_document(
    outcome: &Outcome,
    (verdicts, told): (&[(&Target, Verdict)], &[Told]),
    (first, further, ways): (Drawing, Drawing, Option<&[Way]>),
    sources: &[&Source],
    again: &Again,
) -> Document {
    let layup = &outcome.layup;
    let question = format!(
        "What would the bench read behind \"{}\" under {}, and when would skin behind it burn?",
        layup.name, outcome.exposure.name
    );
    let mut document = begin(&layup.name, &question, again);
    let own = outcome_flags(outcome, "");
    document.front(answer(outcome, verdicts), first, &own);
    document.first_line([outcome.lies.stack()]);
    document.heading("Results");
    if let Some(cell) = outcome.lies.over_cell() {
        document.text(&lies::behind_the_cell(cell));
    }
    document.table(results(outcome));
    document.note("± is the numerical error alone.");
    if !verdicts.is_empty() {
        document.table(against(verdicts));
        let asked = verdicts.iter().map(|(_, verdict)| &verdict.rule);
        verdict::rules(asked).iter().for_each(|sentence| document.note(sentence));
        // what limits the call stands beside it
        own.iter().for_each(|flag| document.note(flag));
    }
    anchored::block(&mut document, told);
    document.blocks.push(Block::Chart(further));
    if let Some(ways) = ways {
        document.heading("Quilting against quilting");
        document.blocks.push(Block::List(sentences(ways)));
        let meant = what_they_mean(&outcome.exposure).into_iter().chain(sideways_words(ways));
        meant.for_each(|sentence| document.note(&sentence));
        document.note(RESTS_ON);
    }
    document.heading("Layup");
    layup_block(&mut document, layup, outcome.lies.stack());
    document.heading("Exposure");
    exposure_block(&mut document, &outcome.exposure);
    for one in outcome.runs() {
        document.heading(&format!("Where the heat went, {}", one.words()));
        heat(&mut document, one.run, one.behind);
    }
    document.heading("Limits of the plies");
    document.table(limits(outcome));
    materials_block(&mut document, &[layup], sources);
    assumptions(&mut document);
    let mut found = outcome_flags(outcome, "");
    found.extend(data_flags(&[layup], &[outcome.lies.stack()]));
    flags(&mut document, found);
    again_block(&mut document, again);
    document
}

/// What the bench would read, when skin would burn, and what that comes to against the targets.
fn answer(outcome: &Outcome, verdicts: &[(&Target, Verdict)]) -> String {
    let told = |figure: Figure| {
        let found = of_outcome(outcome, figure);
        let mark = if found.is_beyond() { BEYOND_MARK } else { "" };
        format!("{}{mark}", in_words(&found, figure))
    };
    let at = if outcome.lies.over_cell().is_some() { " at a stitch line" } else { "" };
    let calls: Vec<String> = verdicts
        .iter()
        .map(|(target, verdict)| format!("{}: {}", target.name, verdict::answer(verdict)))
        .collect();
    let calls = match calls.is_empty() {
        true => "It was held against no target.".to_owned(),
        false => format!("Against the targets: {}.", calls.join("; ")),
    };
    format!(
        "Behind \"{}\" the disc reads {} {}, and skin has its {}{at} at {}. {calls}",
        outcome.layup.name,
        figure_name(Figure::Rise24, &outcome.exposure),
        told(Figure::Rise24),
        figure_name(Figure::SecondDegree, &outcome.exposure),
        told(Figure::SecondDegree)
    )
}

fn results(outcome: &Outcome) -> Grid {
    let mut grid = Grid::new(["figure", ">value ± error", "remark"]);
    for of in FIGURES {
        let found = of_outcome(outcome, of);
        let remark = match found {
            Found::Value { beyond: true, .. } => format!("{BEYOND_MARK} after a ply's limit"),
            Found::Value { .. } => String::new(),
            Found::AtLeast { t_end, .. } => format!("not reached within {} s", looked_at(t_end)),
            Found::Unsettled { .. } => "the meshes disagree".to_owned(),
            Found::NotAsked => continue,
        };
        let at = match (of, outcome.lies.over_cell()) {
            (Figure::SecondDegree, Some(_)) => " at a stitch line",
            _ => "",
        };
        let value = in_words(&found, of);
        grid.row([format!("{}{at}", figure_name(of, &outcome.exposure)), value, remark]);
    }
    if let Some(found) = second_degree_at_centre(outcome) {
        let of = Figure::SecondDegree;
        let name = format!("{} at a cell's centre", figure_name(of, &outcome.exposure));
        grid.row([name, in_words(&found, of), String::new()]);
    }
    grid
}

/// The answers on targets.
pub fn against(verdicts: &[(&Target, Verdict)]) -> Grid {
    let heads = ["target", "standard", "asks", ">predicted", "needs predicted", "against it"];
    let mut grid = Grid::new(heads);
    for (target, verdict) in verdicts {
        grid.row([
            target.name.clone(),
            target.standard.clone(),
            verdict::asks(&verdict.rule),
            verdict::value(verdict),
            verdict::needs(&verdict.rule),
            verdict::in_short(verdict),
        ]);
    }
    grid
}

fn heat(document: &mut Document, run: &Run, behind: &str) {
    let account = &run.heat;
    document.text(&format!(
        "Up to {} s, {}: {} kJ/m² offered, {} kJ/m² entered the outer face.",
        short(account.t, 2),
        account.moment,
        KILOJOULES_PER_AREA.fixed(account.offered, 0),
        KILOJOULES_PER_AREA.fixed(account.entered, 1)
    ));
    document.table(grid(&heat::columns(account), &heat::rows(account, behind)));
}

fn limits(outcome: &Outcome) -> Grid {
    let labels: Vec<(String, &Run)> =
        outcome.runs().iter().map(|one| (one.label(), one.run)).collect();
    let runs: Vec<(&str, &[PlyFate])> =
        labels.iter().map(|(label, run)| (label.as_str(), run.plies.as_slice())).collect();
    over_runs("", &runs)
        .map_or(Grid::new(["ply", "limit [°C]"]), |(columns, plies)| grid(&columns, &plies))
}

/// Flags that a run raises: limits gone past, an error goal not kept; `of` names the layup where several are told.
pub fn outcome_flags(outcome: &Outcome, of: &str) -> Vec<String> {
    let of = if of.is_empty() { String::new() } else { format!("{of}: ") };
    let mut found = Vec::new();
    for (behind, run) in outcome.runs().iter().map(|one| (one.words(), one.run)) {
        if let Some(t) = t_valid(&run.plies) {
            found.push(format!(
                "{of}{behind}: from {} s on a ply is past its limit; figures after that lie \
                 outside the model's validity ({BEYOND_MARK}).",
                significant(t, 2)
            ));
        }
        if !run.numerics.goal_met {
            let goal = PERCENT.short(run.numerics.error_goal, 3);
            found.push(format!("{of}{behind}: the error goal of {goal} % is not kept to."));
        }
    }
    found
}
