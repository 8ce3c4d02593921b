//! What is possible but not usual, in words: mostly a slip of a unit.

use crate::garment::body_map::BodyMap;
use crate::garment::brief::Brief;
use crate::garment::estimate::Bulk;
use crate::garment::exposure::{Exposure, Flux};
use crate::garment::fabric::Fabric;
use crate::garment::layup::{Entry, Layup, PlyJoint, Quilting};
use crate::garment::suit::{Extent, Suit};
use crate::physics::units::kelvin;
use crate::shelf::key::field::Field;
use crate::shelf::key::{kinds, kinds_body, kinds_suit};

/// What is unusual about a layup.
pub(crate) fn of_layup(layup: &Layup) -> Vec<String> {
    let mut said = Vec::new();
    for entry in &layup.stack {
        match entry {
            Entry::Gap(gap) => say(&mut said, &kinds::GAP, gap.thickness.value, "the stack"),
            Entry::Ply(ply) => {
                let whose = format!("ply `{}`", ply.fabric.name);
                said.extend(of_fabric(&ply.fabric, &whose));
                of_joint(&mut said, &ply.joint, &whose);
            }
        }
    }
    said.extend(layup.quilting.iter().flat_map(of_quilting));
    said
}

/// What is unusual about a fabric; `whose` such as "ply `felt-100`".
pub(crate) fn of_fabric(fabric: &Fabric, whose: &str) -> Vec<String> {
    let mut said = Vec::new();
    for (of, field) in kinds::OF_FABRIC {
        say(&mut said, &field, of.value(fabric), whose);
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
    said
}

fn of_joint(said: &mut Vec<String>, joint: &PlyJoint, whose: &str) {
    if let PlyJoint::Conductance(joint) = joint {
        say(said, &kinds::JOINT, joint.value, whose);
    }
}

/// What is unusual about a suit, its layups and their alternatives; each thing once.
pub(crate) fn of_suit(suit: &Suit) -> Vec<String> {
    let mut said = Vec::new();
    let whose = format!("suit `{}`", suit.name);
    say(&mut said, &kinds_suit::MASS, suit.body.mass.value, "the body");
    say(&mut said, &kinds_suit::HEIGHT, suit.body.height.value, "the body");
    say(&mut said, &kinds_suit::EASE, suit.ease.value, &whose);
    say(&mut said, &kinds_suit::SEAM, suit.seam.value, &whose);
    say(&mut said, &kinds_suit::CUTTING, suit.cutting.value, &whose);
    for panel in &suit.panels {
        if let Extent::Area(area) = &panel.extent {
            let whose = format!("panel `{}`", panel.name);
            say(&mut said, &kinds_suit::AREA, area.value, &whose);
        }
        for layup in [&panel.layup].into_iter().chain(&panel.alternatives) {
            let of = |what| format!("{what} (layup `{}`)", layup.name);
            said.extend(of_layup(layup).into_iter().map(of));
        }
        if let Some(embroidery) = &panel.embroidery {
            let whose = format!("embroidery `{}`", embroidery.fabric.name);
            said.extend(of_fabric(&embroidery.fabric, &whose));
        }
    }
    once_each(said)
}

/// What is unusual about the air around a body.
pub(crate) fn of_body_map(map: &BodyMap) -> Vec<String> {
    let mut said = Vec::new();
    for air in &map.airs {
        let whose = format!("the air at the {}", air.place.word());
        say(&mut said, &kinds_body::BODY_GAP, air.gap.value, &whose);
        say(&mut said, &kinds_body::SPREAD, air.spread.value, &whose);
        say(&mut said, &kinds_body::GIRTH, air.girth.value, &whose);
    }
    said
}

/// What is unusual about a brief, its fabrics, gaps and ways of stitching; each thing once.
pub(crate) fn of_brief(brief: &Brief) -> Vec<String> {
    let mut said = Vec::new();
    for fabric in brief.outer.iter().chain(&brief.felts).chain(&brief.inner) {
        said.extend(of_fabric(fabric, &format!("fabric `{}`", fabric.name)));
    }
    for range in &brief.gaps {
        let whose = format!("the brief {}", range.place.words());
        // 0 stands for plies that touch
        for gap in [range.least, range.most].into_iter().filter(|gap| *gap > 0.0) {
            say(&mut said, &kinds::GAP, gap, &whose);
        }
    }
    of_joint(&mut said, &brief.joint, "the brief");
    for stitching in brief.stitchings.iter().flatten() {
        said.extend(of_quilting(&stitching.quilting(brief.limits.thickness.unwrap_or(1e-3))));
    }
    for wanted in &brief.wanted {
        said.extend(of_exposure(&wanted.exposure));
    }
    once_each(said)
}

/// The sentences in their order, each where it comes first.
fn once_each(said: Vec<String>) -> Vec<String> {
    let mut kept: Vec<String> = Vec::new();
    for one in said {
        if !kept.contains(&one) {
            kept.push(one);
        }
    }
    kept
}

/// What is unusual about a quilting.
pub(crate) fn of_quilting(quilting: &Quilting) -> Vec<String> {
    let mut said = Vec::new();
    let whose = "the quilting";
    say(&mut said, &kinds::PITCH, quilting.pitch.value, whose);
    say(&mut said, &kinds::STITCH_WIDTH, quilting.stitch_width.value, whose);
    say(&mut said, &kinds::LOFT, quilting.loft.value, whose);
    if let Some(thread) = &quilting.thread {
        say(&mut said, &kinds::THREAD, thread.value, whose);
    }
    said
}

/// What is unusual about an exposure.
pub(crate) fn of_exposure(exposure: &Exposure) -> Vec<String> {
    let mut said = Vec::new();
    let whose = format!("exposure `{}`", exposure.name);
    if let Flux::Steady(flux) = exposure.flux {
        say(&mut said, &kinds::FLUX, flux, &whose);
    }
    say(&mut said, &kinds::DISC_MASS, exposure.disc.mass, &whose);
    say(&mut said, &kinds::DISC_AREA, exposure.disc.area, &whose);
    say(&mut said, &kinds::EMISSIVITY, exposure.disc.emissivity, &whose);
    said
}

/// - `si`: the value in SI
fn say(said: &mut Vec<String>, field: &Field, si: f64, whose: &str) {
    said.extend(field.unusual(field.quantity.outside(si), whose));
}

#[cfg(test)]
mod tests {
    use super::{of_brief, of_exposure, of_layup, of_suit};
    use crate::shelf::brief::read::{read_brief, read_brief_text};
    use crate::shelf::layup::read::read_layup_text;
    use crate::shelf::materials::Shelf;
    use crate::shelf::suit::read::read_suit_text;
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
    fn nothing_of_the_suit_and_the_briefs_is_unusual() {
        let shelf = Shelf::built_in().unwrap();
        for name in shelf.suit_names() {
            let (text, path) = shelf.suit_file(name).unwrap();
            let suit = read_suit_text(text, path, &shelf).unwrap();
            assert_eq!(of_suit(&suit), Vec::<String>::new(), "{name}");
        }
        for name in ["hill-climb-refuelling-coverall", "quilted-front-panel"] {
            let path = format!("materials/briefs/{name}.toml");
            let brief = read_brief(Path::new(&path), &shelf).unwrap().brief;
            assert_eq!(of_brief(&brief), Vec::<String>::new(), "{name}");
        }
    }

    /// Each slip of a suit and of a brief is told once, however many panels or ways of stitching it is in.
    #[test]
    fn what_is_unusual_of_a_suit_or_a_brief_is_said_once() {
        let shelf = Shelf::built_in().unwrap();
        let (text, path) = shelf.suit_file("refuelling-coverall").unwrap();
        let slips = [("mass_kg = 78", "mass_kg = 200"), ("cutting_pct = 18", "cutting_pct = 70")];
        let text = slips.iter().fold(text.to_owned(), |text, (old, new)| {
            assert!(text.contains(old), "{old}");
            text.replace(old, new)
        });
        let said = of_suit(&read_suit_text(&text, path, &shelf).unwrap());
        assert_eq!(said.len(), 2, "{said:?}");
        assert!(said[0].starts_with("mass of the body, 200 kg, is unusually large"), "{said:?}");
        assert!(said[1].starts_with("cutting of suit `"), "{said:?}");

        let path = Path::new("materials/briefs/quilted-front-panel.toml");
        let text = std::fs::read_to_string(path).unwrap();
        let mut lines: Vec<&str> = text.lines().collect();
        let pitch = lines.iter().position(|line| line.starts_with("pitch_mm")).unwrap();
        lines[pitch] = "pitch_mm = [20, 400]";
        let said = of_brief(&read_brief_text(&lines.join("\n"), path, &shelf).unwrap());
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(
            said[0].starts_with("pitch of the quilting, 400 mm, is unusually large"),
            "{said:?}"
        );
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
