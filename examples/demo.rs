//! Makes the demo's reports and charts anew: `cargo run --example demo -- reports`.
//!
//! The commands are those of `reports/README.md`; they are run inside the folder named.

use std::ffi::OsString;
use std::path::PathBuf;
use std::process::ExitCode;

/// The page that lists the commands.
const LIST: &str = include_str!("../reports/README.md");

/// The lines of its block of commands.
fn commands() -> impl Iterator<Item = &'static str> {
    let block = LIST.split("```sh\n").nth(1).unwrap_or("");
    block.lines().take_while(|line| *line != "```")
}

/// The words of a command; what stands between quotes is one.
fn words(line: &'static str) -> Vec<&'static str> {
    let pieces = line.split('"').enumerate();
    let of = |(i, piece): (usize, &'static str)| match i % 2 {
        0 => piece.split_whitespace().collect(),
        _ => vec![piece],
    };
    pieces.flat_map(of).collect()
}

fn main() -> ExitCode {
    let Some(folder) = std::env::args_os().nth(1).map(PathBuf::from) else {
        eprintln!("name the folder to write into: cargo run --example demo -- reports");
        return ExitCode::from(2);
    };
    if let Err(error) = std::env::set_current_dir(&folder) {
        eprintln!("cannot go into `{}`: {error}", folder.display());
        return ExitCode::from(1);
    }
    for line in commands() {
        eprintln!("{line}");
        let done = stillair::cli::run(words(line).into_iter().map(OsString::from));
        if done != ExitCode::SUCCESS {
            return done;
        }
    }
    ExitCode::SUCCESS
}
