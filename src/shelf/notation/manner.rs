//! How a table is written: what stands between its cells, its decimal mark, and units in a row of their own.
//!
//! Spreadsheets of half the world put semicolons between cells and commas into numbers. Such a table is read
//! when all of it can be read in one way only.

use std::ops::Range;

use crate::shelf::fault::{Fault, Faults};
use crate::shelf::file::text::Text;
use crate::shelf::key::field::UNIT_ENDINGS;
use crate::shelf::notation::record::Record;

/// One raw cell: its text without quotes, and its place.
pub(crate) type Piece = (String, Range<usize>);

/// What stands between the cells of a table with this header: semicolons where no comma does.
pub(crate) fn between(header: &str) -> char {
    let mut quoted = false;
    let bare: Vec<char> = header
        .chars()
        .filter(|c| {
            quoted ^= *c == '"';
            !quoted
        })
        .collect();
    if bare.contains(&';') && !bare.contains(&',') { ';' } else { ',' }
}

/// A number's decimal mark, and whether it can be nothing else.
struct Mark {
    mark: char,
    proven: bool,
}

/// What a cell's numbers are written with; several of them stand between blanks or colons.
fn marks(word: &str) -> Option<Vec<Mark>> {
    let numbers = word.split([' ', ':']).filter(|token| !token.is_empty());
    let mark = |token: &str| -> Option<Option<Mark>> {
        let (digits, exponent) = token.split_once(['e', 'E']).unwrap_or((token, "0"));
        exponent.parse::<i32>().ok()?;
        let digits = digits.trim_start_matches(['+', '-']);
        let is_number = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
        let Some(at) = digits.find([',', '.']) else {
            return is_number(digits).then_some(None);
        };
        let (whole, part) = (&digits[..at], &digits[at + 1..]);
        if !is_number(whole) || !is_number(part) {
            return None;
        }
        // 1,234 may be a little more than one, or more than a thousand
        let thousands = part.len() == 3 && whole.len() <= 3 && !whole.starts_with('0');
        let mark = if digits.contains(',') { ',' } else { '.' };
        Some(Some(Mark { mark, proven: !thousands }))
    };
    let all: Option<Vec<Option<Mark>>> = numbers.map(mark).collect();
    all.map(|all| all.into_iter().flatten().collect())
}

/// The decimal mark of a table with semicolons between its cells; none where no number has one.
///
/// Errors: both marks, or numbers that may be decimal or have a mark between thousands.
pub(crate) fn decimal_mark<'p>(
    cells: impl Iterator<Item = &'p Piece>,
    text: &Text,
) -> Result<Option<char>, Faults> {
    let mut first: Option<(char, &Piece)> = None;
    let mut proven = false;
    for piece in cells {
        for mark in marks(&piece.0).into_iter().flatten() {
            proven |= mark.proven;
            match first {
                None => first = Some((mark.mark, piece)),
                Some((known, other)) if known != mark.mark => {
                    let what = format!("the file has both `{}` and `{}`", other.0, piece.0);
                    let expected = "one decimal mark throughout, a comma or a point";
                    let mend = "export the sheet again; whatever was typed as text keeps its mark";
                    let fault = Fault::new(what, text.place(other.1.clone(), ""), expected, mend);
                    return Err(fault.and_at(text.place(piece.1.clone(), "")).into());
                }
                Some(_) => {}
            }
        }
    }
    match first {
        Some((mark, piece)) if !proven => {
            let name = if mark == ',' { "comma" } else { "point" };
            let what = format!("`{}` may be a decimal number or one of thousands", piece.0);
            let expected = format!("a number in the file that shows what its {name} is");
            let mend = "export the sheet again with the comma between cells and the decimal point";
            Err(Fault::new(what, text.place(piece.1.clone(), ""), expected, mend).into())
        }
        first => Ok(first.map(|(mark, _)| mark)),
    }
}

/// A cell with decimal points in place of commas, if it holds numbers alone.
pub(crate) fn with_points(word: &mut String) {
    if marks(word).is_some_and(|marks| !marks.is_empty()) {
        *word = word.replace(',', ".");
    }
}

/// Whether a table with semicolons between its cells has decimal commas.
pub(crate) fn has_commas(body: &str) -> bool {
    let lines = body.lines().filter(|line| !line.starts_with('#'));
    let cells = lines.flat_map(|line| line.split(';'));
    cells.filter_map(|word| marks(word.trim())).flatten().any(|mark| mark.mark == ',')
}

/// A unit as keys have it: "W/(m·K)" is `W_mK`, "g/m²" is `g_m2`.
fn as_in_keys(unit: &str) -> String {
    let sign = |c: char| match c {
        '/' => Some('_'),
        '²' => Some('2'),
        '³' => Some('3'),
        'µ' | 'μ' => Some('u'),
        ' ' | '·' | '*' | '°' | '(' | ')' | '[' | ']' => None,
        _ => Some(c),
    };
    unit.replace('%', "pct").chars().filter_map(sign).collect()
}

