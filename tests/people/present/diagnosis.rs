//! A diagnosis on every surface: screen, full text, work order, JSON.

use super::diagnosed::{all, crowded, late, unsure, worn};
use crate::screens::{
    LINES, WORDS, assert_reads_well, has_no_number_that_is_none, one_line, read, screen_of,
    surfaces,
};
use crate::support::made;
use relatch::internals::answer::WhyNever;
use relatch::internals::diagnose::*;
use relatch::internals::evidence::{Case, Joints};
use relatch::internals::family::{Assumed, PartsWait, Spread};
use relatch::internals::present::block::{Screen, terminal};
use relatch::internals::present::plot::{diagnosis_figure, readings_figure};
use relatch::internals::present::{
    cause_words, diagnosis_blocks, diagnosis_full_blocks, diagnosis_json, verdict_words, work_order,
};
use serde_json::Value;

const VERDICTS: [Verdict; 8] = [
    Verdict::DoNotReEnergise,
    Verdict::ReplaceTheProtector,
    Verdict::FindTheLoad,
    Verdict::CoolOrReRate,
    Verdict::ReMakeTheConnection,
    Verdict::TwoCauses,
    Verdict::NothingToMend,
    Verdict::NotEnoughEvidence,
];

/// Where each stands, which must be in this order.
fn assert_order(text: &str, order: &[&str]) {
    let mut from = 0;
    for needle in order {
        match text[from..].find(needle) {
            Some(at) => from += at + needle.len(),
            None => panic!("{needle:?} is missing or stands too early\n{text}"),
        }
    }
}

/// What the JSON says at a path.
fn json(diagnosis: &Diagnosis) -> Value {
    let text = diagnosis_json(diagnosis).expect("JSON");
    serde_json::from_str(&text).expect("JSON")
}

#[test]
fn every_surface_keeps_the_order_of_urgency() {
    for (diagnosis, case) in all() {
        for (k, text) in surfaces(&diagnosis, &case).into_iter().enumerate() {
            // The screen has no room for sources, and where it gives no wait none is too short for
            // a winding.
            let is_screen = k == 0;
            let gives_waits = !is_screen || diagnosis.energise == Energise::Yes;
            let order = [
                "May it be switched on again?",
                "Find the cause",
                if is_screen { "" } else { "OSHA 1910.334(b)(2)" },
                "What is wrong?",
                verdict_words(diagnosis.verdict).to_uppercase().as_str(),
                "What to do now",
                "1.",
            ]
            .map(str::to_owned);
            let order: Vec<&str> = order.iter().map(String::as_str).collect();
            assert_order(&text, &order);
            for said in [
                "after a trip",
                "Never hold",
                if gives_waits { "winding may" } else { "" },
                "Never raise the rating",
                "maker's curve",
                "seed 7",
            ] {
                assert!(text.contains(said), "{said}\n{text}");
            }
            assert!(has_no_number_that_is_none(&text), "{text}");
        }
    }
}

#[test]
fn the_screen_fits_any_width_and_is_read_in_seconds() {
    for (diagnosis, case) in [worn(), unsure(), late()] {
        for columns in [40, 80, 100, 160] {
            let screen = screen_of(columns, &diagnosis, &case);
            let most = screen.lines().map(|l| l.chars().count()).max();
            assert!(most.is_some_and(|m| m <= columns), "{screen}");
        }
        let screen = screen_of(80, &diagnosis, &case);
        assert!(screen.lines().count() <= LINES, "{screen}");
        assert!(screen.split_whitespace().count() <= WORDS, "{screen}");
        assert!(!screen.contains('…'), "nothing is cut\n{screen}");
    }
}

/// Each caution stands where it is needed, once, and only where it concerns.
#[test]
fn cautions_stand_where_they_concern() {
    let (diagnosis, case) = worn();
    let [screen, full, order] = surfaces(&diagnosis, &case);
    for text in [&screen, &full, &order] {
        assert!(
            !text.contains("Live work") && !text.contains("Live measuring"),
            "{text}"
        );
        assert_order(text, &["What", "rce a trip only with the part removed"]);
    }
    let (diagnosis, case) = unsure();
    let [screen, ..] = surfaces(&diagnosis, &case);
    assert_eq!(screen.matches("Live work: qualified people").count(), 1);
    assert_order(
        &screen,
        &["What to measure next?", "Live work", "Wait after a trip?"],
    );
}

