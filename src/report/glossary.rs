//! The words of the trade in plain ones.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::report::form::value::Object;
use crate::report::json::study::envelope;
use crate::report::table::{hanging, paragraph};
use crate::report::text::{heading, notice};
use crate::shelf::wording::near;

/// One term.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Term {
    /// Its name.
    pub name: String,
    /// Other words for it.
    #[serde(default)]
    pub also: Vec<String>,
    /// What it is.
    pub says: String,
    /// What that rests on.
    pub source: String,
    /// Names of terms that lead on.
    #[serde(default)]
    pub see: Vec<String>,
    /// Words of a command that shows it, behind the program's name.
    #[serde(rename = "try")]
    pub command: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Glossary {
    term: Vec<Term>,
}

/// All terms, in the order of their names.
pub fn terms() -> &'static [Term] {
    static TERMS: OnceLock<Vec<Term>> = OnceLock::new();
    TERMS.get_or_init(|| {
        let text = include_str!("glossary.toml");
        // the text is a part of the program, and the tests below read it
        let Glossary { term } = toml::from_str(text).expect("the glossary is well-formed");
        term
    })
}

/// The term of that name, or of which it is another word; capitals do not count.
///
/// Errors: no such term; the nearest names, which may be none.
pub fn find(word: &str) -> Result<&'static Term, Vec<&'static str>> {
    let word = word.trim();
    let is = |name: &String| name.to_lowercase() == word.to_lowercase();
    let named = terms().iter().find(|term| is(&term.name));
    let found = named.or_else(|| terms().iter().find(|term| term.also.iter().any(is)));
    found.ok_or_else(|| {
        let words = terms().iter().flat_map(|term| std::iter::once(&term.name).chain(&term.also));
        let words: Vec<&str> = words.map(String::as_str).collect();
        near(word, &words)
    })
}

/// A term in text.
pub fn term_text(term: &Term) -> String {
    let mut out = heading(&term.name);
    out.push_str(&paragraph(&term.says, 2));
    out.push('\n');
    if !term.also.is_empty() {
        out.push_str(&hanging("also    ", &term.also.join(", "), 2));
    }
    out.push_str(&hanging("source  ", &term.source, 2));
    if !term.see.is_empty() {
        out.push_str(&hanging("see     ", &term.see.join(", "), 2));
    }
    out.push_str(&hanging("try     ", &format!("stillair {}", term.command), 2));
    out.push('\n');
    out + &notice()
}

/// The names of all terms in text.
pub fn terms_text() -> String {
    let mut out = heading("Terms, each told by `stillair explain TERM`");
    let names: Vec<&str> = terms().iter().map(|term| term.name.as_str()).collect();
    out.push_str(&paragraph(&names.join(", "), 2));
    out.push('\n');
    out + &notice()
}

/// Terms as JSON.
///
/// Errors: none that a text can cause.
pub fn terms_json(terms: &[&Term]) -> Result<String, serde_json::Error> {
    let of = |term: &&Term| {
        Object::new()
            .with("name", term.name.as_str())
            .with("also", &term.also[..])
            .with("says", term.says.as_str())
            .with("source", term.source.as_str())
            .with("see", &term.see[..])
            .with("try", format!("stillair {}", term.command))
    };
    let all: Vec<Object> = terms.iter().map(of).collect();
    envelope("stillair/glossary", &Object::new().with("terms", all))
}

#[cfg(test)]
mod tests {
    use super::{find, terms};

    #[test]
    fn names_are_in_order_and_one_word_means_one_term() {
        let names: Vec<String> = terms().iter().map(|term| term.name.to_lowercase()).collect();
        assert!(names.windows(2).all(|pair| pair[0] < pair[1]), "{names:?}");
        let mut words: Vec<String> = terms()
            .iter()
            .flat_map(|term| std::iter::once(&term.name).chain(&term.also))
            .map(|word| word.to_lowercase())
            .collect();
        let n = words.len();
        words.sort();
        words.dedup();
        assert_eq!(words.len(), n, "a word leads to two terms");
    }

    #[test]
    fn what_leads_on_is_there_and_every_term_says_what_it_rests_on() {
        for term in terms() {
            for see in &term.see {
                let found = find(see).unwrap_or_else(|_| panic!("{}: no `{see}`", term.name));
                assert_eq!(&found.name, see, "{} names a term by another word", term.name);
                assert_ne!(see, &term.name);
            }
            assert!(term.says.ends_with('.') && term.source.len() > 8, "{}", term.name);
        }
    }
}
