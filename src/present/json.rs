//! The record as JSON: units in the names, `null` where there is no such event, beside every answer
//! its words.
//!
//! An outcome is read back from its JSON by `serde_json::from_str::<Outcome>`; what only people
//! read (`text`, and the numbers said twice) is passed over.
//!
//! # Format 1 -> 2
//!
//! Numbers keep their names; answers that were text are objects with a tag, and carry their words
//! as `text`.
//!
//! | format 1 | format 2 |
//! | --- | --- |
//! | `trip.reason` | `trip.answer`: `at_once`, `after`, `holds_for_ever` (with `proof`), `not_within` (with `horizon_s`, `why`); words in `trip.text` |
//! | `trip.trips`: false where it is not known | null there |
//! | `trip_point.reason` | `trip_point.answer`: `up_to`, `stays_open`, `never_releases`; words in `trip_point.text` |
//! | `reset.reason`, `reset.ready_reason` | `reset.relatch_wait`, `reset.ready_wait`, each with `wait`: `none`, `after`, `never`, `not_within`, `not_asked`, and `text` |
//! | `reset.governs`: "relatch", "start-up" | `relatch`, `start_up` |
//! | `reason` of the rows of `preload_shift`, `ambient_correction`, `premature_reset` | `trip_point.held`, `trip_time.trip`, `trips_again_after.trip`, `relatch_wait.wait`, each with `text` |
//! | `time_s`: null in a curve or limit | also `time.trip`: `after`, `at_once`, `holds_for_ever`, `not_within`, `already_open`, `failed` |
//! | `characteristic.hot_reason` | every point of `hot` says `already_open` |
//! | `events[].event`: "load on" ... | `load_on` ...; a relatch that closes by itself is `closes_by_itself`, a reset of closed contacts `already_closed` |
//! | `moment`, `loaded_by` in words | tags; words in `moment_text`, `loaded_by_text` |
//! | `part.mechanism`: "snap blade", `part.reset`: "by hand" | `snap_blade`, `by_hand` |
//! | `part.through_thickness` in words | `{"across": "one_temperature"}` or `{"across": "resolved", "modes": n}` |
//! | `error_estimate.computed_with` in words | `elements`, `order`, `tolerance`, `text` |
//! | `warnings[].code`, `.text` | the same, and the numbers of the warning |
//! | `not_modelled`, `cautions`: lists of text | lists of `{"code", "text"}` |
//! | `limits[].text` | the same, and `after_multiple`, `must_hold` |
//!
//! New: `metal_data`, what is known of the metals; `magnetic` where the scenario has an
//! instantaneous element;
//! `part.contact_resistance_new_ohm`, `.contact_resistance_ohm`, `.section_stiffness_n_m2`,
//! `.compliance_mm_per_n`, `.blade_thrust_n`; `trip.nodes`, `.fixed_contact_c`, `.housing_c`.

use super::{limits, sentences, words};
use crate::answer::{Held, TripTime, Wait};
use crate::diagnose::{Diagnosis, Energise};
use crate::predict::Outcome;
use crate::present::language::recorded;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value, json};

/// One outcome as indented JSON with a final newline.
pub(super) fn run_json(outcome: &Outcome) -> Result<String, serde_json::Error> {
    serialised(&worded(outcome)?)
}

/// Several outcomes as one JSON array with a final newline.
///
/// # Errors
/// When a record cannot be serialised.
pub fn json_list(outcomes: &[Outcome]) -> Result<String, serde_json::Error> {
    let list: Result<Vec<Value>, _> = outcomes.iter().map(worded).collect();
    serialised(&list?)
}

