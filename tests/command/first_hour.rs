//! Claim: from a mill's sheet to three candidates ranked and a page to hand round takes at most 12 commands.
//! Source: common practice, no source. The fabric is invented for the demo.

use std::fs::{self, OpenOptions};
use std::io::Write;
use std::time::Instant;

use crate::command::program::{done, folder};
use crate::flat::flat;

const CANDIDATES: [&str; 3] = [
    "outer-aramid-200 + mill-felt-110 + inner-jersey-140",
    "outer-aramid-200 + 1 mm + mill-felt-110 + inner-jersey-140",
    "outer-fr-cotton-250 + mill-felt-110 + 2 mm + inner-jersey-140",
];
/// What the mill's sheet says, typed below the rows that are there; conductivity it leaves out.
const ROW: &str = "mill-felt-110,needled felt,felt,para-aramid/novoloid 50/50,110,1.5,0.5,,\
                   data sheet: mill's sheet of March\n";
const N_COMMANDS_MOST: usize = 12;

#[test]
fn a_sheet_becomes_three_candidates_and_a_page() {
    let (place, start) = (folder("first_hour"), Instant::now());
    let shelf = place.join("workshop").display().to_string();
    let page = place.join("page.html").display().to_string();
    let mut n_commands = 0;
    let mut run = |arguments: &[&str]| {
        n_commands += 1;
        done(arguments)
    };
    run(&["new", &shelf]);
    let fabrics = format!("{shelf}/fabrics.csv");
    OpenOptions::new().append(true).open(&fabrics).unwrap().write_all(ROW.as_bytes()).unwrap();
    let checked = flat(&run(&["materials", "check", &fabrics]));
    assert!(checked.contains("nothing wrong") && checked.contains("mill-felt-110"), "{checked}");
    let on = ["--shelf", &shelf];
    let shown = run(&[&on[..], &["materials", "show", "mill-felt-110"]].concat());
    assert!(shown.contains("mill's sheet of March") && shown.contains("estimated"), "{shown}");
    let first = run(&[&on[..], &["expose", CANDIDATES[1]]].concat());
    assert!(first.contains("HTI24") && first.contains("mill-felt-110"), "{first}");
    let against = ["--against", "fia-8856-2018-overall"];
    let ranked = run(&[&on[..], &["rank"], &CANDIDATES, &against].concat());
    assert!(ranked.contains("above (+") && ranked.contains("outer-fr-cotton-250"), "{ranked}");
    run(&[&on[..], &["report"], &CANDIDATES, &["--out", &page]].concat());
    let page = fs::read_to_string(page).unwrap();
    assert!(page.contains("mill-felt-110") && page.contains(stillair::NOTICE));
    assert!(n_commands <= N_COMMANDS_MOST, "{n_commands}");
    eprintln!("{n_commands} commands in {:.1} s", start.elapsed().as_secs_f64());
}
