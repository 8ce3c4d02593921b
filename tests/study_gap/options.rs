//! Claim: options that do not fit are told with the rule and the mend, and nothing is computed.

use crate::run::stillair;

const LOOSE: &str = "three-ply-loose";
const TOUCHING: &str = "published-assembly-1";
const PATCH: &str = "patch-aramid-400";

/// Ends with `code`, prints no result, says each of `parts`.
#[track_caller]
fn check(arguments: &[&str], code: i32, parts: &[&str]) {
    let (out, err, ended) = stillair(arguments, "2");
    assert_eq!((ended, out.as_str()), (code, ""), "{arguments:?}\n{err}");
    for part in parts {
        assert!(err.contains(part), "{arguments:?} does not say `{part}`:\n{err}");
    }
    assert!(!err.contains("panicked"), "{err}");
}

#[test]
fn numbers_of_options_are_checked_one_by_one() {
    for (option, bad) in [
        ("--from", "0.001"),
        ("--from", "nan"),
        ("--from", "-1"),
        ("--to", "inf"),
        ("--to", "1000"),
        ("--to", "12,7"),
        ("--points", "0"),
        ("--points", "2.5"),
        ("--points", "100000"),
        ("--gap", "0"),
        ("--gap", "-1"),
        ("--gap", "front"),
        ("--error", "0"),
        ("--until", "0"),
    ] {
        check(&["gap", LOOSE, &format!("{option}={bad}")], 2, &[option, "expected"]);
    }
    for (option, bad) in
        [("--share", "-1"), ("--share", "101"), ("--share", "nan"), ("--thread", "1e3")]
    {
        let arguments = ["patch", LOOSE, "--ply", PATCH, "--share=30", &format!("{option}={bad}")];
        let arguments: Vec<&str> =
            arguments.into_iter().filter(|a| option != "--share" || *a != "--share=30").collect();
        check(&arguments, 2, &[option, "expected"]);
    }
}

#[test]
fn pressures_are_checked_one_by_one() {
    for bad in ["0", "-1", "1,0", "1,,2", "nan", "1e9", "2kPa", "1;2"] {
        check(&["pressed", LOOSE, &format!("--pressures={bad}")], 2, &["--pressures", "expected"]);
    }
}

#[test]
fn options_that_do_not_fit_together_have_four_parts() {
    let parts = ["error:", "-->", "expected:", "mend:"];
    let with = |more: &[&'static str]| [&parts[..], more].concat();
    check(&["gap", TOUCHING], 1, &with(&["--gap all", "stand apart"]));
    check(&["gap", LOOSE, "--gap", "7"], 1, &with(&["--gap 7", "it has 3"]));
    check(&["gap", LOOSE, "--from", "8", "--to", "8"], 1, &with(&["--from 8 --to 8"]));
    check(&["rank", LOOSE], 1, &with(&["one layup alone"]));
    let many: Vec<&str> =
        ["rank"].into_iter().chain([LOOSE; 8]).chain(["--chart", "never-written.svg"]).collect();
    check(&many, 1, &with(&["--chart with 8 layups", "at most 7"]));
    let thread = ["patch", LOOSE, "--ply", PATCH, "--share", "30", "--thread", "60"];
    check(&thread, 1, &with(&["--thread 60"]));
}

#[test]
fn unknown_names_come_with_the_nearest_all_at_once() {
    check(&["gap", "three-ply-lose"], 1, &["no layup", "`three-ply-loose`"]);
    check(&["rank", LOOSE, "nothing", "--against", "none"], 1, &["no layup", "no target"]);
    check(
        &["patch", "nothing", "--ply", "patch-aramid-40", "--share", "3", "--exposure", "none"],
        1,
        &["no layup", "`patch-aramid-400`", "no exposure"],
    );
    check(&["rank", LOOSE, LOOSE, "--by", "luck"], 2, &["luck", "hti24", "second-degree"]);
    check(&["patch", LOOSE, "--share", "30"], 2, &["--ply"]);
    check(&["gap", LOOSE, "--chart", "a.jpg"], 2, &[".svg or .png"]);
    check(&["gap", LOOSE, "--csv", "no/such/folder/a.csv"], 1, &["there is no folder"]);
}
