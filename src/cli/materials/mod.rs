//! `stillair materials`: what lies on the shelf, and whether a file would fit on it.

mod kind;
mod list;
mod show;

use std::path::PathBuf;

use clap::Subcommand;

use super::error::CliError;
use super::output;
use super::shelf::note;
use crate::shelf::materials::Shelf;

/// Arguments of `materials`.
#[derive(Debug, clap::Args)]
pub struct Args {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// List what lies on the shelf
    List {
        /// This kind alone
        #[arg(long, value_enum)]
        kind: Option<kind::Kind>,
    },
    /// Show one thing on the shelf, each value with its source
    Show {
        /// Its name
        name: String,
    },
    /// Read a file as if it lay on the shelf and tell all that is wrong with it
    Check {
        /// Fabrics, fibres, exposures, targets, skins or a layup
        file: PathBuf,
    },
}

/// Lists, shows or checks.
pub fn run(args: &Args, shelf: &Shelf) -> Result<(), CliError> {
    match &args.command {
        Command::List { kind } => output::print(&list::text(shelf, *kind)),
        Command::Show { name } => output::print(&show::text(shelf, name)?),
        Command::Check { file } => {
            let checked = shelf.check(file).map_err(CliError::Faults)?;
            note(&checked.notes);
            let n = checked.names.len();
            let text = format!(
                "{}: nothing wrong; {n} of kind {}: {}\n",
                file.display(),
                checked.kind,
                checked.names.join(", ")
            );
            output::print(&crate::report::table::paragraph(&text, 0))
        }
    }
}
