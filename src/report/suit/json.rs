//! A suit as JSON.

use crate::bench::figure::{Told, filed};
use crate::bench::outcome::When;
use crate::garment::target::Figure;
use crate::physics::units::{
    BARE, CENTIMETRES, GRAMS, GRAMS_PER_AREA, KILOGRAMS, KILOPASCALS, PERCENT, SECONDS,
    SQUARE_METRES,
};
use crate::report::form::value::Object;
use crate::report::json::study::envelope;
use crate::report::json::{anchored, rule};
use crate::report::suit::words;
use crate::study::bill::Cloth;
use crate::study::saving::Picks;
use crate::study::suit::Fitted;
use crate::study::suit_judged::{Judged, Judgement, Saving, Spot};

/// The suit as JSON.
///
/// Errors: a value that is not a finite number.
pub fn suit_json(judged: &Judged<'_>) -> Result<String, serde_json::Error> {
    let study = judged.study;
    let suit = &study.suit;
    let weakest = judged.weakest.map(|i| suit.panels[i].name.as_str());
    let body = Object::new()
        .with("suit", suit.name.as_str())
        .with("note", suit.note.as_str())
        .with_unit("body_mass", KILOGRAMS, suit.body.mass.value)
        .with_unit("body_height", CENTIMETRES, suit.body.height.value)
        .with_unit("body_surface", SQUARE_METRES, suit.body.surface())
        .with("size", study.size)
        .with_unit("mass", GRAMS, study.mass())
        .with("panels", (0..suit.panels.len()).map(|i| panel(judged, i)).collect::<Vec<_>>())
        .or_null("weakest", BARE, weakest)
        .or_null("saving", BARE, judged.saving.as_ref().map(|found| saving(judged, found)))
        .with("bill", bill(judged));
    envelope("stillair/suit", &body)
}

fn panel(judged: &Judged<'_>, i: usize) -> Object {
    let (panel, studied) = (&judged.study.suit.panels[i], &judged.study.panels[i]);
    let mut all = studied
        .fitted
        .iter()
        .zip(&judged.panels[i])
        .map(|(one, judgement)| fitted(one, judgement, panel.target.figure));
    let own = all.next().expect("a panel has its own layup first: `expose_suit` puts it there");
    Object::new()
        .with("panel", panel.name.as_str())
        .with("place", panel.place.word())
        .with("side", panel.side.word())
        .with("count", panel.count)
        .with_unit("area", SQUARE_METRES, studied.area)
        .with_unit("pressure", KILOPASCALS, panel.pressure)
        .with("target", panel.target.name.as_str())
        .with("exposure", panel.exposure.name.as_str())
        .with("own", own)
        .with("alternatives", all.collect::<Vec<_>>())
}

fn fitted(fitted: &Fitted, judgement: &Judgement, figure: Figure) -> Object {
    let (found, mass) = (judgement.verdict.found, &fitted.mass);
    let told = Told::of_verdict("", &judgement.verdict);
    let stitched = judgement.stitched;
    Object::new()
        .with("layup", fitted.layup.name.as_str())
        .with("quilted", fitted.layup.quilting.is_some())
        // what the figure is of: the flat stack, or a whole cell with its stitch lines
        .with("computed", if stitched.is_some() { "quilted" } else { "flat" })
        .with_unit(
            "stitch_line_second_degree",
            SECONDS,
            stitched.and_then(|s| burns(s.at_stitch_line)),
        )
        .with_unit("cell_centre_second_degree", SECONDS, stitched.and_then(|s| burns(s.at_centre)))
        .with_unit("cloth", GRAMS, mass.cloth)
        .with_unit("thread", GRAMS, mass.thread)
        .with_unit("embroidery", GRAMS, mass.embroidery)
        .with_unit("mass", GRAMS, mass.total())
        .with("state", found.state())
        // where on the panel there is least to spare
        .with("spot", spot(judgement.spot))
        .with_unit("figure", filed(figure), found.valued())
        .or_null("margin", PERCENT, judgement.margin)
        // the figure, its error taken off, over what its class needs to be called above, less 1
        .or_null("spare", PERCENT, judgement.spare)
        .with("against", words::answer(judgement))
        .with("anchored", told.as_ref().map(anchored::told))
        .with("rule", rule(&judgement.verdict.rule))
        .with("beyond_limit", found.is_beyond())
}

fn spot(spot: Spot) -> &'static str {
    match spot {
        Spot::Whole => "whole",
        Spot::Beside => "beside_embroidery",
        Spot::Under => "under_embroidery",
    }
}

/// The time of a burn; none where it does not come.
fn burns(when: Option<When>) -> Option<f64> {
    when.and_then(|when| when.t())
}

fn saving(judged: &Judged<'_>, saving: &Saving) -> Object {
    Object::new()
        // what the weakest panel has to spare: no change may leave less
        .with_unit("floor_spare", PERCENT, saving.task.floor)
        // the margin of that panel over its target
        .or_null("floor_margin", PERCENT, judged.weakest.and_then(|i| judged.panels[i][0].margin))
        .with("layups_at_most", saving.task.kinds_at_most)
        .with("greedy", picks(judged, &saving.greedy))
        .with("exact", picks(judged, &saving.exact))
}

fn picks(judged: &Judged<'_>, picks: &Picks) -> Object {
    let changes = words::changes(judged, picks).into_iter().map(|(i, _, layup, saved)| {
        Object::new()
            .with("panel", judged.study.suit.panels[i].name.as_str())
            .with("layup", layup)
            .with_unit("saved", GRAMS, saved)
    });
    Object::new()
        .with_unit("mass", GRAMS, picks.mass)
        .with_unit("saved", GRAMS, judged.study.mass() - picks.mass)
        .with("changes", changes.collect::<Vec<_>>())
}

fn bill(judged: &Judged<'_>) -> Object {
    let (bill, suit) = (&judged.bill, &judged.study.suit);
    Object::new()
        .with_unit("seam", PERCENT, suit.seam.value)
        .with_unit("cutting", PERCENT, suit.cutting.value)
        .with("cloth", bill.cloths.iter().map(cloth).collect::<Vec<_>>())
        .with("embroidery", bill.embroidery.iter().map(cloth).collect::<Vec<_>>())
        .with_unit("thread", GRAMS, bill.thread)
        .with_unit("thread_ordered", GRAMS, bill.thread_ordered)
}

fn cloth(cloth: &Cloth) -> Object {
    Object::new()
        .with("fabric", cloth.fabric.as_str())
        .with_unit("areal_density", GRAMS_PER_AREA, cloth.areal_density)
        .with_unit("area", SQUARE_METRES, cloth.area)
        .with_unit("mass", GRAMS, cloth.area * cloth.areal_density)
        .with_unit("ordered", SQUARE_METRES, cloth.area_ordered)
        .with_unit("ordered", GRAMS, cloth.area_ordered * cloth.areal_density)
}