#[test]
fn nothing_told_yet_is_not_told_as_sure() {
    let (diagnosis, case) = unsure();
    for (k, text) in surfaces(&diagnosis, &case).into_iter().enumerate() {
        let likely = [
            "Most likely so far: overload",
            "What is likeliest to help so far: the machine draws too much",
        ][k.min(1)];
        assert!(text.contains(likely), "{text}");
        assert!(!text.contains(" sure)"), "{text}");
    }
    let (diagnosis, case) = worn();
    for text in surfaces(&diagnosis, &case) {
        assert!(text.contains("REPLACE THE PROTECTOR (97 % sure)"), "{text}");
    }
}

#[test]
fn while_it_must_not_be_switched_on_no_wait_invites_to_reset() {
    let (diagnosis, case) = late();
    let told = made!(Diagnosis {
        waits: worn().0.waits,
        ..diagnosis.clone()
    });
    let [screen, full, order] = surfaces(&told, &case);
    assert!(screen.contains("Do not reset now.") && !screen.contains("14 s"));
    for text in [full, order] {
        assert_order(&text, &["after a trip", "Do not reset now", "14 s"]);
    }
    for text in &surfaces(&diagnosis, &case)[1..] {
        assert!(text.contains("No number: do not reset."), "{text}");
    }
}

#[test]
fn never_is_never_on_every_surface() {
    let (mut diagnosis, case) = worn();
    let never = f64::INFINITY;
    let over = |waits: &[(f64, f64)]| PartsWait::over(waits, WhyNever::StaysWarm);
    let reset = over(&[(600.0, 0.24), (never, 0.76)]);
    let start = over(&[(60.0, 0.6), (90.0, 0.36), (never, 0.04)]);
    diagnosis.waits = Some(made!(Waits {
        by_own_load: false,
        reset,
        start,
    }));
    for text in surfaces(&diagnosis, &case) {
        assert!(
            text.contains("If it trips at twice the rating: reset NEVER (76 %): in this air"),
            "{text}"
        );
        assert!(text.contains("19 of 20), NEVER in 4 %"), "{text}");
    }
    let json = json(&diagnosis);
    assert_eq!(json["waits"]["reset"]["half"]["wait"], "never");
    assert_eq!(json["waits"]["reset"]["never"], 0.76);
}

#[test]
fn a_late_part_comes_before_everything_else() {
    let (mut diagnosis, case) = late();
    for text in surfaces(&diagnosis, &case) {
        assert_order(
            &text,
            &[
                "LATE OR NO TRIP",
                "out of service now",
                "May it",
                "NO: do not reset",
            ],
        );
        assert!(text.contains("Smell or smoke"), "{text}");
    }
    // Far less than probable is told, too; a chance in a hundred is not.
    diagnosis.causes[0].probability = 0.15;
    for text in surfaces(&diagnosis, &case) {
        assert_order(
            &text,
            &["IT MAY TRIP TOO LATE (probability 15 %)", "May it"],
        );
    }
    diagnosis.causes[0].probability = 0.01;
    for text in surfaces(&diagnosis, &case) {
        assert!(!text.contains("TOO LATE"), "{text}");
    }
}

#[test]
fn every_cause_and_verdict_has_words_of_its_own() {
    let causes: Vec<&str> = Cause::ALL.iter().map(|c| cause_words(*c)).collect();
    let verdicts: Vec<&str> = VERDICTS.iter().map(|v| verdict_words(*v)).collect();
    for words in [&causes, &verdicts] {
        let mut unique = (*words).clone();
        unique.sort_unstable();
        unique.dedup();
        assert_eq!(unique.len(), words.len());
        assert!(words.iter().all(|w| !w.is_empty() && !w.contains('_')));
    }
    let (diagnosis, case) = worn();
    for verdict in VERDICTS {
        let diagnosis = made!(Diagnosis {
            verdict,
            ..diagnosis.clone()
        });
        for text in surfaces(&diagnosis, &case) {
            assert_order(&text, &["What to do now", "1. "]);
            let text = text.to_lowercase();
            for (at, _) in text.match_indices("higher rating") {
                let before = &text[..at];
                assert!(
                    before.ends_with("never a ") || before.ends_with("never fit a "),
                    "{text}"
                );
            }
            for (at, _) in text.match_indices("larger one") {
                assert!(text[..at].contains("never simply a"), "{text}");
            }
        }
    }
}

