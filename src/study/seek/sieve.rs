//! Which combinations of a chunk are settled on finer meshes.
//!
//! All are computed on the coarsest mesh. A sample of them is settled whatever it reads, and tells how far
//! the coarsest mesh is off; twice the farthest is the bound taken for the others. Settled as well are those
//! that, within that bound, may stand on the frontier or the shortlist or on either side of a margin. What is
//! left at the coarsest mesh is beaten by another combination, and surely keeps its margins or surely
//! does not, unless its mesh is farther off than the bound. Where one of those settled is, all are settled.

use crate::bench::figure::Found;
use crate::study::answer::AnswerError;
use crate::study::odds::shortcut::well_within;
use crate::study::odds::spread::wilson;
use crate::study::seek::score::{Scored, score};
use crate::study::seek::space::{Candidate, Plies, Space};

/// Combinations up to which all are settled.
const N_FEW: usize = 128;
/// One in so many is settled whatever it reads.
const ONE_IN: usize = 16;
/// The bound over what the sample shows [–].
const SAFETY: f64 = 2.0;
/// Least and most of the bound [–]: beyond it the coarsest mesh is no guide, and all are settled.
const BOUNDS: (f64, f64) = (0.01, 0.05);

/// How combinations were told apart on the coarsest mesh.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sieve {
    /// Left at the coarsest mesh.
    pub n_left: u64,
    /// Settled whatever they read, where others were left.
    pub n_checked: u64,
    /// Farthest that the coarsest mesh was off in those settled, where others were left [–].
    pub off: f64,
    /// How far it may be off in those left, at most [–].
    pub bound: f64,
}

impl Sieve {
    /// Share of all that may be farther off than those settled were, at most, at 95 % [–].
    pub fn missed_most(self) -> f64 {
        wilson(0, self.n_checked as usize).high
    }

    /// Both together.
    pub fn with(self, other: Sieve) -> Sieve {
        Sieve {
            n_left: self.n_left + other.n_left,
            n_checked: self.n_checked + other.n_checked,
            off: self.off.max(other.off),
            bound: self.bound.max(other.bound),
        }
    }
}

/// The readings of those settled, in the order of the candidates, none for those left.
pub(crate) struct Sieved {
    pub readings: Vec<Option<Result<Vec<Found>, AnswerError>>>,
    /// Those left that keep every margin.
    pub n_keeping: u64,
    pub sieve: Sieve,
}

/// Computes the candidates of a chunk, settling those that matter.
///
/// - `coarsest`, `settled`: one reading a target for each of the candidates given
/// - `all_keeping`: every one that may keep its margins matters
pub(crate) fn sieve(
    space: &Space<'_>,
    candidates: &[Candidate],
    all_keeping: bool,
    coarsest: impl Fn(&[Candidate]) -> Vec<Result<Vec<Found>, AnswerError>>,
    settled: impl Fn(&[Candidate]) -> Vec<Result<Vec<Found>, AnswerError>>,
) -> Sieved {
    let n = candidates.len();
    let mut readings: Vec<Option<Result<Vec<Found>, AnswerError>>> = vec![None; n];
    let settle = |which: &[usize], readings: &mut Vec<Option<_>>| {
        let chosen: Vec<Candidate> = which.iter().map(|i| candidates[*i].clone()).collect();
        for (i, found) in which.iter().zip(settled(&chosen)) {
            readings[*i] = Some(found);
        }
    };
    let mut sieve = Sieve::default();
    let mut n_keeping = 0;
    if n > N_FEW {
        let coarse: Vec<Option<Coarse>> = coarsest(candidates)
            .into_iter()
            .zip(candidates)
            .map(|(found, candidate)| Coarse::of(space, candidate, found.ok()?))
            .collect();
        let sample: Vec<usize> = (0..n).step_by(ONE_IN).collect();
        settle(&sample, &mut readings);
        let bound = (SAFETY * farthest(&coarse, &readings)).max(BOUNDS.0);
        if bound <= BOUNDS.1 {
            let matters = Matters { space, candidates, coarse: &coarse, bound };
            let chosen = matters.chosen(all_keeping).into_iter();
            let more: Vec<usize> = chosen.filter(|i| readings[*i].is_none()).collect();
            settle(&more, &mut readings);
            let off = farthest(&coarse, &readings);
            if off <= bound {
                let left = (0..n).filter(|i| readings[*i].is_none());
                let keeps = |i: &usize| coarse[*i].as_ref().is_some_and(|one| one.keeps(bound));
                n_keeping = left.clone().filter(keeps).count() as u64;
                let (n_left, n_checked) = (left.count() as u64, sample.len() as u64);
                if n_left > 0 {
                    sieve = Sieve { n_left, n_checked, off, bound };
                }
                return Sieved { readings, n_keeping, sieve };
            }
        }
    }
    let open: Vec<usize> = (0..n).filter(|i| readings[*i].is_none()).collect();
    settle(&open, &mut readings);
    Sieved { readings, n_keeping, sieve }
}

