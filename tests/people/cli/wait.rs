//! `relatch wait`, as a person runs it.

use crate::program::{Ran, run};
use relatch::WaitAnswer;
use relatch::answers::{Wait, WhyNever};

fn wait(words: &[&str]) -> Ran {
    let folder = tempfile::tempdir().expect("a folder");
    let all: Vec<&str> = ["wait"].iter().chain(words).copied().collect();
    let ran = run(folder.path(), &all);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let fits = ran.out.lines().all(|line| line.chars().count() <= 100);
    assert!(fits || words.contains(&"--json"), "{}", ran.out);
    for bad in ["NaN", "inf", "-0 "] {
        assert!(!ran.out.contains(bad), "{bad}: {}", ran.out);
    }
    ran
}

/// What is said, whatever its lines.
fn says(ran: &Ran, what: &str) -> bool {
    let words: Vec<&str> = ran.out.split_whitespace().collect();
    words.join(" ").contains(what)
}

/// The line below the question.
fn headline(ran: &Ran) -> String {
    let mut lines = ran.out.lines();
    lines.find(|line| line.starts_with("How long to wait?"));
    let said = lines.take_while(|line| line.starts_with("  "));
    said.map(str::trim).collect::<Vec<_>>().join(" ")
}

#[test]
fn the_wait_is_one_line_with_its_cautions_around_it() {
    let ran = wait(&["--rating", "10 A", "--load", "24 A"]);
    let said = headline(&ran);
    assert!(
        said.starts_with("WAIT ") && said.contains("nine of ten such parts hold then"),
        "{said}"
    );
    let at = |text: &str| {
        ran.out
            .find(text)
            .unwrap_or_else(|| panic!("{text}: {}", ran.out))
    };
    assert!(at("Find the cause") < at("WAIT "));
    assert!(at("may start by itself") < at("WAIT "));
    assert!(at("WAIT ") < at("Never hold"));
    assert!(at("Never raise the rating") < at("maker's curve"));
}

#[test]
fn parts_that_never_reset_make_the_wait_never_on_every_surface() {
    let hot = ["--rating", "10 A", "--load", "14.2 A", "--air", "75 degC"];
    let ran = wait(&hot);
    let said = headline(&ran);
    assert!(said.starts_with("NEVER in this air, in "), "{said}");
    assert!(
        !ran.out.contains("100 %") && !ran.out.contains("no wait"),
        "{}",
        ran.out
    );
    let ran = wait(&[&hot[..], &["--json"]].concat());
    let answer: WaitAnswer = serde_json::from_str(&ran.out).expect("read back");
    assert!(answer.reset.half.is_never() && answer.start.half.time_s().is_none());
    assert!(answer.reset.never > 0.5 && answer.early.is_empty());
    let json: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(json["format"], 2);
    assert_eq!(json["text"].as_str(), Some(said.as_str()));
    let cautions = json["cautions"].as_array().expect("cautions");
    assert!(
        cautions.len() >= 6 && cautions.iter().all(|c| c["text"].is_string()),
        "{cautions:?}"
    );
}

/// A winding at forty thousand times its rating: a short circuit, nothing is left to wait for, and no
/// cool-down is computed.
#[test]
fn parts_that_melt_are_no_parts_that_cool() {
    let asked = [
        "--rating",
        "0.251 A",
        "--load",
        "9790 A",
        "--start",
        "1 A for 1 s",
    ];
    let ran = wait(&asked);
    let said = headline(&ran);
    assert!(
        said.starts_with("NO: 39004 times the rating is a short circuit"),
        "{said}"
    );
    assert!(!ran.out.contains("can be reset by"), "{}", ran.out);
    let ran = wait(&[&asked[..], &["--json"]].concat());
    let answer: WaitAnswer = serde_json::from_str(&ran.out).expect("read back");
    let why = WhyNever::Melts;
    assert!(answer.melts > 0.99 && answer.trip_s.is_none() && answer.early.is_empty());
    assert_eq!(answer.reset.half, Wait::Never { why });
    assert_eq!(answer.start.half, Wait::Never { why });
    // At the loads of every day nothing melts.
    let ran = wait(&["--rating", "10 A", "--load", "24 A", "--json"]);
    let answer: WaitAnswer = serde_json::from_str(&ran.out).expect("read back");
    assert_eq!(answer.melts, 0.0);
}

