//! What changes of vapour during a march, beside what changes of heat.

pub mod attempt;
pub mod control;

use crate::physics::vapour::enthalpy_vapour;
use crate::solver::evaluate::At;
use crate::solver::lanes::Lanes;
use crate::solver::moment::Moment;
use crate::solver::pack::Pack;
use crate::solver::pair::conversion::Conversion;
use crate::solver::pair::lanes::PairLanes;
use crate::solver::pair::rates::{PairRates, slopes};
use crate::solver::pair::stage::{PairAt, blown, evaluate_dry_pair, evaluate_pair};
use crate::solver::pair::workspace::PairWorkspace;
use crate::solver::rates::Rates;

/// Contents and accounts of vapour of all nodes; the stages are those of heat.
pub(crate) struct PairState<const L: usize> {
    /// Contents, bound and liquid [kg/m²].
    contents: Vec<[f64; L]>,
    contents_inner: Vec<[f64; L]>,
    contents_next: Vec<[f64; L]>,
    /// Their rates [kg/(m²·s)].
    slopes: Vec<[f64; L]>,
    slopes_next: Vec<[f64; L]>,
    /// What is held in all, by the account and at the start [kg/m²].
    store: Vec<[f64; L]>,
    store_start: Vec<[f64; L]>,
    goal: Vec<[f64; L]>,
    /// Pressures where the step starts, with their derivatives by temperature and content; flat.
    pressure: [Vec<f64>; 3],
    /// How far temperatures and contents are guessed to go if all is linear.
    moves: [Vec<[f64; L]>; 2],
    start: PairRates<L>,
    inner: PairRates<L>,
    next: PairRates<L>,
    /// Heat without vapour where the lanes stand, with drive and conversion as they were.
    before: Rates<L>,
    /// What the outer film passed per drop of the potential with drive and conversion as they were.
    front_before: [f64; L],
    workspace: PairWorkspace<L>,
    /// Conversion, where anything reacts.
    conversion: Option<Conversion<L>>,
}

/// Most that a change of the film adds to what passes it as a step begins, as a share of it [–].
const MORE_MOST: f64 = 0.1;

impl<const L: usize> PairState<L> {
    /// Room for the lanes of a march; each means something once it is opened.
    pub fn new(lanes: &Lanes<L>, pair: &PairLanes<L>) -> PairState<L> {
        let n = lanes.n;
        let zeros = || vec![[0.0; L]; n];
        let rates = || PairRates::new(n);
        PairState {
            contents: zeros(),
            contents_inner: zeros(),
            contents_next: zeros(),
            slopes: zeros(),
            slopes_next: zeros(),
            store: zeros(),
            store_start: zeros(),
            goal: zeros(),
            pressure: std::array::from_fn(|_| vec![0.0; n * L]),
            moves: [zeros(), zeros()],
            start: rates(),
            inner: rates(),
            next: rates(),
            before: Rates::new(lanes),
            front_before: [0.0; L],
            workspace: PairWorkspace::new(n, lanes.joints.len()),
            conversion: (pair.n_entries > 0)
                .then(|| Conversion::new(n, pair.n_entries, pair.reacting.len())),
        }
    }

    /// Evaluates both fields where the lanes stand, into the next stage; no lane moves.
    pub fn evaluate(
        &mut self,
        (lanes, pair): (&Lanes<L>, &PairLanes<L>),
        heat: At<'_, L>,
        next: &mut Rates<L>,
    ) {
        let drive = blown(self.conversion.as_ref(), pair, heat.drive.clone());
        let heat = At { drive: &drive, ..heat };
        let at = PairAt { heat, contents: &self.contents };
        let pair = (pair, self.conversion.as_ref());
        evaluate_pair(lanes, pair, &at, (next, &mut self.next), &mut self.workspace);
    }

    /// Evaluates heat without vapour where the lanes stand, with drive and conversion as they were, to be
    /// compared with; `rates` is used as workspace.
    pub fn evaluate_before(
        &mut self,
        lanes: (&Lanes<L>, &PairLanes<L>),
        heat: At<'_, L>,
        rates: &mut Rates<L>,
    ) {
        self.front_before = self.evaluate_dry(lanes, heat, rates);
        std::mem::swap(rates, &mut self.before);
    }

    /// Evaluates heat without vapour where the lanes stand; returns what the outer film passes per
    /// drop of the potential.
    pub fn evaluate_dry(
        &mut self,
        (lanes, pair): (&Lanes<L>, &PairLanes<L>),
        heat: At<'_, L>,
        rates: &mut Rates<L>,
    ) -> [f64; L] {
        let drive = blown(self.conversion.as_ref(), pair, heat.drive.clone());
        let heat = At { drive: &drive, ..heat };
        let given = (pair, self.conversion.as_ref());
        evaluate_dry_pair(lanes, given, &heat, (rates, &mut self.next.taken), &mut self.workspace)
    }

