//! What was run so far as a text, from which the work goes on to the identical result.
//!
//! Numbers stand as the sixteen hexadecimal digits of their bits, `>` before one that is a lower
//! bound. The last line is a checksum over all before it.

use std::fmt;

use crate::NOTICE;
use crate::bench::figure::Figured;
use crate::study::digest::digest;
use crate::study::odds::work::{Done, N_BLOCKS, Work};

const HEAD: &str = "stillair odds, unfinished";

/// Why a text does not carry the work on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ResumeError {
    /// It is no text of this kind.
    OtherKind,
    /// It was cut short or changed.
    Damaged,
    /// It belongs to another layup, target, option or version.
    OtherQuestion,
}

impl fmt::Display for ResumeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            ResumeError::OtherKind => "holds no unfinished odds",
            ResumeError::Damaged => "was cut short or changed",
            ResumeError::OtherQuestion => "belongs to another question",
        })
    }
}

/// What the work has run so far.
pub fn to_text(work: &Work) -> String {
    let mut text = format!("{HEAD}\n{NOTICE}\nquestion {}\n", work.fingerprint());
    text.push_str(&format!("blocks {} of {N_BLOCKS}\n", work.done.n_blocks));
    for (name, values) in [("specimens", &work.done.specimens), ("rows", &work.done.rows)] {
        text.push_str(&format!("{name} {}\n", values.len()));
        for figured in values {
            let sign = if figured.reached { "" } else { ">" };
            text.push_str(&format!("{sign}{:016x}\n", figured.value.to_bits()));
        }
    }
    let sum = digest(text.as_bytes());
    text.push_str(&format!("sum {sum:016x}\n"));
    text
}

/// Puts what a text holds into work that has just begun.
///
/// Errors: see [`ResumeError`]; the work is left as it was.
pub fn resume(work: &mut Work, text: &str) -> Result<(), ResumeError> {
    if !text.starts_with(HEAD) {
        return Err(ResumeError::OtherKind);
    }
    let (body, sum) = text.rsplit_once("sum ").ok_or(ResumeError::Damaged)?;
    if sum != format!("{:016x}\n", digest(body.as_bytes())) {
        return Err(ResumeError::Damaged);
    }
    let mut lines = body.lines().skip(2);
    let question = lines.next().and_then(|line| line.strip_prefix("question "));
    if question != Some(work.fingerprint().as_str()) {
        return Err(ResumeError::OtherQuestion);
    }
    work.done = done(lines).filter(|done| fits(work, done)).ok_or(ResumeError::Damaged)?;
    Ok(())
}

fn done<'t>(mut lines: impl Iterator<Item = &'t str>) -> Option<Done> {
    let blocks = lines.next()?.strip_prefix("blocks ")?.split(' ').next()?;
    let n_blocks = blocks.parse().ok()?;
    let mut list = |name: &str| -> Option<Vec<Figured>> {
        let n: usize = lines.next()?.strip_prefix(name)?.trim().parse().ok()?;
        let one = |line: &str| {
            let bits = u64::from_str_radix(line.trim_start_matches('>'), 16).ok()?;
            Some(Figured { value: f64::from_bits(bits), reached: !line.starts_with('>') })
        };
        lines.by_ref().take(n).map(one).collect()
    };
    Some(Done { n_blocks, specimens: list("specimens")?, rows: list("rows")? })
}

/// Whether there are as many values as those blocks run, all of them times or heats.
fn fits(work: &Work, done: &Done) -> bool {
    let share = |n: usize| n * done.n_blocks / N_BLOCKS;
    let possible = |value: f64| value.is_finite() && value > 0.0;
    let possible = |list: &[Figured]| list.iter().all(|figured| possible(figured.value));
    done.n_blocks <= N_BLOCKS
        && done.specimens.len() == share(work.plan.n_sets) * work.plan.n_specimens
        && done.rows.len() == share(work.plan.n_rows) * work.row_length()
        && possible(&done.specimens)
        && possible(&done.rows)
}
