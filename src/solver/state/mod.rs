//! Everything that changes during a march, and how a lane is opened and ends.
//!
//! A step is planned, its start refreshed, attempted and controlled, in this order
//! ([`step`](crate::solver::march::step)); each has a file of its own here, and nothing outside sees what one
//! leaves to the next.

mod attempt;
mod control;
mod plan;
mod refresh;

use crate::solver::error::SolverError;
use crate::solver::fault::Fault;
use crate::solver::lanes::Lanes;
use crate::solver::ledger::Ledger;
use crate::solver::moment::Moment;
use crate::solver::options::Options;
use crate::solver::pair::state::PairState;
use crate::solver::problem::Problem;
use crate::solver::rates::Rates;
use crate::solver::stage::Workspace;
use crate::solver::watch::Watch;

/// Everything that changes during a march; arrays of nodes unless said otherwise.
pub(crate) struct State<const L: usize> {
    lanes: Lanes<L>,
    options: Options,
    /// Where the lanes stand [s].
    t: [f64; L],
    /// What the next step may be [s].
    dt: [f64; L],
    /// Step tried now, cut at the end of the piece [s].
    dt_now: [f64; L],
    /// Piece of the drive that the next step is in.
    piece: [usize; L],
    /// The lane goes on.
    active: [bool; L],
    /// A problem was put into the lane and its account is not opened yet.
    fresh: [bool; L],
    /// How the lane ended, until it is taken.
    ended: [Option<Result<(), SolverError>>; L],
    /// The rates at the start of the step must be evaluated anew.
    stale: [bool; L],
    /// The step before was smooth, so that slopes predict.
    smooth: [bool; L],
    /// Both stages of the step tried were solved.
    solved: [bool; L],
    /// The step was rejected and is tried anew.
    held_back: [bool; L],
    /// Curvature of the equations as Newton's iteration has seen it lately [1/K], one for stages that
    /// start far off and one for those that start near.
    curvature: [[f64; L]; 2],
    /// Temperatures where the lanes stand, at the inner stage and at the step's end [K].
    temps: Vec<[f64; L]>,
    temps_inner: Vec<[f64; L]>,
    temps_next: Vec<[f64; L]>,
    /// Highest temperatures so far [K].
    peaks: Vec<[f64; L]>,
    /// Heat held, by the account and when it was opened [J/m²].
    heat: Vec<[f64; L]>,
    heat_start: Vec<[f64; L]>,
    /// Rates of temperature where the lanes stand and at the step's end [K/s].
    slopes: Vec<[f64; L]>,
    slopes_next: Vec<[f64; L]>,
    /// Heat that the stage is to hold [J/m²]; then room for the error.
    goal: Vec<[f64; L]>,
    /// Rates at the start of the step, at the inner stage and at its end.
    start: Rates<L>,
    inner: Rates<L>,
    next: Rates<L>,
    workspace: Workspace<L>,
    /// Vapour beside heat, where anything binds it.
    pair: Option<Box<PairState<L>>>,
    ledgers: [Ledger; L],
    /// Weights of the lanes when their last node is one and the same.
    ties: Option<[f64; L]>,
}

/// Steps of Newton's method by which an ended lane is put where its accounts stand: with one, water was up
/// to 4e-9 kg/m² off in 500 made-up layups that char.
const N_KEPT: usize = 2;

impl<const L: usize> State<L> {
    /// A march at its start, every lane active.
    pub fn new(lanes: Lanes<L>, options: &Options, ties: Option<[f64; L]>) -> State<L> {
        let mut state = State::idle(lanes, options, ties);
        for l in 0..L {
            state.open_lane(l);
        }
        state
    }

    /// A march at its start, the first lane active.
    pub fn with_first_lane(lanes: Lanes<L>, options: &Options) -> State<L> {
        let mut state = State::idle(lanes, options, None);
        for l in 0..L {
            // idle lanes too hold numbers that can be computed with
            state.open_lane(l);
            state.active[l] = l == 0;
        }
        state
    }

    fn idle(lanes: Lanes<L>, options: &Options, ties: Option<[f64; L]>) -> State<L> {
        let n = lanes.n;
        let zeros = || vec![[0.0; L]; n];
        State {
            options: *options,
            t: [0.0; L],
            dt: [0.0; L],
            dt_now: [0.0; L],
            piece: [0; L],
            active: [false; L],
            fresh: [false; L],
            ended: std::array::from_fn(|_| None),
            stale: [false; L],
            smooth: [false; L],
            solved: [false; L],
            held_back: [false; L],
            curvature: [[f64::INFINITY; L]; 2],
            temps: zeros(),
            temps_inner: zeros(),
            temps_next: zeros(),
            peaks: zeros(),
            heat: zeros(),
            heat_start: zeros(),
            slopes: zeros(),
            slopes_next: zeros(),
            goal: zeros(),
            start: Rates::new(&lanes),
            inner: Rates::new(&lanes),
            next: Rates::new(&lanes),
            workspace: Workspace::new(n),
            pair: lanes.pair.as_ref().map(|pair| Box::new(PairState::new(&lanes, pair))),
            ledgers: [Ledger::default(); L],
            ties,
            lanes,
        }
    }

