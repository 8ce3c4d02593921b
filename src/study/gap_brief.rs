//! A brief as a map: its plies down, its gaps across.

use crate::garment::brief::{Brief, GapPlace, GapRange, Wanted};
use crate::garment::fabric::Fabric;
use crate::garment::layup::Layup;
use crate::garment::target::Figure;
use crate::study::answer::{AnswerError, Quilts};
use crate::study::gap::{Swept, sweep_each, swept_plies};
use crate::study::gap_map::{Asked, GapMap};
use crate::study::run::Terms;
use crate::study::seek::finding::Finding;
use crate::study::seek::space::{Candidate, Fit, Space, place_behind};

/// Why a brief is no map.
#[derive(Debug, Clone, PartialEq)]
pub enum NotDrawn {
    /// It names no gaps there and none were given.
    NoGaps,
    /// Its places have different gaps.
    Differ,
    /// It stitches in so many ways.
    Stitchings(usize),
    /// It has so many stacks of plies, more than asked for.
    Stacks(u64),
    /// No stack keeps to its limits and has such a gap.
    Nothing,
    /// A fabric to keep is none of its own.
    Unknown(String),
}

/// Rows and columns of a brief's map.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// The stacks of plies, named by their plies, the lightest first, each with the plies behind which the swept
    /// gaps lie, counted from 1. All other gaps are as narrow as the brief allows.
    pub layups: Vec<(Layup, Vec<usize>)>,
    /// Which gaps those are.
    pub swept: Swept,
    /// Their places.
    pub places: Vec<GapPlace>,
    /// Places of the brief's other gaps.
    pub still: Vec<GapPlace>,
    /// The gaps [m].
    pub gaps: Vec<f64>,
    /// Stacks beyond the brief's limits even with the narrowest gaps, or not to be stitched: left out.
    pub n_beyond: usize,
    /// Stacks that have no gap there: left out.
    pub n_without: usize,
}

/// The brief with no other fabrics than `names`, where any in a place is named.
///
/// Errors: [`NotDrawn::Unknown`], a name that is none of its fabrics.
pub fn with_only(brief: &Brief, names: &[String]) -> Result<Brief, NotDrawn> {
    let all = || brief.outer.iter().chain(&brief.felts).chain(&brief.inner);
    if let Some(name) = names.iter().find(|name| all().all(|fabric| fabric.name != **name)) {
        return Err(NotDrawn::Unknown(name.clone()));
    }
    let mut kept = brief.clone();
    for list in [&mut kept.outer, &mut kept.felts, &mut kept.inner] {
        let is_named = |fabric: &Fabric| names.contains(&fabric.name);
        if list.iter().any(is_named) {
            list.retain(is_named);
        }
    }
    Ok(kept)
}

/// The brief's stacks of plies against the gaps of one place, or of all that it opens together.
///
/// - `swept`: [`Swept::All`], or a place
/// - `gaps`: instead of the brief's own [m]; they grow
/// - `most`: stacks that there is room for
///
/// Errors: [`NotDrawn`].
pub fn lay(
    brief: &Brief,
    swept: Swept,
    gaps: Option<&[f64]>,
    quilts: Quilts,
    most: usize,
) -> Result<Laid, NotDrawn> {
    let (places, gaps) = across(brief, swept, gaps)?;
    let stitching = match (quilts, brief.stitchings.as_slice()) {
        (Quilts::LeftOut, _) => None,
        (Quilts::Computed, [one]) => *one,
        (Quilts::Computed, several) => return Err(NotDrawn::Stitchings(several.len())),
    };
    let narrowest = |range: &GapRange| GapRange { most: range.least, ..*range };
    let still = Brief {
        gaps: brief.gaps.iter().map(narrowest).collect(),
        stitchings: vec![stitching],
        ..brief.clone()
    };
    let space = Space::of(&still).ok_or(NotDrawn::Nothing)?;
    if space.n_total() > most as u64 {
        return Err(NotDrawn::Stacks(space.n_total()));
    }
    let (mut layups, mut n_beyond, mut n_without) = (Vec::new(), 0, 0);
    for candidate in (0..space.n_total()).filter_map(|index| space.candidate(index)) {
        let (layup, plies) = row(&space, &candidate, &places);
        match (space.fit(&candidate), plies.is_empty()) {
            (Fit::Within, false) => layups.push((layup, plies, space.areal_density(&candidate))),
            (Fit::Within, true) => n_without += 1,
            _ => n_beyond += 1,
        }
    }
    if layups.is_empty() {
        return Err(NotDrawn::Nothing);
    }
    layups.sort_by(|a, b| a.2.total_cmp(&b.2));
    let layups = layups.into_iter().map(|(layup, plies, _)| (layup, plies)).collect();
    Ok(laid(brief, (places, gaps), layups, [n_beyond, n_without]))
}

