//! What an exposure says of its boundary: radiant share, flame gas, vapour in the gas.

use crate::garment::exposure::{Boundary, Told};
use crate::physics::units::ATMOSPHERE;
use crate::physics::vapour;
use crate::shelf::fault::Fault;
use crate::shelf::key::field::Field;
use crate::shelf::key::kinds;
use crate::shelf::key::reader::{Origin, Reader};

/// What is said of each value beside it; checks how far the tolerances reach.
///
/// - `radiant_share` [–], `p_vapour_gas` [Pa]: the values themselves, none where wrong
pub(crate) fn read_boundary(
    reader: &mut Reader<'_>,
    radiant_share: Option<f64>,
    p_vapour_gas: Option<f64>,
) -> Boundary {
    let share = (&kinds::RADIANT_SHARE, &kinds::RADIANT_SHARE_TOLERANCE);
    let flame = (&kinds::FLAME_TEMPERATURE, &kinds::FLAME_TEMPERATURE_TOLERANCE);
    let vapour = (&kinds::GAS_VAPOUR, &kinds::GAS_VAPOUR_TOLERANCE);
    let boundary = Boundary {
        radiant_share: told(reader, share),
        temp_flame: told(reader, flame),
        p_vapour_gas: told(reader, vapour),
    };
    let most = boundary.radiant_share.most(radiant_share);
    if most.is_some_and(|most| most >= 1.0) {
        reaches_too_far(reader, share, "1, the whole of the flux");
    }
    let most = boundary.p_vapour_gas.most(p_vapour_gas);
    if most.is_some_and(|most| most >= ATMOSPHERE) {
        reaches_too_far(reader, vapour, "101.325 kPa, the pressure of the atmosphere");
    }
    boundary
}

/// Pressure of the vapour in the gas [Pa]: as said, else that of the room at `temp_room` [K].
pub(crate) fn read_gas_vapour(reader: &mut Reader<'_>, temp_room: f64) -> Option<f64> {
    if reader.record.get(kinds::GAS_VAPOUR.key).is_none() {
        return Some(vapour::room_pressure(temp_room));
    }
    let too_much = reader.peek(&kinds::GAS_VAPOUR).filter(|kpa| 1e3 * kpa >= ATMOSPHERE);
    let Some(kpa) = too_much else {
        return reader.si(&kinds::GAS_VAPOUR);
    };
    let what = format!(
        "vapour in the gas of {}, {kpa} kPa, is not below atmospheric pressure",
        reader.owner
    );
    let expected = "at least 0 and less than 101.325 kPa: the gas as a whole stands at the pressure of the \
                    room, and vapour is a part of it";
    let mend = "give the vapour's own pressure, for example 10.7 for burnt propane with half as much air \
                again as it needs";
    let place = reader.record.place_of(kinds::GAS_VAPOUR.key);
    reader.fault(Fault::new(what, place, expected, mend));
    None
}

fn told(reader: &mut Reader<'_>, (value, tolerance): (&Field, &Field)) -> Told {
    let from = format!("{}_from", value.base);
    let record = reader.record;
    if record.get(value.key).is_none() {
        if let Some(cell) = [tolerance.key, &from].into_iter().find_map(|key| record.get(key)) {
            let what = format!("{} of {} is given without {}", cell.key, reader.owner, value.key);
            let mend = format!("give `{}`, or remove `{}`", value.key, cell.key);
            let expected = format!("`{}` beside it", value.key);
            reader.fault(Fault::new(what, cell.place(), expected, mend));
            return Told::default();
        }
    }
    let origin = match record.get(&from).map(|_| reader.origin(value.base)) {
        Some(Origin::Said(provenance, source)) => Some((provenance, source)),
        Some(Origin::Silent | Origin::Wrong) | None => None,
    };
    Told { origin, tolerance: reader.si(tolerance) }
}

fn reaches_too_far(reader: &mut Reader<'_>, (value, tolerance): (&Field, &Field), most: &str) {
    let record = reader.record;
    let what = format!("{} of {} reaches too far with its tolerance", value.noun(), reader.owner);
    let expected = format!("with its tolerance less than {most}");
    let mend = "narrow the tolerance, or give the value in the middle of its range";
    let fault = Fault::new(what, record.place_of(tolerance.key), expected, mend);
    reader.fault(fault.and_at(record.place_of(value.key)));
}
