//! The lightest layups of a suit whose weakest panel is no weaker than before.
//!
//! Each panel takes one of its choices; what it has to spare must reach the floor, and all panels together
//! may take only so many different layups. Two ways: greedy, which takes the largest single saving
//! again and again, and exact, which branches over the layups that the suit may be made of.

/// One layup that a panel may have.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Choice {
    /// Mass of the panel with it [kg].
    pub mass: f64,
    /// What it has to spare over what its class needs to be called above [–]; none where it is not known.
    pub spare: Option<f64>,
    /// Which layup it is, counted from 0.
    pub kind: usize,
}

/// What is asked: the first choice of each panel is the one that it has.
#[derive(Debug, Clone, PartialEq)]
pub struct Task {
    /// The choices of each panel, its own first.
    pub panels: Vec<Vec<Choice>>,
    /// The least that a choice which is not the panel's own has to spare [–].
    pub floor: f64,
    /// Most different layups; none for any number.
    pub kinds_at_most: Option<usize>,
}

/// One choice for every panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Picks {
    /// The choice of each panel, 0 its own.
    pub picks: Vec<usize>,
    /// Mass of all panels [kg].
    pub mass: f64,
}

/// Savings smaller than this are rounding [kg].
const ROUNDING: f64 = 1e-12;

impl Task {
    /// Every panel as it is.
    pub fn as_it_is(&self) -> Picks {
        self.picks(vec![0; self.panels.len()])
    }

    /// Whether a panel may have a choice, whatever the others have.
    pub fn admits(&self, panel: usize, choice: usize) -> bool {
        choice == 0 || self.panels[panel][choice].spare.is_some_and(|s| s >= self.floor)
    }

    /// How many different layups the picks are made of.
    pub fn n_kinds(&self, picks: &[usize]) -> usize {
        let mut kinds: Vec<usize> =
            picks.iter().zip(&self.panels).map(|(pick, panel)| panel[*pick].kind).collect();
        kinds.sort_unstable();
        kinds.dedup();
        kinds.len()
    }

    /// Whether there are not too many different layups.
    pub fn keeps_to_kinds(&self, picks: &[usize]) -> bool {
        self.kinds_at_most.is_none_or(|most| self.n_kinds(picks) <= most)
    }

    fn picks(&self, picks: Vec<usize>) -> Picks {
        let mass = picks.iter().zip(&self.panels).map(|(pick, panel)| panel[*pick].mass).sum();
        Picks { picks, mass }
    }

    /// The largest single saving, again and again, until no single change saves anything.
    pub fn greedy(&self) -> Picks {
        let mut now = self.as_it_is();
        loop {
            let mut best: Option<Picks> = None;
            for (i, panel) in self.panels.iter().enumerate() {
                for j in (0..panel.len()).filter(|j| self.admits(i, *j)) {
                    let mut picks = now.picks.clone();
                    picks[i] = j;
                    let mass = self.picks(picks.clone()).mass;
                    let least = best.as_ref().map_or(now.mass, |best| best.mass);
                    if mass < least - ROUNDING && self.keeps_to_kinds(&picks) {
                        best = Some(Picks { picks, mass });
                    }
                }
            }
            match best {
                Some(better) => now = better,
                None => return now,
            }
        }
    }

    /// The lightest picks of all, by branch and bound over the layups that may be used.
    ///
    /// Once the layups are chosen each panel takes its lightest one among them; a branch is left
    /// when even all layups still undecided could not make it lighter than the best so far. The
    /// greedy picks are the first best, so the result is never heavier.
    pub fn exact(&self) -> Picks {
        let n_kinds = self.panels.iter().flatten().map(|choice| choice.kind + 1).max().unwrap_or(0);
        let mut best = self.greedy();
        let most = self.kinds_at_most.unwrap_or(n_kinds);
        self.branch(&mut vec![Kind::Undecided; n_kinds], 0, most, &mut best);
        best
    }

    fn branch(&self, kinds: &mut Vec<Kind>, next: usize, left: usize, best: &mut Picks) {
        let closed = left == 0 || next == kinds.len();
        let usable = |kind: usize| match kinds[kind] {
            Kind::In => true,
            Kind::Undecided => !closed,
            Kind::Out => false,
        };
        let Some(picks) = self.lightest(usable) else { return };
        if picks.mass >= best.mass - ROUNDING {
            return;
        }
        if self.keeps_to_kinds(&picks.picks) {
            *best = picks;
            return;
        }
        if closed {
            return;
        }
        kinds[next] = Kind::In;
        self.branch(kinds, next + 1, left - 1, best);
        kinds[next] = Kind::Out;
        self.branch(kinds, next + 1, left, best);
        kinds[next] = Kind::Undecided;
    }

    /// Each panel's lightest choice among usable layups; none where a panel has none.
    fn lightest(&self, usable: impl Fn(usize) -> bool) -> Option<Picks> {
        let pick = |(i, panel): (usize, &Vec<Choice>)| {
            let may = |j: &usize| self.admits(i, *j) && usable(panel[*j].kind);
            (0..panel.len()).filter(may).min_by(|a, b| panel[*a].mass.total_cmp(&panel[*b].mass))
        };
        let picks: Option<Vec<usize>> = self.panels.iter().enumerate().map(pick).collect();
        Some(self.picks(picks?))
    }
}

/// Whether a layup is used in a branch.
#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Undecided,
    In,
    Out,
}
