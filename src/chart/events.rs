//! Labels of vertical marks in lanes above a panel: they never meet, and keep off the leaders.

use crate::chart::canvas::{Anchor, Canvas, Rect, Stroke, Type};
use crate::chart::palette::{Dash, GREY, INK, PAPER};
use crate::chart::text::{Weight, text_width, wrap};

const SIZE: f64 = 10.0;
const LINE: f64 = 12.5;

/// A vertical mark at a place on paper.
#[derive(Debug, Clone)]
pub(crate) struct Flag {
    pub x: f64,
    pub label: String,
}

/// The flags with their lanes, ready to draw.
#[derive(Debug, Clone, Default)]
pub(crate) struct Lanes {
    set: Vec<Set>,
    n_lines: usize,
    n_lanes: usize,
}

#[derive(Debug, Clone)]
struct Set {
    x: f64,
    lines: Vec<String>,
    width: f64,
    leftwards: bool,
    lane: usize,
}

impl Set {
    /// The stretch of paper the text takes, with a little air.
    fn span(&self) -> (f64, f64) {
        let reach = self.width + 7.0;
        if self.leftwards { (self.x - reach, self.x) } else { (self.x, self.x + reach) }
    }

    /// Whether the text would cross the other's leader.
    fn spans(&self, other: &Set) -> bool {
        let (from, to) = self.span();
        from + 0.5 < other.x && other.x < to - 0.5
    }

    fn overlaps(&self, other: &Set) -> bool {
        let ((a0, a1), (b0, b1)) = (self.span(), other.span());
        a0 < b1 - 1e-9 && b0 < a1 - 1e-9
    }
}

impl Lanes {
    /// Finds a lane for each flag between the paper's `left` and `right`.
    ///
    /// A label is at most a third of the width and wraps beyond that, so that its left
    /// neighbour can give way to one that points left. That is certain if all labels together
    /// are no wider than half the paper; beyond that a leader may pass behind a label.
    pub fn new(flags: &[Flag], left: f64, right: f64) -> Lanes {
        let widest = (right - left) / 3.0 - 8.0;
        let mut set: Vec<Set> = flags
            .iter()
            .map(|flag| {
                let lines = wrap(&flag.label, widest, SIZE, Weight::Regular);
                let width = lines
                    .iter()
                    .map(|line| text_width(line, SIZE, Weight::Regular))
                    .fold(0.0, f64::max);
                let leftwards = flag.x + width + 7.0 > right;
                Set { x: flag.x, lines, width, leftwards, lane: 0 }
            })
            .collect();
        set.sort_by(|a, b| a.x.total_cmp(&b.x));
        turn_rivals(&mut set, left);
        assign(&mut set);
        let n_lines = set.iter().map(|s| s.lines.len()).max().unwrap_or(0);
        let n_lanes = set.iter().map(|s| s.lane + 1).max().unwrap_or(0);
        Lanes { set, n_lines, n_lanes }
    }

    /// Height of all lanes [px].
    pub fn height(&self) -> f64 {
        if self.n_lanes == 0 { 0.0 } else { self.lane_height() * self.n_lanes as f64 + 3.0 }
    }

    fn lane_height(&self) -> f64 {
        self.n_lines as f64 * LINE + 2.0
    }