#[test]
fn two_causes_are_named_and_the_worn_part_is_replaced_all_the_same() {
    let (diagnosis, case) = crowded();
    for text in surfaces(&diagnosis, &case) {
        assert_order(
            &text,
            &[
                "TWO CAUSES",
                "Mend first: hot air at the protector.",
                "Replace the protector all the same",
            ],
        );
    }
}

/// Nothing is cut: what has no room is counted.
#[test]
fn what_has_no_room_is_counted() {
    let (diagnosis, case) = crowded();
    let [screen, full, order] = surfaces(&diagnosis, &case);
    assert!(screen.contains(" of 20 pieces)"), "{screen}");
    assert!(order.contains("more in the full text"), "{order}");
    for e in &diagnosis.evidence {
        assert!(full.contains(e.label.trim()), "{}", e.label);
    }
    for text in [screen, full, order] {
        assert!(!text.contains('…'), "{text}");
    }
}

#[test]
fn while_a_joint_may_burn_every_surface_says_not_yet_and_a_sure_joint_is_mended_first() {
    let (mut diagnosis, case) = worn();
    let after = |probability| Energise::NotYet {
        after: vec![First::ReMakeTheConnection {
            probability,
            found: None,
            shows: None,
        }],
    };
    diagnosis.energise = after(0.95);
    diagnosis.verdict = Verdict::NotEnoughEvidence;
    diagnosis.mend_first = vec![Verdict::ReMakeTheConnection];
    for text in surfaces(&diagnosis, &case) {
        let told = [
            "NOT YET",
            "joint",
            "95 %",
            "Cut back and re-make",
            "change no other part",
        ];
        assert_order(&text, &told);
    }
    let energise = &json(&diagnosis)["energise"];
    assert_eq!(energise["answer"], "not_yet");
    assert_eq!(energise["allowed"], false);
    assert_eq!(energise["after"][0]["first"], "re_make_the_connection");
    assert!(
        energise["text"]
            .as_str()
            .is_some_and(|t| t.starts_with("NOT YET"))
    );
    diagnosis.energise = after(0.4);
    diagnosis.mend_first.clear();
    for text in surfaces(&diagnosis, &case) {
        assert!(
            text.contains("NOT YET") && !text.contains("Cut back and re-make"),
            "{text}"
        );
    }
}

/// Every measurement and every side of its threshold: the same words on every surface and in the
/// JSON.
#[test]
fn every_measurement_is_said_alike_everywhere() {
    let (mut diagnosis, case) = worn();
    let all = [
        (Measurement::RunningCurrent, 12.3, "up to 12.3 A"),
        (Measurement::CurrentUpToTheTrip, 12.3, "above 12.3 A"),
        (Measurement::AirAtThePart, 41.0, "above 41 °C"),
        (
            Measurement::DropBesideASister,
            1.8,
            "above 1.8 times the sister's",
        ),
        (Measurement::TerminalTemperatures, 9.0, "up to 9 K apart"),
        (
            Measurement::TimedTrip { current_a: 40.0 },
            12.0,
            "trips later than 12 s",
        ),
        (
            Measurement::TimedTrip { current_a: 40.0 },
            300.0,
            "no trip in 5 min",
        ),
        (
            Measurement::HoldTest { current_a: 20.0 },
            7200.0,
            "holds for 2 h",
        ),
        (
            Measurement::HoldTest { current_a: 20.0 },
            600.0,
            "carries it longer than 10 min",
        ),
        (Measurement::CaptureOfAStart, 2.0, "lasts longer than 2.0 s"),
        (Measurement::SwapWithATwin, 1.0, "the twin trips too"),
    ];
    for (measurement, value, said) in all {
        diagnosis.next[0].measurement = measurement;
        diagnosis.next[0].results[0].shows = Shows::UpTo { value };
        diagnosis.next[0].results[1].shows = Shows::Above { value };
        let json = json(&diagnosis);
        let next = &json["next"][0];
        let results = [&next["results"][0]["text"], &next["results"][1]["text"]];
        let texts = results.map(|r| r.as_str().expect("words"));
        assert!(
            texts.iter().any(|t| t.starts_with(said)),
            "{said}: {texts:?}"
        );
        // The screen may have no room for how, nor for what it would mean; then it is left out where
        // it is known what to do.
        for (k, text) in surfaces(&diagnosis, &case).into_iter().enumerate() {
            let what = next["text"].as_str().expect("words");
            let how = next["how"].as_str().expect("words");
            let all = [&[what][..], &[how], &texts].concat();
            let is_left_out = k == 0 && !text.contains("What to measure next?");
            let most = match (k, is_left_out) {
                (0, true) => 0,
                (0, false) => 1,
                _ => all.len(),
            };
            for said in &all[..most] {
                assert!(text.contains(said), "{said}\n{text}");
            }
        }
    }
}

