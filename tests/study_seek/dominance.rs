//! Claim: nothing on the frontier is beaten, everything off it is, and joining parts loses nothing.

use proptest::prelude::*;
use stillair::bench::figure::Found;
use stillair::bench::outcome::Valued;
use stillair::garment::brief::Minimise;
use stillair::study::seek::score::Scored;
use stillair::study::seek::space::Space;
use stillair::study::seek::summary::{Counts, Summary, frontier};

use crate::study_seek::fixtures::{SPARSE, brief};

/// Layups with few different masses and figures, so that ties are many.
fn some() -> impl Strategy<Value = Vec<(u32, u32, u32)>> {
    prop::collection::vec((0..12u32, 0..9u32, 0..12u32), 0..60)
}

fn scored(index: usize, (mass, thickness, t): (u32, u32, u32)) -> Scored {
    let value = 8.0 + f64::from(t);
    Scored {
        index: index as u64,
        areal_density: 0.3 + 0.02 * f64::from(mass),
        thickness: 1e-3 * f64::from(thickness + 1),
        readings: vec![Found::Value {
            valued: Valued { value, error: 0.01 },
            t: value,
            beyond: false,
        }],
        factors: vec![1.0],
        spare: value / 12.0 - 1.0,
        binding: 0,
        keeps: value >= 12.01,
    }
}

/// Whether `a` beats `b`: no worse in both, better in one.
fn beats(a: &Scored, b: &Scored, minimise: Minimise) -> bool {
    let cost = |one: &Scored| one.costs(minimise).0;
    cost(a) <= cost(b) && a.spare >= b.spare && (cost(a) < cost(b) || a.spare > b.spare)
}

proptest! {
    #[test]
    fn the_frontier_is_what_none_beats(some in some(), thin in any::<bool>()) {
        let minimise = if thin { Minimise::Thickness } else { Minimise::Mass };
        let all: Vec<Scored> = some.into_iter().enumerate().map(|(i, s)| scored(i, s)).collect();
        let kept = frontier(all.clone(), minimise);
        prop_assert_eq!(kept.is_empty(), all.is_empty());
        for one in &kept {
            prop_assert!(!all.iter().any(|other| beats(other, one, minimise)));
        }
        for one in &all {
            let equal = |k: &Scored| k.costs(minimise).0 == one.costs(minimise).0 && k.spare == one.spare;
            let held = kept.iter().any(|k| beats(k, one, minimise) || equal(k));
            prop_assert!(held, "{:?} is lost", one);
        }
        for pair in kept.windows(2) {
            prop_assert!(pair[0].costs(minimise).0 < pair[1].costs(minimise).0);
            prop_assert!(pair[0].spare < pair[1].spare);
        }
    }

    #[test]
    fn parts_joined_in_any_way_are_the_whole(
        some in some(), owners in prop::collection::vec(0..4usize, 60), turn in 0..4usize,
    ) {
        let mut brief = brief(SPARSE);
        brief.n_shortlist = 3;
        let space = Space::of(&brief).unwrap();
        // numbers far apart, so that plies differ
        let all: Vec<Scored> =
            some.into_iter().enumerate().map(|(i, s)| scored(1000 * i, s)).collect();
        let whole = Summary::of(Counts::default(), all.clone(), &space);
        let mut parts: Vec<Summary> = (0..4)
            .map(|part| {
                let own = all.iter().zip(&owners).filter(|(_, owner)| **owner == part);
                Summary::of(Counts::default(), own.map(|(one, _)| one.clone()).collect(), &space)
            })
            .collect();
        parts.rotate_left(turn);
        let joined = parts.into_iter().fold(Summary::default(), |a, b| a.with(b, &space));
        prop_assert_eq!(joined, whole);
    }
}
