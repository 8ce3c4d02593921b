//! The cell of a quilting pattern: how its area is spread over the distance to the stitch lines.

use crate::garment::layup::{Pattern, Quilting};

/// One cell of a pattern.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    /// Course of the stitch lines.
    pub pattern: Pattern,
    /// Distance between neighbouring stitch lines [m], above 0.
    pub pitch: f64,
    /// Width over which a stitch line presses the plies [m], at least 0 and below the pitch.
    pub stitch_width: f64,
}

impl Cell {
    /// The cell of a quilting.
    pub fn of(quilting: &Quilting) -> Cell {
        Cell {
            pattern: quilting.pattern,
            pitch: quilting.pitch.value,
            stitch_width: quilting.stitch_width.value,
        }
    }

    /// Sets of parallel stitch lines.
    pub fn n_families(&self) -> usize {
        match self.pattern {
            Pattern::Channels => 1,
            Pattern::Square | Pattern::Diamond => 2,
        }
    }

    /// Share of the area farther than `s` from the middle of every stitch line [–].
    ///
    /// 1 − 2s/p for channels; (1 − 2s/p)² for squares and for rhombs of any angle, whose points
    /// beyond s form the same rhomb scaled by 1 − 2s/p.
    ///
    /// - `s`: distance [m], 0 to p/2
    pub fn share_beyond(&self, s: f64) -> f64 {
        (1.0 - 2.0 * s / self.pitch).powi(self.n_families() as i32)
    }

    /// Share of the area under stitch lines [–].
    pub fn stitch_share(&self) -> f64 {
        1.0 - self.share_beyond(0.5 * self.stitch_width)
    }

    /// Distance to the nearest stitch line's middle [m] beyond which the share 1 − `a` of the lofted area lies.
    ///
    /// - `a`: share of the lofted area [–], 0 at the stitch line's edge, 1 at the cell's centre
    pub fn distance(&self, a: f64) -> f64 {
        let half = 0.5 * self.stitch_width;
        half + self.place(a) * (0.5 * self.pitch - half)
    }

    /// The same place as u, 0 at the stitch line's edge and 1 at the centre [–].
    pub fn place(&self, a: f64) -> f64 {
        match self.pattern {
            Pattern::Channels => a,
            Pattern::Square | Pattern::Diamond => 1.0 - (1.0 - a).sqrt(),
        }
    }

    /// Share of the lofted area between the stitch line's edge and the place u [–], the reverse of [`Cell::place`].
    pub fn lofted(&self, u: f64) -> f64 {
        match self.pattern {
            Pattern::Channels => u,
            Pattern::Square | Pattern::Diamond => 1.0 - (1.0 - u) * (1.0 - u),
        }
    }

    /// Height of the loft over its height at the centre [–], at a share `a` of the lofted area.
    ///
    /// 1 − (1 − u)², a pillow's cross-section: level at the centre, nothing at the stitch line.
    /// Source: our own; common practice, no source.
    pub fn height(&self, a: f64) -> f64 {
        1.0 - (1.0 - self.place(a)).powi(2)
    }

    /// Mean of that height over the lofted area [–]: 2/3 for channels, 1/2 for squares and diamonds.
    pub fn height_mean(&self) -> f64 {
        match self.pattern {
            Pattern::Channels => 2.0 / 3.0,
            Pattern::Square | Pattern::Diamond => 0.5,
        }
    }

    /// Length of the line at the distance `s` from the middle of the nearest stitch lines, per area [1/m]: how
    /// fast [`Cell::share_beyond`] falls.
    ///
    /// - `s`: distance [m], 0 to p/2
    pub fn border(&self, s: f64) -> f64 {
        let n = self.n_families();
        n as f64 * 2.0 / self.pitch * (1.0 - 2.0 * s / self.pitch).powi(n as i32 - 1)
    }

    /// Length of stitch line per area [1/m]: 1/p for each set of lines.
    pub fn line_length(&self) -> f64 {
        self.n_families() as f64 / self.pitch
    }
}

/// Thread added by a quilting [kg/m²]; none when the thread is not known.
pub fn thread_mass(quilting: &Quilting) -> Option<f64> {
    let thread = quilting.thread.as_ref()?;
    Some(thread.value * Cell::of(quilting).line_length())
}