/// Where nothing is to be reset, no wait stands beside it, nor what to type for one.
#[test]
fn where_nothing_is_to_be_reset_the_answer_is_no_and_no_wait() {
    let of_20_a = ["--rating", "20 A", "--on", "box", "--load"];
    let of_10_a = ["--rating", "10 A", "--on", "box", "--tripped"];
    let on_motor = [
        "--rating",
        "10 A",
        "--on",
        "motor",
        "--resets-itself",
        "--tripped",
    ];
    for (asked, begins) in [
        (
            [&of_20_a[..], &["2000 A"]].concat(),
            "NO: 100 times the rating",
        ),
        (
            [&of_10_a[..], &["after 2 h at 24 A"]].concat(),
            "NO: sound parts of this rating",
        ),
        (
            [&of_10_a[..], &["after 0.02 s at 24 A"]].concat(),
            "NO: no heated strip",
        ),
        (
            [&on_motor[..], &["after 0.2 s at 24 A"]].concat(),
            "NO: no heated strip",
        ),
        (
            [
                &of_10_a[..],
                &["after 9 s at 24 A", "--reset-refused", "after 20 min"],
            ]
            .concat(),
            "NO: it did not reset after 20 min 0 s, and nine of ten sound parts do by",
        ),
        (
            [
                &of_10_a[..],
                &[
                    "after 9 s at 24 A",
                    "--reset-held",
                    "after 20 s",
                    "--reset-refused",
                    "after 40 s",
                ],
            ]
            .concat(),
            "CANNOT TELL: it reset after 20 s, and did not after 40 s",
        ),
    ] {
        let ran = wait(&asked);
        assert!(headline(&ran).starts_with(begins), "{asked:?}: {}", ran.out);
        for idle in ["WAIT", "--start", "When it can be started", "Of such parts"] {
            assert!(!ran.out.contains(idle), "{asked:?} {idle}: {}", ran.out);
        }
        let full = wait(&[&asked[..], &["--full"]].concat());
        assert!(!full.out.contains("can be reset by"), "{}", full.out);
        let watched = wait(&[&asked[..], &["--watch"]].concat());
        assert!(
            says(&watched, "Nothing to count down to: nothing"),
            "{}",
            watched.out
        );
    }
    // Below a short circuit, what an instantaneous element may have done comes before the wait.
    let said = headline(&wait(&[&of_20_a[..], &["130 A"]].concat()));
    let begins = "FIRST find out what drew 6.5 times the rating";
    assert!(said.starts_with(begins) && said.contains("WAIT "), "{said}");
}

#[test]
fn a_start_that_can_trip_the_part_counts() {
    let ran = wait(&[
        "--rating",
        "10 A",
        "--load",
        "8.2 A",
        "--start",
        "52 A for 1.2 s",
    ]);
    assert!(headline(&ran).starts_with("NEVER, in "), "{}", ran.out);
    assert!(says(
        &ran,
        "carry the load, but the start trips them from cold"
    ));
    assert!(
        ran.out.contains("magnetic"),
        "52 A is 5.2 times the rating: {}",
        ran.out
    );
    let ran = wait(&[
        "--rating",
        "10 A",
        "--load",
        "8.2 A",
        "--start",
        "9 A for 1.2 s",
    ]);
    assert!(
        headline(&ran).starts_with("Nothing to wait for"),
        "{}",
        ran.out
    );
    assert!(!ran.out.contains("magnetic"), "{}", ran.out);
}

#[test]
fn what_was_timed_narrows_the_wait_or_no_part_agrees() {
    let plate = ["--rating", "10 A", "--load", "24 A", "--json"];
    let answer = |more: &[&str]| -> WaitAnswer {
        serde_json::from_str(&wait(&[&plate[..], more].concat()).out).expect("an answer")
    };
    let apart = |a: &WaitAnswer| {
        let s = |wait: &relatch::answers::Wait| wait.time_s().expect("a time");
        s(&a.reset.nineteen_of_twenty) / s(&a.reset.one_in_twenty)
    };
    let plate_alone = answer(&[]);
    let trip = ["--tripped", "after 9 s at 24 A"];
    let one = answer(&trip);
    let tried = answer(
        &[
            &trip[..],
            &["--reset-held", "after 40 s", "--reset-refused", "20 s"],
        ]
        .concat(),
    );
    assert!(apart(&one) < 0.7 * apart(&plate_alone), "{}", apart(&one));
    assert!(apart(&tried) < 0.7 * apart(&one), "{}", apart(&tried));
    let trip_s = one.trip_s.expect("it trips").median;
    assert!((7.5..10.5).contains(&trip_s), "{trip_s}");
    let ran = wait(&["--rating", "10 A", "--tripped", "after 0.05 s at 11 A"]);
    assert!(
        says(&ran, "NO: no heated strip of this rating trips so soon"),
        "{}",
        ran.out
    );
}

