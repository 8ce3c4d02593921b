//! The kinetics of charring of a fibre from its record.

use crate::garment::charring::Charring;
use crate::garment::known::Known;
use crate::physics::char::HEAT_LEAST;
use crate::shelf::fault::Fault;
use crate::shelf::key::field::Field;
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;

const FIELDS: [Field; 5] = [
    kinds::CHAR_ENERGY,
    kinds::CHAR_PEAK,
    kinds::CHAR_RESIDUE,
    kinds::CHAR_HEAT,
    kinds::CHAR_WATER,
];

/// The kinetics; none where all are blank or something is wrong.
pub(crate) fn read_charring(reader: &mut Reader<'_>) -> Option<Charring> {
    if FIELDS.iter().all(|field| reader.record.get(field.key).is_none()) {
        return None;
    }
    let energy = reader.need_known(&kinds::CHAR_ENERGY);
    let temp_peak = reader.need_known(&kinds::CHAR_PEAK);
    let residue = reader.need_known(&kinds::CHAR_RESIDUE);
    let heat = heat(reader);
    let water_share = reader.need_known(&kinds::CHAR_WATER);
    let (energy, temp_peak, residue, heat) = (energy?, temp_peak?, residue?, heat?);
    Some(Charring {
        energy,
        temp_peak,
        residue,
        heat,
        water_share: water_share?,
        thinning: Charring::thinning(),
    })
}

/// The heat [J/kg]; one that no step follows is refused with the reason.
fn heat(reader: &mut Reader<'_>) -> Option<Known> {
    let least = 1e-3 * HEAT_LEAST;
    let Some(heat) = reader.peek(&kinds::CHAR_HEAT).filter(|heat| *heat < least) else {
        return reader.need_known(&kinds::CHAR_HEAT);
    };
    let what = format!(
        "charring of {} gives off {} kJ/kg, more than the model follows",
        reader.owner, -heat
    );
    let expected = format!(
        "at least {least} kJ/kg: with more a fibre warms itself faster than the steps of a run, and no \
         conversion that goes with its temperature can be found"
    );
    let mend = "give a smaller heat, a positive value being heat taken up, or leave all five values of \
                charring blank";
    let place = reader.record.place_of(kinds::CHAR_HEAT.key);
    reader.fault(Fault::new(what, place, expected, mend));
    None
}
