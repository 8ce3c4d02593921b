//! What each colour means: one meaning a colour, the same in every chart.
//!
//! Charts draw with the inks of [`palette`](crate::chart::palette) alone; a test holds each drawing of the program
//! to this table. On the ramp dark is where skin is worst off: the earliest burn, the shortest time, the lowest margin,
//! the largest share burnt.

use crate::chart::palette::{
    AIR, BAND, BAR_SHARE, FLAME, FLAME_ARROW, GREY, GRID, INK, Ink, LOOKS, PAPER, PLIES, RIBBON,
    SKIN_INK, WITHIN, ramp,
};

/// What a colour means.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Meaning {
    /// Paper, or what sets words off from what lies below.
    Paper,
    /// Words, axes, levels and marks.
    Words,
    /// Words and lines of the second rank.
    SecondRank,
    /// Grid lines, and what has no value.
    Grid,
    /// What lies within limits.
    Within,
    /// The time a flame burns.
    Flame,
    /// Where the flame comes from.
    FlameArrow,
    /// Still air.
    Air,
    /// Skin.
    Skin,
    /// A ply, the outermost being 0, over and over.
    Ply(usize),
    /// The line, marks or bars of a series, the first being 0.
    Series(usize),
    /// The range of a series.
    Range(usize),
    /// How badly off skin is, from best 0 to worst 1.
    Ramp(f64),
}

/// The inks that stand for themselves, and what each means.
pub fn table() -> Vec<(Ink, Meaning)> {
    let mut all = vec![
        (PAPER, Meaning::Paper),
        (INK, Meaning::Words),
        (GREY, Meaning::SecondRank),
        (GRID, Meaning::Grid),
        (WITHIN, Meaning::Within),
        (FLAME, Meaning::Flame),
        (FLAME_ARROW, Meaning::FlameArrow),
        (AIR, Meaning::Air),
        (SKIN_INK, Meaning::Skin),
    ];
    all.extend(PLIES.into_iter().enumerate().map(|(i, ink)| (ink, Meaning::Ply(i))));
    for (i, look) in LOOKS.into_iter().enumerate() {
        all.push((look.ink, Meaning::Series(i)));
        all.push((look.ink.on_white(BAR_SHARE), Meaning::Series(i)));
        all.push((look.ink.thin(RIBBON), Meaning::Range(i)));
        all.push((look.ink.thin(BAND), Meaning::Range(i)));
    }
    all
}

/// What a colour means; none for one that no chart should have.
///
/// - `rgb`: sRGB, 0 to 255 each
/// - `alpha`: opacity, 0 to 1
pub fn meaning([red, green, blue]: [u8; 3], alpha: f64) -> Option<Meaning> {
    let ink = Ink::new(red, green, blue).thin(alpha);
    if ink.rgb == PAPER.rgb {
        return Some(Meaning::Paper);
    }
    let own = table().into_iter().find(|(known, _)| *known == ink);
    own.map(|(_, meaning)| meaning).or_else(|| (alpha == 1.0).then(|| on_ramp(ink)).flatten())
}

/// The place of an ink on the ramp [–], if it lies there but for rounding.
fn on_ramp(ink: Ink) -> Option<Meaning> {
    const STEPS: u32 = 2000;
    let shares = (0..=STEPS).map(|i| f64::from(i) / f64::from(STEPS));
    let nearest = shares.min_by_key(|share| apart(ramp(*share), ink))?;
    (apart(ramp(nearest), ink) <= 1).then_some(Meaning::Ramp(nearest))
}

/// The largest difference of two inks in red, green or blue.
fn apart(one: Ink, other: Ink) -> u8 {
    (0..3).map(|i| one.rgb[i].abs_diff(other.rgb[i])).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An ink as it looks on paper.
    fn seen(ink: Ink) -> Ink {
        Ink { alpha: 1.0, ..ink }.on_white(ink.alpha)
    }

    #[test]
    fn no_two_meanings_share_a_colour() {
        let all = table();
        for (i, (one, of_one)) in all.iter().enumerate() {
            for (other, of_other) in &all[i + 1..] {
                let same = std::mem::discriminant(of_one) == std::mem::discriminant(of_other);
                // tints of one series beside each other differ by its own number
                assert!(
                    same || apart(seen(*one), seen(*other)) >= 5,
                    "{of_one:?} {one:?}, {of_other:?} {other:?}"
                );
            }
        }
    }

    #[test]
    fn no_meaning_lies_on_the_ramp() {
        for (ink, meaning) in table() {
            assert_eq!(on_ramp(seen(ink)), None, "{meaning:?} {ink:?}");
        }
    }

    #[test]
    fn a_colour_of_no_chart_has_no_meaning() {
        assert_eq!(meaning([0x12, 0xE3, 0x45], 1.0), None);
        assert_eq!(meaning(LOOKS[0].ink.rgb, 0.5), None);
        assert_eq!(meaning(LOOKS[0].ink.rgb, 1.0), Some(Meaning::Series(0)));
        assert!(matches!(meaning(ramp(1.0).rgb, 1.0), Some(Meaning::Ramp(worst)) if worst > 0.99));
    }
}