fn answered(words: &[&str]) -> WaitAnswer {
    serde_json::from_str(&wait(&[words, &["--json"]].concat()).out).expect("an answer")
}

#[test]
fn both_elements_of_a_wall_box_part_may_act_and_each_has_its_wait() {
    let wall_box = ["--rating", "20 A", "--load", "130 A"];
    let unknown = wait(&wall_box);
    assert!(says(&unknown, "Nobody said whether"), "{}", unknown.out);
    let typed = |kind| answered(&[&wall_box[..], &["--instantaneous", kind]].concat());
    let share = |kind| typed(kind).instantaneous.expect("an element").by_load;
    // 130 A is 6.5 times the rating: above the band of type B (3 to 5), within that of type C (5 to
    // 10; an even chance on its logarithmic scale at 7.07), below that of D (10 to 20).
    assert!(share("B") == 1.0 && share("D") == 0.0);
    assert!((0.35..0.6).contains(&share("C")), "{}", share("C"));
    let both = typed("c");
    let element = both.instantaneous.expect("an element");
    assert_eq!(
        [element.may_open_from_a, element.opens_from_a],
        [100.0, 200.0]
    );
    // The strip, hardly warm, lets the latch catch at once; after a trip of its own it does not.
    assert_eq!(element.reset.ninety_nine_of_hundred, Wait::None);
    assert!(both.reset.half.time_s().is_some_and(|s| s > 5.0));
    let said = wait(&[&wall_box[..], &["--instantaneous", "C"]].concat());
    assert!(headline(&said).starts_with("WAIT "), "{}", said.out);
    assert!(
        says(&said, "Both elements may act at 130 A"),
        "{}",
        said.out
    );
    assert!(says(&said, "eddy currents, left out"), "{}", said.out);
    let sure = wait(&[&wall_box[..], &["--instantaneous", "B"]].concat());
    let said = headline(&sure);
    assert!(
        said.starts_with("NO WAIT for the strip") && said.contains("Do not reset onto a fault"),
        "{said}"
    );
    // A start within the band opens it now and then, however long one waits.
    let start = [
        "--rating",
        "20 A",
        "--load",
        "14 A",
        "--start",
        "110 A for 0.9 s",
    ];
    let start = answered(&[&start[..], &["--instantaneous", "C"]].concat());
    let element = start.instantaneous.expect("an element");
    assert!(element.by_load == 0.0 && element.by_start.is_some_and(|p| (0.1..0.4).contains(&p)));
    // Where the strip lets it start, the answer itself says that the element may not.
    let by_both = [
        "--rating",
        "15 A",
        "--load",
        "130 A",
        "--start",
        "120 A for 0.1 s",
    ];
    let said = wait(&[&by_both[..], &["--instantaneous", "C"]].concat());
    let told = headline(&said);
    assert!(
        told.contains(" for the strip; but in ") && !told.contains("start again then"),
        "{told}"
    );
    assert_eq!(said.out.matches("however long").count(), 1, "{}", said.out);
    let folder = tempfile::tempdir().expect("a folder");
    let wrong = run(
        folder.path(),
        &[
            "wait",
            "--rating",
            "20 A",
            "--load",
            "130 A",
            "--instantaneous",
            "Q",
        ],
    );
    assert!(
        wrong.code == 2 && wrong.err.contains("B, C and D"),
        "{}",
        wrong.err
    );
}

#[test]
fn idle_poles_make_a_part_late_unless_it_notices_them() {
    let plate = [
        "--rating", "10 A", "--load", "24 A", "--poles", "3", "--phases",
    ];
    let half_s = |more: &[&str]| {
        answered(&[&plate[..], more].concat())
            .trip_s
            .expect("trips")
            .median
    };
    let [all, two, one] = ["3", "2", "1"].map(|phases| half_s(&[phases]));
    assert!(all < 0.95 * two && two < 0.9 * one, "{all} {two} {one}");
    // 1/1.45 of the travel against 1.13 of the force (the bars' equations), of which they are made.
    let lost = half_s(&["2", "--notices-lost-phase"]);
    assert!(lost < 0.9 * all, "{lost} {all}");
    // One phase is looped through all poles of such a part, and that is asked about.
    let looped = wait(&[&plate[..], &["1", "--notices-lost-phase"]].concat());
    assert!(
        says(&looped, "looped through all poles in series?"),
        "{}",
        looped.out
    );
    assert_eq!(half_s(&["1", "--notices-lost-phase"]), all);
}

