//! Claim: the optimiser finds the certified values of three nonlinear problems from either start, and the
//! linear theory their certified standard deviations.
//! Source: NIST Statistical Reference Datasets, nonlinear regression: Misra1a, MGH09, Thurber; the files
//! in tests/reference/fits hold data and certified values.
//! Tolerance: 1e-7 of each parameter and 1e-6 of each deviation; the certified values have eleven digits,
//! the derivatives here are central differences good to about 1e-9.

use std::convert::Infallible;

use crate::study_fit::fixtures::{of_kind, rows};
use stillair::study::fit::levenberg::{Residuals, Start, least_squares};
use stillair::study::fit::spread::{Scatter, spread};
use stillair::study::fit::student::two_sided;

type Formula = fn(&[f64], f64) -> f64;

struct Problem {
    formula: Formula,
    data: Vec<(f64, f64)>,
}

impl Residuals for Problem {
    type Error = Infallible;

    fn residuals(&mut self, b: &[f64]) -> Result<Vec<f64>, Infallible> {
        Ok(self.data.iter().map(|(y, x)| (self.formula)(b, *x) - y).collect())
    }
}

#[track_caller]
fn check(text: &str, formula: Formula) {
    let rows = rows(text);
    let data = of_kind(&rows, "data").iter().map(|row| (row[0], row[1])).collect();
    let mut problem = Problem { formula, data };
    let parameters = of_kind(&rows, "parameter");
    let sum = of_kind(&rows, "sum").remove(0);
    // data and certified values belong together: the sum of squares at the certified values
    let certified: Vec<f64> = parameters.iter().map(|row| row[2]).collect();
    let there: f64 = problem.residuals(&certified).unwrap().iter().map(|r| r * r).sum();
    assert!((there / sum[0] - 1.0).abs() < 1e-9, "{there}, certified {}", sum[0]);
    for start in 0..2 {
        let x = parameters.iter().map(|row| row[start]).collect();
        let least = least_squares(&mut problem, &Start::free(x)).unwrap();
        assert!((least.sum / sum[0] - 1.0).abs() < 1e-9, "{} from start {start}", least.sum);
        let spread = spread(&least, Scatter::FromResiduals).unwrap();
        assert!((spread.deviation.unwrap() / sum[1] - 1.0).abs() < 1e-9);
        let quantile = two_sided(0.95, spread.freedom);
        for (j, row) in parameters.iter().enumerate() {
            let (x, deviation) = (least.x[j], spread.half_widths[j].unwrap() / quantile);
            assert!((x / row[2] - 1.0).abs() < 1e-7, "b{}: {x}, certified {}", j + 1, row[2]);
            assert!((deviation / row[3] - 1.0).abs() < 1e-6, "b{}: {deviation}, {}", j + 1, row[3]);
        }
    }
}

#[test]
fn misra1a() {
    check(include_str!("../reference/fits/nist_misra1a.csv"), |b, x| {
        b[0] * (1.0 - (-b[1] * x).exp())
    });
}

#[test]
fn mgh09() {
    check(include_str!("../reference/fits/nist_mgh09.csv"), |b, x| {
        b[0] * (x * x + x * b[1]) / (x * x + x * b[2] + b[3])
    });
}

#[test]
fn thurber() {
    check(include_str!("../reference/fits/nist_thurber.csv"), |b, x| {
        let cubic = |c: &[f64]| c[0] * x + c[1] * x * x + c[2] * x * x * x;
        (b[0] + cubic(&b[1..4])) / (1.0 + cubic(&b[4..7]))
    });
}
