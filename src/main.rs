//! The program: see `stillair::cli`.

use std::process::ExitCode;

fn main() -> ExitCode {
    stillair::cli::run(std::env::args_os())
}
