//! What a layup is exposed to, described by what the bench measures.

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
    /// Key of the source in the shelf's list.
    pub source: String,
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
