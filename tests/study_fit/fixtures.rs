//! Tables, layups and noise that the tests share.

use std::path::PathBuf;

use stillair::garment::exposure::Exposure;
use stillair::garment::layup::Layup;
use stillair::shelf::lab::curve::Curve;
use stillair::shelf::layup::read::read_layup_text;
use stillair::shelf::materials::Shelf;
use stillair::study::fit::free::{Free, What};
use stillair::study::fit::model::Model;
use stillair::study::fit::readings::Readings;

/// Rows of a reference file: the kind, then its numbers.
pub fn rows(text: &str) -> Vec<(String, Vec<f64>)> {
    let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    let row = |line: &str| {
        let mut cells = line.split(',');
        let kind = cells.next().unwrap().to_owned();
        let numbers = cells.filter(|cell| !cell.is_empty()).map(|cell| cell.parse().unwrap());
        (kind, numbers.collect())
    };
    lines.map(row).collect()
}

/// The rows of one kind.
pub fn of_kind(rows: &[(String, Vec<f64>)], kind: &str) -> Vec<Vec<f64>> {
    rows.iter().filter(|row| row.0 == kind).map(|row| row.1.clone()).collect()
}

pub fn shelf() -> Shelf {
    Shelf::built_in().expect("the built-in shelf reads")
}

pub fn layup(shelf: &Shelf, name: &str) -> Layup {
    let (text, path) = (shelf.layup_text(name).unwrap(), shelf.layup_path(name).unwrap());
    read_layup_text(text, path, shelf).expect("the layup reads")
}

/// A layup from a text.
pub fn layup_of(shelf: &Shelf, text: &str) -> Layup {
    read_layup_text(text, &PathBuf::from("here.toml"), shelf).expect("the layup reads")
}

pub fn flame(shelf: &Shelf) -> Exposure {
    shelf.exposure("flame-80").expect("on the shelf").clone()
}

/// Free properties, each with its usual range.
pub fn free(what: &[What], layup: &Layup, exposure: &Exposure) -> Vec<Free> {
    what.iter().map(|what| Free::new(*what, None, layup, exposure).expect("it is there")).collect()
}

/// Moments from `dt` on to `t_end`, evenly spread [s].
pub fn moments(dt: f64, t_end: f64) -> Vec<f64> {
    (1..).map(|i| f64::from(i) * dt).take_while(|t| *t <= t_end + 1e-9).collect()
}

/// Readings of one curve.
pub fn readings(times: &[f64], rises: &[f64]) -> Readings {
    let points = times.iter().copied().zip(rises.iter().copied()).collect();
    Readings::Curves(vec![Curve { name: "made".to_owned(), points, notes: vec![] }])
}

/// The rise of the disc at `times` with the free properties multiplied by `factors` [K].
pub fn rises(
    layup: &Layup,
    exposure: &Exposure,
    free: &[Free],
    (times, factors, level): (&[f64], &[f64], usize),
) -> Vec<f64> {
    let asked = readings(times, &vec![0.0; times.len()]);
    let mut model = Model::new(layup, exposure, free, &asked, level);
    model.predicted(&[factors.to_vec()]).expect("the solver follows").remove(0)
}

/// Normal noise of deviation 1, the same on every machine: xorshift64* (Vigna 2016, ACM Trans. Math.
/// Softw. 42, 30; from memory) through the polar form of Box and Muller's method.
pub struct Noise(pub u64);

impl Noise {
    fn uniform(&mut self) -> f64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let bits = self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11;
        bits as f64 / (1u64 << 53) as f64
    }

    pub fn next(&mut self) -> f64 {
        loop {
            let (u, v) = (2.0 * self.uniform() - 1.0, 2.0 * self.uniform() - 1.0);
            let s = u * u + v * v;
            if s > 0.0 && s < 1.0 {
                return u * (-2.0 * s.ln() / s).sqrt();
            }
        }
    }
}