/// What the record holds is read back from its JSON, for every kind of evidence.
#[test]
fn a_diagnosis_is_read_back_from_its_json() {
    for (mut diagnosis, _) in [worn(), unsure(), late()] {
        diagnosis.state.trip_point_now_a.high = 30.0;
        let text = diagnosis_json(&diagnosis).expect("JSON");
        let back: Diagnosis = serde_json::from_str(&text).expect("read back");
        assert_eq!(back, diagnosis);
        assert!(!text.contains("-0.0"), "{text}");
    }
    let json = json(&worn().0);
    assert_eq!(json["format"], 3);
    for list in [
        "causes",
        "evidence",
        "otherwise",
        "still_open",
        "cautions",
        "assumed",
    ] {
        let items = json[list].as_array().expect("a list");
        let worded = |item: &Value| item["text"].as_str().is_some_and(|t| !t.is_empty());
        assert!(
            !items.is_empty() && items.iter().all(worded),
            "{list}: {items:?}"
        );
    }
}

#[test]
fn ruled_lines_wait_for_what_nobody_knows() {
    let (diagnosis, case) = worn();
    let page = read(&work_order(&diagnosis, &case));
    assert_order(
        &page,
        &["20 A at 23 °C", "Interrupting capacity", "Approvals"],
    );
    // As found by the case, the old label, and the current for the new part at twice the rating.
    assert_order(
        &page,
        &[
            "As found",
            "40.0 2.0 21 °C cold 7.10 s",
            "Old part when new",
            "20.4 s",
            "New part",
            "40.0 2.0",
        ],
    );
    assert!(work_order(&diagnosis, &case).matches("<i></i>").count() >= 12);
}

#[test]
fn a_work_order_is_one_page_without_script() {
    for (diagnosis, case) in all() {
        let html = work_order(&diagnosis, &case);
        for foreign in [
            "<script",
            "http-equiv",
            "<link",
            "src=",
            "url(http",
            "@import",
            "onclick",
        ] {
            assert!(!html.contains(foreign), "{foreign}");
        }
        assert_eq!(html.matches("<main>").count(), 1);
        for tag in ["section", "div", "table", "p", "ol", "ul", "figure", "svg"] {
            let opened = html.matches(&format!("<{tag}>")).count()
                + html.matches(&format!("<{tag} ")).count();
            assert_eq!(opened, html.matches(&format!("</{tag}>")).count(), "{tag}");
        }
    }
}

#[test]
fn texts_of_a_case_cannot_become_markup_or_commands() {
    let bad = "<script>alert(1)</script>\u{1b}[2J\" onload='x'";
    let (mut diagnosis, mut case): (Diagnosis, Case) = unsure();
    for text in [
        &mut diagnosis.case,
        &mut diagnosis.equipment,
        &mut diagnosis.points[0].label,
        &mut diagnosis.version,
        &mut diagnosis.evidence[0].label,
    ] {
        *text = bad.to_owned();
    }
    diagnosis.assumed = vec![Assumed::TimeNotKnown { line: bad.into() }];
    case.nameplate.limits = Some(bad.to_owned());
    let html = work_order(&diagnosis, &case);
    assert!(!html.contains("<script") && !html.contains('\u{1b}'));
    assert!(html.contains("&lt;script&gt;"));
    assert!(!html.contains("\" onload"));
    for blocks in [
        diagnosis_blocks(&diagnosis, &case),
        diagnosis_full_blocks(&diagnosis, &case),
    ] {
        let text = terminal(&blocks, Screen::PLAIN);
        assert!(!text.contains('\u{1b}'), "{text}");
    }
}

