//! The answer to a state: the figures as `stillair expose` prints them, and the runs behind them.

use serde::Serialize;

use crate::NOTICE;
use crate::bench::figure::{
    Found, Verdict, figure_name, hold_outcome, of_outcome, second_degree_at_centre, shown,
};
use crate::bench::halt::Halt;
use crate::bench::outcome::{Outcome, RunOf};
use crate::bench::seen::Seen;
use crate::desk::anchors::Anchors;
use crate::desk::asked::{Closeness, Resolved, State};
use crate::desk::refused::Refused;
use crate::desk::view::{Course, View, course, view};
use crate::garment::band::Bands;
use crate::garment::exposure::Orientation;
use crate::garment::layup::{Entry, Layup};
use crate::garment::target::{Figure, Target};
use crate::physics::units::{GRAMS_PER_AREA, MILLIMETRES, PERCENT};
use crate::report::anchored::{of_figures, sentences};
use crate::report::figures::{Row, in_words, rows};
use crate::report::json::finite::{Finite, rounded};
use crate::report::number::fixed;
use crate::report::studies::Studies;
use crate::report::{exposure, lies, limits, text, verdict};
use crate::shelf::key::unusual;
use crate::shelf::materials::Shelf;
use crate::study::answer::answer_seen;

/// Name of the schema of an answer.
const SCHEMA: &str = "stillair/desk";

/// The answer.
#[derive(Debug, Serialize)]
struct Answer {
    schema: &'static str,
    notice: &'static str,
    layup: Lay,
    exposure: Terms,
    /// What is told first.
    headlines: Vec<Headline>,
    runs: Vec<OneRun>,
    calls: Vec<Call>,
    /// What the calls rest on, in sentences.
    rules: Vec<String>,
    /// What own tests make of the figures, in sentences.
    own_tests: Vec<String>,
    /// What is possible but unusual, and what the limits of the plies mean.
    notes: Vec<String>,
    limits: String,
    views: Vec<View>,
    /// All that `stillair expose --full` prints.
    printed: String,
}

/// The layup as it was computed.
#[derive(Debug, Serialize)]
struct Lay {
    name: String,
    /// How it lies: quilted, flat, pressed.
    lies: Option<String>,
    is_quilted: bool,
    is_pressed: bool,
    thickness_mm: Finite,
    thickness: String,
    areal_density_g_m2: Finite,
    areal_density: String,
    stack: Vec<Piece>,
}

/// A ply or gap.
#[derive(Debug, Serialize)]
struct Piece {
    is_gap: bool,
    name: String,
    description: String,
    thickness_mm: Finite,
    thickness: String,
    areal_density: String,
    regain_pct: Option<Finite>,
}

#[derive(Debug, Serialize)]
struct Terms {
    name: String,
    sentence: String,
    is_radiant: bool,
    /// From which side the flame comes: "below", or "beside" where the specimen stands upright.
    flame_from: &'static str,
    flame_s: Option<Finite>,
    followed_s: Finite,
    #[serde(rename = "room_C")]
    room: Finite,
}

/// A figure that is told first, with where the bench may read it.
#[derive(Debug, Serialize)]
struct Headline {
    key: &'static str,
    name: String,
    what: String,
    text: String,
    value: Option<Finite>,
    unit: &'static str,
    /// "the bench may read 11.9 to 18.3 s"; absent where only a lower bound is known.
    band: Option<String>,
    beyond: bool,
}

#[derive(Debug, Serialize)]
struct OneRun {
    behind: &'static str,
    place: Option<&'static str>,
    title: String,
    figures: Vec<Row>,
    course: Course,
}

#[derive(Debug, Serialize)]
struct Call {
    target: String,
    description: String,
    standard: String,
    asks: String,
    value: String,
    /// "above", "below" or "too close to call"; absent where nothing can be said.
    call: Option<&'static str>,
    short: String,
    answer: String,
}

