//! The keys of a body: its regions, the air around it, the fits.

use crate::physics::units::{BARE, CENTIMETRES, MILLIMETRES, PERCENT};
use crate::shelf::key::field::{Companions, Field, Keys, Range, field};

pub(crate) const REGION_SHARE: Field = field!("share", PERCENT, Range::above(0.0, 100.0), "14");
pub(crate) const REGION: Keys<'_> = Keys {
    kind: "region",
    fields: &[REGION_SHARE],
    words: &["name", "places", "from"],
    provenance: Companions::Each,
};

pub(crate) const CONTACT: Field = field!("contact", PERCENT, Range::from(0.0, 100.0), "20")
    .because("a share of the panel lies on the body, at most all of it");
pub(crate) const BODY_GAP: Field = field!("gap", MILLIMETRES, Range::from(0.0, 200.0), "14")
    .because("a garment stands off by 0 to 100 mm")
    .usually(0.0, 60.0);
pub(crate) const SPREAD: Field = field!("spread", MILLIMETRES, Range::from(0.0, 200.0), "9")
    .because("gaps spread by about half of their mean, 0 where all are alike")
    .usually(0.0, 40.0);
pub(crate) const GIRTH: Field = field!("girth", CENTIMETRES, Range::from(5.0, 250.0), "98")
    .because("a child's wrist has 10, a broad waist 180")
    .usually(12.0, 180.0);
pub(crate) const AIR: Keys<'_> = Keys {
    kind: "air",
    fields: &[CONTACT, BODY_GAP, SPREAD, GIRTH],
    words: &["place", "from"],
    provenance: Companions::Each,
};

pub(crate) const GAP_FACTOR: Field = field!("gap_factor", BARE, Range::above(0.0, 10.0), "1.5");
pub(crate) const CONTACT_FACTOR: Field =
    field!("contact_factor", BARE, Range::from(0.0, 10.0), "0.7");
pub(crate) const FIT: Keys<'_> = Keys {
    kind: "fit",
    fields: &[GAP_FACTOR, CONTACT_FACTOR],
    words: &["name", "from"],
    provenance: Companions::Each,
};

pub(crate) const BODY_MAP: Keys<'_> = Keys {
    kind: "body",
    fields: &[],
    words: &["name", "region", "air", "fit"],
    provenance: Companions::Without,
};