#[test]
fn numbers_that_are_not_finite_never_reach_a_technician() {
    let (mut diagnosis, mut case) = worn();
    let none = made!(Spread {
        low: f64::NAN,
        median: f64::INFINITY,
        high: f64::NAN,
        ..Spread::default()
    });
    diagnosis.confidence = f64::NAN;
    diagnosis.causes[0].probability = f64::NAN;
    diagnosis.state.preload_loss = none;
    diagnosis.state.trip_point_now_a = none;
    diagnosis.next[0].minutes = f64::NAN;
    diagnosis.next[0].trips_used = f64::NAN;
    diagnosis.next[0].results[0].probability = f64::INFINITY;
    diagnosis.characteristic[3].sound_s = [Some(f64::NAN), Some(f64::INFINITY), None];
    diagnosis.points[0].time_s = f64::NAN;
    diagnosis.points[1].current_uncertainty_a = f64::NAN;
    case.age_years = Some(f64::NAN);
    case.equipment_rated_a = Some(f64::INFINITY);
    for text in surfaces(&diagnosis, &case) {
        assert!(has_no_number_that_is_none(&text), "{text}");
    }
    let html = work_order(&diagnosis, &case);
    let drawing = html[html.find("<svg xmlns").unwrap()..].to_lowercase();
    assert!(!drawing.contains("nan") && !drawing.contains("inf,") && !drawing.contains("inf "));
}

/// What speaks about a joint is shown for a joint, wherever it stands in the case.
#[test]
fn the_evidence_that_bears_on_the_verdict_is_chosen() {
    let (mut diagnosis, case) = worn();
    let [screen, ..] = surfaces(&diagnosis, &case);
    assert!(
        screen.contains("7.1 s at 40.0 A on a bench") && !screen.contains("of the sister"),
        "{screen}"
    );
    diagnosis.verdict = Verdict::ReMakeTheConnection;
    diagnosis.causes[0].cause = Cause::BadConnection;
    let [screen, ..] = surfaces(&diagnosis, &case);
    assert!(screen.contains("times that of the sister"), "{screen}");
}

/// The shipped cases by the real inference: a screen that fits and shows the strongest piece of
/// evidence, on every surface the same verdict and every caution, and on pages no word of the
/// command line. The screens of `tests/field` are held where those are judged.
#[test]
fn shipped_cases_fit_the_screen() {
    let folder = std::env::var_os("WORK_ORDERS").map(std::path::PathBuf::from);
    let paths = std::fs::read_dir("scenarios/cases").unwrap();
    let cases = paths
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"));
    let mut seen = 0;
    for path in cases {
        let case = relatch::internals::evidence::read(&path).unwrap();
        let stem = path.file_stem().unwrap().to_string_lossy().into_owned();
        let diagnosis = diagnose(&case, 7).unwrap();
        let screen = assert_reads_well(&diagnosis, &case);
        // A handful of steps, and no trips are spent where it is known what to do.
        assert!(!screen.contains("\n  6. "), "{screen}");
        let is_open = diagnosis.verdict == Verdict::NotEnoughEvidence;
        let spends = |n: &NextMeasurement| n.trips_used > 0.0;
        assert!(is_open || !diagnosis.next.iter().any(spends), "{screen}");
        let has_evidence = diagnosis.evidence.is_empty() || !screen.contains("(0 of ");
        assert!(has_evidence, "{}\n{screen}", path.display());
        if let Some(folder) = &folder {
            let order = work_order(&diagnosis, &case);
            std::fs::write(folder.join(format!("{stem}.html")), order).unwrap();
            std::fs::write(folder.join(format!("{stem}.screen.txt")), screen).unwrap();
        }
        seen += 1;
    }
    assert!(seen >= 9);
}

