//! TOML files as records; all syntax errors of a file at once.

use std::ops::Range;
use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::shelf::fault::{Fault, Place, enough};
use crate::shelf::file::plain;
use crate::shelf::file::text::Text;
use crate::shelf::notation::record::{Cell, Record, Value};

/// The file as a record; syntax errors go to `faults`, the rest of the file is still there.
pub(crate) fn parse(text: &Arc<Text>, faults: &mut Vec<Fault>) -> Record {
    if !text.ours {
        faults.push(text.foreign());
        return Record { cells: Vec::new(), text: text.clone(), span: 0..0 };
    }
    let (table, errors) = DeTable::parse_recoverable(&text.body);
    for error in &errors {
        if enough(faults) {
            break;
        }
        faults.push(syntax_fault(text, error));
    }
    let mut root = record(text, table.get_ref(), 0..0);
    too_many(&root, faults);
    plain_words(&mut root, faults);
    root
}

/// Cuts lists of tables that are longer than the format has it, and says so.
fn too_many(record: &Record, faults: &mut Vec<Fault>) {
    for cell in &record.cells {
        let Value::Tables(tables) = &cell.value else { continue };
        let most = record.text.rows_most;
        if let Some(beyond) = tables.get(most) {
            let what = format!("there are {} tables `{}`", tables.len(), cell.key);
            let mend = "look whether it is the file that was meant, or split it";
            let fault = Fault::new(what, beyond.place(), format!("at most {most}"), mend);
            faults.push(Fault { breaks: true, ..fault });
        }
    }
}

/// Notes words and keys that hold a refused character, which an escape such as `\u001b` puts into a
/// file that has none, and takes it out of them so that no message repeats it.
fn plain_words(record: &mut Record, faults: &mut Vec<Fault>) {
    for cell in &mut record.cells {
        if enough(faults) {
            return;
        }
        plain_word(cell, faults);
    }
}

fn plain_word(cell: &mut Cell, faults: &mut Vec<Fault>) {
    if let Some((_, c)) = plain::refused_in(&cell.key) {
        faults.push(refused(c, cell.key_place()));
        cell.key = plain::shown(&cell.key);
    }
    match &mut cell.value {
        Value::Word(word) => {
            let Some((_, c)) = plain::refused_in(word) else { return };
            *word = plain::shown(word);
            faults
                .push(refused(c, cell.text.place(cell.span.clone(), format!("key {}", cell.key))));
        }
        Value::Table(table) => plain_words(table, faults),
        Value::Tables(tables) => tables.iter_mut().for_each(|table| plain_words(table, faults)),
        Value::List(cells) => cells.iter_mut().for_each(|cell| plain_word(cell, faults)),
        Value::Blank | Value::Number(_) | Value::Other(_) => {}
    }
}

fn refused(c: char, place: Place) -> Fault {
    let what = format!("the text holds {}", plain::named(c));
    let mend = "remove it, and the escape that writes it";
    Fault { breaks: true, ..Fault::new(what, place, plain::EXPECTED, mend) }
}

/// Adds what is wrong with the content, in the order of the file, but nothing that only follows
/// from broken syntax, from a broken row or from a key that is misspelt or not there.
pub(crate) fn add_beyond_syntax(faults: &mut Vec<Fault>, mut found: Vec<Fault>) {
    found.sort_by_key(|fault| fault.places.first().map(|p| (p.path.clone(), p.line, p.column)));
    let first = faults.clone();
    faults.extend(found.into_iter().filter(|fault| !first.iter().any(|f| follows(fault, f))));
    let all = faults.clone();
    faults.retain(|fault| !all.iter().any(|cause| is_meant_by(fault, cause)));
}

/// Whether `fault` may only follow from the broken syntax of `cause`.
fn follows(fault: &Fault, cause: &Fault) -> bool {
    let (Some(at), Some(broken)) = (fault.places.first(), cause.places.first()) else {
        return false;
    };
    let same_line = cause.meant.is_none() && at.line == broken.line;
    at.path == broken.path && (same_line || cause.breaks && fault.absence)
}

