//! `stillair desk`: a page on which a layup is moved about.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use super::anchored::{AnchoredArg, bands_of_book};
use super::error::{BadOption, CliError};
use super::expose::means_file;
use super::{output, stop};
use crate::desk::anchors::Anchors;
use crate::desk::asked::{ERROR_GOAL, State};
use crate::desk::route::Desk;
use crate::desk::save::Keeper;
use crate::desk::serve::Held;
use crate::shelf::inputs;
use crate::shelf::layup::loose::loose;
use crate::shelf::layup::one_line::is_one_line;
use crate::shelf::materials::Shelf;

/// What the page begins with where no layup is named.
const LAYUP: &str = "three-ply-loose";

/// Arguments of `desk`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Layup to begin with: a file (.toml), a name on the shelf, or one line
    #[arg(value_name = "LAYUP", default_value = LAYUP)]
    layup: PathBuf,
    /// Exposure on the shelf to begin with
    #[arg(long, value_name = "NAME", default_value = "flame-80")]
    exposure: String,
    /// Target on the shelf to begin with; may be given several times
    #[arg(long, value_name = "TARGET")]
    against: Vec<String>,
    #[command(flatten)]
    anchored: AnchoredArg,
    /// Folder that the page saves to; nothing is written elsewhere
    #[arg(long, value_name = "DIR", default_value = ".")]
    out: PathBuf,
    /// Port on this machine; a free one if none is given
    #[arg(long, value_name = "PORT", default_value_t = 0, hide_default_value = true)]
    port: u16,
    /// Only print the address; do not open a browser
    #[arg(long)]
    no_open: bool,
}

/// Serves the page until Ctrl-C.
pub fn run(args: &Args, shelf: Shelf, dirs: &[PathBuf]) -> Result<(), CliError> {
    let start = State {
        layup: layup(&args.layup, &shelf)?,
        exposure: args.exposure.clone(),
        flame_s: None,
        until_s: None,
        skin: None,
        against: args.against.clone(),
        flat: false,
    };
    if let Err(refused) = start.resolved(&shelf) {
        return Err(first(&args.layup, &refused.faults));
    }
    let keeper = Keeper {
        folder: folder(&args.out)?,
        program: std::env::current_exe().map_err(CliError::Stdout)?,
        shelf: dirs.iter().map(|dir| folder(dir)).collect::<Result<_, _>>()?,
    };
    let anchors = anchors(&args.anchored, &shelf, dirs)?;
    let held = Held::take(args.port).map_err(|error| {
        CliError::Option(BadOption {
            what: format!("the port cannot be had: {error}"),
            given: format!("--port {}", args.port),
            expected: "a port of this machine that is not in use".to_owned(),
            mend: "leave --port out, and a free one is taken".to_owned(),
        })
    })?;
    stop::only_note();
    let address = held.address();
    output::print(&format!("{address}\n"))?;
    output::say(&format!(
        "The desk is open at this address, on this machine alone. It saves to {}. Ctrl-C closes it.",
        args.out.display()
    ));
    if !args.no_open {
        open(&address);
    }
    let guard = held.guard();
    held.serve(Desk { shelf, start, anchors, keeper, guard }, stop::pressed)
        .map_err(CliError::Stdout)?;
    output::say("The desk is closed.");
    Ok(())
}

/// The keys and values of a layup on the shelf, in one line, or of a file.
fn layup(given: &Path, shelf: &Shelf) -> Result<serde_json::Value, CliError> {
    // names and faults are told as every command tells them
    super::expose::layup(given, shelf)?;
    let word = given.to_string_lossy();
    let text = match shelf.layup_text(&word) {
        Err(_) if is_one_line(&word) && !means_file(given) => word.into_owned(),
        _ => inputs::of_layup(&word, given, shelf).map_err(CliError::Faults)?.body,
    };
    loose(&text, given).map_err(CliError::Faults)
}

/// The bands by which the page's figures are called; with own tests, as predicted before each skin.
fn anchors(given: &AnchoredArg, shelf: &Shelf, dirs: &[PathBuf]) -> Result<Anchors, CliError> {
    let Some(book) = given.place(dirs)? else { return Ok(Anchors::none(shelf.bands())) };
    let mut anchors = Anchors::none(shelf.bands());
    for (i, skin) in shelf.skins().enumerate() {
        let (bands, notes) = bands_of_book(&book, shelf, skin, ERROR_GOAL)?;
        // the same of the next skin
        for said in notes.iter().filter(|_| i == 0) {
            output::say(&format!("note: {said}"));
        }
        anchors.own.push((skin.name.clone(), bands));
    }
    let book = std::fs::canonicalize(&book).unwrap_or(book);
    anchors.words = vec!["--anchored".into(), "--book".into(), book.display().to_string()];
    Ok(anchors)
}

/// A folder as from anywhere.
fn folder(given: &Path) -> Result<PathBuf, CliError> {
    let bad = |error: std::io::Error| {
        CliError::Option(BadOption {
            what: format!("the folder `{}` cannot be used: {error}", given.display()),
            given: given.display().to_string(),
            expected: "a folder that is there".to_owned(),
            mend: "make it first, or name another".to_owned(),
        })
    };
    let found = std::fs::canonicalize(given).map_err(bad)?;
    match found.is_dir() {
        true => Ok(found),
        false => Err(bad(std::io::Error::other("it is no folder"))),
    }
}

/// The first thing that is wrong with what the page would begin with.
fn first(layup: &Path, faults: &[crate::desk::refused::Wrong]) -> CliError {
    let found = faults.first().cloned();
    let (what, expected, mend) =
        found.map_or_else(Default::default, |wrong| (wrong.what, wrong.expected, wrong.mend));
    CliError::Option(BadOption { what, given: format!("desk {}", layup.display()), expected, mend })
}

/// Opens the browser; where there is none, the address stands in the terminal.
fn open(address: &str) {
    let words: &[&str] = match std::env::consts::OS {
        "macos" => &["open"],
        "windows" => &["explorer"],
        _ => &["xdg-open"],
    };
    let mut command = Command::new(words[0]);
    command.args(&words[1..]).arg(address);
    let quiet = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    if quiet.spawn().is_err() {
        output::say("No browser could be opened: open the address yourself.");
    }
}
