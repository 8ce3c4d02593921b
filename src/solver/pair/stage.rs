//! One implicit stage of both unknowns: Newton's method on the exact block-tridiagonal Jacobian.

use crate::solver::evaluate::{At, DriveAt, Ends, Node, Rows};
use crate::solver::lanes::Lanes;
use crate::solver::media::Point;
use crate::solver::pack::Pack;
use crate::solver::pair::backward::{Backward, backward};
use crate::solver::pair::conversion::{Conversion, HeatRows, Stage, add_conversion};
use crate::solver::pair::forward::{Forward, forward};
use crate::solver::pair::front::Front;
use crate::solver::pair::lanes::{Holds, PairLanes};
use crate::solver::pair::rates::PairRates;
use crate::solver::pair::trend::{Trend, reopen};
use crate::solver::pair::workspace::{Last, PairWorkspace};
use crate::solver::rates::Rates;
use crate::solver::stage::{Ask, Given, Sizes, StageEnd, add_where, note_sizes};
use crate::solver::target::per_target;

/// Most Newton iterations before a stage counts as failed.
const N_NEWTON_MOST: usize = 14;

/// What a stage starts from, of vapour.
#[derive(Clone, Copy)]
pub(crate) struct PairGiven<'a, const L: usize> {
    pub pair: &'a PairLanes<L>,
    /// Goals [kg/m²].
    pub goal: &'a [[f64; L]],
    /// Conversion, where anything reacts, and the place within the step.
    pub conversion: Option<&'a Conversion<L>>,
    pub place: f64,
}

/// Where the chain is evaluated.
#[derive(Clone, Copy)]
pub(crate) struct PairAt<'a, const L: usize> {
    pub heat: At<'a, L>,
    pub contents: &'a [[f64; L]],
}

/// Solves `heat − weight·rate = goal` and the like of vapour, from the guesses in `temps` and
/// `contents`; rates end up at the solution. What a lane that is not solved holds afterwards is of
/// no use.
pub(crate) fn solve_pair<const L: usize>(
    lanes: &Lanes<L>,
    ask: &Ask<L>,
    (heat, own): (Given<'_, L>, PairGiven<'_, L>),
    (temps, contents): (&mut [[f64; L]], &mut [[f64; L]]),
    (rates, pair_rates): (&mut Rates<L>, &mut PairRates<L>),
    workspace: &mut PairWorkspace<L>,
) -> StageEnd<L> {
    let mut open = ask.active;
    let mut end = StageEnd { solved: [false; L], n_iterations: [0; L], curvature: [None; L] };
    let mut size_before = [0.0; L];
    let mut trend = Trend::NONE;
    let drive = blown(own.conversion, own.pair, lanes.drive_at(&ask.t, &ask.piece));
    supply(lanes, own, &ask.t, pair_rates, workspace);
    for _ in 0..N_NEWTON_MOST {
        let at = At { temps, peaks: heat.peaks, t: &ask.t, drive: &drive };
        let at = PairAt { heat: at, contents };
        eliminate(lanes, (&ask.weight, heat.goal), own, &at, (rates, pair_rates), workspace);
        workspace.solve_last(ask.ties.as_ref());
        let (mut sizes, limited) = go_back(lanes, ask, own.pair, &at, workspace);
        trend.note(&mut sizes);
        note_sizes(ask, sizes, &mut size_before, &mut open, &mut end);
        reopen(ask, limited, &mut size_before, &mut open, &mut end);
        if !open.contains(&true) {
            break;
        }
        add(&open, (temps, contents), workspace);
    }
    keep_held(pair_rates, workspace);
    add(&[true; L], (temps, contents), workspace);
    shift(ask, rates, pair_rates, workspace);
    end
}

/// Evaluates everything at `at`; the matrix in `workspace` is of no use afterwards.
pub(crate) fn evaluate_pair<const L: usize>(
    lanes: &Lanes<L>,
    (pair, conversion): (&PairLanes<L>, Option<&Conversion<L>>),
    at: &PairAt<'_, L>,
    (rates, pair_rates): (&mut Rates<L>, &mut PairRates<L>),
    workspace: &mut PairWorkspace<L>,
) {
    // no goal is asked for: any will do
    let goal = at.contents;
    let given = PairGiven { pair, goal, conversion, place: 0.0 };
    supply(lanes, given, at.heat.t, pair_rates, workspace);
    eliminate(lanes, (&[0.0; L], goal), given, at, (rates, pair_rates), workspace);
    keep_held(pair_rates, workspace);
    rates.heat.copy_from_slice(&workspace.heat);
}

