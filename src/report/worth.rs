//! What each effect is worth, as a table.

use crate::bench::outcome::When;
use crate::report::number::{fixed, with_error};
use crate::report::table::{Align, Table, paragraph};
use crate::report::words::when_short;
use crate::study::worth::{Times, Worth};

/// Takes one of the two times.
type Pick = fn(Times) -> Option<When>;

/// A change of a time [s] with its numerical error; none unless both times were reached.
pub fn change(all: Option<When>, without: Option<When>) -> Option<(f64, f64)> {
    match (all?, without?) {
        (When::At { t, error }, When::At { t: t_without, error: error_without }) => {
            Some((t_without - t, error + error_without))
        }
        _ => None,
    }
}

/// What was left out, in words.
pub fn left_out(worth: &Worth) -> String {
    match worth.left_out.as_slice() {
        [one] => format!("without {}", one.meaning()),
        _ => "without all of these".to_string(),
    }
}

/// The table in text; `names` are those of the two times.
pub fn section(all: Times, worths: &[Worth], names: [&str; 2]) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(&[Left, Right, Right, Right, Right]);
    let pick: Vec<(&str, Pick)> = vec![
        (names[0], (|times: Times| times.rise24) as Pick),
        (names[1], |times: Times| times.second_degree),
    ]
    .into_iter()
    .filter(|(_, pick)| pick(all).is_some())
    .collect();
    let row = |label: String, cells: fn(&str, [String; 2]) -> [String; 2], times: Times| {
        let pairs = pick.iter().flat_map(|(name, pick)| {
            let without = pick(times);
            let change = change(pick(all), without).map_or(String::new(), change_words);
            cells(name, [without.map_or(String::new(), |when| when_short(&when)), change])
        });
        std::iter::once(label).chain(pairs).collect::<Vec<String>>()
    };
    table.row(row(String::new(), |name, _| [name.to_string(), "change".to_string()], all));
    table.row(row(String::new(), |_, _| ["s".to_string(), "s".to_string()], all));
    table.row(row("with everything".to_string(), |_, [t, _]| [t, String::new()], all));
    for worth in worths {
        table.row(row(left_out(worth), |_, cells| cells, worth.times));
    }
    let mut out = table.render();
    out.push_str(&paragraph(
        "Change: the time without it less the time with everything. A change after < lies within \
         the numerical error.",
        2,
    ));
    out
}

fn change_words((change, error): (f64, f64)) -> String {
    if change == 0.0 {
        return "none".to_string();
    }
    let (shown, error_shown) = with_error(change.abs(), error);
    if change.abs() <= error {
        return format!("< {error_shown}");
    }
    // times stand with two decimals; a change has no more
    let decimals = shown.split('.').nth(1).map_or(0, str::len).min(2);
    let sign = if change < 0.0 { '−' } else { '+' };
    format!("{sign}{}", fixed(change.abs(), decimals))
}

#[cfg(test)]
mod tests {
    use super::{change, change_words};
    use crate::bench::outcome::When;

    #[test]
    fn a_change_is_told_as_far_as_it_is_known() {
        let at = |t: f64, error: f64| Some(When::At { t, error });
        let told = |a, b| change(a, b).map(change_words);
        assert_eq!(told(at(14.0, 0.01), at(13.0, 0.01)).unwrap(), "−1.00");
        assert_eq!(told(at(14.0, 0.1), at(15.26, 0.2)).unwrap(), "+1.3");
        assert_eq!(told(at(14.0, 0.01), at(14.01, 0.01)).unwrap(), "< 0.02");
        assert_eq!(told(at(14.0, 0.01), at(14.0, 0.01)).unwrap(), "none");
        assert_eq!(told(at(14.0, 0.01), Some(When::NotWithin { t_end: 60.0 })), None);
    }
}
