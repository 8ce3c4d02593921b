//! The one record of an exposure; terminal, JSON, CSV and chart are views of it.

use crate::bench::lies::Stack;
use crate::garment::exposure::Exposure;
use crate::garment::layup::{Layup, Quilting};

/// When something happened, with the numerical error of that time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum When {
    /// At `t` [s], give or take `error` [s].
    At { t: f64, error: f64 },
    /// Not within the time looked at, `t_end` [s].
    NotWithin { t_end: f64 },
    /// The finest meshes disagree on whether it happens; `t` [s] is when it may have.
    Unsettled { t: f64 },
}

impl When {
    /// The time [s], if it happened.
    pub fn t(&self) -> Option<f64> {
        match self {
            When::At { t, .. } => Some(*t),
            _ => None,
        }
    }
}

/// A value with its numerical error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Valued {
    /// The value, SI.
    pub value: f64,
    /// Its numerical error, same unit.
    pub error: f64,
}

/// What the copper disc reads.
#[derive(Debug, Clone, PartialEq)]
pub struct DiscFigures {
    /// Time to a rise of 12 K.
    pub rise12: When,
    /// Time to a rise of 24 K.
    pub rise24: When,
    /// Time between the two [s]; none unless both were reached.
    pub rise24_less_12: Option<Valued>,
    /// Time at which the heat in the disc crosses the Stoll curve.
    pub stoll: When,
    /// TPP: incident heat up to the Stoll crossing [J/m²].
    pub tpp: Option<Valued>,
    /// Mean flux into the disc between the two rises [W/m²] (ISO 6942's Qc).
    pub flux_mean_12_24: Option<f64>,
    /// That flux over the incident flux [–] (ISO 6942's transmission factor).
    pub transmission_factor: Option<f64>,
}

/// What skin suffers.
#[derive(Debug, Clone, PartialEq)]
pub struct SkinFigures {
    /// Basal layer reaches 44 °C.
    pub basal_44: When,
    /// Burn integral 0.53 at the basal layer.
    pub first_degree: When,
    /// Burn integral 1 at the basal layer.
    pub second_degree: When,
    /// Burn integral 1 at the base of the dermis.
    pub third_degree: When,
    /// Highest temperature of the basal layer [K].
    pub temp_basal_peak: Valued,
    /// When it stood there [s].
    pub t_basal_peak: f64,
    /// Burn integral at the basal layer at the end [–].
    pub omega_basal: Valued,
    /// Burn integral at the base of the dermis at the end [–].
    pub omega_dermal: Valued,
    /// Name of the skin model.
    pub skin: String,
}

/// Where the heat went between the start and `t` of the account.
#[derive(Debug, Clone, PartialEq)]
pub struct HeatAccount {
    /// The moment the account is drawn up [s].
    pub t: f64,
    /// Why at that moment, in words ("at HTI24").
    pub moment: String,
    /// Heat offered to a cold black calorimeter up to then [J/m²].
    pub offered: f64,
    /// Net heat that entered the outer face [J/m²].
    pub entered: f64,
    /// One line per ply and gap, outermost first.
    pub parts: Vec<PartAccount>,
    /// Heat in the disc or skin, with what left through its back [J/m²].
    pub passed_on: f64,
}

/// Heat and resistance of one ply or gap.
#[derive(Debug, Clone, PartialEq)]
pub struct PartAccount {
    /// Name of the ply, or "air gap 1.0 mm".
    pub name: String,
    /// Whether it is an air gap (or a joint between faces).
    pub is_gap: bool,
    /// Heat stored [J/m²].
    pub stored: f64,
    /// Thermal resistance at the moment of the account [m²·K/W].
    pub resistance: f64,
    /// Thermal resistance at the start, everything at room temperature [m²·K/W].
    pub resistance_cold: f64,
    /// Temperature of its outer face at the moment [K].
    pub temp_outer: f64,
    /// Temperature of its inner face at the moment [K].
    pub temp_inner: f64,
}

/// Where the water went between the start and the moment of the account of heat.
#[derive(Debug, Clone, PartialEq)]
pub struct WaterAccount {
    /// Water in the plies at the start, vapour included [kg/m²].
    pub start: f64,
    /// Gone outwards, net [kg/m²].
    pub gone: f64,
    /// Come to stand on the face behind the layup [kg/m²]; none where the layup's last face is one
    /// with it.
    pub behind: Option<f64>,
    /// One line per ply, outermost first.
    pub plies: Vec<PlyWater>,
    /// Heat that vapour carried to the face behind [J/m²]; none where `behind` is.
    pub heat_carried: Option<f64>,
}

