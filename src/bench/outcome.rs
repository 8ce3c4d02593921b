//! The one record of an exposure; terminal, JSON, CSV and chart are views of it.

use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;

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

/// A ply's highest temperature and when it passed its limit.
#[derive(Debug, Clone, PartialEq)]
pub struct PlyFate {
    /// Name of the fabric.
    pub name: String,
    /// Limit temperature [K].
    pub temp_limit: f64,
    /// What happens there ("decomposes", "melts").
    pub limit_event: String,
    /// When the hottest face first passes it.
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
    /// What the numbers are.
    pub kind: ColumnKind,
    /// One value per time, SI.
    pub values: Vec<f64>,
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
    /// What became of each ply, outermost first.
    pub plies: Vec<PlyFate>,
    /// Values over time.
    pub curves: Curves,
    /// How the numbers were obtained.
    pub numerics: Numerics,
}

/// A layup exposed: the question and its answers.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// The layup.
    pub layup: Layup,
    /// The exposure.
    pub exposure: Exposure,
    /// The layup in front of the copper disc, if asked for.
    pub disc: Option<Run>,
    /// The layup in front of skin, if asked for.
    pub skin: Option<Run>,
}
