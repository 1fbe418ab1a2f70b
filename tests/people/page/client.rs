//! A server on a free port, and raw requests to it.

use relatch::internals::page::{Preset, Server, Stop, shipped};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::thread::JoinHandle;
use std::time::Duration;

/// A server that ends with the test.
pub struct Served {
    pub port: u16,
    stop: Stop,
    thread: Option<JoinHandle<()>>,
}

impl Served {
    pub fn start() -> Served {
        Served::with(shipped().expect("presets"))
    }

    pub fn with(presets: Vec<Preset>) -> Served {
        let server = Server::bind(0, presets).expect("a port");
        Served {
            port: server.port(),
            stop: server.stop(),
            thread: Some(std::thread::spawn(move || server.serve())),
        }
    }

    /// Sends bytes as they are; reads until the server hangs up.
    pub fn raw(&self, bytes: &[u8]) -> Reply {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).expect("connect");
        stream
            .set_read_timeout(Some(Duration::from_secs(60)))
            .expect("timeout");
        // A server that refuses may hang up before everything is sent.
        let _ = stream.write_all(bytes);
        let mut all = Vec::new();
        let _ = stream.read_to_end(&mut all);
        Reply::of(&all)
    }

    /// A request with a right Host and these further header lines.
    pub fn send(&self, method: &str, target: &str, lines: &str, body: &[u8]) -> Reply {
        let mut bytes = format!(
            "{method} {target} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nConnection: close\r\n{lines}\r\n",
            self.port
        )
        .into_bytes();
        bytes.extend_from_slice(body);
        self.raw(&bytes)
    }

    pub fn get(&self, target: &str) -> Reply {
        self.send("GET", target, "", b"")
    }

    pub fn post(&self, target: &str, body: &str) -> Reply {
        let lines = format!(
            "Content-Type: application/json\r\nContent-Length: {}\r\n",
            body.len()
        );
        self.send("POST", target, &lines, body.as_bytes())
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        self.stop.now();
        if let Some(thread) = self.thread.take() {
            thread.join().expect("the server ends in order");
        }
    }
}

/// What came back.
#[derive(Debug)]
pub struct Reply {
    pub status: u16,
    pub head: String,
    pub body: Vec<u8>,
}

impl Reply {
    fn of(bytes: &[u8]) -> Reply {
        let end = bytes
            .windows(4)
            .position(|w| w == b"\r\n\r\n")
            .unwrap_or_else(|| panic!("no head in {:?}", String::from_utf8_lossy(bytes)));
        let head = String::from_utf8(bytes[..end].to_vec()).expect("head");
        let status = head[9..12].parse().expect("status");
        Reply {
            status,
            head,
            body: bytes[end + 4..].to_vec(),
        }
    }

    pub fn text(&self) -> &str {
        std::str::from_utf8(&self.body).expect("text")
    }

    pub fn json(&self) -> serde_json::Value {
        serde_json::from_slice(&self.body).unwrap_or_else(|e| panic!("{e}: {}", self.text()))
    }

    /// The sentence of a refusal, which must be one.
    pub fn refused(&self, status: u16) -> String {
        assert_eq!(self.status, status, "{self:?} {}", self.text());
        let sentence = self.json()["error"]
            .as_str()
            .expect("a sentence")
            .to_owned();
        assert!(sentence.len() > 15, "{sentence}");
        sentence
    }
}
