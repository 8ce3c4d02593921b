//! Names and units of figures.

use crate::garment::exposure::Exposure;
use crate::garment::target::Figure;
use crate::physics::units::cal_cm2;

/// A unit and what turns SI into it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// Its word in text, such as "cal/cm²".
    pub word: &'static str,
    /// The ending of a key or header that holds it, such as "kJ_m2".
    pub key: &'static str,
    /// Value in it of one SI unit of the figure (s or J/m²).
    pub per_si: f64,
}

const SECONDS: Unit = Unit { word: "s", key: "s", per_si: 1.0 };

/// Unit that people read a figure in: TPP in cal/cm², as the standards state it, all else in s.
pub fn shown(figure: Figure) -> Unit {
    match figure {
        Figure::Tpp => Unit { word: "cal/cm²", key: "cal_cm2", per_si: cal_cm2(1.0) },
        _ => SECONDS,
    }
}

/// Unit that files hold a figure in: TPP in kJ/m², all else in s.
pub fn filed(figure: Figure) -> Unit {
    match figure {
        Figure::Tpp => Unit { word: "kJ/m2", key: "kJ_m2", per_si: 1e-3 },
        _ => SECONDS,
    }
}

/// Name of a figure under an exposure, such as HTI24 or RHTI24.
pub fn figure_name(figure: Figure, exposure: &Exposure) -> &'static str {
    match (figure, exposure.is_radiant()) {
        (Figure::Rise12, false) => "HTI12",
        (Figure::Rise12, true) => "RHTI12",
        (Figure::Rise24, false) => "HTI24",
        (Figure::Rise24, true) => "RHTI24",
        (Figure::Rise24Less12, false) => "HTI24 − HTI12",
        (Figure::Rise24Less12, true) => "RHTI24 − RHTI12",
        (Figure::Tpp, _) => "TPP",
        (Figure::Stoll, _) => "Stoll crossing",
        (Figure::SecondDegree, _) => "second-degree burn",
    }
}
