//! The heat account of a march and the work it took.

/// Heat account and work of a march.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Ledger {
    /// Time reached [s].
    pub t: f64,
    /// Heat in through the outer face, net [J/m²].
    pub heat_in: f64,
    /// Heat out by sinks and through a held back [J/m²].
    pub heat_out: f64,
    /// Heat set free by the source [J/m²].
    pub heat_source: f64,
    /// Heat stored [J/m²].
    pub heat_stored: f64,
    /// Vapour in through the outer face, net, and from supplies [kg/m²].
    pub vapour_in: f64,
    /// Vapour stored, bound and liquid included [kg/m²].
    pub vapour_stored: f64,
    /// Accepted steps.
    pub n_steps: usize,
    /// Rejected steps.
    pub n_rejected: usize,
    /// Newton iterations.
    pub n_newton: usize,
}

impl Ledger {
    /// What the account does not explain, relative to the heat that moved [–].
    pub fn residual(&self) -> f64 {
        let moved = self.heat_in.abs().max(self.heat_out.abs()).max(self.heat_stored.abs());
        let lost = self.heat_in + self.heat_source - self.heat_out - self.heat_stored;
        if moved > 0.0 { lost.abs() / moved } else { 0.0 }
    }

    /// Whether vapour was moved at all.
    pub fn has_vapour(&self) -> bool {
        self.vapour_in != 0.0 || self.vapour_stored != 0.0
    }

    /// What the account of vapour does not explain [kg/m²].
    pub fn vapour_lost(&self) -> f64 {
        (self.vapour_in - self.vapour_stored).abs()
    }
}
