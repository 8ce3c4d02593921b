//! Figures read from the record of an exposure.

use crate::bench::figure::found::Found;
use crate::bench::figure::times::DiscTimes;
use crate::bench::outcome::{Figures, Outcome, PlyFate, Run, When};
use crate::garment::exposure::Exposure;
use crate::garment::target::Figure;

/// Time at which the first ply passes its limit [s]; none when none does.
pub fn t_valid(plies: &[PlyFate]) -> Option<f64> {
    plies
        .iter()
        .filter_map(|ply| match ply.limit_passed {
            When::At { t, .. } | When::Unsettled { t } => Some(t),
            When::NotWithin { .. } => None,
        })
        .min_by(f64::total_cmp)
}

/// What an outcome tells of a figure.
pub fn of_outcome(outcome: &Outcome, figure: Figure) -> Found {
    let run = match figure {
        Figure::SecondDegree => outcome.skin.as_ref(),
        _ => outcome.disc.as_ref(),
    };
    run.map_or(Found::NotAsked, |run| of_run(run, figure, &outcome.exposure))
}

/// What a run under an exposure tells of a figure.
pub fn of_run(run: &Run, figure: Figure, exposure: &Exposure) -> Found {
    let found = match (&run.figures, figure) {
        (Figures::Disc(disc), _) => DiscTimes::from(disc).figure(figure, exposure),
        (Figures::Skin(skin), Figure::SecondDegree) => {
            Found::of_time(skin.second_degree, exposure.t_end)
        }
        _ => Found::NotAsked,
    };
    found.valid_until(t_valid(&run.plies))
}

/// What skin at the middle of a quilted layup's cell tells of its second-degree burn; none for a flat
/// stack, or where skin was not asked for.
pub fn second_degree_at_centre(outcome: &Outcome) -> Option<Found> {
    let run = outcome.lies.over_cell()?.centre.as_ref()?;
    Some(of_run(run, Figure::SecondDegree, &outcome.exposure))
}
