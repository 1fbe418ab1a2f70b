//! Every variant of every answer on every surface: never is NEVER, at once is at once, and no two
//! surfaces disagree.

use super::fabricated::{self, held};
use crate::support::made;
use relatch::internals::answer::*;
use relatch::internals::predict::*;
use relatch::internals::present::plot::{figures, live};
use relatch::internals::present::short::{Shown, shown};
use relatch::internals::present::*;
use relatch::internals::scenario::{Scenario, read};
use serde_json::Value;
use std::path::Path;

/// All that people and programs get to see of an outcome.
struct Seen {
    terminal: String,
    curve: String,
    report: String,
    json: Value,
    tables: String,
    figures: String,
    page: Shown,
    /// The figures of the page, with a load of 20 A.
    curve_of_page: String,
    strip_of_page: String,
}

/// Title, description and every text of a figure.
fn texts(svg: &str) -> String {
    if svg.is_empty() {
        return String::new();
    }
    let figure = roxmltree::Document::parse(svg).expect("a well-formed figure");
    let words = figure.descendants().filter(|n| n.is_text());
    words
        .filter_map(|n| n.text())
        .collect::<Vec<_>>()
        .join("\n")
        + "\n"
}

fn scenario() -> Scenario {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/01-pug-mill.toml");
    read(Path::new(path)).expect("a scenario")
}

fn seen(outcome: &Outcome) -> Seen {
    let one_line = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let json = json(outcome).expect("JSON");
    let back: Outcome = serde_json::from_str(&json).expect("an outcome is read back");
    assert_eq!(&back, outcome, "what is read back is what was written");
    let curve = characteristic_csv(outcome)
        .expect("CSV")
        .unwrap_or_default();
    let preload = preload_shift_csv(outcome).expect("CSV");
    let ambient = ambient_correction_csv(outcome).expect("CSV");
    let drawn = figures(outcome).into_iter();
    Seen {
        terminal: one_line(text(outcome)),
        curve: one_line(super::characteristic_text(outcome)),
        report: one_line(report_html(outcome, &scenario())),
        json: serde_json::from_str(&json).expect("JSON"),
        tables: curve + &preload + &ambient,
        figures: drawn.map(|f| texts(&f.svg)).collect(),
        page: shown(outcome),
        curve_of_page: {
            let (svg, notes) = live::curve(outcome, Some(20.0), Default::default());
            texts(&svg) + &notes.join("\n")
        },
        strip_of_page: texts(&live::strip(outcome, Default::default())),
    }
}

impl Seen {
    /// The line of the page: trip, trip point, reset, start.
    fn page(&self, n: usize) -> (&str, &str) {
        (self.page.lines[n].answer, &self.page.lines[n].value)
    }

    fn says(&self, words: &str) {
        assert!(self.terminal.contains(words), "{words}: {}", self.terminal);
        let html = words.replace('\'', "&#39;");
        assert!(self.report.contains(&html), "{words}: report");
    }

    /// What stands behind the answers of the page.
    fn says_behind(&self, words: &str) {
        let html = words.replace('\'', "&#39;");
        let page = [&self.page.first, &self.page.waits, &self.page.behind];
        assert!(page.iter().any(|p| p.contains(&html)), "{words}: page");
    }

    fn is_silent_on(&self, words: &str) {
        let page: String = self
            .page
            .lines
            .iter()
            .map(|l| l.value.clone() + &l.note)
            .collect();
        for text in [
            &self.terminal,
            &self.curve,
            &self.report,
            &self.figures,
            &self.curve_of_page,
            &self.strip_of_page,
            &self.page.bar,
            &page,
        ] {
            assert!(!text.contains(words), "{words}: {text}");
        }
    }

    fn tag(&self, pointer: &str) -> &str {
        let value = self.json.pointer(pointer).and_then(Value::as_str);
        value.unwrap_or_else(|| panic!("{pointer}: {:#}", self.json["reset"]))
    }
}

