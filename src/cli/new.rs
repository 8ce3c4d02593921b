//! `stillair new`: commented files to begin with, from the examples that come with the program.

use std::path::{Path, PathBuf};

use clap::Subcommand;

use super::error::{BadOption, CliError};
use super::output;
use super::seek_out::try_folder;
use crate::report::write::{Destination, put_all};
use crate::shelf::file::regular::folder_of;
use crate::shelf::lab::book;

macro_rules! example {
    ($name:literal) => {
        include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/new/", $name))
    };
}

/// Arguments of `new`.
#[derive(Debug, clap::Args)]
#[command(args_conflicts_with_subcommands = true, subcommand_negates_reqs = true)]
pub struct Args {
    /// Folder for a shelf of your own: fabrics, sources, a layup, a suit, a brief
    /// and a bench book, each line commented
    #[arg(value_name = "DIR", required = true)]
    dir: Option<PathBuf>,
    #[command(subcommand)]
    one: Option<One>,
}

#[derive(Debug, Subcommand)]
enum One {
    /// Write NAME.csv with a fabric
    Fabric(Named),
    /// Write NAME.toml with a layup
    Layup(Named),
    /// Write NAME.toml with a suit
    Suit(Named),
    /// Write NAME.toml with a brief for `seek`
    Brief(Named),
}

#[derive(Debug, clap::Args)]
struct Named {
    /// Its name, behind a folder where it is not to lie here
    #[arg(value_name = "NAME")]
    name: PathBuf,
}

/// What the words in braces of an example stand for.
struct Words<'a> {
    name: &'a str,
    outer: &'a str,
    felt: &'a str,
    layup: &'a str,
}

impl Words<'_> {
    fn put_into(&self, example: &str) -> String {
        let pairs = [
            ("{name}", self.name),
            ("{outer}", self.outer),
            ("{felt}", self.felt),
            ("{layup}", self.layup),
        ];
        pairs.iter().fold(example.to_owned(), |text, (key, word)| text.replace(key, word))
    }
}

/// A fabric's row: what is made up says so.
fn row(name: &str, role: &str, values: &str) -> String {
    format!("{name},what it is,{role},{values},1,,invented: example values to be replaced")
}

const OUTER_VALUES: &str = "meta-aramid/para-aramid 95/5,205,0.46";
const FELT_VALUES: &str = "meta-aramid/FR viscose 50/50,120,1.6";

/// Writes the files, and says what may be done with them.
pub fn run(args: &Args) -> Result<(), CliError> {
    let (files, next) = match (&args.one, &args.dir) {
        (Some(one), _) => single(one)?,
        (None, Some(dir)) => shelf(dir),
        (None, None) => unreachable!("the arguments ask for one of both"),
    };
    write(&files)?;
    let paths: Vec<String> = files.iter().map(|(path, _)| path.display().to_string()).collect();
    output::print(&format!("Made\n  {}\nNext\n  {}\n", paths.join("\n  "), next.join("\n  ")))
}

type Files = Vec<(PathBuf, String)>;

/// A whole shelf.
fn shelf(dir: &Path) -> (Files, Vec<String>) {
    let words = |name| Words { name, outer: "my-outer", felt: "my-felt", layup: "my-layup" };
    let rows =
        [row("my-outer", "outer", OUTER_VALUES), row("my-felt", "felt", FELT_VALUES)].join("\n");
    let files = [
        ("fabrics.csv", example!("fabrics.csv").replace("{fabrics}", &rows)),
        ("sources.csv", example!("sources.csv").to_owned()),
        ("layups/my-layup.toml", words("my layup").put_into(example!("layup.toml"))),
        ("suits/my-suit.toml", words("my suit").put_into(example!("suit.toml"))),
        ("briefs/my-brief.toml", words("my brief").put_into(example!("brief.toml"))),
        (book::FILE, example!("bench-book.csv").to_owned()),
    ];
    let at = dir.display();
    let next = [
        "expose my-layup".to_owned(),
        "suit my-suit".to_owned(),
        format!("seek {}", dir.join("briefs/my-brief.toml").display()),
        format!("materials check {}", dir.join("fabrics.csv").display()),
    ];
    let next = next.map(|words| format!("stillair --shelf {at} {words}"));
    (files.map(|(path, text)| (dir.join(path), text)).into(), next.into())
}

/// One file of a kind.
fn single(one: &One) -> Result<(Files, Vec<String>), CliError> {
    let (named, ending, example) = match one {
        One::Fabric(named) => (named, "csv", example!("fabrics.csv")),
        One::Layup(named) => (named, "toml", example!("layup.toml")),
        One::Suit(named) => (named, "toml", example!("suit.toml")),
        One::Brief(named) => (named, "toml", example!("brief.toml")),
    };
    let name = plain_name(&named.name)?;
    let path = folder_of(&named.name).join(format!("{name}.{ending}"));
    let words = Words {
        name,
        outer: "outer-aramid-200",
        felt: "felt-needled-100",
        layup: "three-ply-quilted-blank",
    };
    let text = words.put_into(example).replace("{fabrics}", &row(name, "felt", FELT_VALUES));
    let shown = path.display();
    let next = match one {
        One::Fabric(_) => vec![
            format!("stillair materials check {shown}"),
            "put its rows into fabrics.csv of a folder, and give that with --shelf".to_owned(),
        ],
        One::Layup(_) => vec![format!("stillair expose {shown}")],
        One::Suit(_) => vec![format!("stillair suit {shown}")],
        One::Brief(_) => vec![format!("stillair seek {shown}")],
    };
    Ok((vec![(path.clone(), text)], next))
}

/// The name at the end of a path, an ending of its own left out.
fn plain_name(path: &Path) -> Result<&str, CliError> {
    let name = match path.extension().and_then(|ending| ending.to_str()) {
        Some("toml" | "csv") => path.file_stem(),
        _ => path.file_name(),
    };
    let name = name.and_then(|name| name.to_str()).unwrap_or_default();
    let is_plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    if !name.is_empty() && !name.starts_with('-') && name.chars().all(is_plain) {
        return Ok(name);
    }
    Err(CliError::Option(BadOption {
        what: format!("`{name}` is no name for what lies on a shelf"),
        given: path.display().to_string(),
        expected: "lower-case letters, digits and hyphens".to_owned(),
        mend: "write it so, for example my-felt-120".to_owned(),
    }))
}

/// Writes all files or none; what is there already is left alone.
fn write(files: &[(PathBuf, String)]) -> Result<(), CliError> {
    // a link to nothing is there, too
    let there = |path: &Path| path.symlink_metadata().is_ok();
    if let Some((path, _)) = files.iter().find(|(path, _)| there(path)) {
        return Err(CliError::Option(BadOption {
            what: format!("`{}` is there already", path.display()),
            given: path.display().to_string(),
            expected: "names that nothing has yet".to_owned(),
            mend: "choose another; nothing was written".to_owned(),
        }));
    }
    let mut folders = Vec::new();
    for (path, _) in files {
        folders.push(try_folder(Some(folder_of(path)))?);
    }
    let opened: Result<Vec<_>, _> = files
        .iter()
        .map(|(path, text)| Ok((Destination::try_out(path)?, text.clone().into_bytes())))
        .collect();
    opened.and_then(put_all).map_err(CliError::Write)
}
