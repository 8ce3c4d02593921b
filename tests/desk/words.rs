//! Claim: the page bears the notice, loads nothing from elsewhere, and speaks of no prediction as a
//! certificate would.

use stillair::NOTICE;
use stillair::desk::page::ASSETS;

use crate::desk::client::Desk;
use crate::desk::verdicts::VERDICTS;
use crate::program::stillair;

#[test]
fn no_word_of_the_page_sounds_like_a_certificate() {
    assert!(ASSETS.len() > 8);
    for asset in ASSETS {
        for word in asset.text.split(|c: char| !c.is_alphabetic()) {
            assert!(!VERDICTS.contains(&word.to_lowercase().as_str()), "{}: {word}", asset.name);
        }
    }
}

#[test]
fn nothing_is_loaded_from_elsewhere() {
    for asset in ASSETS {
        // the name of a notation is no address
        let text = asset.text.replace("http://www.w3.org/2000/svg", "");
        for mark in ["http:", "https:", "//cdn", "@import", "url(\"", "eval(", "new Function"] {
            assert!(!text.contains(mark), "{}: {mark}", asset.name);
        }
    }
}

#[test]
fn the_notice_stands_in_every_answer() {
    let desk = Desk::open("notice", &[]);
    assert_eq!(desk.get("shelf.json").json()["notice"], NOTICE);
    let answer = desk.post("answer", &desk.start()).json();
    assert_eq!(answer["notice"], NOTICE);
    assert!(answer["printed"].as_str().unwrap().replace('\n', " ").contains(NOTICE));
}

#[test]
fn what_it_cannot_begin_with_is_told_before_anything_is_served() {
    for (words, expected) in [
        (&["desk", "--no-open", "no-such-layup"][..], "no layup is called `no-such-layup`"),
        (&["desk", "--no-open", "--exposure", "flame"], "no exposure is called `flame`"),
        (&["desk", "--no-open", "--against", "x"], "no target is called `x`"),
        (
            &["desk", "--no-open", "--out", "no/such/folder"],
            "the folder `no/such/folder` cannot be used",
        ),
    ] {
        let (out, said, code) = stillair(words, "2");
        assert_eq!((out.as_str(), code), ("", 1), "{words:?}");
        assert!(said.contains(expected), "{said}");
        assert!(said.contains("\n  mend: "), "{said}");
    }
    let held = std::net::TcpListener::bind(("127.0.0.1", 0)).unwrap();
    let port = held.local_addr().unwrap().port().to_string();
    let (_, said, code) = stillair(&["desk", "--no-open", "--port", &port], "2");
    assert_eq!(code, 1);
    assert!(said.contains("the port cannot be had"), "{said}");
}

#[test]
fn lessons_are_those_of_the_terminal() {
    let desk = Desk::open("lessons", &[]);
    let all = desk.get("lessons.json").json();
    assert_eq!(all["lessons"].as_array().unwrap().len(), 9);
    let told: serde_json::Value =
        serde_json::from_str(&stillair(&["lesson", "still-air", "--json"], "2").0).unwrap();
    assert_eq!(desk.get("lesson/still-air").json(), told);
    for none in ["lesson/", "lesson/..", "lesson/../lessons.json", "lesson/--told"] {
        assert_eq!(desk.get(none).status, 404, "{none}");
    }
}
