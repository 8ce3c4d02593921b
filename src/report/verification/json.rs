//! The built-in checks as JSON; a value that is no finite number is `null`, and its bound broken.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::NOTICE;
use crate::physics::units::PERCENT;
use crate::report::json::finite::Finite;
use crate::report::verification::comparisons::sign_word;
use crate::study::measured::record::{Class, median_absolute, summaries};
use crate::study::measured::support::{Supported, supported};
use crate::study::measured::{Ablation, Basis, Comparison, LEFT_OUT, Measured, N_FABRIC_COMPLETE};
use crate::study::verification::Verification;
use crate::study::verify::{Case, Checked};

/// Name of the schema.
pub const SCHEMA: &str = "stillair/verify";
/// Version of that schema.
pub const VERSION: u32 = 1;

#[derive(Serialize)]
struct Record<'a> {
    schema: &'static str,
    schema_version: u32,
    program: &'static str,
    program_version: &'static str,
    notice: &'static str,
    n_bounds: usize,
    n_broken: usize,
    cases: Vec<CaseRecord<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    measured: Option<MeasuredRecord<'a>>,
}

#[derive(Serialize)]
struct CaseRecord<'a> {
    group: &'static str,
    series: &'static str,
    case: &'a str,
    source: &'static str,
    expected: Option<Finite>,
    computed: Option<Finite>,
    difference: Option<Finite>,
    bound: Option<Finite>,
    numerical_error: Option<Finite>,
    unit: &'static str,
    bound_is: &'static str,
}

#[derive(Serialize)]
struct MeasuredRecord<'a> {
    n_complete_fabric: usize,
    median_absolute_pct: Option<Finite>,
    median_absolute_fabric_pct: Option<Finite>,
    bands: Vec<BandRecord>,
    comparisons: Vec<ComparisonRecord<'a>>,
    derived: Vec<ComparisonRecord<'a>>,
    ablations: Vec<AblationRecord<'a>>,
    summary: Vec<SummaryRecord>,
    signs: Vec<SignRecord<'a>>,
}

#[derive(Serialize)]
struct AblationRecord<'a> {
    specimen: &'a str,
    figure: &'a str,
    measured_s: Finite,
    predicted_s: Option<Finite>,
    without_s: BTreeMap<&'static str, Option<Finite>>,
}

#[derive(Serialize)]
struct BandRecord {
    layers: &'static str,
    figure: &'static str,
    n: usize,
    ratios: Option<[Finite; 2]>,
    factors: Option<[Finite; 2]>,
    rule: Option<&'static str>,
}

#[derive(Serialize)]
struct ComparisonRecord<'a> {
    class: &'static str,
    exposure: &'static str,
    layers: &'static str,
    figure: &'a str,
    basis: &'static str,
    case: &'a str,
    measured: [Option<Finite>; 2],
    predicted: Option<Finite>,
    predicted_range: [Option<Finite>; 2],
    unit: &'a str,
    difference_pct: Option<Finite>,
    ratio: Option<Finite>,
    ranges: &'static str,
    source: &'a str,
    provenance: &'a str,
    note: &'a str,
}

#[derive(Serialize)]
struct SummaryRecord {
    class: &'static str,
    exposure: &'static str,
    basis: &'static str,
    n: usize,
    n_agreeing: usize,
    median_pct: Option<Finite>,
    median_absolute_pct: Option<Finite>,
    largest_pct: Option<Finite>,
}

#[derive(Serialize)]
struct SignRecord<'a> {
    claim: &'a str,
    compared: &'a str,
    values: Vec<Option<Finite>>,
    unit: &'static str,
    sign: &'static str,
    source: &'static str,
    note: &'a str,
}

fn number(value: f64) -> Option<Finite> {
    value.is_finite().then_some(Finite(value))
}

fn pct(share: f64) -> Option<Finite> {
    number(PERCENT.outside(share))
}

/// Whether anything of the case set the prediction, in words.
pub(crate) fn basis(basis: Basis) -> &'static str {
    match basis {
        Basis::Uncalibrated => "uncalibrated",
        Basis::Scaled => "scaled to one measured figure",
    }
}

