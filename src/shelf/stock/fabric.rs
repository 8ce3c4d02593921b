//! A fabric from its record; blanks are estimated where a rule exists, and marked so.

use crate::garment::estimate::{self, Bulk};
use crate::garment::fabric::{Fabric, Role};
use crate::garment::fibre::{Fibre, Limit};
use crate::garment::known::{Known, Provenance};
use crate::physics::units::kelvin;
use crate::shelf::fault::Fault;
use crate::shelf::key::kinds;
use crate::shelf::key::possible::{CONDUCTIVITY_FACTOR, conductivities, is_too_dense, regain_most};
use crate::shelf::key::reader::Reader;
use crate::shelf::notation::record::Record;
use crate::shelf::stock::decomposition::read_decomposition;
use crate::shelf::stock::fibre::{self, BlendSlip};
use crate::shelf::stock::law::{LawKeys, Start, read_law};

/// Emissivity taken where none is given; common practice for dyed textiles.
const EMISSIVITY_USUAL: f64 = 0.9;

/// A fabric from its record; none when anything is wrong with it.
pub(crate) fn read_fabric(
    record: &Record,
    fibres: &[Fibre],
    faults: &mut Vec<Fault>,
) -> Option<Fabric> {
    let before = faults.len();
    let mut reader = Reader::new(record, "fabric", faults);
    let name = name(&mut reader);
    let description = reader.word("description").unwrap_or_default();
    let role = reader.need_choice("role", &Role::ALL.map(|role| (role.word(), role)));
    let fibre = fibre(&mut reader, fibres);
    let areal_density = reader.need_known(&kinds::AREAL_DENSITY);
    let thickness = reader.need_known(&kinds::THICKNESS);
    let thickness_pressure = reader.si(&kinds::THICKNESS_PRESSURE);
    let compression = compression(&mut reader);
    let own = Own::read(&mut reader);
    let (fibre, areal_density, thickness) = (fibre?, areal_density?, thickness?);
    let fibre_density = own.fibre_density.clone().unwrap_or_else(|| fibre.density.clone());
    let bulk = Bulk {
        role: role?,
        areal_density: areal_density.value,
        thickness: thickness.value,
        fibre_density: fibre_density.value,
        k_fibre: fibre.conductivity.value,
    };
    too_dense(&mut reader, &bulk);
    if reader.faults.len() > before {
        return None;
    }
    let why = "from areal density, thickness and fibre";
    let estimate = Known::new(estimate::conductivity(&bulk), Provenance::Estimated, why);
    let k_given = own.k.value.as_ref().map(|known| known.value);
    let conductivity = read_law(&mut reader, &LawKeys::CONDUCTIVITY, own.k, estimate);
    if let Some(k) = k_given {
        beyond_air_and_fibre(&mut reader, &bulk, k);
    }
    if let Some(void) = &own.face_void {
        deeper_than_cloth(&mut reader, void.value, bulk.thickness);
    }
    let specific_heat = fibre.specific_heat.clone();
    let specific_heat = read_law(&mut reader, &LawKeys::SPECIFIC_HEAT, own.cp, specific_heat);
    let decomposition = read_decomposition(&mut reader, own.decomposition, &specific_heat.value);
    let regain = own.regain.unwrap_or_else(|| fibre.regain.clone());
    oversaturated(&mut reader, &bulk, regain.value, fibre.regain.value);
    let tolerances = kinds::TOLERANCES.map(|field| reader.si(&field));
    if faults.len() > before {
        return None;
    }
    let own_limit = own.temp_limit.is_some();
    let temp_limit = own.temp_limit.unwrap_or(fibre.temp_limit);
    let limit_event = own.limit_event.unwrap_or(fibre.limit_event);
    let whole = Limit { temp: temp_limit.clone(), event: limit_event.clone() };
    let mut fabric = Fabric {
        limit_unfollowed: match own_limit || decomposition.is_some() {
            true => Some(whole),
            false => fibre.limit_unfollowed,
        },
        name: name?,
        description,
        role: role?,
        fibre: fibre.name,
        areal_density,
        thickness,
        thickness_pressure,
        compression,
        conductivity,
        specific_heat,
        face_void: own.face_void.unwrap_or_else(|| {
            usual(estimate::face_void(bulk.role, bulk.thickness), "share of the thickness")
        }),
        emissivity: own.emissivity.unwrap_or_else(|| usual(EMISSIVITY_USUAL, "usual for textiles")),
        transmissivity: own.transmissivity.unwrap_or_else(|| usual(0.0, "taken as opaque")),
        regain_conditioned: regain.value,
        regain,
        fibre_regain: fibre.regain.value,
        vapour_resistance: own.vapour_resistance.unwrap_or_else(|| usual(0.0, "taken as none")),
        fibre_density,
        // a heat of the fabric's own would be counted twice
        charring: if decomposition.is_some() { Vec::new() } else { fibre.charring },
        decomposition,
        fibre_conductivity: fibre.conductivity,
        temp_limit,
        limit_event,
    };
    for ((of, _), tolerance) in kinds::OF_FABRIC.iter().zip(tolerances) {
        of.set_tolerance(&mut fabric, tolerance);
    }
    Some(fabric)
}

