//! A suit put on a body and exposed.

use crate::garment::suit::Suit;
use crate::study::body::burns::Burn;
use crate::study::body::cell::Behind;
use crate::study::body::grams::{Kinds, grams};
use crate::study::body::record::{BodyError, BodyStudy, Fire};
use crate::study::body::runs::{Setting, Work, run_all};
use crate::study::body::worn::{Grams, Terms, WornSuit, fires, measures};

/// Levels of refinement: from both the answer is extrapolated, and what they differ by tells the error.
pub const LEVELS: [usize; 2] = [0, 1];
/// How much two levels' errors fall from the one to the other [–]; both mesh and step are of second order.
const FALL: f64 = 4.0;

/// A suit on a body after each fire.
///
/// Equal layups are run once for all panels; the work is spread over the threads, and the result does not depend
/// on their number.
/// Errors: [`BodyError`].
pub fn burn_body(suit: &Suit, terms: &Terms<'_>) -> Result<BodyStudy, BodyError> {
    let worn = WornSuit::of(suit, terms)?;
    let setting = Setting { skin: terms.skin, quilts: terms.quilts };
    let exposures = fires(terms.exposure, terms.durations);
    let mut works = Vec::new();
    let mut levels = Vec::new();
    for level in LEVELS {
        let (behind, work) =
            run_all(&worn.layups, &exposures, &setting, level).map_err(BodyError::Solver)?;
        levels.push(behind);
        works.push(work);
    }
    let gained = match terms.grams {
        Grams::LeftOut => vec![Vec::new(); exposures.len()],
        Grams::Told => {
            let kinds = Kinds { suit, worn: &worn, exposures: &exposures, setting: &setting };
            let (gained, work) = grams(&kinds, &levels[0]).map_err(BodyError::Solver)?;
            works.push(work);
            gained
        }
    };
    let [coarse, fine] = levels.try_into().expect("two levels are run");
    let fires = terms.durations.iter().zip(coarse.iter().zip(&fine)).zip(gained);
    let fires = fires.map(|((duration, (coarse, fine)), grams)| {
        let settled: Vec<Behind> =
            coarse.iter().zip(fine).map(|(one, two)| one.merged(two, extrapolated)).collect();
        Fire { grams, ..worn.fire(*duration, &settled, fine) }
    });
    let drawn_for = measures(&suit.body);
    Ok(BodyStudy {
        suit: suit.clone(),
        exposure: terms.exposure.clone(),
        skin: terms.skin.name.clone(),
        quilts: terms.quilts,
        map: terms.map.clone(),
        fit: terms.fit.unwrap_or(suit.fit),
        wearer: terms.wearer.map_or(drawn_for, measures),
        fires: fires.collect(),
        work: works.into_iter().fold(Work::default(), Work::and),
        airs: worn.panels.into_iter().map(|panel| panel.on).collect(),
    })
}

/// A burn from those on a coarse mesh and on one twice as fine.
fn extrapolated(coarse: Burn, fine: Burn) -> Burn {
    let beyond = |coarse: f64, fine: f64| fine + (fine - coarse) / (FALL - 1.0);
    let ln_omega = beyond(coarse.ln_omega, fine.ln_omega);
    let t = match (coarse.t, fine.t) {
        (Some(coarse), Some(fine)) => Some(beyond(coarse, fine)),
        (None, None) => None,
        (one, two) => one.or(two).filter(|_| ln_omega >= 0.0),
    };
    let ln_omega = if t.is_some() { ln_omega.max(0.0) } else { ln_omega.min(0.0) };
    Burn { t, ln_omega }
}
