//! Claim: a chart reaches its file whole or not at all, and what stands in the way is told.

use std::fs;
use std::path::{Path, PathBuf};

use crate::made_up;
use stillair::chart::{ChartError, stack_chart, write_chart};

fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    // a folder left by an earlier run, if there is one
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder for the test");
    folder
}

fn chart() -> String {
    stack_chart(&made_up::heading("cut"), &made_up::stack()).expect("a chart")
}

#[test]
fn the_file_holds_the_chart_and_nothing_is_left_beside_it() {
    let folder = folder("written");
    let path = folder.join("cut.SVG");
    fs::write(&path, "what stood there before").expect("a file");
    write_chart(&chart(), &path).expect("written");
    assert_eq!(fs::read_to_string(&path).expect("a file"), chart());
    assert_eq!(fs::read_dir(&folder).expect("a folder").count(), 1);
}

#[test]
fn an_unknown_ending_is_told() {
    for name in ["cut.pdf", "cut", ".svg"] {
        let path = folder("endings").join(name);
        let error = write_chart(&chart(), &path).expect_err(name);
        assert!(matches!(error, ChartError::UnknownFormat { .. }), "{name}");
        let text = error.to_string();
        assert!(text.contains(name) && text.contains(".svg or .png"), "{text}");
        assert!(text.contains("\n  expected: ") && text.contains("\n  mend: "), "{text}");
        assert!(!path.exists());
    }
}

#[test]
fn a_place_that_cannot_be_written_is_told() {
    let folder = folder("unwritable");
    let missing = folder.join("nowhere").join("cut.svg");
    let text = write_chart(&chart(), &missing).expect_err("no folder").to_string();
    assert!(text.contains("the folder does not exist"), "{text}");
    let taken = folder.join("taken.svg");
    fs::create_dir(&taken).expect("a folder");
    assert!(matches!(write_chart(&chart(), &taken), Err(ChartError::Unwritable { .. })));
    assert_eq!(fs::read_dir(&folder).expect("a folder").count(), 1, "no remains");
}

#[cfg(not(feature = "png"))]
#[test]
fn without_the_feature_a_png_is_refused_by_name() {
    let path = folder("feature").join("cut.png");
    let error = write_chart(&chart(), &path).expect_err("no feature");
    assert_eq!(error, ChartError::FeatureMissing { feature: "png" });
    assert!(error.to_string().contains("`png`"));
}
