//! A layup's keys and values as they stand in its file, loose: what a page holds and changes, and what
//! becomes a file's text again, so that one reader and one set of rules serve both.

use std::path::Path;

use serde_json::{Map, Number, Value as Json};

use crate::shelf::fault::Faults;
use crate::shelf::file::text::{Form, Text};
use crate::shelf::layup::one_line::{self, is_one_line};
use crate::shelf::notation::record::{Record, Value};
use crate::shelf::notation::table::{Entry, Table};
use crate::shelf::notation::tree;

/// Keys that stand first in a table, in this order; the others follow by their names.
const FIRST: [&str; 8] =
    ["name", "note", "pressure_kPa", "ply", "gap_mm", "pattern", "pitch_mm", "stitch_width_mm"];

/// The keys and values of a layup's text, a file's or one line.
///
/// Errors: a text that cannot be understood; what it says is not looked at.
pub fn loose(text: &str, path: &Path) -> Result<Json, Faults> {
    let mut faults = Vec::new();
    let root = if is_one_line(text) {
        let text = Text::new(one_line::PLACE, text, Form::Line).checked()?;
        one_line::parse(&text, &mut faults)
    } else {
        let text = Text::new(path.display().to_string(), text, Form::Toml).checked()?;
        tree::parse(&text, &mut faults)
    };
    match faults.is_empty() {
        true => Ok(table(&root)),
        false => Err(Faults(faults)),
    }
}

fn table(record: &Record) -> Json {
    let cells =
        record.cells.iter().filter_map(|cell| Some((cell.key.clone(), value(&cell.value)?)));
    Json::Object(cells.collect())
}

/// A value; none for one that no key takes, which the reader refuses.
fn value(value: &Value) -> Option<Json> {
    Some(match value {
        Value::Blank | Value::Other(_) => return None,
        Value::Word(word) => Json::String(word.clone()),
        Value::Number(written) => Json::Number(number(written)?),
        Value::Table(record) => table(record),
        Value::Tables(records) => Json::Array(records.iter().map(table).collect()),
        Value::List(cells) => {
            Json::Array(cells.iter().filter_map(|cell| self::value(&cell.value)).collect())
        }
    })
}

/// A number as written: a whole one stays whole.
fn number(written: &str) -> Option<Number> {
    let plain = written.replace('_', "");
    let whole = plain.parse::<i64>().ok().map(Number::from);
    whole.or_else(|| Number::from_f64(plain.parse().ok()?))
}

/// The text of the file that has these keys and values.
///
/// Errors: what no file of a layup has, in words.
pub fn text_of(loose: &Json) -> Result<String, String> {
    let Json::Object(root) = loose else { return Err("the layup is no table".to_owned()) };
    let (mut values, mut tables) = (Vec::new(), Vec::new());
    for (key, value) in ordered(root) {
        let entry = match value {
            Json::Object(one) => Entry::Table(table_of(one)?),
            Json::Array(all) if !all.is_empty() && all.iter().all(Json::is_object) => {
                let all = all.iter().filter_map(Json::as_object).map(table_of);
                Entry::Tables(all.collect::<Result<_, _>>()?)
            }
            _ => {
                values.push((bare(key)?, entry(key, value)?));
                continue;
            }
        };
        tables.push((bare(key)?, entry));
    }
    let mut out = Table::default();
    values.into_iter().chain(tables).for_each(|(key, entry)| out.put(key, entry));
    Ok(out.toml())
}

fn table_of(loose: &Map<String, Json>) -> Result<Table, String> {
    let mut out = Table::default();
    for (key, value) in ordered(loose) {
        out.put(bare(key)?, entry(key, value)?);
    }
    Ok(out)
}

/// The keys of a table in the order of [`FIRST`], then by their names.
fn ordered(table: &Map<String, Json>) -> impl Iterator<Item = (&str, &Json)> {
    let first = FIRST.iter().filter_map(|key| Some((*key, table.get(*key)?)));
    let others = table.iter().map(|(key, value)| (key.as_str(), value));
    first.chain(others.filter(|(key, _)| !FIRST.contains(key)))
}

fn bare(key: &str) -> Result<&str, String> {
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
    match !key.is_empty() && key.len() <= 100 && key.chars().all(plain) {
        true => Ok(key),
        false => {
            Err("a key of the layup holds other signs than letters, digits, `_` and `-`".into())
        }
    }
}

/// A value as it stands, or a list of them.
fn entry(key: &str, value: &Json) -> Result<Entry, String> {
    let number = |number: &Number| match number.as_i64() {
        Some(whole) => Some(Entry::Whole(whole)),
        None => number.as_f64().map(Entry::Number),
    };
    let found = match value {
        Json::String(word) => Some(Entry::Word(word.clone())),
        Json::Number(written) => number(written),
        Json::Array(all) => {
            let all: Result<Vec<Entry>, String> = all.iter().map(|one| entry(key, one)).collect();
            Some(Entry::List(all?))
        }
        _ => None,
    };
    found.ok_or_else(|| format!("`{key}` is neither a word nor a number nor a list of them"))
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use serde_json::json;

    use super::{loose, text_of};
    use crate::shelf::layup::read::read_layup_text;
    use crate::shelf::materials::Shelf;

    /// Loosened and put into a file again, every layup of the shelf is the same layup.
    #[test]
    fn every_layup_comes_back_as_it_was() {
        let shelf = Shelf::built_in().unwrap();
        let line = "outer-aramid-200 + 1 mm + felt-needled-100; diamond, pitch 40 mm, stitch 2 mm, \
                    loft 1.5 mm, pressed 1.1 mm";
        let mut all = vec![line];
        all.extend(shelf.layup_names().map(|name| shelf.layup_text(name).unwrap()));
        assert!(all.len() > 8);
        for text in all {
            let path = Path::new("a.toml");
            let found = loose(text, path).unwrap();
            let again = text_of(&found).unwrap();
            let read = |text: &str| read_layup_text(text, path, &shelf).unwrap();
            assert_eq!(read(&again), read(text), "{again}");
            assert_eq!(loose(&again, path).unwrap(), found, "{again}");
        }
    }

    #[test]
    fn what_no_file_has_is_refused() {
        for bad in [
            json!([]),
            json!({"a b": 1}),
            json!({"a\n[[stack]]\nb": 1}),
            json!({"": 1}),
            json!({"name": null}),
            json!({"name": true}),
            json!({"stack": [{"ply": {"a": 1}}]}),
        ] {
            assert!(text_of(&bad).is_err(), "{bad}");
        }
    }

    /// A word stays a word, whatever it holds.
    #[test]
    fn no_word_gets_out_of_its_quotes() {
        let name = "a\"\nply = \"b\\\t\u{7f}";
        let text = text_of(&json!({"name": name})).unwrap();
        let back: toml::Table = toml::from_str(&text).unwrap();
        assert_eq!((back.len(), back["name"].as_str()), (1, Some(name)), "{text}");
    }
}