/// The readings as a file of their own: titled, with a key, each reading in words, and the air of
/// the curves.
#[test]
fn the_readings_as_a_sheet_explain_themselves() {
    let (diagnosis, _) = worn();
    let sheet = readings_figure(&diagnosis).expect("there is data");
    let air = format!(
        "in the reference air of {} °C",
        diagnosis.reference_ambient_c
    );
    for words in [
        "Readings on the characteristic",
        diagnosis.case.as_str(),
        "90 % of sound parts of this nameplate",
        "this part as it now seems",
        air.as_str(),
        diagnosis.points[0].label.trim(),
        ">! Find the cause first",
    ] {
        assert!(sheet.svg.contains(words), "{words}");
    }
    let mut hot = diagnosis.clone();
    hot.state.air_at_the_part_c.median = diagnosis.reference_ambient_c + 30.0;
    let hot = readings_figure(&hot).expect("there is data");
    assert!(hot.svg.contains("where it trips sooner"));
    assert!(!sheet.svg.contains("where it trips sooner"));
}

#[test]
fn the_figure_tells_everything_without_colour() {
    let (diagnosis, _) = worn();
    let figure = diagnosis_figure(&diagnosis).expect("there is data");
    assert!(
        figure
            .description
            .contains("3 measured points are marked, 0 of them still closed")
    );
    assert!(figure.svg.contains("viewBox=\"0 0 960 520\"") && figure.svg.contains("<text"));
    let (held, _) = late();
    let held = diagnosis_figure(&held).expect("there is data");
    assert!(held.description.contains("1 of them still closed"));
    // The same shapes in ink alone: every colour of the drawing is dark enough on white for a grey
    // printer, or it is the paper, the grid or a tint.
    let png = figure.png_of_width(1200).unwrap();
    let picture = resvg::tiny_skia::Pixmap::decode_png(&png).unwrap();
    let dark = picture
        .pixels()
        .iter()
        .filter(|p| luminance(p.red(), p.green(), p.blue()) < 0.45)
        .count();
    assert!(dark > 8000, "{dark}");
    // Readings and bands gone: nothing to draw, and no error.
    let mut empty = diagnosis.clone();
    empty.points.clear();
    empty.characteristic.clear();
    assert!(diagnosis_figure(&empty).is_none());
}

fn luminance(red: u8, green: u8, blue: u8) -> f64 {
    (0.2126 * f64::from(red) + 0.7152 * f64::from(green) + 0.0722 * f64::from(blue)) / 255.0
}

/// Writes the fixtures to be looked at: `WORK_ORDERS=folder cargo test --test people diagnosis`.
#[test]
fn work_orders_to_be_looked_at() {
    let Some(folder) = std::env::var_os("WORK_ORDERS").map(std::path::PathBuf::from) else {
        return;
    };
    std::fs::create_dir_all(&folder).unwrap();
    for ((diagnosis, case), name) in all().iter().zip(["worn", "unsure", "late", "crowded"]) {
        let order = work_order(diagnosis, case);
        std::fs::write(folder.join(format!("{name}.html")), order).unwrap();
        let full = terminal(&diagnosis_full_blocks(diagnosis, case), Screen::PLAIN);
        std::fs::write(folder.join(format!("{name}.txt")), full).unwrap();
    }
}

/// Whatever else is planned: a part of another marking is exchanged, a motor that stands is looked at,
/// a joint that was measured to be hot is re-made, all of it isolated.
#[test]
fn what_is_certain_comes_before_the_plan_and_isolated() {
    let (mut diagnosis, case) = worn();
    diagnosis.verdict = Verdict::NotEnoughEvidence;
    diagnosis.mend = Vec::new();
    let hot = First::ReMakeTheConnection {
        probability: 0.2,
        found: None,
        shows: Some(BadJoint::Heat { heat_w: 25.0 }),
    };
    let apart = First::ReMakeTheConnection {
        probability: 0.97,
        found: None,
        shows: Some(BadJoint::Apart { apart_k: 67.0 }),
    };
    let marked = First::ReMakeTheConnection {
        probability: 0.6,
        found: Some(Joints::MarksOfHeat),
        shows: None,
    };
    let asked = [
        (
            First::FitThePartOfTheDrawing,
            "not that of the drawing",
            "Fit the part",
        ),
        (
            First::LookWhyItHums,
            "It hums and stands",
            "Look, dead: does it turn freely",
        ),
        (hot, "makes 25 W more", "Cut back and re-make"),
        (apart, "67 K hotter", "Cut back and re-make"),
        (marked, "marks of heat", "Cut back and re-make"),
    ];
    for (first, answer, step) in asked {
        diagnosis.energise = Energise::NotYet { after: vec![first] };
        for text in surfaces(&diagnosis, &case) {
            let told = ["NOT YET", answer, "Switch off, lock, prove dead", step];
            assert_order(&text, &told);
        }
    }
}

