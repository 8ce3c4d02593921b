//! The heat of decomposition of a fabric, from its amount and its window of temperature.

use crate::garment::fabric::Decomposition;
use crate::garment::known::Known;
use crate::physics::law::Law;
use crate::physics::units::{celsius, kelvin};
use crate::shelf::fault::Fault;
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;

/// Highest rate of a change over its mean rate, of 3u² − 2u³ [–].
const RATE_MOST: f64 = 1.5;

/// The decomposition of that `heat` [J/kg]; none where it is blank or wrong. `cp` is the dry fibre's
/// specific heat.
pub(crate) fn read_decomposition(
    reader: &mut Reader<'_>,
    heat: Option<Known>,
    cp: &Law,
) -> Option<Decomposition> {
    let (from, to) = (kinds::DECOMPOSITION_FROM, kinds::DECOMPOSITION_TO);
    let record = reader.record;
    let Some(said) = record.get(kinds::DECOMPOSITION.key) else {
        if let Some(cell) = record.get(from.key).or_else(|| record.get(to.key)) {
            let what = format!(
                "{} of {} is given without {}",
                cell.key,
                reader.owner,
                kinds::DECOMPOSITION.key
            );
            let expected = format!("`{}` beside it", kinds::DECOMPOSITION.key);
            let mend = "give the heat that is taken up, or leave the window blank";
            reader.fault(Fault::new(what, cell.place(), expected, mend));
        }
        return None;
    };
    let (lo, hi) = (reader.need_number(&from), reader.need_number(&to));
    let (heat, lo, hi) = (heat?, lo?, hi?);
    if hi <= lo {
        let what = format!("{} of {} is not above {}", to.key, reader.owner, from.key);
        let fault = Fault::new(
            what,
            record.place_of(to.key),
            format!("more than {lo} °C"),
            "give the end of the window, or exchange the two",
        );
        reader.fault(fault.and_at(record.place_of(from.key)));
        return None;
    }
    let (temp_from, temp_to) = (kelvin(lo), kelvin(hi));
    let least = cp.min_over(temp_from, temp_to) + RATE_MOST * heat.value / (temp_to - temp_from);
    if least <= 0.0 {
        let what = format!("the heat that {} gives off outweighs its specific heat", reader.owner);
        let expected = format!(
            "specific heat plus {RATE_MOST} times heat over window above zero from {:.0} to {:.0} °C",
            celsius(temp_from),
            celsius(temp_to)
        );
        let mend = "give a smaller heat or a wider window; a positive value is heat taken up";
        reader.fault(Fault::new(what, said.place(), expected, mend));
        return None;
    }
    Some(Decomposition { heat, temp_from, temp_to })
}
