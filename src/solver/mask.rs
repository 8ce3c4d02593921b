//! Choosing by lane without a branch.

/// All bits set in the lanes that are chosen, none in the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Mask<const L: usize>([u64; L]);

impl<const L: usize> Mask<L> {
    #[inline(always)]
    pub fn of(chosen: &[bool; L]) -> Mask<L> {
        let mut bits = [0; L];
        for l in 0..L {
            bits[l] = if chosen[l] { u64::MAX } else { 0 };
        }
        Mask(bits)
    }

    /// `yes` in a chosen lane, `no` in another, to the bit.
    #[inline(always)]
    pub fn pick(&self, l: usize, yes: f64, no: f64) -> f64 {
        let bits = (yes.to_bits() & self.0[l]) | (no.to_bits() & !self.0[l]);
        f64::from_bits(bits)
    }
}

#[cfg(test)]
mod tests {
    use super::Mask;

    #[test]
    fn picks_even_what_cannot_be_computed_with() {
        let mask = Mask::of(&[true, false]);
        assert_eq!(mask.pick(0, 2.0, f64::NAN), 2.0);
        assert_eq!(mask.pick(1, f64::NAN, -0.0).to_bits(), (-0.0f64).to_bits());
        assert!(mask.pick(0, f64::NAN, 1.0).is_nan());
    }
}
