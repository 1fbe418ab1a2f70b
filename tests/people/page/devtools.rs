//! A browser without a window, driven over its own debugging pipe (Chrome DevTools Protocol,
//! "remote debugging pipe": messages as JSON, each ended by a zero byte, read on descriptor 3 and
//! written on descriptor 4).

use serde_json::{Value, json};
use std::fs::File;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// Longest life of a browser: a hanging one is ended, and the test with it.
const LIFE: Duration = Duration::from_secs(240);

pub struct Browser {
    child: Child,
    input: File,
    output: BufReader<File>,
    count: u64,
    session: Option<String>,
    /// Events, oldest first.
    pub events: Vec<Value>,
}

impl Browser {
    /// Starts the browser named by RELATCH_BROWSER, or chromium, with its profile in `folder`.
    pub fn start(folder: &Path) -> Browser {
        let browser = std::env::var("RELATCH_BROWSER").unwrap_or_else(|_| "chromium".into());
        let (to, from) = (folder.join("to"), folder.join("from"));
        let made = Command::new("mkfifo").arg(&to).arg(&from).status();
        assert!(made.expect("mkfifo").success());
        let profile = folder.join("profile");
        let child = Command::new("sh")
            .args(["-c", "exec \"$@\" 3<\"$TO\" 4>\"$FROM\"", "sh", &browser])
            .args([
                "--headless=new",
                "--remote-debugging-pipe",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-dev-shm-usage",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
                "--no-first-run",
                "--hide-scrollbars",
            ])
            .arg(format!("--user-data-dir={}", profile.display()))
            .arg("about:blank")
            .env("TO", &to)
            .env("FROM", &from)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("a browser");
        let id = child.id().to_string();
        std::thread::spawn(move || {
            std::thread::sleep(LIFE);
            let _ = Command::new("kill").args(["-s", "KILL", &id]).status();
        });
        let input = File::options().write(true).open(&to).expect("pipe");
        let output = BufReader::new(File::open(&from).expect("pipe"));
        let mut browser = Browser {
            child,
            input,
            output,
            count: 0,
            session: None,
            events: Vec::new(),
        };
        let page = browser.call("Target.createTarget", json!({"url": "about:blank"}));
        let attached = browser.call(
            "Target.attachToTarget",
            json!({"targetId": page["targetId"], "flatten": true}),
        );
        browser.session = attached["sessionId"].as_str().map(str::to_owned);
        for domain in ["Runtime", "Log", "Page", "Network", "Accessibility"] {
            browser.call(&format!("{domain}.enable"), json!({}));
        }
        browser
    }

    /// Calls a method and waits for its result.
    pub fn call(&mut self, method: &str, params: Value) -> Value {
        self.count += 1;
        let mut message = json!({"id": self.count, "method": method, "params": params});
        if let Some(session) = &self.session
            && !method.starts_with("Browser.")
        {
            message["sessionId"] = json!(session);
        }
        let mut bytes = message.to_string().into_bytes();
        bytes.push(0);
        self.input.write_all(&bytes).expect("the browser listens");
        loop {
            let mut bytes = Vec::new();
            self.output.read_until(0, &mut bytes).expect("pipe");
            assert!(!bytes.is_empty(), "the browser has ended, at {method}");
            bytes.pop();
            let mut message: Value = serde_json::from_slice(&bytes).expect("JSON");
            if message["id"] == json!(self.count) {
                assert!(message["error"].is_null(), "{method}: {message}");
                return message["result"].take();
            }
            if message["method"].is_string() {
                self.events.push(message);
            }
        }
    }

    /// The value of an expression in the page.
    pub fn value(&mut self, expression: &str) -> Value {
        let mut result = self.call(
            "Runtime.evaluate",
            json!({"expression": expression, "returnByValue": true, "awaitPromise": true}),
        );
        assert!(
            result["exceptionDetails"].is_null(),
            "{expression}: {result}"
        );
        result["result"]["value"].take()
    }

    pub fn text(&mut self, expression: &str) -> String {
        let value = self.value(expression);
        value
            .as_str()
            .unwrap_or_else(|| panic!("{expression} is {value}"))
            .to_owned()
    }

