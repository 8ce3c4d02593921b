//! A suit in text, within 80 columns.

use crate::report::form::rows::table;
use crate::report::lies;
use crate::report::number::fixed;
use crate::report::suit::{columns, rows, words};
use crate::report::table::paragraph;
use crate::report::text::{closed, heading, own_tests, section};
use crate::study::suit_judged::Judged;

/// The suit: grams, predictions, savings, bill, notice.
pub fn suit_text(judged: &Judged<'_>) -> String {
    let suit = &judged.study.suit;
    let mut out = lies::first_line(judged.study.stacks());
    out.push_str(&heading(&format!("Suit: {}", suit.name)));
    if !suit.note.is_empty() {
        out.push_str(&paragraph(&suit.note, 2));
    }
    out.push_str(&paragraph(&words::body(judged), 2));
    section(&mut out, "Grams", &grams(judged));
    section(&mut out, "Predicted, panel by panel", &predicted(judged));
    own_tests(&mut out, &judged.told());
    let stitched = stitch_lines(judged);
    if !stitched.is_empty() {
        section(&mut out, "Stitch lines: disc and skin", &stitched);
    }
    section(&mut out, "Where grams can be saved", &savings(judged));
    section(&mut out, "Bill of materials", &bill(judged));
    closed(out)
}

fn grams(judged: &Judged<'_>) -> String {
    let grams = table(&columns::of_grams(), &columns::grams(judged));
    grams + &paragraph("* quilting thread and embroidery", 5)
}

fn predicted(judged: &Judged<'_>) -> String {
    let mut out = table(&columns::predicted(), &rows::own_rows(judged));
    out.push_str(&paragraph(&words::weakest(judged), 2));
    for remark in words::remarks(judged) {
        out.push_str(&paragraph(&remark, 2));
    }
    out
}

/// Empty where no quilting was computed.
fn stitch_lines(judged: &Judged<'_>) -> String {
    let rows = rows::sewn(judged);
    if rows.is_empty() {
        return String::new();
    }
    let skin = "skin: second-degree burn [s] behind a stitch line and behind the middle of a cell. A \
                panel with embroidery: at its weaker spot.";
    table(&columns::of_sewn(), &rows) + &paragraph(skin, 2)
}

fn savings(judged: &Judged<'_>) -> String {
    let Some(saving) = &judged.saving else {
        return paragraph("Nothing is known of any panel that could be kept.", 2);
    };
    let mut out = paragraph(&words::saving(judged, saving), 2);
    let changes = rows::changes(judged, &saving.exact);
    if !changes.is_empty() {
        out.push_str(&table(&columns::of_changes(), &changes));
    }
    out
}

fn bill(judged: &Judged<'_>) -> String {
    let mut out = table(&columns::of_items(), &columns::items(&judged.bill));
    out.push_str(&paragraph(&words::allowance(&judged.study.suit), 2));
    if judged.bill.stitches > 0.0 {
        let metres = fixed(judged.bill.stitches, 0);
        let text = format!("Quilting runs over {metres} m of stitch line on what is ordered.");
        out.push_str(&paragraph(&text, 2));
    }
    out
}
