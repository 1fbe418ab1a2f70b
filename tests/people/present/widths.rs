//! The screen of a run at every width: nothing is cut, broken or painted over.

use crate::support::made;
use relatch::internals::predict::{Options, predict};
use relatch::internals::present::block::{Block, Screen, terminal};
use relatch::internals::present::{curve_blocks, run_blocks};
use relatch::internals::scenario::read;
use std::path::Path;
use unicode_width::UnicodeWidthStr;

const WIDTHS: [usize; 3] = [40, 80, 160];
const UNITS: [&str; 12] = [
    "A", "s", "ms", "min", "h", "mm", "°C", "%", "W", "mV", "mΩ", "x",
];

fn screens(file: &str) -> [Vec<Block>; 2] {
    let path = format!("{}/scenarios/{file}.toml", env!("CARGO_MANIFEST_DIR"));
    let scenario = read(Path::new(&path)).expect("a scenario");
    let options = made!(Options {
        characteristic: true,
        hot_fraction: 0.8,
        ..Options::default()
    });
    let outcome = predict(&scenario, &options, &mut |_, _| {}).expect("an outcome");
    [run_blocks(&outcome), curve_blocks(&outcome)]
}

/// What must stand on the screen in one piece, spaces aside.
fn texts(blocks: &[Block]) -> Vec<&str> {
    let mut list: Vec<&str> = Vec::new();
    for block in blocks {
        match block {
            Block::Answer(question, inside) => {
                list.push(question);
                list.extend(texts(inside));
            }
            Block::Title(text, below) => list.extend([text.as_str(), below]),
            Block::Heading(text) | Block::Sentence(text) => list.push(text),
            Block::Facts(facts) => list.extend(facts.iter().map(|(_, value)| value.as_str())),
            Block::Cautions(_, said) | Block::Warnings(said) | Block::List(said) => {
                list.extend(said.iter().map(String::as_str));
            }
            _ => {}
        }
    }
    list
}

fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn nothing_is_wider_than_the_screen_and_nothing_is_broken() {
    for file in [
        "01-pug-mill",
        "04-fog-machine",
        "07-irrigation-pump-worn",
        "10-impatient-resets",
    ] {
        for blocks in screens(file) {
            for columns in WIDTHS {
                let screen = terminal(&blocks, Screen::new(columns, false));
                let together = words(&screen);
                for text in texts(&blocks) {
                    assert!(
                        together.contains(&words(text)),
                        "{file} at {columns}: {text}\n{screen}"
                    );
                }
                let lines: Vec<&str> = screen.lines().collect();
                for line in &lines {
                    assert!(line.width() <= columns, "{file} at {columns}: {line}");
                }
                for pair in lines.windows(2) {
                    let last = pair[0].split_whitespace().last().unwrap_or_default();
                    let first = pair[1].split_whitespace().next().unwrap_or_default();
                    let unit = first.trim_matches(|c: char| ",.;:()".contains(c));
                    let is_number = last.ends_with(|c: char| c.is_ascii_digit());
                    assert!(
                        !is_number || !UNITS.contains(&unit),
                        "{file} at {columns}: {pair:?}"
                    );
                }
            }
        }
    }
}

#[test]
fn the_answers_stand_on_the_first_screen_of_eighty_columns() {
    let [run, _] = screens("01-pug-mill");
    let screen = terminal(&run, Screen::new(80, false));
    let at = |needle: &str| {
        screen
            .lines()
            .position(|line| line.starts_with(needle))
            .expect(needle)
    };
    assert!(at("3  What does") < 30 && at("Why") < 42, "{screen}");
    // Of seven airs none is left out.
    assert!(screen.lines().count() <= 78, "{screen}");
}

#[test]
fn style_is_never_the_only_sign() {
    let [run, _] = screens("01-pug-mill");
    let styled = terminal(&run, Screen::new(80, true));
    assert!(styled.contains("\u{1b}[1mWhy\u{1b}[0m"), "{styled}");
    let mut bare = String::new();
    for (k, part) in styled.split('\u{1b}').enumerate() {
        bare += if k == 0 {
            part
        } else {
            part.split_once('m').expect("a code").1
        };
    }
    assert_eq!(bare, terminal(&run, Screen::new(80, false)));
}
