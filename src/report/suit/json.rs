//! A suit as JSON.

use crate::bench::figure::Told;
use crate::physics::units::{BARE, CENTIMETRES, GRAMS, KILOGRAMS, PERCENT, SQUARE_METRES};
use crate::report::form::rows::{object, objects};
use crate::report::form::value::Object;
use crate::report::json::study::envelope;
use crate::report::json::{anchored, rule};
use crate::report::suit::columns::{Item, of_changes, of_items, of_layup, of_panel};
use crate::report::suit::rows::{Row, changes, rows};
use crate::study::bill::Cloth;
use crate::study::saving::Picks;
use crate::study::suit_judged::{Judged, Saving};

/// The suit as JSON.
///
/// Errors: a value that is not a finite number.
pub fn suit_json(judged: &Judged<'_>) -> Result<String, serde_json::Error> {
    let study = judged.study;
    let suit = &study.suit;
    let rows = rows(judged);
    let weakest = judged.weakest.map(|i| suit.panels[i].name.as_str());
    let body = Object::new()
        .with("suit", suit.name.as_str())
        .with("note", suit.note.as_str())
        .with_unit("body_mass", KILOGRAMS, suit.body.mass.value)
        .with_unit("body_height", CENTIMETRES, suit.body.height.value)
        .with_unit("body_surface", SQUARE_METRES, suit.body.surface())
        .with("size", study.size)
        .with_unit("mass", GRAMS, study.mass())
        .with("panels", rows.chunk_by(Row::are_of_one_panel).map(panel).collect::<Vec<_>>())
        .or_null("weakest", BARE, weakest)
        .or_null("saving", BARE, judged.saving.as_ref().map(|found| saving(judged, found)))
        .with("bill", bill(judged));
    envelope("stillair/suit", &body)
}

/// A panel with its own layup, then with each alternative.
fn panel(rows: &[Row<'_>]) -> Object {
    let mut all = rows.iter().map(fitted);
    let own = all.next().expect("a panel has its own layup first: `expose_suit` puts it there");
    object(&of_panel(), &rows[0]).with("own", own).with("alternatives", all.collect::<Vec<_>>())
}

fn fitted(row: &Row<'_>) -> Object {
    let verdict = row.verdict();
    let told = Told::of_verdict("", verdict);
    object(&of_layup(), row)
        .with("anchored", told.as_ref().map(anchored::told))
        .with("rule", rule(&verdict.rule))
        .with("beyond_limit", verdict.found.is_beyond())
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
    Object::new()
        .with_unit("mass", GRAMS, picks.mass)
        .with_unit("saved", GRAMS, judged.study.mass() - picks.mass)
        .with("changes", objects(&of_changes(), &changes(judged, picks)))
}

fn bill(judged: &Judged<'_>) -> Object {
    let (bill, suit) = (&judged.bill, &judged.study.suit);
    Object::new()
        .with_unit("seam", PERCENT, suit.seam.value)
        .with_unit("cutting", PERCENT, suit.cutting.value)
        .with("cloth", cloths(&bill.cloths))
        .with("embroidery", cloths(&bill.embroidery))
        .with_unit("thread", GRAMS, bill.thread)
        .with_unit("thread_ordered", GRAMS, bill.thread_ordered)
}

fn cloths(cloths: &[Cloth]) -> Vec<Object> {
    objects(&of_items(), &cloths.iter().map(Item::new).collect::<Vec<_>>())
}
