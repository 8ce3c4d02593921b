//! A fit as JSON.

use crate::report::fit::{Written, hanging_together, unit, warnings};
use crate::report::fit_words::{key, name, quantity};
use crate::report::form::value::Object;
use crate::report::json::study::envelope;
use crate::report::lies;
use crate::study::answer::stack;
use crate::study::fit::fitting::Fit;
use crate::study::fit::levenberg::End;
use crate::study::fit::readings::Readings;

/// The fit as JSON.
///
/// Errors: a value that is not a finite number.
pub fn fit_json(fit: &Fit, written: &[Written]) -> Result<String, serde_json::Error> {
    let source = |from: &str, n: usize, notes: &[String]| {
        Object::new().with("from", from).with("n", n).with("notes", notes)
    };
    let readings = match &fit.readings {
        Readings::Curves(curves) => curves
            .iter()
            .map(|curve| source(&curve.name, curve.points.len(), &curve.notes))
            .collect(),
        Readings::Times { times, .. } => vec![source("times", times.len(), &[])],
    };
    let rows = |matrix: &ndarray::Array2<f64>| -> Vec<Vec<f64>> {
        matrix.rows().into_iter().map(|row| row.to_vec()).collect()
    };
    let condition = fit.spread.condition;
    let search = match fit.end {
        End::Settled => "settled",
        End::Stalled => "stalled",
        End::GivenUp => "given_up",
    };
    let stack = stack(&fit.layup, fit.quilts);
    let body = Object::new()
        .with("layup", fit.layup.name.as_str())
        .with("computed", lies::word(stack))
        .with("why_flat", lies::why_flat(stack))
        .with("exposure", fit.exposure.name.as_str())
        .with("readings", readings)
        .with("reading_unit", unit(fit))
        .with("values", (0..fit.free.len()).map(|i| value(fit, i)).collect::<Vec<_>>())
        .with("correlation", fit.spread.correlation.as_ref().map(rows))
        .with("condition_number", condition.is_finite().then_some(condition))
        .with("degrees_of_freedom", fit.spread.freedom)
        .with("deviation", fit.spread.deviation)
        .with("next_to_next_correlation", fit.next_to_next)
        .with("intervals_too_narrow", hanging_together(fit).is_some())
        .with("warnings", warnings(fit))
        .with("search", search)
        .with("n_jacobians", fit.n_jacobians)
        .with("n_runs", fit.n_runs)
        .with("step_error", fit.step_error)
        .with("mesh_error", fit.mesh_error)
        .with("written", written.iter().map(|file| file.path.as_str()).collect::<Vec<_>>());
    envelope("stillair/fit", &body)
}

/// A fitted value, in the unit that ends its key.
fn value(fit: &Fit, i: usize) -> Object {
    let what = fit.free[i].what;
    let unit = quantity(what);
    let end = |sign: f64| fit.half_widths[i].map(|half| fit.values[i] + sign * half);
    Object::new()
        .with("key", key(what))
        .with("of", name(what, &fit.layup))
        .with_key("before", unit, fit.free[i].start)
        .with_key("fitted", unit, fit.values[i])
        .with_key("low", unit, end(-1.0))
        .with_key("high", unit, end(1.0))
        .with("at_end_of_range", fit.at_end[i])
}
