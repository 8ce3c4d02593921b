//! Claim: a curve that could be taken otherwise than meant is refused with what is wrong, where, the rule
//! and what to do; what is mended is said.
//! The whole messages of our own are snapshots; that each fault is found is the claim.

use std::fmt::Write as _;
use std::fs;
use std::path::PathBuf;

use stillair::shelf::fault::Faults;
use stillair::shelf::lab::curve::{Curve, read_curve};

/// Reads a text as a curve's file.
fn read(name: &str, text: &str) -> Result<Curve, Faults> {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("study_fit_curves");
    fs::create_dir_all(&folder).unwrap();
    let path = folder.join(format!("{name}.csv"));
    fs::write(&path, text).unwrap();
    read_curve(&path)
}

/// A good curve, 0 to 10 s.
fn good() -> Vec<(f64, f64)> {
    (0..=40)
        .map(|i| 0.25 * f64::from(i))
        .map(|t| (t, (0.3 * t * t * 100.0).round() / 100.0))
        .collect()
}

/// The file of a curve, to hundredths.
fn text(points: &[(f64, f64)]) -> String {
    let mut text = "time_s,temperature_rise_C\n".to_owned();
    for (t, rise) in points {
        writeln!(text, "{t},{}", (rise * 100.0).round() / 100.0).unwrap();
    }
    text
}

/// What is wrong with a file, its place and what to do, the file's folder left out.
#[track_caller]
fn refused(name: &str, text: &str, expected: [&str; 4]) {
    let said = read(name, text).expect_err("it is refused").to_string();
    let at = format!("{name}.csv{}", expected[1]);
    assert!(said.contains(&format!("error: {}\n", expected[0])), "{said}");
    assert!(said.contains(&at), "{at}:\n{said}");
    assert!(said.contains(&format!("  expected: {}\n", expected[2])), "{said}");
    assert!(said.contains(&format!("  mend: {}", expected[3])), "{said}");
}

#[test]
fn columns() {
    let rule = "columns `time_s` and `temperature_rise_C`";
    for (name, head, what, mend) in [
        ("absent", "time_s,volts", "column `temperature_rise_C` is missing", "name the columns so"),
        (
            "absolute-head",
            "time_s,temperature_C",
            "column `temperature_C` is a temperature, not a rise",
            "subtract the temperature at the start",
        ),
        (
            "fahrenheit-head",
            "time_s,temperature_rise_F",
            "column `temperature_rise_F` is in degrees Fahrenheit",
            "multiply a rise by 5/9",
        ),
        (
            "other-name",
            "time_s,disc_rise_C",
            "column `disc_rise_C` is a rise under another name",
            "name the column `temperature_rise_C`",
        ),
        (
            "minutes",
            "time_min,temperature_rise_C",
            "column `time_min` is not in seconds, or does not say so",
            "convert to seconds",
        ),
    ] {
        refused(name, &format!("{head}\n0,0\n1,1\n"), [what, ":1:", rule, mend]);
    }
    refused(
        "both-marks",
        "time_s;temperature_rise_C\n0;0\n0,5;1.2\n",
        [
            "the file has both `0,5` and `1.2`",
            ":3:1",
            "one decimal mark throughout, a comma or a point",
            "export the sheet again",
        ],
    );
    refused("empty", "", ["the file is empty", ":1:1", "a header row", "write a header row"]);
    refused(
        "head-alone",
        "time_s,temperature_rise_C\n",
        [
            "the curve has 0 readings",
            ":1:1",
            "at least 6, better one every 0.1 to 0.5 s",
            "export the",
        ],
    );
}

#[test]
fn cells() {
    let with = |row: &str| text(&good()).replace("\n1,0.3\n", &format!("\n{row}\n"));
    for (name, row, what, mend) in [
        (
            "nan",
            "1,NaN",
            "temperature rise of the curve, `NaN`, is not a finite number",
            "give a number",
        ),
        (
            "word",
            "1,open",
            "temperature rise of the curve, `open`, is not a number",
            "give a number",
        ),
        (
            "unit",
            "1,0.3 K",
            "temperature rise of the curve, `0.3 K`, has a unit behind the number",
            "write 0.3",
        ),
        ("blank", "1,", "temperature rise of the curve is missing", "give `temperature_rise_C`"),
    ] {
        let rule = "at least -10000 and at most 10000 °C";
        refused(name, &with(row), [what, ":6:", rule, mend]);
    }
    refused(
        "negative-time",
        &text(&good()).replace("\n0,0\n", "\n-1,0\n"),
        [
            "time of the curve is negative",
            ":2:1",
            "at least 0 and at most 3600 s",
            "give `time_s` in s",
        ],
    );
    refused(
        "comma",
        &with("1,0,3"),
        [
            "the row has 3 cells, the header 2",
            ":6:",
            "2 cells, as in the header",
            "remove the extra comma",
        ],
    );
}

