//! Claim: a suit's masses and its bill are the sums that a pencil gives.
//! Source: arithmetic, written beside each number; areal densities are the files' own.
//! Tolerance: rounding of floating point.

use std::path::Path;

use stillair::garment::layup::Layup;
use stillair::garment::suit::{Suit, stitch_length, thread_density};
use stillair::shelf::materials::Shelf;
use stillair::shelf::suit::read::read_suit_text;
use stillair::study::bill::bill;
use stillair::study::suit::{panel_mass, worn};

const SUIT: &str = r#"
name = "by hand"
target = "en-469-xf1"
ease_pct = 25
seam_pct = 10
cutting_pct = 20

[body]
mass_kg = 70
height_cm = 175

[[panel]]
name = "chest"
place = "trunk"
side = "front"
area_m2 = 0.5
layup = "three-ply-quilted-blank"
embroidery = "patch-aramid-400"
embroidery_pct = 10

[[panel]]
name = "sleeve"
place = "sleeve"
side = "both"
count = 2
area_m2 = 0.3
layup = "three-ply-quilted-blank"
quilted = "no"
pressure_kPa = 5

[[panel]]
name = "shin"
place = "shin"
side = "both"
count = 2
share_pct = 6
layup = "two-ply-outer-knit"
"#;

fn suit() -> Suit {
    let shelf = Shelf::built_in().unwrap();
    read_suit_text(SUIT, Path::new("suit.toml"), &shelf).unwrap_or_else(|faults| panic!("{faults}"))
}

#[track_caller]
fn is(found: f64, expected: f64) {
    assert!((found - expected).abs() <= 1e-12 * expected.abs().max(1e-3), "{found} {expected}");
}

#[test]
fn areas_and_grams_are_the_hand_sums() {
    let suit = suit();
    let [chest, sleeve, shin] = suit.panels.as_slice() else { panic!("three panels") };
    let area = |panel| suit.area(panel, 1.0);
    is(area(chest), 0.5);
    is(area(sleeve), 2.0 * 0.3);
    // 6 % of the body, two pieces, cloth a quarter larger than the skin
    let skin = 0.007184 * 70f64.powf(0.425) * 175f64.powf(0.725);
    is(area(shin), 2.0 * 0.06 * skin * 1.25);

    let mass = |panel, layup: &Layup| panel_mass(panel, layup, area(panel));
    // outer 200, felt 100, inner 140 g/m²
    let of_chest = mass(chest, &chest.layup);
    is(of_chest.cloth, 0.5 * 0.440);
    // diamond: two sets of lines 40 mm apart, 0.12 g/m of thread: 2 / 0.04 m × 0.12 g/m = 6 g/m²
    is(of_chest.thread, 0.5 * 0.006);
    is(of_chest.embroidery, 0.5 * 0.10 * 0.400);
    is(of_chest.total(), 0.220 + 0.003 + 0.020);
    let of_sleeve = mass(sleeve, &sleeve.layup);
    is(of_sleeve.total(), 0.6 * 0.440);
    // outer 260 and knit 200 g/m²
    is(mass(shin, &shin.layup).total(), 0.15 * skin * 0.460);
}

#[test]
fn a_size_scales_every_area_alike() {
    let suit = suit();
    let mut taller = suit.body.clone();
    taller.height.value *= 2f64.powf(1.0 / 0.725);
    // A ∝ H^0.725: this height doubles the surface
    is(suit.size_for(&taller), 2.0);
    is(suit.size_for(&suit.body), 1.0);
    for panel in &suit.panels {
        is(suit.area(panel, 2.0), 2.0 * suit.area(panel, 1.0));
    }
}

#[test]
fn stitch_lines_are_counted_by_their_sets() {
    let suit = suit();
    let quilting = suit.panels[0].layup.quilting.clone().unwrap();
    is(stitch_length(&quilting), 2.0 / 0.04);
    let channels = stillair::garment::layup::Pattern::Channels;
    let one = stillair::garment::layup::Quilting { pattern: channels, ..quilting };
    is(stitch_length(&one), 1.0 / 0.04);
    is(thread_density(&suit.panels[1].layup), 0.0);
}

#[test]
fn the_bill_adds_for_seams_then_for_cutting() {
    let suit = suit();
    let bill = bill(&suit, 1.0);
    let skin = suit.body.surface();
    let names: Vec<&str> = bill.cloths.iter().map(|cloth| cloth.fabric.as_str()).collect();
    let three = ["outer-aramid-200", "felt-needled-100", "inner-jersey-140"];
    assert_eq!(names[..3], three);
    for cloth in &bill.cloths[..3] {
        is(cloth.area, 0.5 + 0.6);
        is(cloth.area_ordered, 1.1 * 1.10 * 1.20);
    }
    for cloth in &bill.cloths[3..] {
        is(cloth.area, 0.15 * skin);
    }
    // nothing is added to embroidery
    is(bill.embroidery[0].area_ordered, 0.05);
    is(bill.thread, 0.003);
    is(bill.thread_ordered, 0.003 * 1.32);
    is(bill.stitches, 0.5 * 50.0 * 1.32);
    // the bill holds the same grams as the panels
    let all = bill.cloths.iter().chain(&bill.embroidery);
    let billed: f64 = all.map(|cloth| cloth.area * cloth.areal_density).sum::<f64>() + bill.thread;
    let of_panel = |p| panel_mass(p, &p.layup, suit.area(p, 1.0)).total();
    is(billed, suit.panels.iter().map(of_panel).sum());
}

#[test]
fn a_panel_is_exposed_as_it_is_worn() {
    let suit = suit();
    let [chest, sleeve, shin] = suit.panels.as_slice() else { panic!("three panels") };
    let places = worn(chest, &chest.layup);
    let n_plies: Vec<usize> = places.iter().map(|layup| layup.plies().count()).collect();
    assert_eq!(n_plies, [3, 4], "beside the patch and under it");
    let pressed = &worn(sleeve, &sleeve.layup)[0];
    assert!(pressed.thickness() < sleeve.layup.thickness());
    assert_eq!(worn(shin, &shin.layup)[0].gaps().count(), 1, "nothing presses: the gap stays");
}
