//! Claim: a bare disc rises as ISO 9151's formula says, and the transmission factor is
//! ISO 6942's; the Stoll curve as a power law stays near its table.
//! Source: `worked_examples.csv` rows iso9151_slope and iso6942_tf; `stoll.csv`.
//! Tolerance: the rows' own.

use crate::bench::fixtures::{at, disc, fabric, flame, touching};
use crate::close::{within, within_share};
use crate::reference::{example, rows};
use stillair::evidence::verify::standards;
use stillair::garment::exposure::Flux;
use stillair::physics::stoll;

#[test]
fn rise_rate_of_the_bare_disc() {
    // by radiation alone, and half of it by a film: the disc is cold, so that it passes its whole share
    let cases = standards::disc_slope();
    assert_eq!(cases.len(), 2);
    for case in cases {
        assert!(case.is_kept(), "{case:?}");
        within(case.expected, example("iso9151_slope").expected[0], 0.0);
    }
}

#[test]
fn transmission_factor() {
    let row = example("iso6942_tf");
    // the row's plate in place of the disc, under 40 kW/m² of radiation alone
    let mut exposure = flame();
    exposure.flux = Flux::Steady(40e3);
    exposure.radiant_share = 1.0;
    exposure.disc.mass = row.input("M");
    exposure.disc.cp = row.input("cp");
    exposure.disc.area = 0.05 * 0.0503;
    let figures = disc(&touching([fabric(250.0, 0.8, 0.06, 0.0)]), &exposure, 1e-3);
    let between = at(figures.rise24).0 - at(figures.rise12).0;
    let flux = figures.flux_mean_12_24.expect("both rises");
    within_share(flux, 0.036 * 385.0 * 12.0 / (0.05 * 0.0503 * between), 1e-6);
    within_share(figures.transmission_factor.expect("both rises"), flux / 40e3, 1e-12);
    // the published ensemble took 6 s between the rises: 27.6 % (28 % printed)
    let published = 100.0 * flux * between / 6.0 / 40e3;
    within(published, row.expected[0], row.tolerance);
}

#[test]
fn power_law_and_table_of_stoll() {
    let mut most: f64 = 0.0;
    for row in rows("stoll.csv") {
        let (t, q) = (row.number("exposure_time_s"), row.number("heat_flux_kW_m2") * 1e3);
        let heat = row.number("total_heat_kJ_m2") * 1e3;
        within(stoll::heat_tabulated(t), heat, 1e-6);
        // a constant flux of q reaches the power law at another time than the table's
        let off = stoll::time_at_flux(q) / t - 1.0;
        println!(
            "{t} s: heat {:+.2} %, time {:+.1} %",
            100.0 * (stoll::heat(t).value / heat - 1.0),
            100.0 * off
        );
        most = most.max((stoll::heat(t).value / heat - 1.0).abs());
    }
    // the table prints 50 to 134 kJ/m² in whole kJ/m²: half a unit is up to 1 % of it
    assert!(most < 0.01, "power law and table differ by {most}");
}
