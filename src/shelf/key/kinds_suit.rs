//! The keys of a suit, its body and its panels.

use crate::physics::units::{BARE, CENTIMETRES, KILOGRAMS, PERCENT, SQUARE_METRES};
use crate::shelf::key::field::{Companions, Field, Keys, Range, field};
use crate::shelf::key::kinds::PRESSURE;

pub(crate) const MASS: Field = field!("mass", KILOGRAMS, Range::from(20.0, 300.0), "80")
    .because("grown people have 45 to 150 kg")
    .usually(40.0, 160.0);
pub(crate) const HEIGHT: Field = field!("height", CENTIMETRES, Range::from(100.0, 250.0), "180")
    .because("grown people have 145 to 205 cm")
    .usually(140.0, 215.0);
pub(crate) const BODY: Keys<'_> =
    Keys { kind: "body", fields: &[MASS, HEIGHT], words: &["from"], provenance: Companions::Each };

pub(crate) const EASE: Field = field!("ease", PERCENT, Range::from(0.0, 200.0), "25")
    .because("a coverall has 15 to 40 % more cloth than skin; common practice, no source")
    .usually(0.0, 100.0);
pub(crate) const SEAM: Field = field!("seam", PERCENT, Range::from(0.0, 100.0), "6")
    .because("seams and hems take 3 to 10 % of the cloth; common practice, no source")
    .usually(0.0, 30.0);
pub(crate) const CUTTING: Field = field!("cutting", PERCENT, Range::from(0.0, 80.0), "15")
    .because("what is cut off; common practice is 10 to 25")
    .usually(0.0, 50.0);
pub(crate) const LAYUPS_AT_MOST: Field =
    field!("layups_at_most", BARE, Range::from(1.0, 50.0), "3");
pub(crate) const SUIT: Keys<'_> = Keys {
    kind: "suit",
    fields: &[EASE, SEAM, CUTTING, LAYUPS_AT_MOST],
    words: &["name", "note", "body", "fit", "target", "panel", "from"],
    provenance: Companions::Each,
};

pub(crate) const AREA: Field = field!("area", SQUARE_METRES, Range::from(1e-4, 5.0), "0.35")
    .because("a square centimetre is no panel, a whole suit has 2 to 4")
    .usually(0.003, 2.0);
pub(crate) const SHARE: Field = field!("share", PERCENT, Range::from(0.01, 100.0), "9");
pub(crate) const COUNT: Field = field!("count", BARE, Range::from(1.0, 50.0), "2");
pub(crate) const EMBROIDERY: Field = field!("embroidery", PERCENT, Range::from(0.01, 100.0), "10");
pub(crate) const EMBROIDERY_THREAD: Field =
    field!("embroidery_thread", PERCENT, Range::below(0.0, 100.0), "1");
pub(crate) const PANEL: Keys<'_> = Keys {
    kind: "panel",
    fields: &[AREA, SHARE, COUNT, PRESSURE, EMBROIDERY, EMBROIDERY_THREAD],
    words: &[
        "name",
        "place",
        "side",
        "layup",
        "quilted",
        "embroidery",
        "target",
        "alternatives",
        "from",
    ],
    provenance: Companions::Each,
};
