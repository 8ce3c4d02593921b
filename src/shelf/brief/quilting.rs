//! The ways of stitching that a brief looks at.

use crate::garment::brief::Stitching;
use crate::garment::layup::Pattern;
use crate::physics::units::{MILLIMETRES, PERCENT};
use crate::shelf::fault::Fault;
use crate::shelf::key::field::{Companions, Field, Keys, Range, field};
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;
use crate::shelf::notation::record::{Cell, Record, Value};

/// Most ways of stitching in a brief.
const STITCHINGS_MOST: usize = 1000;
/// The word for plies that are not stitched together.
const LOOSE: &str = "none";
const PRESSED: Field = field!("pressed", PERCENT, Range::above(0.0, 100.0), "55");
const QUILTING: Keys<'_> = Keys {
    kind: "brief's quilting",
    fields: &[kinds::PITCH, kinds::STITCH_WIDTH, kinds::LOFT, PRESSED, kinds::THREAD],
    words: &["pattern"],
    provenance: Companions::Without,
};
const LEAST: Field = Field::new("least", "least", MILLIMETRES, Range::from(0.0, 1000.0), "20");
const MOST: Field = Field::new("most", "most", MILLIMETRES, Range::from(0.0, 1000.0), "60");
const STEP: Field = Field::new("step", "step", MILLIMETRES, Range::from(0.05, 1000.0), "10");
const SPAN: Keys<'_> = Keys {
    kind: "range",
    fields: &[LEAST, MOST, STEP],
    words: &[],
    provenance: Companions::Without,
};

/// The ways of stitching: loose plies alone where the brief has no quilting; none where it cannot
/// be read, with the faults noted.
pub(crate) fn read_stitchings(
    root: &Record,
    faults: &mut Vec<Fault>,
) -> Option<Vec<Option<Stitching>>> {
    let Some(cell) = root.get("quilting") else { return Some(vec![None]) };
    let Value::Table(table) = &cell.value else {
        let mend = "write `[quilting]` on a line of its own and its keys below";
        faults.push(Fault::new("quilting is not a table", cell.place(), "a table", mend));
        return None;
    };
    QUILTING.check(table, faults);
    let before = faults.len();
    let patterns = read_patterns(table, faults);
    if patterns.as_ref().is_some_and(|all| all.iter().all(Option::is_none)) {
        return Some(vec![None]);
    }
    let mut need = |field: &Field| lengths(table, field, faults);
    let (pitches, widths) = (need(&kinds::PITCH), need(&kinds::STITCH_WIDTH));
    let lofts = need(&kinds::LOFT);
    let mut reader = Reader { record: table, owner: "the quilting".to_owned(), faults };
    let pressed = reader.need_number(&PRESSED);
    let thread = reader.si(&kinds::THREAD);
    let (patterns, pitches, widths, lofts) = (patterns?, pitches?, widths?, lofts?);
    let pressed_share = 1e-2 * pressed?;
    wide_enough(table, &pitches, &widths, faults);
    let n_stitched = patterns.iter().flatten().count();
    few_enough(table, n_stitched * pitches.len() * widths.len() * lofts.len(), faults);
    if faults.len() > before {
        return None;
    }
    let mut all = Vec::new();
    for pattern in patterns {
        let Some(pattern) = pattern else {
            all.push(None);
            continue;
        };
        for pitch in &pitches {
            for stitch_width in &widths {
                for loft in &lofts {
                    let (pitch, stitch_width, loft) = (*pitch, *stitch_width, *loft);
                    all.push(Some(Stitching {
                        pattern,
                        pitch,
                        stitch_width,
                        loft,
                        pressed_share,
                        thread,
                    }));
                }
            }
        }
    }
    Some(all)
}

/// The patterns, none standing for loose plies; each once.
fn read_patterns(table: &Record, faults: &mut Vec<Fault>) -> Option<Vec<Option<Pattern>>> {
    let mut choices: Vec<(&str, Option<Pattern>)> = vec![(LOOSE, None)];
    choices.extend(Pattern::ALL.map(|pattern| (pattern.word(), Some(pattern))));
    let before = faults.len();
    let mut patterns: Vec<Option<Pattern>> = Vec::new();
    for record in entries(table, "pattern") {
        let mut reader = Reader { record: &record, owner: "the quilting".to_owned(), faults };
        let Some(pattern) = reader.need_choice("pattern", &choices) else { continue };
        if patterns.contains(&pattern) {
            once(&record, "pattern", faults);
        } else {
            patterns.push(pattern);
        }
    }
    (faults.len() == before && !patterns.is_empty()).then_some(patterns)
}

