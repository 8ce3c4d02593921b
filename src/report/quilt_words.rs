//! What a quilting comes to, in a sentence that a colleague understands.

use crate::bench::figure::figure_name;
use crate::garment::exposure::Exposure;
use crate::garment::target::Figure;
use crate::physics::units::PERCENT;
use crate::report::number::{Shown, fixed};
use crate::study::quilt::beside::Way;
use crate::study::quilt::outcome::Quilted;

/// How long before the disc skin burns, and how much of it by then; none where there is no skin to tell of.
pub fn headline(way: &Way) -> Option<String> {
    let Way::Quilted(quilted) = way else {
        let everywhere = way.at_centre()?.t()?;
        return Some(match way.noticed() {
            Some(noticed) => {
                format!(
                    "skin burns everywhere at once, {} the disc notices",
                    beside(everywhere - noticed)
                )
            }
            None => format!(
                "skin burns everywhere at {} s; the disc never notices",
                fixed(everywhere, 1)
            ),
        });
    };
    quilted_headline(quilted)
}

/// The same of one quilting.
pub fn quilted_headline(quilted: &Quilted) -> Option<String> {
    let stitch = quilted.at_stitch_line()?.t();
    let Some(noticed) = quilted.noticed() else {
        return stitch.map(|t| {
            format!("the stitch line burns at {} s; the disc never notices", fixed(t, 1))
        });
    };
    let burnt = PERCENT.fixed(quilted.burnt_by(noticed)?, 0);
    Some(match stitch {
        Some(stitch) => format!(
            "the stitch line burns {} the disc notices; by then {burnt} % is burnt",
            beside(stitch - noticed)
        ),
        None => format!("the stitch line never burns; {burnt} % is burnt as the disc notices"),
    })
}

/// "5.3 s before", for a difference of times [s].
fn beside(dt: f64) -> String {
    let word = if dt < 0.0 { "before" } else { "after" };
    format!("{} s {word}", fixed(dt.abs(), 1))
}

/// What the bench's figures and the columns of burns are, in plain words.
pub fn what_they_mean(exposure: &Exposure) -> [String; 3] {
    let rise24 = figure_name(Figure::Rise24, exposure);
    [
        format!(
            "{rise24}: how long until the one copper disc behind all of it is 24 K warmer. It averages: \
             heat through a stitch line spreads in the copper."
        ),
        "Stoll: how long until the disc has taken up the heat that Stoll's curve gives for a \
         second-degree burn; then the disc notices."
            .to_string(),
        "Stitch line, centre: how long until skin right there has a second-degree burn. Skin does not \
         average."
            .to_string(),
    ]
}

/// The same words with a large first letter.
pub fn as_sentence_start(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string()).unwrap_or_default();
    format!("{first}{}", letters.as_str())
}
