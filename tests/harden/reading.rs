//! Claim: whatever a path leads to, each reader takes a regular file of bounded size or says why not; it
//! never waits, and its work grows no faster than the file.
//! Source: common practice, no source; bounds are those of `garment::sizes`.

#![cfg(unix)]

use std::fs;
use std::io::Write;
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::Stdio;
use std::time::{Duration, Instant};

use crate::harden::commands::{folder, program, words};

/// How each format is read: a command with `@` for the folder, and the file that it reads.
const READERS: [(&str, &str); 16] = [
    ("expose @/a.toml --behind disc", "a.toml"),
    ("expose single-outer-195 --behind disc --exposure @/a.toml", "a.toml"),
    ("suit @/a.toml", "a.toml"),
    ("body refuelling-coverall --body @/a.toml", "a.toml"),
    ("seek @/a.toml", "a.toml"),
    ("report @/a.toml --out @/out.html", "a.toml"),
    ("fit single-outer-195 @/a.csv --free conductivity:1", "a.csv"),
    ("lots three-ply-loose @/a.csv", "a.csv"),
    ("book check --book @/a.csv", "a.csv"),
    (
        "book add --book @/a.csv --figure HTI24 --values 14 --date 2026-11-26 three-ply-loose",
        "a.csv",
    ),
    ("materials list --shelf @", "fabrics.csv"),
    ("materials list --shelf @", "exposures.toml"),
    ("materials check @/a.csv", "a.csv"),
    (
        "odds single-outer-195 --against iso-11612-b1 --sets 16 --rows 16 --checkpoint @/a --resume",
        "a",
    ),
    ("seek tests/harden/brief.toml --checkpoint @/a --resume", "a"),
    ("merge @/a", "a"),
];

/// Runs a command that must end by itself soon: status and what it said on standard error.
fn soon(line: &str, place: &Path) -> (Option<i32>, String) {
    let mut child = program(&words(line, place)).stdout(Stdio::null()).spawn().unwrap();
    let begun = Instant::now();
    while child.try_wait().unwrap().is_none() {
        if begun.elapsed() > Duration::from_secs(60) {
            child.kill().unwrap();
            panic!("{line}: still running after a minute");
        }
        std::thread::sleep(Duration::from_millis(2));
    }
    let output = child.wait_with_output().unwrap();
    (output.status.code(), String::from_utf8_lossy(&output.stderr).into_owned())
}

/// Each reader refuses what `make` puts in its file's place.
fn refused(name: &str, part: &str, make: impl Fn(&Path)) {
    for (i, (line, file)) in READERS.iter().enumerate() {
        let place = folder(&format!("{name}_{i}"));
        let path = place.join(file);
        make(&path);
        let (code, said) = soon(line, &place);
        assert_eq!(code, Some(1), "{line}: {said}");
        for part in ["error: ", "expected: ", "mend: ", part] {
            assert!(said.contains(part), "{line}: no `{part}` in\n{said}");
        }
        assert!(said.len() < 10_000, "{line}: {} bytes", said.len());
    }
}

#[test]
fn nobody_waits_for_a_pipe() {
    refused("pipe", "it is a pipe, not a file", |path| {
        rustix::fs::mknodat(
            rustix::fs::CWD,
            path,
            rustix::fs::FileType::Fifo,
            rustix::fs::Mode::from_raw_mode(0o600),
            0,
        )
        .unwrap();
    });
}

#[test]
fn a_device_has_no_end() {
    refused("zero", "it is a device, not a file", |path| symlink("/dev/zero", path).unwrap());
}

#[test]
fn a_folder_is_no_file() {
    refused("folder", "folder", |path| {
        fs::create_dir(path).unwrap();
        // one message says directory
        fs::write(path.with_file_name("folder"), "").unwrap();
    });
}

#[test]
fn more_than_any_workshop_keeps_is_refused_unread() {
    refused("large", "it is larger than ", |path| {
        // a hole of 3 GB takes no room on the disk
        fs::File::create(path).unwrap().set_len(3_000_000_000).unwrap();
    });
}

