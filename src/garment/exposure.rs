//! What a layup is exposed to, described by what the bench measures.

use std::fmt;

use crate::garment::known::Provenance;
use crate::garment::layup::Layup;
use crate::physics::units::celsius;

/// Which way the specimen lies; decides how air moves in its gaps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Orientation {
    /// Horizontal, flame below: gaps are heated from below.
    HeatedFromBelow,
    /// Vertical specimen.
    Vertical,
    /// Air in the gaps never moves.
    Still,
}

/// Heat flux to a cold black calorimeter over time.
#[derive(Debug, Clone, PartialEq)]
pub enum Flux {
    /// The same flux from the start on [W/m²].
    Steady(f64),
    /// Straight lines between points `(time [s], flux [W/m²])`; the first time is 0, times increase.
    Series(Vec<(f64, f64)>),
}

/// What is said of a value of the boundary beside the value.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Told {
    /// How it is known and the key of its source; none where nothing is said.
    pub origin: Option<(Provenance, String)>,
    /// Half width of the range in which any value is as likely, as a share of it [–]; temperatures
    /// count in °C. None where nothing is said.
    pub tolerance: Option<f64>,
}

impl Told {
    /// The upper end of the range about `value`; none where no tolerance is told.
    pub fn most(&self, value: Option<f64>) -> Option<f64> {
        self.tolerance.zip(value).map(|(tolerance, value)| value * (1.0 + tolerance))
    }
}

/// What is said of the values of the boundary that no bench reads off.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Boundary {
    /// Of the radiant share.
    pub radiant_share: Told,
    /// Of the flame gas's temperature.
    pub temp_flame: Told,
    /// Of the water vapour in the gas.
    pub p_vapour_gas: Told,
}

/// An exposure with the terms of its test method.
#[derive(Debug, Clone, PartialEq)]
pub struct Exposure {
    /// Unique name on the shelf.
    pub name: String,
    /// The exposure in words.
    pub description: String,
    /// The test method it stands for, such as "ISO 9151"; empty for none.
    pub method: String,
    /// Heat flux to a cold black calorimeter.
    pub flux: Flux,
    /// Share of the flux that is radiant [–], 0 to 1.
    pub radiant_share: f64,
    /// Temperature of the flame gas [K].
    pub temp_flame: f64,
    /// Temperature of the room, and of everything at the start [K].
    pub temp_room: f64,
    /// Time at which the flame is taken away [s]; none for a continuous exposure.
    pub duration: Option<f64>,
    /// Time after which nothing more is looked for [s].
    pub t_end: f64,
    /// Heat transfer coefficient to the room once the flame is away [W/(m²·K)].
    pub h_cooling: f64,
    /// Pressure of the water vapour in the gas before the specimen while it is exposed [Pa].
    pub p_vapour_gas: f64,
    /// Which way the specimen lies.
    pub orientation: Orientation,
    /// Air between the specimen and the copper disc [m]; 0 when the disc touches.
    pub spacer: f64,
    /// The copper disc of the method.
    pub disc: Disc,
    /// What is said of the boundary's values beside them.
    pub boundary: Boundary,
    /// Key of the source in the shelf's list.
    pub source: String,
}

/// A flame that outlasts the time looked at [s].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutlastingFlame {
    /// When it is taken away.
    pub flame: f64,
}

impl Exposure {
    /// The exposure with another duration and another end of looking [s], where they are given.
    ///
    /// Errors: a flame that outlasts the time looked at.
    pub fn with_times(
        &self,
        duration: Option<f64>,
        until: Option<f64>,
    ) -> Result<Exposure, OutlastingFlame> {
        let mut changed = self.clone();
        changed.duration = duration.or(changed.duration);
        changed.t_end = until.unwrap_or(changed.t_end);
        match changed.duration {
            Some(flame) if (duration.is_some() || until.is_some()) && flame > changed.t_end => {
                Err(OutlastingFlame { flame })
            }
            _ => Ok(changed),
        }
    }

    /// Whether all of the flux is radiant, in which case the figures bear ISO 6942's names.
    pub fn is_radiant(&self) -> bool {
        self.radiant_share == 1.0
    }

    /// When the flux ends: with the flame, or with the time looked at [s].
    pub fn flux_end(&self) -> f64 {
        self.duration.unwrap_or(self.t_end).min(self.t_end)
    }

    /// From when on the last value of a flux series is held, because the series ends before the
    /// flux does [s]; none where it lasts, or the flux is steady.
    pub fn flux_held_from(&self) -> Option<f64> {
        match &self.flux {
            Flux::Steady(_) => None,
            Flux::Series(points) => {
                points.last().map(|(t, _)| *t).filter(|last| *last < self.flux_end())
            }
        }
    }

    /// Whether there is flame gas before the specimen.
    pub fn has_gas(&self) -> bool {
        self.radiant_share < 1.0
    }

    /// Errors: flame gas that is not hotter than the limit of the outermost ply: it could not bring
    /// the ply there, and its flux would ask for a heat transfer that no flame has.
    pub fn hot_enough_for(&self, layup: &Layup) -> Result<(), ColdFlame> {
        match layup.plies().next().map(|ply| &ply.fabric) {
            Some(fabric) if self.has_gas() && self.temp_flame <= fabric.temp_limit.value => {
                Err(ColdFlame {
                    ply: fabric.name.clone(),
                    temp_limit: fabric.temp_limit.value,
                    temp_flame: self.temp_flame,
                })
            }
            _ => Ok(()),
        }
    }
}

/// Flame gas colder than the limit of the ply before it.
#[derive(Debug, Clone, PartialEq)]
pub struct ColdFlame {
    /// Name of the ply.
    pub ply: String,
    /// Its limit [K].
    pub temp_limit: f64,
    /// Temperature of the gas [K].
    pub temp_flame: f64,
}

impl ColdFlame {
    /// The rule.
    pub const EXPECTED: &str = "a gas hotter than that limit, or a flux that is all radiant";
    /// The next thing to do.
    pub const MEND: &str = "check `flame_temperature_C` of the exposure and `limit_C` of the ply";
}

impl fmt::Display for ColdFlame {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "the flame gas at {:.0} °C is no hotter than the limit of the outermost ply `{}`, {:.0} °C",
            celsius(self.temp_flame),
            self.ply,
            celsius(self.temp_limit)
        )
    }
}

/// The copper disc calorimeter.
#[derive(Debug, Clone, PartialEq)]
pub struct Disc {
    /// Mass [kg].
    pub mass: f64,
    /// Specific heat [J/(kg·K)].
    pub cp: f64,
    /// Face area [m²].
    pub area: f64,
    /// Emissivity of the blackened face [–].
    pub emissivity: f64,
}

impl Disc {
    /// Heat capacity per face area C_A = m·cp/A [J/(m²·K)].
    ///
    /// Source: ISO 9151, calculation of the heat flux from the disc's rise.
    pub fn cap_area(&self) -> f64 {
        self.mass * self.cp / self.area
    }
}
