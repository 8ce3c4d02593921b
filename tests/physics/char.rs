//! Claim: fibre chars as first-order kinetics say, and the gas shields the face as film theory says.
//! Source: Kissinger, Analytical Chemistry 29 (1957) 1702 (peak of a step of first order); Bird,
//! Stewart, Lightfoot, Transport Phenomena, film theory; both from memory. Each test says more.
//! Tolerance: the step of the quadrature or of the mesh, said beside each.

use crate::close::{within, within_share};
use stillair::physics::char::{
    GAS_SPECIFIC_HEAT, TEMP_REF, WARMING, blowing_factor, blowing_number, char_enthalpy,
    converted_after, enthalpy_of_charring, gas_enthalpy, ln_rate_kissinger, rate, temp_activation,
};
use stillair::physics::slope::Sloped;
use stillair::physics::units::kelvin;

/// Energy [J/mol] and peak [°C] of made-up and of shelf fibres.
const KINETICS: [(f64, f64); 4] = [(228e3, 290.0), (250e3, 565.0), (200e3, 460.0), (60e3, 350.0)];

/// The temperature at which conversion is fastest while a node warms at `warming` [K].
fn peak(ln_rate: f64, temp_activation: f64, warming: f64) -> f64 {
    let dtemp = 0.01;
    let (mut converted, mut temp, mut most) = (0.0, 300.0, (0.0, 0.0));
    while converted < 0.9999 {
        let k = rate(temp + 0.5 * dtemp, ln_rate, temp_activation);
        let after = converted_after(converted, k, dtemp / warming);
        if after - converted > most.0 {
            most = (after - converted, temp + 0.5 * dtemp);
        }
        (converted, temp) = (after, temp + dtemp);
    }
    most.1
}

#[test]
fn a_node_warmed_at_10_kelvin_a_minute_is_fastest_at_its_peak() {
    for (energy, peak_c) in KINETICS {
        let activation = temp_activation(energy);
        let ln_rate = ln_rate_kissinger(activation, kelvin(peak_c), WARMING);
        // twice the step of the march
        within(peak(ln_rate, activation, WARMING), kelvin(peak_c), 0.02);
    }
}

/// Kissinger's plot: ln(β/Tp²) falls by E/R over 1/Tp, whatever the rate of warming.
#[test]
fn the_peaks_of_two_rates_of_warming_give_back_the_energy() {
    for (energy, peak_c) in KINETICS {
        let activation = temp_activation(energy);
        let ln_rate = ln_rate_kissinger(activation, kelvin(peak_c), WARMING);
        let [slow, fast] = [WARMING, 10.0 * WARMING].map(|w| (w, peak(ln_rate, activation, w)));
        let height = |(warming, temp): (f64, f64)| (warming / (temp * temp)).ln();
        let slope = (height(fast) - height(slow)) / (1.0 / slow.1 - 1.0 / fast.1);
        // 0.01 K of 20 K and more between the peaks
        within_share(slope, activation, 2e-3);
    }
}

#[test]
fn conversion_at_constant_temperature_is_exact_in_any_steps() {
    let k = 0.7;
    let exact = 1.0 - 0.8 * (-k * 3.0_f64).exp();
    within(converted_after(0.2, k, 3.0), exact, 1e-15);
    let stepped = (0..3000).fold(0.2, |a, _| converted_after(a, k, 1e-3));
    within(stepped, exact, 1e-12);
    within(converted_after(0.2, 1e82, 1.0), 1.0, 0.0);
    within(converted_after(0.2, k, 0.0), 0.2, 0.0);
}

/// An adiabatic node that gives off no gas (all of it stays): its enthalpy is what it was, so that
/// temperature follows conversion in closed form: a quadratic in T − T0.
#[test]
fn an_adiabatic_node_warms_by_its_heat() {
    let (cp, heat, start) = (1500.0, -150e3, TEMP_REF + 250.0);
    let fibre = |temp: f64| Sloped { value: cp * (temp - TEMP_REF), slope: cp };
    for converted in [0.0, 0.25, 0.5, 1.0] {
        // (1 − a) c u + a (715 u + 0.8 u²) + a Δh = c u0
        let (a, u0) = (converted, start - TEMP_REF);
        let (two, one, none) = (0.8 * a, (1.0 - a) * cp + 715.0 * a, a * heat - cp * u0);
        let u = match two > 0.0 {
            true => (-one + (one * one - 4.0 * two * none).sqrt()) / (2.0 * two),
            false => -none / one,
        };
        let temp = TEMP_REF + u;
        let held =
            fibre(temp).value + enthalpy_of_charring(converted, 1.0, heat, fibre(temp), temp).value;
        within_share(held, fibre(start).value, 1e-13);
    }
}

/// Char's specific heat is carbon's: graphite takes 709 J/(kg·K) at 25 °C and 1430 at 427 °C, by the
/// tables of NIST-JANAF (8.517 and 17.143 J/(mol·K) at 298 and 700 K, from memory).
#[test]
fn char_is_as_carbon() {
    within_share(char_enthalpy(298.15).slope, 8.517 / 0.012011, 0.02);
    within_share(char_enthalpy(700.0).slope, 17.143 / 0.012011, 0.06);
    within(char_enthalpy(TEMP_REF).value, 0.0, 1e-9);
    within(gas_enthalpy(TEMP_REF).value, 0.0, 1e-9);
}

/// The film that gas crosses, solved cell by cell: k T″ = G c T′ between face and gas.
fn film_by_cells(phi: f64, n: usize) -> f64 {
    // T from 0 at the face to 1 at the film's edge, in lengths of the film; central differences
    let (lower, upper) = (1.0 + 0.5 * phi / n as f64, 1.0 - 0.5 * phi / n as f64);
    let (mut c, mut d) = (vec![0.0; n], vec![0.0; n]);
    for i in 1..n {
        let pivot = 2.0 - lower * c[i - 1];
        c[i] = upper / pivot;
        let edge = if i == n - 1 { upper } else { 0.0 };
        d[i] = (edge + lower * d[i - 1]) / pivot;
    }
    let mut temp = vec![0.0; n + 1];
    temp[n] = 1.0;
    for i in (1..n).rev() {
        temp[i] = d[i] + if i == n - 1 { 0.0 } else { c[i] * temp[i + 1] };
    }
    // slope at the face, of second order
    n as f64 * (-1.5 * temp[0] + 2.0 * temp[1] - 0.5 * temp[2])
}

#[test]
fn blowing_is_the_film_s_own() {
    for phi in [0.05, 0.5, 1.0, 3.0] {
        // second order of 2,000 cells
        within_share(film_by_cells(phi, 2000), blowing_factor(phi), 1e-5);
    }
}

#[test]
fn little_blowing_takes_half_its_number_and_much_takes_all() {
    for phi in [1e-3, 1e-5, 1e-7, 1e-9, 0.0] {
        // next term of the series: φ²/12
        within(blowing_factor(phi), 1.0 - 0.5 * phi, phi * phi / 12.0 + 1e-15);
    }
    within(blowing_factor(50.0), 0.0, 1e-19);
    within(blowing_factor(1e6), 0.0, 0.0);
    within_share(blowing_number(0.02, 28.0), 0.02 * GAS_SPECIFIC_HEAT / 28.0, 1e-15);
}
