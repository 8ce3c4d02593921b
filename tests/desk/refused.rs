//! Claim: nobody but the page is answered, and nothing that is sent is more than refused.

use serde_json::{Value, json};

use crate::desk::client::{Desk, two_plies};

#[test]
fn foreign_hosts_origins_and_sites_are_refused() {
    let desk = Desk::open("foreign", &[]);
    let page = format!("/{}/", desk.token);
    let own = format!("127.0.0.1:{}", desk.port);
    let status = |headers: &str| desk.send("GET", &page, headers, b"").status;
    assert_eq!(status(""), 200);
    assert_eq!(status(&format!("Host: localhost:{}\r\n", desk.port)), 200);
    assert_eq!(status(&format!("Origin: http://{own}\r\nSec-Fetch-Site: same-origin\r\n")), 200);
    // a name of its own that a page makes stand for this address
    for host in ["example.org", "example.org:80", "127.0.0.1", "127.0.0.1:1", "[::1]:80", ""] {
        assert_eq!(status(&format!("Host: {host}\r\n")), 421, "{host}");
    }
    assert_eq!(status(&format!("Host: {own}\r\nHost: {own}\r\n")), 421);
    for origin in ["http://example.org", "null", "http://127.0.0.1:1", &format!("https://{own}")] {
        assert_eq!(status(&format!("Origin: {origin}\r\n")), 403, "{origin}");
        let headers = format!("Origin: {origin}\r\nContent-Type: application/json\r\n");
        let body = two_plies(1.0).to_string();
        let reply = desk.send("POST", &format!("{page}answer"), &headers, body.as_bytes());
        assert_eq!(reply.status, 403, "{origin}");
    }
    for site in ["cross-site", "same-site"] {
        assert_eq!(status(&format!("Sec-Fetch-Site: {site}\r\n")), 403, "{site}");
    }
}

#[test]
fn nothing_lies_behind_another_token_or_path() {
    let desk = Desk::open("paths", &[]);
    let token = &desk.token;
    assert!(token.len() == 32 && token.chars().all(|c| c.is_ascii_hexdigit()), "{token}");
    let other = "0".repeat(32);
    for path in [
        "/".to_owned(),
        "/desk.js".to_owned(),
        format!("/{token}"),
        format!("/{other}/"),
        format!("/{}/", &token[..31]),
        format!("/{token}0/"),
        format!("//{token}/"),
        format!("/{token}/../../etc/passwd"),
        format!("/{token}/..%2f..%2fetc%2fpasswd"),
        format!("/{token}/../{token}/"),
        format!("/{token}/page/desk.js"),
        format!("/{token}/desk.js/"),
        format!("/{token}/desk.js%00"),
        format!("/{token}//desk.js"),
        format!("/{token}/Cargo.toml"),
    ] {
        let reply = desk.send("GET", &path, "", b"");
        assert_eq!(reply.status, 404, "{path}");
        assert!(!reply.body.windows(5).any(|five| five == b"root:"), "{path}");
    }
    let page = desk.get("");
    assert_eq!(page.status, 200);
    for header in
        ["content-security-policy: default-src 'none'", "cache-control: no-store", "nosniff"]
    {
        assert!(page.head.contains(header), "{}", page.head);
    }
    for method in ["PUT", "DELETE", "OPTIONS", "TRACE"] {
        assert_eq!(desk.send(method, &format!("/{token}/"), "", b"").status, 405, "{method}");
    }
    assert_eq!(desk.post("shelf.json", &json!({})).status, 404);
    assert_eq!(desk.get("answer").status, 404);
}

#[test]
fn what_cannot_be_read_is_refused_in_words() {
    let desk = Desk::open("malformed", &[]);
    let status = |body: &[u8]| desk.post_bytes("answer", body).status;
    for bad in [
        &b""[..],
        b"{",
        b"null",
        b"[]",
        b"{}",
        b"\xff\xfe",
        b"{\"layup\": 1}",
        b"{\"layup\":{},\"exposure\":\"flame-80\",\"unknown\":1}",
        b"{\"layup\":{},\"exposure\":\"flame-80\",\"flame_s\":NaN}",
        b"{\"layup\":{},\"exposure\":\"flame-80\",\"flame_s\":1e999}",
        "[".repeat(100_000).as_bytes(),
    ] {
        assert_eq!(status(bad), 400, "{}", String::from_utf8_lossy(&bad[..bad.len().min(60)]));
    }
    let body = two_plies(1.0).to_string();
    let path = format!("/{}/answer", desk.token);
    for kind in ["", "Content-Type: text/plain\r\n", "Content-Type: application/jsonp\r\n"] {
        assert_eq!(desk.send("POST", &path, kind, body.as_bytes()).status, 415, "{kind}");
    }
}

