//! Claim: an option takes what a file takes and no more; what is valid is exposed; what is refused says
//! where, the rule, and the command that helps.

use std::path::Path;

use stillair::bench::{Behind, Question};
use stillair::garment::exposure::{Exposure, Flux};
use stillair::shelf::layup::read::read_layup;
use stillair::shelf::materials::Shelf;
use stillair::study::answer::{Quilts, answer};

use crate::flat::flat;
use crate::harden::commands::{folder, program, words};
use crate::harden::numbers::Numbers;

/// Status and what was said on standard error.
fn said(line: &str) -> (Option<i32>, String) {
    let output = program(&words(line, &folder("options"))).output().unwrap();
    (output.status.code(), String::from_utf8(output.stderr).unwrap())
}

#[test]
fn options_are_bound_as_files_are() {
    let quilt = "quilt three-ply-quilted-blank --behind skin --error 5";
    let cases = [
        (format!("{quilt} --stitch-width 0"), 2, "sewing thread"),
        (format!("{quilt} --loft 101"), 2, "at most 100 mm"),
        (
            format!("{quilt} --sweep @/a.svg --sweep-pitch 0:80"),
            2,
            "at least 1 and at most 1000 mm",
        ),
        (
            format!("{quilt} --thread 10 --pitch 3 --stitch-width 1"),
            1,
            "weighs more than its plies",
        ),
        ("expose three-ply-loose --for 100 --until 10".into(), 1, "before its flame does"),
        ("expose three-ply-loose --until 1e-300".into(), 2, "at least 0.1"),
        ("gap three-ply-loose --gap 1 --from 1e-9".into(), 2, "touch"),
        (
            "odds three-ply-loose --against iso-11612-b2 --flux-tolerance 1e-300".into(),
            2,
            "0.01 to 50",
        ),
        ("odds three-ply-loose --against iso-11612-b2 --rows 65536".into(), 2, "4096"),
        (
            "odds three-ply-loose --against iso-11612-b2 --specimens 20 --sets 65536".into(),
            1,
            "at most 65536 specimens",
        ),
        ("expose outer-aramid-200".into(), 1, "is a fabric, not a layup"),
        ("expose iso-11612-b1".into(), 1, "--against iso-11612-b1"),
        ("expose three-ply-loose --against no-such".into(), 1, "materials list --kind targets"),
    ];
    for (line, code, part) in cases {
        let (found, err) = said(&line);
        let all = flat(&err);
        assert_eq!(found, Some(code), "{line}: {err}");
        assert!(all.contains(part), "{line}: no `{part}` in\n{err}");
    }
    let (code, err) = said(&format!("{quilt} --thread 0.1 --pitch 400"));
    assert!(code == Some(0) && err.contains("note: pitch of the quilting"), "{code:?} {err}");
}

/// A flux that falls to nothing at its end, whatever the numbers: no rounding takes it below 0.
#[test]
fn a_flux_that_falls_to_nothing_is_exposed() {
    let shelf = Shelf::built_in().unwrap();
    let layup = read_layup(Path::new("materials/layups/single-outer-195.toml"), &shelf).unwrap();
    let flame = shelf.exposure("flame-80").unwrap();
    let question = Question::plain(Behind::Disc, shelf.skins().next().unwrap(), 0.1);
    let mut numbers = Numbers(166);
    for _ in 0..200 {
        let mut t = 0.0;
        let mut points = Vec::new();
        for _ in 0..2 + numbers.below(3) {
            points.push((t, 1e3 * (20.0 + 1e-3 * numbers.below(60_000) as f64)));
            t += 0.2 + 1e-3 * numbers.below(1000) as f64;
        }
        points.push((t, 0.0));
        let exposure = Exposure { t_end: t, flux: Flux::Series(points.clone()), ..flame.clone() };
        let done = answer(&layup, &exposure, &question, Quilts::LeftOut);
        assert!(done.is_ok(), "{points:?}: {}", done.unwrap_err());
    }
}