#[test]
fn every_trip_reads_alike_everywhere() {
    let release = || fabricated::latch().trip.release().cloned().expect("trips");
    let at_once = made!(Release {
        time_s: 0.0,
        clearing_time_s: 0.01,
        ..release()
    });
    let holds = |proof| Trip::HoldsForEver {
        proof,
        closest_approach_mm: 0.345,
    };
    let not_within = |why| Trip::NotWithin {
        horizon_s: 14_400.0,
        why,
        closest_approach_mm: 0.345,
    };
    let all = [
        (
            Trip::AtOnce(at_once),
            "at_once",
            ("at_once", "at once"),
            "YES, at once",
        ),
        (
            Trip::After(release()),
            "after",
            ("after", "12.61 s"),
            "YES, 12.61 s after",
        ),
        (
            holds(Proof::SteadyState),
            "holds_for_ever",
            ("never", "NEVER"),
            "NO, NEVER: it holds for ever",
        ),
        (
            holds(Proof::Cycle),
            "holds_for_ever",
            ("never", "NEVER"),
            "NO, NEVER: it holds for ever",
        ),
        (
            not_within(NoProof::StillChanges),
            "not_within",
            ("not_known", "not known"),
            "NOT KNOWN",
        ),
        (
            not_within(NoProof::NotSettled),
            "not_within",
            ("not_known", "not known"),
            "NOT KNOWN",
        ),
    ];
    for (trip, tag, page, words) in all {
        let mut outcome = fabricated::latch();
        let trips = trip.trips();
        outcome.trip = trip;
        let seen = seen(&outcome);
        seen.says(words);
        assert_eq!(seen.tag("/trip/answer"), tag);
        assert!(
            seen.tag("/trip/text").starts_with(words),
            "{}",
            seen.tag("/trip/text")
        );
        let known = (tag != "not_within").then_some(trips);
        assert_eq!(seen.json["trip"]["trips"], serde_json::json!(known));
        assert_eq!(seen.page(0), page);
        assert!(seen.page.bar.contains(page.1) && seen.page.spoken.contains(page.1));
        assert_eq!(
            seen.figures.contains("It releases "),
            trips,
            "{}",
            seen.figures
        );
        for (word, is_so) in [
            ("this load: 20.0 A, at once\n", tag == "at_once"),
            (
                "this load: 20.0 A, held for ever\n",
                tag == "holds_for_ever",
            ),
            ("\nNEVER\n", tag == "holds_for_ever"),
            ("this load: 20.0 A, 12.6 s\n", tag == "after"),
        ] {
            let curve = &seen.curve_of_page;
            assert_eq!(curve.contains(word), is_so, "{tag}, {word}: {curve}");
        }
        assert!(seen.strip_of_page.contains("hottest point"));
    }
}

