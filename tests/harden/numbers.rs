//! Numbers that look drawn and are the same every time.

/// A generator with its state.
/// Source: G. Marsaglia, Xorshift RNGs, J. Stat. Software 8 (2003) 14; multiplier of S. Vigna 2014.
pub struct Numbers(pub u64);

impl Numbers {
    /// The next one.
    pub fn draw(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// One below `n`, which is above 0.
    pub fn below(&mut self, n: usize) -> usize {
        (self.draw() >> 11) as usize % n
    }

    /// One of several.
    pub fn of<'a, T: ?Sized>(&mut self, all: &[&'a T]) -> &'a T {
        all[self.below(all.len())]
    }
}
