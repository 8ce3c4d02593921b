//! The shapes of a coverall, seen from in front or from behind.

use crate::garment::suit::Place;

/// Height of the drawing [px].
pub(crate) const HEIGHT: f64 = 420.0;
/// Width of the drawing [px].
pub(crate) const WIDTH: f64 = 200.0;
/// The head, which no panel covers: centre and radius [px].
pub(crate) const HEAD: ((f64, f64), f64) = ((100.0, 18.0), 16.0);

/// Corners of the shapes of a place, right of the middle and, where there are two, left of it [px].
pub(crate) fn shapes(place: Place) -> Vec<Vec<(f64, f64)>> {
    let (corners, is_pair): (&[(f64, f64)], bool) = match place {
        Place::Collar => (&[(87.0, 36.0), (113.0, 36.0), (119.0, 49.0), (81.0, 49.0)], false),
        Place::Shoulder => (
            &[
                (81.0, 51.0),
                (119.0, 51.0),
                (148.0, 62.0),
                (146.0, 82.0),
                (54.0, 82.0),
                (52.0, 62.0),
            ],
            false,
        ),
        Place::Trunk => (&[(54.0, 84.0), (146.0, 84.0), (142.0, 164.0), (58.0, 164.0)], false),
        Place::Hip => {
            (&[(58.0, 166.0), (142.0, 166.0), (147.0, 208.0), (100.0, 224.0), (53.0, 208.0)], false)
        }
        Place::Sleeve => {
            (&[(150.0, 63.0), (171.0, 74.0), (194.0, 218.0), (170.0, 222.0), (148.0, 106.0)], true)
        }
        Place::Elbow => (&[(156.0, 130.0), (181.0, 126.0), (186.0, 158.0), (162.0, 162.0)], true),
        Place::Thigh => (&[(101.5, 226.0), (147.0, 211.0), (146.0, 290.0), (106.0, 290.0)], true),
        Place::Knee => (&[(106.0, 292.0), (146.0, 292.0), (144.0, 326.0), (107.5, 326.0)], true),
        Place::Shin => (&[(107.5, 328.0), (144.0, 328.0), (140.0, 412.0), (110.0, 412.0)], true),
    };
    let mut all = vec![corners.to_vec()];
    if is_pair {
        all.push(corners.iter().map(|(x, y)| (WIDTH - x, *y)).collect());
    }
    all
}

/// Where a shape's number stands: the middle of its corners' box, lower on a sleeve, which an elbow may cover.
pub(crate) fn middle(place: Place, corners: &[(f64, f64)]) -> (f64, f64) {
    if place == Place::Sleeve {
        let right = corners[0].0 > WIDTH / 2.0;
        return (if right { 178.0 } else { WIDTH - 178.0 }, 192.0);
    }
    let ends = |of: fn(&(f64, f64)) -> f64| {
        let (lo, hi) = corners
            .iter()
            .map(of)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)));
        (lo + hi) / 2.0
    };
    (ends(|p| p.0), ends(|p| p.1))
}
