//! The result of a search as JSON.

use serde::Serialize;

use crate::garment::brief::Wanted;
use crate::garment::target::Figure;
use crate::report::json::finite::{Finite, rounded};
use crate::report::json::study::{Number, envelope};
use crate::report::seek_words as say;
use crate::study::seek::finding::{Choice, Finding, Point};
use crate::study::seek::score::{Reading, Scored};

#[derive(Serialize)]
struct Body<'a> {
    brief: &'a str,
    note: &'a str,
    minimise: &'static str,
    error_goal_pct: Finite,
    targets: Vec<JsonWanted<'a>>,
    search: JsonCounts,
    frontier: Vec<JsonPoint<'a>>,
    shortlist: Vec<JsonChoice<'a>>,
}

#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
struct JsonWanted<'a> {
    target: &'a str,
    exposure: &'a str,
    figure: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    at_least_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    wanted_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    at_least_kJ_m2: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    wanted_kJ_m2: Option<Finite>,
}

#[derive(Serialize)]
struct JsonCounts {
    combinations: u64,
    beyond_limits: u64,
    exposed: u64,
    unsettled: u64,
    stopped: u64,
    keeping_margin: u64,
    pruned: &'static str,
}

#[derive(Serialize)]
struct JsonPoint<'a> {
    number: u64,
    plies: Vec<String>,
    #[serde(flatten)]
    grid: JsonStack<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    closed: Option<JsonStack<'a>>,
}

#[derive(Serialize)]
struct JsonStack<'a> {
    gaps_mm: Vec<Finite>,
    areal_density_g_m2: Finite,
    thickness_mm: Finite,
    figures: Vec<JsonFigure<'a>>,
    binding: &'a str,
    spare_pct: Finite,
    keeps_margin: bool,
}

#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
struct JsonFigure<'a> {
    target: &'a str,
    state: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    value_s: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    value_kJ_m2: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    more_than_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    more_than_kJ_m2: Option<Finite>,
    call: &'static str,
}

#[derive(Serialize)]
struct JsonChoice<'a> {
    #[serde(flatten)]
    point: JsonPoint<'a>,
    binds: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    next: Option<JsonNext<'a>>,
}

#[derive(Serialize)]
struct JsonNext<'a> {
    target: &'a str,
    gain: Finite,
    unit: String,
}

/// The result of a search as JSON.
///
/// Errors: a value that is not a finite number.
pub fn seek_json(finding: &Finding<'_>) -> Result<String, serde_json::Error> {
    let (brief, counts) = (finding.brief(), &finding.counts);
    let body = Body {
        brief: &brief.name,
        note: &brief.note,
        minimise: brief.minimise.word(),
        error_goal_pct: rounded(100.0 * finding.error_goal),
        targets: brief.wanted.iter().map(target).collect(),
        search: JsonCounts {
            combinations: counts.n_seen,
            beyond_limits: counts.n_beyond,
            exposed: counts.n_exposed(),
            unsettled: counts.n_unknown,
            stopped: counts.n_stopped,
            keeping_margin: counts.n_keeping,
            pruned: "none within the limits",
        },
        frontier: finding.frontier.iter().map(|point| json_point(finding, point)).collect(),
        shortlist: finding.shortlist.iter().map(|choice| json_choice(finding, choice)).collect(),
    };
    envelope("stillair/seek", &body)
}

fn target(wanted: &Wanted) -> JsonWanted<'_> {
    let heat = wanted.target.figure == Figure::Tpp;
    let (least, want) = (wanted.target.at_least, wanted.at_least());
    JsonWanted {
        target: &wanted.target.name,
        exposure: &wanted.exposure.name,
        figure: say::name(wanted),
        at_least_s: (!heat).then(|| rounded(least)),
        wanted_s: (!heat).then(|| rounded(want)),
        at_least_kJ_m2: heat.then(|| rounded(1e-3 * least)),
        wanted_kJ_m2: heat.then(|| rounded(1e-3 * want)),
    }
}

fn json_point<'a>(finding: &Finding<'a>, point: &Point) -> JsonPoint<'a> {
    let wanted = &finding.brief().wanted;
    JsonPoint {
        number: point.candidate.index,
        plies: say::plies(finding.space, &point.candidate.plies),
        grid: stack(&point.candidate.gaps, &point.scored, wanted),
        closed: point.tightened.as_ref().map(|t| stack(&t.gaps, &t.scored, wanted)),
    }
}

fn stack<'a>(gaps: &[f64], scored: &Scored, wanted: &'a [Wanted]) -> JsonStack<'a> {
    let figures =
        scored.readings.iter().zip(wanted).map(|(reading, wanted)| figure(reading, wanted));
    JsonStack {
        gaps_mm: gaps.iter().map(|gap| rounded(1e3 * gap)).collect(),
        areal_density_g_m2: rounded(1e3 * scored.areal_density),
        thickness_mm: rounded(1e3 * scored.thickness),
        figures: figures.collect(),
        binding: &wanted[scored.binding].target.name,
        spare_pct: rounded(100.0 * scored.spare),
        keeps_margin: scored.keeps,
    }
}

fn figure<'a>(reading: &Reading, wanted: &'a Wanted) -> JsonFigure<'a> {
    let heat = wanted.target.figure == Figure::Tpp;
    let value = match reading {
        Reading::Value(valued) => Some(*valued),
        _ => None,
    };
    let more = match reading {
        Reading::OrMore(value) => Some(*value),
        _ => None,
    };
    JsonFigure {
        target: &wanted.target.name,
        state: match reading {
            Reading::Value(_) => "reached",
            Reading::OrMore(_) => "not_reached",
            Reading::Unknown => "too_close_to_call",
        },
        value_s: value.filter(|_| !heat).map(|v| Number::new(v, 1.0)),
        value_kJ_m2: value.filter(|_| heat).map(|v| Number::new(v, 1e-3)),
        more_than_s: more.filter(|_| !heat).map(rounded),
        more_than_kJ_m2: more.filter(|_| heat).map(|m| rounded(1e-3 * m)),
        call: say::call(reading, wanted).words(),
    }
}

fn json_choice<'a>(finding: &Finding<'a>, choice: &Choice) -> JsonChoice<'a> {
    let brief = finding.brief();
    let next = choice.next.as_ref().map(|next| JsonNext {
        target: &brief.wanted[next.target].target.name,
        gain: rounded(say::rate(next, &brief.wanted)),
        unit: say::per(&brief.wanted[next.target], brief.minimise),
    });
    let binding = brief.wanted[choice.point.closed().binding].target.name.clone();
    let binds = std::iter::once(binding).chain(choice.bounds.iter().map(say::bound));
    JsonChoice { point: json_point(finding, &choice.point), binds: binds.collect(), next }
}
