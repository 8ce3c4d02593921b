//! Claim: more pressure on a layup of touching plies never lengthens HTI24, and pressure across a
//! gap is refused.
//! Source: pressed plies hold the same heat and resist less (van Wyk 1946; Farnworth 1983).
//! Tolerance: the printed numerical errors.

use crate::bench::fixtures::{at, flame, gap, known, skin, three_plies};
use stillair::bench::expose::{Behind, BenchError, Question, expose};
use stillair::bench::outcome::Figures;
use stillair::garment::layup::{Entry, Layup};
use stillair::shelf::layup::read::read_layup_text;
use stillair::shelf::materials::Shelf;

fn rise24(layup: &Layup) -> Result<(f64, f64), BenchError> {
    let skin = skin();
    let question = Question::plain(Behind::Disc, &skin, 2e-3);
    let run = expose(layup, &flame(), &question)?.disc.expect("a run");
    let Figures::Disc(figures) = run.figures else { panic!("figures of the disc") };
    Ok(at(figures.rise24))
}

#[test]
fn more_pressure_never_lengthens() {
    let shelf = Shelf::built_in().unwrap();
    for name in ["three-ply-quilted-blank", "published-assembly-1", "single-outer-195"] {
        let text = shelf.layup_text(name).unwrap();
        let mut layup = read_layup_text(text, std::path::Path::new(name), &shelf).unwrap();
        let mut before = rise24(&layup).unwrap();
        for kpa in [1.0, 3.0, 10.0, 30.0, 100.0] {
            layup.pressure = Some(known(kpa * 1e3));
            let now = rise24(&layup).unwrap();
            assert!(now.0 <= before.0 + now.1 + before.1, "{name} {kpa}: {before:?} {now:?}");
            before = now;
        }
    }
}

#[test]
fn a_gap_bears_no_pressure() {
    let [outer, felt, _] = three_plies(1.0);
    let stack: Vec<Entry> =
        vec![crate::bench::fixtures::ply(outer), gap(1.0), crate::bench::fixtures::ply(felt)];
    let mut layup = crate::bench::fixtures::layup(stack);
    layup.pressure = Some(known(2e3));
    assert_eq!(rise24(&layup), Err(BenchError::PressedAcrossGap));
}
