//! Shelf, layups and terms that the tests share.

use stillair::bench::figure::DiscTimes;
use stillair::bench::outcome::{Figures, Outcome, When};
use stillair::bench::{Behind, Question, expose};
use stillair::garment::exposure::{Exposure, Orientation};
use stillair::garment::layup::Layup;
use stillair::garment::skin::Skin;
use stillair::shelf::layup::read::read_layup_text;
use stillair::shelf::materials::Shelf;
use stillair::study::answer::Quilts;
use stillair::study::run::Terms;

/// Numerical error asked for, relative to each time.
pub const ERROR_GOAL: f64 = 5e-3;

pub fn shelf() -> Shelf {
    Shelf::built_in().expect("the built-in shelf reads")
}

pub fn layup(shelf: &Shelf, name: &str) -> Layup {
    let (text, path) = (shelf.layup_text(name).unwrap(), shelf.layup_path(name).unwrap());
    read_layup_text(text, path, shelf).expect("the layup reads")
}

/// The flame of ISO 9151 with the specimen lying as asked, followed long enough for wide gaps.
pub fn flame(shelf: &Shelf, orientation: Orientation) -> Exposure {
    let mut exposure = shelf.exposure("flame-80").expect("on the shelf").clone();
    exposure.orientation = orientation;
    exposure.t_end = 120.0;
    exposure
}

pub fn skin(shelf: &Shelf) -> &Skin {
    shelf.skin("f1930-iso13506").expect("on the shelf")
}

pub fn terms<'a>(exposure: &'a Exposure, skin: &'a Skin) -> Terms<'a> {
    Terms { exposure, skin, error_goal: ERROR_GOAL, quilts: Quilts::Computed }
}

pub fn exposed(layup: &Layup, terms: &Terms) -> Outcome {
    let question = Question::plain(Behind::Both, terms.skin, terms.error_goal);
    expose(layup, terms.exposure, &question).expect("the case runs")
}

/// What the disc reads.
pub fn disc(outcome: &Outcome) -> DiscTimes {
    let Some(Figures::Disc(disc)) = outcome.disc.as_ref().map(|run| &run.figures) else {
        panic!("a run in front of the disc")
    };
    DiscTimes::from(disc)
}

/// 12 K, 24 K, Stoll, second degree.
pub fn times(outcome: &Outcome) -> [When; 4] {
    let disc = disc(outcome);
    let Some(Figures::Skin(skin)) = outcome.skin.as_ref().map(|run| &run.figures) else {
        panic!("a run in front of skin")
    };
    [disc.rise12, disc.rise24, disc.stoll, skin.second_degree]
}

/// Both times reached, and apart by no more than their errors together.
#[track_caller]
pub fn agree(one: When, other: When) {
    let (When::At { t, error }, When::At { t: t2, error: error2 }) = (one, other) else {
        panic!("{one:?} and {other:?} are not both reached")
    };
    assert!((t - t2).abs() <= error + error2, "{one:?} and {other:?}");
}
