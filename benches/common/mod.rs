//! Layups for the benches: the touching plies of `tests/reference/layups`, varied.

use std::path::Path;

use stillair::garment::exposure::Exposure;
use stillair::garment::layup::{Entry, Layup};
use stillair::shelf::layup::read::read_layup;
use stillair::shelf::materials::Shelf;

/// The exposure of the independent calculation.
pub fn exposure() -> Exposure {
    shelf().exposure("check-80").expect("on the shelf").clone()
}

/// The layup of the independent calculation.
pub fn three_plies() -> Layup {
    layup("check-three-ply.toml")
}

/// A layup of `tests/reference/layups`.
pub fn layup(file: &str) -> Layup {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/layups");
    read_layup(&folder.join(file), &shelf()).expect("the reference layup reads")
}

fn shelf() -> Shelf {
    Shelf::built_in().expect("the built-in shelf reads")
}

/// Layups that differ in areal density, thickness and conductivity of each ply by up to a tenth
/// either way, a fresh one at each call; the same ones in every run.
#[allow(dead_code, reason = "not every bench varies layups")]
pub fn varied(from: &Layup) -> impl Iterator<Item = Layup> + Clone + use<> {
    let from = from.clone();
    let mut dice = Dice(20_251_125);
    std::iter::repeat_with(move || {
        let mut layup = from.clone();
        for entry in &mut layup.stack {
            if let Entry::Ply(ply) = entry {
                let fabric = &mut ply.fabric;
                fabric.areal_density.value *= dice.factor();
                fabric.thickness.value *= dice.factor();
                fabric.conductivity.value = fabric.conductivity.value.scaled(dice.factor());
            }
        }
        layup
    })
}

/// Marsaglia's xorshift: J. Statistical Software 8 (2003) 14.
#[derive(Debug, Clone)]
struct Dice(u64);

impl Dice {
    /// Between 0.9 and 1.1.
    fn factor(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        0.9 + 0.2 * (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
}
