//! The page in a real browser: sliders moved by keys and by a mouse, the numbers beside those of
//! the command, the clock, both exports, no complaint on the console, nothing from elsewhere, and
//! no sideways scrolling on a phone.
//!
//! `cargo test --test people page:: -- --ignored` runs it; it needs chromium, or the browser that
//! RELATCH_BROWSER names. With RELATCH_PICTURES set, the pictures are kept in that folder.

use super::devtools::Browser;
use super::numbers::run;
use super::program;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

pub const IDLE: &str = "document.getElementById('answers').getAttribute('aria-busy') === 'false'";

/// Condition that a button can be used.
fn usable(id: &str) -> String {
    format!("document.getElementById('{id}').getAttribute('aria-disabled') === 'false'")
}

/// Value of an answer as the page prints it.
fn shown(text: &mut dyn FnMut(&str) -> String, name: &str) -> String {
    text(&format!(
        "[...document.querySelectorAll('#lines div')].find(d => d.children[0].textContent === '{name}')?.children[1].textContent ?? 'no such line'"
    ))
}

/// A printed duration or current, and half a unit of its last digit.
fn read(text: &str) -> (f64, f64) {
    let parts: Vec<&str> = text.split(' ').collect();
    let number = |t: &str| {
        t.parse::<f64>()
            .unwrap_or_else(|_| panic!("{text} is no number"))
    };
    match parts.as_slice() {
        [m, "min", s, "s"] => (60.0 * number(m) + number(s), 0.5),
        [h, "h", m, "min"] => (3600.0 * number(h) + 60.0 * number(m), 60.0),
        [n, unit] => {
            let scale = if *unit == "ms" { 1e-3 } else { 1.0 };
            let decimals = n.split_once('.').map_or(0, |(_, d)| d.len());
            (
                scale * number(n),
                scale * 0.5 * 10f64.powi(-(decimals as i32)),
            )
        }
        _ => panic!("{text} is no number with a unit"),
    }
}

/// The printed answers are the command's, rounded.
pub fn compare(b: &mut dyn FnMut(&str) -> String, record: &Value) {
    for (name, value) in [
        ("Trips after", &record["trip"]["time_s"]),
        ("Holds for ever up to", &record["trip_point"]["current_a"]),
        ("Reset catches after", &record["reset"]["relatch_wait_s"]),
        ("Start goes through after", &record["reset"]["ready_wait_s"]),
    ] {
        let text = shown(b, name);
        match value.as_f64() {
            Some(exact) => {
                let (printed, half) = read(&text);
                assert!(
                    (printed - exact).abs() <= 1.001 * half,
                    "{name}: {text} on the page, {exact} by the command"
                );
            }
            None => assert!(
                !text.contains(|c: char| c.is_ascii_digit()),
                "{name}: {text}"
            ),
        }
    }
}

/// Clicks a button that saves a file, and waits for the file.
fn saved(b: &mut Browser, button: &str, file: &Path) -> String {
    b.click(button);
    let began = Instant::now();
    loop {
        if let Ok(text) = std::fs::read_to_string(file)
            && !text.is_empty()
        {
            return text;
        }
        assert!(
            began.elapsed() < Duration::from_secs(30),
            "no {}",
            file.display()
        );
        std::thread::sleep(Duration::from_millis(50));
    }
}

/// What the console and the network have seen that should not be.
pub fn complaints(b: &Browser, home: &str) -> Vec<String> {
    b.events
        .iter()
        .filter_map(|e| {
            let p = &e["params"];
            let bad = match e["method"].as_str()? {
                "Runtime.exceptionThrown" => true,
                "Runtime.consoleAPICalled" => p["type"] != "log",
                "Log.entryAdded" => p["entry"]["level"] != "verbose",
                "Network.requestWillBeSent" => {
                    let url = p["request"]["url"].as_str()?;
                    !(url.starts_with(home) || url.starts_with("blob:") || url == "about:blank")
                }
                "Network.responseReceived" => p["response"]["status"].as_f64()? >= 400.0,
                _ => false,
            };
            bad.then(|| e.to_string())
        })
        .collect()
}

