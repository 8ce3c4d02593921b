//! Words for what layups are ordered by, and for what a map is of.

use clap::ValueEnum;
use clap::builder::{PossibleValuesParser, TypedValueParser};

use crate::garment::target::Figure;
use crate::study::gap_brief::is_swept;
use crate::study::ordering::By;

/// What layups are ordered by, as a word.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
pub enum ByWord {
    /// Time until the disc is 12 K warmer (RHTI12 under radiant heat)
    Hti12,
    /// Time until the disc is 24 K warmer (RHTI24 under radiant heat)
    Hti24,
    /// Time between the two
    Difference,
    /// Time of the Stoll crossing
    Stoll,
    /// Heat to the Stoll crossing
    Tpp,
    /// Time to a second-degree burn
    SecondDegree,
    /// Areal density
    Mass,
    /// Thickness with the gaps
    Thickness,
}

impl ByWord {
    /// What it stands for.
    pub fn by(self) -> By {
        match self {
            ByWord::Hti12 => By::Figure(Figure::Rise12),
            ByWord::Hti24 => By::Figure(Figure::Rise24),
            ByWord::Difference => By::Figure(Figure::Rise24Less12),
            ByWord::Stoll => By::Figure(Figure::Stoll),
            ByWord::Tpp => By::Figure(Figure::Tpp),
            ByWord::SecondDegree => By::Figure(Figure::SecondDegree),
            ByWord::Mass => By::Mass,
            ByWord::Thickness => By::Thickness,
        }
    }
}

/// Reads the words of those figures alone that a sweep of gaps tells as a time.
pub fn swept_figure() -> impl TypedValueParser<Value = Figure> {
    let figure = |word: ByWord| match word.by() {
        By::Figure(figure) => Some(figure).filter(|figure| is_swept(*figure)),
        _ => None,
    };
    let words = ByWord::value_variants().iter().filter(move |word| figure(**word).is_some());
    PossibleValuesParser::new(words.filter_map(ByWord::to_possible_value)).map(move |word| {
        let known = ByWord::from_str(&word, false).ok().and_then(figure);
        known.expect("one of the words that were offered")
    })
}
