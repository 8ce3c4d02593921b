//! What crosses an air gap and how: conduction, convection, radiation and vapour, integrated over a run.

use crate::bench::vapour::HeldBehind;
use crate::bench::watch_disc::DiscEvents;
use crate::physics::gap::{self, Convection};
use crate::physics::{radiation, vapour};
use crate::solver::problem::Joint;
use crate::solver::watch::{Next, Step, Watch};
use crate::study::run::Timed;

/// Gauss–Legendre points on [0, 1] and weights, three points. Source: Abramowitz & Stegun, table 25.4.
const GAUSS: [(f64, f64); 3] = [
    (0.112_701_665_379_258_3, 5.0 / 18.0),
    (0.5, 8.0 / 18.0),
    (0.887_298_334_620_741_7, 5.0 / 18.0),
];
/// Parts that a step may be cut into, so that the onset of convection falls on a cut or nearly so.
const CUTS_MOST: u32 = 5;
/// Quadrature error of a step over its heat at which it is cut no further [–].
const QUADRATURE_GOAL: f64 = 1e-7;

/// Heat through a gap up to a moment, by the way it took [J/m²].
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct WaysOfHeat {
    /// What air at rest would have conducted.
    pub conduction: f64,
    /// What its motion added: Nu − 1 of the conduction.
    pub convection: f64,
    /// What went by radiation.
    pub radiation: f64,
    /// What vapour carried, its latent heat included.
    pub vapour: f64,
}

impl WaysOfHeat {
    /// All of it [J/m²].
    pub fn whole(&self) -> f64 {
        self.conduction + self.convection + self.radiation + self.vapour
    }

    /// Each by itself, in the order of the fields [J/m²].
    pub fn each(&self) -> [f64; 4] {
        [self.conduction, self.convection, self.radiation, self.vapour]
    }

    /// Adds heat of a weight [–].
    pub(crate) fn add(&mut self, other: &WaysOfHeat, weight: f64) {
        self.conduction += weight * other.conduction;
        self.convection += weight * other.convection;
        self.radiation += weight * other.radiation;
        self.vapour += weight * other.vapour;
    }
}

/// The air of a gap.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Air {
    thickness: f64,
    exchange: f64,
    convection: Convection,
}

/// The account of one gap.
#[derive(Debug, Clone)]
pub struct GapAccount {
    /// Node of the gap's outer face; the inner face is the next.
    node: usize,
    /// None where the faces share one temperature: nothing crosses.
    air: Option<Air>,
    /// What is held behind it, where water moves.
    behind: Option<HeldBehind>,
    /// Heat by its ways up to now.
    pub ways: WaysOfHeat,
    /// Estimated error of the quadrature of all but vapour [J/m²].
    pub quadrature: f64,
    /// Highest Rayleigh number at the ends of steps [–].
    pub rayleigh_most: f64,
}

impl Air {
    /// The air that a link holds; none for another.
    pub(crate) fn of(joint: &Joint) -> Option<Air> {
        match joint {
            Joint::Air { thickness, exchange, convection, .. } => {
                Some(Air { thickness: *thickness, exchange: *exchange, convection: *convection })
            }
            _ => None,
        }
    }

    /// Fluxes by their ways at one pair of temperatures, but for vapour [W/m²].
    pub(crate) fn fluxes(&self, outer: f64, inner: f64) -> WaysOfHeat {
        let still = gap::conductance_still(outer, inner, self.thickness).value;
        let moving = match gap::stays_still(outer - inner, self.thickness, self.convection) {
            true => still,
            false => gap::conductance(outer, inner, self.thickness, self.convection).value,
        };
        WaysOfHeat {
            conduction: still * (outer - inner),
            convection: (moving - still) * (outer - inner),
            radiation: radiation::heat_flux(outer, inner, self.exchange).value,
            vapour: 0.0,
        }
    }
}

impl GapAccount {
    /// An empty account of the gap behind `node`; it stays empty where `joint` holds no air.
    ///
    /// - `behind`: what is held behind it; none where no water moves
    pub fn new(node: usize, joint: &Joint, behind: Option<HeldBehind>) -> GapAccount {
        let air = Air::of(joint);
        let ways = WaysOfHeat::default();
        GapAccount { node, air, behind, ways, quadrature: 0.0, rayleigh_most: 0.0 }
    }

