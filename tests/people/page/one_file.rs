//! The page as one file in two browsers of different make, from the disk: its numbers beside those
//! of the library, a wait that is counted down, the questions of a diagnosis, a damaged link, a
//! phone.
//!
//! `RELATCH_ENGINE` names the engine; see `browser.rs` for the pictures. A browser that is not
//! there is not tried; `.ci/run` says so.

use super::browser::{IDLE, compare, complaints};
use super::devtools::{Browser, decoded};
use super::hand::engine;
use super::marionette::Gecko;
use super::numbers::run;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

/// A browser with a page in it.
pub trait Page {
    fn value(&mut self, expression: &str) -> Value;
    fn go(&mut self, address: &str);
    fn screen(&mut self, width: u32, height: u32);
    fn picture(&mut self, file: &Path);

    fn text(&mut self, expression: &str) -> String {
        let value = self.value(expression);
        let text = value.as_str().map(str::to_owned);
        text.unwrap_or_else(|| panic!("{expression} is {value}"))
    }

    fn until(&mut self, condition: &str) {
        let began = Instant::now();
        while self.value(condition) != json!(true) {
            if began.elapsed() > Duration::from_secs(90) {
                let page = self.text("document.body.innerText");
                panic!("never: {condition}; the page reads\n{page}");
            }
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    fn fill(&mut self, id: &str, text: &str) {
        self.value(&format!(
            "void (document.getElementById('{id}').value = '{text}')"
        ));
    }

    fn press(&mut self, id: &str) {
        self.value(&format!("void document.getElementById('{id}').click()"));
    }
}

impl Page for Browser {
    fn value(&mut self, expression: &str) -> Value {
        Browser::value(self, expression)
    }
    fn go(&mut self, address: &str) {
        // A new document even where the address differs in its last part only.
        self.call("Page.navigate", json!({"url": "about:blank"}));
        self.call("Page.navigate", json!({"url": address}));
    }
    fn screen(&mut self, width: u32, height: u32) {
        super::browser::screen(self, width, height, "light");
    }
    fn picture(&mut self, file: &Path) {
        Browser::picture(self, file);
    }
}

impl Page for Gecko {
    fn value(&mut self, expression: &str) -> Value {
        let script = format!("return {expression};").replace("return void ", "void ");
        self.call(
            "WebDriver:ExecuteScript",
            json!({"script": script, "args": []}),
        )
    }
    fn go(&mut self, address: &str) {
        self.call("WebDriver:Navigate", json!({"url": "about:blank"}));
        self.call("WebDriver:Navigate", json!({"url": address}));
    }
    fn screen(&mut self, width: u32, height: u32) {
        self.call(
            "WebDriver:SetWindowRect",
            json!({"width": width, "height": height}),
        );
    }
    fn picture(&mut self, file: &Path) {
        let shot = self.call("WebDriver:TakeScreenshot", json!({"full": true}));
        std::fs::write(file, decoded(shot.as_str().expect("data"))).expect("write");
    }
}

/// The page with the worked strip in front, and a title that would like to be more than a title.
fn written(folder: &Path) -> PathBuf {
    let text = std::fs::read_to_string("scenarios/08-worked-strip.toml").expect("scenario");
    let title = "title = \"A strip </script><img src=x onerror=alert(1)>\"";
    let lines = text
        .lines()
        .map(|l| if l.starts_with("title =") { title } else { l });
    let own = folder.join("mine.toml");
    std::fs::write(&own, lines.collect::<Vec<_>>().join("\n")).expect("write");
    let file = folder.join("relatch.html");
    let done = Command::new(env!("CARGO_BIN_EXE_relatch"))
        .arg("page")
        .arg(&own)
        .arg("--file")
        .arg(&file)
        .arg("--engine")
        .arg(engine())
        .output()
        .expect("run");
    assert!(
        done.status.success(),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
    let size = std::fs::metadata(&file).expect("a file").len();
    assert!(size <= 4_000_000, "{size} bytes");
    file
}

fn tried(b: &mut dyn Page, file: &Path, pictures: &Path, name: &str) {
    let home = format!("file://{}", file.display());
    b.screen(1280, 900);
    b.go(&home);
    let ready = format!("document.querySelectorAll('#lines div').length === 4 && {IDLE}");
    b.until(&ready);
    let first = "performance.getEntriesByName('answer').map(e => e.startTime + e.duration)[0]";
    println!(
        "{name}: first answer {:.0} ms after opening",
        b.value(first).as_f64().expect("ms")
    );
    let text = std::fs::read_to_string(file.with_file_name("mine.toml")).expect("scenario");
    compare(&mut |e| b.text(e), &run(&text));
    assert_eq!(b.value("document.images.length"), json!(0));

    // A slider, and how soon its answers stand there.
    for tenth in 130..170 {
        b.fill("current", &format!("{}", f64::from(tenth) / 10.0));
        b.value("void document.getElementById('current').dispatchEvent(new Event('input'))");
        b.until(IDLE);
    }
    let set = text.replace("current = \"20 A\"", "current = \"16.9 A\"");
    assert_ne!(set, text);
    compare(&mut |e| b.text(e), &run(&set));
    let took = b.value("performance.getEntriesByName('answer').slice(10).map(e => e.duration)");
    let mut took: Vec<f64> = serde_json::from_value(took).expect("times");
    took.sort_by(f64::total_cmp);
    println!(
        "{name}: a slider takes {:.0} ms, at most {:.0} ms",
        took[took.len() / 2],
        took[took.len() - 1]
    );

    // Two settings side by side.
    b.press("keep");
    b.fill("ambient", "40");
    b.value("void document.getElementById('ambient').dispatchEvent(new Event('input'))");
    b.until(IDLE);
    let beside = b.text("document.getElementById('beside').innerText");
    assert!(
        beside.contains("16.90 A") && beside.contains("40 °C"),
        "{beside}"
    );
    b.picture(&pictures.join(format!("file-{name}-sliders.png")));

    waits(b, pictures, name);
    questions(b, pictures, name);

    // A damaged link falls back to the scenario, and says it.
    b.go(&format!("{home}#part=nonsense&current=1e999&ambient=30"));
    b.until(&ready);
    let note = b.text("document.getElementById('link-note').textContent");
    assert!(note.contains("part, current"), "{note}");
    assert_eq!(
        b.text("document.getElementById('ambient-value').value"),
        "30"
    );
    b.screen(390, 844);
    for view in ["sliders", "wait", "diagnosis"] {
        b.press(&format!("to-{view}"));
        b.until("document.documentElement.scrollWidth <= innerWidth");
        b.picture(&pictures.join(format!("file-{name}-phone-{view}.png")));
    }
}

fn waits(b: &mut dyn Page, pictures: &Path, name: &str) {
    b.press("to-wait");
    let submit = "void document.querySelector('#wait-form [type=submit]').click()";
    b.fill("wait-rating", "10");
    b.fill("wait-load", "24 V");
    b.value(submit);
    b.until("!document.getElementById('problem').hidden");
    let problem = b.text("document.getElementById('problem').textContent");
    assert!(problem.contains("load"), "{problem}");
    b.fill("wait-load", "24");
    b.fill("wait-air", "35 C");
    b.value(submit);
    b.until("!document.getElementById('wait-answer').hidden");
    let shown = b.text("document.getElementById('wait-shown').textContent");
    let mut question =
        relatch::machine::WaitQuestion::new(relatch::machine::Nameplate::of_rating(10.0), 24.0);
    question.ambient_k = 308.15;
    let own = relatch::wait(&question).expect("an answer");
    let wait = relatch::internals::present::wait_full_blocks(&own);
    let spoken = relatch::internals::present::block::terminal(
        &wait,
        relatch::internals::present::block::Screen::PLAIN,
    );
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let headline = spoken
        .lines()
        .find(|l| l.contains("90 %") || l.contains("nine"))
        .unwrap_or("");
    assert!(
        plain(&shown).contains(&plain(headline)),
        "{headline}\n{shown}"
    );
    // As if it had opened a while ago: the count goes down from there.
    let left = "document.getElementById('count-left').textContent";
    let whole = b.text(left);
    b.fill("count-ago", "7");
    b.press("count-go");
    b.until(&format!("{left} !== '{whole}'"));
    b.picture(&pictures.join(format!("file-{name}-count.png")));
    // Long ago: it says what holds now, and to find the cause first.
    b.press("count-go");
    b.fill("count-ago", "100000");
    b.press("count-go");
    b.until("document.getElementById('count-until').textContent.includes('Find and mend the cause first')");
}

fn questions(b: &mut dyn Page, pictures: &Path, name: &str) {
    b.press("to-diagnosis");
    let idle = "document.getElementById('asking').getAttribute('aria-busy') === 'false'";
    let asks = "document.getElementById('asks').textContent";
    b.until(&format!("({asks}).includes('rated current') && {idle}"));
    let mut answer = |said: &str| {
        b.fill("reply", said);
        b.value("void document.querySelector('#asking [type=submit]').click()");
        b.until(idle);
    };
    answer("13 V");
    answer("16");
    answer("no");
    answer("8 min from cold");
    answer("14,2 A");
    answer("true RMS");
    b.until("!document.getElementById('verdict').hidden");
    let so_far = b.text("document.getElementById('so-far').textContent");
    assert!(so_far.starts_with("So far: "), "{so_far}");
    let noted = b.text("document.getElementById('noted').textContent");
    for part in [
        "rated current: 16 A",
        "after: 8 min; before it: cold",
        "meter: true RMS",
    ] {
        assert!(noted.contains(part), "{noted}");
    }
    let asked = b.text(asks);
    b.press("unknown");
    b.until(&format!(
        "({asks}) !== '{}' && {idle}",
        asked.replace('\'', "\\'")
    ));
    b.picture(&pictures.join(format!("file-{name}-diagnosis.png")));
    b.press("undo");
    b.until(&format!(
        "({asks}) === '{}' && {idle}",
        asked.replace('\'', "\\'")
    ));
}

#[test]
#[ignore = "needs the engine for WebAssembly and a browser; .ci/run runs it"]
fn the_file_in_one_browser() {
    let folder = tempfile::tempdir().expect("folder");
    let pictures = std::env::var_os("RELATCH_PICTURES").map_or(folder.path().into(), PathBuf::from);
    let file = written(folder.path());
    let mut browser = Browser::start(folder.path());
    tried(&mut browser, &file, &pictures, "chromium");
    let complaints = complaints(&browser, "file://");
    let bad: Vec<&String> = complaints
        .iter()
        .filter(|c| !c.contains("\"data:"))
        .collect();
    assert!(bad.is_empty(), "{bad:#?}");
}

#[test]
#[ignore = "needs the engine for WebAssembly and a browser; .ci/run runs it"]
fn the_file_in_another_browser() {
    let folder = tempfile::tempdir().expect("folder");
    let pictures = std::env::var_os("RELATCH_PICTURES").map_or(folder.path().into(), PathBuf::from);
    let file = written(folder.path());
    tried(&mut Gecko::start(folder.path()), &file, &pictures, "gecko");
}
