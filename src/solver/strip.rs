//! Columns side by side with heat from one to the next: a solve in two dimensions.
//!
//! Each column is a problem of its own, all of one shape; along every row of nodes heat is conducted from
//! column to column. The step is split (Strang): half a step along, a whole step down each column as
//! [`march`](crate::solver::march) makes it, half a step along; the step along is one of Crank and Nicolson.
//! Source: G. Strang, SIAM J. Numer. Anal. 5 (1968) 506, from memory. Vapour does not move along.

use crate::solver::error::SolverError;
use crate::solver::fault::Fault;
use crate::solver::lanes::Lanes;
use crate::solver::march::{Moment, march_on};
use crate::solver::options::Options;
use crate::solver::problem::Problem;
use crate::solver::tridiagonal::Tridiagonal;
use crate::solver::watch::{Next, Step, Watch};

/// Most columns.
pub const N_COLUMNS_MOST: usize = 32;

/// How columns lie beside each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// Share of the area that each column stands for [–]; they add up to 1.
    pub shares: Vec<f64>,
    /// Width of each column, across its borders [m].
    pub widths: Vec<f64>,
    /// Length of the border between each column and the next, per area of all [1/m]; one fewer than columns.
    pub borders: Vec<f64>,
}

/// A column at a moment.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Held {
    /// The moment [s].
    pub t: f64,
    /// Temperature of each node [K].
    pub temps: Vec<f64>,
    /// Highest temperature of each node up to then [K].
    pub peaks: Vec<f64>,
    /// What each node holds of vapour, bound and liquid [kg/m²]; empty where nothing binds any.
    pub contents: Vec<f64>,
    /// Shares of all reactions converted [–]; empty where nothing reacts.
    pub converted: Vec<f64>,
}

impl Held {
    /// The same as what a march goes on from.
    pub fn moment(&self) -> Moment<'_> {
        Moment {
            t: self.t,
            temps: &self.temps,
            peaks: &self.peaks,
            contents: &self.contents,
            converted: &self.converted,
        }
    }
}

/// What the nodes of a column are to heat that goes along.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Heat capacity per area of each node [J/(m²·K)].
    pub cap: Vec<f64>,
    /// Conductivity along times the thickness that belongs to each node [W/K].
    pub along: Vec<f64>,
}

/// Tells what the nodes of columns are to heat that goes along.
pub trait Sideways {
    /// Of a column as it is.
    fn row(&self, column: usize, held: &Held) -> Row;
}

/// How columns are marched.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Together<'a> {
    /// How they lie.
    pub strip: &'a Strip,
    /// Whether their last node is one and the same.
    pub tied: bool,
    /// How closely each column is followed.
    pub options: &'a Options,
    /// Step of the splitting [s].
    pub dt: f64,
}

/// Marches columns until their drives end or every watch has said stop; returns the watches and the columns as they
/// ended.
///
/// - `watch`: makes the watch of the column at a place; none lets it go on
///
/// Errors: those of the march; [`Fault::Columns`] for more than [`N_COLUMNS_MOST`] columns or none,
/// and for a strip of another number.
pub fn march_strip<W: Watch>(
    columns: &[&Problem],
    together: &Together,
    sideways: &impl Sideways,
    watch: impl Fn(usize) -> Option<W>,
) -> Result<Vec<(Option<W>, Held)>, SolverError> {
    let n = columns.len();
    let Strip { shares, widths, borders } = together.strip;
    let described = shares.len() == n && widths.len() == n && borders.len() + 1 == n;
    match n {
        1..=8 if described => march_in::<_, 8>(columns, together, sideways, watch),
        9..=16 if described => march_in::<_, 16>(columns, together, sideways, watch),
        17..=N_COLUMNS_MOST if described => {
            march_in::<_, N_COLUMNS_MOST>(columns, together, sideways, watch)
        }
        _ => Err(Fault::Columns(n).into()),
    }
}

fn march_in<W: Watch, const L: usize>(
    columns: &[&Problem],
    together: &Together,
    sideways: &impl Sideways,
    watch: impl Fn(usize) -> Option<W>,
) -> Result<Vec<(Option<W>, Held)>, SolverError> {
    let n = columns.len();
    let column = |l: usize| columns[l.min(n - 1)];
    let ties: Option<[f64; L]> = together
        .tied
        .then(|| std::array::from_fn(|l| together.strip.shares.get(l).copied().unwrap_or(0.0)));
    // one step down a column unless its error asks for more
    let options = Options { dt_start: f64::INFINITY, ..*together.options };
    let mut watched: [Column<W>; L] = std::array::from_fn(|l| Column {
        watch: if l < n { watch(l) } else { None },
        is_done: false,
        held: Held::default(),
    });
    let whole = Lanes::new(&std::array::from_fn::<_, L, _>(column))?;
    for (l, one) in watched.iter_mut().enumerate() {
        one.held = start(&whole, l, column(l));
    }
    let mut cut: [Problem; L] = std::array::from_fn(|l| column(l).clone());
    let t_end = (0..n).map(|l| end(column(l))).fold(f64::INFINITY, f64::min);
    let mut t = 0.0;
    let mut n_steps = 0_u32;
    let mut share = 0.5;
    while t < t_end && !watched.iter().all(|one| one.is_done || one.watch.is_none()) {
        n_steps += 1;
        let next = (f64::from(n_steps) * together.dt).min(t_end);
        along(&mut watched[..n], together, sideways, share * (next - t));
        // what lies beyond the last column repeats it
        let (own, beyond) = watched.split_at_mut(n);
        for one in beyond {
            one.held.clone_from(&own[n - 1].held);
        }
        for (l, problem) in cut.iter_mut().enumerate() {
            problem.drive = column(l).drive.until(next);
        }
        let lanes = Lanes::new(&cut.each_ref())?;
        let before: [Held; L] = std::array::from_fn(|l| watched[l].held.clone());
        let from = before.each_ref().map(|one| Moment { t, ..one.moment() });
        march_on(&lanes, &options, ties, &from, &mut watched)?;
        t = next;
        // the half steps along at a step's end and at the next one's start are one
        share = 1.0;
    }
    let ended = watched.into_iter().take(n).map(|one| (one.watch, one.held));
    Ok(ended.collect())
}

