//! Shelf, briefs and folders that the tests share.

use std::path::Path;

use stillair::garment::brief::Brief;
use stillair::shelf::brief::read::read_brief_text;
use stillair::shelf::materials::Shelf;
use stillair::study::seek::part::Part;
use stillair::study::seek::search::{Search, total};
use stillair::study::seek::space::Space;
use stillair::study::seek::summary::{Done, Summary};

pub use crate::run::{folder, stillair};

/// Numerical error asked for, relative to each time.
pub const ERROR_GOAL: f64 = 5e-3;

/// Numerical error [%] where one answer is held against another and no figure is looked at.
pub const COARSE: &str = "5";

/// A brief in which most of many combinations lie beyond the limits, so that chunks are many and quick.
pub const SPARSE: &str = r#"
name = "mostly beyond the limits"
outer = ["outer-aramid-150", "outer-aramid-200", "outer-aramid-260"]
felts = ["felt-spunlace-60", "felt-spunlace-85", "felt-needled-100"]
felts_least = 0
felts_most = 2
inner = ["inner-jersey-140", "inner-interlock-200"]

[[target]]
target = "iso-11612-b2"
margin_pct = 10

[[target]]
target = "en-469-xr1"
margin_s = 1.5

[[gap]]
place = "behind outer"
least_mm = 0
most_mm = 3
step_mm = 0.2

[[gap]]
place = "between felts"
least_mm = 0
most_mm = 1.5
step_mm = 0.15

[[gap]]
place = "before inner"
least_mm = 0
most_mm = 3
step_mm = 0.3

[limits]
areal_density_g_m2 = 400
thickness_mm = 3
"#;

/// A brief that asks for odds, of more combinations than a chunk holds.
pub const ODDS: &str = r#"
name = "with odds"
outer = ["outer-aramid-150", "outer-aramid-200"]
felts = ["felt-spunlace-60", "felt-spunlace-85", "felt-needled-100"]
felts_least = 0
felts_most = 1
inner = ["inner-jersey-140"]
shortlist = 2
odds_sets = 64

[[target]]
target = "fia-8856-2018-overall"
margin_pct = 5
odds_pct = 92

[[gap]]
place = "behind outer"
least_mm = 0
most_mm = 2
step_mm = 0.2

[[gap]]
place = "before inner"
least_mm = 0
most_mm = 2
step_mm = 0.1

[limits]
thickness_mm = 2.8
"#;

/// A brief with quilting and odds.
pub const QUILTED: &str = r#"
name = "quilted"
outer = ["outer-aramid-150", "outer-aramid-200"]
felts = ["felt-needled-100"]
felts_least = 1
inner = ["inner-jersey-140"]
shortlist = 2
odds_sets = 16

[[target]]
target = "fia-8856-2018-overall"
margin_pct = 5
odds_pct = 80

[[gap]]
place = "behind outer"
least_mm = 0
most_mm = 1
step_mm = 1

[quilting]
pattern = ["none", "channels", "diamond"]
pitch_mm = [30, 50]
stitch_width_mm = 2
loft_mm = { least = 0.5, most = 1.5, step = 1 }
pressed_pct = 55
thread_g_m = 0.12
"#;

pub fn shelf() -> Shelf {
    Shelf::built_in().expect("the built-in shelf reads")
}

pub fn brief(text: &str) -> Brief {
    read_brief_text(text, Path::new("brief.toml"), &shelf()).unwrap_or_else(|f| panic!("{f}"))
}

pub fn search<'a>(space: &'a Space<'a>) -> Search<'a> {
    Search { space, error_goal: ERROR_GOAL, part: Part::WHOLE }
}

/// The whole search at once.
pub fn searched(space: &Space<'_>) -> Summary {
    let mut done = Done::new();
    search(space).run(&mut done, None, &mut |_| ()).expect("no checkpoint is written");
    total(&done, space)
}

/// What it printed; it ended well, whatever it said beside of the files it wrote.
#[track_caller]
pub fn done(arguments: &[&str]) -> String {
    let (out, err, code) = stillair(arguments, "2");
    assert_eq!(code, 0, "{arguments:?}\n{err}");
    out
}

/// Ends with status 1, prints no result, says each of `parts`.
#[track_caller]
pub fn refused(arguments: &[&str], parts: &[&str]) {
    let (out, err, code) = stillair(arguments, "2");
    assert_eq!((code, out.as_str()), (1, ""), "{arguments:?}\n{err}");
    for part in [&["error: ", "expected: ", "mend: "], parts].concat() {
        assert!(err.contains(part), "{arguments:?} does not say `{part}`:\n{err}");
    }
}

/// Numbers that look random and are the same each time.
pub struct Numbers(pub u64);

impl Numbers {
    pub fn below(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        (self.0 >> 33) % n
    }
}
