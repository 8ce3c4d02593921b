//! Claim: whatever is fitted to whatever was measured, the file that is written of it is read again: a fit
//! looks no further than the readers allow.
//! Source: common practice, no source.

use std::path::Path;

use rayon::prelude::*;

use crate::study_fit::fixtures::{flame, layup, layup_of, shelf};
use stillair::garment::layup::Layup;
use stillair::garment::property::OfPly;
use stillair::report::fit_file::layup_toml;
use stillair::shelf::key::possible::is_possible;
use stillair::shelf::layup::read::read_layup_text;
use stillair::study::answer::Quilts;
use stillair::study::fit::fitting::{FitError, Task, fit};
use stillair::study::fit::free::{Free, What};
use stillair::study::fit::readings::{Readings, Timed};
use stillair::study::property::Property;

const OF_PLY: [OfPly; 5] = [
    OfPly::Conductivity,
    OfPly::SpecificHeat,
    OfPly::Thickness,
    OfPly::Emissivity,
    OfPly::FaceVoid,
];

/// Plies with everything given, one of them near each end of what cloth may be.
const GIVEN: &str = r#"
name = "given"
[[stack]]
ply = "outer-aramid-200"
conductivity_W_mK = 0.12
emissivity = 0.9
from = "stated"
joint_W_m2K = 400
[[stack]]
ply = "felt-needled-100"
conductivity_W_mK = 0.03
face_void_um = 100
from = "stated"
[[stack]]
gap_mm = 0.5
[[stack]]
ply = "inner-jersey-140"
regain_pct = 40
from = "stated"
"#;

/// Stitch lines that do not press at all: their plies are as thick as they lie loose.
const UNPRESSED: &str = r#"
name = "unpressed"
[[stack]]
ply = "outer-aramid-200"
thickness_mm = 0.45
from = "stated"
[[stack]]
ply = "inner-jersey-140"
thickness_mm = 0.55
from = "stated"
[quilting]
pattern = "channels"
pitch_mm = 40
stitch_width_mm = 2
loft_mm = 1
pressed_mm = 1
from = "stated"
"#;

/// Everything that may be freed.
fn all(layup: &Layup) -> Vec<What> {
    let n = layup.plies().count();
    let of_plies = (0..n).flat_map(|j| OF_PLY.map(|of| What::Property(Property::Ply(j, of))));
    let joints = (0..n).map(What::Joint);
    let gaps = (0..layup.gaps().count()).map(|j| What::Property(Property::Gap(j)));
    of_plies.chain(joints).chain(gaps).collect()
}

/// Fits those to times that no layup of the kind has, and reads what is written: whether there was a fit.
fn read_again(layup: &Layup, what: &[What], times: [f64; 2]) -> bool {
    let shelf = shelf();
    let exposure = flame(&shelf);
    let free: Result<Vec<Free>, _> =
        what.iter().map(|what| Free::new(*what, None, layup, &exposure)).collect();
    let Ok(free) = free else { return false };
    let timed = |(rise, t): (f64, f64)| Timed { rise, t };
    let times = [12.0, 24.0].into_iter().zip(times).map(timed).collect();
    let readings = Readings::Times { times, deviation: 0.1 };
    let task = Task {
        layup,
        exposure: &exposure,
        free: &free,
        readings: &readings,
        level: 0,
        quilts: Quilts::LeftOut,
    };
    let found = match fit(&task) {
        Ok(found) => found,
        // what cannot be reached or followed gives no file
        Err(FitError::NotReached | FitError::Solver(_)) => return false,
        Err(error) => panic!("{}, {what:?}: {error:?}", layup.name),
    };
    assert!(is_possible(&found.fitted_layup), "{}, {what:?}: {:?}", layup.name, found.values);
    let text = layup_toml(&found, &shelf);
    if let Err(faults) = read_layup_text(&text, Path::new("fitted.toml"), &shelf) {
        panic!("{}, {what:?}:\n{faults}\n{text}", layup.name);
    }
    true
}

#[test]
fn what_is_written_is_read() {
    let shelf = shelf();
    let named = ["three-ply-loose", "single-outer-195"].map(|name| layup(&shelf, name));
    let made = [GIVEN, UNPRESSED].map(|text| layup_of(&shelf, text));
    let layups: Vec<&Layup> = named.iter().chain(&made).collect();
    let mut cases = Vec::new();
    for layup in layups {
        assert!(is_possible(layup), "{}", layup.name);
        let each = all(layup);
        let both = |j| {
            [OfPly::Conductivity, OfPly::Thickness].map(|of| What::Property(Property::Ply(j, of)))
        };
        let alone = each.into_iter().map(|what| vec![what]);
        let pairs = (0..layup.plies().count()).map(|j| both(j).to_vec());
        for what in alone.chain(pairs) {
            // far sooner and far later than any value of one property gives
            cases.extend([[0.6, 0.9], [90.0, 150.0]].map(|times| (layup, what.clone(), times)));
        }
    }
    let n_fitted =
        cases.par_iter().filter(|(layup, what, times)| read_again(layup, what, *times)).count();
    assert!(n_fitted > cases.len() / 2, "{n_fitted} of {} were fitted", cases.len());
}
