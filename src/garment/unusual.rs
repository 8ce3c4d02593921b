//! What is possible but not usual, in words: mostly a slip of a unit.

use crate::garment::estimate::Bulk;
use crate::garment::exposure::{Exposure, Flux};
use crate::garment::field::Field;
use crate::garment::kinds;
use crate::garment::layup::{Entry, Layup, PlyJoint, Quilting};
use crate::physics::units::kelvin;

/// What is unusual about a layup.
pub(crate) fn of_layup(layup: &Layup) -> Vec<String> {
    let mut said = Vec::new();
    for entry in &layup.stack {
        match entry {
            Entry::Gap(gap) => say(&mut said, &kinds::GAP, 1e3 * gap.thickness.value, "the stack"),
            Entry::Ply(ply) => {
                let fabric = &ply.fabric;
                let whose = format!("ply `{}`", fabric.name);
                say(&mut said, &kinds::THICKNESS, 1e3 * fabric.thickness.value, &whose);
                say(&mut said, &kinds::EMISSIVITY, fabric.emissivity.value, &whose);
                say(&mut said, &kinds::FACE_VOID, 1e6 * fabric.face_void.value, &whose);
                if let PlyJoint::Conductance(joint) = &ply.joint {
                    say(&mut said, &kinds::JOINT, joint.value, &whose);
                }
                let temp = kelvin(25.0);
                let k = fabric.conductivity.value.at(temp);
                let (low, high) = Bulk::of(fabric, fabric.thickness.value).conductivities(temp);
                // what is measured lies within a quarter of what fibre and air allow
                if !(0.75 * low..=1.25 * high).contains(&k) {
                    said.push(format!(
                        "conductivity of {whose}, {k:.3} W/(m·K) at 25 °C, is unusual: fibre and air in \
                         series conduct {low:.3}, side by side {high:.3}"
                    ));
                }
            }
        }
    }
    said.extend(layup.quilting.iter().flat_map(of_quilting));
    said
}

/// What is unusual about a quilting.
pub(crate) fn of_quilting(quilting: &Quilting) -> Vec<String> {
    let mut said = Vec::new();
    let whose = "the quilting";
    say(&mut said, &kinds::PITCH, 1e3 * quilting.pitch.value, whose);
    say(&mut said, &kinds::STITCH_WIDTH, 1e3 * quilting.stitch_width.value, whose);
    say(&mut said, &kinds::LOFT, 1e3 * quilting.loft.value, whose);
    if let Some(thread) = &quilting.thread {
        say(&mut said, &kinds::THREAD, 1e3 * thread.value, whose);
    }
    said
}

/// What is unusual about an exposure.
pub(crate) fn of_exposure(exposure: &Exposure) -> Vec<String> {
    let mut said = Vec::new();
    let whose = format!("exposure `{}`", exposure.name);
    if let Flux::Steady(flux) = exposure.flux {
        say(&mut said, &kinds::FLUX, 1e-3 * flux, &whose);
    }
    say(&mut said, &kinds::DISC_MASS, 1e3 * exposure.disc.mass, &whose);
    say(&mut said, &kinds::DISC_AREA, 1e4 * exposure.disc.area, &whose);
    say(&mut said, &kinds::EMISSIVITY, exposure.disc.emissivity, &whose);
    said
}

fn say(said: &mut Vec<String>, field: &Field, value: f64, whose: &str) {
    said.extend(field.unusual(value, whose));
}

#[cfg(test)]
mod tests {
    use super::{of_exposure, of_layup};
    use crate::garment::read::read_layup_text;
    use crate::garment::shelf::Shelf;
    use std::path::Path;

    #[test]
    fn nothing_on_the_shelf_is_unusual() {
        let shelf = Shelf::built_in().unwrap();
        for name in shelf.layup_names() {
            let text = shelf.layup_text(name).unwrap();
            let layup = read_layup_text(text, Path::new(name), &shelf).unwrap();
            assert_eq!(of_layup(&layup), Vec::<String>::new(), "{name}");
        }
        for exposure in shelf.exposures() {
            assert_eq!(of_exposure(exposure), Vec::<String>::new(), "{}", exposure.name);
        }
        for fabric in shelf.fabrics() {
            let text = format!("name = \"one\"\n[[stack]]\nply = \"{}\"\n", fabric.name);
            let layup = read_layup_text(&text, Path::new("one"), &shelf).unwrap();
            assert_eq!(of_layup(&layup), Vec::<String>::new(), "{}", fabric.name);
        }
    }

    #[test]
    fn what_is_possible_but_not_usual_is_said() {
        let shelf = Shelf::built_in().unwrap();
        let text = "name = \"one\"\n[[stack]]\nply = \"outer-aramid-200\"\nemissivity = 0.02\n\
                    joint_W_m2K = 5\n[[stack]]\nply = \"felt-needled-100\"\n[[stack]]\ngap_mm = 60\n";
        let layup = read_layup_text(text, Path::new("one"), &shelf).unwrap();
        let said = of_layup(&layup);
        assert_eq!(said.len(), 3, "{said:?}");
        for (part, line) in
            ["emissivity of ply", "joint of ply", "gap of the stack"].iter().zip(said)
        {
            assert!(line.starts_with(part) && line.contains("unusually"), "{line}");
        }
    }
}