    /// Draws the labels above `top` and the marks down to `bottom`.
    pub fn draw(&self, canvas: &mut Canvas, top: f64, bottom: f64) {
        let type_ = Type { size: SIZE, weight: Weight::Regular, ink: INK };
        for set in &self.set {
            let roof = top - 3.0 - self.lane_height() * (set.lane + 1) as f64;
            let leader = Stroke { width: 0.75, ink: GREY, dash: Dash::Full };
            canvas.line(&[(set.x, roof + 2.0), (set.x, top)], leader);
            let mark = Stroke { width: 1.0, ink: GREY, dash: Dash::Short };
            canvas.line(&[(set.x, top), (set.x, bottom)], mark);
        }
        for set in &self.set {
            let roof = top - 3.0 - self.lane_height() * (set.lane + 1) as f64;
            let text_left = if set.leftwards { set.x - 5.0 - set.width } else { set.x + 3.0 };
            let height = LINE * set.lines.len() as f64;
            let ground = Rect { x: text_left, y: roof + 1.0, w: set.width + 2.0, h: height };
            canvas.block(ground, PAPER);
            let (x, anchor) = if set.leftwards {
                (set.x - 4.0, Anchor::End)
            } else {
                (set.x + 4.0, Anchor::Start)
            };
            for (i, line) in set.lines.iter().enumerate() {
                canvas.text(line, (x, roof + LINE * (i as f64 + 0.85)), type_, anchor);
            }
        }
    }
}

/// Of two labels that would each cross the other's leader, the left one points left if it fits there.
///
/// Where it does not, one leader passes behind a label, which has a ground of paper.
fn turn_rivals(set: &mut [Set], left: f64) {
    // turning one may make a rival of its left neighbour; none is ever turned back, so this ends
    let mut turned = true;
    while turned {
        turned = false;
        for i in 0..set.len() {
            for j in i + 1..set.len() {
                let rivals = set[i].spans(&set[j]) && set[j].spans(&set[i]);
                let fits = set[i].x - set[i].width - 7.0 >= left;
                if rivals && fits && !set[i].leftwards {
                    set[i].leftwards = true;
                    turned = true;
                }
            }
        }
    }
}

/// Lowest lanes such that a text stands above every leader it spans and meets no other text.
fn assign(set: &mut [Set]) {
    let n = set.len();
    let mut done = vec![false; n];
    for _ in 0..n {
        let free =
            |i: usize| !done[i] && (0..n).all(|j| done[j] || j == i || !set[i].spans(&set[j]));
        // no flag is free only where spans run in a circle that turning could not break
        let Some(i) = (0..n).find(|i| free(*i)).or_else(|| (0..n).find(|i| !done[*i])) else {
            return;
        };
        let mut lane = (0..n)
            .filter(|j| done[*j] && set[i].spans(&set[*j]))
            .map(|j| set[j].lane + 1)
            .max()
            .unwrap_or(0);
        while (0..n).any(|j| done[j] && set[j].lane == lane && set[j].overlaps(&set[i])) {
            lane += 1;
        }
        set[i].lane = lane;
        done[i] = true;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Flags of `n` letters, 9.74 px each at this size.
    fn lanes(flags: &[(f64, usize)]) -> Vec<Set> {
        let flags: Vec<Flag> =
            flags.iter().map(|(x, n)| Flag { x: *x, label: "m".repeat(*n) }).collect();
        Lanes::new(&flags, 0.0, 600.0).set
    }

    proptest! {
        #[test]
        fn labels_stay_in_the_frame_and_never_meet(
            flags in prop::collection::vec((0.0..600.0f64, 3usize..30), 1..9)
        ) {
            let set = lanes(&flags);
            for (i, a) in set.iter().enumerate() {
                let (from, to) = a.span();
                prop_assert!(from >= -1e-6 && to <= 600.0 + 1e-6, "{a:?}");
                for b in &set[i + 1..] {
                    prop_assert!(a.lane != b.lane || !a.overlaps(b), "{a:?} {b:?}");
                }
            }
        }

        // Labels that turn left form a chain from the right edge, each within its own reach of the
        // next; if all reach no farther than half the width together, each of them fits.
        #[test]
        fn no_leader_passes_a_label_if_all_fit_in_half_the_width(
            flags in prop::collection::vec((0.0..600.0f64, 1usize..8), 1..7)
        ) {
            let set = lanes(&flags);
            prop_assume!(set.iter().map(|s| s.width + 7.0).sum::<f64>() <= 300.0);
            for a in &set {
                for b in &set {
                    prop_assert!(!a.spans(b) || a.lane > b.lane, "{a:?} {b:?}");
                }
            }
        }
    }
}
