//! The columns of the layups that a search found, and their file.

use crate::bench::figure::{Found, Told, filed};
use crate::garment::brief::{Brief, Stitching};
use crate::physics::units::{BARE, GRAMS_PER_AREA, MILLIMETRES, PERCENT};
use crate::report::anchored;
use crate::report::csv::CurvesError;
use crate::report::form::column::Column;
use crate::report::form::rows::csv;
use crate::report::form::value::{Digits, Held, Value};
use crate::report::seek::words as say;
use crate::study::odds::spread::Share;
use crate::study::seek::chance::Chance;
use crate::study::seek::finding::{Choice, Finding, Point};
use crate::study::seek::score::Scored;

/// A layup and its place in a list, from 1.
#[derive(Clone, Copy)]
pub struct Row<'a> {
    list: &'static str,
    place: usize,
    point: &'a Point,
    /// What is known of a layup of the shortlist alone.
    choice: Option<&'a Choice>,
}

/// One of a point's two layups.
type Part = fn(&Point) -> Option<&Scored>;

/// The layup as it was searched.
fn open(point: &Point) -> Option<&Scored> {
    Some(&point.scored)
}

/// The layup with its gaps closed until the margin is just kept.
fn closed(point: &Point) -> Option<&Scored> {
    point.tightened.as_ref().map(|tightened| &tightened.scored)
}

impl<'a> Row<'a> {
    fn stitching(&self) -> Option<&'a Stitching> {
        self.point.candidate.stitching.as_ref()
    }
}

/// The frontier, first the one with least of what is minimised.
pub fn frontier<'a>(finding: &'a Finding<'_>) -> Vec<Row<'a>> {
    let all = finding.frontier.iter().enumerate();
    all.map(|(i, point)| Row { list: "frontier", place: i + 1, point, choice: None }).collect()
}

fn shortlist<'a>(finding: &'a Finding<'_>) -> Vec<Row<'a>> {
    let row = |(i, choice): (usize, &'a Choice)| Row {
        list: "shortlist",
        place: i + 1,
        point: &choice.point,
        choice: Some(choice),
    };
    finding.shortlist.iter().enumerate().map(row).collect()
}

/// A figure, or what it is at least where it was not reached.
struct OrLeast(Found);

impl Held for OrLeast {
    const HAS_ERROR: bool = true;

    fn value(self) -> Value {
        match self.0 {
            Found::Value { valued, .. } => Value::Valued(valued),
            other => other.value_or_least().value(),
        }
    }
}

/// A layup: its plies and size, its figures, the same with the gaps closed, what it keeps.
pub fn layups<'a>(finding: &'a Finding<'_>) -> Vec<Column<'a, Row<'a>>> {
    let (space, brief) = (finding.space, finding.brief());
    let stack = move |row: &Row| say::stack(space, &row.point.candidate);
    let plies = move |row: &Row| say::plies(space, &row.point.candidate.plies).join(" + ");
    let mut all = vec![
        Column::new("list", BARE, |row: &Row| row.list),
        Column::new("place", BARE, |row: &Row| row.place).headed("").on_page("no."),
        Column::new("plies", BARE, plies).headed("outermost first").written(stack),
        Column::new("gaps_mm", BARE, |row: &Row| gaps(&row.point.candidate.gaps)),
        Column::new("areal_density", GRAMS_PER_AREA, |row: &Row| row.point.scored.areal_density)
            .headed("g/m²")
            .on_page("mass")
            .digits(Digits::Fixed(0)),
        Column::new("thickness", MILLIMETRES, |row: &Row| row.point.scored.thickness)
            .headed("mm")
            .on_page("thickness")
            .digits(Digits::Fixed(2)),
        least_spare(brief),
    ];
    all.extend(figures(brief, "", open));
    all.push(
        spare("", open)
            .headed("spare %")
            .on_page("spare")
            .written(|row: &Row| say::spare(row.point.scored.spare)),
    );
    all.extend([
        Column::new("closed gaps_mm", BARE, |row: &Row| {
            row.point.tightened.as_ref().map(|tightened| gaps(&tightened.candidate.gaps))
        }),
        Column::new("closed thickness", MILLIMETRES, |row: &Row| {
            closed(row.point).map(|closed| closed.thickness)
        })
        .headed("closed mm")
        .on_page("closed")
        .digits(Digits::Fixed(2)),
    ]);
    all.extend(figures(brief, "closed ", closed));
    all.push(spare("closed ", closed));
    all.push(Column::new("keeps_margin", BARE, |row: &Row| row.point.scored.keeps));
    // units stand in the headings: one line of them, as names of figures are short
    all.into_iter().map(|column| column.under("")).collect()
}

