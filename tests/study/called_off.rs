//! Claim: a run that is called off ends at its next step, whatever stands behind the layup and however it
//! lies; one that may be called off and is not answers as any other.
//! Source: none needed, both ends are compared with the run itself.

use stillair::bench::{Behind, BenchError, Halt, Question};
use stillair::shelf::layup::read::read_layup_text;
use stillair::shelf::materials::Shelf;
use stillair::solver::error::SolverError;
use stillair::study::answer::{AnswerError, Quilts, answer};
use stillair::study::quilt::QuiltError;

/// By when a run that ends at its first step has ended [s].
const FIRST_STEP: f64 = 0.1;

#[test]
fn runs_end_when_they_are_called_off() {
    let shelf = Shelf::built_in().expect("a shelf");
    let exposure = shelf.exposure("flame-80").expect("on the shelf");
    let skin = shelf.skins().next().expect("a skin");
    for name in ["three-ply-loose", "three-ply-quilted-blank"] {
        let (text, path) = (shelf.layup_text(name).unwrap(), shelf.layup_path(name).unwrap());
        let layup = read_layup_text(text, path, &shelf).expect("a layup of the shelf");
        for behind in [Behind::Disc, Behind::Skin, Behind::Both] {
            let plain = Question::plain(behind, skin, 5e-3);
            let halt = Halt::default();
            let question = Question { halt: Some(&halt), ..plain };
            let ask = |question| answer(&layup, exposure, question, Quilts::Computed);
            assert_eq!(ask(&question), ask(&plain), "{name}, {behind:?}");
            halt.call();
            let ended = ask(&question).expect_err("it was called off");
            let (AnswerError::Bench(BenchError::Solver { source, .. })
            | AnswerError::Quilt(QuiltError::Solver { source, .. })) = ended
            else {
                panic!("{name}, {behind:?}: {ended}")
            };
            let SolverError::GivenUp { t } = source else { panic!("{name}: {source}") };
            assert!(t < FIRST_STEP, "{name}, {behind:?}: {t} s");
        }
    }
}