fn picture(b: &mut Browser, folder: &Path, name: &str) {
    b.picture(&folder.join(format!("{name}.png")));
}

#[test]
#[ignore = "needs a browser; .ci/run runs it"]
fn sliders_move_numbers_agree_and_nothing_complains() {
    let folder = tempfile::tempdir().expect("folder");
    let pictures = std::env::var_os("RELATCH_PICTURES").map_or(folder.path().into(), PathBuf::from);
    let (_program, port) = program::start(&[]);
    let home = format!("http://127.0.0.1:{port}/");
    let mut browser = Browser::start(folder.path());
    let b = &mut browser;
    b.call(
        "Browser.setDownloadBehavior",
        json!({"behavior": "allow", "downloadPath": folder.path()}),
    );
    screen(b, 1280, 900, "light");
    b.call("Page.navigate", json!({"url": home}));
    b.until(&format!(
        "document.querySelectorAll('#lines div').length === 4 && {IDLE}"
    ));

    // As it comes: the first scenario.
    let file = std::fs::read_to_string("scenarios/01-pug-mill.toml").expect("scenario");
    compare(&mut |e| b.text(e), &run(&file));
    b.until(&usable("play"));
    picture(b, &pictures, "page-wide-light");

    // By keys, and by a mouse.
    let before = b.number("Number(document.getElementById('current').value)");
    b.value("document.getElementById('current').focus()");
    b.press("ArrowLeft", 37, 40);
    b.value("document.getElementById('ambient').focus()");
    b.press("ArrowRight", 39, 12);
    let step = b.number("Number(document.getElementById('current').step)");
    let after = b.number("Number(document.getElementById('current').value)");
    assert!(
        (before - after - 40.0 * step).abs() < 1e-6,
        "{before} {after}"
    );
    b.drag("preload", 0.99, 0.4);
    b.drag("thickness", 0.5, 0.62);
    b.value("document.querySelector('input[value=upright]').focus()");
    b.press(" ", 32, 1);
    b.until(IDLE);
    let preload = b.number("Number(document.getElementById('preload').value)");
    assert!((20.0..80.0).contains(&preload), "{preload}");
    let text = saved(
        b,
        "save-scenario",
        &folder.path().join("01-pug-mill-page.toml"),
    );
    for part in [
        "16 A",
        "37 degC",
        "upright",
        &format!("{} %", 100.0 - preload),
    ] {
        assert!(text.contains(&format!("\"{part}\"")), "{part} in {text}");
    }
    compare(&mut |e| b.text(e), &run(&text));
    let spoken = "document.getElementById('spoken').textContent";
    b.until(&format!(
        "{spoken}.includes('Trips after ' + document.querySelector('#lines dd').textContent)"
    ));

    // The address holds the state: loaded again, everything stands as it was.
    let before = b.text("document.getElementById('lines').textContent");
    b.until("location.hash.includes('posture=upright') && location.hash.includes('current=16')");
    b.call("Page.reload", json!({}));
    b.until(&format!(
        "document.querySelectorAll('#lines div').length === 4 && {IDLE}"
    ));
    assert_eq!(
        b.text("document.getElementById('lines').textContent"),
        before
    );
    // A typed value is a moved slider.
    b.value(
        "(() => { const v = document.getElementById('ambient-value'); v.value = '21'; \
         v.dispatchEvent(new Event('change')); })()",
    );
    b.until(IDLE);
    assert_eq!(b.text("document.getElementById('ambient').value"), "21");
    let typed = saved(b, "save-table", &folder.path().join("01-pug-mill-page.csv"));
    let trip = b.text("document.querySelector('#lines dd').textContent");
    assert!(
        typed.contains(&format!("\"Trips after\",\"{trip}\"")),
        "{typed}"
    );

    // The drawing stands by itself.
    let svg = saved(
        b,
        "save-drawing",
        &folder.path().join("01-pug-mill-page.svg"),
    );
    assert!(
        svg.contains("<svg") && svg.contains("Trips after") && !svg.contains("var("),
        "{svg}"
    );
    std::fs::write(pictures.join("page-drawing.svg"), &svg).expect("write");
    let tree = resvg::usvg::Tree::from_str(&svg, &resvg::usvg::Options::default());
    assert!(tree.expect("an SVG").size().width() > 300.0);

    under_the_pointer(b);
    held(b);
    clock(b, &pictures);
    self_resetting(b);
    impossible(b);
    names(b);
    phone(b, &pictures);
    // How soon an answer stands on the page after a move.
    let mut took: Vec<f64> = b
        .value("performance.getEntriesByName('answer').map(e => e.duration)")
        .as_array()
        .expect("times")
        .iter()
        .filter_map(Value::as_f64)
        .collect();
    took.sort_by(f64::total_cmp);
    println!(
        "{} answers; fastest {:.1} ms, middle {:.1} ms, slowest {:.1} ms",
        took.len(),
        took[0],
        took[took.len() / 2],
        took[took.len() - 1]
    );
    assert!(took.len() > 10, "{took:?}");

    let complaints = complaints(b, &home);
    // The one refusal that was asked for.
    let unexpected: Vec<&String> = complaints.iter().filter(|c| !c.contains("422")).collect();
    assert!(unexpected.is_empty(), "{unexpected:#?}");
}

