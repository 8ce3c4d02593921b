//! Burns behind a whole cell of a quilting, or behind a flat stack, and the share of the area that has them.

use crate::study::body::air::Air;
use crate::study::body::burns::{Burn, ByGap, burnt_between, open_burnt, share_burnt};
use crate::study::quilt::path::{Path, Place};

/// Places over the lofted part at which the share behind open gaps is added up, an even number: between two runs
/// burns are straight in the share of the lofted area. What lies on the body, which burns at once or not, is
/// added up from where it does to where it does not.
const N_FINE: usize = 16;

/// Burns behind one place of a cell, by degree.
#[derive(Debug, Clone, PartialEq)]
struct At {
    path: Option<Path>,
    degrees: [ByGap; 3],
}

/// Burns behind a layup.
#[derive(Debug, Clone, PartialEq)]
pub struct Behind {
    /// Outwards from the stitch line; one alone for a flat stack.
    places: Vec<At>,
    /// [`N_FINE`], or half of it to tell the error.
    n_fine: usize,
}

/// Where something burns first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct First {
    /// When [s].
    pub t: f64,
    /// The place of a cell; none for a flat stack.
    pub place: Option<Place>,
    /// Whether the layup lies on the body there.
    pub in_contact: bool,
}

/// Share of an area that has burnt when it is said to burn first [–].
const FIRST: f64 = 1e-3;

impl Behind {
    /// From the places of a cell in their order, each with the burns of the three degrees by gap.
    pub fn new(places: Vec<(Option<Path>, [ByGap; 3])>) -> Behind {
        let at = |(path, degrees)| At { path, degrees };
        Behind { places: places.into_iter().map(at).collect(), n_fine: N_FINE }
    }

    /// The same with the burns of another, place by place, put to this one's by `with`.
    pub fn merged(&self, other: &Behind, with: impl Fn(&[Burn], &[Burn]) -> ByGap) -> Behind {
        let places = self.places.iter().zip(&other.places).map(|(one, two)| At {
            path: one.path,
            degrees: [0, 1, 2].map(|d| with(&one.degrees[d], &two.degrees[d])),
        });
        Behind { places: places.collect(), n_fine: self.n_fine }
    }

    /// The same with every second gap, without the places between edge and middle of a cell, and added up at half
    /// as many: what the others leave open.
    pub fn halved(&self) -> Behind {
        let between = |at: &&At| at.path.is_none_or(|path| path.place != Place::Between);
        let second = |burns: &ByGap| burns.iter().copied().step_by(2).collect::<ByGap>();
        let places = self
            .places
            .iter()
            .filter(between)
            .map(|at| At { path: at.path, degrees: [0, 1, 2].map(|d| second(&at.degrees[d])) });
        Behind { places: places.collect(), n_fine: self.n_fine / 2 }
    }

    /// Share of the area with a burn of the degree, 0 to 2 for first to third, by `t` [s] [–].
    pub fn share(&self, degree: usize, air: &Air, t: f64) -> f64 {
        let burns = |at: &At| share_burnt(&at.degrees[degree], air, t);
        let Some(stitch) = self.places[0].path.filter(is_stitch) else {
            return burns(&self.places[0]);
        };
        let lofted = &self.places[1..];
        let in_contact: f64 = lofted.windows(2).map(|pair| contact_burnt(pair, degree, t)).sum();
        let mut open = 0.0;
        for i in 0..self.n_fine {
            let a = (i as f64 + 0.5) / self.n_fine as f64;
            open += open_burnt(&between(lofted, degree, a), air, t);
        }
        let lofted = air.in_contact() * in_contact + open / self.n_fine as f64;
        stitch.share * burns(&self.places[0]) + (1.0 - stitch.share) * lofted
    }

    /// Where and when the first thousandth of the area has the degree; none where so much never has.
    pub fn first(&self, degree: usize, air: &Air) -> Option<First> {
        let mut late = self.times(degree).fold(0.0, f64::max);
        if self.share(degree, air, late) < FIRST {
            return None;
        }
        let mut early = 0.0;
        // halving until the bits stand still
        for _ in 0..64 {
            let middle = 0.5 * (early + late);
            if self.share(degree, air, middle) >= FIRST { late = middle } else { early = middle }
        }
        let has_area = |at: &&At| at.path.is_none_or(|path| !is_stitch(&path) || path.share > 0.0);
        let burnt = |at: &At| share_burnt(&at.degrees[degree], air, late);
        let most = self.places.iter().filter(has_area).map(|at| (burnt(at), at));
        // of equal ones the outermost, which is the stitch line
        let (_, at) = most.reduce(|one, two| if two.0 > one.0 { two } else { one })?;
        let contact = at.degrees[degree][0].t.is_some_and(|t| t <= late);
        Some(First {
            t: late,
            place: at.path.map(|path| path.place),
            in_contact: contact && air.in_contact() > 0.0,
        })
    }

    /// Times of the degree at all places and gaps that are reached [s].
    pub fn times(&self, degree: usize) -> impl Iterator<Item = f64> {
        let burns = self.places.iter().flat_map(move |at| &at.degrees[degree]);
        burns.filter_map(|burn| burn.t)
    }
}

/// Share of the lofted area that lies between two places and is burnt by `t` [s] in contact [–].
fn contact_burnt(pair: &[At], degree: usize, t: f64) -> f64 {
    let (one, two) = (&pair[0], &pair[1]);
    let (from, to) = burnt_between(one.degrees[degree][0], two.degrees[degree][0], t);
    (lofted_at(two) - lofted_at(one)) * (to - from)
}

/// Share of the lofted area between the stitch line's edge and a place [–].
fn lofted_at(at: &At) -> f64 {
    at.path.map_or(0.0, |path| path.lofted)
}

/// The burns at a share of the lofted area [–], straight between the places that were run.
fn between(lofted: &[At], degree: usize, a: f64) -> ByGap {
    let at = lofted_at;
    let next = lofted.iter().position(|one| at(one) >= a).unwrap_or(lofted.len() - 1).max(1);
    let (one, two) = (&lofted[next - 1], &lofted[next]);
    let way = (a - at(one)) / (at(two) - at(one));
    let pairs = one.degrees[degree].iter().zip(&two.degrees[degree]);
    pairs.map(|(one, two)| one.between(*two, way)).collect()
}

fn is_stitch(path: &Path) -> bool {
    path.place == Place::StitchLine
}
