//! Claim: a suit's share burnt is what its panels' single runs, weighted by hand, come to.
//! Source: the program's own single runs; tables of body areas in `tests/reference/body_areas.csv`; sums and
//! orders that need none. No published manikin result with complete layers was found.

use std::collections::BTreeMap;
use std::path::Path;

use stillair::bench::expose::{Behind, Question};
use stillair::bench::outcome::{Figures, SkinFigures, When};
use stillair::garment::body_map::BodyMap;
use stillair::garment::exposure::Exposure;
use stillair::garment::known::{Known, Provenance};
use stillair::garment::layup::{Entry, Gap, Layup};
use stillair::garment::skin::Skin;
use stillair::garment::suit::{Body, Fit, Suit};
use stillair::physics::body::girth_ratio;
use stillair::shelf::materials::Shelf;
use stillair::shelf::suit::body_map::{built_in_body_map, read_body_map};
use stillair::shelf::suit::read::read_suit_text;
use stillair::study::answer::{Quilts, answer};
use stillair::study::body::air::Air;
use stillair::study::body::ask::burn_body;
use stillair::study::body::burns::GAPS;
use stillair::study::body::record::{BodyError, BodyStudy};
use stillair::study::body::runs::REST;
use stillair::study::body::worn::Terms;

/// Three panels of one layup over three regions.
pub fn alike(layup: &str) -> Suit {
    let panel = |name: &str, place: &str, share: f64| {
        format!(
            "[[panel]]\nname = \"{name}\"\nplace = \"{place}\"\nside = \"both\"\nshare_pct = {share}\n\
             layup = \"{layup}\"\n"
        )
    };
    let text = format!(
        "name = \"alike\"\ntarget = \"fia-8856-2018-overall\"\n[body]\nmass_kg = 78\nheight_cm = 178\n{}{}{}",
        panel("trunk", "trunk", 36.0),
        panel("sleeves", "sleeve", 14.0),
        panel("thighs", "thigh", 19.0)
    );
    let shelf = Shelf::built_in().unwrap();
    read_suit_text(&text, Path::new("alike.toml"), &shelf)
        .unwrap_or_else(|faults| panic!("{faults}"))
}

/// The same air everywhere: contact [–], mean and spread of the gaps [m].
pub fn air_of(contact: f64, gap: f64, spread: f64) -> BodyMap {
    let mut map = built_in_body_map().unwrap();
    for air in &mut map.airs {
        air.contact.value = contact;
        air.gap.value = gap;
        air.spread.value = spread;
    }
    map
}

fn burn(suit: &Suit, map: &BodyMap, durations: &[f64], skin: &Skin) -> BodyStudy {
    let shelf = Shelf::built_in().unwrap();
    let terms = Terms::plain((shelf.exposure("manikin-84").unwrap(), durations), skin, map);
    burn_body(suit, &terms).unwrap_or_else(|error| panic!("{error}"))
}

/// What skin suffers behind the layup with that gap [m] behind it, by a single exposure.
fn single(suit: &Suit, gap: f64, duration: f64, skin: &Skin) -> SkinFigures {
    let shelf = Shelf::built_in().unwrap();
    let mut layup: Layup = suit.panels[0].layup.clone();
    if gap > 0.0 {
        let thickness = Known::new(gap, Provenance::Invented, "");
        layup.stack.push(Entry::Gap(Gap { thickness }));
    }
    let exposure = Exposure {
        duration: Some(duration),
        t_end: REST,
        ..shelf.exposure("manikin-84").unwrap().clone()
    };
    let question = Question::plain(Behind::Skin, skin, 0.005);
    let outcome = answer(&layup, &exposure, &question, Quilts::Computed).unwrap();
    let Figures::Skin(figures) = outcome.skin.unwrap().figures else { panic!("skin") };
    figures
}

