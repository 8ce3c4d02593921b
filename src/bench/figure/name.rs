//! Names and units of figures.

use crate::garment::exposure::Exposure;
use crate::garment::target::Figure;
use crate::physics::units::{CALORIES_PER_AREA, KILOJOULES_PER_AREA, Quantity, SECONDS};

/// Unit that people read a figure in: TPP in cal/cm², as the standards state it, all else in s.
pub fn shown(figure: Figure) -> Quantity {
    if figure == Figure::Tpp { CALORIES_PER_AREA } else { SECONDS }
}

/// Unit that files hold a figure in: TPP in kJ/m², all else in s.
pub fn filed(figure: Figure) -> Quantity {
    if figure == Figure::Tpp { KILOJOULES_PER_AREA } else { SECONDS }
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
