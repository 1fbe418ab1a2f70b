//! The engine as WebAssembly: its answers are those of the library.
//!
//! `RELATCH_ENGINE` names it, and `node` runs it; `.ci/run` builds it and asks for these tests.

use relatch::Offline;
use serde_json::Value;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// The engine that is tried.
pub fn engine() -> PathBuf {
    std::env::var_os("RELATCH_ENGINE")
        .expect("RELATCH_ENGINE names the engine")
        .into()
}

/// Answers of the engine and how long each took, ms.
fn answers(requests: &[String]) -> Vec<(String, f64)> {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut child = Command::new("node")
        .arg(here.join("tests/people/page/engine.mjs"))
        .arg(here.join("src/page/assets/engine.js"))
        .arg(engine())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("node");
    let mut input = child.stdin.take().expect("input");
    let asked = serde_json::to_vec(requests).expect("JSON");
    let writer = std::thread::spawn(move || input.write_all(&asked));
    let done = child.wait_with_output().expect("run");
    writer.join().expect("a thread").expect("written");
    assert!(done.status.success());
    let said: Value = serde_json::from_slice(&done.stdout).expect("JSON");
    let list = said["answers"].as_array().expect("answers").iter();
    list.map(|a| {
        let text = a["answer"].as_str().expect("text").to_owned();
        (text, a["took_ms"].as_f64().expect("a time"))
    })
    .collect()
}

/// Twenty positions of the sliders for each preset, the first with none moved.
fn requests() -> Vec<String> {
    let mut page = Offline::default();
    let facts = page.answer("/open\n[]");
    let facts: Value =
        serde_json::from_str(facts.strip_prefix("200\n").expect("well")).expect("JSON");
    let mut state = 20_u64;
    let mut next = || {
        // Knuth's MMIX constants, from memory.
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 40) as f64 / (1u64 << 24) as f64
    };
    let mut all = vec!["/open\n[]".to_owned()];
    for preset in facts.as_array().expect("presets") {
        for k in 0..20 {
            let mut sliders = serde_json::Map::new();
            for (name, sent) in [
                ("current", "current_a"),
                ("ambient", "ambient_c"),
                ("preload", "preload_left_percent"),
                ("thickness", "thickness_percent"),
            ] {
                let limit = |key: &str| preset[name][key].as_f64().expect("a number");
                let value = limit("least") + (limit("most") - limit("least")) * next();
                if k > 0 && next() < 0.6 && preset[name]["idle"].is_null() {
                    sliders.insert(sent.into(), ((value * 10.0).round() / 10.0).into());
                }
            }
            let question = serde_json::json!({"preset": preset["id"], "sliders": sliders});
            all.push(format!("/answer\n{question}"));
        }
    }
    all
}

/// Every number below, by its path.
fn numbers(at: &str, value: &Value, into: &mut Vec<(String, Option<f64>)>) {
    match value {
        Value::Object(map) => map
            .iter()
            .for_each(|(k, v)| numbers(&format!("{at}.{k}"), v, into)),
        Value::Array(list) => list.iter().for_each(|v| numbers(at, v, into)),
        Value::Number(n) => into.push((at.to_owned(), n.as_f64())),
        // A word instead of a number: another answer altogether.
        Value::String(word) => into.push((format!("{at}={word}"), None)),
        Value::Bool(is) => into.push((format!("{at}={is}"), None)),
        Value::Null => into.push((format!("{at}=null"), None)),
    }
}

#[test]
#[ignore = "needs the engine for WebAssembly and node; .ci/run runs it"]
fn two_hundred_scenarios_have_the_numbers_of_the_library() {
    let requests = requests();
    let mut page = Offline::default();
    let (mut tried, mut same, mut worst) = (0, 0, 0.0_f64);
    let mut took = Vec::new();
    for (request, (answer, took_ms)) in requests.iter().zip(answers(&requests)) {
        let own = page.answer(request);
        let (status, text) = answer.split_once('\n').expect("a line");
        let (own_status, own_text) = own.split_once('\n').expect("a line");
        assert_eq!(status, own_status, "{request}: {text} {own_text}");
        if status != "200" || request.starts_with("/open") {
            assert_eq!(text, own_text, "{request}");
            continue;
        }
        took.push(took_ms);
        let read = |text: &str| serde_json::from_str::<Value>(text).expect("JSON");
        let (theirs, ours) = (read(text), read(own_text));
        let errors = &ours["outcome"]["error_estimate"];
        for (key, error) in [
            ("trip", "trip_time_relative"),
            ("trip_point", "trip_point_relative"),
            ("reset", "relatch_wait_relative"),
        ] {
            // Beside the answers stand slopes and temperatures, whose last digits lie as far apart.
            let stated = errors[error].as_f64().unwrap_or(1e-5).max(1e-9);
            let (mut a, mut b) = (Vec::new(), Vec::new());
            numbers(key, &theirs["outcome"][key], &mut a);
            numbers(key, &ours["outcome"][key], &mut b);
            assert_eq!(a.len(), b.len(), "{request}");
            for ((name, a), (own_name, b)) in a.into_iter().zip(b) {
                tried += 1;
                same += usize::from(a == b);
                let (Some(a), Some(b)) = (a, b) else {
                    // Sentences hold numbers too; which answer it is stands in no sentence.
                    if !name.contains(' ') {
                        assert_eq!(name, own_name, "{request}");
                    }
                    continue;
                };
                if name.ends_with("_s") || name.ends_with("current_a") {
                    let apart = (a - b).abs() / b.abs().max(1e-12);
                    worst = worst.max(apart / stated);
                    assert!(
                        apart <= stated,
                        "{name} of {request}: {a} and {b}, {stated} stated"
                    );
                }
            }
        }
    }
    took.sort_by(f64::total_cmp);
    let (middle, slowest) = (took[took.len() / 2], took[took.len() - 1]);
    println!(
        "{} answers, {same} of {tried} values the same, others {worst:.2e} of the stated error",
        took.len()
    );
    println!("an answer takes {middle:.1} ms in the middle, {slowest:.1} ms at most");
    assert!(took.len() > 150 && tried > 2000, "{} {tried}", took.len());
}