/// The record with its words, and the plain numbers beside the answers that hold them.
pub fn worded(outcome: &Outcome) -> Result<Value, serde_json::Error> {
    recorded(|| {
        let mut value = serde_json::to_value(outcome)?;
        beside_answers(&mut value);
        let say = |value: &mut Value, path: &str, text: Value| {
            let (parent, key) = path.rsplit_once('/').unwrap_or(("", path));
            with_text(value, parent, key, text);
        };
        let trip = sentences::trip(outcome);
        if let Some(data) = &outcome.metal_data {
            say(
                &mut value,
                "/metal_data/text",
                json!(words::metal_data(data)),
            );
        }
        say(
            &mut value,
            "/trip/trips",
            json!(outcome.trip.is_known().then(|| outcome.trip.trips())),
        );
        say(&mut value, "/trip/text", json!(trip.first()));
        say(&mut value, "/trip_point/text", json!(trip.last()));
        say(
            &mut value,
            "/part/layers",
            json!(words::layers(&outcome.part)),
        );
        let across = words::across(outcome.part.through_thickness);
        say(&mut value, "/part/through_thickness/text", json!(across));
        let with = words::computed_with(&outcome.error_estimate.computed_with);
        say(
            &mut value,
            "/error_estimate/computed_with/text",
            json!(with),
        );
        let mut each = |path: String, text: Value| say(&mut value, &path, text);
        for (k, w) in outcome.warnings.iter().enumerate() {
            each(format!("/warnings/{k}/text"), json!(words::warning(w)));
        }
        for (k, c) in outcome.cautions.iter().enumerate() {
            each(format!("/cautions/{k}/text"), json!(words::caution(*c)));
        }
        for (k, n) in outcome.not_modelled.iter().enumerate() {
            each(
                format!("/not_modelled/{k}/text"),
                json!(words::not_modelled(*n)),
            );
        }
        for (k, e) in outcome.events.iter().enumerate() {
            each(
                format!("/events/{k}/text"),
                json!(words::event_text(e.event)),
            );
        }
        for (k, s) in outcome.shapes.iter().enumerate() {
            each(
                format!("/shapes/{k}/moment_text"),
                json!(words::moment(s.moment)),
            );
        }
        if let Some(magnetic) = &outcome.magnetic {
            each(
                "/magnetic/text".into(),
                json!(words::first_to_act(magnetic)),
            );
        }
        if let Some(stress) = &outcome.stress {
            each(
                "/stress/moment_text".into(),
                json!(words::moment(stress.moment)),
            );
            each(
                "/stress/loaded_by_text".into(),
                json!(words::loaded_by(stress.loaded_by)),
            );
        }
        for (k, l) in outcome
            .characteristic
            .iter()
            .flat_map(|c| &c.limits)
            .enumerate()
        {
            each(
                format!("/characteristic/limits/{k}/text"),
                json!(limits::demanded(l)),
            );
        }
        Ok(value)
    })
}

/// Beside each code of a list its words.
pub(super) fn beside_codes<T>(
    value: &mut Value,
    list: &str,
    items: &[T],
    text: impl Fn(&T) -> String,
) {
    let list = value.get_mut(list).and_then(Value::as_array_mut);
    for (code, item) in list.into_iter().flatten().zip(items) {
        code["text"] = text(item).into();
    }
}

/// Puts what people read into the object at a path.
pub(super) fn with_text(value: &mut Value, path: &str, key: &str, text: Value) {
    if let Some(Value::Object(object)) = value.pointer_mut(path) {
        object.insert(key.to_owned(), text);
    }
}

/// Beside each answer its number under its own name, and in each answer its words.
pub(super) fn beside_answers(value: &mut Value) {
    match value {
        Value::Array(list) => list.iter_mut().for_each(beside_answers),
        Value::Object(object) => {
            let mut numbers = Vec::new();
            for (key, value) in object.iter_mut() {
                let Some((unit, text)) = answer_words(value) else {
                    beside_answers(value);
                    continue;
                };
                if let (Value::Object(answer), Some(text)) = (&mut *value, text) {
                    answer.insert("text".to_owned(), text.into());
                }
                let number = value.get("value").cloned().unwrap_or(Value::Null);
                if key == "time" {
                    let error = value.get("error_relative").cloned();
                    numbers.push(("error_relative".to_owned(), error.unwrap_or(Value::Null)));
                }
                numbers.push((format!("{key}_{unit}"), number));
            }
            object.extend(numbers.into_iter().collect::<Map<_, _>>());
        }
        _ => {}
    }
}

/// The unit of an answer's number, and its words where it has none.
fn answer_words(value: &Value) -> Option<(&'static str, Option<String>)> {
    fn read<T: DeserializeOwned>(value: &Value, tag: &str) -> Option<T> {
        value.get(tag)?;
        serde_json::from_value(value.clone()).ok()
    }
    if let Some(time) = read::<TripTime>(value, "trip") {
        return Some(("s", words::trip_why(&time)));
    }
    if let Some(wait) = read::<Wait>(value, "wait") {
        return Some(("s", words::wait_why(&wait)));
    }
    let held = read::<Held>(value, "held")?;
    Some(("a", words::held_why(&held).map(str::to_owned)))
}

