//! How a layup lay when its figures were computed, in words.

use crate::bench::lies::Stack;
use crate::bench::outcome::OverCell;
use crate::garment::layup::{Layup, Quilting};
use crate::physics::units::{MILLIMETRES, PERCENT};
use crate::report::number::{Shown, fixed};
use crate::report::table::paragraph;

/// First line of an answer that leaves quilting out because it was asked to.
pub const LEFT_OUT: &str = "flat stack: quilting left out as asked (--flat)";
/// Why a quilted layup under pressure is flat.
pub const PRESSED: &str = "pressure leaves no loft: flat stack, quilting left out";

/// The first line of an answer on layups that lay so, with a line feed; empty where none is needed.
pub fn first_line<'a>(stacks: impl IntoIterator<Item = Stack<'a>>) -> String {
    let left_out = stacks.into_iter().any(|stack| stack == Stack::LeftOut);
    if left_out { format!("{LEFT_OUT}\n") } else { String::new() }
}

/// A paragraph on how a layup lay, for answers that do not show it whole; empty for a loose one.
pub fn paragraph_on(stack: Stack<'_>) -> String {
    match stack {
        Stack::Quilted(quilting) => {
            let text =
                format!("Quilted: {}; one disc behind a whole cell.", quilting_words(quilting));
            paragraph(&text, 2)
        }
        Stack::Pressed => paragraph(&format!("{PRESSED}."), 2),
        // said in the first line
        Stack::Flat | Stack::LeftOut => String::new(),
    }
}

/// Beside a figure: "quilted (diamond, 40 mm)", "flat".
pub fn beside(stack: Stack<'_>) -> String {
    match stack {
        Stack::Quilted(quilting) => {
            format!("quilted ({}, {} mm)", quilting.pattern.word(), mm(quilting.pitch.value))
        }
        Stack::Flat | Stack::LeftOut | Stack::Pressed => "flat".to_string(),
    }
}

/// Behind a layup's name: ", quilted (diamond, 40 mm)"; nothing for a flat stack.
pub fn after_name(stack: Stack<'_>) -> String {
    match stack {
        Stack::Quilted(_) => format!(", {}", beside(stack)),
        _ => String::new(),
    }
}

/// Whether the figures rest on the quilting, for a file.
pub fn word(stack: Stack<'_>) -> &'static str {
    if matches!(stack, Stack::Quilted(_)) { "quilted" } else { "flat" }
}

/// Why the quilting of a layup is not in its figures; none where it is, or there is none.
pub fn why_flat(stack: Stack<'_>) -> Option<&'static str> {
    match stack {
        Stack::LeftOut => Some(LEFT_OUT),
        Stack::Pressed => Some(PRESSED),
        Stack::Flat | Stack::Quilted(_) => None,
    }
}

/// The quilting that a layup has, and whether the figures rest on it; none for a loose layup.
pub fn sentence(layup: &Layup, stack: Stack<'_>) -> Option<String> {
    let quilting = layup.quilting.as_ref()?;
    let has = format!("Quilted: {} ({}).", quilting_words(quilting), quilting.pitch.provenance);
    Some(match stack {
        Stack::Quilted(_) | Stack::Flat => has,
        Stack::LeftOut => {
            format!("{has} Left out of the figures as asked: without loft and stitch lines.")
        }
        Stack::Pressed => {
            format!(
                "{has} Left out of the figures: pressure leaves no loft, and the plies lie flat."
            )
        }
    })
}

/// Pattern, pitch, widths and the air in between, in words.
pub fn quilting_words(quilting: &Quilting) -> String {
    format!("{}, {}", quilting.pattern.word(), quilting_lengths(quilting))
}

/// The same without the pattern.
pub fn quilting_lengths(quilting: &Quilting) -> String {
    format!(
        "pitch {} mm, stitch lines {} mm wide pressed to {} mm, {} mm of loft at the centre",
        mm(quilting.pitch.value),
        mm(quilting.stitch_width.value),
        mm(quilting.pressed.value),
        mm(quilting.loft.value)
    )
}

/// What the disc behind a quilted layup is, and what of its error the points over a cell make.
pub fn behind_the_cell(cell: &OverCell) -> String {
    let open = cell.area_errors.iter().flatten().copied().fold(0.0, f64::max);
    format!(
        "Behind a whole cell, {}: stitch lines, {} % of the area, and loft into one disc. The errors \
         hold at most {} s that the {} points over a cell leave open.",
        beside(Stack::Quilted(&cell.quilting)),
        PERCENT.fixed(cell.stitch_share, 1),
        fixed(open, 3),
        cell.n_points
    )
}

fn mm(m: f64) -> String {
    MILLIMETRES.short(m, 2)
}

#[cfg(test)]
mod tests {
    use super::{LEFT_OUT, after_name, beside, first_line};
    use crate::bench::lies::Stack;
    use crate::garment::known::{Known, Provenance};
    use crate::garment::layup::{Pattern, Quilting};

    #[test]
    fn only_what_was_asked_for_stands_first() {
        let known = |value| Known::new(value, Provenance::Invented, "");
        let quilting = Quilting {
            pattern: Pattern::Square,
            pitch: known(0.05),
            stitch_width: known(0.002),
            loft: known(0.001),
            pressed: known(0.001),
            thread: None,
        };
        let quilted = Stack::Quilted(&quilting);
        assert_eq!(beside(quilted), "quilted (square, 50 mm)");
        assert_eq!(after_name(Stack::Pressed), "");
        assert_eq!(first_line([quilted, Stack::Pressed, Stack::Flat]), "");
        assert_eq!(first_line([quilted, Stack::LeftOut]), format!("{LEFT_OUT}\n"));
    }
}
