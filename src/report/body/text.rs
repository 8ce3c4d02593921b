//! A suit on a body as text.

use crate::report::body::columns::{fire_rows, fires, panel_rows, panels};
use crate::report::body::{Beside, keep, odds, words};
use crate::report::form::rows::table;
use crate::report::lies;
use crate::report::table::paragraph;
use crate::report::text::{closed, heading, section};
use crate::study::body::record::BodyStudy;

/// The body in text: shares burnt, panels, what burns first, grams, what else was asked for, evidence, notice.
pub fn body_text(study: &BodyStudy, beside: Beside<'_>) -> String {
    let mut out = lies::first_line(study.stacks());
    out.push_str(&heading(&format!("On a body: {}", study.suit.name)));
    out.push_str(&paragraph(&words::terms(study), 2));
    out.push_str(&paragraph(&words::cover(study), 2));
    let body = table(&fires(), &fire_rows(study)) + &paragraph(words::DEGREES, 2);
    section(&mut out, "Share burnt of what is covered", &body);
    let body = table(&panels(study), &panel_rows(study)) + &paragraph(&words::air(&study.map), 2);
    section(&mut out, "Second degree, panel by panel", &body);
    out.push_str(&paragraph(&words::first(study), 2));
    let gram = study.fires.last().and_then(|fire| words::best_gram(study, fire));
    if let Some(gram) = gram {
        out.push_str(&paragraph(&gram, 2));
    }
    let evidence = format!("{} {}", words::exactness(study), words::EVIDENCE);
    out.push_str(&paragraph(&evidence, 2));
    if let Some(odds) = beside.odds {
        let at_most = words::percent(odds.at_most);
        let title = format!("Odds of at most {at_most} % with a second degree, of what is covered");
        section(&mut out, &title, &odds::body(odds));
    }
    if let Some(kept) = beside.kept {
        section(&mut out, &keep::title(kept), &keep::body(kept));
    }
    closed(out)
}
