//! Claim: the seconds per percent of each property are the derivatives of the times.
//! Source: dimensional analysis of the heat equation: with every heat capacity multiplied by a
//! factor all times are; a dry opaque ply of given areal density enters by the ratio of its
//! conductivity to its thickness alone; secants of whole exposures on refined meshes.
//! Tolerance: the spread between two steps; the share of the air's heat capacity, 2e-3 of the sum;
//! the printed errors of the exposures over their distance.

use crate::bench::fixtures::{
    at, disc, flame, gap, known, layup, ply, skin, three_plies, touching,
};
use crate::close::within;
use stillair::garment::exposure::{Exposure, Flux};
use stillair::garment::layup::{Entry, Layup};
use stillair::garment::property::OfPly;
use stillair::study::property::Property;
use stillair::study::sensitivity::{Base, Row, sensitivities};

fn rows(layup: &Layup, exposure: &Exposure) -> Vec<Row> {
    let base = Base { layup, exposure, disc: true, skin: None };
    sensitivities(&base).expect("all runs end")
}

#[track_caller]
fn of(rows: &[Row], property: Property) -> f64 {
    let row = rows.iter().find(|row| row.property == property).expect("a row");
    let slope = row.rise24.expect("24 K are reached");
    assert!(slope.settled(), "{row:?}");
    slope.per_percent
}

/// Damp plies with two gaps.
fn rich() -> Layup {
    let [outer, felt, inner] = three_plies(1.0).map(|mut fabric| {
        fabric.regain = known(0.06);
        fabric.transmissivity = known(0.03);
        ply(fabric)
    });
    layup(vec![outer, gap(1.5), felt, inner, gap(0.5)])
}

#[test]
fn all_heat_capacities_together_move_the_time_by_its_own_percent() {
    for layup in [touching(three_plies(1.0)), rich()] {
        let rows = rows(&layup, &flame());
        let of_plies = (0..3).map(|j| of(&rows, Property::Ply(j, OfPly::ArealDensity)));
        let sum = of_plies.sum::<f64>() + of(&rows, Property::DiscHeatCapacity);
        let (t, _) = at(disc(&layup, &flame(), 1e-3).rise24);
        println!("{sum} {t}");
        within(sum, 0.01 * t, 2e-3 * 0.01 * t + 4.0 * 2e-4);
    }
}

#[test]
fn thickness_at_fixed_mass_undoes_conductivity() {
    let rows = rows(&touching(three_plies(1.0)), &flame());
    for j in 0..3 {
        let k = of(&rows, Property::Ply(j, OfPly::Conductivity));
        let thickness = of(&rows, Property::Ply(j, OfPly::Thickness));
        assert!(k < 0.0, "{k}");
        // 1.01 is not 1/0.99: second order in the step, beside the noise of the steps
        within(thickness, -k, 1e-2 * k.abs() + 2e-4);
    }
}

#[test]
fn secants_of_whole_exposures_agree() {
    let layup = rich();
    let rows = rows(&layup, &flame());
    let goal = 5e-4;
    for (property, share) in [
        (Property::Flux, 0.03),
        (Property::RadiantShare, 0.05),
        (Property::FlameTemperature, 0.05),
        (Property::Gap(0), 0.05),
        (Property::Ply(1, OfPly::ConductivityRise), 0.05),
        (Property::Ply(2, OfPly::Regain), 0.1),
        (Property::Ply(0, OfPly::Emissivity), 0.05),
    ] {
        let time = |factor: f64| {
            let (mut layup, mut exposure) = (layup.clone(), flame());
            property.scale(&mut layup, &mut exposure, factor);
            at(disc(&layup, &exposure, goal).rise24)
        };
        let (above, below) = (time(1.0 + share), time(1.0 - share));
        let secant = (above.0 - below.0) / (200.0 * share);
        let error = (above.1 + below.1) / (200.0 * share);
        let slope = of(&rows, property);
        println!("{property:?}: {slope} {secant} ± {error}");
        // the secant is as wide as 10 %: its own curvature is of the order of its share squared
        within(slope, secant, error + 2.0 * share * share * secant.abs() + 2e-4);
    }
}

#[test]
fn at_its_bound_a_property_is_moved_from_below() {
    let emissivity = Property::Ply(0, OfPly::Emissivity);
    let slope = |value: f64| {
        let mut fabrics = three_plies(1.0);
        fabrics[0].emissivity = known(value);
        // per unit of emissivity, so that the two can be compared
        of(&rows(&touching(fabrics), &flame()), emissivity) * 100.0 / value
    };
    let (bound, near, far) = (slope(1.0), slope(0.96), slope(0.92));
    println!("{bound} {near} {far}");
    // straight on from the two below, to a tenth of what it changes in between and the noise
    let noise = 3.0 * 2e-4 * 100.0;
    within(bound, 2.0 * near - far, 0.1 * (bound - far).abs() + noise);
}

#[test]
fn a_purely_radiant_source_has_no_gas_to_move() {
    let mut radiant = flame();
    radiant.radiant_share = 1.0;
    let rows = rows(&touching(three_plies(1.0)), &radiant);
    for property in [Property::RadiantShare, Property::FlameTemperature] {
        assert!(rows.iter().all(|row| row.property != property), "{property:?}");
    }
}

#[test]
fn rows_come_largest_first_without_what_is_zero() {
    let rows = rows(&touching(three_plies(1.0)), &flame());
    let sizes: Vec<f64> = rows.iter().map(|row| row.rise24.unwrap().per_percent.abs()).collect();
    assert!(sizes.windows(2).all(|pair| pair[0] >= pair[1]), "{sizes:?}");
    for of in [OfPly::Regain, OfPly::Transmissivity] {
        assert!(rows.iter().all(|row| row.property != Property::Ply(0, of)), "{of:?} is zero");
    }
    assert!(rows.len() >= 3 * 7 + 3);
}

#[test]
fn what_is_not_reached_has_no_derivative_and_skin_has_no_disc() {
    let weak = Exposure { flux: Flux::Steady(300.0), ..flame() };
    assert!(rows(&touching(three_plies(1.0)), &weak).iter().all(|row| row.rise24.is_none()));
    let skin = skin();
    let layup: Layup = rich();
    assert!(matches!(layup.stack.last(), Some(Entry::Gap(_))));
    let base = Base { layup: &layup, exposure: &flame(), disc: false, skin: Some(&skin) };
    let rows = sensitivities(&base).unwrap();
    let flux = rows.iter().find(|row| row.property == Property::Flux).unwrap();
    assert!(flux.second_degree.unwrap().per_percent < 0.0 && flux.rise24.is_none());
    let disc = rows.iter().find(|row| row.property == Property::DiscHeatCapacity).unwrap();
    assert_eq!((disc.rise24, disc.second_degree), (None, None));
}
