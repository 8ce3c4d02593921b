//! Layups in one line: `outer-aramid-200 + 1 mm + felt-needled-100; diamond, pitch 40 mm, …`, outermost first.
//!
//! The line becomes the record that a file would give, so that one reader and one set of rules serve both.

use std::ops::Range;
use std::sync::Arc;

use crate::shelf::fault::Fault;
use crate::shelf::file::text::Text;
use crate::shelf::key::field::Field;
use crate::shelf::key::kinds;
use crate::shelf::notation::record::{Cell, Record, Value};
use crate::shelf::notation::tree::decimal_comma;
use crate::shelf::wording::or_list;

/// Where a fault of such a layup lies, in place of a file's name.
pub const PLACE: &str = "the layup in one line";
/// Stands between plies and gaps.
const PLUS: &str = " + ";
/// Stands before the quilting.
const BEFORE_QUILTING: char = ';';
/// The words of a quilting's numbers, the keys that they stand for, and their units.
const QUILTING: [(&str, &Field, &str); 5] = [
    ("pitch", &kinds::PITCH, "mm"),
    ("stitch", &kinds::STITCH_WIDTH, "mm"),
    ("loft", &kinds::LOFT, "mm"),
    ("pressed", &kinds::PRESSED, "mm"),
    ("thread", &kinds::THREAD, "g/m"),
];

/// Whether a text is a layup in one line: plies and gaps with ` + ` between them, and none of the signs
/// that only a file has.
pub fn is_one_line(text: &str) -> bool {
    text.contains(PLUS) && !text.contains(['\n', '=', '[', '"']) && !text.ends_with(".toml")
}

/// The line as the record of a layup; what cannot be understood goes to `faults`.
pub(crate) fn parse(text: &Arc<Text>, faults: &mut Vec<Fault>) -> Record {
    let line = &text.body;
    let (stack, quilting) = match line.find(BEFORE_QUILTING) {
        Some(at) => (0..at, Some(at + 1..line.len())),
        None => (0..line.len(), None),
    };
    let cell = |key: &str, value: Value, span: Range<usize>| Cell {
        key: key.to_owned(),
        value,
        text: text.clone(),
        key_span: span.clone(),
        span,
    };
    let entries = parts(line, stack.clone(), PLUS).into_iter();
    let tables = entries.filter_map(|span| {
        let (key, value) = match entry(&line[span.clone()]) {
            Ok(found) => found,
            Err([what, expected, mend]) => {
                faults.push(Fault::new(what, text.place(span, ""), expected, mend));
                return None;
            }
        };
        let cells = vec![cell(key, value, span.clone())];
        Some(Record { cells, text: text.clone(), span })
    });
    let tables = Value::Tables(tables.collect());
    let name = Value::Word(line.split_whitespace().collect::<Vec<_>>().join(" "));
    let mut cells = vec![cell("name", name, 0..line.len()), cell("stack", tables, stack)];
    if let Some(span) = quilting {
        let mut own = Vec::new();
        for (i, part) in parts(line, span.clone(), ",").into_iter().enumerate() {
            match word_of_quilting(i, &line[part.clone()]) {
                Ok((key, value)) => own.push(cell(key, value, part)),
                Err([what, expected, mend]) => {
                    faults.push(Fault::new(what, text.place(part, ""), expected, mend));
                }
            }
        }
        // a word that was not understood is no missing one
        if faults.is_empty() {
            missing(&own, |what, expected, mend| {
                faults.push(Fault::new(what, text.place(span.clone(), ""), expected, mend));
            });
        }
        let table = Record { cells: own, text: text.clone(), span: span.clone() };
        if faults.is_empty() {
            cells.push(cell("quilting", Value::Table(table), span));
        }
    }
    Record { cells, text: text.clone(), span: 0..line.len() }
}

/// The pieces of a part of the line between separators, blanks at their ends left out.
fn parts(line: &str, within: Range<usize>, separator: &str) -> Vec<Range<usize>> {
    let mut all = Vec::new();
    let mut from = within.start;
    // a separator at either end parts what is there from nothing
    for piece in line[within].split(separator) {
        let bare = piece.trim_matches(' ');
        let at = from + piece.find(bare).unwrap_or(0);
        all.push(at..at + bare.len());
        from += piece.len() + separator.len();
    }
    all
}

