//! Claim: leaving an effect out leaves out that effect and nothing else.
//! Source: two descriptions of one thing: a layup without the property that the effect rests on.
//! Tolerance: identical problems; the printed errors where only an order is known.

use crate::bench::fixtures::{at, fabric, flame, gap, known, layup, ply, skin};
use stillair::bench::assemble::{Backing, Mesh, Setup, assemble};
use stillair::bench::effects::{Effect, Without};
use stillair::bench::expose::{Behind, Question, expose};
use stillair::bench::outcome::{Figures, Outcome};
use stillair::garment::exposure::{Exposure, Orientation};
use stillair::garment::fabric::{Decomposition, Fabric};
use stillair::garment::layup::{Entry, Layup, Ply, PlyJoint};
use stillair::garment::skin::Skin;
use stillair::physics::law::Law;
use stillair::physics::units::kelvin;
use stillair::solver::problem::{Joint, Problem};

/// A fabric that every effect has something to do with.
fn rich(g_m2: f64, mm: f64) -> Fabric {
    let mut fabric = fabric(g_m2, mm, 0.05, 1e-4);
    fabric.regain = known(0.08);
    fabric.transmissivity = known(0.05);
    let (temp_from, temp_to) = (kelvin(300.0), kelvin(500.0));
    fabric.decomposition = Some(Decomposition { heat: known(2e5), temp_from, temp_to });
    fabric
}

/// Two plies that touch, a wide gap, and a ply.
fn rich_layup(change: impl Fn(&mut Ply)) -> Layup {
    let fabrics = [rich(180.0, 0.45), rich(100.0, 1.2), rich(130.0, 0.6)];
    let mut plies = fabrics.map(|fabric| {
        let Entry::Ply(mut ply) = ply(fabric) else { panic!("a ply") };
        ply.joint = PlyJoint::Faces;
        change(&mut ply);
        Entry::Ply(ply)
    });
    let inner = std::mem::replace(&mut plies[2], gap(12.0));
    layup(plies.into_iter().chain([inner]).collect())
}

fn perfused() -> Skin {
    let mut skin = skin();
    skin.layers[1].perfusion = 5000.0;
    skin
}

fn problem(layup: &Layup, exposure: &Exposure, skin: &Skin, without: &[Effect]) -> Problem {
    let setup = Setup { mesh: Mesh::level(0), without: Without::these(without) };
    assemble(layup, exposure, Backing::Skin(skin), &setup).problem
}

#[track_caller]
fn same(one: &Problem, other: &Problem) {
    assert_eq!(one.slabs, other.slabs);
    assert_eq!(one.joints, other.joints);
    assert_eq!((&one.back, &one.drive), (&other.back, &other.drive));
}

/// The rich case without `effect` is the case that `change` makes.
#[track_caller]
fn is_the_case_of(effect: Effect, change: impl Fn(&mut Ply), exposure: &Exposure, skin: &Skin) {
    // regain at 65 %, which moving water asks for, is no effect's own
    let stays = Effect::MovingVapour;
    let left_out = problem(&rich_layup(|_| ()), &flame(), &perfused(), &[effect, stays]);
    let with_all = problem(&rich_layup(|_| ()), &flame(), &perfused(), &[stays]);
    let differs = left_out.slabs != with_all.slabs
        || left_out.joints != with_all.joints
        || left_out.drive != with_all.drive;
    assert!(differs, "{effect:?} does nothing here");
    same(&left_out, &problem(&rich_layup(change), exposure, skin, &[stays]));
}

#[test]
fn a_property_at_its_neutral_value_is_the_effect_left_out() {
    let (flame, skin_with) = (flame(), perfused());
    is_the_case_of(
        Effect::InDepth,
        |ply| ply.fabric.transmissivity = known(0.0),
        &flame,
        &skin_with,
    );
    let held = |law: &Law| known(Law::constant(law.at(kelvin(25.0))));
    is_the_case_of(
        Effect::Rise,
        |ply| {
            ply.fabric.conductivity = held(&ply.fabric.conductivity.value);
            ply.fabric.specific_heat = held(&ply.fabric.specific_heat.value);
        },
        &flame,
        &skin_with,
    );
    is_the_case_of(Effect::Joints, |ply| ply.joint = PlyJoint::Shared, &flame, &skin_with);
    is_the_case_of(
        Effect::Decomposition,
        |ply| ply.fabric.decomposition = None,
        &flame,
        &skin_with,
    );
    is_the_case_of(
        Effect::WetConduction,
        |ply| ply.fabric.regain_conditioned = ply.fabric.regain.value,
        &flame,
        &skin_with,
    );
    is_the_case_of(Effect::Perfusion, |_| (), &flame, &skin());
    let still = Exposure { orientation: Orientation::Still, ..flame };
    is_the_case_of(Effect::Convection, |_| (), &still, &skin_with);
}

#[test]
fn without_moisture_the_dry_fibre_stays() {
    let dry = |ply: &mut Ply| {
        ply.fabric.areal_density = known(ply.fabric.areal_density.value / 1.08);
        ply.fabric.regain = known(0.0);
    };
    let skin = perfused();
    let left_out = problem(&rich_layup(|_| ()), &flame(), &skin, &[Effect::Moisture]);
    let never_there = problem(&rich_layup(dry), &flame(), &skin, &[]);
    for (one, other) in left_out.slabs.iter().zip(&never_there.slabs) {
        assert_eq!(one.medium.changes.len(), other.medium.changes.len());
        let (one, other) = (&one.medium.rho_cp, &other.medium.rho_cp);
        approx::assert_relative_eq!(one.at(400.0), other.at(400.0), max_relative = 1e-12);
    }
}

#[test]
fn gaps_lose_their_radiation_and_joints_keep_theirs() {
    let left_out = problem(&rich_layup(|_| ()), &flame(), &skin(), &[Effect::GapRadiation]);
    let exchanges: Vec<f64> = left_out
        .joints
        .iter()
        .filter_map(|joint| match joint {
            Joint::Air { exchange, .. } => Some(*exchange),
            _ => None,
        })
        .collect();
    // between the touching plies, across the gap, and to the skin
    assert_eq!(exchanges.len(), 3);
    assert!(exchanges[0] > 0.8 && exchanges[1] == 0.0 && exchanges[2] > 0.8, "{exchanges:?}");
}

fn rise24(effect: &[Effect]) -> (f64, f64) {
    let skin = skin();
    let without = Without::these(effect);
    let question = Question { without, ..Question::plain(Behind::Disc, &skin, 5e-4) };
    let outcome: Outcome = expose(&rich_layup(|_| ()), &flame(), &question).expect("an outcome");
    let Figures::Disc(figures) = outcome.disc.expect("a run").figures else { panic!("disc") };
    at(figures.rise24)
}

#[test]
fn each_effect_moves_the_time_the_way_it_must() {
    let all = rise24(&[]);
    // longer without what carries heat in, shorter without what holds it back or sends it out
    for (effect, longer) in [
        (Effect::GapRadiation, true),
        (Effect::Convection, true),
        (Effect::Moisture, false),
        (Effect::Joints, false),
        (Effect::Emission, false),
        (Effect::Decomposition, false),
    ] {
        let without = rise24(&[effect]);
        println!("{effect:?}: {all:?} {without:?}");
        let change = if longer { without.0 - all.0 } else { all.0 - without.0 };
        assert!(change > all.1 + without.1, "{effect:?}: {all:?} {without:?}");
    }
    assert_eq!(rise24(&[Effect::Perfusion]), all, "the disc has no blood");
}