/// Of a file that is none of ours no line is shown, by any reader.
#[test]
fn no_line_of_another_file_is_shown() {
    let secrets = [
        "root:x:0:0:hunter2:/root:/bin/bash\nbin:x:1:1:hunter2:/:/bin/sh\n",
        "[credentials]\nuser = \"hunter2\ntoken = hunter2\n",
        "hunter2",
        "hunter2\u{1b}[2J\n",
        "user,password\nlot,hunter2\n\"hunter2\n",
    ];
    for (i, secret) in secrets.iter().enumerate() {
        for (j, (line, file)) in READERS.iter().enumerate() {
            let place = folder(&format!("secret_{i}_{j}"));
            fs::write(place.join(file), secret).unwrap();
            let (code, said) = soon(line, &place);
            assert_eq!(code, Some(1), "{line}: {said}");
            assert!(!said.contains("hunter2"), "{line}: {said}");
        }
        // and bytes that are no text
        let place = folder(&format!("secret_{i}_bytes"));
        let bytes = [secret.as_bytes(), b"\xff\xfe hunter2"].concat();
        fs::write(place.join("a.toml"), bytes).unwrap();
        let (_, said) = soon("expose @/a.toml", &place);
        assert!(!said.contains("hunter2"), "{said}");
    }
}

const EXPOSURE: &str = "name = \"mine\"\nflux_file = \"FILE\"\nradiant_share = 1\n\
    flame_temperature_C = 2000\nroom_temperature_C = 25\nuntil_s = 60\ncooling_W_m2K = 10\n\
    orientation = \"vertical\"\nspacer_mm = 0\n\
    disc = { mass_g = 36, specific_heat_J_kgK = 385, area_cm2 = 25.15, emissivity = 0.95 }\n";

/// An exposure names what lies in its folder; anything else only where the user says so.
#[test]
fn a_flux_series_lies_with_its_exposure() {
    let place = folder("outside");
    let inner = place.join("inner");
    fs::create_dir(&inner).unwrap();
    let series = "time_s,flux_kW_m2\n0,40\n60,40\n";
    for at in [place.join("flux.csv"), inner.join("flux.csv")] {
        fs::write(at, series).unwrap();
    }
    symlink(place.join("flux.csv"), inner.join("link.csv")).unwrap();
    let whole = place.join("flux.csv");
    let named = |file: &str| -> (Option<i32>, String) {
        fs::write(inner.join("mine.toml"), EXPOSURE.replace("FILE", file)).unwrap();
        soon("expose single-outer-195 --behind disc --error 5 --exposure @/inner/mine.toml", &place)
    };
    for file in ["flux.csv", "./flux.csv"] {
        assert_eq!(named(file), (Some(0), String::new()), "{file}");
    }
    let outside =
        ["../flux.csv", whole.to_str().unwrap(), "link.csv", "../nowhere.csv", "/etc/passwd"];
    for file in outside {
        let (code, said) = named(file);
        assert_eq!(code, Some(1), "{file}: {said}");
        assert!(said.contains("outside its folder") && said.contains("mine.toml:2:"), "{said}");
        assert!(!said.contains("root:"), "{said}");
    }
    let (code, said) = named("nowhere.csv");
    assert!(code == Some(1) && said.contains("mine.toml:2:"), "the exposure's line: {said}");
    for file in outside.iter().take(3) {
        fs::write(inner.join("mine.toml"), EXPOSURE.replace("FILE", file)).unwrap();
        let line = "expose single-outer-195 --behind disc --error 5 --allow-outside \
                    --exposure @/inner/mine.toml";
        assert_eq!(soon(line, &place), (Some(0), String::new()), "{file}");
    }
}

/// A file of as many rows as its format may have, and one of four times fewer: the time grows with it.
fn grows(name: &str, line: &str, file: &str, make: &dyn Fn(usize) -> String, rows: usize) {
    let place = folder(&format!("grows_{name}"));
    let time = |n: usize| {
        fs::write(place.join(file), make(n)).unwrap();
        let begun = Instant::now();
        soon(line, &place);
        begun.elapsed().as_secs_f64()
    };
    let (small, large) = (time(rows / 4), time(rows));
    let say = format!("{name}: {small:.2} s for {} rows, {large:.2} s for {rows}", rows / 4);
    println!("{say}");
    // quadratic work takes sixteen times as long; what takes no time is not held to any order
    assert!(large < 2.0 || large < 10.0 * small, "{say}");
}

