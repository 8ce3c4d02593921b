//! The odds of combinations: sets of specimens drawn around each, as many of which reach the target.

use rayon::prelude::*;

use crate::bench::figure::Figured;
use crate::garment::brief::Wanted;
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::target::Judged;
use crate::study::answer::Quilts;
use crate::study::figure::{Ask, of_disc};
use crate::study::odds::defaults;
use crate::study::odds::inputs::{Further, Inputs};
use crate::study::odds::points::Design;
use crate::study::odds::result::judged_value;
use crate::study::odds::spread::{Share, wilson};
use crate::study::quilt::screen::{AreaError, N_POINTS, Points, screen_all};
use crate::study::seek::score::{Scored, by_costs};
use crate::study::seek::space::{Candidate, Plies, Space};

/// Sets drawn at a time.
const N_BLOCK: usize = 16;
/// Combinations drawn around side by side.
const N_ABREAST: usize = 8;
/// Seed of the points: that of `stillair odds` where none is given.
const SEED: u32 = 1;

/// The odds of one target, the model's own band included.
#[derive(Debug, Clone, PartialEq)]
pub struct Chance {
    /// The first specimen of each set reaches the target.
    pub one: Share,
    /// All specimens of a set, or their mean, reach it.
    pub set: Share,
    /// Which of the two.
    pub judged: Judged,
    /// Specimens of a set.
    pub n_specimens: usize,
}

/// The odds of each target for each combination, in order; a reason where some draw had no figure.
pub fn chances(
    space: &Space<'_>,
    error_goal: f64,
    candidates: &[&Candidate],
) -> Vec<Vec<Result<Chance, String>>> {
    let n_sets = space.brief.n_sets;
    if n_sets == 0 {
        return vec![Vec::new(); candidates.len()];
    }
    let mut all: Vec<Draws> = candidates
        .iter()
        .flat_map(|one| space.brief.wanted.iter().map(|wanted| Draws::of(space, one, wanted)))
        .collect();
    while all.iter().any(|draws| draws.is_open(n_sets, 0.0)) {
        let open = all.iter_mut().filter(|draws| draws.is_open(n_sets, 0.0)).collect();
        advance(open, space, error_goal);
    }
    let n_targets = space.brief.wanted.len();
    all.chunks(n_targets).map(|of_one| of_one.iter().map(Draws::chance).collect()).collect()
}

/// Whether each combination reaches the odds asked for, target by target.
///
/// A combination is given up as soon as the sets that it may lose are lost: what is left to draw
/// cannot bring it back.
pub fn reach(space: &Space<'_>, error_goal: f64, candidates: &[&Candidate]) -> Vec<bool> {
    let n_sets = space.brief.n_sets;
    let mut reached = vec![true; candidates.len()];
    for wanted in &space.brief.wanted {
        let Some(odds) = wanted.odds else { continue };
        let mut all: Vec<Option<Draws>> = candidates
            .iter()
            .zip(&reached)
            .map(|(one, reached)| reached.then(|| Draws::of(space, one, wanted)))
            .collect();
        loop {
            let open = all.iter_mut().flatten().filter(|draws| draws.is_open(n_sets, odds));
            let open: Vec<&mut Draws> = open.collect();
            if open.is_empty() {
                break;
            }
            advance(open, space, error_goal);
        }
        for (reached, draws) in reached.iter_mut().zip(&all) {
            *reached = draws.as_ref().is_some_and(|draws| draws.reaches(n_sets, odds));
        }
    }
    reached
}

/// Those of `keeping` that reach the odds and that the shortlist may need: one a set of plies, as
/// many as it holds.
///
/// - `keeping`: combinations that keep every margin, in the order of the shortlist
/// - `listed`: a shortlist of others; what it beats is passed over
///
/// None that the shortlist of both together holds is lost: combinations are drawn around in its
/// order, and passed over only for a better one of the same plies or for a full list of better ones.
pub fn reaching(
    space: &Space<'_>,
    error_goal: f64,
    keeping: Vec<Scored>,
    listed: &[Scored],
) -> Vec<Scored> {
    let brief = space.brief;
    let plies_of = |one: &Scored| space.candidate(one.index).map(|candidate| candidate.plies);
    let known: Vec<(Option<Plies>, &Scored)> = listed.iter().map(|l| (plies_of(l), l)).collect();
    let is_beaten = |one: &Scored| {
        let better = |other: &Scored| by_costs(other, one, brief.minimise).is_lt();
        let n_better = listed.iter().filter(|other| better(other)).count();
        let own = plies_of(one);
        n_better >= brief.n_shortlist || known.iter().any(|(p, other)| *p == own && better(other))
    };
    let mut queue = keeping.into_iter().filter(|one| !is_beaten(one)).peekable();
    let mut found: Vec<(Plies, Scored)> = Vec::new();
    while found.len() < brief.n_shortlist && queue.peek().is_some() {
        let mut abreast: Vec<(Candidate, Scored)> = Vec::new();
        while abreast.len() < N_ABREAST {
            let Some(one) = queue.next() else { break };
            let Some(candidate) = space.candidate(one.index) else { continue };
            if found.iter().all(|(plies, _)| *plies != candidate.plies) {
                abreast.push((candidate, one));
            }
        }
        let candidates: Vec<&Candidate> = abreast.iter().map(|(candidate, _)| candidate).collect();
        let reached = reach(space, error_goal, &candidates);
        for ((candidate, one), reached) in abreast.into_iter().zip(reached) {
            let is_new = found.iter().all(|(plies, _)| *plies != candidate.plies);
            if reached && is_new {
                found.push((candidate.plies, one));
            }
        }
    }
    found.into_iter().map(|(_, one)| one).collect()
}

