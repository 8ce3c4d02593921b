//! Media at one temperature per lane, and the flux between two points of one.

use crate::solver::lanes::{LaneChange, LaneLaw, LaneSlab};

/// A medium's values at one temperature.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Point<const L: usize> {
    pub potential: [f64; L],
    pub k: [f64; L],
    pub heat: [f64; L],
    pub rho_cp: [f64; L],
}

/// Flux through a cell or joint, its derivative by the temperature before it and minus that by the
/// temperature after it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Flux<const L: usize> {
    pub q: [f64; L],
    pub by_before: [f64; L],
    pub by_after: [f64; L],
}

/// Value and integral of a law at `temps`.
#[inline(always)]
fn law_at<const L: usize>(law: &LaneLaw<L>, temps: &[f64; L]) -> ([f64; L], [f64; L]) {
    let mut value = law.base;
    let mut above = [0.0; L];
    for ramp in &law.ramps {
        for l in 0..L {
            let held = smaller(larger(temps[l], ramp.lo[l]), ramp.hi[l]);
            let part = ramp.slope[l] * held;
            value[l] += part;
            above[l] += part * held;
        }
    }
    // ∫ clamp dT = held·T − held²/2, ramp by ramp
    let mut integral = [0.0; L];
    for l in 0..L {
        integral[l] = value[l] * temps[l] - 0.5 * above[l];
    }
    (value, integral)
}

impl<const L: usize> LaneSlab<L> {
    /// The medium's values at `temps`, where `peaks` are the highest temperatures seen so far.
    #[inline(always)]
    pub fn at(&self, temps: &[f64; L], peaks: &[f64; L]) -> Point<L> {
        let (k, potential) = law_at(&self.k, temps);
        let (rho_cp, heat) = law_at(&self.rho_cp, temps);
        let mut point = Point { potential, k, heat, rho_cp };
        for change in &self.changes {
            change.add_at(temps, peaks, &mut point);
        }
        point
    }

    /// Flux through a cell of size 1/`per_dx` between two points, by Kirchhoff's transform.
    #[inline(always)]
    pub fn flux(per_dx: &[f64; L], before: &Point<L>, after: &Point<L>) -> Flux<L> {
        let mut flux = Flux { q: [0.0; L], by_before: [0.0; L], by_after: [0.0; L] };
        for l in 0..L {
            flux.q[l] = (before.potential[l] - after.potential[l]) * per_dx[l];
            flux.by_before[l] = before.k[l] * per_dx[l];
            flux.by_after[l] = after.k[l] * per_dx[l];
        }
        flux
    }
}

impl<const L: usize> LaneSlab<L> {
    /// Adds what flows through a cell by the conductivity that changes take away: the mean of both
    /// nodes', which depends on their highest temperatures, times the difference.
    ///
    /// `temps` and `peaks` are those of the nodes before and after the cell.
    #[inline(never)]
    pub fn add_drained(
        &self,
        per_dx: &[f64; L],
        temps: [&[f64; L]; 2],
        peaks: [&[f64; L]; 2],
        flux: &mut Flux<L>,
    ) {
        for change in &self.changes {
            for l in 0..L {
                let [before, after] = [0, 1].map(|j| change.k_left(l, temps[j][l], peaks[j][l]));
                let diff = temps[0][l] - temps[1][l];
                let k = 0.5 * (before.0 + after.0);
                flux.q[l] += k * diff * per_dx[l];
                flux.by_before[l] += (k + 0.5 * before.1 * diff) * per_dx[l];
                flux.by_after[l] += (k - 0.5 * after.1 * diff) * per_dx[l];
            }
        }
    }
}

impl<const L: usize> LaneChange<L> {
    /// Conductivity that is left in a lane, and its derivative to the temperature.
    fn k_left(&self, l: usize, temp: f64, peak: f64) -> (f64, f64) {
        let over = larger(temp, peak) - self.temp_lo[l];
        let u = smaller(larger(over * self.per_width[l], 0.0), 1.0);
        let lost = self.k_lost[l];
        let slope = 6.0 * u * (1.0 - u) * self.per_width[l];
        let rising = if temp >= peak { lost } else { 0.0 };
        (lost * (1.0 - u * u * (3.0 - 2.0 * u)), -rising * slope)
    }

    /// Adds the change's heat and heat capacity; the formula is told in [`Change`](crate::solver::problem::Change).
    #[inline(always)]
    fn add_at(&self, temps: &[f64; L], peaks: &[f64; L], point: &mut Point<L>) {
        for l in 0..L {
            let top = larger(temps[l], peaks[l]);
            let over = top - self.temp_lo[l];
            let u = smaller(larger(over * self.per_width[l], 0.0), 1.0);
            let done = u * u * (3.0 - 2.0 * u);
            // ∫ done dT from temp_lo to top
            let beyond = larger(over - self.width[l], 0.0);
            let passed = self.width[l] * u * u * u * (1.0 - 0.5 * u) + beyond;
            let lost = self.rho_cp_lost[l];
            point.heat[l] += self.heat[l] * done - lost * passed - lost * done * (temps[l] - top);
            let rising = if temps[l] >= peaks[l] { self.heat[l] } else { 0.0 };
            let slope = 6.0 * u * (1.0 - u) * self.per_width[l];
            point.rho_cp[l] += rising * slope - lost * done;
        }
    }
}

/// The larger of two numbers, as one machine instruction; the second when one is NaN.
#[inline(always)]
pub(crate) fn larger(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

/// The smaller of two numbers, as one machine instruction; the second when one is NaN.
#[inline(always)]
pub(crate) fn smaller(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}
