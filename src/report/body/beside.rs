//! Two suits on one body: columns, sentences, text and files.

use crate::bench::outcome::Valued;
use crate::physics::units::{BARE, GRAMS, PERCENT, SECONDS};
use crate::report::body::columns::{DEGREES, body_object};
use crate::report::body::words::{self, EVIDENCE, percent, percent_with_error};
use crate::report::csv::CurvesError;
use crate::report::form::column::Column;
use crate::report::form::rows::{csv, objects, table};
use crate::report::form::value::{Digits, Object};
use crate::report::json::study::envelope;
use crate::report::lies;
use crate::report::number::{Shown, short};
use crate::report::table::paragraph;
use crate::report::text::{closed, heading, section};
use crate::report::words::list;
use crate::study::body::beside::{BodyBeside, Paired};

/// The second degree, which text tells of.
const SECOND: usize = 1;
/// Most fires that a terminal's table of panels has room for; files have all.
const FIRES_SHOWN: usize = 3;
/// What the suits are called.
const LETTERS: [&str; 2] = ["A", "B"];
/// What they are called in files.
const SUITS: [&str; 2] = ["a", "b"];

/// A share's difference with its sign, and its error where that is one to a tenth.
pub fn signed(more: Valued) -> String {
    let text = percent_with_error(more.value, more.error);
    if more.value >= 0.0 && !text.starts_with("0.0") { format!("+{text}") } else { text }
}

/// A mass's difference with its sign [g].
fn signed_grams(more: f64) -> String {
    let text = GRAMS.fixed(more, 0);
    if more > 0.0 && text != "0" { format!("+{text}") } else { text }
}

/// A fire: both suits, and by how much more of the body burns in the second.
fn fires(beside: &BodyBeside) -> Vec<Column<'_, usize>> {
    let duration = |k: &usize| beside.suits[0].fires[*k].duration;
    let mut all =
        vec![Column::new("for", SECONDS, duration).headed("flame").digits(Digits::Short(2))];
    for (suit, (name, letter)) in SUITS.into_iter().zip(LETTERS).enumerate() {
        for (d, degree) in DEGREES.into_iter().enumerate() {
            let valued = move |k: &usize| {
                let fire = &beside.suits[suit].fires[*k];
                Valued { value: fire.covered[d], error: fire.error[d] }
            };
            let written = move |k: &usize| {
                let Valued { value, error } = valued(k);
                percent_with_error(value, error)
            };
            let column = Column::new(format!("{name}_{degree}_of_covered"), PERCENT, valued)
                .written(written);
            all.push(if d == SECOND {
                column.headed(format!("{letter}, of covered"))
            } else {
                column
            });
            let of_body = move |k: &usize| {
                let study = &beside.suits[suit];
                study.whole(&study.fires[*k].covered)[d]
            };
            let column = Column::new(format!("{name}_{degree}_of_body"), PERCENT, of_body)
                .digits(Digits::Fixed(1));
            all.push(if d == SECOND {
                column.headed(format!("{letter}, of body"))
            } else {
                column
            });
        }
    }
    for (d, degree) in DEGREES.into_iter().enumerate() {
        let more = move |k: &usize| beside.more_in_all(*k, d);
        let column = Column::new(format!("more_{degree}_of_body"), PERCENT, more)
            .written(move |k: &usize| signed(more(k)));
        all.push(if d == SECOND { column.headed("B less A") } else { column });
    }
    all
}

