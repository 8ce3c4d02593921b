//! Guesses of contents at which pressures go on smoothly.
//!
//! What a node holds bends sharply where it dries, and a content and a temperature that are guessed
//! each for itself may stand for a pressure several times too high, from which Newton's iteration
//! finds back slowly or never. The pressure itself goes on smoothly, behind a front and through it.

use crate::solver::pack::Pack;
use crate::solver::pair::chunk::{at, in_spans, put};
use crate::solver::tableau::GAMMA;

/// Most that the logarithm of a pressure is guessed to move, and that of a content [–]: choices, from
/// half to three times of which the number of iterations hardly changes.
const AHEAD_MOST: f64 = 0.3;
const CHANGE_MOST: f64 = 3.0;
/// Least relative change of a pressure by a relative change of content where content follows pressure
/// [–]: near saturation the temperature alone tells the pressure. A choice as the others.
const SHARE_LEAST: f64 = 0.3;

/// Everything that a guess reads and writes, as flat fields: entry `i·n_lanes + l`.
pub(crate) struct Guess<'a> {
    pub n_lanes: usize,
    /// Pressures with their derivatives by temperature and content where the guess starts from.
    pub pressure: [&'a [f64]; 3],
    pub temps: &'a [f64],
    pub contents: &'a [f64],
    pub ahead: Ahead<'a>,
    /// Temperatures guessed.
    pub temps_guess: &'a [f64],
    /// Contents, guessed for themselves before.
    pub contents_guess: &'a mut [f64],
}

/// By what a pressure is foretold.
pub(crate) enum Ahead<'a> {
    /// By the slopes of temperature and content, over a time per lane.
    Slopes { slopes: [&'a [f64]; 2], dt: &'a [f64] },
    /// By its growth since the start of the step, at which it was so high, until the inner stage.
    Since { start: &'a [f64] },
}

impl Guess<'_> {
    /// Guesses all contents anew.
    pub fn make(&mut self) {
        let n = self.contents.len();
        guess(self, self.n_lanes, (0, n));
    }
}

in_spans! { fn guess(all: &mut Guess<'_>) by guess_at }

#[inline(always)]
fn guess_at<const C: usize, const W: bool>(all: &mut Guess<'_>, e: usize) {
    let [p, p_t, p_w] = all.pressure.map(|field| at::<C, W>(field, e));
    let (temp, content) = (at::<C, W>(all.temps, e), at::<C, W>(all.contents, e));
    let per_p = 1.0 / p;
    let ahead = match &all.ahead {
        Ahead::Slopes { slopes, dt } => {
            let dt = match all.n_lanes {
                1 => Pack::all(dt[0]),
                n => at(dt, e % n),
            };
            dt * (p_t * at(slopes[0], e) + p_w * at(slopes[1], e)) * per_p
        }
        Ahead::Since { start } => (1.0 / GAMMA - 1.0) * (p / at(start, e)).ln(),
    };
    let temp_guess = at(all.temps_guess, e);
    // at the same content a pressure goes by the temperature's inverse
    let warmer = p_t * per_p * temp * (temp_guess - temp) / temp_guess;
    let share = content * p_w * per_p;
    let change = (within(ahead, AHEAD_MOST) - warmer) / share;
    let follows = share.at_least(Pack::all(SHARE_LEAST));
    let guessed = content * within(change, CHANGE_MOST).exp();
    put(all.contents_guess, e, follows.pick(guessed, at(all.contents_guess, e)));
}

#[inline(always)]
fn within<const C: usize, const W: bool>(x: Pack<C, W>, most: f64) -> Pack<C, W> {
    x.or_larger(Pack::all(-most)).or_smaller(Pack::all(most))
}