/// Water of one ply.
#[derive(Debug, Clone, PartialEq)]
pub struct PlyWater {
    /// Name of the ply.
    pub name: String,
    /// At the start [kg/m²].
    pub start: f64,
    /// Left [kg/m²].
    pub left: f64,
}

/// A ply's highest temperature and when it passed its limit.
#[derive(Debug, Clone, PartialEq)]
pub struct PlyFate {
    /// Name of the fabric.
    pub name: String,
    /// Limit temperature [K]; none where the model follows what its fibres do until it is charred through.
    pub temp_limit: Option<f64>,
    /// What happens there ("decomposes", "melts", "chars through").
    pub limit_event: String,
    /// When its hottest place first passes it, or its last place is char.
    pub limit_passed: When,
    /// Highest temperature over the run [K].
    pub temp_peak: f64,
}

/// One column of the curves.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// What it is, in words: "outer face", "between ply 1 and 2", "disc".
    pub label: String,
    /// Header in a file, with the unit, such as `outer_face_C` or `flux_to_disc_kW_m2`.
    pub header: String,
    /// Where it is of: a curve is looked for by this and by what its numbers are, never by its words.
    pub spot: Spot,
    /// What the numbers are.
    pub kind: ColumnKind,
    /// One value per time, SI.
    pub values: Vec<f64>,
}

/// Where a curve is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spot {
    /// The layup's outer face.
    OuterFace,
    /// The inner face of this ply, 0 the outermost; of the next one's outer face, too, where they touch.
    InnerFace(usize),
    /// The outer face of this ply, which stands apart from the one before.
    OuterFaceOf(usize),
    /// The disc, or the face of it that heat enters.
    Disc,
    /// The skin's surface.
    SkinSurface,
    /// The skin's basal layer.
    BasalLayer,
    /// The base of the dermis.
    DermisBase,
}

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ColumnKind {
    /// Temperature [K].
    Temperature,
    /// Temperature rise of the disc [K].
    Rise,
    /// Heat flux [W/m²].
    Flux,
    /// Burn integral [–].
    Omega,
}

/// Values over time at the accepted steps.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Curves {
    /// Time [s].
    pub t: Vec<f64>,
    /// Columns of the same length as `t`.
    pub columns: Vec<Column>,
}

/// How the numbers were obtained.
#[derive(Debug, Clone, PartialEq)]
pub struct Numerics {
    /// (In − out − stored) over in, absolute [–].
    pub audit: f64,
    /// Water that its account does not explain [kg/m²]; none where none moves.
    pub water_lost: Option<f64>,
    /// Nodes of the finest mesh.
    pub n_nodes: usize,
    /// Accepted steps of the finest run.
    pub n_steps: usize,
    /// Rejected steps of the finest run.
    pub n_rejected: usize,
    /// Newton iterations of the finest run.
    pub n_newton: usize,
    /// Error asked for, relative to each time [–].
    pub error_goal: f64,
    /// Whether every reported time keeps to it.
    pub goal_met: bool,
}

/// What stands behind the layup, with its figures.
#[derive(Debug, Clone, PartialEq)]
pub enum Figures {
    /// The copper disc.
    Disc(DiscFigures),
    /// Skin.
    Skin(SkinFigures),
}

/// One run: the layup in front of the disc or in front of skin.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// The figures.
    pub figures: Figures,
    /// Where the heat went.
    pub heat: HeatAccount,
    /// Where the water went; none where none moves.
    pub water: Option<WaterAccount>,
    /// What became of each ply, outermost first.
    pub plies: Vec<PlyFate>,
    /// Values over time.
    pub curves: Curves,
    /// How the numbers were obtained.
    pub numerics: Numerics,
}

/// How a layup lay when its figures were computed, with what only one that is quilted has.
#[derive(Debug, Clone, PartialEq)]
pub enum Lies {
    /// Flat: it is not quilted.
    Flat,
    /// Flat although it is quilted: its quilting was left out, as asked.
    LeftOut,
    /// Flat although it is quilted: it stands under pressure, which leaves no loft.
    Pressed,
    /// As it is quilted: the disc stands behind a whole cell, skin at places of its own.
    Quilted(Box<OverCell>),
}