#[test]
fn a_disc_on_a_motor_waits_for_the_motor() {
    let plate = [
        "--rating",
        "6.3 A",
        "--load",
        "20 A",
        "--on",
        "motor",
        "--resets-itself",
    ];
    let ran = wait(&plate);
    let said = headline(&ran);
    assert!(
        said.starts_with("WAIT ") && said.contains("have closed by themselves"),
        "{said}"
    );
    assert!(says(&ran, "common practice, no source"), "{}", ran.out);
    let half_s = answered(&plate).reset.half.time_s().expect("closes");
    assert!((300.0..900.0).contains(&half_s), "{half_s}");
    let boxed = wait(&[
        "--rating",
        "6.3 A",
        "--load",
        "20 A",
        "--on",
        "box",
        "--resets-itself",
    ]);
    assert!(
        says(&boxed, "a disc or blade that snaps back"),
        "{}",
        boxed.out
    );
}

#[test]
fn limits_of_parts_with_an_instantaneous_element_are_enough_to_look_at_one() {
    let limits = ["--rating", "16 A", "--load", "100 A", "--limits"];
    let element = |name| answered(&[&limits[..], &[name]].concat()).instantaneous;
    let any = element("IEC 60898-1 up to 32 A").expect("one of three types");
    assert!(
        any.band.is_none() && (0.3..0.7).contains(&any.by_load),
        "{}",
        any.by_load
    );
    assert!(element("equipment breaker window").is_none());
    let sheet = |rating| {
        let plate = ["--rating", rating, "--load", "32 A", "--limits"];
        wait(&[&plate[..], &["equipment breaker window"]].concat())
    };
    assert!(says(
        &sheet("16 A"),
        "No source: the named limits hold for 10 A alone"
    ));
    assert!(!says(&sheet("10 A"), "No source"));
    let folder = tempfile::tempdir().expect("a folder");
    let large = [
        "wait",
        "--rating",
        "40 A",
        "--load",
        "80 A",
        "--limits",
        "equipment breaker window",
    ];
    let ran = run(folder.path(), &large);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("no source above 16 A"), "{}", ran.err);
}

#[test]
fn on_a_motor_the_motor_rules() {
    let said = headline(&wait(&[
        "--rating", "10 A", "--load", "24 A", "--on", "motor",
    ]));
    assert!(said.contains("until the motor has cooled"), "{said}");
    let asked = wait(&["--rating", "10 A", "--load", "24 A"]);
    assert!(asked.out.contains("--on motor"), "{}", asked.out);
    let boxed = wait(&["--rating", "10 A", "--load", "24 A", "--on", "box"]);
    assert!(!boxed.out.contains("--on motor"), "{}", boxed.out);
}

#[test]
fn amounts_that_can_only_mean_one_thing_are_understood_and_said() {
    let ran = wait(&["--rating", "16", "--load", "34,2 A", "--air", "105 F"]);
    for echo in [
        "\"16\" read as 16 A",
        "\"34,2 A\" read as 34.2 A",
        "\"105 F\" read as 40.6 °C",
    ] {
        assert!(ran.err.contains(echo), "{echo}: {}", ran.err);
    }
    assert!(
        ran.out.contains("16 A protector, 34.2 A in air of 41 °C"),
        "{}",
        ran.out
    );
    let cold = wait(&["--rating", "10 A", "--load", "24 A", "--ambient", "-5 degC"]);
    assert!(
        cold.out.contains("air of -5 °C") && cold.err.is_empty(),
        "{}",
        cold.err
    );
    let folder = tempfile::tempdir().expect("a folder");
    for wrong in [["16 V", "24 A"], ["0.005 A", "24 A"], ["1,200", "24 A"]] {
        let ran = run(
            folder.path(),
            &["wait", "--rating", wrong[0], "--load", wrong[1]],
        );
        assert_eq!(ran.code, 2, "{wrong:?}: {}", ran.out);
    }
}

