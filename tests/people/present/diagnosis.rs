use super::diagnosed::{all, crowded, late, unsure, worn};
use relatch::internals::diagnose::{Cause, Diagnosis, Energise, First, Range, Verdict};
use relatch::internals::evidence::Case;
use relatch::internals::present::plot::{diagnosis_figure, readings_figure};
use relatch::internals::present::{
    cause_words, diagnosis_json, diagnosis_screen, diagnosis_text, verdict_words, work_order,
};

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

/// What a person reads of a page: no markup, no drawing, no style; entities of quotes resolved.
fn read(html: &str) -> String {
    let mut html = html.to_owned();
    for tag in ["style", "svg"] {
        while let (Some(start), Some(end)) = (
            html.find(&format!("<{tag}")),
            html.find(&format!("</{tag}>")),
        ) {
            html.replace_range(start..end + tag.len() + 3, " ");
        }
    }
    let mut text = String::new();
    let mut is_tag = false;
    for c in html.chars() {
        match c {
            '<' => is_tag = true,
            '>' => {
                is_tag = false;
                text.push(' ');
            }
            c if !is_tag => text.push(c),
            _ => {}
        }
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn has_no_number_that_is_none(text: &str) -> bool {
    let words = text.split(|c: char| !c.is_alphanumeric());
    !words
        .map(str::to_lowercase)
        .any(|w| w == "nan" || w == "inf" || w == "infinity")
}

#[test]
fn the_screen_keeps_the_order_of_urgency_and_its_size() {
    for (diagnosis, _) in all() {
        let wrapped = diagnosis_text(&diagnosis);
        // As read, across the ends of lines.
        let text = wrapped
            .split('\n')
            .map(str::trim_start)
            .collect::<Vec<_>>()
            .join(" ");
        let order = [
            "1  May it be switched on again?",
            "Find the cause before switching on",
            "2  What is wrong?",
            "Base rule, provisional:",
            "is not \"above the rating\"",
            "3  What to do now",
            "4  What speaks for it",
            "5  What to measure next?",
            "6  How long to wait",
            "Never hold the reset button in",
            "winding may need far longer",
            "Never raise the rating",
            "maker's curve and local rules prevail",
        ];
        assert_order(&text, &order);
        assert!(has_no_number_that_is_none(&text), "{text}");
        assert!(
            wrapped.lines().all(|l| l.chars().count() <= 100),
            "{wrapped}"
        );
    }
    for ((diagnosis, _), most) in [(worn(), 64), (unsure(), 62), (late(), 52), (crowded(), 100)] {
        let text = diagnosis_text(&diagnosis);
        let lines = text.lines().count();
        assert!(lines <= most, "{lines} lines\n{text}");
    }
}

#[test]
fn the_bar_beside_the_verdict_says_what_it_shows() {
    let (diagnosis, case) = worn();
    assert!(
        diagnosis_text(&diagnosis)
            .contains("Probability that this is right: [###################.] 97 %")
    );
    assert!(read(&work_order(&diagnosis, &case)).contains("Probability that this is right: 97 %"));
    // Where nothing can be told yet, a verdict's certainty would be nonsense.
    let (diagnosis, case) = unsure();
    assert!(
        diagnosis_text(&diagnosis)
            .contains("Most probable so far, overload: [###########.........] 55 %")
    );
    assert!(read(&work_order(&diagnosis, &case)).contains("Most probable so far, overload: 55 %"));
}

#[test]
fn while_it_must_not_be_switched_on_no_wait_invites_to_reset() {
    let (diagnosis, case) = late();
    let waits = worn().0.waits;
    let told = Diagnosis {
        waits,
        ..diagnosis.clone()
    };
    assert_order(
        &diagnosis_text(&told),
        &["6  How long", "Do not reset now", "14 s"],
    );
    assert_order(
        &read(&work_order(&told, &case)),
        &["Waits after a trip", "Do not reset now", "14 s"],
    );
    assert_order(
        &diagnosis_text(&diagnosis),
        &["6  How long", "No number: do not reset."],
    );
}

#[test]
fn a_late_part_comes_before_everything_else() {
    let (mut diagnosis, case) = late();
    let text = diagnosis_text(&diagnosis);
    assert_order(
        &text,
        &[
            "!! LATE OR NO TRIP",
            "out of service now",
            "1  May it",
            "NO - do not reset",
        ],
    );
    let page = read(&work_order(&diagnosis, &case));
    assert_order(
        &page,
        &[
            "1 May it be",
            "NO - do not",
            "LATE OR NO TRIP",
            "smell of burning",
            "2 What is wrong",
        ],
    );
    // Far less than probable is told, too; a chance in a hundred is not.
    diagnosis.causes[0].probability = 0.15;
    assert_order(
        &diagnosis_text(&diagnosis),
        &["!! IT MAY TRIP TOO LATE (probability 15 %)", "1  May it"],
    );
    diagnosis.causes[0].probability = 0.01;
    assert!(!diagnosis_text(&diagnosis).contains("!!"));
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
        assert!(
            words
                .iter()
                .all(|w| !w.is_empty() && !w.contains('_') && w.chars().count() <= 40)
        );
    }
    let (diagnosis, case) = worn();
    for verdict in VERDICTS {
        let diagnosis = Diagnosis {
            verdict,
            ..diagnosis.clone()
        };
        let text = diagnosis_text(&diagnosis);
        assert!(
            text.contains(&verdict_words(verdict).to_uppercase()),
            "{text}"
        );
        assert_order(
            &text,
            &["3  What to do now", "1. ", "2. ", "4  What speaks"],
        );
        assert!(work_order(&diagnosis, &case).contains(verdict_words(verdict)));
    }
}

#[test]
fn no_step_after_any_verdict_raises_the_rating_or_works_live() {
    let (diagnosis, _) = worn();
    for verdict in VERDICTS {
        let text = diagnosis_text(&Diagnosis {
            verdict,
            ..diagnosis.clone()
        })
        .to_lowercase();
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for (at, _) in text.match_indices("higher rating") {
            assert!(text[..at].ends_with("never a "), "{text}");
        }
        for (at, _) in text.match_indices("larger one") {
            assert!(text[..at].contains("never simply a"), "{text}");
        }
    }
}

#[test]
fn two_causes_are_named_and_the_late_part_is_replaced_all_the_same() {
    let (diagnosis, _) = crowded();
    let text = diagnosis_text(&diagnosis);
    assert_order(
        &text,
        &[
            "TWO CAUSES",
            "Mend first: hot air at the protector.",
            "Replace the protector all the same",
        ],
    );
}

#[test]
fn lists_that_do_not_fit_say_so_and_stand_on_a_second_sheet() {
    let (diagnosis, case) = crowded();
    assert!(diagnosis_text(&diagnosis).contains("more, in the work order"));
    let page = read(&work_order(&diagnosis, &case));
    assert_order(
        &page,
        &[
            "Continued on sheet 2",
            "Done by, date",
            "Sheet 2: in full what did not fit",
            "Evidence",
        ],
    );
    let second = &page[page.find("Sheet 2: in full").unwrap()..];
    for line in &diagnosis.evidence {
        assert!(second.contains(line.label.trim()), "{}", line.label);
    }
    for (diagnosis, case) in [worn(), unsure(), late()] {
        assert!(
            !work_order(&diagnosis, &case).contains("Sheet 2"),
            "{}",
            diagnosis.case
        );
    }
}

#[test]
fn the_work_order_keeps_its_order_and_has_every_part() {
    for (diagnosis, case) in all() {
        let html = work_order(&diagnosis, &case);
        let page = read(&html);
        let order = [
            "Work order: ",
            "Order no.",
            "1 May it be switched on again?",
            "OSHA 1910.334(b)(2)",
            "2 What is wrong?",
            "Base rule, provisional",
            "3 What to do now",
            "4 Evidence",
            "Causes",
            "5 Next measurement",
            "Waits after a trip",
            "Never hold the reset button in",
            "6 Readings on the characteristic",
            "What would prove it wrong",
            "7 Data and assumptions",
            "If the protector is replaced",
            "Never raise the rating",
            "8 As found, as left, as new",
            "As found",
            "As left",
            "New part",
            "Cautions.",
            "How it was computed.",
            "seed 7",
            "Done by, date",
        ];
        assert_order(&page, &order);
        assert!(has_no_number_that_is_none(&page), "{page}");
        // One page, alone, without a script.
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
            "40.0 2.0 21 cold 7.10 s",
            "Old part when new",
            "20.4 s",
            "New part",
            "40.0 2.0",
        ],
    );
    assert!(work_order(&diagnosis, &case).matches("<i></i>").count() >= 12);
}

