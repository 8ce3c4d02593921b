//! `stillair explain`: the words of the trade in plain ones.

use super::error::{BadOption, CliError};
use super::output;
use crate::report::glossary::{Term, find, term_text, terms, terms_json, terms_text};
use crate::shelf::wording::suggested;

/// Arguments of `explain`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// A term, such as HTI24 or "burn integral" [default: all names]
    #[arg(value_name = "TERM", num_args = 0..)]
    term: Vec<String>,
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
}

/// Prints the term, or the names of all.
pub fn run(args: &Args) -> Result<(), CliError> {
    let word = args.term.join(" ");
    let term = if word.trim().is_empty() { None } else { Some(found(&word)?) };
    if args.json {
        let all: Vec<&Term> = term.map_or_else(|| terms().iter().collect(), |term| vec![term]);
        return output::print_raw(terms_json(&all).map_err(CliError::Json)?.as_bytes());
    }
    output::print(&term.map_or_else(terms_text, term_text))
}

fn found(word: &str) -> Result<&'static Term, CliError> {
    find(word).map_err(|nearest| {
        CliError::Option(BadOption {
            what: "no such term is explained".to_owned(),
            given: word.to_owned(),
            expected: format!("one of the {} terms, or another word for one", terms().len()),
            mend: suggested(&nearest, "see `stillair explain` for all of them"),
        })
    })
}