/// Whether `fault` misses a key that `cause` has found under another name, or missing for all rows.
fn is_meant_by(fault: &Fault, cause: &Fault) -> bool {
    let (Some(key), Some(at), Some(there)) =
        (&cause.meant, fault.places.first(), cause.places.first())
    else {
        return false;
    };
    let stronger = !cause.absence || fault.meant.is_none();
    let named = fault.mend.contains(&format!("`{key}`"));
    fault.absence && stronger && named && at.path == there.path
}

fn record(text: &Arc<Text>, table: &DeTable<'_>, span: Range<usize>) -> Record {
    let mut cells: Vec<Cell> = table
        .iter()
        .map(|(key, value)| Cell {
            key: key.get_ref().to_string(),
            value: self::value(text, value),
            text: text.clone(),
            key_span: key.span(),
            span: value.span(),
        })
        .collect();
    cells.sort_by_key(|cell| cell.key_span.start);
    Record { cells, text: text.clone(), span }
}

fn value(text: &Arc<Text>, value: &Spanned<DeValue<'_>>) -> Value {
    match value.get_ref() {
        DeValue::String(word) => Value::Word(word.trim().to_owned()),
        DeValue::Integer(number) if number.radix() == 10 => Value::Number(number.to_string()),
        DeValue::Integer(_) => Value::Other("a number that is not decimal"),
        DeValue::Float(number) => Value::Number(number.to_string()),
        DeValue::Boolean(_) => Value::Other("true or false"),
        DeValue::Datetime(_) => Value::Other("a date"),
        DeValue::Table(table) => Value::Table(record(text, table, value.span())),
        DeValue::Array(items) => {
            let tables: Option<Vec<Record>> = items
                .iter()
                .map(|item| item.get_ref().as_table().map(|t| record(text, t, item.span())))
                .collect();
            match tables {
                Some(tables) if !tables.is_empty() => Value::Tables(tables),
                _ => Value::List(items.iter().map(|item| list_cell(text, item)).collect()),
            }
        }
    }
}

fn list_cell(text: &Arc<Text>, item: &Spanned<DeValue<'_>>) -> Cell {
    Cell {
        key: String::new(),
        value: value(text, item),
        text: text.clone(),
        key_span: item.span(),
        span: item.span(),
    }
}

/// A syntax error, with the slips that engineers make most said in words.
fn syntax_fault(text: &Text, error: &toml::de::Error) -> Fault {
    let span = error.span().unwrap_or(0..0);
    let place = text.place(span, "");
    let message = error.message().lines().next().unwrap_or("not TOML").to_lowercase();
    let written = place.shown.split_once('=').map_or("", |(_, value)| value.trim()).to_owned();
    let (what, mend) = if message.contains("duplicate key") {
        ("the key is there twice in one table".to_owned(), "remove one of the two".to_owned())
    } else if let Some(number) = decimal_comma(&written) {
        (format!("`{written}` has a decimal comma"), format!("write {number}"))
    } else if let Some(number) = leading_number(&written) {
        let mend = format!("write {number}; the unit is in the key");
        (format!("`{written}` has a unit behind the number"), mend)
    } else {
        let mend = "put text between double quotes, and one key on a line";
        (format!("the line is not TOML: {message}"), mend.to_owned())
    };
    let fault = Fault::new(what, place, "key = value, as TOML has it", mend);
    Fault { breaks: true, ..fault }
}

/// The number with a point, if `written` is one with a decimal comma.
pub(crate) fn decimal_comma(written: &str) -> Option<String> {
    let (whole, part) = written.split_once(',')?;
    let digits = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
    let bare = whole.strip_prefix('-').unwrap_or(whole);
    (digits(bare) && digits(part)).then(|| format!("{whole}.{part}"))
}

/// The number in front, if `written` is one followed by something like a unit.
pub(crate) fn leading_number(written: &str) -> Option<String> {
    let end = written.find(|c: char| !(c.is_ascii_digit() || "+-.".contains(c)))?;
    let rest = written[end..].trim_start();
    let unit = rest.starts_with(|c: char| c.is_alphabetic() || "%°µ".contains(c));
    (unit && written[..end].parse::<f64>().is_ok()).then(|| written[..end].to_owned())
}