/// A panel of both suits: grams, and in text its second degree after the last of the fires.
fn panels(beside: &BodyBeside) -> Vec<Column<'_, Paired>> {
    let mut all = vec![
        Column::new("panel", BARE, |panel: &Paired| panel.name.clone()).headed("").under("panel"),
    ];
    for (suit, name) in SUITS.into_iter().enumerate() {
        let layup = move |panel: &Paired| {
            panel.on[suit].map(|i| beside.suits[suit].suit.panels[i].layup.name.clone())
        };
        let mass = move |panel: &Paired| beside.panel_mass(panel, suit);
        let of_body =
            move |panel: &Paired| panel.on[suit].map(|i| beside.suits[suit].airs[i].share);
        all.extend([
            Column::new(format!("{name}_layup"), BARE, layup),
            Column::new(format!("{name}_of_body"), PERCENT, of_body),
            Column::new(format!("{name}_mass"), GRAMS, mass)
                .headed(LETTERS[suit])
                .digits(Digits::Fixed(0)),
        ]);
    }
    let more = |panel: &Paired| {
        let [one, two] = [0, 1].map(|suit| beside.panel_mass(panel, suit));
        one.zip(two).map(|(one, two)| two - one)
    };
    let written = move |panel: &Paired| more(panel).map_or("–".to_owned(), signed_grams);
    all.push(Column::new("more_mass", GRAMS, more).headed("B less A").written(written));
    let n = beside.suits[0].fires.len();
    for k in n.saturating_sub(FIRES_SHOWN)..n {
        let both = move |panel: &Paired| {
            let of = |suit| match beside.share(panel, suit, k, SECOND) {
                Some(share) => percent(share.value),
                None => "–".to_owned(),
            };
            format!("{} → {}", of(0), of(1))
        };
        let heading = format!("{} s, A → B", short(beside.suits[0].fires[k].duration, 2));
        all.push(Column::text(&heading, PERCENT, both).right());
    }
    all
}

/// What the suits weigh and cover.
fn sentence_of_suits(beside: &BodyBeside) -> String {
    let of = |suit: usize| {
        let study = &beside.suits[suit];
        let grams = GRAMS.fixed(beside.mass(suit), 0);
        format!(
            "{}: {}, {grams} g, covers {} % of the body.",
            LETTERS[suit],
            study.suit.name,
            percent(study.covered())
        )
    };
    format!("{} {}", of(0), of(1))
}

/// Which suit burns more, in words.
pub fn sentence(beside: &BodyBeside) -> String {
    let clause = |k: usize| {
        let more = beside.more_in_all(k, SECOND);
        let after = format!("after {} s", short(beside.suits[0].fires[k].duration, 2));
        let by = percent_with_error(more.value.abs(), more.error);
        if more.value == 0.0 && more.error == 0.0 {
            format!("{after} both burn alike")
        } else if more.value.abs() <= more.error {
            format!("{after} it is too close to call ({} % of the body)", signed(more))
        } else {
            let word = if more.value > 0.0 { "more" } else { "less" };
            format!("{after} {by} % {word} of the body burns in B")
        }
    };
    let n = beside.suits[0].fires.len();
    let clauses: Vec<String> = (0..n).map(clause).collect();
    let more = beside.mass(1) - beside.mass(0);
    let grams = GRAMS.fixed(more.abs(), 0);
    let weighs = match (grams.as_str(), more > 0.0) {
        ("0", _) => "B weighs as much as A".to_owned(),
        (_, true) => format!("B weighs {grams} g more"),
        (_, false) => format!("B weighs {grams} g less"),
    };
    format!("{weighs}; second degree: {}.", list(&clauses))
}

/// The rows of the fires.
fn fire_rows(beside: &BodyBeside) -> Vec<usize> {
    (0..beside.suits[0].fires.len()).collect()
}

/// Two suits in text.
pub fn beside_text(beside: &BodyBeside) -> String {
    let mut out = lies::first_line(beside.suits.iter().flat_map(|study| study.stacks()));
    out.push_str(&heading("On a body: two suits, A and B"));
    out.push_str(&paragraph(&sentence_of_suits(beside), 2));
    out.push_str(&paragraph(&words::terms(&beside.suits[0]), 2));
    let body = table(&fires(beside), &fire_rows(beside)) + &paragraph(&sentence(beside), 2);
    section(&mut out, "Second degree", &body);
    section(&mut out, "Panel by panel", &table(&panels(beside), &beside.panels));
    for (letter, study) in LETTERS.into_iter().zip(&beside.suits) {
        out.push_str(&paragraph(&format!("{letter}. {}", words::first(study)), 2));
    }
    let n_runs: usize = beside.suits.iter().map(|study| study.work.n_runs).sum();
    let evidence = format!(
        "± is what gaps, places and meshes leave open where the suits differ; {n_runs} runs. {EVIDENCE}"
    );
    out.push_str(&paragraph(&evidence, 2));
    closed(out)
}

/// What a file tells of a panel of both suits, or of the body, after a fire.
struct Row<'a> {
    beside: &'a BodyBeside,
    fire: usize,
    panel: Option<&'a Paired>,
    is_first: bool,
}