/// One diagnosis as indented JSON with a final newline: its types, and beside each answer its words
/// as `text`.
///
/// # Format 2 -> 3
///
/// | format 2 | format 3 |
/// | --- | --- |
/// | `sentence`, `causes[].sentence`, `base_rule.sentence` | `text` beside `verdict`, in `causes[]`, in `base_rule` (with `current_a`) |
/// | `evidence[].sentence` | `evidence[].kind` with its numbers, and `text` |
/// | `counterfactuals`: sentences | `otherwise[]`: `change`, `trips`, `text` |
/// | `ruled_out`, `cannot_tell_apart`, `would_prove_wrong`: sentences | `still_open`, `cannot_tell_apart`: codes with `text`; `would_prove_wrong` |
/// | `next[].what`, `.how`, `.outcomes[].outcome`, `.meaning` | `next[].measure`, `text`, `how`; `results[]`: `shows`, `value`, `mend`, `right`, `text` |
/// | `waits.reset_s`, `.start_s`, `.sentence` | `waits.by_own_load`, `.reset`, `.start` (those that never do counted), `.text` |
/// | `computed_with` | `computed` |
/// | `cautions`, `assumed`: sentences | codes with `text` |
/// | `replacement` | the work order alone |
///
/// New: `bench_only`, `nothing_tripped`, `likely`, `mend_first`, `looks`, `plan`, `does_not_fit`,
/// `not_modelled`, `mended`, `since_mended`, `is_mended`, `looks`; `drawn` of a plate; the reason
/// `element_opens`; `apart_k` and `rise_k` beside `heat_w` of a
/// joint; `supply_is_low` is `supply_is_off`.
///
/// # Errors
/// When a record cannot be serialised.
pub fn diagnosis_json(diagnosis: &Diagnosis) -> Result<String, serde_json::Error> {
    recorded(|| {
        let mut value = serde_json::to_value(diagnosis)?;
        beside_answers(&mut value);
        value["energise"]["allowed"] = json!(diagnosis.energise == Energise::Yes);
        value["energise"]["text"] = words::energise_text(diagnosis).into();
        value["text"] = words::verdict_text(diagnosis).into();
        let rule = &diagnosis.base_rule;
        value["base_rule"]["text"] = words::base_rule(rule, diagnosis.rated_current_a).into();
        if let Some(waits) = &diagnosis.waits {
            value["waits"]["text"] = words::waits(waits).into();
        }
        beside_codes(&mut value, "causes", &diagnosis.causes, |c| {
            words::cause(c.cause).into()
        });
        beside_codes(&mut value, "evidence", &diagnosis.evidence, |e| {
            words::says(&e.says)
        });
        beside_codes(&mut value, "does_not_fit", &diagnosis.does_not_fit, |m| {
            words::misfit(m, false)
        });
        beside_codes(
            &mut value,
            "contradictions",
            &diagnosis.contradictions,
            |c| words::contradiction(c, false),
        );
        beside_codes(&mut value, "otherwise", &diagnosis.otherwise, |o| {
            words::otherwise(o, diagnosis)
        });
        beside_codes(&mut value, "still_open", &diagnosis.still_open, |o| {
            words::still_open(*o)
        });
        beside_codes(
            &mut value,
            "cannot_tell_apart",
            &diagnosis.cannot_tell_apart,
            |a| words::alike(*a).into(),
        );
        beside_codes(
            &mut value,
            "not_modelled",
            &diagnosis.not_modelled,
            words::left_out,
        );
        beside_codes(&mut value, "cautions", &diagnosis.cautions, |c| {
            words::caution(*c).into()
        });
        beside_codes(&mut value, "assumed", &diagnosis.assumed, words::assumed);
        beside_codes(&mut value, "next", &diagnosis.next, |n| {
            words::measurement(n.measurement)
        });
        for (k, next) in diagnosis.next.iter().enumerate() {
            let value = &mut value["next"][k];
            value["how"] = words::how(next.measurement).into();
            beside_codes(value, "results", &next.results, |r| {
                words::result(next.measurement, r)
            });
        }
        for (k, step) in diagnosis.plan.iter().enumerate() {
            value["plan"][k]["text"] = words::plan_step(step).into();
        }
        value["would_prove_wrong"] = json!(words::proved_wrong_by(diagnosis));
        serialised(&value)
    })
}

/// Any record as indented JSON with a final newline.
///
/// # Errors
/// When a record cannot be serialised.
pub fn serialised(record: &impl serde::Serialize) -> Result<String, serde_json::Error> {
    Ok(serde_json::to_string_pretty(record)? + "\n")
}
