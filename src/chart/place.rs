//! Where labels go so that they cover neither each other nor the data.

use crate::chart::canvas::Rect;

/// Places in a column moved apart until neighbours are `gap` away, all inside `low`..`high`.
///
/// Order is kept. If the room is too small the gap shrinks evenly.
pub(crate) fn spread(wanted: &[f64], gap: f64, low: f64, high: f64) -> Vec<f64> {
    let n = wanted.len();
    if n == 0 {
        return Vec::new();
    }
    let gap = if n > 1 { gap.min((high - low) / (n - 1) as f64) } else { gap };
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|a, b| wanted[*a].total_cmp(&wanted[*b]).then(a.cmp(b)));
    // blocks of touching labels, each with its mean wish
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    for i in &order {
        blocks.push((wanted[*i], 1));
        while blocks.len() > 1 {
            let (b, nb) = blocks[blocks.len() - 1];
            let (a, na) = blocks[blocks.len() - 2];
            let needed = gap * (na + nb) as f64 / 2.0;
            let (a_in, b_in) = (held(a, na, gap, low, high), held(b, nb, gap, low, high));
            if b_in - a_in >= needed - 1e-9 {
                break;
            }
            let mean = (a * na as f64 + b * nb as f64) / (na + nb) as f64;
            blocks.truncate(blocks.len() - 2);
            blocks.push((mean, na + nb));
        }
    }
    let mut placed = vec![0.0; n];
    let mut next = order.iter();
    for (mean, count) in blocks {
        let centre = held(mean, count, gap, low, high);
        for k in 0..count {
            if let Some(i) = next.next() {
                placed[*i] = centre + gap * (k as f64 - (count - 1) as f64 / 2.0);
            }
        }
    }
    placed
}

/// The centre of a block of `n` labels held inside `low`..`high`.
fn held(centre: f64, n: usize, gap: f64, low: f64, high: f64) -> f64 {
    let half = gap * (n - 1) as f64 / 2.0;
    centre.max(low + half).min(high - half)
}

/// What a label near a point should keep clear of.
#[derive(Debug, Default)]
pub(crate) struct Obstacles {
    /// Boxes already taken by labels: never covered.
    pub taken: Vec<Rect>,
    /// Points of lines and markers: covered as little as possible.
    pub points: Vec<(f64, f64)>,
}

impl Obstacles {
    /// Adds points along a polyline close enough that no label slips between.
    pub fn add_line(&mut self, line: &[(f64, f64)]) {
        for pair in line.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            let n = ((b.0 - a.0).hypot(b.1 - a.1) / 4.0).ceil().clamp(1.0, 400.0) as usize;
            for i in 0..=n {
                let share = i as f64 / n as f64;
                self.points.push((a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1)));
            }
        }
    }

    /// The best free box of `size` near `at` inside `frame`, which is then taken.
    ///
    /// None if every place near the point meets another label.
    pub fn place(&mut self, at: (f64, f64), size: (f64, f64), frame: Rect) -> Option<Rect> {
        const TURNS: [(f64, f64); 8] = [
            (1.0, -0.6),
            (1.0, 0.6),
            (-1.0, -0.6),
            (-1.0, 0.6),
            (0.0, -1.0),
            (0.0, 1.0),
            (1.0, 0.0),
            (-1.0, 0.0),
        ];
        let mut best: Option<(f64, Rect)> = None;
        for (ring, reach) in [6.0, 14.0, 26.0, 42.0, 62.0, 86.0].into_iter().enumerate() {
            for (turn, (dx, dy)) in TURNS.into_iter().enumerate() {
                let centre =
                    (at.0 + dx * (reach + size.0 / 2.0), at.1 + dy * (reach + size.1 / 2.0));
                let rect = Rect {
                    x: centre.0 - size.0 / 2.0,
                    y: centre.1 - size.1 / 2.0,
                    w: size.0,
                    h: size.1,
                };
                if !frame.contains(&rect) || self.taken.iter().any(|t| t.meets(&rect)) {
                    continue;
                }
                let covered = self.points.iter().filter(|p| holds(&rect, **p)).count();
                let cost = covered as f64 * 3.0 + ring as f64 * 4.0 + turn as f64 * 0.1;
                if best.is_none_or(|(least, _)| cost < least) {
                    best = Some((cost, rect));
                }
            }
        }
        let (_, rect) = best?;
        self.taken.push(rect);
        Some(rect)
    }
}

fn holds(rect: &Rect, (x, y): (f64, f64)) -> bool {
    rect.x - 2.0 <= x && x <= rect.x + rect.w + 2.0 && rect.y - 2.0 <= y && y <= rect.y + rect.h + 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn spread_keeps_gap_order_and_room(wanted in prop::collection::vec(0.0..200.0f64, 1..12)) {
            let placed = spread(&wanted, 12.0, 0.0, 200.0);
            for i in 0..wanted.len() {
                prop_assert!((-1e-6..=200.0 + 1e-6).contains(&placed[i]));
                for j in 0..wanted.len() {
                    if wanted[i] < wanted[j] {
                        prop_assert!(placed[j] - placed[i] >= 12.0 - 1e-6, "{wanted:?} {placed:?}");
                    }
                }
            }
        }
    }
}
