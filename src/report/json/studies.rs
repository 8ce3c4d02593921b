//! What effects are worth and what properties move, in JSON.

use crate::bench::outcome::{Valued, When};
use crate::physics::units::SECONDS;
use crate::report::form::value::Object;
use crate::report::{sensitivity, worth};
use crate::study::property::Property;
use crate::study::sensitivity::{Row, Slope};
use crate::study::worth::{Times, Worth};

/// The JSON form of an effect's worth against the times with everything; the 24 K rise bears the radiant
/// names, too.
pub fn without(worth: &Worth, all: Times) -> Object {
    let change = |all: Option<When>, without| {
        worth::change(all, without).map(|(value, error)| Valued { value, error })
    };
    let times = worth.times;
    Object::new()
        .with("without", worth.left_out.iter().map(|effect| effect.word()).collect::<Vec<_>>())
        .with_unit("rise_24_K", SECONDS, times.rise24)
        .with_unit("rise_24_K_change", SECONDS, change(all.rise24, times.rise24))
        .with_unit("second_degree", SECONDS, times.second_degree)
        .with_unit("second_degree_change", SECONDS, change(all.second_degree, times.second_degree))
}

/// The JSON form of a property's derivatives.
pub fn sensitivity(row: &Row) -> Object {
    let quantity = row.property.quantity();
    // 1 outermost; absent for what belongs to no ply
    let ply = match row.property {
        Property::Ply(j, _) => Some(j + 1),
        _ => None,
    };
    Object::new()
        .with("property", sensitivity::name(row.property))
        .with("ply", ply)
        .with("value", quantity.outside(row.value))
        .with("unit", quantity.unit)
        .with("rise_24_K_s_per_pct", row.rise24.map(derivative))
        .with("second_degree_s_per_pct", row.second_degree.map(derivative))
}

fn derivative(slope: Slope) -> Object {
    Object::new()
        .with("value", slope.per_percent)
        // the difference to the derivative at twice the step
        .with("spread", slope.spread)
        .with("settled", slope.settled())
}