/// What the paths through a cell tell beyond the figures of a flat stack.
#[derive(Debug, Clone, PartialEq)]
pub struct OverCell {
    /// The quilting.
    pub quilting: Quilting,
    /// Points of the quadrature over the lofted part of a cell; half as many tell its error.
    pub n_points: usize,
    /// Share of the area under stitch lines [–].
    pub stitch_share: f64,
    /// What the points leave open in 12 K, 24 K and Stoll's time [s], part of the errors of the
    /// disc's figures; none where a time was not reached.
    pub area_errors: [Option<f64>; 3],
    /// Skin at the middle of a cell, if skin was asked for; that of the outcome is at a stitch line.
    pub centre: Option<Run>,
}

impl Lies {
    /// How a layup lies that is exposed flat, whatever it says of its quilting.
    pub fn flat(layup: &Layup) -> Lies {
        match Stack::flat(layup) {
            Stack::LeftOut => Lies::LeftOut,
            Stack::Pressed => Lies::Pressed,
            Stack::Flat | Stack::Quilted(_) => Lies::Flat,
        }
    }

    /// The same in short.
    pub fn stack(&self) -> Stack<'_> {
        match self {
            Lies::Flat => Stack::Flat,
            Lies::LeftOut => Stack::LeftOut,
            Lies::Pressed => Stack::Pressed,
            Lies::Quilted(cell) => Stack::Quilted(&cell.quilting),
        }
    }

    /// What the paths through a cell tell, if the layup was computed as quilted.
    pub fn over_cell(&self) -> Option<&OverCell> {
        match self {
            Lies::Quilted(cell) => Some(cell),
            Lies::Flat | Lies::LeftOut | Lies::Pressed => None,
        }
    }
}

/// A layup exposed: the question and its answers.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// The layup.
    pub layup: Layup,
    /// The exposure.
    pub exposure: Exposure,
    /// How it lay: flat, or through the paths of a quilting's cell.
    pub lies: Lies,
    /// The layup in front of the copper disc, if asked for; of a quilted one means over a cell, and
    /// each ply on its worst path.
    pub disc: Option<Run>,
    /// The layup in front of skin, if asked for; of a quilted one at a stitch line.
    pub skin: Option<Run>,
}

/// A run of an outcome and where it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunOf<'a> {
    /// "disc" or "skin".
    pub behind: &'static str,
    /// Which place of a cell skin stands behind; none for the disc, and for a flat stack.
    pub place: Option<&'static str>,
    /// The run.
    pub run: &'a Run,
}

impl RunOf<'_> {
    /// "disc", "skin at a stitch line".
    pub fn label(&self) -> String {
        let at = self.place.map_or(String::new(), |place| format!(" at {place}"));
        format!("{}{at}", self.behind)
    }

    /// "disc behind", "skin behind a stitch line".
    pub fn words(&self) -> String {
        let at = self.place.map_or(String::new(), |place| format!(" {place}"));
        format!("{} behind{at}", self.behind)
    }
}

impl Run {
    /// Second-degree burn; none where no skin stood behind.
    pub fn second_degree(&self) -> Option<When> {
        match &self.figures {
            Figures::Skin(skin) => Some(skin.second_degree),
            Figures::Disc(_) => None,
        }
    }
}

impl Outcome {
    /// Second-degree burn of skin at a stitch line and at a cell's centre; none for a flat stack, or
    /// where skin was not asked for.
    pub fn second_degrees(&self) -> Option<[When; 2]> {
        let centre = self.lies.over_cell()?.centre.as_ref()?;
        Some([self.skin.as_ref()?.second_degree()?, centre.second_degree()?])
    }

    /// The layup as it was computed: without a quilting that was left out.
    pub fn computed(&self) -> Layup {
        let quilting = match self.lies {
            Lies::LeftOut => None,
            Lies::Flat | Lies::Pressed | Lies::Quilted(_) => self.layup.quilting.clone(),
        };
        Layup { quilting, ..self.layup.clone() }
    }

    /// The runs that there are: disc, then skin, at a stitch line and at a cell's centre if the layup
    /// is computed as quilted.
    pub fn runs(&self) -> Vec<RunOf<'_>> {
        let cell = self.lies.over_cell();
        let stitch = cell.map(|_| "a stitch line");
        let centre = cell.and_then(|cell| cell.centre.as_ref());
        let all = [
            ("disc", None, self.disc.as_ref()),
            ("skin", stitch, self.skin.as_ref()),
            ("skin", Some("a cell's centre"), centre),
        ];
        let there = all.into_iter().filter_map(|(behind, place, run)| Some((behind, place, run?)));
        there.map(|(behind, place, run)| RunOf { behind, place, run }).collect()
    }
}