/// What is wrong, the rule, and the next thing to do.
type Wrong = [String; 3];

/// A ply or a gap: its key and value.
fn entry(written: &str) -> Result<(&'static str, Value), Wrong> {
    let rule = || "fabrics, and gaps such as `1 mm`, with ` + ` between them".to_owned();
    if written.is_empty() {
        let mend = "remove one `+`, or write what stands there".to_owned();
        return Err(["nothing stands between two `+`, or at an end".to_owned(), rule(), mend]);
    }
    match number_and_unit(written) {
        None => Ok(("ply", Value::Word(written.to_owned()))),
        Some((number, "mm")) => in_unit(number, written, "mm", rule())
            .map(|number| (kinds::GAP.key, Value::Number(number))),
        Some((number, _)) => {
            let mend = format!("write the gap in millimetres, for example `{number} mm`");
            Err([format!("`{written}` is no gap in millimetres"), rule(), mend])
        }
    }
}

/// The pattern, which comes first, or a number of the quilting: its key and value.
fn word_of_quilting(i: usize, written: &str) -> Result<(&'static str, Value), Wrong> {
    if i == 0 {
        return Ok(("pattern", Value::Word(written.to_owned())));
    }
    let (word, rest) = written.split_once(' ').unwrap_or((written, ""));
    let Some((_, field, unit)) = QUILTING.iter().find(|(known, ..)| *known == word) else {
        let words: Vec<&str> = QUILTING.iter().map(|(word, ..)| *word).collect();
        let what = format!("`{written}` is no part of a quilting");
        let expected = format!("a pattern, then {} with a number and its unit", or_list(&words));
        return Err([what, expected, "take one of these words".to_owned()]);
    };
    let rule =
        format!("`{word}` with a number in {unit}, for example `{word} {} {unit}`", field.example);
    let mend = format!("write `{word} {} {unit}` with your number", field.example);
    match number_and_unit(rest.trim()) {
        Some((number, found)) if found == *unit => {
            in_unit(number, written, unit, rule).map(|number| (field.key, Value::Number(number)))
        }
        _ => Err([format!("`{written}` has no number in {unit}"), rule, mend]),
    }
}

/// Tells which numbers of a quilting are not there; thread may be left out.
fn missing(own: &[Cell], mut tell: impl FnMut(String, String, String)) {
    for (word, field, unit) in &QUILTING[..4] {
        if !own.iter().any(|cell| cell.key == field.key) {
            let example = format!("{word} {} {unit}", field.example);
            tell(
                format!("the quilting does not say `{word}`"),
                "a pattern, then `pitch`, `stitch`, `loft` and `pressed` in mm".to_owned(),
                format!("add `, {example}` with your number"),
            );
        }
    }
}

/// A number and what stands behind it, if a text begins with one.
fn number_and_unit(written: &str) -> Option<(&str, &str)> {
    let is_part = |c: char| c.is_ascii_digit() || "+-.,".contains(c);
    let end = written.find(|c| !is_part(c)).unwrap_or(written.len());
    let (number, unit) = (&written[..end], written[end..].trim());
    // a fabric may begin with a digit, such as `3d-spacer`: then no unit follows at once
    let is_number = number.parse::<f64>().is_ok() || decimal_comma(number).is_some();
    let known = ["", "mm", "cm", "m", "um", "µm", "in", "g/m"].contains(&unit);
    (is_number && known).then_some((number, unit))
}

