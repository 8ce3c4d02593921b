//! The result of a search as CSV, one row a layup.

use crate::bench::figure::{Found, Told, filed};
use crate::garment::brief::Brief;
use crate::report::anchored;
use crate::report::columns::{Cell, Columns};
use crate::report::csv::CurvesError;
use crate::report::seek_words as say;
use crate::study::odds::spread::Share;
use crate::study::seek::chance::Chance;
use crate::study::seek::finding::{Choice, Finding, Point};
use crate::study::seek::score::Scored;

const ODDS: [&str; 6] = [
    "odds_set_pct",
    "odds_set_low_pct",
    "odds_set_high_pct",
    "odds_one_pct",
    "odds_one_low_pct",
    "odds_one_high_pct",
];
const QUILTING: [&str; 5] = ["pattern", "pitch_mm", "stitch_width_mm", "loft_mm", "closed loft_mm"];

/// The frontier, then the shortlist, as CSV; a figure that was not reached stands with a blank error.
///
/// Errors: a value that is not a finite number.
pub fn seek_csv(finding: &Finding<'_>) -> Result<String, CurvesError> {
    let brief = finding.brief();
    let mut headers: Vec<String> =
        ["list", "place", "plies", "gaps_mm", "areal_density_g_m2", "thickness_mm"]
            .map(String::from)
            .to_vec();
    for prefix in ["", "closed "] {
        if !prefix.is_empty() {
            headers.extend(["closed gaps_mm", "closed thickness_mm"].map(String::from));
        }
        for wanted in &brief.wanted {
            let unit = filed(wanted.target.figure).suffix;
            let name = &wanted.target.name;
            headers.extend(["value", "error"].map(|w| format!("{prefix}{name} {w}_{unit}")));
        }
        headers.push(format!("{prefix}spare_pct"));
    }
    headers.extend(["keeps_margin", "next_gain_per_cost"].map(String::from));
    if brief.n_sets > 0 {
        for wanted in &brief.wanted {
            let name = &wanted.target.name;
            headers.extend(ODDS.map(|word| format!("closed {name} {word}")));
        }
    }
    if brief.is_quilted() {
        headers.extend(QUILTING.map(String::from));
    }
    if brief.bands.is_anchored() {
        for wanted in &brief.wanted {
            let heads = anchored::heads(filed(wanted.target.figure).suffix);
            headers.extend(heads.map(|head| format!("closed {} {head}", wanted.target.name)));
        }
    }
    let mut columns = Columns::new(headers);
    for (i, point) in finding.frontier.iter().enumerate() {
        columns.rows.push(row(finding, ("frontier", i), point, None));
    }
    for (i, choice) in finding.shortlist.iter().enumerate() {
        columns.rows.push(row(finding, ("shortlist", i), &choice.point, Some(choice)));
    }
    columns.csv()
}

fn row(
    finding: &Finding<'_>,
    (list, i): (&str, usize),
    point: &Point,
    choice: Option<&Choice>,
) -> Vec<Cell> {
    let (space, brief) = (finding.space, finding.brief());
    let mut row = vec![
        Cell::word(list),
        Cell::Number((i + 1) as f64),
        Cell::Word(say::plies(space, &point.candidate.plies).join(" + ")),
        Cell::Word(gaps(&point.candidate.gaps)),
        Cell::Number(1e3 * point.scored.areal_density),
        Cell::Number(1e3 * point.scored.thickness),
    ];
    row.extend(figures(&point.scored, brief));
    match &point.tightened {
        Some(tightened) => {
            row.push(Cell::Word(gaps(&tightened.candidate.gaps)));
            row.push(Cell::Number(1e3 * tightened.scored.thickness));
            row.extend(figures(&tightened.scored, brief));
        }
        None => row.extend(vec![Cell::Blank; 3 + 2 * brief.wanted.len()]),
    }
    row.push(Cell::word(if point.scored.keeps { "yes" } else { "no" }));
    let next = choice.and_then(|choice| choice.next.as_ref());
    row.push(Cell::maybe(next.map(|next| say::rate(next, &brief.wanted))));
    if brief.n_sets > 0 {
        for i in 0..brief.wanted.len() {
            let chance = choice.and_then(|choice| choice.odds.get(i)?.as_ref().ok());
            row.extend(odds(chance));
        }
    }
    if brief.is_quilted() {
        row.extend(quilting(point));
    }
    if brief.bands.is_anchored() {
        for verdict in say::verdicts(space, point.closed_candidate(), point.closed()) {
            let told = Told::of_verdict("", &verdict);
            row.extend(anchored::cells(told.as_ref(), filed(verdict.rule.figure)));
        }
    }
    row
}

fn odds(chance: Option<&Chance>) -> Vec<Cell> {
    let Some(chance) = chance else { return vec![Cell::Blank; ODDS.len()] };
    let of = |share: &Share| [share.value(), share.low, share.high];
    let all = [of(&chance.set), of(&chance.one)].concat();
    all.into_iter().map(|share| Cell::Number(100.0 * share)).collect()
}

fn quilting(point: &Point) -> Vec<Cell> {
    let Some(own) = point.candidate.stitching else {
        let mut row = vec![Cell::Blank; QUILTING.len()];
        row[0] = Cell::word("none");
        return row;
    };
    let closed = point.closed_candidate().stitching.map(|closed| 1e3 * closed.loft);
    let lengths = [own.pitch, own.stitch_width, own.loft];
    let mut row = vec![Cell::word(own.pattern.word())];
    row.extend(lengths.map(|length| Cell::Number(1e3 * length)));
    row.push(Cell::maybe(closed));
    row
}

fn gaps(gaps: &[f64]) -> String {
    gaps.iter().map(|gap| say::millimetres(*gap)).collect::<Vec<_>>().join(" ")
}

fn figures(scored: &Scored, brief: &Brief) -> Vec<Cell> {
    let mut cells = Vec::new();
    for (reading, wanted) in scored.readings.iter().zip(&brief.wanted) {
        let scale = filed(wanted.target.figure).outside(1.0);
        cells.extend(match reading {
            Found::Value { valued, .. } => Cell::valued(valued, scale),
            other => [Cell::maybe(other.value_or_least().map(|x| scale * x)), Cell::Blank],
        });
    }
    cells.push(Cell::Number(100.0 * scored.spare));
    cells
}
