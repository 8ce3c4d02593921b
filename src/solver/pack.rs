//! `L` numbers computed with at once.
//!
//! Where the processor has registers of four numbers they are used in so many words: left to
//! itself the compiler takes many of these sums apart again and computes them one by one. Either
//! way the arithmetic is plain, nothing fused or reordered, and the bits are the same.

#[cfg(target_arch = "x86_64")]
use std::arch::x86_64::*;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// `L` numbers, one a lane; with `W` four at a time are computed with.
///
/// `W` is for code that runs only where [`has_wide`](crate::solver::target::has_wide) holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pack<const L: usize, const W: bool>(pub [f64; L]);

/// All bits set in the lanes that are chosen, none in the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Mask<const L: usize, const W: bool>(Pack<L, W>);

/// Four entries from `l` on, in one register; `l + 4` is at most `L`.
#[cfg(target_arch = "x86_64")]
#[inline(always)]
pub(crate) fn four<const L: usize>(of: &[f64; L], l: usize) -> __m256d {
    assert!(l + 4 <= L, "four entries from {l} on");
    let first = (&raw const *of).cast::<f64>().wrapping_add(l);
    // SAFETY: the entries are there; nothing is asked of their alignment.
    unsafe { *first.cast::<Four>() }.0
}

/// Puts a register's four entries from `l` on; `l + 4` is at most `L`.
#[cfg(target_arch = "x86_64")]
#[inline(always)]
pub(crate) fn put_four<const L: usize>(into: &mut [f64; L], l: usize, register: __m256d) {
    assert!(l + 4 <= L, "four entries from {l} on");
    let first = (&raw mut *into).cast::<f64>().wrapping_add(l);
    // SAFETY: the entries are there; nothing is asked of their alignment.
    unsafe { *first.cast::<Four>() = Four(register) }
}

/// Four numbers anywhere in memory.
#[cfg(target_arch = "x86_64")]
#[derive(Clone, Copy)]
#[repr(C, packed(8))]
struct Four(__m256d);

/// Combines two packs: four lanes at a time by `$wide`, the rest one by one by `$narrow`.
macro_rules! combined {
    ($a:expr, $b:expr, |$x:ident, $y:ident| $wide:expr, |$p:ident, $q:ident| $narrow:expr) => {{
        let (a, b) = (&$a.0, &$b.0);
        let mut out = [0.0; L];
        let mut l = 0;
        #[cfg(target_arch = "x86_64")]
        if W {
            while l + 4 <= L {
                let ($x, $y) = ($crate::solver::pack::four(a, l), $crate::solver::pack::four(b, l));
                // SAFETY: `W` tells that the processor has the instruction.
                $crate::solver::pack::put_four(&mut out, l, unsafe { $wide });
                l += 4;
            }
        }
        while l < L {
            let ($p, $q) = (a[l], b[l]);
            out[l] = $narrow;
            l += 1;
        }
        Pack(out)
    }};
}
pub(crate) use combined;

impl<const L: usize, const W: bool> Pack<L, W> {
    /// 0 in every lane.
    pub const ZERO: Pack<L, W> = Pack([0.0; L]);

    /// The same number in every lane.
    #[inline(always)]
    pub fn all(value: f64) -> Self {
        Pack([value; L])
    }

    /// The larger of two numbers; the other when one is NaN.
    #[inline(always)]
    pub fn or_larger(self, other: Self) -> Self {
        combined!(self, other, |a, b| _mm256_max_pd(a, b), |a, b| larger(a, b))
    }

    /// The smaller of two numbers; the other when one is NaN.
    #[inline(always)]
    pub fn or_smaller(self, other: Self) -> Self {
        combined!(self, other, |a, b| _mm256_min_pd(a, b), |a, b| smaller(a, b))
    }

    /// The number without its sign.
    #[inline(always)]
    pub fn abs(self) -> Self {
        let sign = Self::all(-0.0);
        combined!(sign, self, |sign, a| _mm256_andnot_pd(sign, a), |_sign, a| a.abs())
    }

    /// The square root, rounded as IEEE 754 has it; NaN below 0.
    #[inline(always)]
    pub fn sqrt(self) -> Self {
        combined!(self, self, |a, _b| _mm256_sqrt_pd(a), |a, _b| a.sqrt())
    }