/// When a column's drive ends [s]; 0 without pieces.
fn end(problem: &Problem) -> f64 {
    problem.drive.pieces.last().map_or(0.0, |piece| piece.t_end)
}

/// A column at its start.
fn start<const L: usize>(lanes: &Lanes<L>, l: usize, problem: &Problem) -> Held {
    let temps: Vec<f64> = lanes.temps_start.iter().map(|node| node[l]).collect();
    let contents = lanes.pair.iter().flat_map(|pair| pair.start.iter().map(|node| node[l]));
    Held {
        t: 0.0,
        peaks: temps.clone(),
        temps,
        contents: contents.collect(),
        converted: vec![0.0; problem.reaction_entries().1],
    }
}

/// Looks at a column, and keeps how it ended.
struct Column<W> {
    watch: Option<W>,
    is_done: bool,
    held: Held,
}

impl<W: Watch> Watch for Column<W> {
    fn step(&mut self, step: &Step<'_>) -> Next {
        if let Some(watch) = self.watch.as_mut().filter(|_| !self.is_done) {
            self.is_done = watch.step(step) == Next::Stop;
        }
        let held = &mut self.held;
        held.t = step.t1;
        for (i, temp) in held.temps.iter_mut().enumerate() {
            *temp = step.temp1(i);
            held.peaks[i] = held.peaks[i].max(*temp);
        }
        for (i, content) in held.contents.iter_mut().enumerate() {
            *content = step.content1(i);
        }
        for (e, converted) in held.converted.iter_mut().enumerate() {
            *converted = step.converted1(e);
        }
        // its neighbours need it to the end
        Next::Go
    }

    fn settled(&mut self, end: &Step<'_>) {
        let held = &mut self.held;
        held.temps.iter_mut().enumerate().for_each(|(i, temp)| *temp = end.temp1(i));
        held.contents.iter_mut().enumerate().for_each(|(i, content)| *content = end.content1(i));
    }
}

/// Heat along all rows of nodes over `dt` [s]: one step of Crank and Nicolson in each.
fn along<W>(columns: &mut [Column<W>], together: &Together, sideways: &impl Sideways, dt: f64) {
    let n = columns.len();
    let Strip { shares, widths, borders } = together.strip;
    let rows: Vec<Row> =
        columns.iter().enumerate().map(|(c, one)| sideways.row(c, &one.held)).collect();
    let n_nodes = columns[0].held.temps.len() - usize::from(together.tied);
    for i in 0..n_nodes {
        let conductance = |c: usize| {
            let half = |c: usize| 0.5 * widths[c] / rows[c].along[i];
            let resistance = half(c) + half(c + 1);
            // a row that does not conduct in one column lets nothing through
            if resistance.is_finite() { borders[c] / resistance } else { 0.0 }
        };
        let links: Vec<f64> = (0..n - 1).map(conductance).collect();
        let temps: Vec<f64> = columns.iter().map(|one| one.held.temps[i]).collect();
        let flows: Vec<f64> =
            links.iter().zip(temps.windows(2)).map(|(g, pair)| g * (pair[1] - pair[0])).collect();
        let caps: Vec<f64> = (0..n).map(|c| shares[c] * rows[c].cap[i]).collect();
        for (one, rise) in columns.iter_mut().zip(rises(&caps, &links, &flows, dt)) {
            let temp = one.held.temps[i] + rise;
            one.held.temps[i] = temp;
            one.held.peaks[i] = one.held.peaks[i].max(temp);
        }
    }
}

/// Rises of a row over `dt` [K]: `(C + dt/2·K)·rise = dt·(what flows in at the start)`.
///
/// - `caps`: heat capacities [W·s/K]
/// - `links`: conductances from each to the next [W/K]
/// - `flows`: what flows from the next to each at the start [W]
fn rises(caps: &[f64], links: &[f64], flows: &[f64], dt: f64) -> Vec<f64> {
    let n = caps.len();
    let mut kernel = Tridiagonal::<1>::zeros(n);
    let mut rise: Vec<[f64; 1]> = vec![[0.0]; n];
    for (own, cap) in kernel.diag.iter_mut().zip(caps) {
        *own = [*cap];
    }
    for (c, (link, flow)) in links.iter().zip(flows).enumerate() {
        let link = 0.5 * dt * link;
        kernel.diag[c][0] += link;
        kernel.diag[c + 1][0] += link;
        (kernel.upper[c], kernel.lower[c + 1]) = ([-link], [-link]);
        rise[c][0] += dt * flow;
        rise[c + 1][0] -= dt * flow;
    }
    kernel.factor(None);
    kernel.solve(&mut rise, None);
    rise.into_iter().map(|[rise]| rise).collect()
}
