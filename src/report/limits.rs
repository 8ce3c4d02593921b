//! Each ply against its limit temperature, and what passing it means for the figures.

use crate::bench::figure::t_valid;
use crate::bench::outcome::{Outcome, PlyFate, When};
use crate::physics::units::{BARE, CELSIUS, SECONDS};
use crate::report::figures::BEYOND_MARK;
use crate::report::form::column::Column;
use crate::report::form::rows::table;
use crate::report::form::value::Digits;
use crate::report::number::{Shown, significant};
use crate::report::table::paragraph;
use crate::report::words::when_short;

/// The plies' limits in text, over all runs of the outcome.
pub fn section(outcome: &Outcome) -> String {
    let runs = [("disc", outcome.disc.as_ref()), ("skin", outcome.skin.as_ref())];
    let corner = outcome.lies.over_cell().map_or("", |_| "on its worst path");
    section_of(corner, runs.map(|(behind, run)| (behind, run.map(|run| run.plies.as_slice()))))
}

/// The same from the plies' fates in each run; none where it was not asked for.
///
/// - `corner`: what stands above the plies' names
pub fn section_of(corner: &str, runs: [(&str, Option<&[PlyFate]>); 2]) -> String {
    let runs: Vec<(&str, &[PlyFate])> =
        runs.into_iter().filter_map(|(behind, plies)| Some((behind, plies?))).collect();
    let Some((columns, rows)) = over_runs(corner, &runs) else { return String::new() };
    let plies: Vec<&[PlyFate]> = runs.iter().map(|(_, plies)| *plies).collect();
    table(&columns, &rows) + &paragraph(&meaning_of(&plies), 2)
}

/// Columns of every run beside one another, and each ply's fate in all of them; none without a run.
///
/// - `runs`: what stands behind, and the plies' fates
pub fn over_runs<'a>(
    corner: &str,
    runs: &[(&str, &'a [PlyFate])],
) -> Option<(Vec<Column<'a, Fates<'a>>>, Vec<Fates<'a>>)> {
    let of_run = |(i, (behind, _)): (usize, &(&str, _))| {
        // a ply is named once
        let columns = columns(corner, behind).into_iter().skip(if i == 0 { 0 } else { 2 });
        columns.map(move |column| column.of_part(move |fates: &Fates| fates[i]))
    };
    let fates = |j: usize| runs.iter().map(|(_, plies)| &plies[j]).collect();
    let (_, first) = runs.first()?;
    let columns = runs.iter().enumerate().flat_map(of_run).collect();
    Some((columns, (0..first.len()).map(fates).collect()))
}

/// What became of a ply in each run.
pub type Fates<'a> = Vec<&'a PlyFate>;

/// What is told of a ply.
///
/// - `corner`: what stands above the plies' names
pub fn columns<'a>(corner: &str, behind: &str) -> [Column<'a, PlyFate>; 5] {
    [
        Column::new("name", BARE, |ply: &PlyFate| ply.name.clone()).headed(corner).on_page("ply"),
        Column::new("limit_temperature", CELSIUS, |ply: &PlyFate| ply.temp_limit)
            .headed("limit")
            .written(limit)
            .or_null(),
        Column::new("limit_event", BARE, |ply: &PlyFate| ply.limit_event.clone()),
        Column::new("limit_passed", SECONDS, |ply: &PlyFate| ply.limit_passed)
            .headed(format!("{behind}: passed"))
            .on_page(format!("{behind}: limit gone past"))
            .written(|ply| when_short(&ply.limit_passed)),
        Column::new("peak_temperature", CELSIUS, |ply: &PlyFate| ply.temp_peak)
            .headed("hottest")
            .on_page(format!("{behind}: hottest"))
            .digits(Digits::Fixed(0)),
    ]
}

/// A ply's limit temperature [°C], or "charred" where it ends by charring through.
fn limit(fate: &PlyFate) -> String {
    fate.temp_limit.map_or_else(|| "charred".to_owned(), |temp| CELSIUS.fixed(temp, 0))
}

/// What the limits mean for the figures of an outcome, all its runs taken together.
pub fn meaning(outcome: &Outcome) -> String {
    meaning_of(&outcome.runs().iter().map(|one| &one.run.plies[..]).collect::<Vec<_>>())
}

/// What the limits mean for the figures, from the plies' fates in every run.
pub fn meaning_of(runs: &[&[PlyFate]]) -> String {
    let first = runs.iter().filter_map(|plies| t_valid(plies)).min_by(f64::total_cmp);
    let unsettled = runs
        .iter()
        .flat_map(|plies| plies.iter())
        .any(|ply| matches!(ply.limit_passed, When::Unsettled { .. }));
    match first {
        None => "No ply gets past its limit: none melts, opens or is char to its last place."
            .to_string(),
        Some(t) => format!(
            "{BEYOND_MARK} From {} s on a ply is past its limit{}: it shrinks, melts, opens or is \
             consumed, which is not modelled. Figures marked {BEYOND_MARK} lie outside the model's validity.",
            significant(t, 2),
            if unsettled { " or so close to it that the meshes disagree" } else { "" }
        ),
    }
}
