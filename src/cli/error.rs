//! Why a command could not do what it was asked.

use std::fmt;
use std::io;

use crate::bench::BenchError;
use crate::chart::ChartError;
use crate::garment::exposure::ColdFlame;
use crate::report::csv::CurvesError;
use crate::report::write::WriteError;
use crate::shelf::fault::{Faults, Unknown};
use crate::study::answer::AnswerError;
use crate::study::odds::work::OddsError;
use crate::study::quilt::QuiltError;
use crate::study::seek::checkpoint::CheckpointError;

/// Every way in which a command ends with status 1.
#[derive(Debug)]
pub enum CliError {
    /// A file is wrong.
    Faults(Faults),
    /// A name is on no shelf.
    Unknown(Unknown),
    /// Something asked for is on no shelf under any kind.
    Nowhere {
        /// The name as the user wrote it.
        name: String,
        /// Nearest names of any kind.
        nearest: Vec<String>,
    },
    /// An option that does not fit what it is given with.
    Option(BadOption),
    /// Words of a command that one of our own texts names, and that is none.
    Words(clap::Error),
    /// Several of these at once.
    Several(Vec<CliError>),
    /// The exposure could not be computed.
    Bench(BenchError),
    /// The quilting could not be computed.
    Quilt(QuiltError),
    /// Burn times without skin.
    NeedsSkin,
    /// The odds could not be computed.
    Odds(OddsError),
    /// Stopped before the end; where, what there is, and how to go on.
    Stopped(String),
    /// Rolls of which nothing can be said, and why; the result was printed.
    NotJudged(String),
    /// The chart could not be drawn or written.
    Chart(ChartError),
    /// The curves could not be put into text.
    Curves(CurvesError),
    /// A result is no finite number.
    Json(serde_json::Error),
    /// A file could not be written.
    Write(WriteError),
    /// A checkpoint cannot be used.
    Checkpoint(CheckpointError),
    /// Standard input could not be read.
    Stdin(io::Error),
    /// Standard output could not be written.
    Stdout(io::Error),
}

/// An option that does not fit: what is wrong, where, the rule, and the next thing to do.
#[derive(Debug)]
pub struct BadOption {
    /// What is wrong.
    pub what: String,
    /// The option as it was given.
    pub given: String,
    /// The rule.
    pub expected: String,
    /// The next thing to do.
    pub mend: String,
}

impl BadOption {
    /// What is wrong with more of something than a table has room for; none where there is room.
    pub fn too_many((n, of): (usize, &str), most: usize) -> Option<BadOption> {
        (n > most).then(|| BadOption {
            what: format!("more {of} than a table has room for"),
            given: format!("{n} {of}"),
            expected: format!("at most {most}"),
            mend: "hold them against each other in several runs".to_string(),
        })
    }
}

impl fmt::Display for BadOption {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "error: {}", self.what)?;
        writeln!(f, "  --> {}", self.given)?;
        writeln!(f, "  expected: {}", self.expected)?;
        write!(f, "  mend: {}", self.mend)
    }
}

impl From<AnswerError> for CliError {
    fn from(error: AnswerError) -> CliError {
        match error {
            AnswerError::Bench(error) => CliError::Bench(error),
            AnswerError::Quilt(error) => CliError::Quilt(error),
        }
    }
}

impl fmt::Display for CliError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            CliError::Faults(faults) => write!(f, "{faults}"),
            CliError::Unknown(unknown) => write!(f, "{unknown}"),
            CliError::Nowhere { name, nearest } => {
                writeln!(f, "error: nothing on the shelf is called `{name}`")?;
                writeln!(f, "  expected: a fabric, fibre, exposure, target, skin or layup")?;
                match nearest.as_slice() {
                    [] => write!(f, "  mend: look the name up with `stillair materials list`"),
                    names => write!(f, "  mend: did you mean `{}`?", names.join("` or `")),
                }
            }
            CliError::Option(bad) => write!(f, "{bad}"),
            CliError::Words(error) => write!(f, "{error}"),
            CliError::Several(errors) => {
                for (i, error) in errors.iter().enumerate() {
                    write!(f, "{}{error}", if i == 0 { "" } else { "\n\n" })?;
                }
                Ok(())
            }
            CliError::Bench(error @ BenchError::PressedAcrossGap) => {
                writeln!(f, "error: {error}")?;
                writeln!(f, "  expected: a pressure only where all plies touch")?;
                write!(f, "  mend: remove the gap or the pressure; nothing was written")
            }
            CliError::Bench(BenchError::ColdFlame(cold)) => {
                writeln!(f, "error: {cold}\n  expected: {}", ColdFlame::EXPECTED)?;
                write!(f, "  mend: {}; nothing was written", ColdFlame::MEND)
            }
            CliError::Bench(error) => {
                writeln!(f, "error: the exposure could not be computed: {error}")?;
                writeln!(f, "  expected: a layup and an exposure that the solver can follow")?;
                write!(
                    f,
                    "  mend: look for a value far from the usual in the layup; nothing was written"
                )
            }
            CliError::Quilt(error) => write!(f, "{error}"),
            CliError::NeedsSkin => {
                writeln!(f, "error: --chart and --csv hold burn times, but no skin stands behind")?;
                writeln!(f, "  expected: --behind skin or --behind both with them")?;
                write!(f, "  mend: leave --behind out")
            }
            CliError::Odds(OddsError::Answer(AnswerError::Quilt(error))) => write!(f, "{error}"),
            CliError::Odds(error) => {
                let (expected, mend) = match error {
                    OddsError::TooDense(_) => (
                        "tolerances that a fabric bears: areal density over thickness at most the \
                         density of its fibre",
                        "narrow the tolerances of its areal density and thickness",
                    ),
                    OddsError::Answer(_) => (
                        "layups and exposures that the solver can follow",
                        "look for a value or a tolerance far from the usual in the layup",
                    ),
                };
                writeln!(f, "error: the figures could not be computed: {error}")?;
                write!(f, "  expected: {expected}\n  mend: {mend}; nothing was written")
            }
            CliError::Stopped(said) => write!(f, "stopped {said}"),
            CliError::NotJudged(said) => {
                writeln!(f, "error: rolls are left without a judgement: {said}")?;
                writeln!(f, "  expected: a figure of each roll within the time looked at")?;
                write!(f, "  mend: look longer with --until; what is known was printed")
            }
            CliError::Chart(error) => write!(f, "error: the chart could not be made: {error}"),
            CliError::Curves(error) => write!(f, "{error}"),
            CliError::Json(error) => {
                writeln!(f, "error: the result cannot be shown: {error}")?;
                write!(f, "  mend: this is a fault of the program; please report it with the input")
            }
            CliError::Checkpoint(error) => write!(f, "{error}"),
            CliError::Write(error) => write!(f, "{error}"),
            CliError::Stdin(error) => write!(f, "error: standard input cannot be read: {error}"),
            CliError::Stdout(error) => {
                write!(f, "error: standard output cannot be written: {error}")
            }
        }
    }
}

impl std::error::Error for CliError {}