impl Row<'_> {
    fn share(&self, suit: usize, degree: usize) -> Option<f64> {
        let study = &self.beside.suits[suit];
        match self.panel {
            Some(panel) => {
                self.beside.share(panel, suit, self.fire, degree).map(|share| share.value)
            }
            None => Some(study.whole(&study.fires[self.fire].covered)[degree]),
        }
    }

    fn more(&self, degree: usize) -> Option<Valued> {
        match self.panel {
            Some(panel) => self.beside.more(panel, self.fire, degree),
            None => Some(self.beside.more_in_all(self.fire, degree)),
        }
    }

    fn more_of_body(&self, degree: usize) -> Valued {
        match self.panel {
            Some(panel) => self.beside.more_of_body(panel, self.fire, degree),
            None => self.beside.more_in_all(self.fire, degree),
        }
    }

    fn mass(&self, suit: usize) -> Option<f64> {
        match self.panel {
            Some(panel) => self.beside.panel_mass(panel, suit),
            None => Some(self.beside.mass(suit)),
        }
    }
}

/// Two suits as CSV: one row a fire and panel, then the whole body; the difference is the second's less the first's.
///
/// Errors: a value that is not a finite number.
pub fn beside_csv(beside: &BodyBeside) -> Result<String, CurvesError> {
    let panels = || beside.panels.iter().map(Some).chain([None]);
    let rows = fire_rows(beside).into_iter().flat_map(|fire| {
        panels().enumerate().map(move |(i, panel)| {
            let is_first = fire == 0 && i == 0;
            Row { beside, fire, panel, is_first }
        })
    });
    let rows: Vec<Row> = rows.collect();
    let duration = |row: &Row| row.beside.suits[0].fires[row.fire].duration;
    let name = |row: &Row| row.panel.map_or("the whole body", |panel| &panel.name).to_owned();
    let mut all: Vec<Column<Row>> =
        vec![Column::new("for", SECONDS, duration), Column::new("panel", BARE, name)];
    for (suit, letter) in SUITS.into_iter().enumerate() {
        all.push(Column::new(format!("{letter}_mass"), GRAMS, move |row: &Row| row.mass(suit)));
    }
    for (d, degree) in DEGREES.into_iter().enumerate() {
        for (suit, letter) in SUITS.into_iter().enumerate() {
            let share = move |row: &Row| row.share(suit, d);
            all.push(Column::new(format!("{letter}_{degree}"), PERCENT, share));
        }
        all.push(Column::new(format!("more_{degree}"), PERCENT, move |row: &Row| row.more(d)));
        let of_body = move |row: &Row| row.more_of_body(d);
        all.push(Column::new(format!("more_{degree}_of_body"), PERCENT, of_body));
    }
    all.push(Column::new("evidence", BARE, |row: &Row| row.is_first.then_some(EVIDENCE)));
    csv(&all, &rows)
}

/// Two suits as JSON: both whole, and what lies between them.
///
/// Errors: a value that is not a finite number.
pub fn beside_json(beside: &BodyBeside) -> Result<String, serde_json::Error> {
    let of_panel = |panel: &Paired| {
        let per_fire = fire_rows(beside).into_iter().map(|k| {
            let own = Object::new().with_unit("for", SECONDS, beside.suits[0].fires[k].duration);
            DEGREES.into_iter().enumerate().fold(own, |own, (d, degree)| {
                own.with_unit(&format!("more_{degree}"), PERCENT, beside.more(panel, k, d))
                    .with_unit(
                        &format!("more_{degree}_of_body"),
                        PERCENT,
                        beside.more_of_body(panel, k, d),
                    )
            })
        });
        objects(&panels(beside), [panel]).remove(0).with("fires", per_fire.collect::<Vec<_>>())
    };
    let suits = beside
        .suits
        .iter()
        .enumerate()
        .map(|(suit, study)| body_object(study).with_unit("mass", GRAMS, beside.mass(suit)));
    let record = Object::new()
        .with("evidence", EVIDENCE)
        .with("suits", suits.collect::<Vec<_>>())
        .with_unit("more_mass", GRAMS, beside.mass(1) - beside.mass(0))
        .with("fires", objects(&fires(beside), &fire_rows(beside)))
        .with("panels", beside.panels.iter().map(of_panel).collect::<Vec<_>>());
    envelope("stillair/body-beside", &record)
}
