//! A share of a search that one machine takes.

/// Part `k` of `n`, counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Part {
    /// Which part, 1 to `n`.
    pub k: u32,
    /// How many parts.
    pub n: u32,
}

/// Most parts that a search can be split into.
pub const PARTS_MOST: u32 = 100_000;

impl Part {
    /// All of it.
    pub const WHOLE: Part = Part { k: 1, n: 1 };

    /// Part `k` of `n`; none unless 1 ≤ k ≤ n ≤ [`PARTS_MOST`].
    pub fn new(k: u32, n: u32) -> Option<Part> {
        (k >= 1 && k <= n && n <= PARTS_MOST).then_some(Part { k, n })
    }

    /// Whether chunk number `chunk` belongs to it; chunks are dealt out in turn.
    pub fn holds(&self, chunk: u64) -> bool {
        chunk % u64::from(self.n) == u64::from(self.k - 1)
    }
}
