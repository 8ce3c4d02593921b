//! A suit in text, within 80 columns.

use crate::physics::units::GRAMS;
use crate::report::lies;
use crate::report::number::{Shown, fixed};
use crate::report::suit::words;
use crate::report::table::{Align, Table, paragraph};
use crate::report::text::{heading, notice, own_tests};
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
    out.push('\n');
    out.push_str(&notice());
    out
}

fn section(out: &mut String, title: &str, body: &str) {
    out.push('\n');
    out.push_str(&heading(title));
    out.push_str(body);
}

fn grams(judged: &Judged<'_>) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(&[Right, Left, Left, Right, Right, Right, Right, Right]);
    table.row(["", "panel", "layup", "", "m²", "cloth g", "extra g*", "g"]);
    let mut sums = [0.0; 4];
    let study = judged.study;
    for (i, (panel, studied)) in study.suit.panels.iter().zip(&study.panels).enumerate() {
        let mass = studied.own().mass;
        let more = mass.thread + mass.embroidery;
        let row = [
            studied.area,
            GRAMS.outside(mass.cloth),
            GRAMS.outside(more),
            GRAMS.outside(mass.total()),
        ];
        sums.iter_mut().zip(row).for_each(|(sum, value)| *sum += value);
        let pieces = if panel.count > 1 { format!("{} ×", panel.count) } else { String::new() };
        let mut cells = vec![(i + 1).to_string(), panel.name.clone(), panel.layup.name.clone()];
        cells.push(pieces);
        cells.extend(numbers(row));
        table.row(cells);
    }
    let mut last = vec![String::new(), "together".to_string(), String::new(), String::new()];
    last.extend(numbers(sums));
    table.row(last);
    table.render() + &paragraph("* quilting thread and embroidery", 5)
}

fn numbers([area, cloth, more, all]: [f64; 4]) -> [String; 4] {
    [fixed(area, 3), fixed(cloth, 0), fixed(more, 1), fixed(all, 0)]
}

fn predicted(judged: &Judged<'_>) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(&[Right, Left, Left, Right, Right, Left]);
    table.row(["", "panel", "asks", "predicted", "to spare", "against it"]);
    for (i, (panel, all)) in judged.study.suit.panels.iter().zip(&judged.panels).enumerate() {
        let own = &all[0];
        table.row([
            (i + 1).to_string(),
            panel.name.clone(),
            words::asks(panel),
            words::value(own, panel),
            words::spare(own),
            words::call(own),
        ]);
    }
    let mut out = table.render();
    out.push_str(&paragraph(&words::weakest(judged), 2));
    for remark in words::remarks(judged) {
        out.push_str(&paragraph(&remark, 2));
    }
    out
}

/// Empty where no quilting was computed.
fn stitch_lines(judged: &Judged<'_>) -> String {
    use Align::{Left, Right};
    let rows = words::stitch_lines(judged);
    if rows.is_empty() {
        return String::new();
    }
    let mut table = Table::new(&[Right, Left, Right, Right, Right, Right]);
    table.row(["", "", "disc, flat", "quilted", "skin at stitch", "at centre"]);
    rows.into_iter().for_each(|row| table.row(row));
    let skin = "skin: second-degree burn [s] behind a stitch line and behind the middle of a cell. A \
                panel with embroidery: at its weaker spot.";
    table.render() + &paragraph(skin, 2)
}

fn savings(judged: &Judged<'_>) -> String {
    use Align::{Left, Right};
    let Some(saving) = &judged.saving else {
        return paragraph("Nothing is known of any panel that could be kept.", 2);
    };
    let mut out = paragraph(&words::saving(judged, saving), 2);
    let changes = words::changes(judged, &saving.exact);
    if changes.is_empty() {
        return out;
    }
    let mut table = Table::new(&[Right, Left, Left, Right, Right]);
    table.row(["", "panel", "takes", "saves g", "to spare then"]);
    for (i, _, to, saved) in changes {
        let picked = &judged.panels[i][saving.exact.picks[i]];
        table.row([
            (i + 1).to_string(),
            judged.study.suit.panels[i].name.clone(),
            to.to_string(),
            GRAMS.fixed(saved, 0),
            words::spare(picked),
        ]);
    }
    out.push_str(&table.render());
    out
}

fn bill(judged: &Judged<'_>) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(&[Left, Right, Right, Right, Right, Right]);
    table.row(["", "", "in panels", "", "ordered", ""]);
    table.row(["", "g/m²", "m²", "g", "m²", "g"]);
    for cloth in judged.bill.cloths.iter().chain(&judged.bill.embroidery) {
        table.row(words::bill_row(cloth));
    }
    if judged.bill.thread > 0.0 {
        let (net, ordered) =
            (GRAMS.outside(judged.bill.thread), GRAMS.outside(judged.bill.thread_ordered));
        let cells = ["quilting thread", "", "", &fixed(net, 1), "", &fixed(ordered, 1)];
        table.row(cells.map(str::to_string));
    }
    let mut out = table.render();
    out.push_str(&paragraph(&words::allowance(&judged.study.suit), 2));
    if judged.bill.stitches > 0.0 {
        let metres = fixed(judged.bill.stitches, 0);
        let text = format!("Quilting runs over {metres} m of stitch line on what is ordered.");
        out.push_str(&paragraph(&text, 2));
    }
    out
}