/// A state with a change.
fn changed(change: impl Fn(&mut Value)) -> Value {
    let mut state = two_plies(1.0);
    change(&mut state);
    state
}

#[test]
fn a_state_that_cannot_be_says_what_is_wrong() {
    let desk = Desk::open("wrong", &[]);
    let check = |state: Value, words: &str| {
        let reply = desk.post("answer", &state);
        assert_eq!(reply.status, 422, "{words}");
        assert!(reply.faults().contains(words), "{words}: {}", reply.faults());
    };
    check(changed(|s| s["exposure"] = json!("flame-8")), "no exposure is called `flame-8`");
    check(changed(|s| s["skin"] = json!("x")), "no skin is called `x`");
    check(changed(|s| s["against"] = json!(["x"])), "no target is called `x`");
    check(changed(|s| s["against"] = json!(vec!["iso-11612-b1"; 21])), "21 targets");
    check(changed(|s| s["flame_s"] = json!(0)), "the flame's duration is zero");
    check(changed(|s| s["flame_s"] = json!(-4)), "the flame's duration is negative");
    check(changed(|s| s["until_s"] = json!(1e9)), "the time followed is too large");
    let late = |s: &mut Value| {
        s["flame_s"] = json!(30);
        s["until_s"] = json!(20);
    };
    check(changed(late), "would end before its flame does");
    check(changed(|s| s["layup"]["stack"] = json!([])), "no plies");
    check(changed(|s| s["layup"]["stack"][1]["gap_mm"] = json!(-1)), "negative");
    check(changed(|s| s["layup"]["stack"][1]["gap_mm"] = json!("1")), "is text, not a number");
    check(changed(|s| s["layup"]["stack"][0]["ply"] = json!("nothing")), "no fabric is called");
    check(changed(|s| s["layup"]["pressure_kPa"] = json!(2)), "under pressure but has an air gap");
    check(changed(|s| s["layup"]["a\"b"] = json!(2)), "a key of the layup");
    check(changed(|s| s["layup"]["name"] = json!("a\u{1b}[31m")), "control character");
    check(changed(|s| s["layup"]["name"] = json!("a\u{202e}")), "mark of direction");
    check(changed(|s| s["layup"] = json!({"name": "x"})), "is no file of a kind known here");
    // all that is wrong is said at once
    let two = changed(|s| {
        s["layup"]["stack"][0]["ply"] = json!("nothing");
        s["layup"]["stack"][2]["regain_pct"] = json!(-3);
    });
    assert_eq!(desk.post("answer", &two).faults().lines().count(), 2);
}

#[test]
fn bodies_above_a_mebibyte_are_refused_unread() {
    let desk = Desk::open("large", &[]);
    let mut state = two_plies(1.0);
    state["layup"]["note"] = json!("x".repeat(1 << 20));
    let before = desk.memory();
    assert_eq!(desk.post("answer", &state).status, 413);
    // said to be long, and never sent
    let head = format!(
        "POST /{}/answer HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Type: application/json\r\n\
         Content-Length: 999999999999\r\n\r\n",
        desk.token, desk.port
    );
    assert_eq!(desk.raw(head.as_bytes()).status, 413);
    // in pieces, their length not said
    let head = head.replace("Content-Length: 999999999999", "Transfer-Encoding: chunked");
    let piece = format!("10000\r\n{}\r\n", "x".repeat(0x10000));
    let whole = format!("{head}{}", piece.repeat(20));
    assert_eq!(desk.raw(whole.as_bytes()).status, 413);
    let after = desk.memory();
    assert!(after < before + 20_000, "{before} kB before, {after} kB after");
    assert_eq!(desk.post("answer", &two_plies(1.0)).status, 200);
}

/// A note that is just not too long is read: the bound is on the size alone.
#[test]
fn what_is_large_and_fits_is_answered() {
    let desk = Desk::open("fits", &[]);
    let mut state = two_plies(1.0);
    state["layup"]["note"] = json!("x".repeat(60_000));
    assert_eq!(desk.post("answer", &state).status, 200);
    // a line of a layup's file is at most 100 kB
    state["layup"]["note"] = json!("x".repeat(1_000_000));
    assert_eq!(desk.post("answer", &state).status, 422);
}