#[test]
fn every_wait_reads_alike_everywhere() {
    let never = |why| Wait::Never { why };
    let not_asked = |why| Wait::NotAsked { why };
    let start_trips = WhyNever::StartTrips {
        margin_mm: 0.05,
        cooled_s: 3600.0,
    };
    let all = [
        (Wait::None, "none", ("after", "no wait"), "no wait"),
        (
            Wait::of(17.4.into()),
            "after",
            ("after", "17.40 s"),
            "17.40 s",
        ),
        (
            never(WhyNever::StaysWarm),
            "never",
            ("never", "NEVER"),
            "NEVER: at this ambient",
        ),
        (
            never(start_trips),
            "never",
            ("never", "NEVER"),
            "NEVER: the start-up brings",
        ),
        (
            Wait::NotWithin { horizon_s: 2.6e6 },
            "not_within",
            ("not_known", "not known"),
            "not relatched within",
        ),
        (
            not_asked(WhyNotAsked::DoesNotTrip),
            "not_asked",
            ("not_asked", "not asked: it does not trip"),
            "does not trip under",
        ),
        (
            not_asked(WhyNotAsked::NotTripped),
            "not_asked",
            ("not_known", "not known"),
            "has not tripped in",
        ),
        (
            not_asked(WhyNotAsked::AlreadyOpen),
            "not_asked",
            ("not_known", "not known"),
            "open before the load",
        ),
        (
            not_asked(WhyNotAsked::NoStartUp),
            "not_asked",
            ("not_asked", "not asked"),
            "has no [start_up]",
        ),
        (
            not_asked(WhyNotAsked::Later),
            "not_asked",
            ("later", "…"),
            "being computed",
        ),
        (
            not_asked(WhyNotAsked::Failed),
            "not_asked",
            ("not_known", "not known"),
            "the computation failed",
        ),
    ];
    for (wait, tag, page, words) in all {
        let mut outcome = fabricated::latch();
        outcome.reset.relatch_wait = wait;
        outcome.reset.ready_wait = wait;
        outcome.reset.governs = wait.time_s().map(|_| Governs::Relatch);
        outcome.preload_shift[1].relatch_wait = wait;
        let seen = seen(&outcome);
        seen.says(words);
        for key in ["relatch_wait", "ready_wait"] {
            assert_eq!(seen.tag(&format!("/reset/{key}/wait")), tag);
            let number = &seen.json["reset"][format!("{key}_s")];
            assert_eq!(
                number.as_f64().is_some(),
                matches!(wait, Wait::After(_)),
                "{number}"
            );
        }
        assert_eq!((seen.page(2), seen.page(3)), (page, page));
        assert!(seen.page.bar.contains(page.1));
        // In the figure of lost preload the row without a number lies in the lane of what never
        // comes.
        let is_never = matches!(wait, Wait::Never { .. });
        // That of other air has one always: at 60 °C.
        let lanes = seen.figures.lines().filter(|line| *line == "NEVER");
        assert_eq!(lanes.count(), 1 + usize::from(is_never), "{}", seen.figures);
        if wait != Wait::None {
            seen.is_silent_on("no wait");
        }
        let row: Vec<&str> = seen
            .tables
            .lines()
            .filter(|l| l.starts_with("0.1,"))
            .collect();
        assert!(row[0].contains(&format!(",{tag},")), "{row:?}");
        for lower in ["never relatches", "never resets", "never reset"] {
            seen.is_silent_on(lower);
        }
    }
}

#[test]
fn every_trip_point_reads_alike_everywhere() {
    let mut weak = fabricated::latch();
    held(&mut weak).multiple_of_rated = 0.92;
    let point = |point| {
        made!(Outcome {
            trip_point: point,
            ..fabricated::latch()
        })
    };
    let all = [
        (weak, "up_to", "up_to", "LESS THAN ITS RATING"),
        (
            point(TripPoint::StaysOpen),
            "stays_open",
            "none",
            "the ambient alone holds it released",
        ),
        (
            point(TripPoint::NeverReleases),
            "never_releases",
            "any",
            "before the strip melts",
        ),
    ];
    for (outcome, tag, answer, words) in all {
        let seen = seen(&outcome);
        seen.says(words);
        assert_eq!(seen.tag("/trip_point/answer"), tag);
        assert!(seen.tag("/trip_point/text").contains(words));
        assert_eq!(seen.page(1).0, answer);
    }
}

