//! Claim: an exposure tells gas, vapour and radiant share with their ranges and sources.

use std::path::PathBuf;

use approx::assert_relative_eq;
use stillair::garment::exposure::Exposure;
use stillair::garment::known::Provenance;
use stillair::shelf::stock::exposure_file::read_exposure;

/// The exposure of a file with these lines in it.
fn read(name: &str, lines: &str) -> Exposure {
    let text = format!(
        "name = \"mine\"\nflux_kW_m2 = 80\nroom_temperature_C = 25\nuntil_s = 60\ncooling_W_m2K = 10\n\
         orientation = \"vertical\"\nspacer_mm = 0\n{lines}disc = {{ mass_g = 18, \
         specific_heat_J_kgK = 385, area_cm2 = 12.566, emissivity = 0.95 }}\n"
    );
    let path: PathBuf =
        std::env::temp_dir().join(format!("stillair-{name}-{}.toml", std::process::id()));
    std::fs::write(&path, text).unwrap();
    let exposure = read_exposure(&path);
    std::fs::remove_file(&path).unwrap();
    exposure.unwrap_or_else(|faults| panic!("{faults}"))
}

#[test]
fn what_is_told_of_the_flame_is_read() {
    let exposure = read(
        "told",
        "radiant_share = 0.2\nradiant_share_tolerance_pct = 50\nflame_temperature_C = 1550\n\
         flame_temperature_from = \"published: iso-9151\"\ngas_vapour_kPa = 10.7\n\
         gas_vapour_tolerance_pct = 40\n",
    );
    let told = &exposure.boundary;
    assert_relative_eq!(exposure.p_vapour_gas, 10.7e3, max_relative = 1e-12);
    assert_eq!(told.radiant_share.tolerance, Some(0.5));
    assert_eq!(told.radiant_share.origin, None);
    assert_eq!(told.temp_flame.tolerance, None);
    assert_eq!(told.temp_flame.origin, Some((Provenance::Published, "iso-9151".to_owned())));
    assert_relative_eq!(told.p_vapour_gas.tolerance.unwrap(), 0.4, max_relative = 1e-12);
}

/// Half of saturation at 25 °C: 3.17 kPa by IAPWS-95 (steam tables).
#[test]
fn gas_that_tells_nothing_of_vapour_holds_the_room_s() {
    let exposure = read("room", "radiant_share = 0.2\nflame_temperature_C = 1550\n");
    assert_relative_eq!(exposure.p_vapour_gas, 0.5 * 3.17e3, max_relative = 0.01);
    assert_eq!(exposure.boundary, Default::default());
}
