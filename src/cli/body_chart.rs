//! The drawings of a suit on a body, and of two.

use crate::chart::body::{BodyChart, BodyMark, BodyOddsLines, body_chart};
use crate::chart::body_beside::{BesideMark, BodyBesideChart, body_beside_chart};
use crate::chart::{ChartError, Heading};
use crate::physics::units::{GRAMS, MILLIMETRES, PERCENT};
use crate::report::body::beside;
use crate::report::body::words::{self, EVIDENCE, percent};
use crate::report::number::{Shown, fixed, short};
use crate::study::body::beside::{BodyBeside, Paired};
use crate::study::body::odds::{BodyOdds, FireOdds};
use crate::study::body::record::{BodyStudy, Fire};

/// The suit from in front and from behind after the last of the fires.
///
/// - `odds`: drawn below where they were asked for
pub(super) fn chart(study: &BodyStudy, odds: Option<&BodyOdds>) -> Result<String, ChartError> {
    let Some(fire) = study.fires.last() else {
        return Err(ChartError::Empty { part: "the body".to_owned() });
    };
    let after = format!("a flame of {} s", short(fire.duration, 2));
    let shares = |fire: &Fire| {
        let [_, second, third] = fire.covered;
        format!("{} s {} % and {} %", short(fire.duration, 2), percent(second), percent(third))
    };
    let all: Vec<String> = study.fires.iter().map(shares).collect();
    let summary = format!(
        "Second and third degree, of what is covered: {}. {}",
        all.join("; "),
        words::first(study)
    );
    body_chart(&BodyChart {
        heading: Heading {
            title: format!(
                "{}: {} % of what is covered has a second degree after {after}",
                study.suit.name,
                percent(fire.covered[1])
            ),
            subtitle: format!("{} {}", words::terms(study), words::first(study)),
            source: EVIDENCE.to_owned(),
            summary,
        },
        of: format!("share of the panel with a second degree after {after}"),
        marks: (0..study.suit.panels.len()).map(|i| mark(study, fire, i)).collect(),
        curves: study.fires.iter().map(curve).collect(),
        odds: odds.map(odds_lines),
    })
}

/// The name of a fire's line.
fn flame(duration: f64) -> String {
    format!("after {} s of flame", short(duration, 2))
}

fn curve(fire: &Fire) -> (String, Vec<(f64, f64)>) {
    let shares = fire.curve.iter().map(|shares| PERCENT.outside(shares[1]));
    (flame(fire.duration), fire.times.iter().copied().zip(shares).collect())
}

/// A step up at the share of each set.
fn odds_lines(odds: &BodyOdds) -> BodyOddsLines {
    let curve = |fire: &FireOdds| {
        let n = fire.shares.len() as f64;
        let mut points = vec![(0.0, 0.0)];
        for (i, share) in fire.shares.iter().enumerate() {
            let at = PERCENT.outside(*share);
            points.extend([i, i + 1].map(|sets| (at, PERCENT.outside(sets as f64 / n))));
        }
        points.push((PERCENT.outside(1.0), PERCENT.outside(1.0)));
        (flame(fire.duration), points)
    };
    BodyOddsLines {
        curves: odds.fires.iter().map(curve).collect(),
        at_most: PERCENT.outside(odds.at_most),
        label: format!("asked: {} %", percent(odds.at_most)),
    }
}

/// Two suits from in front and from behind after the last of the fires, and what lies between them.
pub(super) fn beside_chart(both: &BodyBeside) -> Result<String, ChartError> {
    let [one, two] = &both.suits;
    let Some(k) = one.fires.len().checked_sub(1) else {
        return Err(ChartError::Empty { part: "the body".to_owned() });
    };
    let after = flame(one.fires[k].duration);
    let title = |letter: &str, study: &BodyStudy| {
        let share = percent(study.fires[k].covered[1]);
        format!("{letter}: second degree {share} % of what is covered, {after}")
    };
    let mark = |panel: &Paired| {
        let on = [0, 1].map(|suit| {
            let i = panel.on[suit]?;
            let worn = &both.suits[suit].suit.panels[i];
            let burnt = both.suits[suit].fires[k].panels[i].end[1];
            Some((worn.place, worn.side, PERCENT.outside(burnt)))
        });
        let words = |suit: usize| {
            on[suit].map_or("none".to_owned(), |(.., b)| format!("{} %", fixed(b, 1)))
        };
        let answer = match both.more(panel, k, 1) {
            Some(more) => format!("{} (from {} to {})", beside::signed(more), words(0), words(1)),
            None => format!("from {} to {}", words(0), words(1)),
        };
        let grams = |suit: usize| {
            let mass = both.panel_mass(panel, suit);
            mass.map_or("none".to_owned(), |mass| format!("{} g", GRAMS.fixed(mass, 0)))
        };
        let of_body = beside::signed(both.more_of_body(panel, k, 1));
        let note = format!("{} to {}; {of_body} % of the body", grams(0), grams(1));
        BesideMark { name: panel.name.clone(), on, answer, note }
    };
    let sentence = beside::sentence(both);
    body_beside_chart(&BodyBesideChart {
        heading: Heading {
            title: format!("On a body: A, {}, and B, {}", one.suit.name, two.suit.name),
            subtitle: format!("{} {sentence}", words::terms(one)),
            source: EVIDENCE.to_owned(),
            summary: sentence.clone(),
        },
        titles: [
            title("A", one),
            title("B", two),
            format!("B less A, percentage points of each panel {after}"),
        ],
        marks: both.panels.iter().map(mark).collect(),
    })
}

fn mark(study: &BodyStudy, fire: &Fire, i: usize) -> BodyMark {
    let (panel, on, burn) = (&study.suit.panels[i], &study.airs[i], &fire.panels[i]);
    let first = burn.first.map_or("no second degree".to_owned(), |first| {
        format!("first at {} s, {}", fixed(first.first.t, 1), words::spot(&first))
    });
    let contact = on.air.in_contact();
    let air = match contact < 1.0 {
        true => {
            let mean = MILLIMETRES.fixed(on.air.mean_open(), 0);
            format!("{} % in contact, else {mean} mm of air", PERCENT.fixed(contact, 0))
        }
        false => "all in contact".to_owned(),
    };
    BodyMark {
        place: panel.place,
        side: panel.side,
        name: panel.name.clone(),
        burnt: PERCENT.outside(burn.end[1]),
        answer: format!("{} %", percent(burn.end[1])),
        note: format!("{first}; {} % of the body, {air}", percent(on.share)),
        is_first: fire.first().is_some_and(|(first, _)| first == i),
    }
}
