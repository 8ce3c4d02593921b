//! Claim: files are written into the folder named and nowhere else, and none is replaced unasked.

use std::fs;
use std::os::unix::fs::symlink;

use serde_json::{Value, json};

use crate::desk::client::{Desk, names, two_plies};

fn wish(name: &str, what: &str) -> Value {
    json!({"state": two_plies(1.0), "name": name, "what": what})
}

#[test]
fn layup_chart_and_report_stand_in_the_folder_and_nothing_elsewhere() {
    let desk = Desk::open("saves", &[]);
    let mut report = wish("second", "report");
    report["state"]["against"] = json!(["iso-11612-b1"]);
    let mut short = wish("third", "chart");
    short["state"]["flame_s"] = json!(4);
    for (wish, written) in [
        (wish("first", "layup"), json!(["first.toml"])),
        (report, json!(["second.toml", "second.html"])),
        (short, json!(["third.toml", "third.svg"])),
    ] {
        let reply = desk.post("save", &wish);
        assert_eq!(reply.status, 200, "{}", reply.faults());
        assert_eq!(reply.json()["written"], written);
    }
    let all = ["first.toml", "second.html", "second.toml", "third.svg", "third.toml"];
    assert_eq!(names(&desk.out), all);
    assert!(desk.strays().is_empty(), "{:?}", desk.strays());
    for file in ["second.html", "third.svg"] {
        let text = fs::read_to_string(desk.out.join(file)).unwrap();
        assert!(text.contains("never by this calculation"), "{file}");
    }
    assert!(fs::read_to_string(desk.out.join("second.html")).unwrap().contains("iso-11612-b1"));
}

#[test]
fn no_name_leads_out_of_the_folder() {
    let desk = Desk::open("names", &[]);
    for name in
        ["", ".", "..", "../a", "a/b", "/tmp/a", "a\\b", "..\\a", ".a", "-a", "a\0", "--out=x"]
    {
        for what in ["layup", "report"] {
            assert_eq!(desk.post("save", &wish(name, what)).status, 422, "{name:?}");
        }
    }
    assert!(names(&desk.out).is_empty() && desk.strays().is_empty());
    // a link in the folder leads out of it
    symlink(desk.cwd.join("elsewhere.toml"), desk.out.join("link.toml")).unwrap();
    let mut over = wish("link", "layup");
    over["replace"] = json!(true);
    assert_eq!(desk.post("save", &over).status, 422);
    assert!(!desk.cwd.join("elsewhere.toml").exists());
}

#[test]
fn what_is_there_is_replaced_only_when_asked() {
    let desk = Desk::open("replaced", &[]);
    assert_eq!(desk.post("save", &wish("a", "layup")).status, 200);
    let first = fs::read_to_string(desk.out.join("a.toml")).unwrap();
    let mut other = wish("a", "layup");
    other["state"] = two_plies(3.0);
    let reply = desk.post("save", &other);
    assert_eq!((reply.status, reply.faults().as_str()), (409, "`a.toml` is there already\n"));
    assert_eq!(fs::read_to_string(desk.out.join("a.toml")).unwrap(), first);
    other["replace"] = json!(true);
    assert_eq!(desk.post("save", &other).status, 200);
    assert!(fs::read_to_string(desk.out.join("a.toml")).unwrap().contains("gap_mm = 3"));
    // a chart's place is taken: neither it nor its layup is written
    fs::write(desk.out.join("b.svg"), "mine").unwrap();
    assert_eq!(desk.post("save", &wish("b", "chart")).status, 409);
    assert_eq!(names(&desk.out), ["a.toml", "b.svg"]);
}

/// The file that the desk was opened with may be saved over, as in any editor.
#[test]
fn the_file_it_began_with_is_saved_over_when_asked() {
    let desk = Desk::open("over", &[]);
    let reply = desk.post("save", &wish("mine", "layup"));
    assert_eq!(reply.status, 200, "{}", reply.faults());
    let again = Desk::open(
        "over_again",
        &[desk.out.join("mine.toml").to_str().unwrap(), "--out", desk.out.to_str().unwrap()],
    );
    assert_eq!(again.start()["layup"], two_plies(1.0)["layup"]);
    let mut over = wish("mine", "report");
    over["replace"] = json!(true);
    let reply = again.post("save", &over);
    assert_eq!(reply.status, 200, "{}", reply.faults());
}

#[test]
fn a_state_that_cannot_be_is_not_saved() {
    let desk = Desk::open("unsaved", &[]);
    let mut bad = wish("bad", "report");
    bad["state"]["layup"]["stack"][1]["gap_mm"] = json!(-1);
    assert_eq!(desk.post("save", &bad).status, 422);
    let mut timed = wish("timed", "report");
    timed["state"]["until_s"] = json!(30);
    assert!(
        desk.post("save", &timed).faults().contains("follows the exposure as the shelf has it")
    );
    assert!(names(&desk.out).is_empty());
}