/// The units of each column, as keys have them, if a row below the header holds units and nothing else.
pub(crate) fn units(header: &Record, row: &[Piece]) -> Option<Vec<Option<String>>> {
    if row.len() != header.cells.len() {
        return None;
    }
    let unit = |(word, _): &Piece| -> Option<Option<String>> {
        if ["", "-", "–", "—"].contains(&word.as_str()) {
            return Some(None);
        }
        let unit = as_in_keys(word);
        UNIT_ENDINGS.contains(&unit.to_lowercase().as_str()).then_some(Some(unit))
    };
    let all: Option<Vec<Option<String>>> = row.iter().map(unit).collect();
    all.filter(|all| all.iter().any(Option::is_some))
}

/// Puts each column's unit behind its name, where it does not stand there yet.
pub(crate) fn with_units(
    header: &mut Record,
    row: &[Piece],
    units: Vec<Option<String>>,
    faults: &mut Vec<Fault>,
) {
    for ((cell, (word, span)), unit) in header.cells.iter_mut().zip(row).zip(units) {
        let Some(unit) = unit else { continue };
        let ends =
            |unit: &str| cell.key.to_lowercase().ends_with(&format!("_{}", unit.to_lowercase()));
        if ends(&unit) {
            continue;
        }
        if UNIT_ENDINGS.iter().any(|known| ends(known)) {
            let what = format!("column `{}` has the unit `{word}` below it", cell.key);
            let mend = "convert the column, or correct the unit";
            let place = cell.text.place(span.clone(), "");
            let expected = "the unit that the column is named with, or a name without a unit";
            faults.push(Fault::new(what, cell.key_place(), expected, mend).and_at(place));
            continue;
        }
        let name = cell.key.trim().to_lowercase().replace([' ', '-'], "_");
        cell.key = format!("{name}_{unit}");
    }
}

#[cfg(test)]
mod tests {
    use super::{as_in_keys, between, decimal_mark, units, with_points};
    use crate::shelf::file::text::{Form, Text};
    use crate::shelf::notation::sheet;

    #[test]
    fn a_table_says_what_stands_between_its_cells() {
        for (header, sign) in [("a,b", ','), ("a;b", ';'), ("a", ','), ("\"a,b\";c", ';')] {
            assert_eq!(between(header), sign, "{header}");
        }
        // a comma anywhere else is the older reading
        assert_eq!(between("a;b,c"), ',');
    }

    #[test]
    fn one_mark_throughout_or_a_fault() {
        let text = Text::new("a.csv", "lot;thickness", Form::Csv);
        let mark = |cells: &[&str]| {
            let cells: Vec<_> = cells.iter().map(|cell| ((*cell).to_owned(), 0..1)).collect();
            decimal_mark(cells.iter(), &text).map_err(|faults| faults.to_string())
        };
        assert_eq!(mark(&["L1", "0,45", "195"]), Ok(Some(',')));
        assert_eq!(mark(&["0.45", "-1.5e-3", "2 kg, 3 m"]), Ok(Some('.')));
        assert_eq!(mark(&["195", "a, b"]), Ok(None));
        assert_eq!(mark(&["1,234", "0,5"]), Ok(Some(',')));
        assert!(mark(&["1,234", "12,345"]).is_err_and(|what| what.contains("thousands")));
        assert!(mark(&["1.234"]).is_err_and(|what| what.contains("thousands")));
        assert!(mark(&["0,45", "0.45"]).is_err_and(|what| what.contains("both")));
        assert!(mark(&["14,1 13,7", "1:0,42 5:0,35"]).is_ok_and(|mark| mark == Some(',')));
    }

    #[test]
    fn numbers_alone_get_points() {
        for (word, becomes) in [
            ("0,45", "0.45"),
            ("14,1 13,7", "14.1 13.7"),
            ("1:0,42", "1:0.42"),
            ("felt, 2 mm", "felt, 2 mm"),
            ("1,5 mm", "1,5 mm"),
        ] {
            let mut word = word.to_owned();
            with_points(&mut word);
            assert_eq!(word, becomes);
        }
    }

    #[test]
    fn units_are_written_as_keys_have_them() {
        for (unit, key) in [
            ("W/(m·K)", "W_mK"),
            ("[g/m²]", "g_m2"),
            ("%", "pct"),
            ("°C", "C"),
            ("µm", "um"),
            ("J/(kg K)", "J_kgK"),
        ] {
            assert_eq!(as_in_keys(unit), key);
        }
        let text = Text::new("a.csv", "name,thickness,areal_density\n", Form::Csv);
        let header = sheet::parse(&text, &mut Vec::new()).unwrap().header;
        let row = |cells: [&str; 3]| cells.map(|cell| (cell.to_owned(), 0..0));
        let found = units(&header, &row(["-", "mm", "g/m²"])).unwrap();
        assert_eq!(found, [None, Some("mm".to_owned()), Some("g_m2".to_owned())]);
        assert!(units(&header, &row(["felt", "mm", "g/m²"])).is_none());
        assert!(units(&header, &row(["", "", ""])).is_none());
        assert!(units(&header, &row(["", "1.2", "100"])).is_none());
    }
}
