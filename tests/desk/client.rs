//! A desk in a folder of its own, and requests written out by hand: as a browser would not send them, too.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Shutdown, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use serde_json::{Value, json};

use crate::program::folder;

/// A desk that runs; it is ended when it is dropped.
pub struct Desk {
    pub child: Child,
    pub port: u16,
    pub token: String,
    /// Where it was started.
    pub cwd: PathBuf,
    /// Where it saves.
    pub out: PathBuf,
}

/// A reply.
pub struct Reply {
    pub status: u16,
    pub head: String,
    pub body: Vec<u8>,
}

impl Reply {
    #[track_caller]
    pub fn json(&self) -> Value {
        serde_json::from_slice(&self.body)
            .unwrap_or_else(|error| panic!("{error}: {}", String::from_utf8_lossy(&self.body)))
    }

    /// What is said to be wrong, one line each.
    pub fn faults(&self) -> String {
        let told = self.json();
        let faults = told["faults"].as_array().cloned().unwrap_or_default();
        faults.iter().map(|fault| format!("{}\n", fault["what"].as_str().unwrap())).collect()
    }
}

impl Desk {
    /// A desk with these further words, saving to `out` in an empty folder.
    pub fn open(name: &str, words: &[&str]) -> Desk {
        let cwd = folder(name);
        let out = cwd.join("out");
        std::fs::create_dir(&out).unwrap();
        let mut child = Command::new(env!("CARGO_BIN_EXE_stillair"))
            .current_dir(&cwd)
            .args(["desk", "--no-open"])
            // unless it is to save elsewhere
            .args(["--out", "out"].iter().filter(|_| !words.contains(&"--out")))
            .args(words)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.as_mut().unwrap()).read_line(&mut line).unwrap();
        let rest =
            line.trim().strip_prefix("http://127.0.0.1:").unwrap_or_else(|| panic!("{line}"));
        let (port, token) = rest.split_once('/').unwrap();
        let (port, token) = (port.parse().unwrap(), token.trim_end_matches('/').to_owned());
        Desk { child, port, token, cwd, out }
    }

    pub fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(30))).unwrap();
        stream
    }

    /// The reply to these bytes, on a connection of their own.
    pub fn raw(&self, bytes: &[u8]) -> Reply {
        let mut stream = self.connect();
        // who is refused before the end may not be listened to
        let _ = stream.write_all(bytes);
        let mut all = Vec::new();
        let _ = stream.read_to_end(&mut all);
        let _ = stream.shutdown(Shutdown::Both);
        split(all)
    }

    /// The reply to a request with these headers beside its own.
    pub fn send(&self, method: &str, path: &str, headers: &str, body: &[u8]) -> Reply {
        let host = format!("127.0.0.1:{}", self.port);
        let own = if headers.to_lowercase().contains("host:") {
            String::new()
        } else {
            format!("Host: {host}\r\n")
        };
        let head = format!(
            "{method} {path} HTTP/1.1\r\n{own}{headers}Content-Length: {}\r\nConnection: close\r\n\r\n",
            body.len()
        );
        self.raw(&[head.as_bytes(), body].concat())
    }

    /// What lies at a path behind the token.
    pub fn get(&self, name: &str) -> Reply {
        self.send("GET", &format!("/{}/{name}", self.token), "", b"")
    }

    pub fn post(&self, name: &str, body: &Value) -> Reply {
        self.post_bytes(name, body.to_string().as_bytes())
    }

    pub fn post_bytes(&self, name: &str, body: &[u8]) -> Reply {
        let path = format!("/{}/{name}", self.token);
        self.send("POST", &path, "Content-Type: application/json\r\n", body)
    }

    /// What the page begins with.
    pub fn start(&self) -> Value {
        self.get("shelf.json").json()["start"].clone()
    }

    /// Memory that it holds [kB].
    pub fn memory(&self) -> u64 {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.child.id())).unwrap();
        let line = status.lines().find(|line| line.starts_with("VmRSS:")).unwrap();
        line.split_whitespace().nth(1).unwrap().parse().unwrap()
    }

    /// All files below where it was started, but for those it may write.
    pub fn strays(&self) -> Vec<PathBuf> {
        let mut found = Vec::new();
        let mut folders = vec![self.cwd.clone()];
        while let Some(folder) = folders.pop() {
            for entry in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
                match entry {
                    path if path == self.out => {}
                    path if path.is_dir() => folders.push(path),
                    path => found.push(path),
                }
            }
        }
        found
    }
}

impl Drop for Desk {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Head and body of a reply.
pub fn split(all: Vec<u8>) -> Reply {
    let end = all.windows(4).position(|four| four == b"\r\n\r\n").map_or(all.len(), |at| at + 4);
    let head = String::from_utf8_lossy(&all[..end]).into_owned();
    let status = head.split(' ').nth(1).and_then(|code| code.parse().ok()).unwrap_or(0);
    Reply { status, head, body: all[end..].to_vec() }
}

/// A layup of two plies with that gap [mm] between them.
pub fn two_plies(gap: f64) -> Value {
    json!({
        "layup": {"name": "two", "stack": [
            {"ply": "outer-aramid-200"}, {"gap_mm": gap}, {"ply": "inner-jersey-140"},
        ]},
        "exposure": "flame-80",
    })
}

/// The names of the files in a folder.
pub fn names(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap();
    let mut names: Vec<String> =
        entries.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}
