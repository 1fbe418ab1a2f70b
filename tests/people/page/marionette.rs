//! A browser of another make without a window, driven over its own remote protocol (Marionette of
//! Gecko: `length:JSON` over a socket, commands named as in W3C WebDriver).

use serde_json::{Value, json};
use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

pub struct Gecko {
    child: Child,
    socket: TcpStream,
    count: u64,
}

impl Gecko {
    /// Starts the browser named by RELATCH_GECKO, or firefox-esr, with its profile in `folder`.
    pub fn start(folder: &Path) -> Gecko {
        let browser = std::env::var("RELATCH_GECKO").unwrap_or_else(|_| "firefox-esr".into());
        let free = TcpListener::bind(("127.0.0.1", 0)).expect("a port");
        let port = free.local_addr().expect("address").port();
        drop(free);
        let profile = folder.join("gecko");
        std::fs::create_dir(&profile).expect("folder");
        let wish = format!("user_pref(\"marionette.port\", {port});\n");
        std::fs::write(profile.join("user.js"), wish).expect("write");
        let child = Command::new(browser)
            .args(["--headless", "--marionette", "--no-remote", "--profile"])
            .arg(&profile)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("a browser");
        let began = Instant::now();
        let socket = loop {
            match TcpStream::connect(("127.0.0.1", port)) {
                Ok(socket) => break socket,
                Err(e) => assert!(began.elapsed() < Duration::from_secs(60), "{e}"),
            }
            std::thread::sleep(Duration::from_millis(100));
        };
        socket
            .set_read_timeout(Some(Duration::from_secs(120)))
            .expect("timeout");
        let mut gecko = Gecko {
            child,
            socket,
            count: 0,
        };
        gecko.read();
        gecko.call("WebDriver:NewSession", json!({}));
        gecko
    }

    pub fn call(&mut self, command: &str, parameters: Value) -> Value {
        self.count += 1;
        let message = json!([0, self.count, command, parameters]).to_string();
        let bytes = format!("{}:{message}", message.len());
        self.socket.write_all(bytes.as_bytes()).expect("write");
        let mut answer = self.read();
        assert!(answer[2].is_null(), "{command}: {answer}");
        answer[3]["value"].take()
    }

    fn read(&mut self) -> Value {
        let mut length = 0;
        loop {
            let mut byte = [0];
            self.socket.read_exact(&mut byte).expect("an answer");
            match byte[0] {
                b':' => break,
                digit => length = 10 * length + usize::from(digit - b'0'),
            }
        }
        let mut bytes = vec![0; length];
        self.socket.read_exact(&mut bytes).expect("an answer");
        serde_json::from_slice(&bytes).expect("JSON")
    }
}

impl Drop for Gecko {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