/// The figure of the target with the least spare, named where there are several.
fn least_spare<'a>(brief: &'a Brief) -> Column<'a, Row<'a>> {
    let wanted = &brief.wanted;
    let one = match wanted.as_slice() {
        [one] => Some(say::name(one)),
        _ => None,
    };
    let figure = move |row: &Row| {
        let at = row.point.scored.binding;
        let value = say::value(&row.point.scored.readings[at], &wanted[at]);
        if one.is_some() { value } else { format!("{} {value}", say::name(&wanted[at])) }
    };
    Column::text(one.unwrap_or("least spare"), BARE, figure).right()
}

fn figures<'a>(
    brief: &'a Brief,
    before: &'a str,
    scored: Part,
) -> impl Iterator<Item = Column<'a, Row<'a>>> {
    brief.wanted.iter().enumerate().map(move |(i, wanted)| {
        let name = format!("{before}{}", wanted.target.name);
        Column::new(format!("{name} value"), filed(wanted.target.figure), move |row: &Row| {
            scored(row.point).map(|scored| OrLeast(scored.readings[i]))
        })
        .with_error_named(format!("{name} error"))
    })
}

fn spare<'a>(before: &str, scored: Part) -> Column<'a, Row<'a>> {
    Column::new(format!("{before}spare"), PERCENT, move |row: &Row| {
        scored(row.point).map(|scored| scored.spare)
    })
}

/// Odds of a target, of sets and of single specimens.
fn odds<'a>(i: usize, name: &str) -> impl Iterator<Item = Column<'a, Row<'a>>> {
    type Of = fn(&Chance) -> &Share;
    let shares: [(&str, Of); 2] = [("set", |chance| &chance.set), ("one", |chance| &chance.one)];
    type End = fn(&Share) -> f64;
    let ends: [(&str, End); 3] =
        [("", Share::value), ("_low", |share| share.low), ("_high", |share| share.high)];
    let before = format!("closed {name} odds_");
    shares.into_iter().flat_map(move |(word, share)| {
        let before = format!("{before}{word}");
        ends.map(|(end, of)| {
            Column::new(format!("{before}{end}"), PERCENT, move |row: &Row| {
                row.choice.and_then(|choice| Some(of(share(choice.odds.get(i)?.as_ref().ok()?))))
            })
        })
    })
}

fn quilting<'a>() -> [Column<'a, Row<'a>>; 5] {
    let length = |name: &str, of: fn(&Stitching) -> f64| {
        Column::new(name, MILLIMETRES, move |row: &Row| row.stitching().map(of))
    };
    [
        Column::new("pattern", BARE, |row: &Row| {
            row.stitching().map_or("none", |own| own.pattern.word()).to_string()
        }),
        length("pitch", |own| own.pitch),
        length("stitch_width", |own| own.stitch_width),
        length("loft", |own| own.loft),
        Column::new("closed loft", MILLIMETRES, |row: &Row| {
            row.stitching()?;
            row.point.closed_candidate().stitching.map(|closed| closed.loft)
        }),
    ]
}

/// The frontier, then the shortlist, as CSV; a figure that was not reached stands with a blank error.
///
/// Errors: a value that is not a finite number.
pub fn seek_csv(finding: &Finding<'_>) -> Result<String, CurvesError> {
    let (space, brief) = (finding.space, finding.brief());
    let mut all = layups(finding);
    all.push(Column::new("next_gain_per_cost", BARE, |row: &Row| {
        let next = row.choice.and_then(|choice| choice.next.as_ref());
        next.map(|next| say::rate(next, brief))
    }));
    if brief.n_sets > 0 {
        for (i, wanted) in brief.wanted.iter().enumerate() {
            all.extend(odds(i, &wanted.target.name));
        }
    }
    if brief.is_quilted() {
        all.extend(quilting());
    }
    if brief.bands.is_anchored() {
        for (i, wanted) in brief.wanted.iter().enumerate() {
            let told = move |row: &Row| {
                let point = row.point;
                let verdicts = say::verdicts(space, point.closed_candidate(), point.closed());
                Told::of_verdict("", &verdicts[i])
            };
            let before = format!("closed {} ", wanted.target.name);
            all.extend(anchored::columns(&before, filed(wanted.target.figure), told));
        }
    }
    csv(&all, &[frontier(finding), shortlist(finding)].concat())
}

fn gaps(gaps: &[f64]) -> String {
    gaps.iter().map(|gap| say::millimetres(*gap)).collect::<Vec<_>>().join(" ")
}