#[test]
fn every_point_of_a_curve_says_what_it_is() {
    let failed = |why| TripTime::Failed { why };
    let out_of_range = Failed::OutOfRange {
        material: "Fe-36Ni".into(),
        property: PropertyName::SpecificHeat,
        needed_c: 700.0,
        range_c: [-60.0, 500.0],
    };
    let not_within = |why| TripTime::NotWithin {
        horizon_s: 14_400.0,
        why,
    };
    let all = [
        (TripTime::AtOnce, "at_once", "at once"),
        (TripTime::After(31.4.into()), "after", "31.4 s"),
        (TripTime::HoldsForEver, "holds_for_ever", "NEVER"),
        (
            not_within(NoProof::NotSettled),
            "not_within",
            "no proof that it never does",
        ),
        (
            not_within(NoProof::StillChanges),
            "not_within",
            "still changes",
        ),
        (TripTime::NotReset, "not_reset", "the reset does not catch"),
        (
            failed(out_of_range),
            "failed",
            "the specific heat of Fe-36Ni is needed at 700 °C",
        ),
        (
            failed(Failed::Melts { peak_c: 2066.0 }),
            "failed",
            "it melts before",
        ),
        (
            failed(Failed::Integration { at_s: 3.0 }),
            "failed",
            "did not go on",
        ),
        (
            failed(Failed::NoSteadyState),
            "failed",
            "a steady state was not found",
        ),
    ];
    for (time, tag, words) in all {
        let mut outcome = fabricated::latch();
        let curve = outcome.characteristic.as_mut().expect("a curve");
        for point in curve.cold.iter_mut().chain(&mut curve.hot) {
            point.time = time.clone();
        }
        for limit in &mut curve.limits {
            limit.time = time.clone();
            limit.met = false;
        }
        outcome.preload_shift[2].trip_time = time.clone();
        outcome.premature_reset[2].trips_again_after = time.clone();
        let seen = seen(&outcome);
        assert!(seen.curve.contains(words), "{words}: {}", seen.curve);
        seen.says(words);
        assert_eq!(seen.tag("/characteristic/cold/3/time/trip"), tag);
        assert!(seen.tables.contains(&format!(",{tag},")), "{tag}");
        if time != TripTime::HoldsForEver {
            assert!(!seen.curve.contains("NEVER"), "{words}: {}", seen.curve);
        }
        if !matches!(time, TripTime::HoldsForEver) {
            assert_ne!(
                seen.tag("/characteristic/limits/0/time/trip"),
                "holds_for_ever"
            );
        }
    }
    let mut outcome = fabricated::latch();
    for point in &mut outcome.characteristic.as_mut().expect("a curve").hot {
        point.time = TripTime::AlreadyOpen;
    }
    let seen = seen(&outcome);
    for text in [&seen.curve, &seen.tables] {
        assert!(text.contains("tripped"), "{text}");
    }
    assert!(
        seen.curve
            .contains("No hot curve: at 80 % of rated it has already tripped")
    );
}

#[test]
fn every_warning_event_and_omission_has_words_and_a_code() {
    let mut outcome = fabricated::latch();
    let material = || "Fe-36Ni".to_owned();
    outcome.warnings = vec![
        Warning::Extrapolated {
            material: material(),
            property: PropertyName::Density,
            needed_c: 501.0,
            range_c: [-60.0, 500.0],
        },
        Warning::TipRotation {
            rotation_rad: 0.3,
            limit_rad: 0.2,
            error_relative: 0.015,
            blade: false,
        },
        Warning::ThroughThickness {
            part: 0.02,
            spread_k: 3.0,
            resolved: false,
        },
        Warning::Yield {
            material: material(),
            stress_mpa: 700.0,
            temperature_c: 150.0,
            yield_mpa: 620.0,
        },
        Warning::TooHot {
            material: material(),
            peak_c: 260.0,
            limit_c: 230.0,
        },
        Warning::WindingLimit {
            peak_c: 190.0,
            limit_c: 180.0,
        },
        Warning::ContactSoftening {
            metal: "silver".into(),
            voltage_v: 0.1,
            softening_v: 0.09,
        },
        Warning::OneTerm {
            late_relative: Some(0.229),
        },
        Warning::OneTerm {
            late_relative: None,
        },
        Warning::Accuracy {
            asked: 1e-8,
            reached: 3e-6,
        },
        Warning::Creeps,
        Warning::FlatConvection,
    ];
    outcome.not_modelled.extend([
        NotModelled::NeighbouringPoles,
        NotModelled::UnitSpread,
        NotModelled::FadingContactForce,
        NotModelled::ShuntHeat,
    ]);
    let events = [
        Event::LoadOn,
        Event::LoadOff,
        Event::Release,
        Event::ContactsOpen,
        Event::Relatch,
        Event::ClosesByItself,
        Event::Reset,
        Event::AlreadyClosed,
        Event::ResetRefused,
        Event::Holds,
        Event::HoldsSoFar,
        Event::StaysOpen,
        Event::StillOpen,
        Event::End,
    ];
    let at = |(k, event): (usize, Event)| {
        made!(EventRecord {
            time_s: k as f64,
            event,
        })
    };
    outcome.events = events.into_iter().enumerate().map(at).collect();
    let seen = seen(&outcome);
    for (k, warning) in outcome.warnings.iter().enumerate() {
        assert_eq!(seen.tag(&format!("/warnings/{k}/code")), warning.code());
        seen.says(seen.tag(&format!("/warnings/{k}/text")));
        seen.says_behind(seen.tag(&format!("/warnings/{k}/text")));
    }
    for k in 0..outcome.not_modelled.len() {
        seen.says(seen.tag(&format!("/not_modelled/{k}/text")));
    }
    for k in 0..events.len() {
        let text = seen.tag(&format!("/events/{k}/text")).to_owned();
        assert!(seen.report.contains(&text), "{text}");
    }
}

