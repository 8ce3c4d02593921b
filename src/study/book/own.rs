//! A workshop's own tests as what stands above the shelf's table of bands.

use crate::garment::band::{Anchoring, Band, Bands, Tests};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::garment::target::Figure;
use crate::shelf::lab::book::Test;
use crate::shelf::lab::cases::Tested;
use crate::study::answer::AnswerError;
use crate::study::bits::{Bits, records};
use crate::study::book::anchor::{Anchored, Compared, anchor};
use crate::study::book::calibrated::is_fitted_to;
use crate::study::book::how_far::how_far;
use crate::study::book::likeness::{Likeness, key};
use crate::study::book::predict::predict;

/// Tests that predictions are anchored to, each with what the model says of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Own {
    tests: Vec<OwnTest>,
    /// Layups whose files have changed since their tests, which are left out: what is computed now
    /// is not what was burnt.
    pub changed: Vec<String>,
    /// Tests left out since a material of their own layup is fitted to them: their ratio says nothing.
    pub fitted_to: Vec<String>,
}

#[derive(Debug, Clone, PartialEq)]
struct OwnTest {
    /// "three-ply-loose of 2026-11-20".
    name: String,
    figure: Figure,
    exposure: String,
    is_radiant: bool,
    /// How long the heat lasted: a figure read after it was taken away is another one.
    duration: Option<f64>,
    compared: Compared,
    test: Test,
}

impl Own {
    /// The tests of a book held against their predictions.
    ///
    /// - `bands`: the shelf's table, without tests
    ///
    /// Errors: a tested layup that could not be computed.
    pub fn of(
        tested: &[Tested<'_>],
        bands: &Bands,
        skin: &Skin,
        error_goal: f64,
    ) -> Result<Own, AnswerError> {
        let is_fitted = |one: &Tested<'_>| is_fitted_to(&one.layup, one.test);
        let is_kept = |one: &&Tested<'_>| !one.has_changed() && !is_fitted(one);
        let kept: Vec<Tested<'_>> = tested.iter().filter(is_kept).cloned().collect();
        let fitted = tested.iter().filter(|one| !one.has_changed() && is_fitted(one));
        let fitted_to = fitted.map(|one| name(one.test)).collect();
        let mut changed: Vec<String> = Vec::new();
        for one in tested.iter().filter(|one| one.has_changed()) {
            if !changed.contains(&one.test.layup) {
                changed.push(one.test.layup.clone());
            }
        }
        let far = how_far(&kept, predict(&kept, bands, skin, error_goal)?);
        let own = |row: &crate::study::book::how_far::Row<'_>| {
            let (test, exposure) = (row.tested.test, &row.tested.exposure);
            Some(OwnTest {
                name: name(test),
                test: test.clone(),
                figure: test.figure,
                exposure: exposure.name.clone(),
                is_radiant: exposure.is_radiant(),
                duration: exposure.duration,
                compared: row.compared.clone()?,
            })
        };
        Ok(Own { tests: far.rows.iter().filter_map(own).collect(), changed, fitted_to })
    }

    /// The tests of a figure under flame or under radiant heat alone, their rows being places in `tests`.
    pub fn compared(&self, figure: Figure, exposure: &Exposure) -> Vec<Compared> {
        let is_of = |test: &OwnTest| {
            test.figure == figure
                && test.is_radiant == exposure.is_radiant()
                && test.duration == exposure.duration
        };
        let all = self.tests.iter().enumerate().filter(|(_, test)| is_of(test));
        all.map(|(row, test)| Compared { row, ..test.compared.clone() }).collect()
    }

    /// A test in words; its exposure is named where it is another than the one asked about.
    fn name(&self, row: usize, exposure: &Exposure) -> String {
        let test = &self.tests[row];
        match test.exposure == exposure.name {
            true => test.name.clone(),
            false => format!("{} under {}", test.name, test.exposure),
        }
    }
}

/// "three-ply-loose of 2026-11-20", "three-ply-loose washed 5 times of 2026-11-20".
fn name(test: &Test) -> String {
    let Test { layup, date, .. } = test;
    match test.washed {
        0 => format!("{layup} of {date}"),
        1 => format!("{layup} washed once of {date}"),
        n => format!("{layup} washed {n} times of {date}"),
    }
}

records! {
    Own { tests, changed, fitted_to }
    OwnTest { name, figure, exposure, is_radiant, duration, compared, test }
    Compared { row, key, likeness, ratios, factors }
    Likeness { ln_mass, ln_thickness, n_plies, gap_share, regain, felt_share }
}

impl Bits for Test {
    fn put(&self, to: &mut Vec<u8>) {
        // where it stands in its file changes nothing
        let Test { date, report, layup, layup_digest, exposure, figure_name, .. } = self;
        let Test { figure, values, conditioning, washed, note, .. } = self;
        (date.year(), (date.month(), date.day())).put(to);
        for word in [report, layup, layup_digest, exposure, figure_name, conditioning, note] {
            word.put(to);
        }
        (*figure, (values.clone(), *washed)).put(to);
    }
}

impl Tests for Own {
    fn bits(&self, to: &mut Vec<u8>) {
        self.put(to);
    }

    fn anchored(&self, layup: &Layup, figure: Figure, exposure: &Exposure, band: &Band) -> Band {
        let all = self.compared(figure, exposure);
        let is_fitted = |one: &Compared| is_fitted_to(layup, &self.tests[one.row].test);
        let (fitted, compared): (Vec<Compared>, Vec<Compared>) =
            all.into_iter().partition(is_fitted);
        let of = (&*key(layup), &Likeness::of(layup));
        // the tests go together whatever their ratios: a layup's own share of the error keeps the
        // matrix positive, so that the shelf's band is what is left without linear algebra alone
        let Some(found) = anchor(&compared, of, band.factors) else { return band.clone() };
        let Anchored { factor, factors, tests, covered, contradicting } = found;
        let name = |row: &usize| self.name(*row, exposure);
        let anchored = Anchoring {
            layup: layup.name.clone(),
            factor,
            shelf: band.factors,
            tests: tests.iter().map(name).collect(),
            n_tests: compared.len(),
            covered,
            fitted_to: fitted.iter().map(|one| name(&one.row)).collect(),
            contradicting: contradicting.iter().map(|(a, b)| [name(a), name(b)]).collect(),
        };
        Band { factors, anchored: Some(Box::new(anchored)), ..band.clone() }
    }
}
