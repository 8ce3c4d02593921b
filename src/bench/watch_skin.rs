//! What skin suffers: the basal temperature and the burn integrals.

use crate::bench::halt::Halt;
use crate::bench::rise::{T_TOL, rise_through};
use crate::bench::trace::Trace;
use crate::garment::skin::{Damage, Skin};
use crate::physics::burn;
use crate::physics::units::kelvin;
use crate::solver::root::crossing;
use crate::solver::watch::{Next, Step, Watch};

/// Burn integrals that are timed: first and second degree at the basal layer, third at the base
/// of the dermis [–]. Source: ASTM F1930 and ISO 13506-2 (from memory).
pub const OMEGAS: [f64; 3] = [0.53, 1.0, 1.0];
/// Temperature above which skin is damaged [°C]. Source: ISO 13506-2, section 3.
const DAMAGE_FROM_C: f64 = 44.0;
/// Largest change of temperature over one quadrature interval of the burn integral [K].
const DTEMP_MOST: f64 = 0.5;
/// Share of all rises by which a burn integral's swing is found [–]: so much that one which just misses
/// 44 °C has one, so little that the rate of damage changes by a tenth.
const SHARE: f64 = 5e-3;
/// Gauss–Legendre points on [0, 1] and weights, three points. Source: Abramowitz & Stegun, table 25.4.
const GAUSS: [(f64, f64); 3] = [
    (0.112_701_665_379_258_3, 5.0 / 18.0),
    (0.5, 8.0 / 18.0),
    (0.887_298_334_620_741_7, 5.0 / 18.0),
];

/// The burn integral at one node.
#[derive(Debug, Clone)]
pub struct BurnIntegral {
    node: usize,
    damage: Damage,
    /// Its value up to now [–].
    pub omega: f64,
}

impl BurnIntegral {
    fn rate(&self, temp: f64) -> f64 {
        let ranges = self.damage.ranges.iter();
        burn::damage_rate(temp, ranges.map(|r| (r.temp_from, r.ln_rate, r.temp_activation)))
    }

    /// What it would change by with all rises since the start of the run, over the share by which these
    /// change [–]: a thirtieth of a rise of 30 K is a kelvin, and a kelvin doubles the rate of damage.
    pub fn swing(&self, trace: &Trace) -> f64 {
        let temps: Vec<f64> = trace.rows().map(|row| row[self.node]).collect();
        let start = temps.first().copied().unwrap_or_default();
        // trapezia over the steps: a few percent of it do not matter
        let omega = |scale: f64| -> f64 {
            let rate = |temp: &f64| self.rate(start + scale * (temp - start));
            let rates: Vec<f64> = temps.iter().map(rate).collect();
            let steps = trace.t.windows(2).zip(rates.windows(2));
            steps.map(|(t, rate)| 0.5 * (rate[0] + rate[1]) * (t[1] - t[0])).sum()
        };
        (omega(1.0 + SHARE) - omega(1.0 - SHARE)).abs() / (2.0 * SHARE)
    }

    /// Integral of the rate from `t0` to `t1` within a step [–].
    fn between(&self, step: &Step, t0: f64, t1: f64) -> f64 {
        let dt = t1 - t0;
        let sum: f64 = GAUSS
            .iter()
            .map(|(place, weight)| weight * self.rate(step.temp(self.node, t0 + place * dt)))
            .sum();
        dt * sum
    }

    /// Adds a step up to `t_stop`; tells when each of `levels` that is still open is passed.
    fn add(&mut self, step: &Step, t_stop: f64, levels: &mut [(f64, &mut Option<f64>)]) {
        let change = (step.temp1(self.node) - step.temp0(self.node)).abs();
        let n_parts = (change / DTEMP_MOST).ceil().clamp(1.0, 200.0) as usize;
        let dt = (t_stop - step.t0) / n_parts as f64;
        for part in 0..n_parts {
            let (a, b) = (step.t0 + dt * part as f64, step.t0 + dt * (part + 1) as f64);
            match self.jump(step, a, b) {
                Some(t) => {
                    self.add_part(step, (a, t), levels);
                    self.add_part(step, (t, b), levels);
                }
                None => self.add_part(step, (a, b), levels),
            }
        }
    }

    /// Where the node passes from one range of damage into another between `a` and `b`, if it does: the
    /// rate jumps there, and no quadrature across it comes closer with the step's order.
    fn jump(&self, step: &Step, a: f64, b: f64) -> Option<f64> {
        let (from, to) = (step.temp(self.node, a), step.temp(self.node, b));
        let mut starts = self.damage.ranges.iter().map(|range| range.temp_from);
        let start = starts.find(|start| (from - start) * (to - start) < 0.0)?;
        Some(crossing(a, b, T_TOL, |t| step.temp(self.node, t) - start))
    }

    /// Adds a part of a step over which the rate is smooth.
    fn add_part(
        &mut self,
        step: &Step,
        (a, b): (f64, f64),
        levels: &mut [(f64, &mut Option<f64>)],
    ) {
        let after = self.omega + self.between(step, a, b);
        for (level, passed) in levels.iter_mut() {
            if passed.is_none() && after >= *level {
                let missing = *level - self.omega;
                let t = crossing(a, b, T_TOL, |t| self.between(step, a, t) - missing);
                **passed = Some(t);
            }
        }
        self.omega = after;
    }
}

