//! Claim: unfinished work belongs to one question: whatever of it changes, by the last bit of a number even, it is
//! another question's, and no two questions are taken for one.

use std::collections::BTreeMap;

use stillair::bench::figure::{Figured, Found};
use stillair::garment::band::Factors;
use stillair::garment::exposure::{Exposure, Flux, Orientation};
use stillair::garment::fabric::{Decomposition, Role};
use stillair::garment::known::{Known, Provenance};
use stillair::garment::layup::{Entry, Layup, Pattern, Ply, PlyJoint, Quilting};
use stillair::garment::property::OfPly;
use stillair::garment::skin::Skin;
use stillair::garment::target::Figure;
use stillair::shelf::brief::read::read_brief;
use stillair::shelf::layup::read::read_layup_text;
use stillair::shelf::materials::Shelf;
use stillair::study::answer::Quilts;
use stillair::study::figure::Ask;
use stillair::study::odds::inputs::{Further, Inputs};
use stillair::study::odds::shortcut::Shortcut;
use stillair::study::odds::work::{Done, Plan, Work};
use stillair::study::seek::checkpoint::fingerprint;

/// Everything that odds hang on.
#[derive(Clone)]
struct Question {
    layup: Layup,
    exposure: Exposure,
    skin: Skin,
    figure: Figure,
    error_goal: f64,
    quilts: Quilts,
    n_points: usize,
    plan: Plan,
    inputs: Inputs,
    shortcut: Option<Shortcut>,
    at_least: Option<f64>,
}

impl Question {
    fn digest(&self) -> String {
        let Question { figure, error_goal, quilts, n_points, .. } = *self;
        let (nominal, skin) = (&self.exposure, &self.skin);
        Work {
            layup: &self.layup,
            ask: Ask { figure, nominal, skin, error_goal, quilts, n_points },
            plan: self.plan,
            inputs: self.inputs.clone(),
            nominal: Found::NotAsked,
            fewer_points: None,
            swings: Vec::new(),
            shortcut: self.shortcut,
            at_least: self.at_least,
            done: Done::default(),
        }
        .fingerprint()
    }

    fn ply(&mut self) -> &mut Ply {
        self.layup.plies_mut().next().unwrap()
    }
}

/// A felt that chars, a gap and an outer fabric, quilted.
fn question() -> Question {
    let shelf = Shelf::built_in().unwrap();
    let text = "felt-needled-100 + 1 mm + outer-aramid-200; diamond, pitch 40 mm, stitch 2 mm, loft 1.5 mm, \
                pressed 1.1 mm, thread 0.05 g/m";
    let layup = read_layup_text(text, std::path::Path::new("a"), &shelf).unwrap();
    let exposure = shelf.exposure("flame-80").unwrap().clone();
    let further = Further { flux: 0.05, model: Factors { lower: 0.8, upper: 1.3 } };
    Question {
        inputs: Inputs::of(&layup, &exposure, further),
        layup,
        exposure,
        skin: shelf.skin("f1930-iso13506").unwrap().clone(),
        figure: Figure::Rise24,
        error_goal: 5e-3,
        quilts: Quilts::Computed,
        n_points: 3,
        plan: Plan { n_sets: 16, n_specimens: 3, n_rows: 0, seed: 1 },
        shortcut: shortcut(60.0),
        at_least: Some(12.0),
    }
}

fn shortcut(t_end: f64) -> Option<Shortcut> {
    let found = |value: f64| {
        let valued = stillair::bench::outcome::Valued { value, error: 0.01 };
        Found::Value { valued, t: value, beyond: false }
    };
    let both: Vec<(Found, Found)> = (0..17).map(|_| (found(10.0), found(10.01))).collect();
    Some(Shortcut::of(&both, t_end, 0.01).expect("one mesh errs alike for all of them"))
}

type Change = Box<dyn Fn(&mut Question)>;

/// The least that a number can change by.
fn up(value: &mut f64) {
    *value = f64::from_bits(value.to_bits() + 1);
}