/// The made-up outcome with one of the answers that only some parts have.
fn with(name: &str, answer: Value) -> Outcome {
    let text = json(&fabricated::latch()).expect("JSON");
    let mut record: Value = serde_json::from_str(&text).expect("JSON");
    record[name] = answer;
    serde_json::from_value(record).expect("an outcome")
}

/// As it stands in a record.
fn recorded(answer: &impl serde::Serialize) -> Value {
    serde_json::to_value(answer).expect("JSON")
}

/// Times and waits of a row: what stands in it, or why nothing does.
fn row_times() -> Vec<(TripTime, &'static str)> {
    vec![
        (TripTime::AtOnce, "at once"),
        (TripTime::After(Estimate::of(12.5)), "12.5 s"),
        (TripTime::HoldsForEver, "NEVER"),
        (TripTime::AlreadyOpen, "tripped"),
        (
            TripTime::Failed {
                why: Failed::NoSteadyState,
            },
            "a steady state was not found",
        ),
    ]
}

fn helds() -> Vec<(Held, &'static str)> {
    vec![
        (Held::UpTo(Estimate::of(12.5)), "12.5 A"),
        (Held::StaysOpen, "the ambient alone holds it released"),
        (
            Held::NeverReleases,
            "no current releases it before the strip melts",
        ),
    ]
}

#[test]
fn every_answer_of_poles_reads_alike_everywhere() {
    let poles = |held: &Held, time: &TripTime, wait: &Wait, bar: &str| {
        let row = serde_json::json!({"loaded": [1, 2, 3], "trip_point": recorded(held),
            "trip_time": recorded(time), "relatch_wait": recorded(wait)});
        let lost = serde_json::json!({"lost": 2, "running_a": 10.0, "current_a": 17.3,
            "trip_time": recorded(time), "relatch_wait": recorded(wait)});
        serde_json::json!({"count": 3, "bar": bar, "current_factors": [1.0, 1.0, 0.0],
            "sets": [row], "lost_phase": [lost]})
    };
    let wait = Wait::After(Estimate::of(33.0));
    let never = Wait::Never {
        why: WhyNever::StaysWarm,
    };
    let up_to = Held::UpTo(Estimate::of(12.25));
    for (time, words) in row_times() {
        let seen = seen(&with("poles", poles(&up_to, &time, &wait, "differential")));
        seen.says(words);
        seen.says("all 3 poles");
        seen.says("must loop its current through all poles");
        let lost = match time {
            TripTime::HoldsForEver => "the motor is not protected against this",
            _ => words,
        };
        seen.says(lost);
    }
    for (held, words) in helds() {
        seen(&with(
            "poles",
            poles(&held, &TripTime::HoldsForEver, &wait, "sum"),
        ))
        .says(words);
    }
    for (bar, words) in [
        ("sum", "their pushes add on one bar"),
        ("any", "each has a latch of its own"),
        ("differential", "trips sooner when they bend unevenly"),
    ] {
        let seen = seen(&with(
            "poles",
            poles(&up_to, &TripTime::AtOnce, &never, bar),
        ));
        seen.says(words);
        seen.says("NEVER");
        seen.says("it does not cool enough to relatch");
    }
}