/// The number as a file would have it.
fn in_unit(number: &str, written: &str, unit: &str, rule: String) -> Result<String, Wrong> {
    match decimal_comma(number) {
        Some(right) => Err([
            format!("`{written}` has a decimal comma"),
            rule,
            format!("write `{right} {unit}`"),
        ]),
        None => Ok(number.to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::{PLACE, is_one_line};
    use crate::garment::layup::Layup;
    use crate::shelf::layup::read::read_layup_text;
    use crate::shelf::materials::Shelf;

    fn read(line: &str) -> Result<Layup, String> {
        let shelf = Shelf::built_in().unwrap();
        read_layup_text(line, Path::new(PLACE), &shelf).map_err(|faults| faults.to_string())
    }

    #[test]
    fn a_line_is_the_layup_that_a_file_gives() {
        let line = "outer-aramid-200 + 1 mm +  felt-needled-100 + inner-jersey-140; diamond, pitch 40 mm, \
                    stitch 2 mm, loft 1.5 mm, pressed 1.2 mm, thread 0.12 g/m";
        let file = "name = \"NAME\"\n[[stack]]\nply = \"outer-aramid-200\"\n[[stack]]\ngap_mm = 1\n\
                    [[stack]]\nply = \"felt-needled-100\"\n[[stack]]\nply = \"inner-jersey-140\"\n\
                    [quilting]\npattern = \"diamond\"\npitch_mm = 40\nstitch_width_mm = 2\n\
                    loft_mm = 1.5\npressed_mm = 1.2\nthread_g_m = 0.12\n";
        let name = line.replace("+  felt", "+ felt");
        assert!(is_one_line(line) && !is_one_line(file));
        assert_eq!(read(line).unwrap(), read(&file.replace("NAME", &name)).unwrap());
    }

    #[track_caller]
    fn check(line: &str, parts: &[&str]) {
        assert!(is_one_line(line), "{line}");
        let said = read(line).unwrap_err();
        for part in ["\n  at the layup in one line:1:", "\n  expected: ", "\n  mend: "] {
            assert!(said.contains(part), "{said}");
        }
        for part in parts {
            assert!(said.contains(part), "no `{part}` in\n{said}");
        }
    }

    #[test]
    fn what_is_wrong_is_said_with_its_place() {
        check(
            "outer-aramid-20 + inner-jersey-140",
            &["no fabric is called", ":1:1", "did you mean"],
        );
        check("outer-aramid-200 + 1 + inner-jersey-140", &["`1` is no gap", ":1:20", "`1 mm`"]);
        check("outer-aramid-200 + 0.1 cm + inner-jersey-140", &["`0.1 cm` is no gap"]);
        check("outer-aramid-200 + 1,5 mm + inner-jersey-140", &["decimal comma", "write `1.5 mm`"]);
        check("outer-aramid-200 + 400 mm", &["gap of the stack is too large", "at most 100 mm"]);
        check("outer-aramid-200 + -1 mm", &["gap of the stack is negative"]);
        check("1 mm + outer-aramid-200", &["the outermost entry is a gap"]);
        check("outer-aramid-200 + 1 mm + 1 mm", &["two gaps in a row"]);
        check("outer-aramid-200 +  + inner-jersey-140", &["nothing stands between"]);
        check("outer-aramid-200 + ", &["nothing stands between"]);
        let two = "outer-aramid-200 + inner-jersey-140";
        check(&format!("{two}; diamond"), &["does not say `pitch`", "does not say `loft`"]);
        check(
            &format!("{two}; diamond, pitch 40 mm, stitch 2 mm, loft 1 mm"),
            &["does not say `pressed`", "add `, pressed 1.2 mm`"],
        );
        let rest = "pitch 40 mm, stitch 2 mm, loft 1 mm, pressed 0.9 mm";
        check(&format!("{two}; star, {rest}"), &["pattern of the quilting is `star`"]);
        check(&format!("{two}; diamond, {rest}1"), &["`pressed 0.9 mm1` has no number"]);
        let thin = rest.replace("0.9", "0.01");
        check(&format!("{two}; diamond, {thin}"), &["nothing but fibre is left", "more than 0."]);
        check(&format!("{two}; diamond, pitch 4 cm"), &["`pitch 4 cm` has no number in mm"]);
        check(&format!("{two}; diamond, width 4 mm"), &["is no part of a quilting", "`stitch`"]);
        check("outer-aramid-200 + \u{202e}inner", &["mark of direction"]);
    }
}
