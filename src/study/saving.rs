//! The lightest layups of a suit whose weakest panel is no weaker than before.
//!
//! Each panel takes one of its choices; what it has to spare must reach the floor, and all panels together
//! may take only so many different layups. Two ways: greedy, which takes the largest single saving
//! again and again, and exact, which branches over the layups that the suit may be made of. All panels together
//! may have to keep to a budget, too, such as a share of the body: that the exact search alone can do.

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

/// What the choices of all panels together may come to, beside their mass.
#[derive(Debug, Clone, PartialEq)]
pub struct Budget {
    /// The most [–].
    pub most: f64,
    /// What each choice of each panel adds to it [–], none below 0: `[panel][choice]`.
    pub adds: Vec<Vec<f64>>,
}

impl Budget {
    /// What the picks come to [–].
    pub fn spent(&self, picks: &[usize]) -> f64 {
        self.adds.iter().zip(picks).map(|(panel, pick)| panel[*pick]).sum()
    }

    fn is_kept(&self, spent: f64) -> bool {
        spent <= self.most + ROUNDING
    }
}

/// One choice for every panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Picks {
    /// The choice of each panel, 0 its own.
    pub picks: Vec<usize>,
    /// Mass of all panels [kg].
    pub mass: f64,
}

/// Savings smaller than this are rounding [kg]; so are shares beyond a budget [–].
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
        let greedy = self.greedy();
        self.search(&[], Some(greedy.clone())).unwrap_or(greedy)
    }

    /// The lightest picks of all that keep to every budget; none where none do.
    ///
    /// The same branches over the layups; where their lightest picks spend too much, the panels are gone through
    /// one by one.
    pub fn exact_within(&self, budgets: &[Budget]) -> Option<Picks> {
        self.search(budgets, None)
    }

    fn search(&self, budgets: &[Budget], first: Option<Picks>) -> Option<Picks> {
        let n_kinds = self.panels.iter().flatten().map(|choice| choice.kind + 1).max().unwrap_or(0);
        let mut best = first;
        let most = self.kinds_at_most.unwrap_or(n_kinds);
        self.branch(&mut vec![Kind::Undecided; n_kinds], (0, most), budgets, &mut best);
        best
    }

    fn branch(
        &self,
        kinds: &mut Vec<Kind>,
        (next, left): (usize, usize),
        budgets: &[Budget],
        best: &mut Option<Picks>,
    ) {
        let closed = left == 0 || next == kinds.len();
        let usable = |kind: usize| match kinds[kind] {
            Kind::In => true,
            Kind::Undecided => !closed,
            Kind::Out => false,
        };
        let Some(picks) = self.lightest(usable) else { return };
        if !is_lighter(picks.mass, best) {
            return;
        }
        let keeps = budgets.iter().all(|budget| budget.is_kept(budget.spent(&picks.picks)));
        if keeps && self.keeps_to_kinds(&picks.picks) {
            *best = Some(picks);
            return;
        }
        if closed || self.kinds_at_most.is_none() {
            if let Some(filled) = self.fill(budgets, usable, best) {
                *best = Some(filled);
            }
            return;
        }
        kinds[next] = Kind::In;
        self.branch(kinds, (next + 1, left - 1), budgets, best);
        kinds[next] = Kind::Out;
        self.branch(kinds, (next + 1, left), budgets, best);
        kinds[next] = Kind::Undecided;
    }

    /// The lightest picks among usable layups that keep to every budget and are lighter than the best so far.
    ///
    /// Panel by panel: a beginning is left when the others, each at its lightest or its least, could not end it
    /// within budget and lighter, or when another beginning is no heavier and has spent no more of any budget.
    fn fill(
        &self,
        budgets: &[Budget],
        usable: impl Fn(usize) -> bool,
        best: &Option<Picks>,
    ) -> Option<Picks> {
        let may: Vec<Vec<usize>> = (0..self.panels.len())
            .map(|i| {
                let admitted = |j: &usize| self.admits(i, *j) && usable(self.panels[i][*j].kind);
                (0..self.panels[i].len()).filter(admitted).collect()
            })
            .collect();
        let least = |i: usize, of: &dyn Fn(usize) -> f64| {
            may[i].iter().map(|j| of(*j)).fold(f64::INFINITY, f64::min)
        };
        let mut begun =
            vec![Begun { picks: Vec::new(), mass: 0.0, spent: vec![0.0; budgets.len()] }];
        for (i, choices) in may.iter().enumerate() {
            let rest = i + 1..self.panels.len();
            let rest_mass: f64 = rest.clone().map(|k| least(k, &|j| self.panels[k][j].mass)).sum();
            let rest_spent: Vec<f64> = budgets
                .iter()
                .map(|budget| rest.clone().map(|k| least(k, &|j| budget.adds[k][j])).sum())
                .collect();
            let mut longer: Vec<Begun> = Vec::new();
            for (one, j) in begun.iter().flat_map(|one| choices.iter().map(move |j| (one, *j))) {
                let next =
                    one.with(j, self.panels[i][j].mass, budgets.iter().map(|b| b.adds[i][j]));
                let ends = next.spent.iter().zip(&rest_spent).zip(budgets);
                let fits = ends.into_iter().all(|((spent, rest), b)| b.is_kept(spent + rest));
                if fits && is_lighter(next.mass + rest_mass, best) {
                    longer.push(next);
                }
            }
            longer.sort_by(|a, b| a.mass.total_cmp(&b.mass));
            begun = Vec::new();
            for one in longer {
                if !begun.iter().any(|lighter| lighter.has_spent_no_more(&one)) {
                    begun.push(one);
                }
            }
        }
        begun.into_iter().next().map(|one| self.picks(one.picks))
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

/// Whether a mass is below that of the best so far [kg].
fn is_lighter(mass: f64, best: &Option<Picks>) -> bool {
    best.as_ref().is_none_or(|best| mass < best.mass - ROUNDING)
}

/// Choices of the first panels.
struct Begun {
    picks: Vec<usize>,
    /// [kg]
    mass: f64,
    /// Of each budget [–].
    spent: Vec<f64>,
}

impl Begun {
    fn with(&self, pick: usize, mass: f64, adds: impl Iterator<Item = f64>) -> Begun {
        let mut picks = self.picks.clone();
        picks.push(pick);
        let spent = self.spent.iter().zip(adds).map(|(spent, add)| spent + add).collect();
        Begun { picks, mass: self.mass + mass, spent }
    }

    fn has_spent_no_more(&self, other: &Begun) -> bool {
        self.spent.iter().zip(&other.spent).all(|(one, other)| one <= other)
    }
}

/// Whether a layup is used in a branch.
#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Undecided,
    In,
    Out,
}
