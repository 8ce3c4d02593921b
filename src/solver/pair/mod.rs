//! Two unknowns a node: the temperature and what the node holds of a vapour, bound or liquid.
//!
//! Where any slab has a [`Sorbent`](crate::solver::sorbent::Sorbent), both are advanced together:
//! the same stages, the same control of steps and the same account as for heat alone, with 2×2
//! blocks in place of the tridiagonal matrix's numbers.

pub(super) mod backward;
pub(super) mod block;
pub(super) mod chunk;
pub(super) mod conversion;
pub(super) mod eliminated;
pub(super) mod fields;
pub(super) mod forward;
pub(super) mod front;
pub(super) mod guess;
pub(super) mod lanes;
pub(super) mod link;
pub(super) mod rates;
pub(super) mod reacting;
pub(super) mod stage;
pub(super) mod state;
pub(super) mod trend;
pub(super) mod wet;
pub(super) mod workspace;
