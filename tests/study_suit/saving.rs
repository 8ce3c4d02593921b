//! Claim: the exact search finds the lightest suit of all, and greedy is never lighter.
//! Source: every combination tried one by one, on suits made from a table of pseudo-random numbers.
//! Tolerance: none but rounding.

use stillair::study::saving::{Budget, Choice, Picks, Task};

/// Numbers in [0, 1) from a linear congruential generator.
/// Source: D. E. Knuth, The Art of Computer Programming, volume 2, 3.3.4 table 1, line 26 (constants from memory).
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn below(&mut self, n: usize) -> usize {
        (self.next() * n as f64) as usize
    }
}

fn task(numbers: &mut Numbers) -> Task {
    let n_kinds = 3 + numbers.below(4);
    let n_panels = 2 + numbers.below(5);
    let base = numbers.below(n_kinds);
    let panels: Vec<Vec<Choice>> = (0..n_panels)
        .map(|_| {
            let n_choices = 2 + numbers.below(3);
            let choice = |j: usize, numbers: &mut Numbers| {
                let kind = if j == 0 { base } else { numbers.below(n_kinds) };
                let spare = (numbers.next() > 0.1).then(|| numbers.next());
                Choice { mass: 0.01 + numbers.next(), spare, kind }
            };
            (0..n_choices).map(|j| choice(j, numbers)).collect()
        })
        .collect();
    let own = panels.iter().filter_map(|panel| panel[0].spare);
    let floor = own.fold(f64::INFINITY, f64::min);
    let kinds_at_most = (numbers.next() > 0.3).then(|| 1 + numbers.below(n_kinds));
    Task { panels, floor, kinds_at_most }
}

/// Tries every combination.
fn brute(task: &Task, budgets: &[Budget]) -> f64 {
    let n: usize = task.panels.iter().map(Vec::len).product();
    let mut least = f64::INFINITY;
    for mut code in 0..n {
        let mut picks = Vec::new();
        for panel in &task.panels {
            picks.push(code % panel.len());
            code /= panel.len();
        }
        let admitted = picks.iter().enumerate().all(|(i, j)| {
            *j == 0 || task.panels[i][*j].spare.is_some_and(|spare| spare >= task.floor)
        });
        let mut kinds: Vec<usize> =
            picks.iter().zip(&task.panels).map(|(j, panel)| panel[*j].kind).collect();
        kinds.sort_unstable();
        kinds.dedup();
        let keeps = budgets.iter().all(|budget| budget.spent(&picks) <= budget.most);
        if admitted && keeps && task.kinds_at_most.is_none_or(|most| kinds.len() <= most) {
            least = least.min(picks.iter().zip(&task.panels).map(|(j, p)| p[*j].mass).sum());
        }
    }
    least
}

#[track_caller]
fn is_allowed(task: &Task, found: &Picks) {
    assert!(found.picks.iter().enumerate().all(|(i, j)| task.admits(i, *j)), "{found:?}");
    assert!(task.keeps_to_kinds(&found.picks), "{found:?}");
}

#[test]
fn exact_is_what_trying_all_finds_and_no_heavier_than_greedy() {
    let mut numbers = Numbers(20_261);
    let (mut n_better, mut n_saved) = (0, 0);
    for _ in 0..3000 {
        let task = task(&mut numbers);
        let (greedy, exact, least) = (task.greedy(), task.exact(), brute(&task, &[]));
        is_allowed(&task, &greedy);
        is_allowed(&task, &exact);
        assert!((exact.mass - least).abs() < 1e-9, "{task:?}: {exact:?}, tried all: {least}");
        assert!(exact.mass <= greedy.mass, "{task:?}");
        n_better += usize::from(exact.mass < greedy.mass - 1e-9);
        n_saved += usize::from(exact.mass < task.as_it_is().mass - 1e-9);
    }
    // the suits tried are worth trying: some are saved on, and on some greedy stops short
    assert!(n_better > 50 && n_saved > 1000, "{n_better} better, {n_saved} saved");
}

/// Budgets of two kinds: what a choice adds, and the most of which some tasks have room for and some have not.
#[test]
fn exact_within_budgets_is_what_trying_all_finds() {
    let mut numbers = Numbers(1_944);
    let (mut n_none, mut n_dear) = (0, 0);
    for i in 0..3000 {
        let task = task(&mut numbers);
        let n_panels = task.panels.len() as f64;
        let budget = |numbers: &mut Numbers| {
            let add = |numbers: &mut Numbers| (numbers.next() - 0.2).max(0.0);
            let adds = task.panels.iter().map(|p| p.iter().map(|_| add(numbers)).collect());
            Budget { adds: adds.collect(), most: 0.5 * n_panels * numbers.next() }
        };
        let budgets: Vec<Budget> = (0..1 + i % 2).map(|_| budget(&mut numbers)).collect();
        let (found, least) = (task.exact_within(&budgets), brute(&task, &budgets));
        let Some(found) = found else {
            assert!(least.is_infinite(), "{task:?} {budgets:?}: none, tried all: {least}");
            n_none += 1;
            continue;
        };
        is_allowed(&task, &found);
        assert!(budgets.iter().all(|b| b.spent(&found.picks) <= b.most + 1e-9));
        assert!((found.mass - least).abs() < 1e-9, "{task:?} {budgets:?}: {found:?}, all: {least}");
        n_dear += usize::from(found.mass > brute(&task, &[]) + 1e-9);
    }
    assert!(n_none > 100 && n_dear > 500, "{n_none} without, {n_dear} dearer");
}

#[test]
fn without_a_bound_on_layups_greedy_is_exact() {
    let mut numbers = Numbers(7);
    for _ in 0..300 {
        let task = Task { kinds_at_most: None, ..task(&mut numbers) };
        assert!((task.greedy().mass - task.exact().mass).abs() < 1e-9, "{task:?}");
    }
}

#[test]
fn greedy_stops_where_one_change_alone_is_not_allowed() {
    let choice = |mass, kind| Choice { mass, spare: Some(1.0), kind };
    let panel = || vec![choice(2.0, 0), choice(1.0, 1)];
    let task = Task { panels: vec![panel(), panel()], floor: 1.0, kinds_at_most: Some(1) };
    assert_eq!(task.greedy().picks, [0, 0]);
    assert_eq!(task.exact().picks, [1, 1]);
}