/// A fuse is soon looked at: a lost phase stands beside what is more probable.
#[test]
fn a_lost_phase_that_may_be_is_looked_for_beside_a_stiff_drive() {
    let (mut diagnosis, case) = worn();
    diagnosis.verdict = Verdict::FindTheLoad;
    diagnosis.mend = vec![Verdict::FindTheLoad];
    let mut told = |probability| {
        diagnosis.causes.retain(|c| c.cause != Cause::LostPhase);
        let mut share = diagnosis.causes[0];
        (share.cause, share.probability) = (Cause::LostPhase, probability);
        diagnosis.causes.push(share);
        let text = one_line(&terminal(
            &diagnosis_blocks(&diagnosis, &case),
            Screen::new(80, false),
        ));
        ["a blown fuse", "a stiff or blocked drive"].map(|said| text.contains(said))
    };
    assert_eq!(
        [0.05, 0.3, 0.6].map(&mut told),
        [[false, true], [true, true], [true, false]]
    );
}

/// What the answer above asks for first is the first step, unless the mend sees to it.
#[test]
fn what_must_come_before_it_runs_is_the_first_step() {
    let (mut diagnosis, case) = worn();
    diagnosis.energise = Energise::NotYet {
        after: vec![
            First::ReMakeTheConnection {
                probability: 0.2,
                found: None,
                shows: None,
            },
            First::TimeATrip {
                probability: 0.2,
                passed: None,
                in_window: false,
            },
        ],
    };
    let steps = |diagnosis: &Diagnosis| {
        let text = one_line(&terminal(
            &diagnosis_blocks(diagnosis, &case),
            Screen::new(80, false),
        ));
        assert_eq!(
            text.matches("Switch off, lock, prove dead").count(),
            1,
            "{text}"
        );
        assert!(
            text.contains("1. Switch off, lock, prove dead, let it cool. First"),
            "{text}"
        );
        ["cool. First look at both joints", "First time a trip"].map(|said| text.contains(said))
    };
    // A new part is not late.
    diagnosis.mend = vec![Verdict::ReplaceTheProtector];
    assert_eq!(steps(&diagnosis), [true, false]);
    diagnosis.verdict = Verdict::FindTheLoad;
    diagnosis.mend = vec![Verdict::FindTheLoad];
    assert_eq!(steps(&diagnosis), [true, true]);
    let mut low = diagnosis.clone();
    low.still_open = vec![StillOpen::SupplyIsOff {
        over_nominal: 0.82,
        draws_more: Some(true),
    }];
    low.evidence.truncate(2);
    let text = one_line(&terminal(
        &diagnosis_blocks(&low, &case),
        Screen::new(80, false),
    ));
    assert!(text.contains("1. Mend the supply first: at 82 %"), "{text}");
    diagnosis.verdict = Verdict::ReMakeTheConnection;
    diagnosis.mend = vec![Verdict::ReMakeTheConnection];
    assert_eq!(steps(&diagnosis), [false, true]);
}

/// Both causes of one verdict: what is done differs, and the plate stands beside the rating.
#[test]
fn a_rating_that_does_not_suit_the_machine_is_not_a_hot_place() {
    let (mut diagnosis, case) = worn();
    diagnosis.verdict = Verdict::CoolOrReRate;
    diagnosis.mend = vec![Verdict::CoolOrReRate];
    for share in &mut diagnosis.causes {
        share.probability = f64::from(u8::from(share.cause == Cause::WrongRating));
    }
    diagnosis.evidence.push(Evidence {
        label: "the machine's plate".into(),
        says: Says::Plate {
            rated_a: 24.0,
            over_rated: 1.2,
            drawn: None,
        },
    });
    let screen = |diagnosis: &Diagnosis| {
        let blocks = diagnosis_blocks(diagnosis, &case);
        one_line(&terminal(&blocks, Screen::new(80, false)))
    };
    let text = screen(&diagnosis);
    assert_order(
        &text,
        &[
            "PLATE 24 A, PROTECTOR 20 A",
            "wire and supply allow",
            "Never simply a larger",
        ],
    );
    assert!(
        !text.contains("COOL THE PLACE") && !text.contains("Shade"),
        "{text}"
    );
    // A dial is set to the plate, as far as it reaches.
    diagnosis.assumed.push(Assumed::SetByDial {
        rating_a: 25.0,
        setting_a: 20.0,
    });
    let text = screen(&diagnosis);
    assert_order(
        &text,
        &[
            "PLATE 24 A, DIAL AT 20 A",
            "Set the dial to the plate's 24 A",
        ],
    );
    diagnosis.assumed.pop();
    diagnosis.assumed.push(Assumed::SetByDial {
        rating_a: 23.0,
        setting_a: 20.0,
    });
    assert!(!screen(&diagnosis).contains("Set the dial"));
}