    fn gauss(&self, air: &Air, step: &Step, (t0, t1): (f64, f64)) -> WaysOfHeat {
        let dt = t1 - t0;
        let mut sum = WaysOfHeat::default();
        for (place, weight) in GAUSS {
            let t = t0 + place * dt;
            let flux = air.fluxes(step.temp(self.node, t), step.temp(self.node + 1, t));
            sum.add(&flux, weight * dt);
        }
        sum
    }

    /// Heat that vapour carried across up to `t_stop` of a step [J/m²]: what is held behind the gap
    /// more than before, with the heat of vapour at the face that it left. What drives it is not
    /// looked at: where water boils, that is a difference of next to nothing.
    fn carried(&self, behind: &HeldBehind, step: &Step, t_stop: f64) -> f64 {
        let held = |t: f64| behind.amount(|i| step.temp(i, t), |i| step.content(i, t));
        let gained = held(t_stop) - held(step.t0);
        let from = if gained >= 0.0 { self.node } else { self.node + 1 };
        let temp = 0.5 * (step.temp(from, step.t0) + step.temp(from, t_stop));
        gained * vapour::enthalpy_vapour(temp)
    }

    /// Adds `t0` to `t1` of a step, halved where halves differ from the whole.
    fn add_part(
        &mut self,
        (air, step): (&Air, &Step),
        (t0, t1): (f64, f64),
        whole: WaysOfHeat,
        cuts: u32,
    ) {
        let middle = 0.5 * (t0 + t1);
        let halves = [self.gauss(air, step, (t0, middle)), self.gauss(air, step, (middle, t1))];
        let mut both = halves[0];
        both.add(&halves[1], 1.0);
        let ways = both.each().into_iter().zip(whole.each());
        let off: f64 = ways.map(|(both, whole)| (both - whole).abs()).sum();
        if off > QUADRATURE_GOAL * both.whole().abs() && cuts > 0 {
            self.add_part((air, step), (t0, middle), halves[0], cuts - 1);
            self.add_part((air, step), (middle, t1), halves[1], cuts - 1);
        } else {
            self.ways.add(&both, 1.0);
            self.quadrature += off;
        }
    }

    /// Adds a step up to `t_stop`.
    pub fn note(&mut self, step: &Step, t_stop: f64) {
        let Some(air) = self.air else { return };
        let whole = self.gauss(&air, step, (step.t0, t_stop));
        self.add_part((&air, step), (step.t0, t_stop), whole, CUTS_MOST);
        let carried = self.behind.as_ref().map(|behind| self.carried(behind, step, t_stop));
        self.ways.vapour += carried.unwrap_or(0.0);
        let (outer, inner) = (step.temp(self.node, t_stop), step.temp(self.node + 1, t_stop));
        let rayleigh = gap::rayleigh(outer, inner, air.thickness).value;
        self.rayleigh_most = self.rayleigh_most.max(rayleigh);
    }
}

/// Watches the disc and, up to its rise of 24 K, the gaps.
#[derive(Debug, Clone)]
pub struct GapWatch {
    /// The disc.
    pub disc: Timed<DiscEvents>,
    /// The gaps, outermost first.
    pub gaps: Vec<GapAccount>,
}

impl GapWatch {
    /// What paths into one disc saw together: heat by their shares of the area [–], the earliest passing
    /// of each limit; none for no path.
    pub fn together(paths: Vec<(GapWatch, f64)>) -> Option<GapWatch> {
        let (mut all, _) = paths.first()?.clone();
        for (i, gap) in all.gaps.iter_mut().enumerate() {
            (gap.ways, gap.quadrature) = (WaysOfHeat::default(), 0.0);
            for (own, share) in paths.iter().map(|(one, share)| (&one.gaps[i], *share)) {
                gap.ways.add(&own.ways, share);
                gap.quadrature += share * own.quadrature;
                gap.rayleigh_most = gap.rayleigh_most.max(own.rayleigh_most);
            }
        }
        let limits = paths.iter().map(|(one, _)| &one.disc.limits.passed);
        for passed in limits {
            for (early, t) in all.disc.limits.passed.iter_mut().zip(passed) {
                *early = [*early, *t].into_iter().flatten().min_by(f64::total_cmp);
            }
        }
        Some(all)
    }
}

impl Watch for GapWatch {
    fn step(&mut self, step: &Step<'_>) -> Next {
        let was_open = self.disc.events.rises[1].is_none();
        let next = self.disc.step(step);
        if was_open {
            let t_stop = self.disc.events.rises[1].unwrap_or(step.t1);
            for gap in &mut self.gaps {
                gap.note(step, t_stop);
            }
        }
        next
    }
}
