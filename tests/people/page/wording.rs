//! The page speaks in words of the page: no flag, no command, no key or value of a file.

use relatch::Offline;
use serde_json::{Value, json};

/// What a person reads of HTML: no tags, no style.
fn read(html: &str) -> String {
    let mut rest = html;
    let mut text = String::new();
    while let Some((before, after)) = rest.split_once('<') {
        text += before;
        text.push(' ');
        let end = if after.starts_with("style") {
            "</style>"
        } else {
            ">"
        };
        rest = after.split_once(end).map_or("", |(_, after)| after);
    }
    text + rest
}

fn texts(answer: &Value, found: &mut Vec<String>) {
    match answer {
        Value::String(text) => found.push(read(text)),
        Value::Array(all) => all.iter().for_each(|a| texts(a, found)),
        // Files and records for programs, and how questions are told apart.
        Value::Object(all) => all
            .iter()
            .filter(|(key, _)| !["outcome", "case", "question", "file"].contains(&key.as_str()))
            .for_each(|(_, a)| texts(a, found)),
        _ => {}
    }
}

fn assert_in_words_of_the_page(target: &str, question: &Value) -> Value {
    let mut page = Offline::default();
    page.answer("/open\n[]");
    let answer = page.answer(&format!("{target}\n{question}"));
    let (status, text) = answer.split_once('\n').expect("a line");
    assert_eq!(status, "200", "{target} {question}: {text}");
    let answer: Value = serde_json::from_str(text).expect("JSON");
    let mut found = Vec::new();
    texts(&answer, &mut found);
    for text in found {
        for foreign in [
            "--",
            "relatch run",
            "relatch diagnose",
            "relatch wait",
            ": true;",
            ": true.",
            ": false",
        ] {
            assert!(
                !text.contains(foreign),
                "{target} {question}: {foreign}: {text}"
            );
        }
    }
    answer
}

#[test]
fn a_wait_is_said_in_words_of_the_page() {
    let bare = json!({"rating": "10 A", "load": "24 A"});
    let mut asked = vec![bare.clone()];
    for (field, said) in [
        ("start", "60 A for 0.6 s"),
        ("air", "75 degC"),
        ("sits", "on_the_machine"),
        ("sits", "in_a_box"),
        ("tripped", "after 9 s at 24 A"),
        ("load", "9790 A"),
        ("load", "9 A"),
    ] {
        let mut question = bare.clone();
        question[field] = said.into();
        asked.push(question);
    }
    let mut on_three = bare.clone();
    (on_three["poles"], on_three["phases"]) = (3.into(), 2.into());
    asked.push(on_three);
    for spoken in ["", "/de", "/es", "/fr"] {
        for question in &asked {
            let answer = assert_in_words_of_the_page(&format!("{spoken}/wait"), question);
            let shown = answer["shown"].as_str().expect("an answer");
            assert!(shown.len() > 500);
            assert!(
                !spoken.is_empty() || question["poles"].is_null() != shown.contains("3 poles"),
                "{shown}"
            );
        }
    }
}

#[test]
fn a_wait_of_more_poles_than_parts_have_is_refused() {
    let question = json!({"rating": "10 A", "load": "24 A", "poles": 9});
    let answer = Offline::default().answer(&format!("/wait\n{question}"));
    assert!(
        answer.starts_with("4") && answer.contains("poles: 1 to 4"),
        "{answer}"
    );
}

#[test]
fn the_questions_of_a_diagnosis_are_noted_in_words_of_the_page() {
    let said = [
        ("rating", "16"),
        ("signs", "no"),
        ("trip", "8 min from cold"),
        ("current", "14,2 A"),
        ("meter", "true rms"),
        ("air", "room 24 degC"),
        ("plate", "12 A"),
        ("marking", "yes"),
        ("terminals", "58 degC and 31 degC"),
        ("drop", "123 mV at 13.6 A, sister 72 mV"),
        ("supply", "196 V running of 230 V"),
        ("bench_trip", "24 s at 32 A"),
        ("swap", "follows the protector"),
        ("machine", "dough divider"),
    ];
    let answer = |(question, said): &(&str, &str)| json!({"question": question, "said": said});
    let answers: Vec<Value> = said.iter().map(answer).collect();
    let told = assert_in_words_of_the_page("/de/diagnosis", &json!({"answers": answers}));
    let noted: Vec<&str> = told["noted"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|n| n.as_str().expect("text"))
        .collect();
    assert_eq!(noted.len(), said.len());
    for (words, k) in [
        ("Bemessungsstrom: 16 A", 0),
        ("kein Anzeichen", 1),
        ("kalt", 2),
        ("14,2 A", 3),
        ("24 °C", 5),
        ("der Fehler geht mit dem Schutzgerät", 12),
    ] {
        assert!(noted[k].contains(words), "{words}: {}", noted[k]);
    }
    // No key of a file, no value that is one.
    for word in [
        "rating",
        "cold",
        "degC",
        "taken",
        "temperature",
        "voltage",
        "agrees",
        "follows",
    ] {
        assert!(!noted.iter().any(|n| n.contains(word)), "{word}: {noted:?}");
    }
    let sign = json!({"answers": [answer(&("rating", "16")), answer(&("signs", "smell"))]});
    let told = assert_in_words_of_the_page("/diagnosis", &sign);
    assert_eq!(told["noted"][1], "Noted: smell or smoke.");
}

/// What is ticked as not at hand is in no step; every box of the page is understood.
#[test]
fn no_step_needs_what_is_not_at_hand() {
    let page = include_str!("../../../src/page/assets/page.html");
    let boxes = page.split("<input type=\"checkbox\" value=\"").skip(1);
    let boxes: Vec<&str> = boxes
        .filter_map(|t| t.split_once('"'))
        .map(|(v, _)| v)
        .collect();
    assert_eq!(boxes.len(), 12);
    let said = [
        ("rating", "12"),
        ("signs", "no"),
        ("trip", "8 min"),
        ("current", "9,4 A"),
        ("meter", "true rms"),
    ];
    let answer = |(question, said): &(&str, &str)| json!({"question": question, "said": said});
    let answers: Vec<Value> = said.iter().map(answer).collect();
    let shown = |missing: &[&str]| {
        let asked = json!({"answers": answers, "missing": missing});
        let told = assert_in_words_of_the_page("/diagnosis", &asked);
        told["shown"].as_str().expect("text").to_owned()
    };
    assert!(shown(&[]).contains("Look at both joints"));
    assert!(!shown(&["joints"]).contains("Look at both joints"));
    let none = shown(&boxes);
    for step in [
        "Look at",
        "Read the machine",
        "Air at",
        "Millivolt",
        "Compare",
        "Swap",
        "bench,",
    ] {
        assert!(!none.contains(step), "{step}: {none}");
    }
}
