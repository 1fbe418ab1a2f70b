//! What a report looks like, and that no place makes it panic.

use relatch::internals::diagnostic::{Problem, Report};

const TEXT: &str = "[strip]\nlength = \"22\"\nwidth = \"5 mm\"\n";

#[test]
fn a_report_shows_the_line_the_caret_and_the_way_out() {
    let problem = Problem::new(17..21, "`strip.length` needs a length")
        .label("the unit is missing")
        .note("a note")
        .help("write `length = \"22 mm\"`");
    let report = Report::new("a.toml", TEXT, vec![problem]);
    let expected = "\
error: `strip.length` needs a length
 --> a.toml:2:10
  |
2 | length = \"22\"
  |          ^^^^ the unit is missing
  |
  = note: a note
  = help: write `length = \"22 mm\"`

1 problem in a.toml";
    assert_eq!(report.to_string(), expected);
}

#[test]
fn problems_come_in_the_order_of_the_file_and_only_so_many() {
    let problems = (0..30)
        .rev()
        .map(|i| Problem::new(i..i + 1, format!("at {i}")))
        .collect();
    let report = Report::new("a.toml", TEXT, problems);
    let text = report.to_string();
    assert!(
        text.find("at 0\n")
            .is_some_and(|a| text.find("at 1\n").is_some_and(|b| a < b))
    );
    assert!(text.contains("at 19\n") && !text.contains("at 20\n"));
    assert!(text.ends_with("30 problems in a.toml; the first 20 are shown"));
}

#[test]
fn no_place_panics() {
    let long = "x".repeat(100_000);
    for text in [
        "",
        "\n",
        "\u{fffd}\u{20ac}\r\n\u{20ac}",
        TEXT,
        long.as_str(),
        "a\tb\u{1b}[0m\n",
    ] {
        for start in (0..40).chain([99_990, 200_000]) {
            for length in [0, 1, 5, 100_000] {
                let problem = Problem::new(start..start + length, "m")
                    .label("l")
                    .also(3..4, "k");
                assert!(
                    Report::new("f", text, vec![problem])
                        .to_string()
                        .starts_with("error: m")
                );
            }
        }
    }
}