pub fn screen(b: &mut Browser, width: u32, height: u32, scheme: &str) {
    b.call(
        "Emulation.setDeviceMetricsOverride",
        json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 500}),
    );
    b.call(
        "Emulation.setEmulatedMedia",
        json!({"features": [{"name": "prefers-color-scheme", "value": scheme}]}),
    );
}

fn choose(b: &mut Browser, preset: &str) {
    b.value(&format!(
        "(() => {{ const s = document.getElementById('preset'); s.value = '{preset}'; \
         s.dispatchEvent(new Event('change')); }})()"
    ));
    b.until(IDLE);
    b.until(&usable("play"));
}

/// Under the pointer stands what the command says of that current, within what a line on a screen
/// shows.
fn under_the_pointer(b: &mut Browser) {
    choose(b, "08-worked-strip");
    b.hover("curve", 0.6);
    let reading = "document.getElementById('curve-reading').textContent";
    b.until(&format!("({reading}).includes('trips after')"));
    let text = b.text(reading);
    let (current, time) = text
        .trim_start_matches("Under the pointer: ")
        .trim_end_matches(" from cold")
        .split_once(" A, trips after ")
        .unwrap_or_else(|| panic!("{text}"));
    let file = std::fs::read_to_string("scenarios/08-worked-strip.toml").expect("scenario");
    let mut scenario = relatch::internals::scenario::read_text("08", &file).expect("scenario");
    scenario.load =
        relatch::internals::load::Programme::constant(current.parse().expect("a current"));
    let outcome =
        relatch::internals::predict::predict(&scenario, &Default::default(), &mut |_, _| {});
    let exact = outcome.expect("outcome").trip.time_s().expect("it trips");
    let (printed, half) = read(time);
    assert!(
        (printed - exact).abs() < half + 0.02 * exact,
        "{text}: {exact} s by the command"
    );
}

/// Below the trip point it holds, and says so.
fn held(b: &mut Browser) {
    choose(b, "01-pug-mill");
    b.value("document.getElementById('current').focus()");
    b.press("Home", 36, 1);
    b.until(IDLE);
    assert_eq!(shown(&mut |e| b.text(e), "Trips"), "NEVER");
    let curve = b.text("document.getElementById('curve').textContent");
    assert!(curve.contains("held for ever"), "{curve}");
}

/// Start, trip, a reset too early, a reset that catches, a second trip.
fn clock(b: &mut Browser, pictures: &Path) {
    choose(b, "01-pug-mill");
    b.value("document.getElementById('lapse').value = '20'");
    b.click("play");
    b.until(&usable("reset"));
    let events = "[...document.querySelectorAll('#events li')].map(l => l.textContent).join('|')";
    b.click("reset");
    b.until(&format!("({events}).includes('too early')"));
    b.until("document.getElementById('countdown').textContent.includes('from here on')");
    picture(b, pictures, "page-clock");
    // A press when the record has ended goes on with it.
    b.until("document.getElementById('countdown').textContent.includes('record ends here')");
    b.click("reset");
    b.until(&format!("({events}).includes('closed again')"));
    b.until(&format!("({events}).split('it releases').length === 3"));
    let said = b.text("document.getElementById('said').textContent");
    assert!(said.contains(": "), "{said}");
    b.click("again");
    b.until("document.getElementById('time').textContent === '0.0 s'");
}

