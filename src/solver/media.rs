//! Media at one temperature per lane, and the flux between two points of one.

use crate::solver::lanes::{LaneChange, LaneLaw, LaneSlab};
use crate::solver::pack::Pack;

/// A medium's values at one temperature.
#[derive(Debug, Clone, Copy)]
struct Values<const L: usize, const W: bool> {
    /// ∫ k dT [W/m] of the conductivity that depends on the temperature alone.
    potential: Pack<L, W>,
    /// That conductivity [W/(m·K)].
    k: Pack<L, W>,
    heat: Pack<L, W>,
    rho_cp: Pack<L, W>,
    /// Conductivity that changes will take away and have left so far [W/(m·K)].
    k_left: Pack<L, W>,
    /// Minus its derivative to the temperature [W/(m·K²)].
    k_fall: Pack<L, W>,
}

/// What a slab has at one of its nodes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Point<const L: usize> {
    potential: [f64; L],
    k: [f64; L],
    k_left: [f64; L],
    k_fall: [f64; L],
    /// Heat content of what of the slab belongs to the node, per area [J/m²].
    pub heat: [f64; L],
    /// Its derivative [J/(m²·K)].
    pub cap: [f64; L],
}

impl<const L: usize> Point<L> {
    /// All values 0.
    pub const ZERO: Point<L> = Point {
        potential: [0.0; L],
        k: [0.0; L],
        k_left: [0.0; L],
        k_fall: [0.0; L],
        heat: [0.0; L],
        cap: [0.0; L],
    };
}

/// Flux through a cell or joint, its derivative by the temperature before it and minus that by the
/// temperature after it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Flux<const L: usize, const W: bool> {
    /// The flux [W/m²].
    pub q: Pack<L, W>,
    /// Derivative by the temperature before [W/(m²·K)].
    pub by_before: Pack<L, W>,
    /// Minus that by the temperature after [W/(m²·K)].
    pub by_after: Pack<L, W>,
}

/// Value and integral of a law at `temps`.
///
/// A breakpoint beyond all lanes' temperatures adds exactly nothing, nor do those after it: they are
/// left out, and no lane's bits depend on whether they are.
#[inline(always)]
pub(crate) fn law_at<const L: usize, const W: bool>(
    law: &LaneLaw<L>,
    temps: Pack<L, W>,
) -> (Pack<L, W>, Pack<L, W>) {
    let base = Pack(law.base);
    let risen = Pack(law.slope) * temps;
    let mut value = base + risen;
    let mut integral = (base + 0.5 * risen) * temps;
    for breakpoint in &law.breakpoints {
        let beyond = (temps - Pack(breakpoint.temp)).or_larger(Pack::ZERO);
        if beyond.is_zero() {
            break;
        }
        let part = Pack(breakpoint.bend) * beyond;
        value += part;
        integral += 0.5 * part * beyond;
    }
    (value, integral)
}

impl<const L: usize> LaneSlab<L> {
    /// What the slab has at each of its nodes, where `peaks` are the highest temperatures seen so far.
    #[inline(always)]
    pub fn look<const W: bool>(
        &self,
        temps: &[[f64; L]],
        peaks: &[[f64; L]],
        points: &mut [Point<L>],
    ) {
        for (c, share) in self.shares.iter().enumerate() {
            let values = self.at(Pack::<L, W>(temps[c]), Pack(peaks[c]));
            let share = Pack(*share);
            let point = &mut points[c];
            point.potential = values.potential.0;
            point.k = values.k.0;
            point.heat = (share * values.heat).0;
            point.cap = (share * values.rho_cp).0;
            if self.drains {
                point.k_left = values.k_left.0;
                point.k_fall = values.k_fall.0;
            }
        }
    }

    #[inline(always)]
    fn at<const W: bool>(&self, temps: Pack<L, W>, peaks: Pack<L, W>) -> Values<L, W> {
        let (k, potential) = law_at(&self.k, temps);
        let (rho_cp, heat) = law_at(&self.rho_cp, temps);
        let (k_left, k_fall) = (Pack::ZERO, Pack::ZERO);
        let mut values = Values { potential, k, heat, rho_cp, k_left, k_fall };
        for change in &self.changes {
            change.add_at(temps, peaks, &mut values);
        }
        values
    }

    /// Flux through cell `c` between two points at the temperatures `temps`: by Kirchhoff's
    /// transform, and where changes take conductivity away, by the mean of what is left at both.
    #[inline(always)]
    pub fn flux<const W: bool>(
        &self,
        c: usize,
        [before, after]: [&Point<L>; 2],
        temps: [&[f64; L]; 2],
    ) -> Flux<L, W> {
        let per_dx = Pack(self.per_dx[c]);
        let q = (Pack(before.potential) - Pack(after.potential)) * per_dx;
        let (by_before, by_after) = (Pack(before.k) * per_dx, Pack(after.k) * per_dx);
        if !self.drains {
            return Flux { q, by_before, by_after };
        }
        let half = 0.5 * per_dx;
        let diff = Pack(*temps[0]) - Pack(*temps[1]);
        let left = (Pack(before.k_left) + Pack(after.k_left)) * half;
        let fall = diff * half;
        Flux {
            q: q + left * diff,
            by_before: by_before + left - Pack(before.k_fall) * fall,
            by_after: by_after + left + Pack(after.k_fall) * fall,
        }
    }
}

impl<const L: usize> LaneChange<L> {
    /// Adds what the change holds and has left; the formula is told in [`Change`](crate::solver::problem::Change).
    ///
    /// Where it has begun in no lane, or ended in all, the same numbers come out of fewer sums.
    #[inline(always)]
    fn add_at<const W: bool>(
        &self,
        temps: Pack<L, W>,
        peaks: Pack<L, W>,
        values: &mut Values<L, W>,
    ) {
        let width = Pack(self.width);
        let top = temps.or_larger(peaks);
        let over = top - Pack(self.temp_lo);
        let u = (over * Pack(self.per_width)).or_larger(Pack::ZERO).or_smaller(Pack::all(1.0));
        if u.is_zero() {
            values.k_left += Pack(self.k_lost);
            return;
        }
        let (heat, lost) = (Pack(self.heat), Pack(self.rho_cp_lost));
        let beyond = (over - width).or_larger(Pack::ZERO);
        let to_go = 1.0 - u;
        if to_go.is_zero() {
            let passed = 0.5 * width + beyond;
            values.heat += heat - lost * passed - lost * (temps - top);
            values.rho_cp -= lost;
            return;
        }
        let square = u * u;
        let done = square * (3.0 - 2.0 * u);
        // ∫ done dT from temp_lo to top
        let passed = width * (square * u * (1.0 - 0.5 * u)) + beyond;
        values.heat += heat * done - lost * passed - lost * done * (temps - top);
        let slope = 6.0 * u * to_go * Pack(self.per_width);
        let rising = temps.at_least(peaks).only(slope);
        values.rho_cp += heat * rising - lost * done;
        values.k_left += Pack(self.k_lost) * (1.0 - done);
        values.k_fall += Pack(self.k_lost) * rising;
    }
}
