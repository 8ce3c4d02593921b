//! Claim: what the readings cannot tell apart is called so, with what to measure instead.
//! Source: closed form. A ply under steady conduction shows its thickness over its conductivity alone; at
//! fixed mass its heat capacity does not depend on its thickness, so that both multiplied by one factor
//! leave every temperature as it is; no water moves there, or its way would be longer. Two conductances around a ply of no mass act as one resistance
//! 1/h1 + 1/h2: equal, they can be exchanged one percent for one.
//! No radiation passes the outer ply there, or some would enter between the two.
//! Tolerance: 2 and 5 % of the trade; differences of the solver are good to about 0.1 %, and such
//! directions are told by what is hardly felt.

use crate::study_fit::fixtures::{
    Noise, flame, free, layup, layup_of, moments, readings, rises, shelf,
};
use stillair::garment::layup::{Entry, Layup};
use stillair::garment::property::OfPly;
use stillair::study::answer::Quilts;
use stillair::study::fit::fitting::{Fit, LEVEL, Task, fit};
use stillair::study::fit::free::What;
use stillair::study::fit::readings::{Readings, Timed};
use stillair::study::fit::twins::Blur;
use stillair::study::property::Property;

const fn of(ply: usize, of: OfPly) -> What {
    What::Property(Property::Ply(ply, of))
}

/// A fit to the layup's own readings with noise of 0.1 K.
fn fitted(layup: &Layup, what: &[What]) -> Fit {
    let exposure = flame(&shelf());
    let free = free(what, layup, &exposure);
    let times = moments(0.25, 16.0);
    let mut noise = Noise(2024);
    let own = rises(layup, &exposure, &free, (&times, &vec![1.0; what.len()], LEVEL));
    let read: Vec<f64> = own.iter().map(|rise| rise + 0.1 * noise.next()).collect();
    let readings = readings(&times, &read);
    fit(&Task {
        layup,
        exposure: &exposure,
        free: &free,
        readings: &readings,
        level: LEVEL,
        quilts: Quilts::Computed,
    })
    .unwrap()
}

/// The layup without its water.
fn dry(mut layup: Layup) -> Layup {
    for entry in &mut layup.stack {
        if let Entry::Ply(ply) = entry {
            ply.fabric.regain.value = 0.0;
        }
    }
    layup
}

#[test]
fn conductivity_and_thickness_of_a_ply_act_as_their_ratio() {
    let found = fitted(
        &dry(layup(&shelf(), "three-ply-loose")),
        &[of(1, OfPly::Conductivity), of(1, OfPly::Thickness)],
    );
    let twins = &found.twins[0];
    assert_eq!((twins.blur, twins.who.as_slice(), twins.fix), (Blur::Inseparable, &[0, 1][..], 1));
    assert!((twins.trade[1] - 1.0).abs() < 0.02, "{:?}", twins.trade);
    assert!(found.spread.condition > 1e3, "{}", found.spread.condition);
}

const JOINTS: &str = r#"
name = "two joints in series"
[[stack]]
ply = "outer-aramid-200"
transmissivity = 0
joint_W_m2K = 150
[[stack]]
ply = "film"
joint_W_m2K = 150
[[stack]]
ply = "inner-jersey-140"
[[fabric]]
name = "film"
role = "barrier"
fibre = "meta-aramid"
areal_density_g_m2 = 1
thickness_mm = 0.01
conductivity_W_mK = 0.06
regain_pct = 0
from = "invented: as good as without mass"
"#;

#[test]
fn two_joints_in_series_act_as_one() {
    let found = fitted(&layup_of(&shelf(), JOINTS), &[What::Joint(0), What::Joint(1)]);
    let twins = &found.twins[0];
    assert_eq!((twins.blur, twins.who.as_slice()), (Blur::Inseparable, &[0, 1][..]));
    // equal conductances: one percent up, one percent down
    let h = &found.values;
    let expected = -h[1] / h[0];
    assert!((twins.trade[1] - expected).abs() < 0.05 * expected.abs(), "{:?} {h:?}", twins.trade);
}

#[test]
fn a_single_property_has_no_twin() {
    let found = fitted(&layup(&shelf(), "three-ply-loose"), &[of(1, OfPly::Conductivity)]);
    assert!(found.twins.is_empty() && found.spread.condition == 1.0);
}

/// Face voids of a ply whose faces share the temperature of its neighbours: nothing feels them.
#[test]
fn a_property_without_effect_is_called_unfelt() {
    let shared = "name = \"shared\"\n[[stack]]\nply = \"outer-aramid-200\"\njoint = \"shared\"\n\
                  [[stack]]\nply = \"felt-needled-100\"\njoint = \"shared\"\n\
                  [[stack]]\nply = \"inner-jersey-140\"\n";
    let found =
        fitted(&layup_of(&shelf(), shared), &[of(1, OfPly::Conductivity), of(1, OfPly::FaceVoid)]);
    let twins = &found.twins[0];
    assert_eq!((twins.blur, twins.fix), (Blur::Unfelt, 1));
    assert_eq!(found.half_widths[1], None);
    assert!(found.values[1] == found.free[1].start, "it stays where it was");
}

/// Two exact times give the one property that made them, and an interval from the stated error alone.
#[test]
fn times_alone_give_one_property() {
    let shelf = shelf();
    let (layup, exposure) = (layup(&shelf, "three-ply-loose"), flame(&shelf));
    let free = free(&[of(1, OfPly::Conductivity)], &layup, &exposure);
    let times = [12.0, 24.0].map(|rise| Timed { rise, t: 10.0 });
    let asked = Readings::Times { times: times.to_vec(), deviation: 0.1 };
    let mut model =
        stillair::study::fit::model::Model::new(&layup, &exposure, &free, &asked, LEVEL);
    let t = model.predicted(&[vec![1.15]]).unwrap().remove(0);
    let times = vec![Timed { rise: 12.0, t: t[0] }, Timed { rise: 24.0, t: t[1] }];
    let readings = Readings::Times { times, deviation: 0.1 };
    let task = Task {
        layup: &layup,
        exposure: &exposure,
        free: &free,
        readings: &readings,
        level: LEVEL,
        quilts: Quilts::Computed,
    };
    let found = fit(&task).unwrap();
    assert!((found.values[0] / free[0].start - 1.15).abs() < 1e-3, "{:?}", found.values);
    // one property, two times of one deviation s: its own is s / √Σ (dt/dx)²
    let exact = 1.959964 * 0.1 / found.spread.effects[0] * free[0].start;
    assert!((found.half_widths[0].unwrap() / exact - 1.0).abs() < 1e-9);
}