/// All panels alike and one gap: all or nothing, at the single run's own time, before both skins. The times
/// agree within the single run's error and as much again, the study's own, from the same two meshes.
#[test]
fn one_layup_and_one_gap_are_the_single_run() {
    let shelf = Shelf::built_in().unwrap();
    let mut n = [0; 2];
    for skin in ["f1930-iso13506", "torvi-dale-1994"] {
        let skin = shelf.skin(skin).unwrap();
        for (layup, gap) in [
            ("single-outer-195", GAPS[0]),
            ("single-outer-195", GAPS[4]),
            ("two-ply-outer-knit", GAPS[0]),
            ("two-ply-outer-knit", GAPS[6]),
        ] {
            let suit = alike(layup);
            let contact = if gap > 0.0 { 0.0 } else { 1.0 };
            let study = burn(&suit, &air_of(contact, gap, 0.0), &[3.0, 8.0], skin);
            for fire in &study.fires {
                let alone = single(&suit, gap, fire.duration, skin);
                let degrees = [alone.first_degree, alone.second_degree, alone.third_degree];
                for (d, when) in degrees.iter().enumerate() {
                    let burnt = matches!(when, When::At { .. });
                    let expected = f64::from(u8::from(burnt));
                    assert!(
                        !matches!(when, When::Unsettled { .. }),
                        "{layup}: choose another case"
                    );
                    let share = fire.covered[d];
                    assert!((share - expected).abs() < 1e-9, "{layup} {gap} {d}: {share}");
                    n[usize::from(burnt)] += 1;
                }
                if let When::At { t, error } = alone.second_degree {
                    let (_, first) = fire.first().unwrap();
                    let off = (first.first.t - t).abs();
                    assert!(off <= 2.0 * error, "{layup} {gap}: {} {t} ± {error}", first.first.t);
                }
            }
        }
    }
    assert!(n[0] >= 10 && n[1] >= 10, "some burn and some do not: {n:?}");
}

/// 30 % in contact, the rest behind one gap: 0.3 of one single answer and 0.7 of the other.
#[test]
fn contact_and_one_gap_are_the_weighted_sum() {
    let shelf = Shelf::built_in().unwrap();
    let skin = shelf.skins().next().unwrap();
    let suit = alike("two-ply-outer-knit");
    let mut n_mixed = 0;
    for fire in &burn(&suit, &air_of(0.3, GAPS[5], 0.0), &[4.0, 10.0], skin).fires {
        let [near, far] = [0.0, GAPS[5]].map(|gap| single(&suit, gap, fire.duration, skin));
        let burnt = |when: When| f64::from(u8::from(when.t().is_some()));
        for (d, (near, far)) in [
            (near.first_degree, far.first_degree),
            (near.second_degree, far.second_degree),
            (near.third_degree, far.third_degree),
        ]
        .into_iter()
        .enumerate()
        {
            let by_hand = 0.3 * burnt(near) + 0.7 * burnt(far);
            assert!((fire.covered[d] - by_hand).abs() < 1e-9, "{d}: {} {by_hand}", fire.covered[d]);
            n_mixed += usize::from(by_hand > 0.0 && by_hand < 1.0);
        }
    }
    assert!(n_mixed > 0, "some degree comes in contact alone");
}

/// A longer flame burns no less of any panel, to any degree, at any later time but for the error told.
#[test]
fn more_flame_never_burns_less() {
    let shelf = Shelf::built_in().unwrap();
    let skin = shelf.skins().next().unwrap();
    let map = built_in_body_map().unwrap();
    for layup in ["single-outer-195", "two-ply-outer-knit", "three-ply-quilted-blank"] {
        let study = burn(&alike(layup), &map, &[2.0, 3.0, 4.5, 7.0, 11.0], skin);
        for pair in study.fires.windows(2) {
            for d in 0..3 {
                let slack = pair[0].error[d] + pair[1].error[d];
                let [less, more] = [pair[0].covered[d], pair[1].covered[d]];
                assert!(more >= less - slack - 1e-9, "{layup} {d}: {less} then {more}");
            }
        }
        for fire in &study.fires {
            for points in fire.curve.windows(2) {
                assert!((0..3).all(|d| points[1][d] >= points[0][d] - 1e-12), "{layup}");
            }
            let [first, second, third] = fire.covered;
            assert!(first >= second && second >= third && first <= 1.0 + 1e-12, "{layup}");
        }
        let burnt: Vec<f64> = study.fires.iter().map(|fire| fire.covered[1]).collect();
        assert!(burnt[4] > burnt[0], "{layup}: {burnt:?}");
    }
}

