//! Wording shared by the views: lists, times, places in the stack.

use crate::bench::outcome::When;
use crate::garment::exposure::Orientation;
use crate::report::number;

/// "a", "a and b", "a, b and c".
pub fn list<S: AsRef<str>>(items: &[S]) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_string(),
        [head @ .., last] => {
            let head: Vec<&str> = head.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", head.join(", "), last.as_ref())
        }
    }
}

/// The text with its first letter as a capital.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// "1 ply", "3 plies".
pub fn count(n: usize, one: &str, many: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {many}") }
}

/// Which way the specimen lies, in words.
pub fn orientation(orientation: Orientation) -> &'static str {
    match orientation {
        Orientation::HeatedFromBelow => "horizontal, heated from below",
        Orientation::Vertical => "vertical",
        Orientation::Still => "air in the gaps held still",
    }
}

/// A time [s] without its error, or why there is none; short, for table cells.
pub fn when_short(when: &When) -> String {
    match when {
        When::At { t, .. } => number::fixed(*t, 2),
        When::NotWithin { .. } => "never".to_string(),
        When::Unsettled { t } => unsettled(*t),
    }
}

/// A time [s] with its error, or why there is none; for table cells.
pub fn when_with_error(when: &When) -> String {
    match when {
        When::At { t, error } => {
            let (value, error) = number::with_error(*t, *error);
            format!("{value} ± {error}")
        }
        When::NotWithin { t_end } => format!("over {}", number::short(*t_end, 1)),
        When::Unsettled { t } => unsettled(*t),
    }
}

/// A time [s] that one mesh reaches and another does not, for table cells.
fn unsettled(t: f64) -> String {
    format!("{}?", number::significant(t, 3))
}

/// When something happened, for the middle of a sentence.
pub fn when_in_words(when: &When) -> String {
    match when {
        When::At { t, error } => {
            let (t, error) = number::with_error(*t, *error);
            format!("{t} ± {error} s")
        }
        When::NotWithin { t_end } => format!("not within {} s", number::looked_at(*t_end)),
        When::Unsettled { t } => format!("unsettled near {} s", number::significant(*t, 3)),
    }
}

/// How much later or sooner, for a difference of times [s].
pub fn apart(dt: f64) -> String {
    format!("{} s {}", number::fixed(dt.abs(), 1), if dt < 0.0 { "sooner" } else { "later" })
}

#[cfg(test)]
mod tests {
    use super::{count, list};

    #[test]
    fn lists_and_counts() {
        assert_eq!(list::<&str>(&[]), "");
        assert_eq!(list(&["a"]), "a");
        assert_eq!(list(&["a", "b"]), "a and b");
        assert_eq!(list(&["a", "b", "c"]), "a, b and c");
        assert_eq!(count(1, "ply", "plies"), "1 ply");
        assert_eq!(count(0, "ply", "plies"), "0 plies");
    }
}
