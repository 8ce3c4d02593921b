//! What own tests make of a prediction as JSON.

use serde::Serialize;

use crate::garment::band::{Anchoring, Band};
use crate::report::anchored::Told;
use crate::report::json::finite::{Finite, rounded};
use crate::report::json::study::by_unit;

/// What own tests say of a figure of a layup.
#[derive(Serialize)]
pub struct JsonAnchoring {
    factor: Finite,
    lower_factor: Finite,
    upper_factor: Finite,
    shelf_lower_factor: Finite,
    shelf_upper_factor: Finite,
    /// The tests used, nearest first.
    tests: Vec<String>,
    /// Tests of the figure in the book.
    tests_of_figure: usize,
    /// Whether some test is of a layup enough like it.
    covered: bool,
    /// Tests not used since a material of the layup is fitted to them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    fitted_to: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    contradicting: Vec<[String; 2]>,
}

impl JsonAnchoring {
    /// The JSON form of a band's anchoring; none where no tests were asked.
    pub fn new(band: &Band) -> Option<JsonAnchoring> {
        let Anchoring { factor, shelf, tests, n_tests, covered, contradicting, fitted_to, .. } =
            band.anchored.as_deref()?;
        Some(JsonAnchoring {
            factor: rounded(*factor),
            lower_factor: rounded(band.factors.lower),
            upper_factor: rounded(band.factors.upper),
            shelf_lower_factor: rounded(shelf.lower),
            shelf_upper_factor: rounded(shelf.upper),
            tests: tests.clone(),
            tests_of_figure: *n_tests,
            covered: *covered,
            fitted_to: fitted_to.clone(),
            contradicting: contradicting.clone(),
        })
    }
}

/// A figure with both numbers.
#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
pub struct JsonTold {
    #[serde(skip_serializing_if = "String::is_empty")]
    of: String,
    figure: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    model_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    anchored_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    anchored_low_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    anchored_high_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    model_kJ_m2: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    anchored_kJ_m2: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    anchored_low_kJ_m2: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    anchored_high_kJ_m2: Option<Finite>,
    #[serde(flatten)]
    anchoring: Option<JsonAnchoring>,
}

impl JsonTold {
    /// The JSON form of a figure that tests were asked of.
    #[expect(non_snake_case, reason = "units in keys keep their SI case")]
    pub fn new(told: &Told) -> JsonTold {
        let of = |x: Option<f64>| by_unit(told.figure, x, |x, scale| rounded(scale * x));
        let all = told.anchored();
        let [model_s, model_kJ_m2] = of(told.found.valued().map(|valued| valued.value));
        let [anchored_s, anchored_kJ_m2] = of(all.map(|all| all[0]));
        let [anchored_low_s, anchored_low_kJ_m2] = of(all.map(|all| all[1]));
        let [anchored_high_s, anchored_high_kJ_m2] = of(all.map(|all| all[2]));
        JsonTold {
            of: told.of.clone(),
            figure: told.name,
            model_s,
            anchored_s,
            anchored_low_s,
            anchored_high_s,
            model_kJ_m2,
            anchored_kJ_m2,
            anchored_low_kJ_m2,
            anchored_high_kJ_m2,
            anchoring: JsonAnchoring::new(&told.band),
        }
    }
}
