//! The result of a search as JSON.

use serde::Serialize;

use crate::bench::figure::Verdict;
use crate::garment::brief::{Stitching, Wanted};
use crate::garment::target::Judged;
use crate::report::anchored::Told;
use crate::report::json::JsonRule;
use crate::report::json::anchored::JsonTold;
use crate::report::json::finite::{Finite, rounded};
use crate::report::json::study::{Number, by_unit, envelope};
use crate::report::seek_words as say;
use crate::report::verdict::answer;
use crate::study::odds::spread::Share;
use crate::study::seek::chance::Chance;
use crate::study::seek::finding::{Choice, Finding, Point};
use crate::study::seek::score::Scored;
use crate::study::seek::space::{Candidate, Space};

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
    odds_wanted_pct: Option<Finite>,
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
    #[serde(skip_serializing_if = "Option::is_none")]
    not_to_be_stitched: Option<u64>,
    exposed: u64,
    unsettled: u64,
    stopped: u64,
    keeping_margin: u64,
    pruned: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    odds: Option<&'static str>,
    sets_drawn: usize,
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
    #[serde(skip_serializing_if = "Option::is_none")]
    quilting: Option<JsonQuilting>,
    areal_density_g_m2: Finite,
    thickness_mm: Finite,
    figures: Vec<JsonFigure<'a>>,
    binding: &'a str,
    spare_pct: Finite,
    keeps_margin: bool,
}

#[derive(Serialize)]
struct JsonQuilting {
    pattern: &'static str,
    pitch_mm: Finite,
    stitch_width_mm: Finite,
    loft_mm: Finite,
    pressed_pct: Finite,
    #[serde(skip_serializing_if = "Option::is_none")]
    thread_g_m: Option<Finite>,
}

#[derive(Serialize)]
struct JsonOdds<'a> {
    target: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    unknown: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    judged: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    specimens: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    set: Option<JsonShare>,
    #[serde(skip_serializing_if = "Option::is_none")]
    one_specimen: Option<JsonShare>,
}

#[derive(Serialize)]
struct JsonShare {
    reached: usize,
    drawn: usize,
    odds_pct: Finite,
    low_pct: Finite,
    high_pct: Finite,
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
    answer: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    anchored: Option<JsonTold>,
    rule: JsonRule,
}

#[derive(Serialize)]
struct JsonChoice<'a> {
    #[serde(flatten)]
    point: JsonPoint<'a>,
    odds: Vec<JsonOdds<'a>>,
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

/// How odds that are asked for were searched.
const ODDS_WAY: &str =
    "drawn in the order of the shortlist until it is full; none that it holds is lost";

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
            not_to_be_stitched: brief.is_quilted().then_some(counts.n_unstitchable),
            exposed: counts.n_exposed(),
            unsettled: counts.n_unknown,
            stopped: counts.n_stopped,
            keeping_margin: counts.n_keeping,
            pruned: "none within the limits",
            odds: brief.wants_odds().then_some(ODDS_WAY),
            sets_drawn: brief.n_sets,
        },
        frontier: finding.frontier.iter().map(|point| json_point(finding, point)).collect(),
        shortlist: finding.shortlist.iter().map(|choice| json_choice(finding, choice)).collect(),
    };
    envelope("stillair/seek", &body)
}

#[expect(non_snake_case, reason = "units in keys keep their SI case")]
fn target(wanted: &Wanted) -> JsonWanted<'_> {
    let of = |value: f64| by_unit(wanted.target.figure, Some(value), |x, scale| rounded(scale * x));
    let [at_least_s, at_least_kJ_m2] = of(wanted.target.at_least);
    let [wanted_s, wanted_kJ_m2] = of(wanted.at_least());
    JsonWanted {
        target: &wanted.target.name,
        exposure: &wanted.exposure.name,
        figure: say::name(wanted),
        odds_wanted_pct: wanted.odds.map(|odds| rounded(100.0 * odds)),
        at_least_s,
        wanted_s,
        at_least_kJ_m2,
        wanted_kJ_m2,
    }
}