/// The answer to a state as JSON.
///
/// Errors: [`Refused`], a state that cannot be, or a result that is no finite number.
pub fn answer(
    state: &State,
    (shelf, anchors): (&Shelf, &Anchors),
    closeness: Closeness,
    halt: &Halt,
) -> Result<Vec<u8>, Refused> {
    let asked = state.resolved(shelf)?;
    let (question, n_points) = (asked.question(closeness, halt), closeness.n_points());
    let (outcome, seen) =
        answer_seen(&asked.layup, &asked.exposure, &question, asked.quilts, n_points)
            .map_err(|error| Refused::because(error.to_string()))?;
    let bands = anchors.bands(asked.skin);
    let verdicts: Vec<(&Target, Verdict)> = asked
        .targets
        .iter()
        .map(|target| (*target, hold_outcome(&outcome, target, &asked.as_given, bands)))
        .collect();
    let told = told(&asked, (&outcome, &seen), &verdicts, bands)?;
    serde_json::to_vec(&told).map_err(|error| Refused::new(500, error.to_string(), "", ""))
}

fn told(
    asked: &Resolved<'_>,
    (outcome, seen): (&Outcome, &[Seen]),
    verdicts: &[(&Target, Verdict)],
    bands: &Bands,
) -> Result<Answer, Refused> {
    let own = of_figures(outcome, bands);
    let studies = Studies { anchored: &own, ..Studies::default() };
    let printed = text::exposure_text(outcome, verdicts, &studies);
    let views: Result<Vec<View>, _> = seen.iter().map(|one| view(one, &outcome.layup)).collect();
    let views = views.map_err(|bad| {
        Refused::new(500, format!("a result is no finite number ({})", bad.0), "", "")
    })?;
    Ok(Answer {
        schema: SCHEMA,
        notice: NOTICE,
        layup: lay(&outcome.layup, outcome),
        exposure: terms(outcome),
        headlines: headlines(outcome, bands),
        runs: outcome.runs().iter().map(|one| one_run(one, outcome)).collect(),
        calls: verdicts.iter().map(|(target, held)| call(target, held)).collect(),
        rules: verdict::rules(verdicts.iter().map(|(_, held)| &held.rule)),
        own_tests: sentences(&own),
        notes: unusual::of_layup(&asked.layup),
        limits: limits::meaning(outcome),
        views,
        printed: anstream::adapter::strip_str(&printed).to_string(),
    })
}

fn lay(layup: &Layup, outcome: &Outcome) -> Lay {
    let stack = outcome.lies.stack();
    let mm = |thickness: f64| fixed(MILLIMETRES.outside(thickness), 2);
    let piece = |entry: &Entry| match entry {
        Entry::Gap(gap) => Piece {
            is_gap: true,
            name: "air gap".to_owned(),
            description: String::new(),
            thickness_mm: rounded(MILLIMETRES.outside(gap.thickness.value)),
            thickness: mm(gap.thickness.value),
            areal_density: String::new(),
            regain_pct: None,
        },
        Entry::Ply(ply) => Piece {
            is_gap: false,
            name: ply.fabric.name.clone(),
            description: ply.fabric.description.clone(),
            thickness_mm: rounded(MILLIMETRES.outside(ply.fabric.thickness.value)),
            thickness: mm(ply.fabric.thickness.value),
            areal_density: fixed(GRAMS_PER_AREA.outside(ply.fabric.areal_density.value), 0),
            regain_pct: Some(rounded(PERCENT.outside(ply.fabric.regain.value))),
        },
    };
    Lay {
        name: layup.name.clone(),
        lies: lies::sentence(layup, stack),
        is_quilted: outcome.lies.over_cell().is_some(),
        is_pressed: layup.pressure.is_some(),
        thickness_mm: rounded(MILLIMETRES.outside(layup.thickness())),
        thickness: mm(layup.thickness()),
        areal_density_g_m2: rounded(GRAMS_PER_AREA.outside(layup.areal_density())),
        areal_density: fixed(GRAMS_PER_AREA.outside(layup.areal_density()), 0),
        stack: layup.stack.iter().map(piece).collect(),
    }
}

