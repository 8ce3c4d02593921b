//! The attempt at one step: goals, guesses and stages of both fields.

use crate::solver::lanes::Lanes;
use crate::solver::pack::{Mask, Pack};
use crate::solver::pair::eliminated::solve_again;
use crate::solver::pair::guess::Guess;
use crate::solver::pair::lanes::PairLanes;
use crate::solver::pair::stage::{PairGiven, solve_pair};
use crate::solver::pair::state::PairState;
use crate::solver::rates::Rates;
use crate::solver::stage::{Ask, Given, StageEnd};
use crate::solver::tableau::{DIAGONAL, GAMMA, WEIGHT};
use crate::solver::target::per_target;

/// Which stage of a step is solved.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Stage {
    /// The one within the step.
    Inner,
    /// The one at its end.
    Last,
}

impl<const L: usize> PairState<L> {
    /// Solves a stage.
    ///
    /// Before: its goal and guess are made. After: `temps`, contents and rates of the stage are those
    /// that meet the goal in the lanes that are solved; the workspace holds its matrix.
    pub fn solve(
        &mut self,
        stage: Stage,
        (lanes, pair): (&Lanes<L>, &PairLanes<L>),
        ask: &Ask<L>,
        given: Given<'_, L>,
        (temps, rates): (&mut [[f64; L]], &mut Rates<L>),
    ) -> StageEnd<L> {
        let conversion = self.conversion.as_ref();
        let (contents, own, place) = match stage {
            Stage::Inner => (&mut self.contents_inner[..], &mut self.inner, GAMMA),
            Stage::Last => (&mut self.contents_next[..], &mut self.next, 1.0),
        };
        let given = (given, PairGiven { pair, goal: &self.goal, conversion, place });
        solve_pair(lanes, ask, given, (temps, contents), (rates, own), &mut self.workspace)
    }

    /// Goal and guess of the inner stage, from the slopes where the step before was smooth.
    ///
    /// Before: rates, slopes and pressures are those of where the lanes stand. After: `guess` is the
    /// guess of temperatures; that of contents and the goal of vapour wait for the stage.
    pub fn guess_inner(
        &mut self,
        [temps, slopes]: [&[[f64; L]]; 2],
        guess: &mut [[f64; L]],
        dt: &[f64; L],
        smooth: &[bool; L],
    ) {
        prepare_inner_pair(self, slopes, dt, smooth);
        let mut guess = Guess {
            n_lanes: L,
            pressure: self.pressure.each_ref().map(Vec::as_slice),
            temps: temps.as_flattened(),
            contents: self.contents.as_flattened(),
            moves: self.moves.each_ref().map(|moves| moves.as_flattened()),
            temps_guess: guess.as_flattened_mut(),
            contents_guess: self.contents_inner.as_flattened_mut(),
        };
        guess.make();
    }

    /// Goal and guess of the last stage: the matrix of the inner one, which has the same weight, is at
    /// hand and tells where an iteration from there would lead.
    ///
    /// Before: the inner stage was the last to be solved. After: as with the inner guess.
    pub fn guess_next(
        &mut self,
        (inner, guess): (&[[f64; L]], &mut [[f64; L]]),
        rates: [&Rates<L>; 2],
        dt: &[f64; L],
        ties: Option<&[f64; L]>,
    ) {
        prepare_next_pair(self, rates, dt);
        let [heat, vapour] = &mut self.moves;
        solve_again(&self.workspace, (heat, vapour), ties);
        let [p, p_t, p_w, ..] = &self.workspace.fields.nodes;
        let mut guess = Guess {
            n_lanes: L,
            pressure: [p, p_t, p_w],
            temps: inner.as_flattened(),
            contents: self.contents_inner.as_flattened(),
            moves: self.moves.each_ref().map(|moves| moves.as_flattened()),
            temps_guess: guess.as_flattened_mut(),
            contents_guess: self.contents_next.as_flattened_mut(),
        };
        guess.make();
    }
}

per_target! {
    /// Goal of the inner stage, and how far the slopes lead until then in smooth lanes.
    fn prepare_inner_pair<const L: usize, const W: bool>(
        own: &mut PairState<L>,
        temp_slopes: &[[f64; L]],
        dt: &[f64; L],
        smooth: &[bool; L],
    ) {
        let dt = Pack::<L, W>(*dt);
        let weight = DIAGONAL * dt;
        let ahead = Mask::of(smooth).only(GAMMA * dt);
        for i in 0..own.contents.len() {
            own.goal[i] = (Pack(own.store[i]) + weight * Pack(own.start.gain[i])).0;
            own.moves[0][i] = (ahead * Pack(temp_slopes[i])).0;
            own.moves[1][i] = (ahead * Pack(own.slopes[i])).0;
        }
    }
}

per_target! {
    /// Goal of the last stage, and how far goals of heat and vapour lie beyond those of the inner one.
    fn prepare_next_pair<const L: usize, const W: bool>(
        own: &mut PairState<L>,
        rates: [&Rates<L>; 2],
        dt: &[f64; L],
    ) {
        let [start, inner] = rates;
        let dt = Pack::<L, W>(*dt);
        let (weight, of_inner) = (WEIGHT * dt, DIAGONAL * dt);
        for i in 0..own.contents.len() {
            let rate = Pack(start.rate[i]);
            let heat = weight * (rate + Pack(inner.rate[i]));
            let gain = Pack(own.start.gain[i]);
            let vapour = weight * (gain + Pack(own.inner.gain[i]));
            own.goal[i] = (Pack(own.store[i]) + vapour).0;
            own.moves[0][i] = (heat - of_inner * rate).0;
            own.moves[1][i] = (vapour - of_inner * gain).0;
        }
    }
}
