//! What is to be told of files that were read otherwise than as they stand: semicolons, units below a header.
//!
//! A library that reads one file after another is told nothing; the command line takes what there is at its end.

use std::sync::{Mutex, PoisonError};

/// More is not told of one run: whoever reads so many files has read the first.
const MOST: usize = 100;

static TOLD: Mutex<Vec<String>> = Mutex::new(Vec::new());

/// Notes a sentence, once.
pub(crate) fn tell(what: String) {
    let mut told = TOLD.lock().unwrap_or_else(PoisonError::into_inner);
    if told.len() < MOST && !told.contains(&what) {
        told.push(what);
    }
}

/// Takes all sentences, in the order in which they came.
pub fn take() -> Vec<String> {
    std::mem::take(&mut *TOLD.lock().unwrap_or_else(PoisonError::into_inner))
}
