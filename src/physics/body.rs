//! The size of a body.

/// Surface area of a person's skin [m²].
///
/// A = 0.007184 W^0.425 H^0.725, with W in kg and H in cm
///
/// - `mass`: W [kg], above 0
/// - `height`: the person's height [m], above 0
///
/// Range: fitted to nine persons of 6 to 93 kg and 0.73 to 1.84 m (bounds from memory); beyond: the
/// formula goes on.
/// Source: Du Bois, D. and Du Bois, E. F., A formula to estimate the approximate surface area if
/// height and weight be known, Archives of Internal Medicine 17 (1916), 863-871.
pub fn surface_du_bois(mass: f64, height: f64) -> f64 {
    0.007184 * libm::pow(mass, 0.425) * libm::pow(100.0 * height, 0.725)
}

/// Ratio of the girths of two persons, the same everywhere on them [–].
///
/// √((W/H) / (W0/H0)): a trunk or limb as a round column of the same density, as long as the person is tall
///
/// - `mass`, `mass_of`: W and W0, of the one and the other, in one unit, above 0
/// - `height`, `height_of`: H and H0, in one unit, above 0
///
/// Source: common practice, no source.
pub fn girth_ratio((mass, height): (f64, f64), (mass_of, height_of): (f64, f64)) -> f64 {
    ((mass / height) / (mass_of / height_of)).sqrt()
}
