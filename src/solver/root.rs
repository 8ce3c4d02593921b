//! Where a smooth function crosses zero within a step.

/// Place in `[a, b]` where `f` changes sign, to `tol`, by bisection with regula falsi (Illinois).
///
/// - `f(a)` and `f(b)` have opposite signs or one of them is 0
///
/// Source: Dowell & Jarratt, BIT 11 (1971) 168.
///
/// Panics: if both ends have the same sign.
pub fn crossing(a: f64, b: f64, tol: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut left, mut right) = (a, b);
    let (mut f_left, mut f_right) = (f(a), f(b));
    if f_left == 0.0 {
        return a;
    }
    if f_right == 0.0 {
        return b;
    }
    assert!(f_left * f_right < 0.0, "no change of sign between {a} and {b}");
    let mut kept = 0;
    for _ in 0..200 {
        if (right - left).abs() <= tol {
            break;
        }
        let mid = right - f_right * (right - left) / (f_right - f_left);
        let f_mid = f(mid);
        if f_mid == 0.0 {
            return mid;
        }
        if f_mid * f_right < 0.0 {
            left = right;
            f_left = f_right;
            kept = 0;
        } else {
            kept += 1;
            if kept > 0 {
                f_left *= 0.5;
            }
        }
        right = mid;
        f_right = f_mid;
    }
    right
}

#[cfg(test)]
mod tests {
    use super::crossing;
    use approx::assert_abs_diff_eq;

    #[test]
    fn finds_known_roots() {
        assert_abs_diff_eq!(
            crossing(0.0, 2.0, 1e-13, |x| x * x - 2.0),
            2f64.sqrt(),
            epsilon = 1e-12
        );
        assert_abs_diff_eq!(crossing(-1.0, 3.0, 1e-13, |x| x.exp() - 1.0), 0.0, epsilon = 1e-12);
        assert_abs_diff_eq!(
            crossing(0.0, 1.0, 1e-13, |x| x.powi(9) - 1e-4),
            1e-4f64.powf(1.0 / 9.0),
            epsilon = 1e-12
        );
    }
}
