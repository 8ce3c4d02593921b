//! A run that somebody else may call off.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// Called off from any thread; a run that has been given it ends with
/// [`SolverError::GivenUp`](crate::solver::error::SolverError::GivenUp) at its next step.
#[derive(Debug, Clone, Default)]
pub struct Halt(Arc<AtomicBool>);

impl Halt {
    /// Calls it off, for good.
    pub fn call(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Whether it has been called off.
    pub fn is_called(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// One and the same: called off together.
impl PartialEq for Halt {
    fn eq(&self, other: &Halt) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}
