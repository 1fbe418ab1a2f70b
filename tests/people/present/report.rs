use super::fabricated;
use super::markup::{as_xml, stands_alone, texts};
use relatch::internals::answer::Held;
use relatch::internals::predict::{Outcome, Warning};
use relatch::internals::present::report_html;
use relatch::internals::scenario::{Scenario, read};
use std::path::Path;

fn scenario(file: &str) -> Scenario {
    let path = format!("{}/scenarios/{file}", env!("CARGO_MANIFEST_DIR"));
    read(Path::new(&path)).expect("a scenario")
}

fn report(outcome: &Outcome) -> String {
    report_html(outcome, &scenario("01-pug-mill.toml"))
}

#[test]
fn answers_come_before_figures_and_inputs() {
    let html = report(&fabricated::latch());
    stands_alone(&html);
    let at = |needle: &str| html.find(needle).unwrap_or_else(|| panic!("no {needle:?}"));
    let order = [
        "<h1>",
        "May it be energised?",
        "Does it trip?",
        "YES, 12.61 s",
        "How long to wait",
        "<figcaption>Figure 1.",
        ">Tables</h2>",
        ">What was put in</h2>",
        "Where the layer values come from",
        ">How sure</h2>",
        "Not modelled",
    ];
    assert!(order.windows(2).all(|w| at(w[0]) < at(w[1])));
}

#[test]
fn the_page_is_well_formed_and_readable_without_eyes() {
    for outcome in [
        fabricated::latch(),
        fabricated::holds(),
        fabricated::winding(),
        fabricated::blade(),
    ] {
        let html = report(&outcome);
        let xml = as_xml(&html);
        let page = roxmltree::Document::parse(&xml).expect("well formed");
        assert!(html.starts_with("<!DOCTYPE html>\n<html lang=\"en\">"));
        assert_eq!(texts(&page, "h1").len(), 1);
        // Headings never skip a level.
        let levels: Vec<u32> = page
            .descendants()
            .filter_map(|n| n.tag_name().name().strip_prefix('h')?.parse().ok())
            .collect();
        assert!(levels.windows(2).all(|w| w[1] <= w[0] + 2), "{levels:?}");
        for table in page.descendants().filter(|n| n.has_tag_name("table")) {
            let head = |scope: &str| {
                table
                    .descendants()
                    .any(|n| n.has_tag_name("th") && n.attribute("scope") == Some(scope))
            };
            assert!(head("col") && head("row"));
            assert!(table.descendants().any(|n| n.has_tag_name("caption")));
        }
        let svg = "http://www.w3.org/2000/svg";
        let figures: Vec<_> = page
            .descendants()
            .filter(|n| n.has_tag_name((svg, "svg")))
            .collect();
        assert!(figures.len() >= 4);
        for figure in figures {
            assert_eq!(figure.attribute("role"), Some("img"));
            let has = |tag| figure.children().any(|c| c.has_tag_name((svg, tag)));
            assert!(has("title") && has("desc"));
        }
        let mut ids: Vec<&str> = page
            .descendants()
            .filter_map(|n| n.attribute("id"))
            .collect();
        // The contents lead to every part and every figure.
        let links: Vec<&str> = page
            .descendants()
            .filter_map(|n| n.attribute("href")?.strip_prefix('#'))
            .collect();
        let count = texts(&page, "h2").len() + texts(&page, "figcaption").len();
        assert_eq!(links.len(), count);
        assert!(links.iter().all(|link| ids.contains(link)), "{links:?}");
        let count = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), count, "an id stands twice");
    }
}

#[test]
fn it_prints_light_and_shows_dark() {
    let html = report(&fabricated::latch());
    let print = html.find("@media print").expect("a style for paper");
    let dark = html
        .find("@media screen and (prefers-color-scheme: dark)")
        .expect("dark");
    assert!(dark < print);
    for rule in [
        "break-inside: avoid",
        "break-after: avoid",
        "@page",
        "table-header-group",
    ] {
        assert!(html[print..].contains(rule), "{rule}");
    }
}

#[test]
fn text_from_a_file_stays_text() {
    let evil = "<script>alert('x')</script>\"&";
    let mut outcome = fabricated::latch();
    outcome.scenario = evil.into();
    outcome.shows = evil.into();
    outcome.warnings[0] = Warning::TooHot {
        material: evil.into(),
        peak_c: 129.0,
        limit_c: 120.0,
    };
    outcome.citations.push(evil.into());
    outcome.part.layer_alloys[0] = evil.into();
    let html = report(&outcome);
    assert!(!html.to_lowercase().contains("<script"));
    assert!(html.matches("&lt;script&gt;").count() >= 7);
    roxmltree::Document::parse(&as_xml(&html)).expect("well formed");
}

#[test]
fn numbers_that_are_not_finite_never_reach_a_person() {
    let mut outcome = fabricated::latch();
    outcome.trip.release_mut().expect("it trips").time_s = f64::NAN;
    fabricated::held(&mut outcome).current_a = f64::INFINITY;
    outcome.preload_shift[2].trip_point = Held::UpTo(f64::NAN.into());
    outcome.part.trip_temperature_c = Some(f64::NAN);
    let html = report(&outcome);
    let body = &html[html.find("<body>").expect("a body")..];
    for word in ["NaN", ">inf", " inf "] {
        assert!(!body.contains(word), "{word}");
    }
}

#[test]
fn an_unprotecting_part_is_refused_in_the_first_words() {
    let mut outcome = fabricated::latch();
    fabricated::held(&mut outcome).multiple_of_rated = 2.3;
    let html = report(&outcome);
    let first = html.find("<p>No.</p>").expect("a refusal");
    assert!(first < html.find("LATE").expect("the reason"));
}

#[test]
fn every_kind_of_scenario_tells_its_inputs() {
    let outcome = fabricated::latch();
    let says = |file: &str, words: &[&str]| {
        let html = report_html(&outcome, &scenario(file));
        for word in words {
            assert!(html.contains(word), "{file}: {word}");
        }
    };
    says(
        "01-pug-mill.toml",
        &[
            "0.38",
            "Fe-36Ni",
            "20 A",
            "Start-up after a reset",
            "1.83 mm",
            "Cold",
        ],
    );
    says(
        "02-curtain-winch.toml",
        &["heater winding", "220 mΩ", "Wait for relatch", "3.8 A"],
    );
    says("03-deck-oven.toml", &["copper"]);
    says(
        "04-fog-machine.toml",
        &[
            "again and again: 13.8 A for 40.0 s",
            "570 µm",
            "4600 N/mm",
            "resets by itself",
            "Thrust at the rise",
        ],
    );
    says(
        "17-pump-motor-disc.toml",
        &["Mechanism", "Closed again", "resets by itself"],
    );
    says("08-worked-strip.toml", &["worked low side", "1.2 mm"]);
}
