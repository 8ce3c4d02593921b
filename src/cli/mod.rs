//! Words in, words out: the only floor that prints or ends the process.
//!
//! Exit status: 0 done, 1 could not or a bound is broken, 2 wrong usage. Results go to standard output,
//! everything else to standard error.

mod anchored;
mod arguments;
mod asked;
mod by;
mod changed;
mod error;
mod output;
mod shelf;
mod stop;

mod body;
mod body_chart;
mod book;
mod book_add;
mod book_next;
mod completions;
mod desk;
mod explain;
mod expose;
mod fit;
mod fit_names;
mod flat;
mod gap;
mod gap_brief;
mod gap_chart;
mod holds;
mod how;
mod lesson;
mod lots;
mod man;
mod materials;
mod merge;
mod new;
mod odds;
mod patch;
mod pressed;
mod quilt;
mod quilt_beside;
mod rank;
mod report;
mod report_body;
mod report_gap;
mod report_layup;
mod report_seek;
mod seek;
mod seek_out;
mod suit;
mod target_marks;
mod typed;
mod verify;

use std::ffi::OsString;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{CommandFactory, FromArgMatches, Parser, Subcommand};

use crate::NOTICE;
use error::CliError;
use shelf::shelf;

/// Heat transfer through layered flame-protective clothing
///
/// Reads a layup of fabrics and air gaps, exposes it to a flame or radiant heat, and
/// tells what a copper disc behind it would read and when skin behind it would burn.
#[derive(Debug, Parser)]
#[command(name = "stillair", version, max_term_width = 80, after_help = NOTICE)]
struct Cli {
    /// Folder with further materials; may be given several times, later ones win
    #[arg(long, global = true, value_name = "DIR")]
    shelf: Vec<PathBuf>,
    /// Let an exposure name a flux series outside its own folder
    #[arg(long, global = true)]
    allow_outside: bool,
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Make a shelf of your own, or one file of it, to begin with
    New(new::Args),
    /// Expose a layup and tell the bench's times and skin's burn times
    Expose(expose::Args),
    /// Sweep the thickness of air gaps and tell where more air stops helping
    Gap(gap::Args),
    /// Put layups side by side under the same exposures, in order
    Rank(rank::Args),
    /// Draw from the tolerances: the spread of a figure and the odds of a target
    Odds(odds::Args),
    /// Rate delivered rolls by their measured mass and thickness
    Lots(lots::Args),
    /// Press a layup as straps, knees and the seat do
    Pressed(pressed::Args),
    /// Lay a patch or embroidery over a share of the area
    Patch(patch::Args),
    /// Tell what stitch lines and the loft between them do to a layup
    Quilt(Box<quilt::Args>),
    /// Fit properties to curves of the bench
    Fit(fit::Args),
    /// Weigh a suit and hold each of its panels against its target
    Suit(suit::Args),
    /// Put a suit on a whole body and tell what share of it burns
    Body(body::Args),
    /// Write a report to hand round: one layup, several side by side, or a suit
    Report(report::Args),
    /// Find the lightest or thinnest layups that keep a margin above targets
    Seek(seek::Args),
    /// Join the parts of a search that was split over machines
    Merge(merge::Args),
    /// Keep the tests of your own laboratory and hold predictions against them
    Book(book::Args),
    /// List, show and check the materials on the shelf
    Materials(materials::Args),
    /// Open a page on which a layup is moved about and answers back
    Desk(desk::Args),
    /// Learn in nine lessons how cloth and still air protect: guess, see, understand
    Lesson(lesson::Args),
    /// Explain a term in plain words: HTI24, loft, burn integral, …
    Explain(explain::Args),
    /// Run the built-in checks and compare predictions with measurements
    ///
    /// Exit status 1 if a bound is broken. Comparisons with measurements have no bound.
    Verify(verify::Args),
    /// Write a completion script for a shell to standard output
    Completions(completions::Args),
    /// Write the manual page (roff) to standard output
    Man,
}

