//! How closely a march follows the solution.

/// How closely to follow the solution in time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// Error allowed in a step, relative to `rise_scale` plus the node's own rise [–].
    pub tol: f64,
    /// Rise that matters at the back of the chain [K].
    pub rise_scale: f64,
    /// What of that error is allowed at a lump that ends the chain [–].
    ///
    /// A lump only gathers: errors of late, long steps stay in it, while those near the driven
    /// face fade.
    pub lump_share: f64,
    /// First step, and longest first step after a break of the drive [s].
    pub dt_start: f64,
    /// Longest step [s].
    pub dt_most: f64,
    /// Most that a reaction converts at a node in a step [–].
    pub conversion_most: f64,
    /// Most steps, rejected ones included.
    pub n_steps_most: usize,
}

impl Default for Options {
    fn default() -> Options {
        Options {
            tol: 2e-3,
            rise_scale: 12.0,
            lump_share: 1.0,
            dt_start: 2e-3,
            dt_most: f64::INFINITY,
            conversion_most: 0.1,
            n_steps_most: 200_000,
        }
    }
}