/// Evaluates heat without vapour at `at`; returns what the outer film passes of vapour per drop of the
/// potential.
pub(crate) fn evaluate_dry_pair<const L: usize>(
    lanes: &Lanes<L>,
    (pair, conversion): (&PairLanes<L>, Option<&Conversion<L>>),
    at: &At<'_, L>,
    (rates, taken): (&mut Rates<L>, &mut [[f64; L]]),
    workspace: &mut PairWorkspace<L>,
) -> [f64; L] {
    walk_dry(lanes, at, (pair, conversion, 0.0), (rates, taken), workspace);
    match pair.holds[0] {
        Holds::Nothing => [0.0; L],
        _ => Front::of(at.drive, &at.temps[0]).value,
    }
}

/// The drive whose film feels the gas that leaves the outer face.
pub(crate) fn blown<const L: usize>(
    conversion: Option<&Conversion<L>>,
    pair: &PairLanes<L>,
    mut drive: DriveAt<L>,
) -> DriveAt<L> {
    if let Some(conversion) = conversion {
        conversion.blow(&pair.blown, &mut drive);
    }
    drive
}

/// Walks the chain for heat without vapour, with what conversion adds at a place within the step.
fn walk_dry<const L: usize>(
    lanes: &Lanes<L>,
    at: &At<'_, L>,
    (pair, conversion, place): (&PairLanes<L>, Option<&Conversion<L>>, f64),
    (rates, taken): (&mut Rates<L>, &mut [[f64; L]]),
    workspace: &mut PairWorkspace<L>,
) {
    let Rates { cap, rate, ends, .. } = rates;
    let PairWorkspace { points, heat, diag, before, after, lost, .. } = workspace;
    let keep = KeepHeat { heat, cap, rate, diag, before, after };
    walk_heat(lanes, at, keep, ends, points);
    if let Some(conversion) = conversion {
        let mut rows = HeatRows { heat, cap, rate, diag, before, after, ends, taken, points, lost };
        let stage = Stage { temps: at.temps, peaks: at.peaks, place };
        add_conversion(lanes, &pair.reacting, conversion, stage, &mut rows);
    }
}

/// Keeps heat without vapour and its matrix.
struct KeepHeat<'a, const L: usize> {
    heat: &'a mut [[f64; L]],
    cap: &'a mut [[f64; L]],
    rate: &'a mut [[f64; L]],
    diag: &'a mut [[f64; L]],
    before: &'a mut [[f64; L]],
    after: &'a mut [[f64; L]],
}

impl<const L: usize, const W: bool> Rows<L, W> for KeepHeat<'_, L> {
    #[inline(always)]
    fn row(&mut self, i: usize, node: &Node<L, W>, before: Pack<L, W>, after: Pack<L, W>) {
        self.heat[i] = node.heat.0;
        self.cap[i] = node.cap.0;
        self.rate[i] = node.rate.0;
        self.diag[i] = node.diag.0;
        self.before[i] = before.0;
        self.after[i] = after.0;
    }
}

per_target! {
    /// Walks the chain for heat without vapour.
    fn walk_heat<const L: usize, const W: bool>(
        lanes: &Lanes<L>,
        at: &At<'_, L>,
        keep: KeepHeat<'_, L>,
        ends: &mut Ends<L>,
        points: &mut [Point<L>],
    ) {
        let mut keep = keep;
        lanes.walk::<W>(at, &mut keep, (ends, points));
    }
}

/// Looks at what supplies and conversion set free at a time, the same in every iteration of a stage.
fn supply<const L: usize>(
    lanes: &Lanes<L>,
    PairGiven { pair, conversion, .. }: PairGiven<L>,
    t: &[f64; L],
    own: &mut PairRates<L>,
    workspace: &mut PairWorkspace<L>,
) {
    lanes.look_at_supplies(pair, t, &mut workspace.supplied);
    if let Some(conversion) = conversion {
        conversion.supply(pair.supplies.is_empty(), &mut workspace.supplied);
    }
    for l in 0..L {
        own.passing.supplied[l] = workspace.supplied.iter().map(|supplied| supplied[l]).sum();
    }
}

