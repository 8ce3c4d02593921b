//! What effects are worth and what properties move, in JSON.

#![expect(non_snake_case, reason = "units in keys keep their SI case")]

use serde::Serialize;

use crate::bench::outcome::When;
use crate::report::json::finite::{Finite, rounded};
use crate::report::json::run::{Time, time};
use crate::report::{sensitivity, worth};
use crate::study::property::Property;
use crate::study::sensitivity::{Row, Slope};
use crate::study::worth::{Times, Worth};

/// The exposure without some effects; the 24 K rise bears the radiant names, too.
#[derive(Serialize)]
pub struct Without {
    without: Vec<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rise_24_K_s: Option<Time>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rise_24_K_change_s: Option<Change>,
    #[serde(skip_serializing_if = "Option::is_none")]
    second_degree_s: Option<Time>,
    #[serde(skip_serializing_if = "Option::is_none")]
    second_degree_change_s: Option<Change>,
}

#[derive(Serialize)]
struct Change {
    value: Finite,
    error: Finite,
}

impl Without {
    /// The JSON form of an effect's worth against the times with everything.
    pub fn new(worth: &Worth, all: Times) -> Without {
        let change = |all: Option<When>, without| {
            let (value, error) = worth::change(all, without)?;
            Some(Change { value: rounded(value), error: rounded(error) })
        };
        let times = worth.times;
        Without {
            without: worth.left_out.iter().map(|effect| effect.word()).collect(),
            rise_24_K_s: times.rise24.map(time),
            rise_24_K_change_s: change(all.rise24, times.rise24),
            second_degree_s: times.second_degree.map(time),
            second_degree_change_s: change(all.second_degree, times.second_degree),
        }
    }
}

/// One property's derivatives.
#[derive(Serialize)]
pub struct Sensitivity {
    property: String,
    /// 1 outermost; absent for what belongs to no ply.
    #[serde(skip_serializing_if = "Option::is_none")]
    ply: Option<usize>,
    value: Finite,
    unit: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    rise_24_K_s_per_pct: Option<Derivative>,
    #[serde(skip_serializing_if = "Option::is_none")]
    second_degree_s_per_pct: Option<Derivative>,
}

#[derive(Serialize)]
struct Derivative {
    value: Finite,
    /// Difference to the derivative at twice the step.
    spread: Finite,
    settled: bool,
}

impl Sensitivity {
    /// The JSON form of a property's derivatives.
    pub fn new(row: &Row) -> Sensitivity {
        let (value, unit) = sensitivity::outside(row.property, row.value);
        let derivative = |slope: Slope| Derivative {
            value: rounded(slope.per_percent),
            spread: rounded(slope.spread),
            settled: slope.settled(),
        };
        let ply = match row.property {
            Property::Ply(j, _) => Some(j + 1),
            _ => None,
        };
        Sensitivity {
            property: sensitivity::name(row.property),
            ply,
            value: rounded(value),
            unit,
            rise_24_K_s_per_pct: row.rise24.map(derivative),
            second_degree_s_per_pct: row.second_degree.map(derivative),
        }
    }
}