/// "A wider spread raises the first burn": no contact, the mean gap held, the gaps' standard deviation wider:
/// the first thousandth of the area burns no later, as the least gaps become less. Strictly so once.
#[test]
fn a_wider_spread_of_gaps_burns_the_first_thousandth_no_later() {
    let shelf = Shelf::built_in().unwrap();
    let skin = shelf.skins().next().unwrap();
    let suit = alike("single-outer-195");
    let first = |spread: f64| {
        let study = burn(&suit, &air_of(0.0, 12e-3, spread), &[6.0], skin);
        let (_, first) = study.fires[0].first().unwrap();
        first.first.t
    };
    let times: Vec<f64> = [1e-3, 3e-3, 6e-3, 9e-3, 12e-3].map(first).to_vec();
    assert!(times.windows(2).all(|pair| pair[1] <= pair[0]), "{times:?}");
    assert!(times[4] < times[0] - 0.1, "{times:?}");
}

/// Tables' sums; the program's regions are those of Lund and Browder, grouped; the rule of nines agrees with the
/// groups to 4 %, which is how far the two tables are apart (trunk 32 to 37 %).
#[test]
fn regions_are_the_published_shares() {
    let text = std::fs::read_to_string("tests/reference/body_areas.csv").unwrap();
    let mut groups: BTreeMap<(String, String), f64> = BTreeMap::new();
    for line in text.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let share: f64 = cells[2].parse().unwrap();
        *groups.entry((cells[0].to_owned(), cells[3].to_owned())).or_default() += share;
    }
    let of = |source: &str, group: &str| groups[&(source.to_owned(), group.to_owned())];
    for source in ["lund-browder", "nines"] {
        let sum: f64 = groups.iter().filter(|((of, _), _)| of == source).map(|(_, s)| s).sum();
        assert_eq!(sum, 100.0, "{source}");
    }
    let map = built_in_body_map().unwrap();
    assert!((map.regions.iter().map(|r| r.share.value).sum::<f64>() - 1.0).abs() < 1e-12);
    for region in &map.regions {
        let published = of("lund-browder", &region.name);
        assert!((100.0 * region.share.value - published).abs() < 1e-9, "{}", region.name);
    }
    let lund = |names: &[&str]| names.iter().map(|name| of("lund-browder", name)).sum::<f64>();
    for (nines, parts) in [
        ("head and neck", &["head", "neck"][..]),
        ("arms and hands", &["arms", "hands"]),
        ("trunk", &["trunk"]),
        ("legs and feet", &["legs", "feet"]),
    ] {
        assert!((of("nines", nines) - lund(parts)).abs() <= 5.0, "{nines}");
    }
}

/// Areas: a panel's share is its own, or its cloth over the body's surface and the ease; the whole is their sum.
#[test]
fn shares_of_the_body_add_up() {
    let shelf = Shelf::built_in().unwrap();
    let (text, path) = shelf.suit_file("refuelling-coverall").unwrap();
    let suit = read_suit_text(text, path, &shelf).unwrap();
    let skin = shelf.skins().next().unwrap();
    let map = built_in_body_map().unwrap();
    let study = burn(&suit, &map, &[4.0], skin);
    // shares of the file times pieces, and the collar's 0.035 m² over 1.3 times Du Bois' surface
    let surface = 0.007184 * f64::powf(78.0, 0.425) * f64::powf(178.0, 0.725);
    let by_hand = 0.01 * (5.0 + 2.0 * 8.5 + 2.0 * 7.0 + 2.0 * (7.0 + 0.5 + 8.0 + 2.4 + 5.0))
        + 0.035 / (surface * 1.3);
    assert!((study.covered() - by_hand).abs() < 1e-12, "{} {by_hand}", study.covered());
    let fire = &study.fires[0];
    let sum: f64 = study.airs.iter().zip(&fire.panels).map(|(on, p)| on.share * p.end[1]).sum();
    assert!((sum - study.whole(&fire.covered)[1]).abs() < 1e-12);
    let bare = study.whole_with_bare(&fire.covered)[1] - study.whole(&fire.covered)[1];
    assert!((bare - (1.0 - by_hand)).abs() < 1e-12);
}