/// Values that a fabric may give and that are filled in otherwise.
struct Own {
    k: Start,
    cp: Start,
    face_void: Option<Known>,
    decomposition: Option<Known>,
    emissivity: Option<Known>,
    transmissivity: Option<Known>,
    regain: Option<Known>,
    vapour_resistance: Option<Known>,
    fibre_density: Option<Known>,
    temp_limit: Option<Known>,
    limit_event: Option<String>,
}

impl Own {
    fn read(reader: &mut Reader<'_>) -> Own {
        Own {
            k: Start {
                value: reader.known(&kinds::CONDUCTIVITY),
                slope: reader.known(&kinds::CONDUCTIVITY_SLOPE),
            },
            cp: Start {
                value: reader.known(&kinds::SPECIFIC_HEAT),
                slope: reader.known(&kinds::SPECIFIC_HEAT_SLOPE),
            },
            face_void: reader.known(&kinds::FACE_VOID),
            decomposition: reader.known(&kinds::DECOMPOSITION),
            emissivity: reader.known(&kinds::EMISSIVITY),
            transmissivity: reader.known(&kinds::TRANSMISSIVITY),
            regain: reader.known(&kinds::REGAIN),
            vapour_resistance: reader.known(&kinds::VAPOUR_RESISTANCE),
            fibre_density: reader.known(&kinds::FIBRE_DENSITY),
            temp_limit: reader.known(&kinds::LIMIT),
            limit_event: reader.word("limit_event"),
        }
    }
}

fn usual(value: f64, why: &str) -> Known {
    Known::new(value, Provenance::Estimated, why)
}

/// The name, in the form that names on the shelf have.
pub(crate) fn name(reader: &mut Reader<'_>) -> Option<String> {
    let name = reader.need_word("name")?;
    let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || "-.".contains(c);
    if name.chars().all(fits) {
        return Some(name);
    }
    let lower = name.to_lowercase();
    let words: Vec<&str> =
        lower.split(|c: char| !fits(c) || c == '-').filter(|word| !word.is_empty()).collect();
    let mend = if words.is_empty() {
        "give a name such as `felt-100`".to_owned()
    } else {
        format!("call it `{}`", words.join("-"))
    };
    let what = format!("the name `{name}` does not fit the shelf");
    let expected = "lower-case letters a to z, digits, points and hyphens";
    reader.fault(Fault::new(what, reader.record.place_of("name"), expected, mend));
    None
}

fn fibre(reader: &mut Reader<'_>, fibres: &[Fibre]) -> Option<Fibre> {
    let name = reader.need_word("fibre")?;
    let place = reader.record.place_of("fibre");
    match fibre::resolve(&name, fibres) {
        Ok(fibre) => return Some(fibre),
        Err(BlendSlip::Unknown(unknown)) => reader.fault(unknown.at(place)),
        Err(BlendSlip::Shares(what, expected, mend)) => {
            reader.fault(Fault::new(what, place, expected, mend));
        }
    }
    None
}

