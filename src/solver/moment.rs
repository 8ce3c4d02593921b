//! A moment of a march, to go on from.

/// A moment of an earlier march to go on from.
#[derive(Debug, Clone, Copy)]
pub struct Moment<'a> {
    /// The moment [s], 0 or later and before the drive's end.
    pub t: f64,
    /// Temperature of each node then [K].
    pub temps: &'a [f64],
    /// Highest temperature of each node up to then [K].
    pub peaks: &'a [f64],
    /// What each node holds of vapour, bound and liquid [kg/m²]; empty where nothing binds any.
    pub contents: &'a [f64],
    /// Shares converted of each reaction at each node, as
    /// [`reaction_entries`](crate::solver::problem::Problem::reaction_entries) orders them; empty where nothing reacts.
    pub converted: &'a [f64],
}