/// Who has four times the mass at the same height has twice the girth: the rule, by hand. The trunk of 98 cm
/// has a radius of 156 mm; 10 % more mass make it 7.6 mm more, which the mean gap is less.
#[test]
fn a_stouter_wearer_has_less_air() {
    assert_eq!(girth_ratio((80.0, 1.8), (20.0, 1.8)), 2.0);
    let suit = alike("two-ply-outer-knit");
    let shelf = Shelf::built_in().unwrap();
    let map = built_in_body_map().unwrap();
    let known = |value| Known::new(value, Provenance::Stated, "");
    let wearer = Body { mass: known(1.1 * 78.0), height: known(1.78) };
    let burnt = |fit, wearer: Option<&Body>| {
        let terms = Terms {
            fit,
            wearer,
            ..Terms::plain(
                (shelf.exposure("manikin-84").unwrap(), &[8.0]),
                shelf.skins().next().unwrap(),
                &map,
            )
        };
        burn_body(&suit, &terms).unwrap()
    };
    let [own, stout] = [None, Some(&wearer)].map(|wearer| burnt(None, wearer));
    let closer = stout.airs[0].air.closer;
    assert!((closer - 0.98 / std::f64::consts::TAU * (f64::sqrt(1.1) - 1.0)).abs() < 1e-12);
    assert!(stout.airs[0].air.in_contact() > own.airs[0].air.in_contact());
    // the same runs, other air: contact burns first, so more of it burns more
    assert!(stout.fires[0].covered[0] >= own.fires[0].covered[0]);
    let shares = Fit::ALL.map(|fit| burnt(Some(fit), None).fires[0].covered[0]);
    assert!(shares[0] >= shares[1] && shares[1] >= shares[2], "{shares:?}");
}

/// The rule by hand: a trunk of 98 cm has a radius of 156 mm, the cloth over 14 mm of air one of 170 mm; 5 % less
/// length takes 8.5 mm of every gap, so that more lies on the body and no less of it burns. None lost is none taken.
#[test]
fn shorter_cloth_has_less_air() {
    let map = built_in_body_map().unwrap();
    let at = map.airs.iter().find(|air| air.place.word() == "trunk").unwrap();
    let air = Air { contact: 0.25, mean: 0.014, spread: 0.009, closer: 0.0 };
    let shrunk = air.shrunk(at, 0.05);
    assert!((shrunk.closer - 0.05 * (0.98 / std::f64::consts::TAU + 0.014)).abs() < 1e-12);
    assert!((shrunk.closer - 8.5e-3).abs() < 5e-5, "{}", shrunk.closer);
    assert!(shrunk.in_contact() > air.in_contact());
    assert_eq!(air.shrunk(at, 0.0), air);
}

#[test]
fn what_cannot_lie_on_the_body_is_refused() {
    let suit = alike("two-ply-outer-knit");
    let shelf = Shelf::built_in().unwrap();
    let refused = |suit: &Suit, map: &BodyMap| {
        let terms = Terms::plain(
            (shelf.exposure("manikin-84").unwrap(), &[4.0]),
            shelf.skins().next().unwrap(),
            map,
        );
        burn_body(suit, &terms).unwrap_err()
    };
    let mut map = built_in_body_map().unwrap();
    map.airs.retain(|air| air.place.word() != "sleeve");
    assert!(matches!(refused(&suit, &map), BodyError::NoAir { panel, .. } if panel == "sleeves"));
    for region in &mut map.regions {
        region.places.retain(|place| place.word() != "thigh");
    }
    map.airs = built_in_body_map().unwrap().airs;
    assert!(matches!(refused(&suit, &map), BodyError::NoRegion { panel, .. } if panel == "thighs"));
    let mut large = suit.clone();
    large.panels[0].count = 3;
    let map = built_in_body_map().unwrap();
    assert!(matches!(refused(&large, &map), BodyError::TooLarge { covered } if covered > 1.4));
}

#[test]
fn each_bad_body_has_its_whole_message() {
    let message = |case: &Path| crate::study_suit::bad::told(case, read_body_map(case));
    crate::messages::check("tests/study_suit/bad_body", 10, message);
}
