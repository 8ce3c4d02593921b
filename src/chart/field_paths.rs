//! The region of a field above a level, as closed rings by linear interpolation on the grid.

use std::collections::BTreeMap;

/// A field on a grid: `values[j * xs.len() + i]` at `(xs[i], ys[j])`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Grid<'a> {
    pub xs: &'a [f64],
    pub ys: &'a [f64],
    pub values: &'a [f64],
}

/// A corner of a ring: its place and whether it lies on the grid's rim.
pub(crate) type Corner = ((f64, f64), bool);

/// A crossing between two neighbouring nodes of the padded grid, lower node first.
type Edge = ((usize, usize), (usize, usize));

/// Rings around the region where the field is at or above `level`, the region on their left.
///
/// A grid padded by one node below every level closes the rings at the rim.
/// Where four nodes alternate, the mean of the four decides whether the region joins.
pub(crate) fn rings_above(grid: &Grid<'_>, level: f64) -> Vec<Vec<Corner>> {
    let (nx, ny) = (grid.xs.len(), grid.ys.len());
    let value = |(i, j): (usize, usize)| {
        let inside = (1..=nx).contains(&i) && (1..=ny).contains(&j);
        if inside { grid.values[(j - 1) * nx + i - 1] } else { f64::NEG_INFINITY }
    };
    let mut next: BTreeMap<Edge, Edge> = BTreeMap::new();
    for j in 0..=ny {
        for i in 0..=nx {
            // corners in turn, as the horizontal axis turns towards the vertical one
            let corners = [(i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1)];
            let above = corners.map(|c| value(c) >= level);
            let sides: Vec<usize> = (0..4).filter(|k| above[*k] != above[(*k + 1) % 4]).collect();
            let edge = |k: usize| ordered(corners[k], corners[(k + 1) % 4]);
            // a ring leaves the cell where the turn goes from above to below
            let leaving = |k: usize| above[k];
            match sides.len() {
                2 => {
                    let (a, b) = (sides[0], sides[1]);
                    let (enter, leave) = if leaving(a) { (a, b) } else { (b, a) };
                    next.insert(edge(enter), edge(leave));
                }
                4 => {
                    let mean = corners.iter().map(|c| value(*c)).sum::<f64>() / 4.0;
                    let turn = if mean >= level { 1 } else { 3 };
                    for k in (0..4).filter(|k| leaving(*k)) {
                        next.insert(edge(k), edge((k + turn) % 4));
                    }
                }
                _ => {}
            }
        }
    }
    let mut rings = Vec::new();
    while let Some((start, _)) = next.first_key_value() {
        let start = *start;
        let mut ring = Vec::new();
        let mut at = start;
        while let Some(to) = next.remove(&at) {
            ring.push(corner(grid, at, level));
            at = to;
        }
        rings.push(ring);
    }
    rings
}

fn ordered(a: (usize, usize), b: (usize, usize)) -> Edge {
    if a <= b { (a, b) } else { (b, a) }
}

/// Where the field crosses the level on an edge; the node itself at the rim.
fn corner(grid: &Grid<'_>, (a, b): Edge, level: f64) -> Corner {
    let (nx, ny) = (grid.xs.len(), grid.ys.len());
    let inside = |(i, j): (usize, usize)| (1..=nx).contains(&i) && (1..=ny).contains(&j);
    let place = |(i, j): (usize, usize)| (grid.xs[i - 1], grid.ys[j - 1]);
    match (inside(a), inside(b)) {
        (true, true) => {
            let value = |(i, j): (usize, usize)| grid.values[(j - 1) * nx + i - 1];
            let share = (level - value(a)) / (value(b) - value(a));
            let ((ax, ay), (bx, by)) = (place(a), place(b));
            ((ax + share * (bx - ax), ay + share * (by - ay)), false)
        }
        (true, false) => (place(a), true),
        // an edge between two nodes of the padding is never crossed
        _ => (place(b), true),
    }
}

/// All rings as one polygon: each is reached and left along the same way, which encloses nothing.
pub(crate) fn joined(rings: &[Vec<(f64, f64)>]) -> Vec<(f64, f64)> {
    let mut all = Vec::new();
    for ring in rings.iter().filter(|ring| ring.len() > 2) {
        all.extend(ring);
        all.push(ring[0]);
        all.push(all[0]);
    }
    all
}

/// The parts of a ring that are contour and not rim: from one stretch of rim to the next.
pub(crate) fn contour_parts(ring: &[Corner]) -> Vec<Vec<(f64, f64)>> {
    let places = |part: &[Corner]| part.iter().map(|c| c.0).collect::<Vec<_>>();
    let Some(first) = ring.iter().position(|corner| corner.1) else {
        let mut closed = places(ring);
        closed.extend(ring.first().map(|c| c.0));
        return vec![closed];
    };
    let turned: Vec<Corner> = ring[first..].iter().chain(&ring[..first]).copied().collect();
    let parts = turned.split(|corner| corner.1);
    parts.filter(|part| part.len() > 1).map(places).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(ring: &[(f64, f64)]) -> f64 {
        (0..ring.len())
            .map(|k| {
                let (a, b) = (ring[k], ring[(k + 1) % ring.len()]);
                0.5 * (a.0 * b.1 - b.0 * a.1)
            })
            .sum()
    }

    /// A field on a square grid of `n` by `n` over −2..2.
    fn on_grid(n: usize, f: impl Fn(f64, f64) -> f64) -> (Vec<f64>, Vec<f64>) {
        let xs: Vec<f64> = (0..n).map(|i| -2.0 + 4.0 * i as f64 / (n - 1) as f64).collect();
        let values = xs.iter().flat_map(|y| xs.iter().map(|x| f(*x, *y)).collect::<Vec<_>>());
        let values = values.collect();
        (xs, values)
    }

    #[test]
    fn a_disc_has_the_area_of_a_disc() {
        // π r² with r = 1; linear interpolation on 81 nodes errs by the order of (0.05/2)²
        let (xs, values) = on_grid(81, |x, y| 1.0 - x.hypot(y));
        let grid = Grid { xs: &xs, ys: &xs, values: &values };
        let rings = rings_above(&grid, 0.0);
        assert_eq!(rings.len(), 1);
        let ring: Vec<_> = rings[0].iter().map(|c| c.0).collect();
        assert!((area(&ring) - std::f64::consts::PI).abs() < 5e-3, "{}", area(&ring));
    }

    #[test]
    fn a_hole_runs_the_other_way_and_the_rim_is_closed() {
        let (xs, values) = on_grid(81, |x, y| x.hypot(y) - 1.0);
        let grid = Grid { xs: &xs, ys: &xs, values: &values };
        let rings = rings_above(&grid, 0.0);
        assert_eq!(rings.len(), 2);
        let all =
            joined(&rings.iter().map(|r| r.iter().map(|c| c.0).collect()).collect::<Vec<Vec<_>>>());
        let expected = 16.0 - std::f64::consts::PI;
        assert!((area(&all) - expected).abs() < 5e-3, "{}", area(&all));
        let contour: usize = rings.iter().map(|ring| contour_parts(ring).len()).sum();
        assert_eq!(contour, 1, "the rim is no contour");
    }
}