    /// Moves a lane's rates at the start of the step by what another drive or conversion makes of them;
    /// returns what the heat into the outer face is more besides [W/m²].
    ///
    /// A film that passes vapour otherwise passes as much more of what went through it in the step,
    /// not of what would go through where the step ended: that is beyond measure at a dry face. After
    /// a jump of the film a dry face follows at once, and what passes it hardly changes.
    ///
    /// Before: evaluated as it was ([`PairState::evaluate_before`]), and what the step converts is set free.
    ///
    /// - `front`: what the film passes now, per drop of the potential
    /// - `temp`: temperature of the outer face [K]
    pub fn shift_start(&mut self, l: usize, front: f64, temp: f64) -> f64 {
        let PairRates { gain, passing, .. } = &mut self.start;
        if let Some(conversion) = &self.conversion {
            for (gain, more) in gain.iter_mut().zip(&conversion.vapour_more) {
                gain[l] += more[l];
                passing.supplied[l] += more[l];
            }
        }
        let before = self.front_before[l];
        if front == before || before == 0.0 {
            return 0.0;
        }
        let more = (front / before - 1.0).clamp(-MORE_MOST, MORE_MOST) * passing.inwards[l];
        gain[0][l] += more;
        passing.inwards[l] += more;
        more * enthalpy_vapour(temp)
    }

    /// Takes over what was evaluated at the start of a step, in one lane.
    ///
    /// Before: both fields were just evaluated where it stands, heat into `now`. After: rates, slopes and
    /// pressures belong there; the account of a fresh lane is open.
    pub fn take_start(
        &mut self,
        l: usize,
        now: &Rates<L>,
        (temp_slopes, fresh): (&mut [[f64; L]], bool),
        ties: Option<&[f64; L]>,
    ) {
        let n = self.store.len();
        for i in 0..n {
            let [temp, content] = slopes::<L, false>(now, &self.next, i);
            temp_slopes[i][l] = temp.0[l];
            self.slopes[i][l] = content.0[l];
            if fresh {
                self.store[i][l] = self.next.store[i][l];
                self.store_start[i][l] = self.next.store[i][l];
            }
        }
        if let Some(weights) = ties {
            let (temp, content) = self.next.tied_slopes(weights, now);
            temp_slopes[n - 1][l] = temp;
            self.slopes[n - 1][l] = content[l];
        }
        self.start.take(&self.next, l);
        for (own, looked) in self.pressure.iter_mut().zip(&self.workspace.fields.nodes) {
            for i in 0..n {
                own[i * L + l] = looked[i * L + l];
            }
        }
    }

    /// Puts an ended lane where its accounts stand, node by node, by one step of Newton's method from
    /// where it was just evaluated: what the stages left open was of the second order in their last
    /// corrections.
    ///
    /// - `heat`: the account of heat [J/m²], of as many nodes as its temperature may move of
    pub fn keep_accounts(
        &mut self,
        l: usize,
        heat: &[[f64; L]],
        now: &Rates<L>,
        temps: &mut [[f64; L]],
    ) {
        for i in 0..temps.len() {
            let held = self.next.block::<false>(now, i);
            let store = Pack(self.store[i]) - Pack(self.next.store[i]);
            let [temp, content] = match heat.get(i) {
                Some(heat) => held.inverse().on([Pack(*heat) - Pack(now.heat[i]), store]),
                None => [Pack::ZERO, store / held.ww],
            };
            temps[i][l] += temp.0[l];
            self.contents[i][l] += content.0[l];
        }
    }

    /// Puts a lane at the start of its problem, nothing converted; its account opens with its first step.
    pub fn open_lane(&mut self, l: usize, pair: &PairLanes<L>) {
        self.put(l, |i| pair.start[i][l]);
        if let Some(conversion) = &mut self.conversion {
            conversion.put(l, |_| 0.0);
        }
    }

    /// Puts a lane just opened at a later moment.
    ///
    /// Panics: if it has not one content a node and one entry a share converted.
    pub fn take_up(&mut self, l: usize, moment: &Moment<'_>) {
        assert!(moment.contents.len() == self.contents.len(), "one entry a node");
        self.put(l, |i| moment.contents[i]);
        if let Some(conversion) = &mut self.conversion {
            assert!(moment.converted.len() == conversion.done.len(), "one entry a share");
            conversion.put(l, |e| moment.converted[e]);
        }
    }

    /// Conversion, where anything reacts.
    pub fn conversion(&mut self) -> Option<&mut Conversion<L>> {
        self.conversion.as_mut()
    }

    /// Whether a lane converts or sets gas free in the step planned or did in the one before.
    pub fn converts(&self, l: usize) -> bool {
        let converts = |own: &Conversion<L>| own.gassed[l] || own.converts[l];
        self.conversion.as_ref().is_some_and(converts)
    }

    /// Heat without vapour where the lanes stand, as last evaluated by [`PairState::evaluate_before`].
    pub fn before(&self) -> &Rates<L> {
        &self.before
    }

    /// Puts the rates at the start of a lane's step in place of those last evaluated, for
    /// [`PairState::take_start`] to take.
    pub fn keep_start(&mut self, l: usize) {
        self.next.take(&self.start, l);
    }

    /// What a node of a lane holds as last evaluated, beyond what it held when its account was opened [kg/m²].
    pub fn stored(&self, i: usize, l: usize) -> f64 {
        self.next.store[i][l] - self.store_start[i][l]
    }

    fn put(&mut self, l: usize, content: impl Fn(usize) -> f64) {
        for i in 0..self.contents.len() {
            self.contents[i][l] = content(i);
        }
    }
}