fn case<'a>(checked: &'a Checked, case: &'a Case) -> CaseRecord<'a> {
    CaseRecord {
        group: checked.group.word(),
        series: checked.title,
        case: &case.name,
        source: case.source,
        expected: number(case.expected),
        computed: number(case.computed),
        difference: number(case.difference()),
        bound: number(case.bound),
        numerical_error: number(case.error),
        unit: case.unit,
        bound_is: if case.is_kept() { "kept" } else { "broken" },
    }
}

fn comparison(c: &Comparison) -> ComparisonRecord<'_> {
    ComparisonRecord {
        class: c.class.word(),
        exposure: c.kind.word(),
        layers: c.subject.word(),
        figure: &c.figure,
        basis: basis(c.basis),
        case: &c.name,
        measured: [number(c.measured.0), number(c.measured.1)],
        predicted: number(c.predicted),
        predicted_range: [number(c.range.0), number(c.range.1)],
        unit: &c.unit,
        difference_pct: pct(c.difference()),
        ratio: number(c.ratio()),
        ranges: c.place().word(),
        source: &c.source,
        provenance: &c.provenance,
        note: &c.note,
    }
}

fn band(s: &Supported) -> BandRecord {
    BandRecord {
        layers: s.subject.word(),
        figure: s.of.word(),
        n: s.n,
        ratios: s.ratios.filter(|_| s.band.is_some()).map(|(low, high)| [low, high].map(Finite)),
        factors: s.band.map(|band| [band.lower, band.upper].map(Finite)),
        rule: s.band.map(|band| band.rule.word()),
    }
}

fn ablation(one: &Ablation) -> AblationRecord<'_> {
    let told = |t: f64| Some(t).filter(|t| t.is_finite()).map(Finite);
    AblationRecord {
        specimen: &one.specimen,
        figure: &one.figure,
        measured_s: Finite(one.measured),
        predicted_s: told(one.predicted),
        without_s: LEFT_OUT.iter().map(|e| e.word()).zip(one.without.map(told)).collect(),
    }
}

fn measured(measured: &Measured) -> MeasuredRecord<'_> {
    let all = &measured.comparisons;
    MeasuredRecord {
        n_complete_fabric: N_FABRIC_COMPLETE,
        median_absolute_pct: pct(median_absolute(all, &[Class::Complete, Class::Interval])),
        median_absolute_fabric_pct: pct(median_absolute(all, &[Class::Interval])),
        bands: supported(all).iter().map(band).collect(),
        comparisons: all.iter().map(comparison).collect(),
        derived: measured.derived.iter().map(comparison).collect(),
        ablations: measured.ablations.iter().map(ablation).collect(),
        summary: summaries(all)
            .iter()
            .map(|s| SummaryRecord {
                class: s.class.word(),
                exposure: s.kind.map_or("all", |kind| kind.word()),
                basis: basis(s.basis),
                n: s.n,
                n_agreeing: s.n_agreeing,
                median_pct: pct(s.median),
                median_absolute_pct: pct(s.median_absolute),
                largest_pct: pct(s.largest),
            })
            .collect(),
        signs: measured
            .signs
            .iter()
            .map(|sign| SignRecord {
                claim: &sign.claim,
                compared: &sign.what,
                values: sign.values.iter().map(|v| number(*v)).collect(),
                unit: sign.unit,
                sign: sign_word(sign),
                source: sign.source,
                note: &sign.note,
            })
            .collect(),
    }
}

/// The run as JSON, ended by a line feed.
///
/// Errors: none are known; those of the serialiser are passed on.
pub fn verification_json(verification: &Verification) -> Result<String, serde_json::Error> {
    let cases = verification.checked.iter();
    let record = Record {
        schema: SCHEMA,
        schema_version: VERSION,
        program: env!("CARGO_PKG_NAME"),
        program_version: env!("CARGO_PKG_VERSION"),
        notice: NOTICE,
        n_bounds: verification.cases().count(),
        n_broken: verification.n_broken(),
        cases: cases.flat_map(|checked| checked.cases.iter().map(|c| case(checked, c))).collect(),
        measured: verification.measured.as_ref().map(measured),
    };
    serde_json::to_string_pretty(&record).map(|text| text + "\n")
}