/// Sets drawn around one combination for one target.
struct Draws<'a> {
    layup: Layup,
    wanted: &'a Wanted,
    inputs: Inputs,
    judged: Judged,
    n_drawn: usize,
    n_one: usize,
    n_set: usize,
    failed: Option<String>,
}

impl<'a> Draws<'a> {
    fn of(space: &Space<'_>, candidate: &Candidate, wanted: &'a Wanted) -> Draws<'a> {
        let layup = space.layup(candidate);
        let band = space.brief.bands.of(&layup, wanted.target.figure, &wanted.exposure);
        let further = Further { flux: defaults::FLUX, model: band.factors };
        let inputs = Inputs::of(&layup, &wanted.exposure, further);
        let judged = Judged::of(&wanted.target);
        Draws { layup, wanted, inputs, judged, n_drawn: 0, n_one: 0, n_set: 0, failed: None }
    }

    /// Whether more draws may still change what is known.
    fn is_open(&self, n_sets: usize, odds: f64) -> bool {
        let n_lost = self.n_drawn - self.n_set;
        self.failed.is_none() && self.n_drawn < n_sets && n_lost <= may_lose(n_sets, odds)
    }

    fn reaches(&self, n_sets: usize, odds: f64) -> bool {
        let n_lost = self.n_drawn - self.n_set;
        self.failed.is_none() && self.n_drawn == n_sets && n_lost <= may_lose(n_sets, odds)
    }

    fn chance(&self) -> Result<Chance, String> {
        match &self.failed {
            Some(why) => Err(why.clone()),
            None => Ok(Chance {
                one: wilson(self.n_one, self.n_drawn),
                set: wilson(self.n_set, self.n_drawn),
                judged: self.judged,
                n_specimens: defaults::N_SPECIMENS,
            }),
        }
    }

    /// The specimens of the next `n` sets.
    fn draw(&self, n: usize) -> Result<Vec<(Layup, Exposure)>, String> {
        let design = Design { seed: SEED.wrapping_mul(2) };
        let first = self.n_drawn * defaults::N_SPECIMENS;
        let one = |i: usize| {
            let (set, specimen) = (i / defaults::N_SPECIMENS, i % defaults::N_SPECIMENS);
            let x = self.inputs.coordinates(design, set, specimen);
            let drawn = self.inputs.draw(&self.layup, &self.wanted.exposure, &x);
            drawn.map_err(|dense| dense.to_string())
        };
        let numbers = first..first + n * defaults::N_SPECIMENS;
        let all: Vec<Result<(Layup, Exposure), String>> =
            numbers.into_par_iter().map(one).collect();
        all.into_iter().collect()
    }

    /// Counts sets whose specimens have these figures, the model taken as exact.
    fn count(&mut self, figures: &[Figured]) {
        let design = Design { seed: SEED.wrapping_mul(2) };
        for set in figures.chunks_exact(defaults::N_SPECIMENS) {
            let model = self.inputs.model(&self.inputs.coordinates(design, self.n_drawn, 0));
            let values: Vec<f64> = set.iter().map(|figured| model * figured.value).collect();
            let least = self.wanted.target.at_least;
            self.n_one += usize::from(values[0] >= least);
            self.n_set += usize::from(judged_value(self.judged, &values) >= least);
            self.n_drawn += 1;
        }
    }
}

/// How many of the sets may miss the target where so large a share must reach it.
fn may_lose(n_sets: usize, odds: f64) -> usize {
    n_sets - (odds * n_sets as f64 - 1e-9).ceil().max(0.0) as usize
}

/// Draws the next block of sets around each, all in one go.
fn advance(mut all: Vec<&mut Draws<'_>>, space: &Space<'_>, error_goal: f64) {
    let brief = space.brief;
    let (mut layups, mut exposures): (Vec<Layup>, Vec<Vec<Exposure>>) = (Vec::new(), Vec::new());
    for draws in &mut all {
        let n = N_BLOCK.min(brief.n_sets - draws.n_drawn);
        let drawn = draws.draw(n).unwrap_or_else(|why| {
            draws.failed = Some(why);
            Vec::new()
        });
        let (own, under): (Vec<Layup>, Vec<Exposure>) = drawn.into_iter().unzip();
        layups.extend(own);
        exposures.push(under);
    }
    let cases = layups.into_iter().zip(exposures.iter().flatten()).collect();
    let screened = screen_all(cases, &brief.skin, error_goal, Points::usual(AreaError::LeftOut));
    let mut screened = screened.into_iter();
    for (draws, exposures) in all.into_iter().zip(&exposures) {
        let ask = Ask {
            figure: draws.wanted.target.figure,
            nominal: &draws.wanted.exposure,
            skin: &brief.skin,
            error_goal,
            quilts: Quilts::Computed,
            n_points: N_POINTS,
        };
        let own = screened.by_ref().take(exposures.len()).zip(exposures);
        let figures = own.map(|(screened, exposure)| {
            let screened = screened.map_err(|error| error.to_string())?;
            Ok(of_disc(&screened, exposure, &ask).figured())
        });
        // every case of this one is taken from the stream, whatever becomes of it
        let figures: Vec<Result<Figured, String>> = figures.collect();
        match figures.into_iter().collect::<Result<Vec<Figured>, String>>() {
            Ok(figures) => draws.count(&figures),
            Err(why) => draws.failed = Some(why),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::may_lose;

    /// By hand: 90 % of 256 are 230.4, so 231 must reach and 25 may miss.
    #[test]
    fn as_many_may_miss_as_a_pencil_says() {
        assert_eq!(may_lose(256, 0.9), 25);
        assert_eq!(may_lose(100, 0.95), 5);
        assert_eq!(may_lose(16, 1.0), 0);
        assert_eq!(may_lose(16, 0.0), 16);
    }
}