    pub fn number(&mut self, expression: &str) -> f64 {
        let value = self.value(expression);
        value
            .as_f64()
            .unwrap_or_else(|| panic!("{expression} is {value}"))
    }

    /// Waits until a condition of the page holds.
    pub fn until(&mut self, condition: &str) {
        let began = Instant::now();
        while self.value(condition) != json!(true) {
            if began.elapsed() > Duration::from_secs(60) {
                let page = self.text("document.body.innerText");
                panic!("never: {condition}; the page reads\n{page}");
            }
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// Presses a key some times on what has the focus.
    pub fn press(&mut self, key: &str, code: u32, times: usize) {
        for _ in 0..times {
            for kind in ["keyDown", "keyUp"] {
                let text = if key == " " && kind == "keyDown" {
                    " "
                } else {
                    ""
                };
                self.call(
                    "Input.dispatchKeyEvent",
                    json!({"type": kind, "key": key, "code": if key == " " { "Space" } else { key },
                        "windowsVirtualKeyCode": code, "text": text}),
                );
            }
        }
    }

    /// Clicks in the middle of an element, with a mouse.
    pub fn click(&mut self, id: &str) {
        let (x, y) = self.spot(id, 0.5);
        for kind in ["mousePressed", "mouseReleased"] {
            self.mouse(kind, x, y);
        }
    }

    /// Drags the mouse along an element, between parts of its width.
    pub fn drag(&mut self, id: &str, from: f64, to: f64) {
        let (x, y) = self.spot(id, from);
        self.mouse("mousePressed", x, y);
        for k in 1..=20 {
            let (x, y) = self.spot(id, from + (to - from) * f64::from(k) / 20.0);
            self.mouse("mouseMoved", x, y);
        }
        let (x, y) = self.spot(id, to);
        self.mouse("mouseReleased", x, y);
    }

    /// Moves the mouse over a part of the width of an element, half-way up.
    pub fn hover(&mut self, id: &str, part: f64) {
        let (x, y) = self.spot(id, part);
        self.mouse("mouseMoved", x, y);
    }

    fn mouse(&mut self, kind: &str, x: f64, y: f64) {
        self.call(
            "Input.dispatchMouseEvent",
            json!({"type": kind, "x": x, "y": y, "button": "left", "buttons": 1, "clickCount": 1}),
        );
    }

    fn spot(&mut self, id: &str, part: f64) -> (f64, f64) {
        self.value(&format!(
            "document.getElementById('{id}').scrollIntoView({{block: 'center'}})"
        ));
        let at =
            |name: &str| format!("document.getElementById('{id}').getBoundingClientRect().{name}");
        let (left, width) = (self.number(&at("left")), self.number(&at("width")));
        let (top, height) = (self.number(&at("top")), self.number(&at("height")));
        (left + part * width, top + 0.5 * height)
    }

    /// The whole page as PNG.
    pub fn picture(&mut self, file: &Path) {
        let size = self.call("Page.getLayoutMetrics", json!({}));
        let clip = json!({"x": 0, "y": 0, "scale": 1,
            "width": size["cssContentSize"]["width"], "height": size["cssContentSize"]["height"]});
        let shot = self.call(
            "Page.captureScreenshot",
            json!({"format": "png", "clip": clip, "captureBeyondViewport": true}),
        );
        let bytes = decoded(shot["data"].as_str().expect("data"));
        std::fs::write(file, bytes).expect("write");
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Base64 (RFC 4648, section 4).
pub fn decoded(text: &str) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(text.len() * 3 / 4);
    let (mut bits, mut count) = (0u32, 0);
    for c in text.bytes() {
        let six = match c {
            b'A'..=b'Z' => c - b'A',
            b'a'..=b'z' => c - b'a' + 26,
            b'0'..=b'9' => c - b'0' + 52,
            b'+' => 62,
            b'/' => 63,
            _ => continue,
        };
        bits = bits << 6 | u32::from(six);
        count += 6;
        if count >= 8 {
            count -= 8;
            bytes.push((bits >> count) as u8);
        }
    }
    bytes
}
