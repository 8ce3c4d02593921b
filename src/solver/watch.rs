//! What is shown of an accepted step, and to whom.

/// Whether to go on after a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Next {
    /// Go on.
    Go,
    /// Everything asked for is known.
    Stop,
    /// Nobody waits for it any more.
    GiveUp,
}

/// Looks at accepted steps.
pub trait Watch {
    /// Called once per accepted step, in order of time.
    fn step(&mut self, step: &Step<'_>) -> Next;

    /// Called where vapour moves when a run has ended, after its last step: temperatures and contents at
    /// that step's end, put where their accounts stand. What the steps left open in them was of the second
    /// order in the last corrections; conversion is not shown.
    fn settled(&mut self, _end: &Step<'_>) {}
}

/// A place without a watch lets the march go on.
impl<W: Watch> Watch for Option<W> {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.as_mut().map_or(Next::Go, |watch| watch.step(step))
    }

    fn settled(&mut self, end: &Step<'_>) {
        if let Some(watch) = self {
            watch.settled(end);
        }
    }
}

/// An accepted step: temperatures and their slopes at both ends.
#[derive(Debug, Clone, Copy)]
pub struct Step<'a> {
    /// Start [s].
    pub t0: f64,
    /// End [s].
    pub t1: f64,
    /// Net heat that has entered through the outer face up to the end [J/m²].
    pub heat_in: f64,
    /// Lane shown, of `n_lanes`.
    pub(crate) lane: usize,
    /// Lanes that lie side by side in what follows.
    pub(crate) n_lanes: usize,
    /// Temperatures at either end [K].
    pub(crate) temps: [&'a [f64]; 2],
    /// Their rates at either end [K/s].
    pub(crate) slopes: [&'a [f64]; 2],
    /// Contents of vapour at either end [kg/m²]; empty where nothing binds any.
    pub(crate) contents: [&'a [f64]; 2],
    /// Their rates at either end [kg/(m²·s)].
    pub(crate) content_slopes: [&'a [f64]; 2],
    /// Shares converted at the start and what the step adds; empty where nothing reacts.
    pub(crate) converted: [&'a [f64]; 2],
}

impl<'a> Step<'a> {
    /// A straight piece between readings taken elsewhere, such as a bench's, for a watch to look at.
    ///
    /// - `t`: its start and end [s], the end later
    /// - `temps`: temperature of each node at either end [K]
    /// - `slopes`: rate of each node between them [K/s]
    ///
    /// No heat is counted. Panics: if the three do not have the same number of nodes.
    pub fn straight(t: [f64; 2], temps: [&'a [f64]; 2], slopes: &'a [f64]) -> Step<'a> {
        let n = slopes.len();
        assert!(temps.iter().all(|one| one.len() == n), "one entry a node");
        let (lane, n_lanes) = (0, 1);
        Step {
            t0: t[0],
            t1: t[1],
            heat_in: 0.0,
            lane,
            n_lanes,
            temps,
            slopes: [slopes, slopes],
            contents: [&[], &[]],
            content_slopes: [&[], &[]],
            converted: [&[], &[]],
        }
    }
}

impl Step<'_> {
    /// Number of nodes.
    pub fn n_nodes(&self) -> usize {
        self.temps[0].len() / self.n_lanes
    }

    /// Temperature of a node at the start [K].
    pub fn temp0(&self, node: usize) -> f64 {
        self.temps[0][node * self.n_lanes + self.lane]
    }

    /// Temperature of a node at the end [K].
    pub fn temp1(&self, node: usize) -> f64 {
        self.temps[1][node * self.n_lanes + self.lane]
    }

    /// Whether anything binds vapour.
    pub fn has_vapour(&self) -> bool {
        !self.contents[0].is_empty()
    }

    /// What a node holds of vapour at the start, bound and liquid [kg/m²].
    pub fn content0(&self, node: usize) -> f64 {
        self.of_vapour(self.contents[0], node)
    }

    /// What a node holds of vapour at the end, bound and liquid [kg/m²].
    pub fn content1(&self, node: usize) -> f64 {
        self.of_vapour(self.contents[1], node)
    }

    fn of_vapour(&self, field: &[f64], node: usize) -> f64 {
        field.get(node * self.n_lanes + self.lane).copied().unwrap_or(0.0)
    }

    /// How many shares converted there are.
    pub fn n_entries(&self) -> usize {
        self.converted[0].len() / self.n_lanes
    }

    /// A share converted at the start [–].
    pub fn converted0(&self, entry: usize) -> f64 {
        self.converted[0][entry * self.n_lanes + self.lane]
    }

    /// A share converted at the end [–].
    pub fn converted1(&self, entry: usize) -> f64 {
        self.converted0(entry) + self.converted[1][entry * self.n_lanes + self.lane]
    }

    /// Rate of temperature of a node at the end [K/s].
    pub fn slope1(&self, node: usize) -> f64 {
        self.slopes[1][node * self.n_lanes + self.lane]
    }

    /// Rate of temperature of a node at the start [K/s].
    pub fn slope0(&self, node: usize) -> f64 {
        self.slopes[0][node * self.n_lanes + self.lane]
    }

    /// Temperature of a node within the step [K], by the cubic through values and slopes at both ends.
    pub fn temp(&self, node: usize, t: f64) -> f64 {
        let ends = [self.temp0(node), self.temp1(node)];
        self.cubic(ends, [self.slope0(node), self.slope1(node)], t)
    }

    /// What a node holds of vapour within the step, bound and liquid [kg/m²], 0 or more: by the
    /// cubic through values and slopes at both ends.
    pub fn content(&self, node: usize, t: f64) -> f64 {
        let ends = [self.content0(node), self.content1(node)];
        let slopes = self.content_slopes.map(|field| self.of_vapour(field, node));
        self.cubic(ends, slopes, t).max(0.0)
    }

    fn cubic(&self, ends: [f64; 2], slopes: [f64; 2], t: f64) -> f64 {
        let dt = self.t1 - self.t0;
        let s = (t - self.t0) / dt;
        let rise = ends[1] - ends[0];
        let (m0, m1) = (slopes[0] * dt, slopes[1] * dt);
        ends[0] + s * (m0 + s * (3.0 * rise - 2.0 * m0 - m1 + s * (m0 + m1 - 2.0 * rise)))
    }
}
