//! What a technician reads beside a stopped machine, by the real inference.

use crate::program::run;

/// The screen of a 16 A part, or of what the flags say, on one line.
fn screen(flags: &[&str]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let part = ["diagnose", "--quiet"];
    let rated = ["--rating", "16 A"];
    let rated = if flags.contains(&"--rating") {
        &rated[..0]
    } else {
        &rated[..]
    };
    let ran = run(folder.path(), &[&part, rated, flags].concat());
    assert_eq!(ran.code, 0, "{}", ran.err);
    let (lines, words) = (ran.out.lines().count(), ran.out.split_whitespace().count());
    assert!(
        lines <= 32 && words <= 250,
        "{lines} lines, {words} words\n{}",
        ran.out
    );
    assert!(!ran.out.contains("\n  6. "), "{}", ran.out);
    for said in ["full text", "ask again"] {
        assert!(!ran.out.contains(said), "{}", ran.out);
    }
    ran.out.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn assert_told(screen: &str, told: &[&str], not: &[&str]) {
    for said in told {
        assert!(screen.contains(said), "{said}\n{screen}");
    }
    for said in not {
        assert!(!screen.contains(said), "{said}\n{screen}");
    }
}

/// Twice the rating, and no trip for hours or one after half an hour: no part does that.
#[test]
fn what_no_part_lets_flow_is_late_or_misread() {
    let read = ["--meter", "true RMS", "--machine-rating", "15 A"];
    for seen in [
        ["--reading", "34.0 A", "--held", "2 h from cold"],
        ["--reading", "48.0 A", "--trip", "after 30 min from cold"],
    ] {
        let screen = screen(&[&seen[..], &read].concat());
        let over = if seen[1] == "34.0 A" {
            "It draws 227 % of its plate"
        } else {
            "It draws 320 % of its plate"
        };
        assert_told(
            &screen,
            &[
                "IT MAY PROTECT NOTHING",
                "NOT YET. By the current that was read",
                "Either the reading or the time is wrong, or the protector is late",
                "look at its joints, time a trip of it at 200 % on a bench. Not within its window: replace it.",
                over,
            ],
            &["nothing wrong", "Most likely so far"],
        );
    }
}

/// Four times the rating for two seconds and a half, and a trip after three: nobody has misread.
#[test]
fn a_clean_trip_at_a_heavy_start_is_not_accused() {
    let screen = screen(&[
        "--reading",
        "12.5 A",
        "--load-kind",
        "motor",
        "--start",
        "70 A for 2.5 s",
        "--trip",
        "after 3 s from cold",
        "--machine-rating",
        "12 A",
        "--supply",
        "195 V running of 230 V",
    ]);
    let told = [
        "Mend the supply first",
        "195 V running",
        "start of 70.0 A for 2.5 s",
    ];
    assert_told(
        &screen,
        &told,
        &[
            "probably wrong",
            "27 h",
            "low voltage under load",
            "Force a trip",
        ],
    );
}

/// The start lies in the band of its instantaneous element; what opens at once is not late.
#[test]
fn an_element_that_the_start_reaches_is_named_and_no_lateness() {
    let screen = screen(&[
        "--rating",
        "20 A",
        "--limits",
        "UL 489 up to 30 A",
        "--reading",
        "17 A",
        "--trip",
        "after 0.05 s from cold",
        "--instantaneous",
        "B",
        "--start",
        "110 A for 0.2 s",
    ]);
    let told = [
        "NO: do not reset",
        "instantaneous element picks up between 60 A and 100 A",
        "A start onto too sensitive a type explains it, but so does a short circuit",
        "- start of 110 A",
    ];
    assert_told(&screen, &told, &["LATE"]);
}

/// What it must not be switched on without is a step.
#[test]
fn what_is_demanded_is_among_the_steps() {
    let screen = screen(&[
        "--reading",
        "13.2 A",
        "--terminals",
        "55 degC and 31 degC",
        "--joints",
        "re-made",
        "--trip",
        "after 12 min",
        "--machine-rating",
        "13.2 A",
    ]);
    assert_told(
        &screen,
        &[
            "though re-made",
            "1. ",
            "illivolt drop beside a sister part",
        ],
        &[],
    );
}

/// Plate, marking and history cost nothing, and come before a meter is fetched.
#[test]
fn what_costs_nothing_comes_first() {
    let told = screen(&["--trip", "not known"]);
    let at = |said: &str| told.find(said).unwrap_or_else(|| panic!("{said}\n{told}"));
    let free = at("Costs nothing: the machine's plate (above 16 A: wrong rating), the marking");
    assert!(free < at("Look at both joints, dead: colour, smell, a warm cable (10 min)"));
    assert!(at("what was changed before it began") < at("Air at the protector (15 min)"));
}

/// Nothing has tripped: nobody recloses anything. Something has, and nothing is told: not for use yet.
#[test]
fn yes_says_what_for() {
    let held = screen(&["--reading", "11.0 A", "--held", "8 h"]);
    assert_told(
        &held,
        &["YES: nothing has tripped"],
        &["reclosing", "Force a trip"],
    );
    let open = screen(&[
        "--reading",
        "13.2 A",
        "--load-kind",
        "motor",
        "--trip",
        "after 12 min",
        "--machine-rating",
        "13.2 A",
        "--terminals",
        "33 degC and 31 degC",
        "--joints",
        "no marks",
        "--drop",
        "54 mV at 13.2 A, sister 52 mV",
    ]);
    assert_told(
        &open,
        &["YES for the steps below, attended; for use once the cause is mended."],
        &["found and mended"],
    );
}
