//! Quantiles, and a share that was counted with the interval it may have.

/// Standard normal quantile of 97.5 %.
const Z_975: f64 = 1.959963984540054;

/// How many of how many, with the 95 % interval of the share behind it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    /// How many did.
    pub k: usize,
    /// Of how many.
    pub n: usize,
    /// Lower end of the interval [–].
    pub low: f64,
    /// Upper end of the interval [–].
    pub high: f64,
}

impl Share {
    /// The share itself [–]; 0 of none is 0.
    pub fn value(&self) -> f64 {
        if self.n == 0 { 0.0 } else { self.k as f64 / self.n as f64 }
    }
}

/// The share of `k` in `n` with Wilson's 95 % score interval, without correction for continuity.
///
/// Of none, the interval is all of 0 to 1. Panics: with `k` above `n`.
/// Source: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209; R. G. Newcombe, Stat. Med. 17 (1998)
/// 857, method 3.
pub fn wilson(k: usize, n: usize) -> Share {
    assert!(k <= n, "{k} of {n}");
    if n == 0 {
        return Share { k, n, low: 0.0, high: 1.0 };
    }
    let (count, p) = (n as f64, k as f64 / n as f64);
    let zz = Z_975 * Z_975;
    let middle = 2.0 * count * p + zz;
    let reach = Z_975 * (zz + 4.0 * count * p * (1.0 - p)).sqrt();
    let below = 2.0 * (count + zz);
    let low = if k == 0 { 0.0 } else { (middle - reach) / below };
    let high = if k == n { 1.0 } else { (middle + reach) / below };
    Share { k, n, low, high }
}

/// The value below which the share `p` of `sorted` lies, straight lines between the order
/// statistics; NaN of none.
///
/// - `p`: in [0, 1]
///
/// Source: R. J. Hyndman, Y. Fan, Am. Stat. 50 (1996) 361, definition 7.
pub fn quantile(sorted: &[f64], p: f64) -> f64 {
    let Some(last) = sorted.len().checked_sub(1) else { return f64::NAN };
    let place = p * last as f64;
    let below = (place.floor() as usize).min(last);
    let above = (below + 1).min(last);
    sorted[below] + (place - below as f64) * (sorted[above] - sorted[below])
}

#[cfg(test)]
mod tests {
    use super::{quantile, wilson};

    /// Newcombe 1998, Table I, method 3, four digits; and scipy 1.17.1,
    /// `binomtest(k, n).proportion_ci(0.95, 'wilson')`, all digits.
    #[track_caller]
    fn check(k: usize, n: usize, expected: (f64, f64), tolerance: f64) {
        let share = wilson(k, n);
        assert!((share.low - expected.0).abs() <= tolerance, "{k} of {n}: {share:?}");
        assert!((share.high - expected.1).abs() <= tolerance, "{k} of {n}: {share:?}");
    }

    #[test]
    fn intervals_are_those_of_newcombe_and_scipy() {
        check(81, 263, (0.2553, 0.3662), 5e-5);
        check(15, 148, (0.0624, 0.1605), 5e-5);
        check(0, 20, (0.0, 0.1611), 5e-5);
        check(1, 29, (0.0061, 0.1718), 5e-5);
        check(81, 263, (0.2552885198782742, 0.36620957698280004), 1e-14);
        check(0, 20, (0.0, 0.16112515805281935), 1e-14);
        check(10, 10, (0.7224672001371109, 1.0), 1e-14);
        check(4000, 4096, (0.9714635423988935, 0.9807684010097115), 1e-14);
    }

    #[test]
    fn of_none_everything_is_possible() {
        let none = wilson(0, 0);
        assert_eq!((none.value(), none.low, none.high), (0.0, 0.0, 1.0));
    }

    /// By hand from definition 7: 1 + 0.25·(4 − 1) steps into 1, 2, 4, 8.
    #[test]
    fn quantiles_lie_on_lines_between_the_values() {
        let sorted = [1.0, 2.0, 4.0, 8.0];
        assert_eq!(quantile(&sorted, 0.0), 1.0);
        assert_eq!(quantile(&sorted, 1.0), 8.0);
        assert_eq!(quantile(&sorted, 0.5), 3.0);
        assert_eq!(quantile(&sorted, 0.25), 1.75);
        assert!(quantile(&[], 0.5).is_nan());
        assert_eq!(quantile(&[5.0], 0.95), 5.0);
    }
}