#[test]
fn every_mark_of_a_dial_says_what_it_is() {
    let dial = |held: &Held, time: &TripTime, winding_c: f64| {
        let mark = |mark_a: f64| {
            serde_json::json!({"mark_a": mark_a, "travel_mm": 1.25, "trip_point": recorded(held),
                "trip_time": recorded(time), "relatch_wait": recorded(&Wait::None),
                "strip_c": 120.0, "winding_c": winding_c, "limits": []})
        };
        serde_json::json!({"set_a": 10.0, "trips_at": 1.15, "timed_at": 7.2,
            "winding_limit_c": 155.0, "marks": [mark(8.0), mark(12.5)]})
    };
    for (time, words) in row_times() {
        let seen = seen(&with(
            "dial",
            dial(&Held::UpTo(Estimate::of(12.5)), &time, 140.0),
        ));
        seen.says(words);
        seen.says("12.5 A");
    }
    for (held, words) in helds() {
        let seen = seen(&with("dial", dial(&held, &TripTime::AtOnce, 170.0)));
        seen.says(words);
        seen.says("its insulation stands 155 °C");
    }
}

#[test]
fn every_round_of_a_part_that_closes_by_itself_is_told() {
    for (is_settled, rated, words) in [
        (true, None, "each round like the last from no. 7 on"),
        (false, Some(10_000.0), "still changing after 7 rounds"),
        (
            true,
            Some(10_000.0),
            "Its contacts are rated for 10000 closings",
        ),
    ] {
        let cycling = serde_json::json!({"on_s": 30.0, "off_s": 90.0, "cycles": 7,
            "is_settled": is_settled, "rated_closings": rated});
        let seen = seen(&with("cycling", cycling));
        seen.says(words);
        seen.says("30.0 operations an hour");
    }
}

#[test]
fn every_answer_of_an_instantaneous_element_reads_alike_everywhere() {
    let magnetic = |first: &str, law: &str, probability: f64, latest: Option<f64>| {
        let closing = serde_json::json!({"law": law, "size_a": 120.0, "x_over_r": 2.0, "poles": 3,
            "probability": probability, "releasing": [{"from_deg": 30.0, "to_deg": 150.0}],
            "earliest_s": latest.map(|_| 0.006), "latest_s": latest});
        let check = |lower: bool, upper: bool| {
            serde_json::json!({"band": "C", "source": "a document", "multiples": [5.0, 10.0],
                "holds_lower": lower, "releases_upper": upper})
        };
        serde_json::json!({"start_a": 80.0, "static_a": null, "step_a": 90.0,
            "pick_up_rms_a": 75.0, "frequency_hz": 50.0, "closing": closing, "first": first,
            "opening": [], "band": check(probability < 0.5, latest.is_some()), "cable": null})
    };
    for (first, words) in [
        (
            "magnetic",
            "The instantaneous element opens it at once, at every closing angle",
        ),
        ("magnetic_or_strip", "in the others the strip does"),
        ("magnetic_or_none", "In the others neither element acts"),
        ("strip", "The strip acts, not the instantaneous element"),
        ("none", "Neither element acts"),
    ] {
        let seen = seen(&with(
            "magnetic",
            magnetic(first, "alternating", 0.4, Some(0.009)),
        ));
        seen.says(words);
        let (_, _) = seen.page(0);
        assert!(seen.page.lines[0].note.contains(words), "{words}: page");
        assert!(seen.tag("/magnetic/text").contains(words), "{words}: JSON");
    }
    for (law, words) in [
        ("alternating", "alternating, rms"),
        ("direct", "direct"),
        ("half_wave", "half waves, peak"),
        ("lamp", "filament lamps, warm, rms"),
        ("transformer", "transformer inrush, worst first peak"),
        ("capacitor", "charging, peak"),
    ] {
        seen(&with("magnetic", magnetic("strip", law, 0.4, Some(0.009)))).says(words);
    }
    for (probability, latest, words) in [
        (
            0.4,
            None,
            "does not release it within 0.1 s, at any closing angle",
        ),
        (
            0.4,
            Some(0.009),
            "releases it in 40 % of closings (30° to 150° after voltage zero)",
        ),
        (
            1.0,
            Some(0.009),
            "releases it at every closing angle; cleared after 6.0 ms to 9.0 ms",
        ),
        (1.0, None, "NOT MET, at either limit"),
        (
            0.4,
            None,
            "NOT MET, it does not always release at the upper limit",
        ),
        (1.0, Some(0.009), "NOT MET, it releases at the lower limit"),
    ] {
        let answer = magnetic("strip", "alternating", probability, latest);
        seen(&with("magnetic", answer)).says(words);
    }
}

