//! Built-in checks: what the program computes beside closed forms, standards' tables and libraries.
//!
//! The cases are data with the function that runs each; the test suite and the command `verify`
//! run the same ones. The tables lie in `tests/reference` and are built in (`table`).

pub mod bare;
pub mod chamber;
pub mod check;
pub mod convection;
pub mod exact;
pub mod library;
pub mod rig;
pub mod semi_infinite;
pub mod slab;
pub mod standards;
pub mod steady;
pub mod table;

pub use check::{Case, Group};

use crate::physics::gap::Convection;
use rayon::prelude::*;

/// Cases that one function runs together.
#[derive(Debug, Clone, Copy)]
pub struct Series {
    /// What they are held against.
    pub group: Group,
    /// What they have in common, in words.
    pub title: &'static str,
    run: fn() -> Vec<Case>,
}

impl Series {
    /// Runs the cases; there is at least one, and one that is not kept where nothing could be run.
    pub fn run(&self) -> Vec<Case> {
        let cases = (self.run)();
        if cases.is_empty() {
            return vec![Case::within(self.title, "nothing could be run", (0.0, 0.0), f64::NAN)];
        }
        cases
    }
}

/// A series after its run.
#[derive(Debug, Clone, PartialEq)]
pub struct Checked {
    /// What the cases are held against.
    pub group: Group,
    /// What they have in common.
    pub title: &'static str,
    /// The cases, in order.
    pub cases: Vec<Case>,
}

impl Checked {
    /// The case nearest to its bound or furthest beyond it.
    pub fn nearest(&self) -> Option<&Case> {
        let share = |case: &Case| match case.is_kept() {
            true if case.bound > 0.0 => case.difference().abs() / case.bound,
            true => 0.0,
            false => f64::INFINITY,
        };
        self.cases.iter().max_by(|a, b| share(a).total_cmp(&share(b)))
    }

    /// How many bounds are broken.
    pub fn n_broken(&self) -> usize {
        self.cases.iter().filter(|case| !case.is_kept()).count()
    }
}

/// Roots and sizes of the first term of the plane wall, from the table of the textbooks.
fn one_term() -> Vec<Case> {
    let rows = table::examples("oneterm_");
    let case = |row: &table::Row| {
        let expected = row.numbers("expected");
        convection::one_term(row.input("Bi"), expected[0], *expected.last().unwrap_or(&f64::NAN))
    };
    rows.iter().flat_map(case).collect()
}

fn gaps_inside() -> Vec<Case> {
    let vertical = Convection::Vertical { aspect: 8.0 };
    let all = [Convection::Still, Convection::HeatedFromBelow, vertical];
    all.into_iter().flat_map(steady::gap_inside).collect()
}

/// Every series, in the order of the output.
pub const SERIES: [Series; 38] = {
    use Group::{Analytic, Library, Standards};
    const fn of(group: Group, title: &'static str, run: fn() -> Vec<Case>) -> Series {
        Series { group, title, run }
    }
    [
        of(Analytic, "thick body, constant flux", semi_infinite::constant_flux),
        of(Analytic, "thick body, start rising inwards", semi_infinite::linear_start),
        of(Analytic, "thick body, periodic flux", semi_infinite::periodic_flux),
        of(Analytic, "thick body, step at the face", semi_infinite::surface_step),
        of(Analytic, "thick body, ramp at the face", semi_infinite::surface_ramp),
        of(Analytic, "thick body, hot zone at the face", semi_infinite::hot_zone),
        of(Analytic, "two thick bodies in contact", semi_infinite::contacts),
        of(Analytic, "perfused tissue, constant flux", semi_infinite::perfused),
        of(Analytic, "perfused tissue at rest", exact::perfused_at_rest),
        of(Analytic, "plane wall, first term", one_term),
        of(Analytic, "plane wall, pipe", convection::pipe_wall),
        of(Analytic, "plane wall, both faces", convection::wall_faces),
        of(Analytic, "lump, thermocouple", convection::bead),
        of(Analytic, "lump, panel in an oven", convection::panel),
        of(Analytic, "slab, insulated behind", slab::flux_insulated),
        of(Analytic, "slab, both faces fixed", slab::fixed_faces),
        of(Analytic, "slab before the disc", slab::disc_times),
        of(Analytic, "massless layer before the disc", slab::massless),
        of(Analytic, "layers at rest", steady::composite),
        of(Analytic, "gap at rest, outside", steady::gap_outside),
        of(Analytic, "gap at rest, between plies", gaps_inside),
        of(Analytic, "radiation absorbed in depth", exact::absorbed_in_depth),
        of(Analytic, "water driven out", exact::water_driven_out),
        of(Standards, "bare disc", standards::disc_slope),
        of(Standards, "transmission factor", standards::transmission_factor),
        of(Standards, "skin, burn integral 1", standards::skin_table),
        of(Standards, "Stoll's curve", standards::stoll_law),
        of(Standards, "burn at constant temperature", standards::burn_times),
        of(Standards, "specific heat of copper", standards::copper_heat),
        of(Library, "properties of air", library::air_properties),
        of(Library, "properties of water", library::water_properties),
        of(Library, "gas of the flame", library::flame_gas),
        of(Library, "air in gaps", library::gap_numbers),
        of(Library, "film on a thick body", library::films),
        of(Library, "two layers", library::two_layers),
        of(Library, "disc behind a slab", library::disc_behind),
        of(Library, "four layers, chamber of 75 °C", chamber::series),
        of(Library, "three plies before the disc", library::three_plies),
    ]
};

/// Runs the series of the groups asked for on all cores; the order is that of [`SERIES`].
///
/// - `after_each`: called when a series is done, from any thread
pub fn run(groups: &[Group], after_each: impl Fn() + Sync) -> Vec<Checked> {
    let wanted = SERIES.par_iter().filter(|series| groups.contains(&series.group));
    wanted
        .map(|series| {
            let cases = series.run();
            after_each();
            Checked { group: series.group, title: series.title, cases }
        })
        .collect()
}