#[test]
fn texts_of_a_case_cannot_become_markup_or_commands() {
    let bad = "<script>alert(1)</script>\u{1b}[2J\" onload='x'";
    let (mut diagnosis, mut case): (Diagnosis, Case) = unsure();
    for text in [
        &mut diagnosis.case,
        &mut diagnosis.equipment,
        &mut diagnosis.sentence,
        &mut diagnosis.base_rule.sentence,
        &mut diagnosis.points[0].label,
        &mut diagnosis.version,
        &mut diagnosis.computed_with,
    ] {
        *text = bad.to_owned();
    }
    diagnosis.evidence[0].label = bad.into();
    diagnosis.evidence[1].sentence = bad.into();
    diagnosis.next[0].what = bad.into();
    diagnosis.next[0].how = bad.into();
    diagnosis.next[0].outcomes[0].outcome = bad.into();
    for list in [
        &mut diagnosis.ruled_out,
        &mut diagnosis.would_prove_wrong,
        &mut diagnosis.cannot_tell_apart,
        &mut diagnosis.cautions,
        &mut diagnosis.assumed,
        &mut case.assumed,
    ] {
        list.push(bad.to_owned());
    }
    case.nameplate.limits = Some(bad.to_owned());
    diagnosis.replacement = vec![relatch::internals::diagnose::ReplacementField {
        field: bad.into(),
        value: bad.into(),
        rule: bad.into(),
    }];
    let html = work_order(&diagnosis, &case);
    assert!(!html.contains("<script") && !html.contains('\u{1b}'));
    assert!(html.contains("&lt;script&gt;"));
    assert!(!html.contains("\" onload"));
    let text = diagnosis_text(&diagnosis);
    assert!(!text.contains('\u{1b}') && text.lines().all(|l| l.chars().count() <= 100));
}

