//! The drawing of a suit on a body.

use crate::chart::body::{BodyChart, BodyMark, body_chart};
use crate::chart::{ChartError, Heading};
use crate::physics::units::{MILLIMETRES, PERCENT};
use crate::report::body::words::{self, EVIDENCE, percent};
use crate::report::number::{fixed, short};
use crate::study::body::record::{BodyStudy, Fire};

/// The suit from in front and from behind after the last of the fires.
pub(super) fn chart(study: &BodyStudy) -> Result<String, ChartError> {
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
            let mean = fixed(MILLIMETRES.outside(on.air.mean_open()), 0);
            format!("{} % in contact, else {mean} mm of air", fixed(PERCENT.outside(contact), 0))
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