/// The events of skin alone.
#[derive(Debug, Clone)]
pub struct SkinEvents {
    /// When the basal layer reached 44 °C [s].
    pub basal_44: Option<f64>,
    /// When first, second and third degree were reached [s].
    pub degrees: [Option<f64>; 3],
    /// Burn integral at the basal layer.
    pub basal: BurnIntegral,
    /// Burn integral at the base of the dermis.
    pub dermal: BurnIntegral,
    /// Highest basal temperature [K] and when [s].
    pub peak: (f64, f64),
    /// Whether to go on after everything is known.
    pub to_the_end: bool,
    /// When the flame goes away [s]; infinite if it does not.
    pub flame_end: f64,
    /// Whether nothing more can come: all is cold again.
    pub over: bool,
    /// Whether the third degree ended the run: the burn integral at the base of the dermis is then 1 by that.
    pub ended_by_third: bool,
}

impl SkinEvents {
    /// Events of skin whose basal layer and dermal base are at the given nodes.
    pub fn new(skin: &Skin, basal: usize, dermal: usize) -> SkinEvents {
        SkinEvents {
            basal_44: None,
            degrees: [None; 3],
            basal: BurnIntegral { node: basal, damage: skin.basal.clone(), omega: 0.0 },
            dermal: BurnIntegral { node: dermal, damage: skin.dermal.clone(), omega: 0.0 },
            peak: (0.0, 0.0),
            to_the_end: false,
            flame_end: f64::INFINITY,
            over: false,
            ended_by_third: false,
        }
    }

    /// Notes the highest basal temperature of a step up to `t_stop`.
    fn note_peak(&mut self, step: &Step, t_stop: f64) {
        let node = self.basal.node;
        let mut highest = |t: f64| {
            if step.temp(node, t) > self.peak.0 {
                self.peak = (step.temp(node, t), t);
            }
        };
        highest(t_stop);
        // a maximum inside the step shows as slopes of opposite sign
        if step.slope0(node) > 0.0 && step.slope1(node) < 0.0 {
            let near = 1e-6 * (step.t1 - step.t0);
            let slope = |t: f64| step.temp(node, t + near) - step.temp(node, t - near);
            if slope(step.t0 + near) > 0.0 && slope(step.t1 - near) < 0.0 {
                let t = crossing(step.t0 + near, step.t1 - near, 1e-6, slope);
                highest(t.min(t_stop));
            }
        }
    }

    /// Nothing can be damaged any more: the flame is away and everything is cooler than 44 °C.
    fn is_over(&self, step: &Step) -> bool {
        step.t1 > self.flame_end
            && (0..step.n_nodes()).all(|i| step.temp1(i) < kelvin(DAMAGE_FROM_C))
    }
}

impl Watch for SkinEvents {
    fn step(&mut self, step: &Step<'_>) -> Next {
        let node = self.basal.node;
        self.basal_44 = self.basal_44.or_else(|| rise_through(step, node, kelvin(DAMAGE_FROM_C)));
        let [first, second, third] = &mut self.degrees;
        let was_open = third.is_none();
        let dermal_before = self.dermal.omega;
        self.dermal.add(step, step.t1, &mut [(OMEGAS[2], third)]);
        // under a lasting flame nothing is left to learn after the third degree: end right there
        let last = third.filter(|_| was_open && !self.to_the_end && step.t1 < self.flame_end);
        let t_stop = last.unwrap_or(step.t1);
        if last.is_some() {
            self.ended_by_third = true;
            self.dermal.omega = dermal_before;
            self.dermal.add(step, t_stop, &mut []);
        }
        self.basal.add(step, t_stop, &mut [(OMEGAS[0], first), (OMEGAS[1], second)]);
        self.note_peak(step, t_stop);
        self.over = self.is_over(step);
        let known = last.is_some() || self.over;
        if known && !self.to_the_end { Next::Stop } else { Next::Go }
    }
}

/// Watches skin and keeps the record of the run.
#[derive(Debug, Clone)]
pub struct SkinWatch {
    /// The record of the run.
    pub trace: Trace,
    /// The skin's events.
    pub events: SkinEvents,
    /// Burn integrals after each step, basal and dermal, 0 first.
    pub omegas: Vec<[f64; 2]>,
    /// What may call the run off.
    pub halt: Option<Halt>,
}

impl SkinWatch {
    /// A watch on the given events.
    pub fn new(trace: Trace, events: SkinEvents) -> SkinWatch {
        SkinWatch { trace, events, omegas: vec![[0.0; 2]], halt: None }
    }
}

impl Watch for SkinWatch {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.trace.note(step);
        let next = self.events.step(step);
        self.omegas.push([self.events.basal.omega, self.events.dermal.omega]);
        if self.halt.as_ref().is_some_and(Halt::is_called) { Next::GiveUp } else { next }
    }

    fn settled(&mut self, end: &Step<'_>) {
        self.trace.settle(end);
    }
}
