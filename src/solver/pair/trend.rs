//! How the corrections of a stage go: whether the next one matters, and whether any will.

use crate::solver::stage::{Ask, Sizes, StageEnd};

/// Growth of a correction over the least one of the stage that is not waited for to come down again
/// [–]: a choice; the step is tried again a quarter as long.
const GROWTH_HOPELESS: f64 = 1e3;
/// Correction that a smaller one counts as where growth is looked at [K].
const SIZE_LEAST: f64 = 1.0;

/// The least correction of a stage so far [K], lane by lane.
pub(crate) struct Trend<const L: usize>([f64; L]);

impl<const L: usize> Trend<L> {
    /// Of no corrections yet.
    pub const NONE: Trend<L> = Trend([f64::INFINITY; L]);

    /// Gives up a lane whose corrections have grown beyond hope.
    pub fn note(&mut self, sizes: &mut Sizes<L>) {
        for (l, least) in self.0.iter_mut().enumerate() {
            sizes.bad[l] |= sizes.size[l] > GROWTH_HOPELESS * least.max(SIZE_LEAST);
            *least = least.min(sizes.size[l]);
        }
    }
}

/// A lane whose correction was held back is not solved by it, and tells nothing of the next.
///
/// A lane that was solved before comes out with the same correction again, which was not held back.
pub(crate) fn reopen<const L: usize>(
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
            size_before[l] = 0.0;
        }
    }
}
