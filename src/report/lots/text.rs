//! Delivered rolls with their figures in text.

use crate::report::exposure;
use crate::report::figures::in_words;
use crate::report::form::rows::table;
use crate::report::lies;
use crate::report::lots::columns::{rolls, rolls_of};
use crate::report::lots::words::{LotsOf, chart_words, plies_words, remark};
use crate::report::table::paragraph;
use crate::report::text::{closed, heading, section};
use crate::report::verdict::{answer, rules};

/// Everything in text, within 80 columns.
pub fn lots_text(of: &LotsOf<'_>) -> String {
    let mut out = lies::first_line([of.stack]);
    out.push_str(&heading(&format!("Lots: {}", of.layup.name)));
    out.push_str(&lies::paragraph_on(of.stack));
    out.push_str(&paragraph(&exposure::sentence(of.exposure), 2));
    let nominal = in_words(&of.lots.nominal, of.figure);
    let mut known = format!("{} of the layup as it stands: {nominal}", of.name());
    let verdict = &of.lots.against;
    if let (Some(target), Some(verdict)) = (of.target, verdict) {
        known.push_str(&format!("; {}: {}", target.name, answer(verdict)));
    }
    out.push_str(&paragraph(&format!("{known}."), 2));
    for sentence in rules(verdict.iter().map(|verdict| &verdict.rule)) {
        out.push_str(&paragraph(&sentence, 2));
    }
    for group in &of.lots.groups {
        out.push('\n');
        out.push_str(&heading(&format!("Rolls for {}", plies_words(group))));
        out.push_str(&table(&rolls(of), &rolls_of(group)));
        out.push_str(&paragraph(&chart_words(of, group), 2));
    }
    section(&mut out, "Held for testing", &paragraph(&of.sentence(), 2));
    out.push_str(&paragraph(&of.rule(), 2));
    out.push_str(&paragraph(&remark(of), 2));
    closed(out)
}
