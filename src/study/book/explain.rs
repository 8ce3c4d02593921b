//! Which property would explain that a test was read otherwise than predicted.

use crate::bench::expose::BenchError;
use crate::garment::property::OfPly;
use crate::garment::skin::Skin;
use crate::garment::target::Figure;
use crate::study::book::how_far::Row;
use crate::study::odds::defaults;
use crate::study::odds::inputs::{Further, Inputs, Which};
use crate::study::property::Property;
use crate::study::sensitivity::{Base, sensitivities};

/// Most properties named for a test.
const N_MOST: usize = 3;

/// A property that would have to be another for the prediction to be what was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Explanation {
    /// The property.
    pub property: Property,
    /// What it would have to be, over what it is, less 1 [–], along the derivative.
    pub change: f64,
    /// What it is known to: half width of the central 95 %, as a share of it [–].
    pub tolerance: f64,
}

impl Explanation {
    /// How many times its tolerance it would have to move [–].
    pub fn strain(&self) -> f64 {
        self.change.abs() / self.tolerance
    }
}

/// The properties that would explain a test, those first that need move least for what they are known to.
///
/// Empty where the model gives no value and for figures without derivatives: they are of the 24 K time
/// and of the second-degree burn.
/// Errors: those of the bench.
pub fn explanations(row: &Row<'_>, skin: &Skin) -> Result<Vec<Explanation>, BenchError> {
    let is_skins = row.tested.test.figure == Figure::SecondDegree;
    let has_slopes = is_skins || row.tested.test.figure == Figure::Rise24;
    let Some(predicted) = row.found.valued().filter(|_| has_slopes) else { return Ok(Vec::new()) };
    let (layup, exposure) = (&row.computed, &row.tested.exposure);
    let base = Base { layup, exposure, disc: !is_skins, skin: is_skins.then_some(skin) };
    let further = Further { flux: defaults::FLUX, model: row.factors };
    let inputs = Inputs::of(layup, exposure, further);
    let tolerance_of = |property: Property| {
        let which = match property {
            Property::Ply(j, OfPly::ArealDensity) => Which::Mass(j),
            Property::Ply(j, OfPly::Thickness) => Which::Thickness(j),
            other => Which::Of(other),
        };
        let input = inputs.all.iter().find(|input| input.which == which)?;
        Some(libm::hypot(input.of_set, input.of_specimen)).filter(|tolerance| *tolerance > 0.0)
    };
    let mut found = Vec::new();
    for one in sensitivities(&base)? {
        let slope = if is_skins { one.second_degree } else { one.rise24 };
        let Some(slope) = slope.filter(|slope| slope.settled() && slope.per_percent != 0.0) else {
            continue;
        };
        let Some(tolerance) = tolerance_of(one.property) else { continue };
        let change = 0.01 * (row.measured - predicted.value) / slope.per_percent;
        found.push(Explanation { property: one.property, change, tolerance });
    }
    found.sort_by(|a, b| a.strain().total_cmp(&b.strain()));
    found.truncate(N_MOST);
    Ok(found)
}
