//! One thickness of a sweep: figures, and the heat through the gaps by the way it took.

use crate::bench::figure::{DiscTimes, Found};
use crate::bench::outcome::{Valued, When};
use crate::garment::exposure::Exposure;
use crate::garment::target::Figure;

/// Heat through one gap up to a rise of the disc of 24 K, or to the end if it is not reached.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GapHeat {
    /// The ply that it lies behind, counted from 1.
    pub ply: usize,
    /// What air at rest would have conducted [J/m²].
    pub conduction: Valued,
    /// What its motion added [J/m²].
    pub convection: Valued,
    /// What went by radiation [J/m²].
    pub radiation: Valued,
    /// What vapour carried [J/m²].
    pub vapour: Valued,
    /// Error of the quadrature alone, of all but vapour [J/m²].
    pub quadrature: f64,
    /// Highest Rayleigh number [–].
    pub rayleigh_most: f64,
}

impl GapHeat {
    /// All of it [J/m²].
    pub fn whole(&self) -> f64 {
        self.ways().iter().map(|way| way.value).sum()
    }

    /// Conduction, convection, radiation, vapour [J/m²].
    pub fn ways(&self) -> [Valued; 4] {
        [self.conduction, self.convection, self.radiation, self.vapour]
    }
}

/// Heat by its ways over several gaps [J/m²].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shares {
    /// Share of conduction [–].
    pub conduction: f64,
    /// Share of convection [–].
    pub convection: f64,
    /// Share of radiation [–].
    pub radiation: f64,
    /// Share of vapour [–].
    pub vapour: f64,
}

/// One thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct GapPoint {
    /// Thickness of each swept gap [m].
    pub gap: f64,
    /// When the disc has risen by so much, and when the heat in it crosses the Stoll curve.
    pub disc: DiscTimes,
    /// Time to a second-degree burn; of a quilted layup at a stitch line.
    pub second_degree: When,
    /// The same at the middle of a quilted layup's cell; none for a flat stack.
    pub at_centre: Option<When>,
    /// The swept gaps, outermost first.
    pub heat: Vec<GapHeat>,
    /// When the first ply passes its limit in front of the disc [s].
    pub t_valid: Option<f64>,
    /// The same in front of skin, of a quilted layup at a stitch line [s].
    pub t_valid_skin: Option<f64>,
}

impl GapPoint {
    /// What the point tells of a figure under its exposure.
    pub fn found(&self, figure: Figure, exposure: &Exposure) -> Found {
        match figure {
            Figure::SecondDegree => {
                Found::of_time(self.second_degree, exposure.t_end).valid_until(self.t_valid_skin)
            }
            of_disc => self.disc.figure(of_disc, exposure).valid_until(self.t_valid),
        }
    }

    /// Mean fluxes through the swept gaps by conduction, convection, radiation and vapour, of several gaps
    /// their mean, up to a rise of the disc of 24 K, or to `t_end` [s] where that is not reached [W/m²].
    pub fn mean_fluxes(&self, t_end: f64) -> [f64; 4] {
        let t = self.disc.rise24.t().unwrap_or(t_end);
        let n = self.heat.len().max(1) as f64;
        let of = |way: usize| self.heat.iter().map(|heat| heat.ways()[way].value).sum::<f64>();
        std::array::from_fn(|way| of(way) / (n * t))
    }

    /// Shares of the heat through the swept gaps taken together.
    pub fn shares(&self) -> Shares {
        let whole: f64 = self.heat.iter().map(GapHeat::whole).sum();
        let share = |of: fn(&GapHeat) -> Valued| match whole == 0.0 {
            // faces that share one temperature: nothing crosses
            true => 0.0,
            false => self.heat.iter().map(|heat| of(heat).value).sum::<f64>() / whole,
        };
        Shares {
            conduction: share(|heat| heat.conduction),
            convection: share(|heat| heat.convection),
            radiation: share(|heat| heat.radiation),
            vapour: share(|heat| heat.vapour),
        }
    }

    /// Highest Rayleigh number in any swept gap [–].
    pub fn rayleigh_most(&self) -> f64 {
        self.heat.iter().map(|heat| heat.rayleigh_most).fold(0.0, f64::max)
    }

    /// Quadrature error over the heat, the worst of the swept gaps [–].
    pub fn quadrature(&self) -> f64 {
        self.heat.iter().map(|heat| heat.quadrature / heat.whole().abs()).fold(0.0, f64::max)
    }
}
