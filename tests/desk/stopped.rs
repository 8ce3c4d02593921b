//! Claim: Ctrl-C ends the desk at once and cleanly, whoever is connected.

use std::io::{Read, Write};
use std::net::TcpListener;
use std::time::{Duration, Instant};

use rustix::process::{Pid, Signal, kill_process};

use crate::desk::client::Desk;

#[test]
fn ctrl_c_closes_it_and_frees_the_port() {
    let mut desk = Desk::open("ctrl_c", &[]);
    assert_eq!(desk.get("").status, 200);
    let mut idle = desk.connect();
    let mut slow = desk.connect();
    slow.write_all(b"GET /").unwrap();
    std::thread::sleep(Duration::from_millis(200));
    let start = Instant::now();
    kill_process(Pid::from_child(&desk.child), Signal::INT).unwrap();
    let status = desk.child.wait().unwrap();
    assert!(start.elapsed() < Duration::from_secs(2), "{:?}", start.elapsed());
    assert_eq!(status.code(), Some(0));
    let mut said = String::new();
    desk.child.stderr.take().unwrap().read_to_string(&mut said).unwrap();
    assert!(said.ends_with("The desk is closed.\n"), "{said}");
    let mut rest = Vec::new();
    let _ = idle.read_to_end(&mut rest);
    assert!(rest.is_empty());
    assert!(desk.strays().is_empty());
    // whoever comes next has the port
    drop((idle, slow));
    TcpListener::bind(("127.0.0.1", desk.port)).unwrap();
}
