//! Claim: whoever is slow is let go, and holds up nobody else.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use crate::desk::client::{Desk, two_plies};

#[test]
fn two_hundred_slow_clients_hold_up_nobody() {
    let desk = Desk::open("slow", &[]);
    let begin = |i: usize| {
        let mut stream = desk.connect();
        let head = match i % 4 {
            // nothing at all, half a line, a head without its end, a body that does not come
            0 => String::new(),
            1 => "GET /".to_owned(),
            2 => format!("GET /{}/ HTTP/1.1\r\nHost: 127.0.0.1:{}\r\n", desk.token, desk.port),
            _ => format!(
                "POST /{}/answer HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Type: application/json\r\n\
                 Content-Length: 5000\r\n\r\n{{",
                desk.token, desk.port
            ),
        };
        stream.write_all(head.as_bytes()).unwrap();
        stream
    };
    let mut slow: Vec<TcpStream> = (0..200).map(begin).collect();
    let start = Instant::now();
    assert_eq!(desk.get("").status, 200);
    assert_eq!(desk.post("answer", &two_plies(1.0)).status, 200);
    assert!(start.elapsed() < Duration::from_secs(4), "{:?}", start.elapsed());
    // one byte now and then is slow, too
    while start.elapsed() < Duration::from_secs(4) {
        for stream in slow.iter_mut().skip(2).step_by(4) {
            let _ = stream.write_all(b"x");
        }
        std::thread::sleep(Duration::from_millis(300));
    }
    for (i, stream) in slow.iter_mut().enumerate() {
        stream.set_read_timeout(Some(Duration::from_secs(8))).unwrap();
        let mut rest = Vec::new();
        // the end, or that the other side has closed; never that the time is up
        if let Err(error) = stream.read_to_end(&mut rest) {
            assert_eq!(error.kind(), std::io::ErrorKind::ConnectionReset, "client {i}");
        }
    }
    assert!(start.elapsed() < Duration::from_secs(16), "{:?}", start.elapsed());
    assert_eq!(desk.get("").status, 200);
}