/// One record for each entry under `key`, as if it stood there alone; the table itself where there
/// is no list.
fn entries(table: &Record, key: &str) -> Vec<Record> {
    match table.get(key).map(|cell| &cell.value) {
        Some(Value::List(cells)) if !cells.is_empty() => {
            let alone = |cell: &Cell| Record {
                cells: vec![Cell { key: key.to_owned(), ..cell.clone() }],
                ..table.clone()
            };
            cells.iter().map(alone).collect()
        }
        Some(Value::List(_)) => {
            let left = table.cells.iter().filter(|cell| cell.key != key).cloned();
            vec![Record { cells: left.collect(), ..table.clone() }]
        }
        _ => vec![table.clone()],
    }
}

/// A number, a list of numbers, or `{ least, most, step }` [m], each once, smallest first.
fn lengths(table: &Record, field: &Field, faults: &mut Vec<Fault>) -> Option<Vec<f64>> {
    if let Some(Value::Table(span)) = table.get(field.key).map(|cell| &cell.value) {
        return lengths_between(span, field, faults);
    }
    let before = faults.len();
    let mut all: Vec<f64> = Vec::new();
    for record in entries(table, field.key) {
        let mut reader = Reader { record: &record, owner: "the quilting".to_owned(), faults };
        let Some(value) = reader.need_number(field) else { continue };
        if all.contains(&value) {
            once(&record, field.key, faults);
        } else {
            all.push(value);
        }
    }
    all.sort_by(f64::total_cmp);
    (faults.len() == before).then(|| all.iter().map(|value| 1e-3 * value).collect())
}

/// The lengths of `{ least, most, step }` [m].
fn lengths_between(span: &Record, field: &Field, faults: &mut Vec<Fault>) -> Option<Vec<f64>> {
    SPAN.check(span, faults);
    let owner = format!("`{}`", field.key);
    let mut reader = Reader { record: span, owner, faults };
    let (least, most) = (reader.need_number(&LEAST), reader.need_number(&MOST));
    let (least, most, step) = (least?, most?, reader.need_number(&STEP)?);
    for (value, key) in [(least, LEAST.key), (most, MOST.key)] {
        if let Some(slip) = field.range.slip(value) {
            let what = format!("{key} of `{}` is {slip}", field.key);
            let mend = format!("give a length such as {}", field.example);
            let expected = field.range.words(field.unit);
            reader.fault(Fault::new(what, span.place_of(key), expected, mend));
            return None;
        }
    }
    if least > most {
        let what = format!("`{}` ends before it begins", field.key);
        let expected = "`least` at most `most`";
        let fault = Fault::new(what, span.place_of(LEAST.key), expected, "change one of the two");
        reader.fault(fault.and_at(span.place_of(MOST.key)));
        return None;
    }
    let n = ((most - least) / step + 1e-6).floor() as usize + 1;
    if n > STITCHINGS_MOST {
        few_enough(span, n, faults);
        return None;
    }
    Some((0..n).map(|i| 1e-3 * (least + i as f64 * step)).collect())
}

fn once(record: &Record, key: &str, faults: &mut Vec<Fault>) {
    let what = format!("`{key}` of the quilting holds an entry twice");
    let place = record.place_of(key);
    faults.push(Fault::new(what, place, "each entry once", "remove one of the two"));
}

fn wide_enough(table: &Record, pitches: &[f64], widths: &[f64], faults: &mut Vec<Fault>) {
    let least = pitches.iter().copied().fold(f64::INFINITY, f64::min);
    let widest = widths.iter().copied().fold(0.0, f64::max);
    if widest >= least {
        let what = "the widest stitch lines of the quilting are as wide as the least pitch";
        let place = table.place_of(kinds::STITCH_WIDTH.key);
        let expected = "each `stitch_width_mm` less than each `pitch_mm`";
        let fault = Fault::new(what, place, expected, "check both widths");
        faults.push(fault.and_at(table.place_of(kinds::PITCH.key)));
    }
}

fn few_enough(table: &Record, n: usize, faults: &mut Vec<Fault>) {
    if n > STITCHINGS_MOST {
        let what = format!("the quilting has {n} ways of stitching");
        let expected = format!("at most {STITCHINGS_MOST}");
        let mend = "take larger steps or fewer patterns";
        faults.push(Fault::new(what, table.place(), expected, mend));
    }
}
