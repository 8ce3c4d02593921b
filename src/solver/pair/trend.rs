//! How the corrections of a stage go: whether the next one matters, and whether any will.

use crate::solver::stage::{Ask, Sizes, StageEnd};

/// Growth of a correction over the least one of the stage that is not waited for to come down again
/// [–]: a choice; the step is tried again a quarter as long.
const GROWTH_HOPELESS: f64 = 1e3;
/// Correction that a smaller one counts as where growth is looked at [K].
const SIZE_LEAST: f64 = 1.0;
/// Safety factor on what foretells the next correction of what is stored [–].
const SAFETY: f64 = 3.0;
/// Next correction of what is stored that need not be made, over the last one that is allowed [–]: the
/// node that moves most foretells, and others may bend more.
const FORETOLD: f64 = 1e-3;

/// The corrections of a stage so far, lane by lane.
pub(crate) struct Trend<const L: usize> {
    /// The correction before of what is stored [kg/m²]; 0 where it foretells nothing.
    moved: [f64; L],
    /// Least correction [K].
    least: [f64; L],
}

impl<const L: usize> Trend<L> {
    /// Of no corrections yet.
    pub const NONE: Trend<L> = Trend { moved: [0.0; L], least: [f64::INFINITY; L] };

    /// Lets no lane be solved whose next correction of what is stored may matter, and gives up one whose
    /// corrections have grown beyond hope.
    ///
    /// The next correction is foretold as for temperatures, by the last over the square of the one before.
    pub fn note(&mut self, ask: &Ask<L>, moved: &[f64; L], sizes: &mut Sizes<L>) {
        for l in 0..L {
            let grown = moved[l] / self.moved[l];
            // infinite, and so not small, after no correction
            let next = SAFETY * grown * grown * moved[l];
            let small = moved[l] <= ask.tol_stored || next <= FORETOLD * ask.tol_stored;
            if !small {
                (sizes.turned[l], sizes.beyond[l]) = (true, sizes.beyond[l].max(f64::MIN_POSITIVE));
            }
            sizes.bad[l] |= sizes.size[l] > GROWTH_HOPELESS * self.least[l].max(SIZE_LEAST);
            self.least[l] = self.least[l].min(sizes.size[l]);
            self.moved[l] = moved[l];
        }
    }

    /// A lane whose correction was held back is not solved by it, and tells nothing of the next.
    ///
    /// A lane that was solved before comes out with the same correction again, which was not held back.
    pub fn reopen(
        &mut self,
        ask: &Ask<L>,
        limited: [bool; L],
        size_before: &mut [f64; L],
        open: &mut [bool; L],
        end: &mut StageEnd<L>,
    ) {
        let any = ask.ties.is_some() && limited.contains(&true);
        for l in 0..L {
            if limited[l] || any {
                open[l] |= end.solved[l];
                end.solved[l] = false;
                (size_before[l], self.moved[l]) = (0.0, 0.0);
            }
        }
    }
}
