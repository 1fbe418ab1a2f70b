//! `relatch wait`, as a person runs it.

use crate::program::{Ran, run};
use relatch::WaitAnswer;
use relatch::answers::{Wait, WhyNever};

pub(super) fn wait(words: &[&str]) -> Ran {
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
pub(super) fn says(ran: &Ran, what: &str) -> bool {
    let words: Vec<&str> = ran.out.split_whitespace().collect();
    words.join(" ").contains(what)
}

/// The line below the question.
pub(super) fn headline(ran: &Ran) -> String {
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

pub(super) fn answered(words: &[&str]) -> WaitAnswer {
    serde_json::from_str(&wait(&[words, &["--json"]].concat()).out).expect("an answer")
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