/// What is changed, and how.
fn changes() -> Vec<(String, Change)> {
    let mut all: Vec<(String, Change)> = Vec::new();
    for of in OfPly::OF_FABRIC.into_iter().chain(OfPly::MOVED) {
        let scale = move |q: &mut Question| of.scale(&mut q.ply().fabric, 1.0 + 1e-15);
        all.push((format!("{of:?} scaled"), Box::new(scale)));
    }
    for of in OfPly::OF_FABRIC {
        let widen = move |q: &mut Question| of.set_tolerance(&mut q.ply().fabric, Some(0.125));
        all.push((format!("{of:?} wide"), Box::new(widen)));
        let mark = move |q: &mut Question| of.mark_fitted(&mut q.ply().fabric, "a curve");
        all.push((format!("{of:?} fitted"), Box::new(mark)));
    }
    let mut one = |name: &str, change: fn(&mut Question)| {
        all.push((name.to_owned(), Box::new(change)));
    };
    one("fabric", |q| q.ply().fabric.name.push('a'));
    one("description", |q| q.ply().fabric.description.push('a'));
    one("role", |q| q.ply().fabric.role = Role::Barrier);
    one("fibre", |q| q.ply().fabric.fibre.push('a'));
    one("pressure of thickness", |q| q.ply().fabric.thickness_pressure = Some(1.5e3));
    one("compression", |q| q.ply().fabric.compression.push((2e3, 1e-4)));
    one("regain conditioned", |q| up(&mut q.ply().fabric.regain_conditioned));
    one("regain of the fibre", |q| up(&mut q.ply().fabric.fibre_regain));
    one("conductivity of the fibre", |q| up(&mut q.ply().fabric.fibre_conductivity.value));
    one("a ramp", |q| up(&mut q.ply().fabric.conductivity.value.ramps[0].lo));
    one("decomposition", |q| {
        let heat = Known::new(2e5, Provenance::Stated, "");
        q.ply().fabric.decomposition =
            Some(Decomposition { heat, temp_from: 600.0, temp_to: 700.0 });
    });
    one("charring", |q| up(&mut q.ply().fabric.charring[0].charring.energy.value));
    one("share of a fibre", |q| up(&mut q.ply().fabric.charring[0].share));
    one("event", |q| q.ply().fabric.limit_event.push('a'));
    one("joint", |q| q.ply().joint = PlyJoint::Shared);
    one("gap", |q| {
        let Entry::Gap(gap) = &mut q.layup.stack[1] else { panic!("a gap stands second") };
        up(&mut gap.thickness.value);
    });
    one("no gap", |q| drop(q.layup.stack.remove(1)));
    one("order", |q| q.layup.stack.swap(0, 2));
    one("layup", |q| q.layup.name.push('a'));
    one("note", |q| q.layup.note.push('a'));
    one("pressure", |q| q.layup.pressure = Some(Known::new(2e3, Provenance::Stated, "")));
    one("unquilted", |q| q.layup.quilting = None);
    let mut quilting = |name: &str, change: fn(&mut Quilting)| {
        let of = move |q: &mut Question| change(q.layup.quilting.as_mut().unwrap());
        all.push((name.to_owned(), Box::new(of)));
    };
    quilting("pattern", |quilting| quilting.pattern = Pattern::Square);
    quilting("pitch", |quilting| up(&mut quilting.pitch.value));
    quilting("stitch width", |quilting| up(&mut quilting.stitch_width.value));
    quilting("loft", |quilting| up(&mut quilting.loft.value));
    quilting("pressed", |quilting| up(&mut quilting.pressed.value));
    quilting("thread", |quilting| quilting.thread = None);
    let mut one = |name: &str, change: fn(&mut Question)| {
        all.push((name.to_owned(), Box::new(change)));
    };
    one("exposure", |q| q.exposure.name.push('a'));
    one("flux", |q| q.exposure.flux = Flux::Steady(80.5e3));
    one("series", |q| q.exposure.flux = Flux::Series(vec![(0.0, 80e3)]));
    one("radiant share", |q| up(&mut q.exposure.radiant_share));
    one("flame", |q| up(&mut q.exposure.temp_flame));
    one("room", |q| up(&mut q.exposure.temp_room));
    one("duration", |q| q.exposure.duration = Some(3.0));
    one("end", |q| up(&mut q.exposure.t_end));
    one("cooling", |q| up(&mut q.exposure.h_cooling));
    one("vapour", |q| up(&mut q.exposure.p_vapour_gas));
    one("orientation", |q| q.exposure.orientation = Orientation::Still);
    one("spacer", |q| up(&mut q.exposure.spacer));
    one("disc", |q| up(&mut q.exposure.disc.cp));
    one("told", |q| q.exposure.boundary.temp_flame.tolerance = Some(0.01));
    one("skin", |q| up(&mut q.skin.layers[0].k));
    one("perfusion", |q| up(&mut q.skin.layers[2].perfusion));
    one("core", |q| up(&mut q.skin.temp_core));
    one("damage", |q| up(&mut q.skin.dermal.ranges[0].ln_rate));
    one("figure", |q| q.figure = Figure::Rise12);
    one("error", |q| up(&mut q.error_goal));
    one("flat", |q| q.quilts = Quilts::LeftOut);
    one("points", |q| q.n_points += 1);
    one("sets", |q| q.plan.n_sets += 1);
    one("specimens", |q| q.plan.n_specimens += 1);
    one("rows", |q| q.plan.n_rows += 1);
    one("seed", |q| q.plan.seed += 1);
    one("model", |q| up(&mut q.inputs.model.upper));
    one("width", |q| up(&mut q.inputs.all[0].of_set));
    one("sizes", |q| {
        let further = Further { flux: 0.06, model: q.inputs.model };
        q.inputs = Inputs::of(&q.layup, &q.exposure, further);
    });
    one("no shortcut", |q| q.shortcut = None);
    one("ratio", |q| up(&mut q.shortcut.as_mut().unwrap().ratio));
    one("checked", |q| q.shortcut.as_mut().unwrap().n_checked += 1);
    one("off", |q| up(&mut q.shortcut.as_mut().unwrap().off));
    one("end of the shortcut", |q| q.shortcut = shortcut(61.0));
    one("target", |q| q.at_least = None);
    all
}

