//! What own tests make of a prediction as JSON.

use crate::bench::figure::{Told, filed};
use crate::garment::band::{Anchoring, Band};
use crate::report::form::value::Object;

/// What own tests say of a figure of a layup; none where no tests were asked.
pub fn anchoring(band: &Band) -> Option<Object> {
    let Anchoring { factor, shelf, tests, n_tests, covered, contradicting, fitted_to, .. } =
        band.anchored.as_deref()?;
    let pairs = contradicting.iter().map(|pair| pair.to_vec());
    Some(
        Object::new()
            .with("factor", *factor)
            .with("lower_factor", band.factors.lower)
            .with("upper_factor", band.factors.upper)
            .with("shelf_lower_factor", shelf.lower)
            .with("shelf_upper_factor", shelf.upper)
            // the tests used, nearest first
            .with("tests", tests.clone())
            .with("tests_of_figure", *n_tests)
            .with("covered", *covered)
            .with("fitted_to", (!fitted_to.is_empty()).then(|| fitted_to.clone()))
            .with("contradicting", (!contradicting.is_empty()).then(|| pairs.collect::<Vec<_>>())),
    )
}

/// A figure with both numbers.
pub fn told(told: &Told) -> Object {
    let (all, unit) = (told.anchored(), filed(told.figure));
    Object::new()
        .with("of", (!told.of.is_empty()).then_some(told.of.as_str()))
        .with("figure", told.name)
        .with_unit("model", unit, told.found.valued().map(|valued| valued.value))
        .with_unit("anchored", unit, all.map(|all| all[0]))
        .with_unit("anchored_low", unit, all.map(|all| all[1]))
        .with_unit("anchored_high", unit, all.map(|all| all[2]))
        .and(anchoring(&told.band))
}
