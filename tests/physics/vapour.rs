//! Claim: saturation, latent heat and diffusion of water vapour are those of moist air, and the two
//! forms of flow go over into each other.
//! Source: `vapour_coolprop.csv` (IAPWS-95 and humid air by CoolProp 8.0.0); closed forms beside each.
//! Tolerance: 1 % for the property fits; rounding for closed forms.

use crate::close::{within, within_share};
use crate::reference::rows;
use stillair::physics::air::PRESSURE;
use stillair::physics::units::kelvin;
use stillair::physics::vapour::*;

#[test]
fn saturation_and_latent_heat_are_those_of_water() {
    let table = rows("vapour_coolprop.csv");
    assert_eq!(table.len(), 22);
    for row in &table {
        let temp = kelvin(row.number("temperature_C"));
        within_share(saturation_pressure(temp).value, row.number("saturation_Pa"), 1e-2);
        let latent = enthalpy_vapour(temp) - enthalpy_liquid(temp);
        within_share(latent, row.number("latent_heat_J_kg"), 1e-2);
        if !row.text("half_humid_Pa").is_empty() {
            // humid air holds half a per cent more than water alone: its enhancement factor
            within_share(room_pressure(temp), row.number("half_humid_Pa"), 1e-2);
        }
    }
}

/// Conductance of a link that evaporation and condensation add per metre:
/// k_v = D L/(Rv T)·p_s'·P/(P − p_s). Source: our own independent computation, printed digits.
#[test]
fn a_wet_link_carries_more_heat_than_still_air_when_warm() {
    for (celsius, expected, digits) in
        [(25.0, 0.0888, 5e-5), (60.0, 0.553, 5e-4), (90.0, 4.377, 5e-4)]
    {
        let temp = kelvin(celsius);
        let by_temp =
            stefan(saturation_pressure(temp).value, 1e-9).slope * saturation_pressure(temp).slope;
        let latent = enthalpy_vapour(temp) - enthalpy_liquid(temp);
        let k = transport(temp).value * by_temp * latent;
        println!("{celsius} °C: {k:.5}, expected {expected}");
        within(k, expected, digits + 2e-3 * expected);
    }
}

#[test]
fn the_potential_goes_over_from_diffusion_to_flow() {
    within(stefan(0.0, 1e-3).value, 0.0, 0.0);
    within_share(stefan(0.5 * PRESSURE, 1e-3).value, 2f64.ln(), 1e-14);
    for cut_off in [1e-6, 1e-3, 0.5] {
        let edge = (1.0 - cut_off) * PRESSURE;
        let (below, above) =
            (stefan(edge * (1.0 - 1e-9), cut_off), stefan(edge * (1.0 + 1e-9), cut_off));
        within_share(above.value, below.value, 1e-2);
        within_share(stefan(edge + PRESSURE, cut_off).value, 1.0 / cut_off - cut_off.ln(), 1e-9);
        within_share(stefan(2.0 * PRESSURE, cut_off).slope, 1.0 / (cut_off * PRESSURE), 1e-12);
    }
    within(TRANSPORT_DATUM, transport(TEMP_DATUM).value, 1e-19);
}

/// A sweating plate's 20 m²·Pa/W are 9 mm of still air. Source: ISO 11092's definition; the rounded
/// thickness by our own independent computation.
#[test]
fn a_membrane_resists_as_much_as_still_air() {
    within(still_air_of_resistance(20.0), 9.3e-3, 0.1e-3);
    within(still_air_of_resistance(0.0), 0.0, 0.0);
}

/// Kozeny's constant of Davies' law at small fractions: K f^1.5/r² tends to 1/16. Source: Davies 1952.
#[test]
fn felts_let_steam_through() {
    let radius = 7e-6;
    within_share(
        permeability_of_felt_davies(radius, 0.01) * 1e-3 / (radius * radius),
        1.0 / 16.0,
        1e-4,
    );
    assert!(permeability_of_felt_davies(radius, 0.3) < permeability_of_felt_davies(radius, 0.1));
    within(openness_of_felt(0.1), 0.9f64.powf(1.5), 1e-15);
    within(openness_of_cloth(0.3), 0.28, 1e-15);
    // hotter, denser or finer: within its bounds
    assert!((1e-5..1e-3).contains(&cut_off(0.85, 1e-10)), "{}", cut_off(0.85, 1e-10));
    within(cut_off(1.0, 1e-20), 0.5, 0.0);
}