fn json_point<'a>(finding: &Finding<'a>, point: &Point) -> JsonPoint<'a> {
    let closed = point.tightened.as_ref();
    JsonPoint {
        number: point.candidate.index,
        plies: say::plies(finding.space, &point.candidate.plies),
        grid: stack(finding.space, &point.candidate, &point.scored),
        closed: closed.map(|t| stack(finding.space, &t.candidate, &t.scored)),
    }
}

fn stack<'a>(space: &Space<'a>, candidate: &Candidate, scored: &Scored) -> JsonStack<'a> {
    let wanted = &space.brief.wanted;
    let verdicts = say::verdicts(space, candidate, scored);
    let figures = verdicts.iter().zip(wanted).map(|(verdict, wanted)| figure(verdict, wanted));
    JsonStack {
        gaps_mm: candidate.gaps.iter().map(|gap| rounded(1e3 * gap)).collect(),
        quilting: candidate.stitching.as_ref().map(quilting),
        areal_density_g_m2: rounded(1e3 * scored.areal_density),
        thickness_mm: rounded(1e3 * scored.thickness),
        figures: figures.collect(),
        binding: &wanted[scored.binding].target.name,
        spare_pct: rounded(100.0 * scored.spare),
        keeps_margin: scored.keeps,
    }
}

#[expect(non_snake_case, reason = "units in keys keep their SI case")]
fn figure<'a>(verdict: &Verdict, wanted: &'a Wanted) -> JsonFigure<'a> {
    let (figure, reading) = (wanted.target.figure, &verdict.found);
    let least = reading.value_or_least().filter(|_| reading.valued().is_none());
    let [value_s, value_kJ_m2] = by_unit(figure, reading.valued(), Number::new);
    let [more_than_s, more_than_kJ_m2] = by_unit(figure, least, |x, scale| rounded(scale * x));
    JsonFigure {
        target: &wanted.target.name,
        state: reading.state(),
        value_s,
        value_kJ_m2,
        more_than_s,
        more_than_kJ_m2,
        call: verdict.call.as_ref().map_or("not judged", |call| call.words()),
        answer: answer(verdict),
        anchored: Told::of_verdict("", verdict).as_ref().map(JsonTold::new),
        rule: JsonRule::new(&verdict.rule),
    }
}

fn quilting(own: &Stitching) -> JsonQuilting {
    JsonQuilting {
        pattern: own.pattern.word(),
        pitch_mm: rounded(1e3 * own.pitch),
        stitch_width_mm: rounded(1e3 * own.stitch_width),
        loft_mm: rounded(1e3 * own.loft),
        pressed_pct: rounded(100.0 * own.pressed_share),
        thread_g_m: own.thread.map(|thread| rounded(1e3 * thread)),
    }
}

fn odds<'a>(chance: &'a Result<Chance, String>, wanted: &'a Wanted) -> JsonOdds<'a> {
    let known = chance.as_ref().ok();
    let share = |share: Share| JsonShare {
        reached: share.k,
        drawn: share.n,
        odds_pct: rounded(100.0 * share.value()),
        low_pct: rounded(100.0 * share.low),
        high_pct: rounded(100.0 * share.high),
    };
    JsonOdds {
        target: &wanted.target.name,
        unknown: chance.as_ref().err().map(String::as_str),
        judged: known.map(|chance| match chance.judged {
            Judged::Lowest => "lowest",
            Judged::Mean => "mean",
        }),
        specimens: known.map(|chance| chance.n_specimens),
        set: known.map(|chance| share(chance.set)),
        one_specimen: known.map(|chance| share(chance.one)),
    }
}

fn json_choice<'a>(finding: &Finding<'a>, choice: &'a Choice) -> JsonChoice<'a> {
    let brief = finding.brief();
    let next = choice.next.as_ref().map(|next| JsonNext {
        target: &brief.wanted[next.target].target.name,
        gain: rounded(say::rate(next, &brief.wanted)),
        unit: say::per(&brief.wanted[next.target], brief.minimise),
    });
    let binding = brief.wanted[choice.point.closed().binding].target.name.clone();
    let binds = std::iter::once(binding).chain(choice.bounds.iter().map(say::bound));
    let odds = choice.odds.iter().zip(&brief.wanted).map(|(chance, wanted)| odds(chance, wanted));
    let point = json_point(finding, &choice.point);
    JsonChoice { point, odds: odds.collect(), binds: binds.collect(), next }
}
