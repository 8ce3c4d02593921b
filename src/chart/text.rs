//! Text: how wide it is, how it wraps, how numbers look.

use crate::shelf::wording::words_with_units;

/// Advance widths of the printable ASCII characters, thousandths of the type size.
///
/// Source: table `hmtx` of DejaVu Sans 2.37, rounded; fonts with the same wide
/// proportions stand first in [`FAMILIES`], narrower ones leave a little more air.
#[rustfmt::skip]
const REGULAR: [u16; 95] = [
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337,
    636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531,
    1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787,
    603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500,
    500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612,
    635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
];

/// The same for the bold face.
#[rustfmt::skip]
const BOLD: [u16; 95] = [
    348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365,
    696, 696, 696, 696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 580,
    1000, 774, 762, 734, 830, 683, 683, 821, 837, 372, 372, 775, 637, 995, 837, 850,
    733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838, 500,
    500, 675, 716, 593, 716, 678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687,
    716, 716, 493, 595, 478, 712, 652, 924, 645, 652, 582, 712, 365, 712, 838,
];

/// Thousandths in one.
const THOUSANDTHS: f64 = 1000.0;
/// Families asked for, in order; the last is generic, so no font needs to be installed.
pub(crate) const FAMILIES: &str = "DejaVu Sans, Verdana, sans-serif";

/// Weight of the type.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// The upright face.
    Regular,
    /// The bold one.
    Bold,
}

/// Width of a text [px at 1x] at a type size.
pub fn text_width(text: &str, size: f64, weight: Weight) -> f64 {
    let table = match weight {
        Weight::Regular => &REGULAR,
        Weight::Bold => &BOLD,
    };
    let wide = match weight {
        Weight::Regular => 838,
        Weight::Bold => 870,
    };
    let thousandths: u32 = text
        .chars()
        .map(|c| match c {
            ' '..='~' => u32::from(table[c as usize - 32]),
            '\u{2026}' | '\u{2014}' => 1000,
            '\u{a0}' => 330,
            '°' | '²' | '³' | '·' | '–' => 520,
            'À'..='ÿ' | 'α'..='ω' => 700,
            _ => wide,
        })
        .sum();
    f64::from(thousandths) * size / THOUSANDTHS
}

/// A text broken into lines no wider than `width`, at blanks and after hyphens.
///
/// A number and its unit stay together; a no-break space holds; a word longer than a line is cut.
pub(crate) fn wrap(text: &str, width: f64, size: f64, weight: Weight) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in words_with_units(text) {
        for (i, piece) in word.split_inclusive('-').enumerate() {
            let blank = if i == 0 && !line.is_empty() { " " } else { "" };
            let joined = format!("{line}{blank}{piece}");
            if text_width(&joined, size, weight) <= width {
                line = joined;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            for c in piece.chars() {
                line.push(c);
                if text_width(&line, size, weight) > width && line.chars().count() > 1 {
                    line.pop();
                    lines.push(std::mem::replace(&mut line, c.to_string()));
                }
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// A number with fixed decimals and a real minus sign; never "−0".
pub(crate) fn number(value: f64, decimals: usize) -> String {
    let plain = format!("{value:.decimals$}");
    match plain.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
        Some(rest) => format!("\u{2212}{rest}"),
        None => plain,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn minus_is_a_minus_sign() {
        assert_eq!(number(-20.0, 0), "\u{2212}20");
        assert_eq!(number(-0.04, 1), "0.0");
        assert_eq!(number(3.125, 2), "3.12");
    }

    #[test]
    fn wrapped_lines_keep_to_the_width_and_lose_nothing() {
        let text = "a few words and one averyveryverylongwordwithoutanybreak to end";
        let lines = wrap(text, 90.0, 10.0, Weight::Regular);
        assert!(lines.iter().all(|l| text_width(l, 10.0, Weight::Regular) <= 90.0), "{lines:?}");
        assert_eq!(lines.concat().replace(' ', ""), text.replace(' ', ""));
    }

    #[test]
    fn a_number_keeps_its_unit() {
        let wide = text_width("at most 5.67", 10.0, Weight::Regular);
        assert_eq!(
            wrap("at most 5.67 mm on", wide, 10.0, Weight::Regular),
            ["at most", "5.67 mm on"]
        );
    }
}