    /// Lanes in which the number is at least the other; not those with a NaN.
    #[inline(always)]
    pub fn at_least(self, other: Self) -> Mask<L, W> {
        Mask(combined!(self, other, |a, b| _mm256_cmp_pd::<_CMP_GE_OQ>(a, b), |a, b| mask_of(
            a >= b
        )))
    }

    /// Bits of which one number has them set and the other has not.
    #[inline(always)]
    pub fn other_bits(self, other: Self) -> Self {
        combined!(self, other, |a, b| _mm256_xor_pd(a, b), |a, b| {
            f64::from_bits(a.to_bits() ^ b.to_bits())
        })
    }

    /// Bits of either number.
    #[inline(always)]
    pub fn or_bits(self, other: Self) -> Self {
        combined!(self, other, |a, b| _mm256_or_pd(a, b), |a, b| {
            f64::from_bits(a.to_bits() | b.to_bits())
        })
    }

    /// Whether all bits of all numbers are 0.
    #[inline(always)]
    pub fn is_zero(self) -> bool {
        let mut l = 0;
        let mut is_zero = true;
        #[cfg(target_arch = "x86_64")]
        if W && L >= 4 {
            let mut all = four(&self.0, 0);
            l = 4;
            while l + 4 <= L {
                // SAFETY: `W` tells that the processor has the instruction.
                all = unsafe { _mm256_or_pd(all, four(&self.0, l)) };
                l += 4;
            }
            // SAFETY: as above.
            is_zero = unsafe {
                let all = _mm256_castpd_si256(all);
                _mm256_testz_si256(all, all) == 1
            };
        }
        let mut bits = 0;
        while l < L {
            bits |= self.0[l].to_bits();
            l += 1;
        }
        is_zero && bits == 0
    }
}

impl<const L: usize, const W: bool> Mask<L, W> {
    /// The mask of the lanes in `chosen`.
    #[inline(always)]
    pub fn of(chosen: &[bool; L]) -> Self {
        let mut mask = Pack::ZERO;
        for l in 0..L {
            mask.0[l] = mask_of(chosen[l]);
        }
        Mask(mask)
    }

    /// `yes` in a chosen lane, `no` in another, to the bit.
    #[inline(always)]
    pub fn pick(self, yes: Pack<L, W>, no: Pack<L, W>) -> Pack<L, W> {
        self.only(yes).or_bits(combined!(
            self.0,
            no,
            |mask, a| _mm256_andnot_pd(mask, a),
            |mask, a| f64::from_bits(!mask.to_bits() & a.to_bits())
        ))
    }

    /// `value` in a chosen lane, 0 in another.
    #[inline(always)]
    pub fn only(self, value: Pack<L, W>) -> Pack<L, W> {
        combined!(self.0, value, |mask, a| _mm256_and_pd(mask, a), |mask, a| {
            f64::from_bits(mask.to_bits() & a.to_bits())
        })
    }
}

#[inline(always)]
fn mask_of(chosen: bool) -> f64 {
    f64::from_bits(if chosen { u64::MAX } else { 0 })
}

impl<const L: usize, const W: bool> Add for Pack<L, W> {
    type Output = Self;

    #[inline(always)]
    fn add(self, other: Self) -> Self {
        combined!(self, other, |a, b| _mm256_add_pd(a, b), |a, b| a + b)
    }
}

impl<const L: usize, const W: bool> Sub for Pack<L, W> {
    type Output = Self;

    #[inline(always)]
    fn sub(self, other: Self) -> Self {
        combined!(self, other, |a, b| _mm256_sub_pd(a, b), |a, b| a - b)
    }
}

impl<const L: usize, const W: bool> Mul for Pack<L, W> {
    type Output = Self;

    #[inline(always)]
    fn mul(self, other: Self) -> Self {
        combined!(self, other, |a, b| _mm256_mul_pd(a, b), |a, b| a * b)
    }
}

impl<const L: usize, const W: bool> Div for Pack<L, W> {
    type Output = Self;

