//! A property of a fabric as a reader meets it.

use crate::garment::fabric::Fabric;
use crate::garment::property::OfPly;
use crate::report::form::value::Digits;

/// Its name where room is short.
pub fn called(of: OfPly) -> &'static str {
    if of == OfPly::ArealDensity { "mass" } else { of.word() }
}

/// How closely it is printed.
pub fn digits(of: OfPly) -> Digits {
    match of {
        OfPly::Thickness => Digits::Fixed(2),
        OfPly::Conductivity => Digits::Significant(3),
        OfPly::Emissivity | OfPly::Transmissivity => Digits::Short(3),
        OfPly::Regain => Digits::Short(2),
        OfPly::VapourResistance => Digits::Short(1),
        _ => Digits::Fixed(0),
    }
}

/// What a fabric has of it at 25 °C, with its unit.
pub fn shown(of: OfPly, fabric: &Fabric) -> String {
    // a page has room for a digit more than a terminal
    let digits = if of == OfPly::Thickness { Digits::Fixed(3) } else { digits(of) };
    let value = digits.of(of.quantity().outside(of.value(fabric)));
    format!("{value} {}", of.quantity().unit).trim_end().to_string()
}
