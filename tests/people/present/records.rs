//! Every record is told by one name, in words and as JSON.

use relatch::machine::{Effort, Nameplate, WaitQuestion};
use relatch::{AgeOptions, Case, Datasheet, FailuresOptions, Tellable, json, text};
use serde_json::Value;

const CLOSING: &str = "Find the cause";

/// That `words` are on the page, which is plain; that its JSON reads.
fn assert_told(record: &impl Tellable, words: &[&str]) -> Value {
    let text = text(record);
    for w in words {
        assert!(text.contains(w), "{w}\n{text}");
    }
    let is_plain = text.lines().all(|l| l.chars().count() <= 100) && !text.contains('\u{1b}');
    assert!(is_plain, "{text}");
    serde_json::from_str(&json(record).unwrap()).unwrap()
}

fn scenario(stem: &str) -> String {
    std::fs::read_to_string(format!("scenarios/{stem}.toml")).unwrap()
}

#[test]
fn every_record_is_told_by_one_name() {
    let [worked, pump, lot, set] = [
        "08-worked-strip",
        "06-irrigation-pump-new",
        "13-kiln-lot",
        "14-kiln-lot-set",
    ]
    .map(scenario);
    let read = |text: &str| relatch::parse("record", text).unwrap();

    let outcome = relatch::predict(&read(&worked)).unwrap();
    let value = assert_told(&outcome, &[CLOSING, "Why"]);
    let again: relatch::Outcome = serde_json::from_value(value).unwrap();
    assert_eq!(again.trip, outcome.trip);

    let question = WaitQuestion::new(Nameplate::of_rating(10.0), 24.0);
    let value = assert_told(
        &relatch::wait(&question).unwrap(),
        &[CLOSING, "nine of ten"],
    );
    assert!(value["reset"].is_object());

    let mut options = AgeOptions::default();
    options.units = 0;
    let aged = relatch::age(&read(&pump), &options).unwrap();
    let value = assert_told(&aged, &[CLOSING, "LATE", "23.6 years"]);
    assert!(value["drift"].is_array());

    let mut options = FailuresOptions::default();
    (options.years, options.units) = (5.0, 512);
    let failures = relatch::failures(&read(&set), &options).unwrap();
    let value = assert_told(&failures, &["512"]);
    assert_eq!(value["units"], 512);

    let units = relatch::population(&read(&lot), 256, 0, 1).unwrap();
    assert_eq!(assert_told(&units, &["256"])["units"], 256);

    let over = ["load.current=12 A to 48 A in 3 by ratio"];
    let swept = relatch::sweep(&worked, &over, false).unwrap();
    let value = assert_told(&swept, &[CLOSING, "3 points"]);
    assert_eq!(value["points"].as_array().unwrap().len(), 3);

    let two = [("worked", worked.as_str()), ("pump", pump.as_str())];
    assert_told(
        &relatch::compare(&two).unwrap(),
        &[CLOSING, "worked", "pump"],
    );

    let sheet = relatch::starter("datasheet").unwrap();
    let mut effort = Effort::default();
    (effort.designs, effort.parts) = (40, 12);
    let sheet = Datasheet::parse("starter", sheet).unwrap();
    assert_told(
        &relatch::fit(&sheet, effort, 1).unwrap(),
        &[CLOSING, "Published"],
    );

    let case = Case::parse("starter", relatch::starter("case").unwrap()).unwrap();
    let diagnosis = relatch::diagnose(&case, 1).unwrap();
    let value = assert_told(
        &(&diagnosis, &case),
        &[CLOSING, "May it be switched on again?"],
    );
    assert!(value["verdict"].is_string());
}