/// What the coarsest mesh tells of a combination whose figures it knows.
struct Coarse {
    readings: Vec<Found>,
    scored: Scored,
}

impl Coarse {
    /// None where a figure is not reached well before the end.
    fn of(space: &Space<'_>, candidate: &Candidate, readings: Vec<Found>) -> Option<Coarse> {
        let wanted = space.brief.wanted.iter();
        let known =
            wanted.zip(&readings).all(|(one, found)| well_within(found, one.exposure.t_end));
        let scored = known.then(|| score(space, candidate, readings.clone()))??;
        Some(Coarse { readings, scored })
    }

    /// The least figure over what is wanted [–].
    fn over(&self) -> f64 {
        1.0 + self.scored.spare
    }

    /// Whether it keeps every margin, however far the mesh is off within the bound.
    fn keeps(&self, bound: f64) -> bool {
        self.over() * (1.0 - bound) >= 1.0
    }

    /// Whether it may.
    fn may_keep(&self, bound: f64) -> bool {
        self.over() * (1.0 + bound) >= 1.0
    }

    /// How far its figures lie from settled ones, and from the least that these may be [–].
    fn off(&self, settled: &[Found]) -> f64 {
        let off = |(coarse, settled): (&Found, &Found)| {
            let (coarse, settled) = (coarse.valued()?, settled.valued()?);
            let least = settled.value - settled.error.abs();
            let apart = |one: f64| (one / coarse.value - 1.0).abs();
            Some(apart(settled.value).max(apart(least)))
        };
        let each = self.readings.iter().zip(settled).map(|pair| off(pair).unwrap_or(f64::INFINITY));
        each.fold(0.0, f64::max)
    }
}

/// Farthest that the coarsest mesh is off in those settled that it knows [–].
fn farthest(
    coarse: &[Option<Coarse>],
    readings: &[Option<Result<Vec<Found>, AnswerError>>],
) -> f64 {
    let off = |(coarse, settled): (&Option<Coarse>, &Option<Result<Vec<Found>, AnswerError>>)| {
        match (coarse, settled) {
            (Some(coarse), Some(Ok(settled))) => coarse.off(settled),
            // a mesh that a finer one gives up on tells nothing
            (Some(_), Some(Err(_))) => f64::INFINITY,
            _ => 0.0,
        }
    };
    coarse.iter().zip(readings).map(off).fold(0.0, f64::max)
}

/// Which candidates matter, if the coarsest mesh is nowhere farther off than the bound.
struct Matters<'a> {
    space: &'a Space<'a>,
    candidates: &'a [Candidate],
    coarse: &'a [Option<Coarse>],
    bound: f64,
}

