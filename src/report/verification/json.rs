//! The built-in checks as JSON; a value that is no finite number is `null`, and its bound broken.

use crate::evidence::measured::support::Supported;
use crate::evidence::measured::{Ablation, Class, LEFT_OUT, Measured, N_FABRIC_COMPLETE, Sign};
use crate::evidence::verification::Verification;
use crate::evidence::verify::{Case, Checked};
use crate::physics::units::{BARE, PERCENT, SECONDS};
use crate::report::form::rows::objects;
use crate::report::form::value::Object;
use crate::report::json::study::envelope;
use crate::report::verification::columns::{finite, of_comparisons, of_summaries};
use crate::report::verification::comparisons::sign_word;

/// The run as JSON, ended by a line feed.
///
/// Errors: none are known; those of the serialiser are passed on.
pub fn verification_json(verification: &Verification) -> Result<String, serde_json::Error> {
    let cases = verification.checked.iter();
    let cases = cases.flat_map(|checked| checked.cases.iter().map(|one| case(checked, one)));
    let body = Object::new()
        .with("n_bounds", verification.cases().count())
        .with("n_broken", verification.n_broken())
        .with("cases", cases.collect::<Vec<_>>())
        .with("measured", verification.measured.as_ref().map(measured));
    envelope("stillair/verify", &body)
}

fn case(checked: &Checked, case: &Case) -> Object {
    Object::new()
        .with("group", checked.group.word())
        .with("series", checked.title)
        .with("case", case.name.as_str())
        .with("source", case.source)
        .or_null("expected", BARE, finite(case.expected))
        .or_null("computed", BARE, finite(case.computed))
        .or_null("difference", BARE, finite(case.difference()))
        .or_null("bound", BARE, finite(case.bound))
        .or_null("numerical_error", BARE, finite(case.error))
        .with("unit", case.unit)
        .with("bound_is", if case.is_kept() { "kept" } else { "broken" })
}

fn measured(measured: &Measured) -> Object {
    let all = &measured.comparisons;
    let median = |classes: &[Class]| finite(measured.median_absolute(classes));
    Object::new()
        .with("n_complete_fabric", N_FABRIC_COMPLETE)
        .or_null("median_absolute", PERCENT, median(&[Class::Complete, Class::Interval]))
        .or_null("median_absolute_fabric", PERCENT, median(&[Class::Interval]))
        .with("bands", measured.supported().iter().map(band).collect::<Vec<_>>())
        .with("comparisons", objects(&of_comparisons(), all))
        .with("derived", objects(&of_comparisons(), &measured.derived))
        .with("ablations", measured.ablations.iter().map(ablation).collect::<Vec<_>>())
        .with("summary", objects(&of_summaries(), &measured.summaries()))
        .with("signs", measured.signs.iter().map(sign).collect::<Vec<_>>())
}

fn band(s: &Supported) -> Object {
    let ratios = s.ratios.filter(|_| s.band.is_some()).map(|(low, high)| vec![low, high]);
    Object::new()
        .with("layers", s.subject.word())
        .with("figure", s.of.word())
        .with("n", s.n)
        .or_null("ratios", BARE, ratios)
        .or_null("factors", BARE, s.band.map(|band| vec![band.lower, band.upper]))
        .or_null("rule", BARE, s.band.map(|band| band.rule.word()))
}

fn ablation(one: &Ablation) -> Object {
    let mut without: Vec<_> =
        LEFT_OUT.iter().map(|effect| effect.word()).zip(one.without).collect();
    without.sort_by_key(|(word, _)| *word);
    let without = without
        .into_iter()
        .fold(Object::new(), |object, (word, t)| object.or_null(word, BARE, finite(t)));
    Object::new()
        .with("specimen", one.specimen.as_str())
        .with("figure", one.figure.as_str())
        .with_unit("measured", SECONDS, one.measured)
        .or_null("predicted", SECONDS, finite(one.predicted))
        .with_unit("without", SECONDS, without)
}

fn sign(sign: &Sign) -> Object {
    Object::new()
        .with("claim", sign.claim.as_str())
        .with("compared", sign.what.as_str())
        .with("values", sign.values.iter().map(|value| finite(*value)).collect::<Vec<_>>())
        .with("unit", sign.unit)
        .with("sign", sign_word(sign))
        .with("source", sign.source)
        .with("note", sign.note.as_str())
}
