//! Claim: ten thousand requests leave the memory as it was.

use std::io::{Read, Write};

use crate::desk::client::{Desk, two_plies};

#[test]
fn ten_thousand_requests_leave_the_memory_flat() {
    let desk = Desk::open("many", &[]);
    let send = |n: usize, from: usize| {
        let mut stream = desk.connect();
        for i in from..from + n {
            // now and then an answer, else what costs little
            let (method, path, body) = match i % 100 {
                0 => ("POST", "answer", two_plies(0.01 * (1 + i % 700) as f64).to_string()),
                1..=9 => ("POST", "answer", format!("{{\"bad\":{i}}}")),
                10..=19 => ("GET", "shelf.json", String::new()),
                _ => ("GET", "desk.css", String::new()),
            };
            let head = format!(
                "{method} /{}/{path} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Type: application/json\r\n\
                 Content-Length: {}\r\n\r\n{body}",
                desk.token,
                desk.port,
                body.len()
            );
            stream.write_all(head.as_bytes()).unwrap();
            if !skip_reply(&mut stream) {
                stream = desk.connect();
            }
        }
    };
    send(2000, 0);
    let before = desk.memory();
    send(8000, 2000);
    let after = desk.memory();
    eprintln!("{before} kB after 2,000 requests, {after} kB after 10,000");
    assert!(after < before + 6_000, "{before} kB after 2,000 requests, {after} kB after 10,000");
    assert_eq!(desk.get("").status, 200);
}

/// Reads one reply to its end; false where the other side then closes.
fn skip_reply(stream: &mut impl Read) -> bool {
    let mut head = Vec::new();
    let mut byte = [0];
    while !head.ends_with(b"\r\n\r\n") {
        stream.read_exact(&mut byte).unwrap();
        head.push(byte[0]);
    }
    let head = String::from_utf8(head).unwrap().to_lowercase();
    let length = head.lines().find_map(|line| line.strip_prefix("content-length: ")).unwrap();
    let mut body = vec![0; length.parse().unwrap()];
    stream.read_exact(&mut body).unwrap();
    !head.contains("connection: close")
}