/// Keeps what the nodes held when they were last looked at.
fn keep_held<const L: usize>(own: &mut PairRates<L>, workspace: &PairWorkspace<L>) {
    let [.., heat_w, store, store_t, store_w] =
        workspace.fields.nodes.each_ref().map(Vec::as_slice);
    own.heat_w.as_flattened_mut().copy_from_slice(heat_w);
    own.store.as_flattened_mut().copy_from_slice(store);
    own.store_t.as_flattened_mut().copy_from_slice(store_t);
    own.store_w.as_flattened_mut().copy_from_slice(store_w);
}

/// Evaluates everything and eliminates the Newton matrix up to the last node.
fn eliminate<const L: usize>(
    lanes: &Lanes<L>,
    (weight, goal): (&[f64; L], &[[f64; L]]),
    PairGiven { pair, goal: goal_w, conversion, place }: PairGiven<L>,
    at: &PairAt<L>,
    (rates, own): (&mut Rates<L>, &mut PairRates<L>),
    workspace: &mut PairWorkspace<L>,
) {
    walk_dry(lanes, &at.heat, (pair, conversion, place), (rates, &mut own.taken), workspace);
    let Rates { cap, rate, ends, .. } = rates;
    let temps = at.heat.temps;
    if pair.holds[0] != Holds::Nothing {
        workspace.front = Front::of(at.heat.drive, &temps[0]);
    }
    lanes.look_at_joints(temps, &mut workspace.moving);
    let passing = &mut own.passing;
    let Front { value, by_t, outside } = &workspace.front;
    let Last { pivot, rate: last_rate, by_own, by_before, .. } = &mut workspace.last;
    let ([tt, tw, wt, ww], [own_t, own_w]) = (pivot, by_own);
    let [before_t, before_w] = by_before;
    workspace.fields.look(pair, temps, at.contents, &workspace.moving);
    let [p, p_t, p_w, _, heat_v, heat_t, heat_w, store, store_t, store_w] =
        workspace.fields.nodes.each_ref().map(Vec::as_slice);
    let [q, q_t, q_t1, q_w, q_w1, j, j_t, j_t1, j_w, j_w1] =
        workspace.fields.fluxes.each_ref().map(Vec::as_slice);
    let mut all = Forward {
        n: lanes.n,
        n_lanes: L,
        open: pair.holds[0] != Holds::Nothing,
        pressure: [p, p_t, p_w],
        held: [heat_v, heat_t, store],
        held_by: [heat_w, store_t, store_w],
        through: [q, j],
        through_by: [[q_t, q_w, j_t, j_w], [q_t1, q_w1, j_t1, j_w1]],
        temps: temps.as_flattened(),
        goal: goal.as_flattened(),
        goal_w: goal_w.as_flattened(),
        weight,
        heat: workspace.heat.as_flattened_mut(),
        cap: cap.as_flattened_mut(),
        rate: rate.as_flattened_mut(),
        diag: workspace.diag.as_flattened(),
        before: workspace.before.as_flattened(),
        after: workspace.after.as_flattened(),
        front: [value, by_t, outside],
        supplied: workspace.supplied.as_flattened(),
        gain: own.gain.as_flattened_mut(),
        carried: workspace.carried.as_flattened_mut(),
        lower: workspace.lower.each_mut().map(|part| part.as_flattened_mut()),
        inverse: workspace.inverse.each_mut().map(|part| part.as_flattened_mut()),
        upper: workspace.upper.each_mut().map(|part| part.as_flattened_mut()),
        delta_t: workspace.delta_t.as_flattened_mut(),
        delta_w: workspace.delta_w.as_flattened_mut(),
        excess: workspace.excess.as_flattened_mut(),
        excess_w: workspace.excess_w.as_flattened_mut(),
        pivot: [tt, tw, wt, ww],
        last_rate,
        by_own: [own_t, own_w],
        by_before: [before_t, before_w],
        passing: [
            &mut passing.inwards,
            &mut passing.by_t,
            &mut passing.by_w,
            &mut passing.q_in,
            &mut passing.q_in_by_t,
            &mut passing.q_in_by_w,
        ],
    };
    forward(&mut all, L);
    for l in 0..L {
        ends.q_in[l] += passing.q_in[l];
        ends.q_in_slope[l] += passing.q_in_by_t[l];
    }
    if lanes.held {
        // what a held last face passes on was reckoned with heat alone: nothing else reaches it
        debug_assert_eq!(pair.holds[lanes.n - 1], Holds::Nothing);
    }
}