#[test]
fn work_grows_no_faster_than_the_file() {
    let fabrics = |word: &'static str| {
        move |n: usize| {
            let head = "name,role,fibre,areal_density_g_m2,thickness_mm,from\n";
            let row = |i: usize| format!("cloth-{i},outer,wool,{word},0.5,measured\n");
            head.to_owned() + &(0..n).map(row).collect::<String>()
        }
    };
    grows("fabrics", "materials list --shelf @", "fabrics.csv", &fabrics("200"), 20_000);
    grows("faulty", "materials list --shelf @", "fabrics.csv", &fabrics("-5"), 20_000);
    let flux = |n: usize| {
        let row = |i: usize| format!("{},40\n", 60.0 * i as f64 / n as f64);
        format!("time_s,flux_kW_m2\n{}60,40\n", (0..n).map(row).collect::<String>())
    };
    grows("flux", "materials check @/flux.csv", "flux.csv", &flux, 72_000);
    let faulty_flux = |n: usize| {
        let row = |i: usize| format!("{i},-1\n");
        format!("time_s,flux_kW_m2\n{}", (0..n).map(row).collect::<String>())
    };
    grows("faulty flux", "materials check @/flux.csv", "flux.csv", &faulty_flux, 72_000);
    let rolls = |n: usize| {
        let row = |i: usize| format!("L{i},1,{},0.47\n", 195.0 + (i % 7) as f64);
        format!("lot,ply,areal_density_g_m2,thickness_mm\n{}", (0..n).map(row).collect::<String>())
    };
    let lots = "lots three-ply-loose @/rolls.csv --error 5";
    grows("rolls", lots, "rolls.csv", &rolls, 1_600);
    let curve = |n: usize| {
        let row = |i: usize| format!("{},{}\n", i as f64 * 0.01, i as f64 * 1e-4);
        format!("time_s,temperature_rise_C\n{}", (0..n).map(row).collect::<String>())
    };
    grows("curve", "materials check @/curve.csv", "curve.csv", &curve, 180_000);
    let note = |n: usize| {
        let note = "a word of the note and its end\n".repeat(n);
        format!("name = \"a\"\nnote = \"\"\"{note}\"\"\"\n[[stack]]\nply = \"outer-aramid-150\"\n")
    };
    grows("note", "expose @/a.toml --behind disc --error 5", "a.toml", &note, 30_000);
    let keys = |n: usize| (0..n).map(|i| format!("stack{i} = {i}\n")).collect::<String>();
    grows("keys", "expose @/a.toml", "a.toml", &keys, 60_000);
}

/// A row too many, a column too many, a line too long: each is said with its place.
#[test]
fn bounds_are_said() {
    let place = folder("bounds");
    let said = |text: &str, line: &str, file: &str| {
        let mut out = fs::File::create(place.join(file)).unwrap();
        out.write_all(text.as_bytes()).unwrap();
        soon(line, &place).1
    };
    let header = "lot,ply,areal_density_g_m2,thickness_mm\n";
    let rows = "a,1,195,0.47\n".repeat(10_001);
    let rolls = said(&format!("{header}{rows}"), "lots three-ply-loose @/r.csv", "r.csv");
    assert!(rolls.contains("more than 10000 rows") && rolls.contains("r.csv:10002:"), "{rolls}");
    let wide = said(&format!("lot{}\n", ",x".repeat(300)), "lots three-ply-loose @/r.csv", "r.csv");
    assert!(wide.contains("301 columns") && wide.contains("r.csv:1:"), "{wide}");
    let long = format!("name = \"a\"\nstack = \"{}\"\n", "x".repeat(100_001));
    let long = said(&long, "expose @/a.toml", "a.toml");
    assert!(long.contains("line 2 is longer than 100 kB"), "{long}");
    let plies = "[[stack]]\nply = \"outer-aramid-150\"\n".repeat(61);
    let plies = said(&format!("name = \"a\"\n{plies}"), "expose @/a.toml", "a.toml");
    assert!(plies.contains("the stack has 61 entries") && plies.contains("a.toml:122:"), "{plies}");
}
