//! Claim: the tolerance of a conductivity follows how the value is known, that of its rise with
//! temperature how the rise is known, and each is drawn by itself.
//! Source: `study::odds::defaults`: data sheet 10 %, estimate 25 %, common practice without a source.
//! Tolerance: rounding.

use std::path::Path;

use stillair::garment::band::Factors;
use stillair::garment::layup::Layup;
use stillair::garment::property::OfPly;
use stillair::physics::units::kelvin;
use stillair::shelf::layup::read::read_layup_text;
use stillair::shelf::materials::Shelf;
use stillair::study::odds::defaults::HALF_95;
use stillair::study::odds::inputs::{Further, Inputs, Which};
use stillair::study::property::Property;

fn layup(slope: &str) -> Layup {
    let text = format!(
        "name = \"one\"\n[[fabric]]\nname = \"own\"\nrole = \"felt\"\nfibre = \"meta-aramid\"\n\
         areal_density_g_m2 = 100\nthickness_mm = 1.3\nconductivity_W_mK = 0.04\n{slope}\
         from = \"data sheet: mill sheet\"\n[[stack]]\nply = \"own\"\n"
    );
    let shelf = Shelf::built_in().expect("the shelf");
    read_layup_text(&text, Path::new("one.toml"), &shelf).expect("a layup")
}

/// What each coordinate does at +1 to the conductivity at 25 °C and to its rise, as logarithms; those
/// that move the conductivity alone.
fn moves(layup: &Layup) -> (f64, Vec<(f64, f64)>) {
    let shelf = Shelf::built_in().expect("the shelf");
    let exposure = shelf.exposure("flame-80").expect("an exposure");
    let inputs = Inputs::of(layup, exposure, Further { flux: 0.0, model: Factors::EXACT });
    let k = |layup: &Layup, celsius: f64| {
        let ply = layup.plies().next().expect("a ply");
        ply.fabric.conductivity.value.at(kelvin(celsius))
    };
    let own = |layup: &Layup| {
        let fabric = &layup.plies().next().expect("a ply").fabric;
        (fabric.areal_density.value, fabric.thickness.value)
    };
    let mut found = Vec::new();
    for i in 0..inputs.n_factors() {
        let mut x = vec![0.0; inputs.n_factors()];
        x[i] = 1.0;
        let (drawn, _) = inputs.draw(layup, exposure, &x).expect("a draw");
        let at_25 = (k(&drawn, 25.0) / k(layup, 25.0)).ln();
        let rise = |of: &Layup| k(of, 225.0) / k(of, 25.0) - 1.0;
        let moved = (rise(&drawn) / rise(layup)).ln();
        if own(&drawn) == own(layup) && (at_25.abs() > 1e-9 || moved.abs() > 1e-9) {
            found.push((at_25, moved));
        }
    }
    let which = Which::Of(Property::Ply(0, OfPly::Conductivity));
    let told = inputs.all.iter().find(|input| input.which == which).expect("the conductivity");
    (told.of_set, found)
}

#[test]
fn a_sheet_s_value_is_drawn_by_the_sheet_and_its_rise_by_the_estimate() {
    let (told, moves) = moves(&layup(""));
    assert!((told - 0.10).abs() < 1e-12, "told as {told}");
    let size = |width: f64| width.ln_1p() / HALF_95;
    let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
    assert_eq!(moves.len(), 2, "{moves:?}");
    assert!(near(moves[0].0, size(0.10)) && near(moves[0].1, 0.0), "{moves:?}");
    assert!(near(moves[1].0, 0.0) && near(moves[1].1, size(0.25)), "{moves:?}");
}

#[test]
fn a_slope_of_the_same_sheet_is_as_well_known() {
    let slope = "conductivity_slope_W_mK2 = 0.0001\n";
    let (_, moves) = moves(&layup(slope));
    let size = 0.10_f64.ln_1p() / HALF_95;
    assert_eq!(moves.len(), 2, "{moves:?}");
    assert!((moves[1].1 - size).abs() < 1e-6, "{moves:?}");
}

/// Claim: charring's heat is known to half of itself where it is known from memory, and any share of thinning
/// from 0 to 1 is as likely, for all fibres of a ply together.
/// Source: `study::odds::defaults` and `garment::charring`, our choices.
#[test]
fn charring_is_drawn_by_heat_and_thinning() {
    let shelf = Shelf::built_in().expect("the shelf");
    let exposure = shelf.exposure("flame-80").expect("an exposure");
    let layup = layup("");
    let inputs = Inputs::of(&layup, exposure, Further { flux: 0.0, model: Factors::EXACT });
    let of_char = |layup: &Layup| {
        let ply = layup.plies().next().expect("a ply");
        let charring = &ply.fabric.charring[0].charring;
        (charring.heat.value, charring.thinning.value)
    };
    let (heat, thinning) = of_char(&layup);
    let ends = |of: OfPly, x: f64| {
        let which = Which::Of(Property::Ply(0, of));
        let input = inputs.all.iter().position(|input| input.which == which).expect("it varies");
        let [place] = inputs.coordinates_of(input) else { panic!("one coordinate") };
        [-x, x].map(|x| {
            let mut at = vec![0.0; inputs.n_factors()];
            at[*place] = x;
            of_char(&inputs.draw(&layup, exposure, &at).expect("a draw").0)
        })
    };
    let [few, much] = ends(OfPly::CharHeat, HALF_95);
    assert!((few.0 * 1.5 / heat - 1.0).abs() < 1e-9 && (much.0 / heat - 1.5).abs() < 1e-9);
    assert_eq!((few.1, much.1), (thinning, thinning));
    let [opened, thinner] = ends(OfPly::Thinning, 1.0);
    assert_eq!((opened, thinner), ((heat, 0.0), (heat, 1.0)));
}