fn terms(outcome: &Outcome) -> Terms {
    let given = &outcome.exposure;
    Terms {
        name: given.name.clone(),
        sentence: exposure::sentence(given),
        is_radiant: given.is_radiant(),
        flame_from: match given.orientation {
            Orientation::HeatedFromBelow => "below",
            Orientation::Vertical | Orientation::Still => "beside",
        },
        flame_s: given.duration.map(rounded),
        followed_s: rounded(given.t_end),
        room: rounded(crate::physics::units::celsius(given.temp_room)),
    }
}

/// 24 K, Stoll and the second-degree burn; of a quilted layup the burn at both places of a cell.
fn headlines(outcome: &Outcome, bands: &Bands) -> Vec<Headline> {
    let is_quilted = outcome.lies.over_cell().is_some();
    let name = |figure| figure_name(figure, &outcome.exposure).to_owned();
    let burn = |place: &str| format!("second-degree burn{place}");
    let mut all = vec![
        ("rise24", name(Figure::Rise24), "copper disc 24 K warmer", Figure::Rise24),
        ("stoll", name(Figure::Stoll), "disc, Stoll's curve crossed", Figure::Stoll),
    ]
    .into_iter()
    .map(|(key, name, what, figure)| {
        let found = of_outcome(outcome, figure);
        headline((key, name, what.to_owned()), (figure, found), outcome, bands)
    })
    .collect::<Vec<_>>();
    let places = [
        (
            of_outcome(outcome, Figure::SecondDegree),
            if is_quilted { " at a stitch line" } else { "" },
        ),
        (second_degree_at_centre(outcome).unwrap_or(Found::NotAsked), " at a cell's centre"),
    ];
    for (i, (found, place)) in places.into_iter().enumerate() {
        if found != Found::NotAsked {
            let key = ["second_degree", "second_degree_centre"][i];
            let what = "skin, Ω 1 at the basal layer".to_owned();
            all.push(headline(
                (key, burn(place), what),
                (Figure::SecondDegree, found),
                outcome,
                bands,
            ));
        }
    }
    all
}

fn headline(
    (key, name, what): (&'static str, String, String),
    (figure, found): (Figure, Found),
    outcome: &Outcome,
    bands: &Bands,
) -> Headline {
    let unit = shown(figure);
    let band = found.valued().map(|valued| {
        let band = bands.of(&outcome.computed(), figure, &outcome.exposure);
        let told = |factor: f64| fixed(unit.outside(factor * valued.value), 1);
        let ends = format!("{} to {}", told(band.factors.lower), told(band.factors.upper));
        match (&band.anchored, figure) {
            (Some(own), _) if own.n_tests > 0 => {
                format!("by your own tests {} {} ({ends})", told(band.factor()), unit.unit)
            }
            (_, Figure::SecondDegree) => format!("a burn may come at {ends} {}", unit.unit),
            _ => format!("the bench may read {ends} {}", unit.unit),
        }
    });
    Headline {
        key,
        name,
        what,
        text: in_words(&found, figure),
        value: found.valued().map(|valued| rounded(unit.outside(valued.value))),
        unit: unit.unit,
        band,
        beyond: found.is_beyond(),
    }
}

fn one_run(one: &RunOf, outcome: &Outcome) -> OneRun {
    let title = match one.behind {
        "disc" => "Copper disc".to_owned(),
        _ => one.place.map_or("Skin".to_owned(), |place| format!("Skin at {place}")),
    };
    OneRun {
        behind: one.behind,
        place: one.place,
        title,
        figures: rows(one.run, &outcome.exposure),
        course: course(one.run, &outcome.exposure),
    }
}

fn call(target: &Target, held: &Verdict) -> Call {
    Call {
        target: target.name.clone(),
        description: target.description.clone(),
        standard: target.standard.clone(),
        asks: verdict::asks(&held.rule),
        value: verdict::value(held),
        call: held.call.as_ref().ok().map(|call| call.words()),
        short: verdict::in_short(held),
        answer: verdict::answer(held),
    }
}
