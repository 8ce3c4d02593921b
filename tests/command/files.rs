//! Claim: a file that is asked for is whole or not there, and the notice travels with it.

use std::fs;
use std::io::Read;
use std::process::{Command, Stdio};

use stillair::NOTICE;

use crate::command::program::{done, folder, stillair};

const LAYUP: &str = "three-ply-loose";

#[test]
fn curves_and_chart_are_written_beside_the_json() {
    let folder = folder("curves_and_chart");
    let (csv, svg) = (folder.join("out.csv"), folder.join("out.svg"));
    let json = done(&[
        "expose",
        LAYUP,
        "--json",
        "--curves",
        csv.to_str().unwrap(),
        "--chart",
        svg.to_str().unwrap(),
    ]);
    let parsed: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(parsed["notice"], NOTICE);
    let svg = fs::read_to_string(svg).unwrap();
    assert!(svg.starts_with("<svg") && svg.trim_end().ends_with("</svg>"));
    assert_eq!(fs::read_dir(&folder).unwrap().count(), 2, "nothing else is left in the folder");

    let mut reader = csv::Reader::from_path(csv).unwrap();
    let head = reader.headers().unwrap().clone();
    assert_eq!((&head[0], &head[1]), ("behind", "time_s"));
    assert!(head[head.len() - 1].ends_with(NOTICE));
    let column = |name: &str| head.iter().position(|h| h == name).unwrap();
    let (rise, basal) = (column("disc_rise_C"), column("basal_layer_C"));
    let (mut n_disc, mut n_skin) = (0, 0);
    for row in reader.records() {
        let row = row.unwrap();
        let (here, away) = if &row[0] == "disc" { (rise, basal) } else { (basal, rise) };
        assert!(row[here].parse::<f64>().unwrap().is_finite());
        assert_eq!(&row[away], "");
        *(if &row[0] == "disc" { &mut n_disc } else { &mut n_skin }) += 1;
    }
    assert!(n_disc > 10 && n_skin > 10);
}

#[cfg(feature = "png")]
#[test]
fn a_png_is_a_png() {
    let path = folder("png").join("out.png");
    done(&["expose", LAYUP, "--behind", "disc", "--chart", path.to_str().unwrap()]);
    assert_eq!(fs::read(path).unwrap()[..8], *b"\x89PNG\r\n\x1a\n");
}

#[test]
fn an_output_that_cannot_be_written_is_told_before_anything_is_done() {
    let folder = folder("unwritable");
    let good = folder.join("good.csv");
    let missing = folder.join("no/such/chart.svg");
    let said = stillair(&[
        "expose",
        LAYUP,
        "--curves",
        good.to_str().unwrap(),
        "--chart",
        missing.to_str().unwrap(),
    ]);
    assert_eq!((said.code, said.out.as_str()), (1, ""));
    assert!(said.err.contains("there is no folder"), "{}", said.err);
    assert_eq!(fs::read_dir(&folder).unwrap().count(), 0, "no half of the work is left");
}

#[test]
fn a_folder_is_not_overwritten_and_what_stood_there_stays() {
    let folder = folder("standing");
    let place = folder.join("place.csv");
    fs::create_dir(&place).unwrap();
    let said = stillair(&["expose", LAYUP, "--curves", place.to_str().unwrap()]);
    assert_eq!(said.code, 1);
    assert!(said.err.contains("it is a folder"), "{}", said.err);

    let old = folder.join("old.csv");
    fs::write(&old, "old").unwrap();
    let said = stillair(&["expose", "no-such-layup", "--curves", old.to_str().unwrap()]);
    assert_eq!(said.code, 1);
    assert_eq!(fs::read_to_string(&old).unwrap(), "old");
    assert_eq!(fs::read_dir(&folder).unwrap().count(), 2);
}

#[test]
fn a_reader_that_goes_away_is_no_error() {
    // The listing is long enough to fill a pipe that nobody empties only in part, so the
    // reader closes it before the program has started to write.
    for arguments in [&["materials", "list"][..], &["man"], &["expose", LAYUP, "--json"]] {
        let mut child = Command::new(env!("CARGO_BIN_EXE_stillair"))
            .args(arguments)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        let mut err = String::new();
        child.stderr.take().unwrap().read_to_string(&mut err).unwrap();
        assert_eq!((child.wait().unwrap().code(), err.as_str()), (Some(0), ""), "{arguments:?}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_device_is_an_error() {
    let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let status = Command::new(env!("CARGO_BIN_EXE_stillair"))
        .args(["materials", "list"])
        .stdout(full)
        .stderr(Stdio::null())
        .status()
        .unwrap();
    assert_eq!(status.code(), Some(1));
}