/// Substitutes backwards; also tells the lanes in which a correction was held back.
fn go_back<const L: usize>(
    lanes: &Lanes<L>,
    ask: &Ask<L>,
    pair: &PairLanes<L>,
    at: &PairAt<L>,
    workspace: &mut PairWorkspace<L>,
) -> (Sizes<L>, [bool; L]) {
    let measured = &mut workspace.measured;
    let [first_t, first_w] = &mut measured.first;
    let mut all = Backward {
        n: lanes.n,
        n_lanes: L,
        upper: workspace.upper.each_ref().map(|part| part.as_flattened()),
        temps: at.heat.temps.as_flattened(),
        contents: at.contents.as_flattened(),
        temps_start: lanes.temps_start.as_flattened(),
        contents_start: pair.start.as_flattened(),
        kelvins: pair.kelvins.as_flattened(),
        peaks: lanes.has_changes().then_some(at.heat.peaks.as_flattened()),
        tol: ask.newton_tol,
        rise_scale: ask.rise_scale,
        delta_t: workspace.delta_t.as_flattened_mut(),
        delta_w: workspace.delta_w.as_flattened_mut(),
        size: &mut measured.size,
        beyond: &mut measured.beyond,
        lowest: &mut measured.lowest,
        highest: &mut measured.highest,
        over: &mut measured.over,
        turned: &mut measured.turned,
        first: [first_t, first_w],
    };
    backward(&mut all, L);
    let (mut bad, mut turned, mut limited) = ([false; L], [false; L], [false; L]);
    for l in 0..L {
        let within = measured.lowest[l] > 1.0 && measured.highest[l] < 1e5;
        // NaN in a correction spreads to its lane's first unknowns, which it is looked for in
        bad[l] = !(within && measured.first.iter().all(|first| first[l].is_finite()));
        turned[l] = measured.turned[l].is_sign_negative();
        limited[l] = measured.over[l] > 0.0;
    }
    (Sizes { size: measured.size, beyond: measured.beyond, bad, turned }, limited)
}

per_target! {
    /// Adds the corrections in the lanes of `which`.
    fn add<const L: usize, const W: bool>(
        which: &[bool; L],
        unknowns: (&mut [[f64; L]], &mut [[f64; L]]),
        workspace: &PairWorkspace<L>,
    ) {
        add_where::<L, W>(which, &workspace.delta_t, unknowns.0);
        add_where::<L, W>(which, &workspace.delta_w, unknowns.1);
    }
}

per_target! {
    /// Moves the rates along the last correction, as for heat alone: what a node gains is what its
    /// account asks for.
    fn shift<const L: usize, const W: bool>(
        ask: &Ask<L>,
        rates: &mut Rates<L>,
        own: &mut PairRates<L>,
        workspace: &PairWorkspace<L>,
    ) {
        let n = workspace.delta_t.len();
        let last = n - 1;
        let weight = Pack::<L, W>(ask.weight);
        // a lane at rest has no weight
        let per_weight = weight.at_least(Pack::all(f64::MIN_POSITIVE)).only(1.0 / weight);
        for i in 0..n {
            let (t, w) = (Pack(workspace.delta_t[i]), Pack(workspace.delta_w[i]));
            let heat = Pack(workspace.excess[i]) + Pack(rates.cap[i]) * t + Pack(own.heat_w[i]) * w;
            let held = Pack(workspace.excess_w[i]) + Pack(own.store_t[i]) * t + Pack(own.store_w[i]) * w;
            if i < last {
                rates.rate[i] = (heat * per_weight).0;
            }
            own.gain[i] = (held * per_weight).0;
        }
        let row = &workspace.last;
        let Ends { q_in, q_out, q_in_slope, q_out_slope, .. } = &mut rates.ends;
        for l in 0..L {
            rates.rate[last][l] = row.rate[l]
                + row.by_before[0][l] * workspace.delta_t[last - 1][l]
                + row.by_before[1][l] * workspace.delta_w[last - 1][l]
                + row.by_own[0][l] * workspace.delta_t[last][l]
                + row.by_own[1][l] * workspace.delta_w[last][l];
            let (t, w) = (workspace.delta_t[0][l], workspace.delta_w[0][l]);
            q_in[l] += q_in_slope[l] * t + own.passing.q_in_by_w[l] * w;
            own.passing.inwards[l] += own.passing.by_t[l] * t + own.passing.by_w[l] * w;
        }
        for (slope, delta) in q_out_slope.iter().zip(&workspace.delta_t) {
            for l in 0..L {
                q_out[l] += slope[l] * delta[l];
            }
        }
    }
}
