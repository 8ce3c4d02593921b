//! Each ply against its limit temperature, and what passing it means for the figures.

use crate::bench::figure::t_valid;
use crate::bench::outcome::{Outcome, PlyFate, When};
use crate::physics::units::celsius;
use crate::report::figures::BEYOND_MARK;
use crate::report::number::{fixed, significant};
use crate::report::table::{Align, Table, paragraph};
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
    use Align::{Left, Right};
    let runs: Vec<(&str, &[PlyFate])> =
        runs.into_iter().filter_map(|(behind, plies)| Some((behind, plies?))).collect();
    let Some((_, first)) = runs.first() else { return String::new() };
    let mut aligns = vec![Left, Right];
    let mut head = vec![corner.to_string(), "limit".to_string()];
    let mut units = vec![String::new(), "°C".to_string()];
    for (behind, _) in &runs {
        aligns.extend([Right, Right]);
        head.extend([format!("{behind}: passed"), "hottest".to_string()]);
        units.extend(["s".to_string(), "°C".to_string()]);
    }
    let mut table = Table::new(&aligns);
    table.row(head);
    table.row(units);
    for (j, ply) in first.iter().enumerate() {
        let mut row = vec![ply.name.clone(), limit(ply)];
        for fate in runs.iter().filter_map(|(_, plies)| plies.get(j)) {
            row.extend([when_short(&fate.limit_passed), hottest(fate)]);
        }
        table.row(row);
    }
    let plies: Vec<&[PlyFate]> = runs.iter().map(|(_, plies)| *plies).collect();
    table.render() + &paragraph(&meaning_of(&plies), 2)
}

/// A ply's limit temperature [°C], or "charred" where it ends by charring through.
pub fn limit(fate: &PlyFate) -> String {
    fate.temp_limit.map_or_else(|| "charred".to_owned(), |temp| fixed(celsius(temp), 0))
}

fn hottest(fate: &PlyFate) -> String {
    fixed(celsius(fate.temp_peak), 0)
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
