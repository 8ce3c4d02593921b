//! Views of a result: text for the terminal, JSON, CSV; and the file they are put into.
//!
//! Every view is made from the one record in [`crate::bench::outcome`]. SI ends here:
//! keys, headers and columns name the unit that they hold.

pub mod form;
pub mod number;
pub(crate) mod property;
pub mod table;
pub mod water;
pub mod words;

pub mod exposure;
pub mod figures;
pub mod glossary;
pub mod heat;
pub mod layup;
pub mod lesson;
pub mod lies;
pub mod limits;
pub mod sensitivity;
pub mod studies;
pub mod text;
pub mod verdict;
pub mod verification;
pub mod worth;

pub mod anchored;
pub mod body;
pub mod book;
pub mod book_far;
pub mod fit;
pub mod fit_file;
pub mod fit_words;
pub mod gap;
pub mod lots;
pub mod odds;
pub mod patch;
pub mod pressed;
pub mod quilt;
pub mod quilt_beside;
pub mod quilt_csv;
pub mod quilt_patch;
pub mod quilt_sideways;
pub mod quilt_words;
pub mod rank;
pub mod suit;

pub mod document;
pub mod page;
pub mod seek;

pub mod book_file;
pub mod book_next;
pub mod brief;
pub mod csv;
pub mod json;
pub mod lock;
pub mod staged;
pub mod write;
pub mod write_error;

#[cfg(test)]
mod sample;