impl Matters<'_> {
    /// Places of those that may stand on the frontier or the shortlist, or on either side of a margin, and of
    /// those that the coarsest mesh does not know.
    fn chosen(&self, all_keeping: bool) -> Vec<usize> {
        let on_frontier = self.on_frontier();
        let on_shortlist = self.on_shortlist();
        let matters = |i: &usize| match &self.coarse[*i] {
            None => true,
            Some(one) => {
                let unclear = one.may_keep(self.bound) && !one.keeps(self.bound);
                let keeps = all_keeping && one.may_keep(self.bound);
                unclear || keeps || on_frontier[*i] || on_shortlist[*i]
            }
        };
        (0..self.coarse.len()).filter(matters).collect()
    }

    /// Those that none surely beats: costs at most as much and has more to spare.
    fn on_frontier(&self) -> Vec<bool> {
        let minimise = self.space.brief.minimise;
        let mut known: Vec<(i64, usize, &Coarse)> = Vec::new();
        for (i, one) in self.coarse.iter().enumerate() {
            known.extend(one.as_ref().map(|one| (one.scored.costs(minimise).0, i, one)));
        }
        known.sort_by_key(|(cost, i, _)| (*cost, *i));
        let mut on = vec![false; self.coarse.len()];
        let mut most = f64::NEG_INFINITY;
        for same in known.chunk_by(|(one, ..), (other, ..)| one == other) {
            let least = |one: &Coarse| one.over() * (1.0 - self.bound);
            most = same.iter().map(|(_, _, one)| least(one)).fold(most, f64::max);
            for (_, i, one) in same {
                on[*i] = one.over() * (1.0 + self.bound) >= most;
            }
        }
        on
    }

    /// Those that may keep every margin, unless a cheaper one of the same plies or cheaper ones of as many
    /// plies as the shortlist holds surely do.
    fn on_shortlist(&self) -> Vec<bool> {
        let brief = self.space.brief;
        let mut cheapest: Vec<(&Plies, (i64, i64))> = Vec::new();
        for (candidate, one) in self.candidates.iter().zip(self.coarse) {
            let Some(one) = one.as_ref().filter(|one| one.keeps(self.bound)) else { continue };
            let costs = one.scored.costs(brief.minimise);
            match cheapest.iter_mut().find(|(plies, _)| *plies == &candidate.plies) {
                Some((_, least)) => *least = costs.min(*least),
                None => cheapest.push((&candidate.plies, costs)),
            }
        }
        let may = |(candidate, one): (&Candidate, &Option<Coarse>)| {
            let Some(one) = one.as_ref().filter(|one| one.may_keep(self.bound)) else {
                return false;
            };
            let costs = one.scored.costs(brief.minimise);
            let cheaper = cheapest.iter().filter(|(_, least)| *least < costs);
            let own = cheaper.clone().any(|(plies, _)| *plies == &candidate.plies);
            !own && cheaper.count() < brief.n_shortlist
        };
        self.candidates.iter().zip(self.coarse).map(may).collect()
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::{BOUNDS, N_FEW, ONE_IN, Sieved, sieve};
    use crate::bench::figure::Found;
    use crate::bench::outcome::Valued;
    use crate::shelf::brief::read::read_brief_text;
    use crate::shelf::materials::Shelf;
    use crate::study::seek::score::{Scored, score};
    use crate::study::seek::space::{Candidate, Space};
    use crate::study::seek::summary::{Counts, Summary};

    const BRIEF: &str = r#"
name = "made up"
outer = ["outer-aramid-150", "outer-aramid-200", "outer-wool-270"]
felts = ["felt-spunlace-60", "felt-spunlace-85", "felt-needled-100", "felt-novoloid-100"]
felts_least = 1
felts_most = 1
inner = ["inner-jersey-140", "inner-rib-210"]
shortlist = 5
[[target]]
target = "fia-8856-2018-overall"
margin_pct = 20
[[gap]]
place = "behind outer"
least_mm = 0
most_mm = 2
step_mm = 0.5
[[gap]]
place = "before inner"
least_mm = 0
most_mm = 2
step_mm = 0.5
"#;

    /// An even number in 0 to 1 that nothing but `seed` and `i` decide.
    fn chance(seed: u64, i: u64) -> f64 {
        let mut x =
            (i + 1).wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ seed.wrapping_mul(0xD1B5_4A32_D192_ED03);
        for shift in [30, 27, 31] {
            x = (x ^ (x >> shift)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        }
        (x >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn value(value: f64, error: f64) -> Vec<Found> {
        vec![Found::Value { valued: Valued { value, error }, t: value, beyond: false }]
    }

    /// A figure that grows with mass, 9 to 22 s, and its luck.
    fn coarse(space: &Space<'_>, seed: u64, one: &Candidate) -> f64 {
        15.0 + 40.0 * (space.areal_density(one) - 0.45) + 6.0 * (chance(seed, one.index) - 0.5)
    }

    /// The same on finer meshes, `off` away at most with its error.
    fn settled(space: &Space<'_>, seed: u64, off: f64, one: &Candidate) -> Vec<Found> {
        let by = off * (2.0 * chance(seed + 1000, one.index) - 1.0);
        let figure = coarse(space, seed, one);
        value((1.0 + 0.5 * by) * figure, 0.4 * by.abs() * figure)
    }

    fn all(space: &Space<'_>) -> Vec<Candidate> {
        (0..space.n_total()).filter_map(|index| space.candidate(index)).collect()
    }

    fn sieved(space: &Space<'_>, seed: u64, settled: impl Fn(&Candidate) -> Vec<Found>) -> Sieved {
        let coarsest = |some: &[Candidate]| {
            some.iter().map(|one| Ok(value(coarse(space, seed, one), 0.0))).collect()
        };
        let settled = |some: &[Candidate]| some.iter().map(|one| Ok(settled(one))).collect();
        sieve(space, &all(space), false, coarsest, settled)
    }

    fn scored(space: &Space<'_>, sieved: Sieved) -> (Vec<Scored>, u64) {
        let known = all(space).into_iter().zip(sieved.readings);
        let known = known.filter_map(|(one, found)| score(space, &one, found?.ok()?));
        (known.collect(), sieved.n_keeping)
    }

    /// Frontier, shortlist and the number that keep their margins are those of all settled.
    #[test]
    fn nothing_that_matters_is_left() {
        let shelf = Shelf::built_in().unwrap();
        let brief = read_brief_text(BRIEF, Path::new("brief.toml"), &shelf).unwrap();
        let space = Space::of(&brief).unwrap();
        assert_eq!(space.n_total(), 600);
        let (mut n_left, mut n_listed) = (0, 0);
        for seed in 0..40 {
            let found = sieved(&space, seed, |one| settled(&space, seed, 0.02, one));
            n_left += found.sieve.n_left;
            assert!(found.sieve.off <= found.sieve.bound && found.sieve.bound <= BOUNDS.1);
            let (some, n_sure) = scored(&space, found);
            let each = all(&space);
            let each = each.iter().map(|one| (one, settled(&space, seed, 0.02, one)));
            let each: Vec<Scored> =
                each.filter_map(|(one, found)| score(&space, one, found)).collect();
            let n_keeping = |all: &[Scored]| all.iter().filter(|one| one.keeps).count() as u64;
            assert_eq!(n_keeping(&some) + n_sure, n_keeping(&each), "seed {seed}");
            let [some, each] = [some, each].map(|all| Summary::of(Counts::default(), all, &space));
            n_listed += each.shortlist.len();
            assert_eq!(some, each, "seed {seed}");
        }
        assert!(n_left > 40 * 200, "{n_left} left: too few to tell");
        assert!(n_listed > 100, "{n_listed} listed: too few to tell");
    }

    /// A mesh that is off beyond the bound in one that was settled is trusted in none.
    #[test]
    fn a_mesh_that_is_no_guide_has_all_settled() {
        let shelf = Shelf::built_in().unwrap();
        let brief = read_brief_text(BRIEF, Path::new("brief.toml"), &shelf).unwrap();
        let space = Space::of(&brief).unwrap();
        let is_whole = |found: &Sieved| found.readings.iter().all(Option::is_some);
        let wide = sieved(&space, 3, |one| settled(&space, 3, 0.2, one));
        assert!(is_whole(&wide) && wide.sieve.n_left == 0, "off everywhere");
        // the best of the lightest stands on every frontier
        let best = |one: &Candidate, other: &Candidate| {
            let cost = |one: &Candidate| (1e6 * space.areal_density(one)).round();
            let read = |one: &Candidate| coarse(&space, 3, one);
            cost(one).total_cmp(&cost(other)).then(read(other).total_cmp(&read(one)))
        };
        let lightest = all(&space).into_iter().min_by(best).unwrap();
        assert!(lightest.index % ONE_IN as u64 != 0, "one of those settled blindly");
        let odd = sieved(&space, 3, |one| match one.index == lightest.index {
            true => value(0.8 * coarse(&space, 3, one), 0.0),
            false => settled(&space, 3, 0.005, one),
        });
        assert!(is_whole(&odd) && odd.sieve.n_left == 0, "off in one that matters");
        let near = sieved(&space, 3, |one| settled(&space, 3, 0.005, one));
        assert!(!is_whole(&near) && near.sieve.bound == BOUNDS.0, "{:?}", near.sieve);
    }

    #[test]
    fn few_are_settled_all() {
        let shelf = Shelf::built_in().unwrap();
        let brief = read_brief_text(BRIEF, Path::new("brief.toml"), &shelf).unwrap();
        let space = Space::of(&brief).unwrap();
        let few: Vec<Candidate> = all(&space).into_iter().take(N_FEW).collect();
        let none = |_: &[Candidate]| panic!("no need of the coarsest mesh");
        let settled = |some: &[Candidate]| some.iter().map(|_| Ok(value(20.0, 0.1))).collect();
        let found = sieve(&space, &few, false, none, settled);
        assert!(found.readings.iter().all(Option::is_some) && found.sieve.n_left == 0);
    }
}
