//! Blocks on a terminal of any width.

use relatch::internals::answer::Place;
use relatch::internals::present::block::{Block, Screen, Table, terminal};
use unicode_width::UnicodeWidthStr;

fn shown(blocks: &[Block], columns: usize) -> String {
    let text = terminal(blocks, Screen::new(columns, false));
    assert!(text.lines().all(|line| line.width() <= columns), "{text}");
    text
}

fn page() -> Vec<Block> {
    vec![
        Block::title("A kiln \u{1b}[2J", ""),
        Block::cautions(Place::Top, ["Find the cause first. ".repeat(5)]),
        Block::answer("Does it trip?", [Block::sentence("YES, after 3 min 52 s.")]),
        Block::facts([
            ("Reset possible after", "23.2 s ".repeat(9)),
            ("Start", "never".into()),
        ]),
        Block::steps(["Switch off.", "Look at the terminals."]),
    ]
}

#[test]
fn a_number_keeps_its_unit_and_long_times_stay_whole() {
    let text = "possible after 3 min 52 s, carrying 12.2 A (2.00 x rated) at 25 °C ± 2 K, 36 x 4.30 x 0.76 mm";
    for columns in 40..100 {
        let screen = shown(&[Block::sentence(text)], columns);
        for whole in [
            "3 min 52 s,",
            "12.2 A",
            "(2.00 x",
            "25 °C ± 2 K",
            "36 x 4.30 x 0.76 mm",
        ] {
            assert!(screen.contains(whole), "{whole} at {columns}: {screen}");
        }
        assert_eq!(
            screen.split_whitespace().collect::<Vec<_>>().join(" "),
            text
        );
    }
}

#[test]
fn only_what_is_longer_than_a_line_is_cut_and_wide_letters_count_twice() {
    let screen = shown(
        &[Block::sentence(
            "https://example.org/a-page-of-more-than-a-line now",
        )],
        40,
    );
    assert_eq!(
        screen,
        "https://example.org/a-page-of-more-than-\na-line now\n"
    );
    assert_eq!(
        shown(&[Block::sentence("温度".repeat(11))], 40)
            .lines()
            .count(),
        2
    );
}

#[test]
fn nothing_from_outside_reaches_the_terminal() {
    for columns in [40, 57, 80, 160] {
        let text = shown(&page(), columns);
        assert!(
            text.contains("A kiln ␛[2J\n") && !text.contains('\u{1b}'),
            "{text}"
        );
    }
}

#[test]
fn style_adds_codes_and_changes_nothing_else() {
    let styled = terminal(&page(), Screen::new(80, true));
    assert!(
        styled.contains("\u{1b}[1mDoes it trip?\u{1b}[0m"),
        "{styled}"
    );
    let codes = ["\u{1b}[1m", "\u{1b}[1;31m", "\u{1b}[33m", "\u{1b}[0m"];
    let bare = codes
        .iter()
        .fold(styled, |text, code| text.replace(code, ""));
    assert_eq!(bare, shown(&page(), 80));
}

fn losses() -> [Block; 1] {
    let table = Table::new("What lost preload does")
        .across()
        .numbers("Preload lost", (0..7).map(|k| format!("{} %", 10 * k)))
        .numbers("Trip point", (0..7).map(|k| format!("{} A", 19 - k)))
        .numbers("Wait for the reset", (0..7).map(|_| "4 min 42 s"))
        .numbers("Nothing", (0..7).map(|_| "–"))
        .reasons((0..7).map(|k| (k > 4).then(|| "it never relatches".to_owned())));
    [table.into()]
}

#[test]
fn cases_stand_side_by_side_as_many_as_fit() {
    assert!(shown(&losses(), 160).contains("0 %        10 %        20 %"));
    let text = shown(&losses(), 40);
    assert!(text.contains("Trip point\n        19 A"), "{text}");
    assert!(text.contains("At 50 %, 60 %: it never relatches"), "{text}");
}

/// A case that is not shown cannot be asked for, and the notes name it all the same.
#[test]
fn no_case_is_left_out_at_any_width() {
    for columns in 40..=160 {
        let text = shown(&losses(), columns);
        for k in 0..7 {
            let (loss, point) = (format!(" {} %", 10 * k), format!(" {} A", 19 - k));
            assert!(text.contains(&loss) && text.contains(&point), "{text}");
        }
        assert_eq!(text.matches("4 min 42 s").count(), 7, "{text}");
        assert!(!text.contains("Nothing"), "{text}");
    }
    // In groups as long as each other.
    let text = shown(&losses(), 80);
    let cases = text.lines().filter(|line| line.starts_with("Preload lost"));
    let cases: Vec<usize> = cases.map(|line| line.matches('%').count()).collect();
    assert_eq!(cases, [4, 3], "{text}");
}

#[test]
fn what_does_not_fit_is_grouped_or_set_row_by_row() {
    let wide = |table: Table, k: usize| table.numbers(format!("Quantity {k}"), ["1.25 kA", "8 s"]);
    let table = (0..5).fold(Table::new("").numbers("Air", ["20 °C", "35 °C"]), wide);
    let text = shown(&[table.clone().into()], 40);
    assert_eq!(
        text.lines()
            .filter(|line| line.starts_with("  Air"))
            .count(),
        3,
        "{text}"
    );
    let text = shown(&[table.text("In words", ["all is well", ""]).into()], 60);
    assert!(text.starts_with("20 °C\n  Quantity 0: 1.25 kA\n"), "{text}");
}

#[test]
fn words_in_the_last_column_are_wrapped_beside_the_others() {
    let rows = [["2.000 s".to_owned(), "the latch lets go ".repeat(4)]];
    let text = shown(&[Table::of_text("", ["Time", "Event"], rows).into()], 50);
    assert!(
        text.contains("Time     Event\n2.000 s  the latch lets go"),
        "{text}"
    );
    assert!(text.lines().count() == 3, "{text}");
}
