//! `relatch page` as a program.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};

/// A program that does not outlive its test.
pub struct Program(pub Child);

impl Drop for Program {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Starts the program and waits for the address it prints.
pub fn start(arguments: &[&str]) -> (Program, u16) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_relatch"))
        .arg("page")
        .args(arguments)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("start");
    let mut line = String::new();
    let out = child.stdout.as_mut().expect("output");
    BufReader::new(out).read_line(&mut line).expect("a line");
    let port = line
        .split("http://127.0.0.1:")
        .nth(1)
        .and_then(|rest| rest.split('/').next())
        .and_then(|port| port.parse().ok())
        .unwrap_or_else(|| panic!("no address in {line}"));
    (Program(child), port)
}

fn presets(port: u16) -> Vec<String> {
    let mut stream = TcpStream::connect(("127.0.0.1", port)).expect("connect");
    write!(
        stream,
        "GET /presets HTTP/1.1\r\nHost: localhost:{port}\r\nConnection: close\r\n\r\n"
    )
    .expect("ask");
    let mut all = String::new();
    stream.read_to_string(&mut all).expect("answer");
    let body = all.split("\r\n\r\n").nth(1).expect("a body");
    let list: serde_json::Value = serde_json::from_str(body).expect("JSON");
    let list = list.as_array().expect("a list");
    list.iter()
        .map(|p| p["id"].as_str().expect("a name").to_owned())
        .collect()
}

#[cfg(unix)]
#[test]
fn it_prints_its_address_serves_and_ends_cleanly_when_interrupted() {
    for signal in ["INT", "TERM"] {
        let (mut program, port) = start(&[]);
        assert_eq!(presets(port).len(), 10);
        let id = program.0.id().to_string();
        let sent = Command::new("kill").args(["-s", signal, &id]).status();
        assert!(sent.expect("kill").success());
        let status = program.0.wait().expect("end");
        assert_eq!(status.code(), Some(0), "{signal}");
        let mut said = String::new();
        let err = program.0.stderr.as_mut().expect("errors");
        err.read_to_string(&mut said).expect("text");
        assert!(said.is_empty(), "{said}");
    }
}

#[test]
fn a_scenario_of_the_users_own_comes_first() {
    let folder = tempfile::tempdir().expect("folder");
    let path = folder.path().join("mine.toml");
    let text = relatch::internals::scenario::starter("latch").expect("starter");
    std::fs::write(&path, text).expect("write");
    let (_program, port) = start(&[path.to_str().expect("path")]);
    let list = presets(port);
    assert_eq!((list.len(), list[0].as_str()), (11, "mine"));
}

#[test]
fn what_is_wrong_is_said_before_anything_is_served() {
    let run = |arguments: &[&str]| {
        let done = Command::new(env!("CARGO_BIN_EXE_relatch"))
            .arg("page")
            .args(arguments)
            .output()
            .expect("run");
        let said = String::from_utf8(done.stderr).expect("text");
        assert!(done.stdout.is_empty());
        (done.status.code(), said)
    };
    let (code, said) = run(&["no-such-file.toml"]);
    assert_eq!(code, Some(2));
    assert!(said.contains("no-such-file.toml"), "{said}");
    let (code, said) = run(&["tests/wrong_inputs/unit_missing.toml"]);
    assert_eq!(code, Some(2));
    assert!(said.contains("-->") && said.contains('^'), "{said}");
    let (code, _) = run(&["--port", "70000"]);
    assert_eq!(code, Some(2));
    let taken = TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = taken.local_addr().expect("address").port().to_string();
    let (code, said) = run(&["--port", &port]);
    assert_eq!(code, Some(2));
    assert!(said.contains(&port) && said.contains("taken"), "{said}");
}
