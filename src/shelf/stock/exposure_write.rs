//! An exposure as its file has it.

use crate::garment::exposure::{Exposure, Flux, Told};
use crate::garment::known::Known;
use crate::physics::units::{
    BARE, CELSIUS, CONDUCTANCE, GRAMS, KILOPASCALS, KILOWATTS_PER_AREA, MILLIMETRES, SECONDS,
    SPECIFIC_HEAT, SQUARE_CENTIMETRES,
};
use crate::shelf::notation::table::{Entry, Table, from};
use crate::shelf::stock::exposure::ORIENTATIONS;

/// The exposure as the text of a TOML file; none for a flux over time, which needs a file of its own.
pub fn exposure_toml(exposure: &Exposure) -> Option<String> {
    let Flux::Steady(flux) = exposure.flux else { return None };
    let mut all = Table::default();
    all.word("name", exposure.name.as_str());
    all.word("description", exposure.description.as_str());
    all.word("method", exposure.method.as_str());
    all.number("flux", KILOWATTS_PER_AREA, flux);
    all.number("radiant_share", BARE, exposure.radiant_share);
    all.number("flame_temperature", CELSIUS, exposure.temp_flame);
    all.number("gas_vapour", KILOPASCALS, exposure.p_vapour_gas);
    all.number("room_temperature", CELSIUS, exposure.temp_room);
    let boundary = &exposure.boundary;
    told(&mut all, "radiant_share", &boundary.radiant_share);
    told(&mut all, "flame_temperature", &boundary.temp_flame);
    told(&mut all, "gas_vapour", &boundary.p_vapour_gas);
    if let Some(duration) = exposure.duration {
        all.number("duration", SECONDS, duration);
    }
    all.number("until", SECONDS, exposure.t_end);
    all.number("cooling", CONDUCTANCE, exposure.h_cooling);
    let word = ORIENTATIONS.iter().find(|(_, known)| *known == exposure.orientation);
    all.word("orientation", word.map_or("", |(word, _)| word));
    all.number("spacer", MILLIMETRES, exposure.spacer);
    all.word("source", exposure.source.as_str());
    let mut disc = Table::default();
    disc.number("mass", GRAMS, exposure.disc.mass);
    disc.number("specific_heat", SPECIFIC_HEAT, exposure.disc.cp);
    disc.number("area", SQUARE_CENTIMETRES, exposure.disc.area);
    disc.number("emissivity", BARE, exposure.disc.emissivity);
    all.put("disc", Entry::Table(disc));
    Some(all.toml())
}

/// What an exposure says of a value beside it.
fn told(all: &mut Table, name: &str, told: &Told) {
    if let Some((provenance, source)) = &told.origin {
        all.word(&format!("{name}_from"), from(&Known::new((), *provenance, source.as_str())));
    }
    all.tolerance(name, told.tolerance);
}

#[cfg(test)]
mod tests {
    use super::exposure_toml;
    use crate::garment::exposure::Exposure;
    use crate::shelf::file::text::{Form, Text};
    use crate::shelf::materials::Shelf;
    use crate::shelf::notation::tree;
    use crate::shelf::stock::exposure::read_exposure;

    /// Written and read, every exposure of the shelf is the same exposure.
    #[test]
    fn every_exposure_comes_back_as_it_was() {
        let shelf = Shelf::built_in().unwrap();
        let mut n = 0;
        for exposure in shelf.exposures() {
            let Some(text) = exposure_toml(exposure) else { continue };
            let mut faults = Vec::new();
            let root = tree::parse(&Text::new("a.toml", &text, Form::Toml), &mut faults);
            let back = read_exposure(&root, &mut faults);
            assert!(faults.is_empty(), "{faults:?}\n{text}");
            let back = back.expect("without a fault it is read");
            // where a file says nothing, the vapour in the gas is computed
            let p = exposure.p_vapour_gas;
            assert!((back.p_vapour_gas - p).abs() < 1e-6 * p, "{text}");
            assert_eq!(Exposure { p_vapour_gas: p, ..back }, *exposure, "{text}");
            n += 1;
        }
        assert!(n > 5);
    }
}
