//! Exponential and logarithm of packs within 1e-11: plain sums and products, so that the bits are the
//! same for any number of lanes and on any target. What they are used for is known to percents, and
//! the same values stand in what is held and in what passes, so that accounts close whatever their error.

#[cfg(target_arch = "x86_64")]
use std::arch::x86_64::*;

use crate::solver::pack::{Pack, combined};

/// ln 2 in two parts, the first with so few digits that products with whole numbers are exact.
const LN2: [f64; 2] = [6.931_471_803_691_238e-1, 1.908_214_929_270_587_7e-10];
/// Numbers beyond which the exponential is held [–].
const EXP_MOST: f64 = 700.0;
/// 1.5·2^52: what is added to a number to round it to a whole one, and is taken away again.
const MAGIC: f64 = 6_755_399_441_055_744.0;
const TWO_52: f64 = 4_503_599_627_370_496.0;
/// Bits of a number that are its mantissa.
const MANTISSA: u64 = (1 << 52) - 1;
/// High half of the bits of √½, rounded.
const SPLIT_BASE: u64 = 0x3fe6_a09e_0000_0000;
/// Bits of 1 less those of √½.
const SPLIT_SHIFT: u64 = 0x3ff0_0000_0000_0000 - SPLIT_BASE;

impl<const L: usize, const W: bool> Pack<L, W> {
    /// e to the power of the number, held to ±700.
    ///
    /// x = k ln 2 + r with |r| ≤ ½ ln 2; the series of e^r up to the 9th power leaves 1e-11.
    #[inline(always)]
    pub fn exp(self) -> Self {
        let x = self.or_larger(Self::all(-EXP_MOST)).or_smaller(Self::all(EXP_MOST));
        let rounded = x * Self::all(std::f64::consts::LOG2_E) + Self::all(MAGIC);
        let k = rounded - Self::all(MAGIC);
        let r = x - k * Self::all(LN2[0]) - k * Self::all(LN2[1]);
        let r2 = r * r;
        let r4 = r2 * r2;
        let pair = |a: f64, b: f64| Self::all(1.0 / a) + (1.0 / b) * r;
        let four = |a: f64, b: f64, c: f64, d: f64| pair(a, b) + r2 * pair(c, d);
        // one over the factorials from 2! on
        let low = four(2.0, 6.0, 24.0, 120.0);
        let high = four(720.0, 5_040.0, 40_320.0, 362_880.0);
        let rest = r2 * (low + r4 * high);
        (Self::all(1.0) + (r + rest)) * rounded.two_to()
    }

    /// Natural logarithm of a number that is normal and above 0.
    ///
    /// x = 2^k m with m from √½ to √2; ln m = 2 artanh s, s = (m − 1)/(m + 1), whose series up to
    /// the 13th power leaves 1e-11.
    #[inline(always)]
    pub fn ln(self) -> Self {
        let (m, k) = self.split();
        let one = Self::all(1.0);
        let s = (m - one) / (m + one);
        let s2 = s * s;
        let s4 = s2 * s2;
        let pair = |a: f64, b: f64| Self::all(2.0 / a) + (2.0 / b) * s2;
        let four = |a: f64, b: f64, c: f64, d: f64| pair(a, b) + s4 * pair(c, d);
        let series = s2 * (four(3.0, 5.0, 7.0, 9.0) + (s4 * s4) * pair(11.0, 13.0));
        k * Self::all(LN2[0]) + (2.0 * s + (s * series + k * Self::all(LN2[1])))
    }

    /// 2^k, where the number is k, between −1022 and 1023, plus [`MAGIC`].
    #[inline(always)]
    pub fn two_to(self) -> Self {
        let bias = f64::from_bits(1023);
        combined!(
            self,
            Self::all(bias),
            |a, bias| _mm256_castsi256_pd(_mm256_slli_epi64::<52>(_mm256_add_epi64(
                _mm256_castpd_si256(a),
                _mm256_castpd_si256(bias)
            ))),
            |a, bias| f64::from_bits(a.to_bits().wrapping_add(bias.to_bits()) << 52)
        )
    }

    /// The number, normal and above 0, as 2^k times one between √½ and √2: that one, and k.
    #[inline(always)]
    pub fn split(self) -> (Self, Self) {
        // bits above those of √½, so that the exponent's are k's
        let shifted: Self = combined!(
            self,
            Self::all(f64::from_bits(SPLIT_SHIFT)),
            |a, shift| _mm256_castsi256_pd(_mm256_add_epi64(
                _mm256_castpd_si256(a),
                _mm256_castpd_si256(shift)
            )),
            |a, shift| f64::from_bits(a.to_bits().wrapping_add(shift.to_bits()))
        );
        let near_one = combined!(
            shifted,
            Self::all(f64::from_bits(SPLIT_BASE)),
            |a, base| _mm256_castsi256_pd(_mm256_add_epi64(
                _mm256_and_si256(_mm256_castpd_si256(a), _mm256_set1_epi64x(MANTISSA as i64)),
                _mm256_castpd_si256(base)
            )),
            |a, base| f64::from_bits((a.to_bits() & MANTISSA).wrapping_add(base.to_bits()))
        );
        let exponent = combined!(
            shifted,
            Self::all(TWO_52),
            |a, whole| _mm256_castsi256_pd(_mm256_or_si256(
                _mm256_srli_epi64::<52>(_mm256_castpd_si256(a)),
                _mm256_castpd_si256(whole)
            )),
            |a, whole| f64::from_bits((a.to_bits() >> 52) | whole.to_bits())
        );
        (near_one, exponent - Self::all(TWO_52 + 1023.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn one<const W: bool>(x: f64, f: fn(Pack<1, W>) -> Pack<1, W>) -> f64 {
        f(Pack([x])).0[0]
    }

    proptest! {
        /// Source: the platform's own functions.
        #[test]
        fn both_agree_with_the_platform(x in -690.0..690.0f64, y in -0.5..0.5f64) {
            for x in [x, y] {
                let own = one::<false>(x, Pack::exp);
                prop_assert!((own / x.exp() - 1.0).abs() < 1e-11, "exp {x}: {own}");
                let back = one::<false>(x.exp(), Pack::ln);
                let right = x.exp().ln();
                prop_assert!((back - right).abs() < 1e-11, "ln: {back}, {right}");
            }
        }
    }

    #[test]
    fn ends_are_held() {
        assert!((one::<false>(0.0, Pack::exp) - 1.0).abs() == 0.0);
        assert!(one::<false>(1e9, Pack::exp).is_finite());
        assert!(one::<false>(-1e9, Pack::exp) > 0.0);
        assert!(one::<false>(1.0, Pack::ln) == 0.0);
        assert!((one::<false>(1e-300, Pack::ln) - 1e-300f64.ln()).abs() < 1e-11);
    }
}
