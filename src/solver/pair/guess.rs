//! Guesses of both unknowns at which pressures go on smoothly.
//!
//! What a node holds bends sharply where it dries, and a content and a temperature that are guessed
//! each for itself may stand for a pressure several times too high, from which Newton's iteration
//! finds back slowly or never. The pressure itself goes on smoothly, behind a front and through it.

use crate::solver::pack::Pack;
use crate::solver::pair::backward::MOVE_MOST;
use crate::solver::pair::chunk::{at, in_spans, put};

/// By what a pressure is guessed to grow or fall at most [–]: a choice, as the others; from a factor
/// of 1.4 to one of 3 the number of iterations hardly changes.
const GROWTH_MOST: f64 = 2.0;
/// Most that the logarithm of a content is guessed to move [–].
const CHANGE_MOST: f64 = 3.0;
/// Least relative change of a pressure by a relative change of content where content follows pressure
/// [–]: near saturation the temperature alone tells the pressure.
const SHARE_LEAST: f64 = 0.3;

/// Everything that a guess reads and writes, as flat fields: entry `i·n_lanes + l`.
pub(crate) struct Guess<'a> {
    pub n_lanes: usize,
    /// Pressures with their derivatives by temperature and content where the guess starts from.
    pub pressure: [&'a [f64]; 3],
    pub temps: &'a [f64],
    pub contents: &'a [f64],
    /// How far temperatures and contents go if all is linear.
    pub moves: [&'a [f64]; 2],
    pub temps_guess: &'a mut [f64],
    pub contents_guess: &'a mut [f64],
}

impl Guess<'_> {
    /// Guesses everything.
    pub fn make(&mut self) {
        let (n_lanes, n) = (self.n_lanes, self.contents.len());
        guess(self, n_lanes, (0, n));
    }
}

in_spans! { fn guess(all: &mut Guess<'_>) by guess_at }

#[inline(always)]
fn guess_at<const C: usize, const W: bool>(all: &mut Guess<'_>, e: usize) {
    let [p, p_t, p_w] = [at(all.pressure[0], e), at(all.pressure[1], e), at(all.pressure[2], e)];
    let (temp, content) = (at::<C, W>(all.temps, e), at::<C, W>(all.contents, e));
    let (warms, gains) = (at(all.moves[0], e), at::<C, W>(all.moves[1], e));
    let warms = warms.or_larger(Pack::all(-MOVE_MOST)).or_smaller(Pack::all(MOVE_MOST));
    let temp_guess = temp + warms;
    let per_p = 1.0 / p;
    let grown = Pack::all(1.0) + (p_t * warms + p_w * gains) * per_p;
    let grown = grown.or_larger(Pack::all(1.0 / GROWTH_MOST)).or_smaller(Pack::all(GROWTH_MOST));
    // at the same content a pressure goes by the temperature's inverse
    let warmer = p_t * per_p * temp * warms / temp_guess;
    let share = content * p_w * per_p;
    let change = (grown.ln() - warmer) / share;
    let change = change.or_larger(Pack::all(-CHANGE_MOST)).or_smaller(Pack::all(CHANGE_MOST));
    // a content that falls is guessed along a curve that does not reach zero
    let falling = content * content / (content - gains);
    let plain = gains.at_least(Pack::ZERO).pick(content + gains, falling);
    let follows = share.at_least(Pack::all(SHARE_LEAST));
    put(all.temps_guess, e, temp_guess);
    put(all.contents_guess, e, follows.pick(content * change.exp(), plain));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solver::pair::wet::bound;
    use proptest::prelude::*;

    const AT_65: f64 = 2e-3;
    const PORES: f64 = 2e-4;

    /// Pressure with its derivatives.
    fn pressure(temp: f64, content: f64) -> [f64; 3] {
        let wet =
            bound::<1, false>(Pack([temp]), Pack([content]), Pack([1.0 / AT_65]), Pack([PORES]));
        [wet.p.0[0], wet.p_t.0[0], wet.p_w.0[0]]
    }

    fn guessed(temp: f64, content: f64, moves: [f64; 2]) -> (f64, f64) {
        let [p, p_t, p_w] = pressure(temp, content).map(|value| [value]);
        let (mut temps, mut contents) = ([0.0], [0.0]);
        let mut guess = Guess {
            n_lanes: 1,
            pressure: [&p, &p_t, &p_w],
            temps: &[temp],
            contents: &[content],
            moves: [&[moves[0]], &[moves[1]]],
            temps_guess: &mut temps,
            contents_guess: &mut contents,
        };
        guess.make();
        (temps[0], contents[0])
    }

    proptest! {
        /// Where a node dries the sum of both moves would be a pressure many times too high, or a
        /// content below nothing. A factor of two is let through, and the isotherm bends within 50 K; of
        /// nodes that stay dry, as no pressure rises above saturation.
        #[test]
        fn no_pressure_is_guessed_far_from_where_it_was(
            temp in 400.0..600.0f64, ratio in 1e-3..0.2f64,
            warms in -50.0..50.0f64, gained in -2.0..2.0f64,
        ) {
            let content = ratio * AT_65;
            let (temp_guess, content_guess) = guessed(temp, content, [warms, gained * content]);
            prop_assert!(content_guess > 0.0);
            let grown = pressure(temp_guess, content_guess)[0] / pressure(temp, content)[0];
            prop_assert!((1.0 / 6.0..6.0).contains(&grown), "{grown}");
        }

        /// To first order it is what both moves add up to, dry or wet.
        #[test]
        fn small_moves_are_made_as_they_are(
            temp in 300.0..600.0f64, ratio in 1e-3..3.0f64,
            warms in -1.0..1.0f64, gained in -0.05..0.05f64,
        ) {
            let content = ratio * AT_65;
            let off = |share: f64| {
                let moves = [share * warms, share * gained * content];
                let (temp_guess, content_guess) = guessed(temp, content, moves);
                assert!((temp_guess - temp - moves[0]).abs() < 1e-9);
                (content_guess - content - moves[1]).abs() / content
            };
            // of second order: a tenth of the move, a hundredth of what it is off
            prop_assert!(off(1e-3) <= 0.02 * off(1e-2) + 1e-11, "{} {}", off(1e-3), off(1e-2));
        }
    }
}
