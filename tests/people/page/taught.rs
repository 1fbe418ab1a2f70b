//! The lesson of the page is that of the command.

use relatch::Offline;
use serde_json::{Value, json};

fn asked(question: &Value) -> (String, Value) {
    let mut page = Offline::default();
    page.answer("/open\n[]");
    let answer = page.answer(&format!("/lesson\n{question}"));
    let (status, text) = answer.split_once('\n').expect("a line");
    (status.to_owned(), serde_json::from_str(text).expect("JSON"))
}

fn question(preset: &str, level: &str, seed: u32) -> Value {
    json!({"preset": preset, "lesson": {"level": level, "minutes": 45, "seed": seed}})
}

#[test]
fn every_level_has_a_sheet_with_a_key_and_another_number_another_sheet() {
    for level in ["curvature", "heating", "preload"] {
        let (status, one) = asked(&question("01-pug-mill", level, 1));
        assert_eq!(status, "200", "{level}: {one}");
        let text = |name: &str| one[name].as_str().expect("text").to_owned();
        assert!(text("sheet").contains("class=\"room\""), "{level}");
        assert!(text("sheet").contains("<svg") && text("sheet").contains("callout caution"));
        assert!(text("key").contains("Full model:"), "{level}");
        assert!(text("file").starts_with("<!DOCTYPE html>"), "{level}");
        let (_, other) = asked(&question("01-pug-mill", level, 2));
        assert_ne!(one["sheet"], other["sheet"], "{level}");
    }
    let (status, bench) = asked(&question("05-classroom-strip", "bench", 1));
    assert_eq!(status, "200");
    assert!(bench["sheet"].as_str().expect("text").contains("24 V"));
}

#[test]
fn a_lesson_that_cannot_be_is_refused_with_the_reason() {
    for (question, words) in [
        (question("08-worked-strip", "preload", 1), "no spring"),
        (question("08-worked-strip", "algebra", 1), "not understood"),
        (json!({"preset": "08-worked-strip"}), "which lesson"),
    ] {
        let (status, answer) = asked(&question);
        assert_eq!(status, "400");
        assert!(
            answer["error"].as_str().expect("why").contains(words),
            "{answer}"
        );
    }
}

#[test]
fn the_mechanism_is_shown_and_the_page_has_the_button_that_stops_it() {
    let mut page = Offline::default();
    page.answer("/open\n[]");
    let mut ask = |question: Value| {
        let answer = page.answer(&format!("/mechanism\n{question}"));
        let (status, text) = answer.split_once('\n').expect("a line");
        let said: Value = serde_json::from_str(text).expect("JSON");
        (status.to_owned(), said)
    };
    let (status, shown) = ask(json!({"preset": "01-pug-mill"}));
    assert_eq!(status, "200");
    let picture = shown["picture"].as_str().expect("SVG");
    assert!(picture.contains("<animate ") && !picture.contains("onclick"));
    // The page allows no style in a picture.
    assert!(!picture.contains("<style"));
    assert!(shown["still_s"].as_f64().expect("a time") > 1.0);
    let (status, refused) = ask(json!({"preset": "01-pug-mill", "sliders": {"current_a": 1.0}}));
    assert_eq!(status, "400");
    assert!(
        refused["error"]
            .as_str()
            .expect("why")
            .contains("does not trip")
    );
}