#[test]
fn a_supply_is_mended_first_where_the_load_draws_more_for_it() {
    let (mut diagnosis, case) = worn();
    diagnosis.verdict = Verdict::FindTheLoad;
    diagnosis.mend = vec![Verdict::FindTheLoad];
    diagnosis.evidence.truncate(2);
    let mut first = |over_nominal, draws_more| {
        diagnosis.still_open = vec![StillOpen::SupplyIsOff {
            over_nominal,
            draws_more,
        }];
        let blocks = diagnosis_blocks(&diagnosis, &case);
        let text = one_line(&terminal(&blocks, Screen::new(80, false)));
        let step = text.split("1. ").nth(1).expect("a step");
        step.split(". ").next().unwrap_or_default().to_owned()
    };
    assert!(first(0.75, Some(true)).ends_with("a motor draws more"));
    assert!(first(1.14, Some(true)).ends_with("a heater draws more"));
    assert!(first(0.75, None).contains("a heater less"));
    assert!(!first(0.75, Some(false)).contains("supply"));
}

/// Bench tests alone, and what they decide.
#[test]
fn a_part_on_a_bench_has_no_machine_to_mend() {
    let (mut diagnosis, case) = unsure();
    diagnosis.bench_only = true;
    let hold = NextMeasurement {
        measurement: Measurement::HoldTest { current_a: 10.0 },
        information_bits: 0.2,
        minutes: 130.0,
        trips_used: 0.3,
        results: Vec::new(),
    };
    let measured = Action::Measure {
        measurement: hold.measurement,
    };
    let mut step = serde_json::to_value(measured).expect("JSON");
    step["minutes"] = 130.0.into();
    step["trips_used"] = 0.3.into();
    step["results"] = serde_json::json!([]);
    diagnosis.plan = vec![serde_json::from_value::<Step>(step).expect("a step")];
    let blocks = diagnosis_blocks(&diagnosis, &case);
    let text = one_line(&terminal(&blocks, Screen::new(80, false)));
    assert_order(
        &text,
        &["Hold test at rated current", "in doubt do not refit it"],
    );
    for word in ["until it runs", "Reset once", "running unattended"] {
        assert!(!text.contains(word), "{word}: {text}");
    }
}

/// One joint in sixteen and three in four do not read alike; what the rule asks is said of the one.
#[test]
fn how_probable_a_bad_joint_is_can_be_heard() {
    let (mut diagnosis, case) = worn();
    let mut told = |probability| {
        diagnosis.energise = Energise::NotYet {
            after: vec![First::ReMakeTheConnection {
                probability,
                found: None,
                shows: None,
            }],
        };
        let [screen, ..] = surfaces(&diagnosis, &case);
        [
            "not ruled out (6 %, the limit is 5 %)",
            "may be bad (40 %)",
            "most probably bad (75 %)",
        ]
        .map(|said| screen.contains(said))
    };
    assert_eq!(told(0.06), [true, false, false]);
    assert_eq!(told(0.4), [false, true, false]);
    assert_eq!(told(0.75), [false, false, true]);
}

/// A time that is hardly ever too late has no end that anybody could read.
#[test]
fn what_would_fit_has_no_end_where_there_is_none() {
    let (mut diagnosis, case) = late();
    diagnosis.does_not_fit[0].expected = Some(Expected::NotBeforeS(3.4));
    for text in &surfaces(&diagnosis, &case)[1..] {
        assert!(text.contains("3.4 s or later would fit"), "{text}");
    }
}