#[test]
fn numbers_that_are_not_finite_never_reach_a_technician() {
    let (mut diagnosis, mut case) = worn();
    let none = Range {
        low: f64::NAN,
        median: f64::INFINITY,
        high: f64::NAN,
    };
    diagnosis.confidence = f64::NAN;
    diagnosis.causes[0].probability = f64::NAN;
    diagnosis.state.preload_loss = none;
    diagnosis.state.trip_point_now_a = none;
    if let Some(waits) = &mut diagnosis.waits {
        waits.reset_s = Some(none);
        waits.start_s = None;
    }
    diagnosis.next[0].minutes = f64::NAN;
    diagnosis.next[0].trips_used = f64::NAN;
    diagnosis.next[0].outcomes[0].probability = f64::INFINITY;
    diagnosis.characteristic[3].sound_s = [Some(f64::NAN), Some(f64::INFINITY), None];
    diagnosis.points[0].time_s = f64::NAN;
    diagnosis.points[1].current_uncertainty_a = f64::NAN;
    case.age_years = Some(f64::NAN);
    case.equipment_rated_a = Some(f64::INFINITY);
    let (text, html) = (diagnosis_text(&diagnosis), work_order(&diagnosis, &case));
    assert!(has_no_number_that_is_none(&text), "{text}");
    assert!(has_no_number_that_is_none(&read(&html)), "{}", read(&html));
    let drawing = html[html.find("<svg xmlns").unwrap()..].to_lowercase();
    assert!(!drawing.contains("nan") && !drawing.contains("inf,") && !drawing.contains("inf "));
}