    #[inline(always)]
    fn div(self, other: Self) -> Self {
        combined!(self, other, |a, b| _mm256_div_pd(a, b), |a, b| a / b)
    }
}

impl<const L: usize, const W: bool> Mul<Pack<L, W>> for f64 {
    type Output = Pack<L, W>;

    #[inline(always)]
    fn mul(self, pack: Pack<L, W>) -> Pack<L, W> {
        Pack::all(self) * pack
    }
}

impl<const L: usize, const W: bool> Sub<Pack<L, W>> for f64 {
    type Output = Pack<L, W>;

    #[inline(always)]
    fn sub(self, pack: Pack<L, W>) -> Pack<L, W> {
        Pack::all(self) - pack
    }
}

impl<const L: usize, const W: bool> Div<Pack<L, W>> for f64 {
    type Output = Pack<L, W>;

    #[inline(always)]
    fn div(self, pack: Pack<L, W>) -> Pack<L, W> {
        Pack::all(self) / pack
    }
}

impl<const L: usize, const W: bool> Neg for Pack<L, W> {
    type Output = Self;

    #[inline(always)]
    fn neg(self) -> Self {
        let sign = Pack::all(-0.0);
        self.other_bits(sign)
    }
}

impl<const L: usize, const W: bool> AddAssign for Pack<L, W> {
    #[inline(always)]
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl<const L: usize, const W: bool> SubAssign for Pack<L, W> {
    #[inline(always)]
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

/// The larger of two numbers, as one machine instruction; the second when one is NaN.
#[inline(always)]
pub(crate) fn larger(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

/// The smaller of two numbers, as one machine instruction; the second when one is NaN.
#[inline(always)]
pub(crate) fn smaller(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

#[cfg(test)]
mod tests {
    use super::{Mask, Pack};
    use crate::solver::target::has_wide;

    const ODD: [f64; 8] =
        [1.5, -2.0, 0.0, -0.0, f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 5e-324];

    /// Every result of every operation on every pair of odd numbers.
    fn all<const W: bool>() -> Vec<u64> {
        let mut bits = Vec::new();
        for turn in 0..8 {
            let mut other = ODD;
            other.rotate_left(turn);
            let (a, b): (Pack<8, W>, Pack<8, W>) = (Pack(ODD), Pack(other));
            let mask = a.at_least(b);
            let results = [
                a + b,
                a - b,
                a * b,
                a / b,
                -a,
                a.abs(),
                a.sqrt(),
                a.two_to(),
                a.split().0,
                a.split().1,
                a.or_larger(b),
                a.or_smaller(b),
                a.other_bits(b),
                a.or_bits(b),
                mask.pick(a, b),
                mask.only(a),
            ];
            bits.extend(results.iter().flat_map(|pack| pack.0).map(canonical));
        }
        bits
    }

    /// The bits of a number; one NaN is as good as another.
    fn canonical(value: f64) -> u64 {
        if value.is_nan() { f64::NAN.to_bits() } else { value.to_bits() }
    }

    #[test]
    fn four_at_a_time_and_one_by_one_give_the_same_bits() {
        // a processor without such registers has only one way
        if has_wide() {
            assert_eq!(all::<true>(), all::<false>());
        }
    }

    #[test]
    fn zero_is_found_in_any_lane() {
        fn check<const L: usize, const W: bool>() {
            assert!(Pack::<L, W>::ZERO.is_zero());
            for l in 0..L {
                let mut pack = Pack::<L, W>::ZERO;
                pack.0[l] = 5e-324;
                assert!(!pack.is_zero(), "lane {l} of {L}");
            }
        }
        check::<1, false>();
        check::<8, false>();
        if has_wide() {
            check::<1, true>();
            check::<6, true>();
            check::<8, true>();
        }
    }

    #[test]
    fn picks_even_what_cannot_be_computed_with() {
        let mask = Mask::<2, false>::of(&[true, false]);
        let (yes, no) = (Pack([2.0, f64::NAN]), Pack([f64::NAN, -0.0]));
        assert_eq!(mask.pick(yes, no).0[0], 2.0);
        assert_eq!(mask.pick(yes, no).0[1].to_bits(), (-0.0f64).to_bits());
    }
}
