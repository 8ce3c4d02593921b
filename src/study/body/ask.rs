//! A suit put on a body and exposed.

use crate::garment::suit::Suit;
use crate::study::body::cell::Behind;
use crate::study::body::grams::{Kinds, grams};
use crate::study::body::record::{BodyError, BodyStudy, Fire};
use crate::study::body::runs::{Which, Work, Worn, run_all};
use crate::study::body::settle::Settled;
use crate::study::body::worn::{Grams, Terms, WornSuit, fires, measures};

/// Levels of refinement: from both the answer is extrapolated, and what they differ by tells the error.
pub const LEVELS: [usize; 2] = [0, 1];

/// A suit on a body after each fire.
///
/// Equal layups are run once for all panels; the work is spread over the threads, and the result does not depend
/// on their number.
/// Errors: [`BodyError`].
pub fn burn_body(suit: &Suit, terms: &Terms<'_>) -> Result<BodyStudy, BodyError> {
    burn_body_on(suit, terms, LEVELS)
}

/// What the runs of some layups came to.
pub(super) struct Ran {
    /// The burns behind them after each fire.
    pub settled: Vec<Settled>,
    /// The same on the coarser mesh alone: `[fire][layup]`.
    pub coarse: Vec<Vec<Behind>>,
    /// What it took.
    pub work: Work,
}

/// Runs layups after every fire on two levels, on the finer one at every second gap.
pub(super) fn ran(
    layups: &[Worn],
    terms: &Terms<'_>,
    refined: [usize; 2],
) -> Result<Ran, BodyError> {
    let exposures = fires(terms.exposure, terms.durations);
    let setting = terms.setting();
    let run = |level, which| {
        run_all(layups, &exposures, &setting, (level, which)).map_err(BodyError::Solver)
    };
    let (coarse, work) = run(refined[0], Which::All)?;
    let (fine, finer_work) = run(refined[1], Which::Second)?;
    let both = coarse.iter().zip(&fine);
    let settled = both.map(|(coarse, fine)| Settled::of(coarse, fine)).collect();
    Ok(Ran { settled, coarse, work: work.and(finer_work) })
}

/// [`burn_body`] on two other levels of refinement, one twice as fine as the other: what the error that is told
/// on [`LEVELS`] has to cover.
///
/// Errors: [`BodyError`].
pub fn burn_body_on(
    suit: &Suit,
    terms: &Terms<'_>,
    refined: [usize; 2],
) -> Result<BodyStudy, BodyError> {
    let worn = WornSuit::of(suit, terms)?;
    let Ran { settled, coarse, work } = ran(&worn.layups, terms, refined)?;
    let mut works = vec![work];
    let gained = match terms.grams {
        Grams::LeftOut => vec![Vec::new(); settled.len()],
        Grams::Told => {
            let exposures = &fires(terms.exposure, terms.durations);
            let kinds = Kinds { suit, worn: &worn, exposures, setting: &terms.setting() };
            let (gained, work) = grams(&kinds, &coarse).map_err(BodyError::Solver)?;
            works.push(work);
            gained
        }
    };
    let fires = terms.durations.iter().zip(&settled).zip(gained);
    let fires =
        fires.map(|((duration, settled), grams)| Fire { grams, ..worn.fire(*duration, settled) });
    let drawn_for = measures(&suit.body);
    Ok(BodyStudy {
        suit: suit.clone(),
        exposure: terms.exposure.clone(),
        skin: terms.skin.name.clone(),
        quilts: terms.quilts,
        map: terms.map.clone(),
        fit: terms.fit.unwrap_or(suit.fit),
        wearer: terms.wearer.map_or(drawn_for, measures),
        shrunk: terms.shrunk,
        fires: fires.collect(),
        work: works.into_iter().fold(Work::default(), Work::and),
        airs: worn.panels.into_iter().map(|panel| panel.on).collect(),
    })
}
