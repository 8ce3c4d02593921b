//! Bytes of a checkpoint: numbers, texts, and frames that show whether they are whole.

use crate::bench::figure::Found;
use crate::bench::outcome::Valued;
use crate::study::digest::digest;
use crate::study::seek::score::{Scored, score};
use crate::study::seek::sieve::Sieve;
use crate::study::seek::space::Space;
use crate::study::seek::summary::{Counts, Summary};

/// Longest frame that is believed [bytes].
const FRAME_MOST: usize = 1 << 30;
/// Stands for no number.
const NONE: u64 = u64::MAX;

/// A frame around `payload`: its length, itself, its digest.
pub(crate) fn framed(payload: &[u8]) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(payload.len() + 16);
    bytes.extend((payload.len() as u64).to_le_bytes());
    bytes.extend(payload);
    bytes.extend(digest(payload).to_le_bytes());
    bytes
}

/// The payload of the frame at the beginning of `bytes`, and how long the frame is; none when it
/// is torn.
pub(crate) fn unframed(bytes: &[u8]) -> Option<(&[u8], usize)> {
    let n = usize::try_from(u64::from_le_bytes(bytes.get(..8)?.try_into().ok()?)).ok()?;
    if n > FRAME_MOST {
        return None;
    }
    let payload = bytes.get(8..8 + n)?;
    let sum = u64::from_le_bytes(bytes.get(8 + n..16 + n)?.try_into().ok()?);
    (sum == digest(payload)).then_some((payload, n + 16))
}

/// Puts numbers and texts into bytes.
#[derive(Debug, Default)]
pub(crate) struct Put(pub Vec<u8>);

impl Put {
    pub fn number(&mut self, value: u64) {
        self.0.extend(value.to_le_bytes());
    }

    pub fn text(&mut self, text: &str) {
        self.number(text.len() as u64);
        self.0.extend(text.as_bytes());
    }

    fn reading(&mut self, reading: &Found) {
        let (kind, numbers) = match *reading {
            Found::Value { valued, t, beyond } => {
                (u64::from(beyond), [valued.value, valued.error, t])
            }
            Found::AtLeast { least, t_end } => (2, [least, t_end, 0.0]),
            Found::Unsettled { low, high } => (3, [low, high, 0.0]),
            Found::NotAsked => (4, [0.0; 3]),
        };
        self.number(kind);
        numbers.iter().for_each(|number| self.number(number.to_bits()));
    }

    fn all_scored(&mut self, all: &[Scored]) {
        self.number(all.len() as u64);
        for one in all {
            self.number(one.index);
            one.readings.iter().for_each(|reading| self.reading(reading));
        }
    }

    pub fn summary(&mut self, summary: &Summary) {
        let counts = &summary.counts;
        for n in [
            counts.n_seen,
            counts.n_beyond,
            counts.n_unstitchable,
            counts.n_unknown,
            counts.n_stopped,
            counts.n_keeping,
            counts.first_stopped.unwrap_or(NONE),
        ] {
            self.number(n);
        }
        let Sieve { n_left, n_checked, off, bound } = summary.sieve;
        for n in [n_left, n_checked, off.to_bits(), bound.to_bits()] {
            self.number(n);
        }
        self.all_scored(&summary.frontier);
        self.all_scored(&summary.shortlist);
    }
}

/// Takes them out again; none where the bytes end or make no sense.
#[derive(Debug)]
pub(crate) struct Take<'b>(pub &'b [u8]);

impl Take<'_> {
    pub fn number(&mut self) -> Option<u64> {
        let (head, rest) = self.0.split_at_checked(8)?;
        self.0 = rest;
        Some(u64::from_le_bytes(head.try_into().ok()?))
    }

    pub fn text(&mut self) -> Option<String> {
        let n = usize::try_from(self.number()?).ok()?;
        let (head, rest) = self.0.split_at_checked(n)?;
        self.0 = rest;
        String::from_utf8(head.to_vec()).ok()
    }

    fn reading(&mut self) -> Option<Found> {
        let kind = self.number()?;
        let mut next = || self.number().map(f64::from_bits);
        let (a, b, c) = (next()?, next()?, next()?);
        match kind {
            0 | 1 => {
                let valued = Valued { value: a, error: b };
                Some(Found::Value { valued, t: c, beyond: kind == 1 })
            }
            2 => Some(Found::AtLeast { least: a, t_end: b }),
            3 => Some(Found::Unsettled { low: a, high: b }),
            4 => Some(Found::NotAsked),
            _ => None,
        }
    }

    fn all_scored(&mut self, space: &Space<'_>) -> Option<Vec<Scored>> {
        let n = self.number()?;
        (0..n)
            .map(|_| {
                let candidate = space.candidate(self.number()?)?;
                let n_targets = space.brief.wanted.len();
                let readings: Option<Vec<Found>> = (0..n_targets).map(|_| self.reading()).collect();
                score(space, &candidate, readings?)
            })
            .collect()
    }

    pub fn summary(&mut self, space: &Space<'_>) -> Option<Summary> {
        let counts = Counts {
            n_seen: self.number()?,
            n_beyond: self.number()?,
            n_unstitchable: self.number()?,
            n_unknown: self.number()?,
            n_stopped: self.number()?,
            n_keeping: self.number()?,
            first_stopped: Some(self.number()?).filter(|index| *index != NONE),
        };
        let sieve = Sieve {
            n_left: self.number()?,
            n_checked: self.number()?,
            off: f64::from_bits(self.number()?),
            bound: f64::from_bits(self.number()?),
        };
        let frontier = self.all_scored(space)?;
        Some(Summary { counts, sieve, frontier, shortlist: self.all_scored(space)? })
    }
}