#[test]
fn every_band_of_the_metals_data_reads_alike_everywhere() {
    let properties = [
        PropertyName::Density,
        PropertyName::YoungsModulus,
        PropertyName::Resistivity,
        PropertyName::ThermalConductivity,
        PropertyName::SpecificHeat,
        PropertyName::ThermalExpansion,
        PropertyName::PoissonRatio,
        PropertyName::Hardness,
    ];
    let not_asked = || serde_json::json!({"known": "not_asked"});
    let data = |trip: Value, properties: usize| {
        serde_json::json!({"properties": properties, "holds_share": 0.25, "trip_time_s": trip,
            "trip_point_a": not_asked(), "relatch_wait_s": not_asked(),
            "ready_wait_s": not_asked()})
    };
    for property in properties {
        let source = serde_json::json!({"metal": "Fe-36Ni", "property": recorded(&property),
            "from_memory": false});
        let mut share = source.clone();
        share["share"] = 0.5.into();
        let undecided = serde_json::json!({"known": "undecided", "by": source});
        let words = format!("perhaps no trip, by the {} of Fe-36Ni", property.name());
        seen(&with("metal_data", data(undecided, 9))).says(&words);
        let within = serde_json::json!({"known": "within", "low": 10.0, "high": null,
            "shares": [share]});
        let seen = seen(&with("metal_data", data(within, 9)));
        seen.says("trip 10 s to NEVER in 9 of 10 draws");
        seen.says(&format!("most: {} of Fe-36Ni", property.name()));
        seen.says("in 25 % of all it holds for ever");
        assert!(seen.tag("/metal_data/text").contains(property.name()));
    }
    seen(&with("metal_data", data(not_asked(), 9))).says("none of the answers is a number");
    seen(&with("metal_data", data(not_asked(), 0))).says("no property in use has an uncertainty");
}

/// No caution can be taken out, and whoever adds one finds it on every surface.
#[test]
fn cautions_travel_with_the_outcome() {
    let outcome = predict(&scenario(), &Options::default(), &mut |_, _| {}).expect("an outcome");
    for wanted in [
        Caution::FindCause,
        Caution::NeverHold,
        Caution::ModelEstimate,
    ] {
        assert!(outcome.cautions.contains(&wanted), "{:?}", outcome.cautions);
    }
    let whole = seen(&outcome);
    for k in 0..outcome.cautions.len() {
        whole.says(whole.tag(&format!("/cautions/{k}/text")));
        whole.says_behind(whole.tag(&format!("/cautions/{k}/text")));
    }
    let mut emptied = outcome;
    emptied.cautions.clear();
    assert_eq!(
        text(&emptied),
        text(&serde_json::from_value::<Outcome>(whole.json).expect("an outcome"))
    );
}

/// Words are for people: no source outside `present` and the readers of files compares them.
#[test]
fn no_source_compares_the_words_of_an_outcome() {
    let mut found = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
    let fields = [
        "event",
        "moment",
        "mechanism",
        "reset",
        "governs",
        "reason",
        "warning",
        "trip",
        "wait",
    ];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder)
            .expect("a folder")
            .map(Result::unwrap)
        {
            let path = entry.path();
            if path.is_dir() {
                if !path.ends_with("src/present") {
                    folders.push(path);
                }
                continue;
            }
            let Ok(source) = std::fs::read_to_string(&path) else {
                continue;
            };
            for field in fields {
                for asks in ["", ".as_str()", ".as_deref()"] {
                    for to in ["== \"", "!= \"", "== Some(\""] {
                        if source.contains(&format!(".{field}{asks} {to}")) {
                            found.push(format!("{}: {field}", path.display()));
                        }
                    }
                    if !asks.is_empty() && source.contains(&format!("match {field}{asks} {{")) {
                        found.push(format!("{}: match {field}", path.display()));
                    }
                }
            }
        }
    }
    assert!(found.is_empty(), "{found:?}");
}
