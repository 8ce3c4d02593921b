//! Claim: gaps are closed to where the margin is just kept, and nothing else moves.

use stillair::garment::brief::GAP_LEAST;
use stillair::study::seek::finding::Finding;
use stillair::study::seek::search::expose_all;
use stillair::study::seek::space::Space;

use crate::study_seek::fixtures::{ERROR_GOAL, brief, searched};

const BRIEF: &str = r#"
name = "closing gaps"
outer = ["outer-aramid-150", "outer-aramid-200"]
felts = ["felt-spunlace-60", "felt-needled-100"]
felts_most = 1
inner = ["inner-jersey-140"]

[[target]]
target = "fia-8856-2018-overall"
margin_pct = 20

[[gap]]
place = "behind outer"
least_mm = 0
most_mm = 2
step_mm = 1

[[gap]]
place = "before inner"
least_mm = 0
most_mm = 2
step_mm = 1
"#;

#[test]
fn the_margin_is_just_kept_and_the_plies_stay() {
    let brief = brief(BRIEF);
    let space = Space::of(&brief).unwrap();
    let finding = Finding::of(searched(&space), &space, ERROR_GOAL);
    let points =
        finding.frontier.iter().chain(finding.shortlist.iter().map(|choice| &choice.point));
    let mut n_just = 0;
    for point in points {
        let Some(closed) = &point.tightened else { continue };
        assert!(point.scored.keeps && closed.scored.keeps);
        assert_eq!(closed.scored.areal_density, point.scored.areal_density);
        assert!(closed.scored.thickness < point.scored.thickness);
        for (thin, thick) in closed.candidate.gaps.iter().zip(&point.candidate.gaps) {
            assert!(thin <= thick && (*thin >= GAP_LEAST || thin == thick));
            let microns = 1e6 * thin;
            assert!((microns - microns.round()).abs() < 1e-6, "{microns}");
        }
        let again = expose_all(&space, ERROR_GOAL, std::slice::from_ref(&closed.candidate));
        assert_eq!(again[0].as_ref().unwrap(), &closed.scored.readings);
        if closed.at_least {
            continue;
        }
        // a little thinner still, and the margin is lost
        let thinner: Vec<f64> = closed
            .candidate
            .gaps
            .iter()
            .map(|gap| if *gap > 0.0 { (gap - 3e-6).max(GAP_LEAST) } else { 0.0 })
            .collect();
        let candidate =
            stillair::study::seek::space::Candidate { gaps: thinner, ..point.candidate.clone() };
        let readings = expose_all(&space, ERROR_GOAL, std::slice::from_ref(&candidate));
        let readings = readings.into_iter().next().unwrap().unwrap();
        let lost = stillair::study::seek::score::score(&space, &candidate, readings).unwrap();
        assert!(!lost.keeps, "{closed:?}\n{lost:?}");
        n_just += 1;
    }
    assert!(n_just >= 2, "only {n_just} were closed to the margin: nothing is tested");
}