/// The plies of a search's shortlist against the gaps of its brief, opened together where they are the same, else
/// those of the first place; under the target that holds the first of the shortlist.
///
/// - `most`: gaps that there is room for
///
/// None where there is no shortlist, no choice of gaps, or a target of a figure that a sweep does not tell.
pub fn lay_shortlist<'a>(finding: &Finding<'a>, most: usize) -> Option<(&'a Wanted, Laid)> {
    let brief = finding.brief();
    let wanted = &brief.wanted[finding.shortlist.first()?.point.closed().binding];
    if !is_swept(wanted.target.figure) {
        return None;
    }
    let first = || GapPlace::ALL.into_iter().find(|place| brief.gap_range(*place).is_some());
    let (places, gaps) = across(brief, Swept::All, None)
        .or_else(|why| across(brief, Swept::Place(first().ok_or(why)?), None))
        .ok()?;
    let gaps: Vec<f64> = gaps.iter().copied().step_by(gaps.len().div_ceil(most)).collect();
    let mut rows = Vec::new();
    for (i, choice) in finding.shortlist.iter().enumerate() {
        let mut candidate = choice.point.candidate.clone();
        let n_felts = candidate.plies.felts.len();
        for (ply, gap) in candidate.gaps.iter_mut().enumerate() {
            *gap = brief.gap_range(place_behind(ply, n_felts)).map_or(0.0, |range| range.least);
        }
        let (layup, plies) = row(finding.space, &candidate, &places);
        let name = format!("{} (S{})", layup.name, i + 1);
        rows.push((Layup { name, ..layup }, plies));
    }
    let n = rows.len();
    rows.retain(|(_, plies)| !plies.is_empty());
    let n_without = n - rows.len();
    let is_map = gaps.len() > 1 && !rows.is_empty();
    is_map.then(|| (wanted, laid(brief, (places, gaps), rows, [0, n_without])))
}

/// Whether a sweep tells the figure, and as a time, which a map is of.
pub fn is_swept(figure: Figure) -> bool {
    figure != Figure::Tpp
}

/// A combination named by its plies, and the plies behind which gaps of these places lie.
fn row(space: &Space<'_>, candidate: &Candidate, places: &[GapPlace]) -> (Layup, Vec<usize>) {
    let names: Vec<&str> =
        space.fabrics(&candidate.plies).map(|fabric| fabric.name.as_str()).collect();
    let layup = Layup { name: names.join(" + "), ..space.layup(candidate) };
    let there = |place: &GapPlace| swept_plies(&layup, Swept::Place(*place)).ok();
    let mut plies: Vec<usize> = places.iter().filter_map(there).flatten().collect();
    plies.sort_unstable();
    (layup, plies)
}

fn laid(
    brief: &Brief,
    (places, gaps): (Vec<GapPlace>, Vec<f64>),
    layups: Vec<(Layup, Vec<usize>)>,
    [n_beyond, n_without]: [usize; 2],
) -> Laid {
    let swept = match places[..] {
        [one] => Swept::Place(one),
        _ => Swept::All,
    };
    let others = brief.gaps.iter().map(|range| range.place);
    let still = others.filter(|place| !places.contains(place)).collect();
    Laid { layups, swept, places, still, gaps, n_beyond, n_without }
}

/// Places of the gaps, outermost first, and how wide they are looked at [m].
fn across(
    brief: &Brief,
    swept: Swept,
    given: Option<&[f64]>,
) -> Result<(Vec<GapPlace>, Vec<f64>), NotDrawn> {
    let is_swept = |place: &GapPlace| match swept {
        Swept::Place(one) => *place == one,
        _ => brief.gap_range(*place).is_some(),
    };
    let places: Vec<GapPlace> = GapPlace::ALL.into_iter().filter(is_swept).collect();
    let mut ranges = places.iter().filter_map(|place| brief.gap_range(*place));
    match (given, ranges.next()) {
        (Some(gaps), _) if !places.is_empty() => Ok((places, gaps.to_vec())),
        (None, Some(first)) => {
            let same = |range: &GapRange| GapRange { place: first.place, ..*range } == *first;
            if !ranges.all(same) {
                return Err(NotDrawn::Differ);
            }
            Ok((places, (0..first.n_values()).map(|i| first.value(i)).collect()))
        }
        _ => Err(NotDrawn::NoGaps),
    }
}

/// Every stack at every gap.
///
/// - `wanted`: the target of the brief that is drawn, of a figure that a sweep tells
/// - `terms`: with its exposure
///
/// Errors: [`AnswerError`], the first point that could not be computed.
pub fn map(
    (brief, wanted): (&Brief, &Wanted),
    laid: Laid,
    terms: &Terms,
) -> Result<GapMap, AnswerError> {
    let rows = laid.layups.iter().map(|(layup, plies)| (layup, plies));
    let sweeps = sweep_each(rows, terms, laid.swept, &laid.gaps)?;
    let asked = Asked {
        brief: brief.name.clone(),
        wanted: wanted.clone(),
        minimise: brief.minimise,
        thickness: brief.limits.thickness,
        swept: laid.places,
        still: laid.still,
        n_beyond: laid.n_beyond,
        n_without: laid.n_without,
    };
    Ok(GapMap { sweeps, figure: wanted.target.figure, asked: Some(asked) })
}