/// Nobody can reset a part that resets itself.
fn self_resetting(b: &mut Browser) {
    choose(b, "04-fog-machine");
    b.value("document.getElementById('lapse').value = '21600'");
    b.click("play");
    b.until("document.getElementById('events').children.length > 3");
    assert_eq!(b.value(&usable("reset")), json!(false));
    let cautions = b.text("document.getElementById('waits').textContent");
    assert!(cautions.contains("start by itself"), "{cautions}");
}

/// Values without an answer get the reason, and the next move an answer again.
fn impossible(b: &mut Browser) {
    choose(b, "10-impatient-resets");
    for (id, key, code) in [("thickness", "Home", 36), ("ambient", "End", 35)] {
        b.value(&format!("document.getElementById('{id}').focus()"));
        b.press(key, code, 1);
    }
    b.until("!document.getElementById('problem').hidden");
    b.until(IDLE);
    let problem = b.text("document.getElementById('problem').textContent");
    assert!(problem.contains("already tripped"), "{problem}");
    b.click("back");
    b.until(&format!(
        "document.getElementById('problem').hidden && {IDLE}"
    ));
}

/// Every control has a name, every slider a value in words.
fn names(b: &mut Browser) {
    choose(b, "03-deck-oven");
    let tree = b.call("Accessibility.getFullAXTree", json!({}));
    let mut sliders = Vec::new();
    for node in tree["nodes"].as_array().expect("nodes") {
        let role = node["role"]["value"].as_str().unwrap_or_default();
        let name = node["name"]["value"].as_str().unwrap_or_default();
        if matches!(
            role,
            "slider" | "button" | "combobox" | "radio" | "image" | "alert"
        ) && role != "alert"
        {
            assert!(!name.is_empty(), "{node}");
        }
        if role == "slider" {
            let property = |wanted: &str| {
                node["properties"]
                    .as_array()
                    .and_then(|list| list.iter().find(|p| p["name"] == wanted))
                    .map(|p| p["value"]["value"].to_string())
            };
            sliders.push((name.to_owned(), property("valuetext")));
        }
    }
    let found: Vec<&str> = sliders.iter().map(|(n, _)| n.as_str()).collect();
    assert_eq!(
        found,
        [
            "Current",
            "Air at the part",
            "Spring preload left",
            "Thickness of the layers"
        ]
    );
    assert!(
        sliders
            .iter()
            .all(|(_, v)| v.as_ref().is_some_and(|v| v.len() > 3)),
        "{sliders:?}"
    );
}

fn phone(b: &mut Browser, pictures: &Path) {
    for (scheme, preset) in [("light", "01-pug-mill"), ("dark", "05-classroom-strip")] {
        screen(b, 360, 740, scheme);
        choose(b, preset);
        b.value("document.getElementById('current').focus()");
        b.press("ArrowRight", 39, 6);
        b.until(IDLE);
        b.until(&usable("play"));
        let wide = b.number("document.documentElement.scrollWidth");
        assert!(wide <= 360.0, "{wide} px wide");
        // A drawing clips its paper; its words must lie on it.
        let out = b.value("[...document.querySelectorAll('body *')].filter(e => !e.closest('svg') || ['svg', 'text'].includes(e.tagName)).filter(e => e.getBoundingClientRect().right > 361).map(e => e.outerHTML.slice(0, 80))");
        assert_eq!(out, json!([]));
        picture(b, pictures, &format!("page-phone-{scheme}"));
    }
    screen(b, 1280, 900, "dark");
    choose(b, "04-fog-machine");
    picture(b, pictures, "page-wide-dark");
}