/// Runs the program on its arguments, the first being its own name.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let parsed = definition().try_get_matches_from(arguments);
    let cli = match parsed.and_then(|matches| Cli::from_arg_matches(&matches)) {
        Ok(cli) => cli,
        Err(said) => {
            // The reader of the help may be gone: nothing is left to tell it.
            let _ = said.print();
            return ExitCode::from(if said.use_stderr() { 2 } else { 0 });
        }
    };
    crate::shelf::file::claim::watch();
    crate::shelf::file::outside::allow(cli.allow_outside);
    stop::watch();
    let done = done(&cli);
    for note in crate::shelf::file::told::take() {
        output::say(&format!("note: {note}"));
    }
    match done {
        Ok(status) => status,
        Err(error) => {
            output::say(&output::within_width(&error.to_string()));
            ExitCode::from(1)
        }
    }
}

/// Does what one command asks for.
fn done(cli: &Cli) -> Result<ExitCode, CliError> {
    let done = match &cli.command {
        Command::New(args) => new::run(args),
        Command::Expose(args) => shelf(&cli.shelf).and_then(|s| expose::run(args, &s, &cli.shelf)),
        Command::Gap(args) => shelf(&cli.shelf).and_then(|shelf| gap::run(args, &shelf)),
        Command::Rank(args) => shelf(&cli.shelf).and_then(|s| rank::run(args, &s, &cli.shelf)),
        Command::Odds(args) => shelf(&cli.shelf).and_then(|s| odds::run(args, &s, &cli.shelf)),
        Command::Lots(args) => shelf(&cli.shelf).and_then(|shelf| lots::run(args, &shelf)),
        Command::Pressed(args) => shelf(&cli.shelf).and_then(|shelf| pressed::run(args, &shelf)),
        Command::Patch(args) => shelf(&cli.shelf).and_then(|shelf| patch::run(args, &shelf)),
        Command::Desk(args) => shelf(&cli.shelf).and_then(|s| desk::run(args, s, &cli.shelf)),
        Command::Lesson(args) => lesson::run(args, &|words| overheard(words, &cli.shelf)),
        Command::Explain(args) => explain::run(args),
        Command::Quilt(args) => shelf(&cli.shelf).and_then(|shelf| quilt::run(args, &shelf)),
        Command::Fit(args) => shelf(&cli.shelf).and_then(|shelf| fit::run(args, &shelf)),
        Command::Suit(args) => shelf(&cli.shelf).and_then(|s| suit::run(args, &s, &cli.shelf)),
        Command::Body(args) => shelf(&cli.shelf).and_then(|shelf| body::run(args, &shelf)),
        Command::Report(args) => shelf(&cli.shelf).and_then(|s| report::run(args, &s, &cli.shelf)),
        Command::Seek(args) => shelf(&cli.shelf).and_then(|s| seek::run(args, &s, &cli.shelf)),
        Command::Merge(args) => shelf(&cli.shelf).and_then(|s| merge::run(args, &s, &cli.shelf)),
        Command::Book(args) => shelf(&cli.shelf).and_then(|s| book::run(args, &s, &cli.shelf)),
        Command::Materials(args) => {
            shelf(&cli.shelf).and_then(|shelf| materials::run(args, &shelf))
        }
        Command::Verify(args) => return verify::run(args),
        Command::Completions(args) => completions::run(args, definition()),
        Command::Man => man::run(definition()),
    };
    done.map(|()| ExitCode::SUCCESS)
}

/// What a command of the program writes to standard output, for another command that shows it.
///
/// Errors: the command's own, or words that are none.
fn overheard(words: &[String], shelf: &[PathBuf]) -> Result<String, CliError> {
    let all = std::iter::once("stillair").chain(words.iter().map(String::as_str));
    let matches = definition().try_get_matches_from(all).and_then(|m| Cli::from_arg_matches(&m));
    let mut cli = matches.map_err(CliError::Words)?;
    cli.shelf = shelf.to_vec();
    output::heard(|| done(&cli).map(|_| ()))
}

/// The definition of all arguments.
///
/// A number below zero is taken as a value, so that the message says what range was expected.
fn definition() -> clap::Command {
    Cli::command().mut_subcommands(|command| {
        command.mut_args(|arg| {
            let takes_values = arg.get_action().takes_values();
            arg.allow_negative_numbers(takes_values)
        })
    })
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_definition_of_arguments_holds_together() {
        super::definition().debug_assert();
    }
}
