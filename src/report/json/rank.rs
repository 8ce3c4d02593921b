//! Layups side by side as JSON.

use crate::bench::figure::{Verdict, figure_name, filed};
use crate::garment::suit::sewn_density;
use crate::garment::target::{Figure, Target};
use crate::physics::units::{GRAMS_PER_AREA, MILLIMETRES, SECONDS};
use crate::report::form::value::Object;
use crate::report::json::study::envelope;
use crate::report::json::{anchored, rule};
use crate::report::lies;
use crate::report::verdict::answer;
use crate::study::ordering::{Placed, Ranking};

/// The rankings as JSON.
///
/// Errors: a value that is not a finite number.
pub fn rank_json(
    rankings: &[Ranking<'_>],
    targets: &[&Target],
) -> Result<String, serde_json::Error> {
    let list = rankings.iter().filter_map(|ranking| {
        let exposure = &ranking.placed.first()?.outcome.exposure;
        let figure = ranking.by.figure();
        let all = ranking.placed.iter().enumerate();
        let layups: Vec<Object> =
            all.map(|(i, placed)| of_place(i, placed, figure, targets)).collect();
        Some(
            Object::new()
                .with("exposure", exposure.name.as_str())
                .with("figure", figure_name(figure, exposure))
                .with("layups", layups),
        )
    });
    envelope("stillair/rank", &Object::new().with("rankings", list.collect::<Vec<_>>()))
}

fn of_place(i: usize, placed: &Placed<'_>, figure: Figure, targets: &[&Target]) -> Object {
    let layup = &placed.outcome.layup;
    let stack = placed.outcome.lies.stack();
    let [stitch, centre] =
        placed.outcome.second_degrees().map_or([None, None], |both| both.map(Some));
    let against = targets.iter().zip(placed.verdicts(targets));
    Object::new()
        .with("place", i + 1)
        .with("layup", layup.name.as_str())
        // "quilted" or "flat"; the stitch line's where the figure is skin's
        .with("computed", lies::word(stack))
        .with("why_flat", lies::why_flat(stack))
        .with_unit("stitch_line_second_degree", SECONDS, stitch)
        .with_unit("cell_centre_second_degree", SECONDS, centre)
        .with("state", placed.found.state())
        .with_unit("value", filed(figure), placed.valued())
        .with_unit("more", filed(figure), placed.gain)
        .with("anchored", placed.told.as_ref().map(anchored::told))
        .with_unit("areal_density", GRAMS_PER_AREA, sewn_density(layup))
        .with_unit("more", GRAMS_PER_AREA, placed.added)
        .with_unit("thickness", MILLIMETRES, layup.thickness())
        .with("beyond_limit", placed.found.is_beyond())
        .with("against", against.map(|(target, held)| called(target, &held)).collect::<Vec<_>>())
}

fn called(target: &Target, verdict: &Verdict) -> Object {
    Object::new()
        .with("target", target.name.as_str())
        .with("answer", answer(verdict))
        .with("call", verdict.call.as_ref().ok().map(|call| call.words()))
        .with("rule", rule(&verdict.rule))
}
