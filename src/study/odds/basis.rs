//! Polynomials that are orthonormal under the spread of a coordinate: of a sum of them the squares of the
//! coefficients are the parts of the variance.
//!
//! Source: B. Sudret, Reliab. Eng. Syst. Saf. 93 (2008) 964, eqs. 15 to 18 (Hermite for normal, Legendre for
//! even coordinates); the polynomials themselves: M. Abramowitz, I. Stegun, Handbook of Mathematical
//! Functions, 1964, 22.4 (from memory).

/// How a coordinate is spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spread {
    /// Normal, mean 0 and deviation 1.
    Normal,
    /// Even from −1 to 1.
    Even,
}

impl Spread {
    /// The first polynomial [–].
    fn linear(self, x: f64) -> f64 {
        match self {
            Spread::Normal => x,
            Spread::Even => 3.0_f64.sqrt() * x,
        }
    }

    /// The second polynomial [–].
    fn square(self, x: f64) -> f64 {
        match self {
            Spread::Normal => (x * x - 1.0) / 2.0_f64.sqrt(),
            Spread::Even => 5.0_f64.sqrt() * 0.5 * (3.0 * x * x - 1.0),
        }
    }
}

/// A term of a surface, of degree 1 or 2; coordinates by their place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Term {
    /// One coordinate.
    Linear(usize),
    /// One coordinate bent.
    Square(usize),
    /// Two coordinates together.
    Product(usize, usize),
}

impl Term {
    /// Value at a point [–].
    pub fn at(self, x: &[f64], spreads: &[Spread]) -> f64 {
        let linear = |i: usize| spreads[i].linear(x[i]);
        match self {
            Term::Linear(i) => linear(i),
            Term::Square(i) => spreads[i].square(x[i]),
            Term::Product(i, j) => linear(i) * linear(j),
        }
    }

    /// The coordinates in it; the same one twice where there is but one.
    pub fn coordinates(self) -> [usize; 2] {
        match self {
            Term::Linear(i) | Term::Square(i) => [i, i],
            Term::Product(i, j) => [i, j],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Spread, Term};

    /// Mean of f over the spread, by the midpoint rule far out.
    fn mean(spread: Spread, f: impl Fn(f64) -> f64) -> f64 {
        let n = 400_000;
        let (reach, density): (f64, fn(f64) -> f64) = match spread {
            Spread::Even => (1.0, |_| 0.5),
            Spread::Normal => {
                (12.0, |x| (-0.5 * x * x).exp() / (2.0 * std::f64::consts::PI).sqrt())
            }
        };
        let step = 2.0 * reach / n as f64;
        (0..n).map(|i| -reach + (i as f64 + 0.5) * step).map(|x| f(x) * density(x) * step).sum()
    }

    /// Their definition: mean 0, mean square 1, no part in common.
    #[test]
    fn the_polynomials_are_orthonormal() {
        for spread in [Spread::Normal, Spread::Even] {
            let one = |x: f64| Term::Linear(0).at(&[x], &[spread]);
            let two = |x: f64| Term::Square(0).at(&[x], &[spread]);
            for (found, expected) in [
                (mean(spread, one), 0.0),
                (mean(spread, two), 0.0),
                (mean(spread, |x| one(x) * one(x)), 1.0),
                (mean(spread, |x| two(x) * two(x)), 1.0),
                (mean(spread, |x| one(x) * two(x)), 0.0),
            ] {
                assert!((found - expected).abs() < 1e-9, "{spread:?}: {found}, not {expected}");
            }
        }
        let both = [Spread::Normal, Spread::Even];
        let product = Term::Product(0, 1).at(&[2.0, 0.5], &both);
        assert!((product - 2.0 * 0.5 * 3.0_f64.sqrt()).abs() < 1e-15);
        assert_eq!(Term::Product(3, 5).coordinates(), [3, 5]);
        assert_eq!(Term::Square(4).coordinates(), [4, 4]);
    }
}