    /// Puts another problem into a lane that has ended or never began, at its start, and activates it.
    ///
    /// Errors: as [`Lanes::load`]; the lane then stays idle, as it was.
    pub fn load(&mut self, l: usize, problem: &Problem) -> Result<(), Fault> {
        self.lanes.load(l, problem)?;
        self.open_lane(l);
        Ok(())
    }

    /// Puts the lane at the start of its problem and activates it; its account opens with its first step.
    fn open_lane(&mut self, l: usize) {
        for i in 0..self.lanes.n {
            self.temps[i][l] = self.lanes.temps_start[i][l];
            self.peaks[i][l] = self.lanes.temps_start[i][l];
        }
        if let (Some(own), Some(pair)) = (&mut self.pair, &self.lanes.pair) {
            own.open_lane(l, pair);
        }
        self.t[l] = 0.0;
        self.dt[l] = self.options.dt_start;
        self.piece[l] = 0;
        self.smooth[l] = false;
        self.held_back[l] = false;
        self.forget_curvature(l);
        self.ledgers[l] = Ledger::default();
        self.active[l] = true;
        self.fresh[l] = true;
        self.stale[l] = true;
    }

    /// Puts a lane that is open and has made no step yet at a later moment; its account opens there.
    ///
    /// After: the lane goes on from there, in the piece of the drive that the moment lies in.
    ///
    /// Panics: if the moment has not one entry a node, and one a share converted where anything reacts.
    pub fn take_up(&mut self, l: usize, moment: &Moment<'_>) {
        let n = self.lanes.n;
        assert!(moment.temps.len() == n && moment.peaks.len() == n, "one entry a node");
        for i in 0..n {
            self.temps[i][l] = moment.temps[i];
            self.peaks[i][l] = moment.peaks[i];
        }
        if let Some(own) = &mut self.pair {
            own.take_up(l, moment);
        }
        self.t[l] = moment.t;
        let pieces = &self.lanes.pieces[l];
        let now = pieces.iter().position(|piece| piece.t_end > moment.t);
        self.piece[l] = now.unwrap_or(pieces.len() - 1);
    }

    /// Whether any lane still goes on.
    pub fn is_active(&self) -> bool {
        self.active.contains(&true)
    }

    /// Takes how a lane has ended, with its closed account; none while it goes on or when it was taken.
    pub fn take_end(&mut self, l: usize) -> Option<Result<Ledger, SolverError>> {
        let end = self.ended[l].take()?;
        Some(end.map(|()| self.ledgers[l]))
    }

    /// Ends a lane. After: it is idle, and `how` waits to be taken.
    fn end(&mut self, l: usize, how: Result<(), SolverError>) {
        self.active[l] = false;
        self.ended[l] = Some(how);
    }

    /// Tied lanes end together: when one does, all do, and alike.
    fn end_together(&mut self) {
        if self.ties.is_none() {
            return;
        }
        let Some(end) = self.ended.iter().find_map(Option::clone) else { return };
        for l in 0..L {
            self.end(l, end.clone());
        }
    }

    /// Closes the accounts of the lanes that have just ended, tied ones together; the last of a step.
    ///
    /// Before: what the step led to is settled. After: their stored heat is drawn up from the temperatures
    /// themselves, and their ends wait to be taken ([`State::take_end`]).
    pub(in crate::solver) fn close<W: Watch>(&mut self, watches: &mut [W; L]) {
        self.end_together();
        if self.ended.iter().any(|end| matches!(end, Some(Ok(())))) {
            self.close_accounts(watches);
        }
    }

    /// Draws up the stored heat of the lanes that have just ended, from the temperatures themselves.
    ///
    /// Before: they stand at their end. After: their accounts are closed; `next` holds the rates there.
    fn close_accounts<W: Watch>(&mut self, watches: &mut [W; L]) {
        self.evaluate_next();
        let apart = self.lanes.held || self.ties.is_some();
        for _ in 0..N_KEPT {
            let Some(own) = &mut self.pair else { break };
            let heat = &self.heat[..self.lanes.n - usize::from(apart)];
            for l in (0..L).filter(|l| self.ended[*l] == Some(Ok(()))) {
                own.keep_accounts(l, heat, &self.next, &mut self.temps);
            }
            self.evaluate_next();
        }
        for l in (0..L).filter(|l| self.ended[*l] == Some(Ok(()))) {
            if let Some(settled) = self.settled(l) {
                watches[l].settled(&settled);
            }
        }
        for i in 0..self.lanes.n {
            if self.lanes.held && i == self.lanes.n - 1 {
                continue;
            }
            for l in (0..L).filter(|l| self.ended[*l] == Some(Ok(()))) {
                self.ledgers[l].heat_stored += self.next.heat[i][l] - self.heat_start[i][l];
                if let Some(own) = &self.pair {
                    self.ledgers[l].vapour_stored += own.stored(i, l);
                }
            }
        }
    }
}