/// The readings as a file of their own: titled, with a key, each reading in words, and the air of the curves.
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
        ">! Find the cause before switching on again",
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
    assert!(figure.svg.contains("viewBox=\"0 0 1250 700\"") && figure.svg.contains("<text"));
    let (held, _) = late();
    let held = diagnosis_figure(&held).expect("there is data");
    assert!(held.description.contains("1 of them still closed"));
    // The same shapes in ink alone: every colour of the drawing is dark enough on white for a grey printer, or it is
    // the paper, the grid or a tint.
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

/// Draws the fixtures to be looked at: `WORK_ORDERS=folder cargo test --test people work_orders -- --ignored`.
#[test]
#[ignore = "writes files to be looked at"]
fn work_orders_to_be_looked_at() {
    let Some(folder) = std::env::var_os("WORK_ORDERS") else {
        return;
    };
    let folder = std::path::PathBuf::from(folder);
    std::fs::create_dir_all(&folder).unwrap();
    for ((diagnosis, case), name) in all().iter().zip(["worn", "unsure", "late", "crowded"]) {
        std::fs::write(
            folder.join(format!("{name}.html")),
            work_order(diagnosis, case),
        )
        .unwrap();
        std::fs::write(
            folder.join(format!("{name}.txt")),
            diagnosis_text(diagnosis),
        )
        .unwrap();
        if let Some(figure) = diagnosis_figure(diagnosis) {
            std::fs::write(
                folder.join(format!("{name}.png")),
                figure.png_of_width(1200).unwrap(),
            )
            .unwrap();
        }
    }
}

/// The same for the cases that are shipped, by the real inference.
#[test]
#[ignore = "writes files to be looked at"]
fn shipped_cases_to_be_looked_at() {
    let Some(folder) = std::env::var_os("WORK_ORDERS") else {
        return;
    };
    let folder = std::path::PathBuf::from(folder);
    std::fs::create_dir_all(&folder).unwrap();
    let cases = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/cases");
    for entry in std::fs::read_dir(cases).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|e| e != "toml") {
            continue;
        }
        let case = relatch::internals::evidence::read(&path).unwrap();
        let diagnosis = relatch::internals::diagnose::diagnose(&case, 7).unwrap();
        let stem = path.file_stem().unwrap().to_string_lossy().into_owned();
        std::fs::write(
            folder.join(format!("{stem}.html")),
            work_order(&diagnosis, &case),
        )
        .unwrap();
        std::fs::write(
            folder.join(format!("{stem}.txt")),
            diagnosis_text(&diagnosis),
        )
        .unwrap();
    }
}

#[test]
fn while_a_joint_may_burn_every_output_says_not_yet_and_a_sure_joint_is_mended_first() {
    let (mut diagnosis, case) = worn();
    let after = |probability| Energise::NotYet {
        after: vec![First::ReMakeTheConnection { probability }],
    };
    diagnosis.energise = after(0.95);
    diagnosis.verdict = Verdict::NotEnoughEvidence;
    let told = [
        "NOT YET",
        "joint",
        "95 %",
        "Cut back and re-make",
        "change no other part",
    ];
    assert_order(&diagnosis_text(&diagnosis), &told);
    assert_order(&diagnosis_screen(&diagnosis, &case), &told[..4]);
    assert_order(&read(&work_order(&diagnosis, &case)), &told[..4]);
    let json = diagnosis_json(&diagnosis).expect("JSON");
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let energise = &json["energise"];
    assert_eq!(energise["answer"], "not_yet");
    assert_eq!(energise["allowed"], false);
    assert_eq!(energise["after"][0]["first"], "re_make_the_connection");
    assert!(
        energise["text"]
            .as_str()
            .is_some_and(|t| t.starts_with("NOT YET"))
    );
    diagnosis.energise = after(0.4);
    let text = diagnosis_text(&diagnosis);
    assert!(
        text.contains("NOT YET") && !text.contains("Cut back and re-make"),
        "{text}"
    );
}