/// Measured thickness by pressure, written "1:0.42 5:0.35" in kPa and mm; SI comes out.
fn compression(reader: &mut Reader<'_>) -> Vec<(f64, f64)> {
    let Some(text) = reader.word("compression") else { return Vec::new() };
    let points: Option<Vec<(f64, f64)>> = text
        .split_whitespace()
        .map(|pair| {
            let (pressure, thickness) = pair.split_once(':')?;
            let (kpa, mm): (f64, f64) = (pressure.parse().ok()?, thickness.parse().ok()?);
            let sound = kpa > 0.0 && kpa <= 1000.0 && mm > 0.0 && mm <= 50.0;
            sound.then_some((kpa * 1e3, mm * 1e-3))
        })
        .collect();
    let ordered =
        |points: &[(f64, f64)]| points.windows(2).all(|w| w[0].0 < w[1].0 && w[0].1 >= w[1].1);
    match points {
        Some(points) if ordered(&points) => points,
        _ => {
            let what = format!("compression of {} is `{text}`", reader.owner);
            let expected = "pairs kPa:mm with a space between, pressure rising to at most 1000 kPa, \
                            thickness falling";
            let mend = "write for example `1:2.4 5:1.9 20:1.5`";
            let place = reader.record.place_of("compression");
            reader.fault(Fault::new(what, place, expected, mend));
            Vec::new()
        }
    }
}

/// Water that neither fibre nor pores have room for.
fn oversaturated(reader: &mut Reader<'_>, bulk: &Bulk, regain: f64, of_fibre: f64) {
    let most = regain_most(bulk, regain, of_fibre);
    if regain <= most {
        return;
    }
    let record = reader.record;
    let what = format!(
        "{} holds more water than it has room for: regain {:.0} %, saturated at {:.0} %",
        reader.owner,
        100.0 * regain,
        100.0 * most
    );
    let expected = "at most the fibre's own regain and its pores full of water, by the dry mass that \
                    areal density and regain leave";
    let mend = format!(
        "check `{}`, `{}` (water included) and `{}`",
        kinds::REGAIN.key,
        kinds::AREAL_DENSITY.key,
        kinds::THICKNESS.key
    );
    let fault = Fault::new(what, record.place_of(kinds::REGAIN.key), expected, mend);
    reader.fault(fault.and_at(record.place_of(kinds::AREAL_DENSITY.key)));
}

/// A conductivity that no cloth of that bulk has.
fn beyond_air_and_fibre(reader: &mut Reader<'_>, bulk: &Bulk, k: f64) {
    let temp = kelvin(reader.peek(&kinds::CONDUCTIVITY_TEMP).unwrap_or(25.0));
    let (low, high) = bulk.conductivities(temp);
    let (least, most) = conductivities(bulk, temp);
    if (least..=most).contains(&k) {
        return;
    }
    let what = match k > most {
        true => format!("{} conducts more than air and its fibre can: {k} W/(m·K)", reader.owner),
        false => format!("{} conducts less than air and its fibre can: {k} W/(m·K)", reader.owner),
    };
    let expected = format!(
        "{least:.3} to {most:.3} W/(m·K): fibre and air in series conduct {low:.3}, side by side with \
         radiation {high:.3}, and no measurement is off by more than {CONDUCTIVITY_FACTOR} times"
    );
    let mend = "check the unit, the areal density and the thickness; or leave it blank";
    let place = reader.record.place_of(kinds::CONDUCTIVITY.key);
    reader.fault(Fault::new(what, place, expected, mend));
}

/// The void of a face is a part of the cloth.
fn deeper_than_cloth(reader: &mut Reader<'_>, void: f64, thickness: f64) {
    if void <= thickness {
        return;
    }
    let what = format!(
        "the face void of {} is deeper than the cloth: {:.0} µm of {:.0} µm",
        reader.owner,
        1e6 * void,
        1e6 * thickness
    );
    let expected = format!("at most `{}`", kinds::THICKNESS.key);
    let mend = "check the unit: micrometres; or leave it blank";
    let record = reader.record;
    let fault = Fault::new(what, record.place_of(kinds::FACE_VOID.key), expected, mend);
    reader.fault(fault.and_at(record.place_of(kinds::THICKNESS.key)));
}

fn too_dense(reader: &mut Reader<'_>, bulk: &Bulk) {
    if !is_too_dense(bulk) {
        return;
    }
    let rho = bulk.areal_density / bulk.thickness;
    let what = format!(
        "{} is denser than its fibre: {:.0} kg/m³ of fabric, {:.0} kg/m³ of fibre",
        reader.owner, rho, bulk.fibre_density
    );
    let expected = "areal density over thickness at most the density of the fibre";
    let mend =
        format!("check both values: `{}`, `{}`", kinds::AREAL_DENSITY.key, kinds::THICKNESS.key);
    let record = reader.record;
    let fault = Fault::new(what, record.place_of(kinds::THICKNESS.key), expected, mend);
    reader.fault(fault.and_at(record.place_of(kinds::AREAL_DENSITY.key)));
}