#[test]
fn whatever_changes_makes_it_another_question() {
    let question = question();
    let mut seen = BTreeMap::from([(question.digest(), "nothing".to_owned())]);
    let mut n_unmoved = 0;
    for (name, change) in changes() {
        let mut changed = question.clone();
        change(&mut changed);
        if changed.layup == question.layup && name.contains("scaled") {
            // what is zero no factor moves
            n_unmoved += 1;
            continue;
        }
        // a value that stands twice among the properties is moved the same way twice
        if let Some(other) = seen.insert(changed.digest(), name.clone()) {
            assert_eq!(other, name, "one digest for two questions");
        }
    }
    assert!(seen.len() > 95 && n_unmoved < 6, "{} told apart, {n_unmoved} not moved", seen.len());
}

/// The work that is asked for again is the same question's.
#[test]
fn what_does_not_change_stays_the_same_question() {
    assert_eq!(question().digest(), question().digest());
    let mut done = question();
    done.shortcut = shortcut(60.0);
    assert_eq!(done.digest(), question().digest());
}

/// Texts do not run into one another, nor lists.
#[test]
fn what_moves_from_one_text_to_the_next_is_another_question() {
    let (mut one, mut other) = (question(), question());
    (one.layup.name, one.layup.note) = ("ab".to_owned(), "c".to_owned());
    (other.layup.name, other.layup.note) = ("a".to_owned(), "bc".to_owned());
    assert_ne!(one.digest(), other.digest());
}

#[test]
fn a_search_belongs_to_its_brief() {
    let shelf = Shelf::built_in().unwrap();
    let path = std::path::Path::new("materials/briefs/quilted-front-panel.toml");
    let brief = read_brief(path, &shelf).unwrap().brief;
    let digest = fingerprint(&brief, 5e-3);
    assert_eq!(digest, fingerprint(&brief.clone(), 5e-3));
    assert_ne!(digest, fingerprint(&brief, 5.1e-3));
    let changes: [fn(&mut stillair::garment::brief::Brief); 8] = [
        |brief| brief.note.push('a'),
        |brief| brief.n_sets += 1,
        |brief| brief.n_shortlist += 1,
        |brief| up(&mut brief.outer[0].emissivity.value),
        |brief| up(&mut brief.wanted[0].target.at_least),
        |brief| up(&mut brief.wanted[0].exposure.t_end),
        |brief| brief.limits.plies_most += 1,
        |brief| up(&mut brief.stitchings.iter_mut().flatten().next().unwrap().pitch),
    ];
    let mut seen = vec![digest];
    for change in changes {
        let mut changed = brief.clone();
        change(&mut changed);
        let digest = fingerprint(&changed, 5e-3);
        assert!(!seen.contains(&digest));
        seen.push(digest);
    }
}

/// No figure of the work itself is part of the question.
#[test]
fn what_was_run_does_not_change_the_question() {
    let question = question();
    let Question { figure, error_goal, quilts, n_points, .. } = question;
    let (nominal, skin) = (&question.exposure, &question.skin);
    let work = Work {
        layup: &question.layup,
        ask: Ask { figure, nominal, skin, error_goal, quilts, n_points },
        plan: question.plan,
        inputs: question.inputs.clone(),
        nominal: Found::Unsettled { low: 1.0, high: 2.0 },
        fewer_points: Some(0.1),
        swings: vec![None],
        shortcut: question.shortcut,
        at_least: question.at_least,
        done: Done {
            n_blocks: 1,
            specimens: vec![Figured { value: 1.0, reached: true }],
            rows: Vec::new(),
        },
    };
    assert_eq!(work.fingerprint(), question.digest());
}