#[test]
fn one_number_is_said_once() {
    for load in ["14.2 A", "16 A", "18 A", "24 A", "34 A"] {
        let asked = ["--rating", "10 A", "--air", "40.6 degC", "--load", load];
        let said = headline(&wait(&asked));
        let told = said.strip_prefix("WAIT ").and_then(|s| s.split_once(": "));
        let Some((time, rest)) = told else { continue };
        assert!(!rest.contains(&format!("; {time}: ")), "{said}");
    }
}

#[test]
fn the_rest_is_for_those_who_ask() {
    let plate = [
        "--rating",
        "10 A",
        "--load",
        "24 A",
        "--start",
        "60 A for 0.6 s",
    ];
    let short = wait(&plate);
    assert!(short.out.lines().count() <= 20, "{}", short.out);
    let full = wait(&[&plate[..], &["--full"]].concat());
    for told in [
        "can be reset by",
        "Latch holds in",
        "usual windows",
        "NFPA 70E",
    ] {
        let is_told = |ran| says(ran, told);
        assert!(is_told(&full) && !is_told(&short), "{told}: {}", full.out);
    }
    assert_eq!(headline(&short), headline(&full));
}

/// Plain lines where there is no terminal; an interrupt ends it in good order.
#[cfg(unix)]
#[test]
fn a_wait_is_counted_down_until_interrupted() {
    use std::io::{BufRead, BufReader};
    use std::process::{Command, Stdio};
    let folder = tempfile::tempdir().expect("a folder");
    let words = ["wait", "--rating", "10 A", "--load", "24 A", "--watch"];
    let mut count = crate::program::relatch(folder.path(), &words)
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts");
    let out = BufReader::new(count.stdout.take().expect("its output"));
    let mut lines = out.lines().map(|line| line.expect("a line"));
    let first = lines
        .find(|line| line.contains("until nine of ten"))
        .expect("a count");
    assert!(
        first.starts_with("0:") || first.starts_with("1:"),
        "{first}"
    );
    let pid = count.id().to_string();
    let told = Command::new("kill").args(["-INT", &pid]).status();
    assert!(told.expect("kill").success());
    let last = lines.last().unwrap_or(first);
    assert!(last.starts_with("Stopped after"), "{last}");
    assert!(count.wait().expect("it ends").success());
    let never = [&words[..5], &["--air", "75 degC", "--watch"]].concat();
    let ran = run(folder.path(), &never[..]);
    assert!(
        ran.code == 0 && ran.out.contains("Nothing to count down to"),
        "{}",
        ran.out
    );
}

/// Whoever is not told where the protector sits asks, on a terminal.
#[cfg(target_os = "linux")]
#[test]
fn on_a_terminal_it_asks_where_the_protector_sits() {
    for (typed, says) in [("motor", true), ("shelf\nbox", false), ("", false)] {
        let shown = super::on_a_terminal(
            std::path::Path::new("."),
            &["wait", "--rating", "10", "--load", "24"],
            &format!("{typed}\n"),
        );
        assert!(shown.contains("Where does the protector sit"), "{shown}");
        assert_eq!(
            shown.contains("until the motor has cooled"),
            says,
            "{typed}: {shown}"
        );
        assert_eq!(
            shown.contains("Not understood"),
            typed.contains("shelf"),
            "{shown}"
        );
    }
}

/// Relays with a dial are heater-wound and as slow as their class, whatever their rating.
#[test]
fn motor_classes_have_parts_at_every_rating() {
    let trip_s = |rating: &'static str, load: &'static str, class: &'static str| {
        let plate = ["--rating", rating, "--load", load, "--limits", class];
        let answer = answered(&plate);
        answer.trip_s.expect("trips").median
    };
    // 7.2 times the rating: 4 to 10 s, 6 to 20 s, 9 to 30 s (IEC 60947-4-1).
    for (rating, load) in [("3 A", "21.6 A"), ("24 A", "172.8 A"), ("80 A", "576 A")] {
        let s = ["motor class 10", "motor class 20", "motor class 30"]
            .map(|class| trip_s(rating, load, class));
        assert!((4.0..=10.0).contains(&s[0]), "{rating}: {s:?}");
        assert!((6.0..=20.0).contains(&s[1]), "{rating}: {s:?}");
        assert!((9.0..=30.0).contains(&s[2]), "{rating}: {s:?}");
    }
}
