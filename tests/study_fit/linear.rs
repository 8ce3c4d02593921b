//! Claim: a linear case gives scipy's values, intervals, correlation and sum of squares.
//! Source: scipy.linalg.lstsq and scipy.stats.t by tests/reference/fits/fit_linear.py, which names the version.
//! Tolerance: 1e-7, central differences of a linear function; the script's own two ways agree to 1e-9.

use std::convert::Infallible;

use crate::study_fit::fixtures::{of_kind, rows};
use stillair::study::fit::levenberg::{End, Residuals, Start, least_squares};
use stillair::study::fit::spread::{Scatter, spread};

/// A polynomial through readings `(y, x)`, lowest power first.
struct Polynomial(Vec<(f64, f64)>);

impl Residuals for Polynomial {
    type Error = Infallible;

    fn residuals(&mut self, b: &[f64]) -> Result<Vec<f64>, Infallible> {
        let at = |x: f64| b.iter().rev().fold(0.0, |sum, b| sum * x + b);
        Ok(self.0.iter().map(|(y, x)| at(*x) - y).collect())
    }
}

#[test]
fn a_cubic_as_scipy_has_it() {
    let rows = rows(include_str!("../reference/fits/fit_linear.csv"));
    let data = of_kind(&rows, "data").iter().map(|row| (row[0], row[1])).collect();
    let least = least_squares(&mut Polynomial(data), &Start::free(vec![1.0; 4])).unwrap();
    let spread = spread(&least, Scatter::FromResiduals).unwrap();
    for (j, row) in of_kind(&rows, "parameter").iter().enumerate() {
        let (x, half) = (least.x[j], spread.half_widths[j].unwrap());
        assert!((x / row[0] - 1.0).abs() < 1e-7, "{j}: {x}, scipy {}", row[0]);
        assert!((half / row[1] - 1.0).abs() < 1e-7, "{j}: ± {half}, scipy {}", row[1]);
    }
    let r = spread.correlation.unwrap()[[0, 1]];
    assert!((r - of_kind(&rows, "correlation")[0][0]).abs() < 1e-7, "{r}");
    assert!((least.sum / of_kind(&rows, "sum")[0][0] - 1.0).abs() < 1e-9);
}

/// 1 + 2x with its slope held at 1.5 or less: the best constant is then the mean of y − 1.5 x.
#[test]
fn a_bound_holds_and_the_rest_goes_on() {
    let points = (0..5).map(|i| (1.0 + 2.0 * f64::from(i), f64::from(i))).collect();
    let mut start = Start::free(vec![0.0, 0.5]);
    start.bounds[1] = (0.0, 1.5);
    let least = least_squares(&mut Polynomial(points), &start).unwrap();
    assert_eq!((least.x[1], least.end), (1.5, End::Settled));
    assert!((least.x[0] - 2.0).abs() < 1e-9, "{:?}", least.x);
}