#[test]
fn times() {
    let rule = "times that rise from row to row";
    let mut swapped = good();
    swapped.swap(10, 11);
    refused(
        "swapped",
        &text(&swapped),
        ["time 2.5 s comes after 2.75 s", ":13:1", rule, "sort the rows"],
    );
    let twice = [&good()[..5], &good()[4..]].concat();
    refused("twice", &text(&twice), ["time 1 s is there twice", ":7:1", rule, "keep one reading"]);
    let again = [good(), good()].concat();
    refused(
        "again",
        &text(&again),
        ["the time starts again at 0 s", ":43:1", rule, "give each specimen a file of its own"],
    );
    refused(
        "few",
        &text(&good()[..5]),
        [
            "the curve has 5 readings",
            ":1:1",
            "at least 6, better one every 0.1 to 0.5 s",
            "export the whole",
        ],
    );
    let hole = [&good()[..10], &good()[25..]].concat();
    refused(
        "hole",
        &text(&hole),
        [
            "nothing was read between 2.25 and 6.25 s",
            ":12:1",
            "no hole longer than 25 % of the curve",
            "take another specimen's curve",
        ],
    );
}

#[test]
fn rises() {
    let moved = |scale: f64, offset: f64| -> String {
        text(&good().iter().map(|(t, v)| (*t, scale * v + offset)).collect::<Vec<_>>())
    };
    let begins = |from: f64, unit: &str| {
        format!(
            "the rise begins at {from} where the disc is still cold: it looks like an absolute \
             temperature in {unit}"
        )
    };
    let rule = "a rise in °C or K that begins within 5 of 0";
    for (name, scale, from, unit, mend) in [
        ("celsius", 1.0, 24.0, "degrees Celsius", "subtract the first reading from all"),
        (
            "fahrenheit",
            1.8,
            75.0,
            "degrees Fahrenheit",
            "subtract the first reading from all and multiply by 5/9",
        ),
        ("kelvin", 1.0, 297.0, "kelvin", "subtract the first reading from all"),
    ] {
        refused(name, &moved(scale, from), [&begins(from, unit), ":2:3", rule, mend]);
    }
    let mut reset = good();
    reset[30..].iter_mut().for_each(|point| point.1 -= 15.0);
    refused(
        "reset",
        &text(&reset),
        [
            "the rise falls from 15.77 to 1.88 within 0.250 s: the reading was reset or the contact lost",
            ":32:",
            "no fall of more than 3 K from one reading to the next",
            "cut the curve before the fall",
        ],
    );
    refused(
        "negative",
        &moved(-1.0, 0.0),
        [
            "the rise of -1.2 at 2 s is negative",
            ":10:",
            "no reading more than 1 K below the start",
            "look for exchanged wires",
        ],
    );
    refused(
        "tenths",
        &moved(20.0, 0.0),
        [
            "the rise reaches 408.4 at 8.25 s",
            ":35:",
            "a copper disc's rise, at most 400 K",
            "look for another unit",
        ],
    );
}

/// Two repairs are made, and said; nothing else changes.
#[test]
fn what_is_mended_is_said() {
    let plain = read("plain", &text(&good())).unwrap();
    assert_eq!((plain.points, plain.notes.len()), (good(), 0));
    let offset: Vec<(f64, f64)> = good().iter().map(|(t, v)| (*t, v + 2.0)).collect();
    let mended = read("offset", &text(&offset)).unwrap();
    assert!(mended.points.iter().zip(good()).all(|(a, b)| (a.1 - b.1).abs() < 1e-12));
    assert_eq!(mended.notes, ["begins at 2 K, which is subtracted from every reading"]);
    let hole = [&good()[..20], &good()[26..]].concat();
    let mended = read("small-hole", &text(&hole)).unwrap();
    assert_eq!(
        mended.notes,
        ["has no reading between 4.75 and 6.5 s; the fit has none there either"]
    );
    // further columns, comments, a byte order mark and other line ends are let be
    let dressed = "\u{feff}# a comment\r\ntime_s,temperature_rise_C,remark\r\n".to_owned()
        + &good().iter().map(|(t, v)| format!("{t},{v},x\r\n")).collect::<String>();
    assert_eq!(read("dressed", &dressed).unwrap().points, good());
}
