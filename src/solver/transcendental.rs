//! Exponential and logarithm of packs within 1e-11: plain sums and products, so that the bits are the
//! same for any number of lanes and on any target. What they are used for is known to percents, and
//! the same values stand in what is held and in what passes, so that accounts close whatever their error.

use crate::solver::pack::{MAGIC, Pack};

/// ln 2 in two parts, the first with so few digits that products with whole numbers are exact.
const LN2: [f64; 2] = [6.931_471_803_691_238e-1, 1.908_214_929_270_587_7e-10];
/// Numbers beyond which the exponential is held [–].
const EXP_MOST: f64 = 700.0;

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
