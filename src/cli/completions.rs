//! `stillair completions`: a script for the shell, from the definition of the arguments.

use clap_complete::Shell;

use super::error::CliError;
use super::output;

/// Arguments of `completions`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// The shell that the script is for
    #[arg(value_name = "SHELL")]
    shell: Shell,
}

/// Writes the script.
pub fn run(args: &Args, mut definition: clap::Command) -> Result<(), CliError> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut definition, "stillair", &mut script);
    output::print_raw(&script)
}
