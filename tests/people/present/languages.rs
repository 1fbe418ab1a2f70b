//! Every language has every word, with the numbers where the English has them, and nothing that is
//! said in it is cut.

use super::fabricated;
use super::sheet::assert_nothing_reaches_the_edge;
use relatch::internals::predict::{Options, predict};
use relatch::internals::present::block::{Screen, terminal};
use relatch::internals::present::plot::figures;
use relatch::internals::present::{explanation_html, json, report_html, run_blocks};
use relatch::internals::scenario::key_list;
use relatch::internals::standards::{LIMITS, find_compensated};
use relatch::internals::study::by_hand::{explain, formulas};
use relatch::{Language, Locale, speaking};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

const OTHERS: [(Language, &str); 3] = [
    (Language::German, "german"),
    (Language::Spanish, "spanish"),
    (Language::French, "french"),
];

/// What stands for a unit, a symbol or a shape of letters, the same everywhere.
const SAME: [&str; 26] = [
    "A", "mA", "kA", "V", "mV", "kV", "W", "mW", "kW", "K", "C", "s", "ms", "us", "min", "h", "d",
    "mm", "um", "m", "N", "J", "MPa", "GPa", "Hz", "x",
];

/// Names of languages, each in itself, and a command.
const AS_THEY_ARE: [&str; 5] = ["English", "Deutsch", "español", "français", "relatch run"];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        match path.is_dir() {
            true => sources(&path, found),
            false if path.extension().is_some_and(|e| e == "rs") => found.push(path),
            false => {}
        }
    }
}

/// The literal that `text` begins with, as it is at run time.
fn literal(text: &str) -> Option<String> {
    let mut letters = text.trim_start().strip_prefix('"')?.chars().peekable();
    let mut out = String::new();
    while let Some(letter) = letters.next() {
        match letter {
            '"' => return Some(out),
            '\\' => match letters.next()? {
                '\n' => while letters.next_if(|c| c.is_whitespace()).is_some() {},
                'n' => out.push('\n'),
                'u' => {
                    let code: String = letters.by_ref().skip(1).take_while(|c| *c != '}').collect();
                    out.extend(u32::from_str_radix(&code, 16).ok().and_then(char::from_u32));
                }
                other => out.push(other),
            },
            other => out.push(other),
        }
    }
    None
}

/// Name or place, and form, of each hole.
fn holes(text: &str) -> BTreeSet<(String, String)> {
    let text = text.replace("{{", "").replace("}}", "");
    let mut unnamed = 0;
    let inside = text.split('{').skip(1).filter_map(|t| t.split_once('}'));
    let hole = |(inside, _): (&str, &str)| {
        let (name, form) = inside.split_once(':').unwrap_or((inside, ""));
        let name = match name {
            "" => {
                unnamed += 1;
                (unnamed - 1).to_string()
            }
            named => named.to_owned(),
        };
        (name, form.to_owned())
    };
    inside.map(hole).collect()
}

fn has_words(text: &str) -> bool {
    let mut outside = String::new();
    let mut depth = 0;
    for letter in text.chars() {
        match letter {
            '{' => depth += 1,
            '}' => depth -= 1,
            other if depth == 0 => outside.push(other),
            _ => outside.push(' '),
        }
    }
    outside
        .split(|c: char| !c.is_ascii_alphabetic())
        .any(|word| !word.is_empty() && !SAME.contains(&word))
}

/// What the code says in English, and where.
fn said() -> BTreeMap<String, String> {
    let mut paths = Vec::new();
    sources(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("src"),
        &mut paths,
    );
    let mut found = BTreeMap::new();
    for path in paths {
        let text = std::fs::read_to_string(&path).unwrap();
        for opening in ["word!(", "noted!(", "say!("] {
            for (at, _) in text.match_indices(opening) {
                let Some(said) = literal(&text[at + opening.len()..]) else {
                    continue;
                };
                if has_words(&said) {
                    let line = text[..at].lines().count();
                    found
                        .entry(said)
                        .or_insert(format!("{}:{line}", path.display()));
                }
            }
        }
    }
    on_the_page(&mut found);
    let of_records = of_scenarios()
        .into_iter()
        .chain(of_limits())
        .chain(of_properties());
    found.extend(of_records.map(|text| (text, "records".to_owned())));
    found
}

/// What a report calls the tables and numbers of a scenario, off the list of every key.
fn of_scenarios() -> Vec<String> {
    let mut found = Vec::new();
    let mut is_told = false;
    let keys = key_list();
    let entries = keys
        .lines()
        .filter_map(|l| l.strip_prefix("# ")?.split_once(" # "));
    for (entry, about) in entries {
        match entry.trim().strip_prefix('[') {
            // A report lists lists in tables of their own, and metals as well.
            Some(table) => {
                is_told = !table.starts_with('[')
                    && !table.contains("alloy.")
                    && !table.contains("metal.")
            }
            None if !is_told => {}
            None => found.extend(about.split_once(": a").map(|(about, _)| about.to_owned())),
        }
        if is_told && entry.trim().starts_with('[') {
            found.push(about.to_owned());
        }
    }
    found
}

/// Names and sources of published limits.
fn of_limits() -> Vec<String> {
    let own = LIMITS.iter().flat_map(|l| [l.name, l.source]);
    let compensated = LIMITS.iter().filter_map(|l| find_compensated(l.name));
    own.chain(compensated.map(|l| l.source))
        .map(str::to_owned)
        .collect()
}

/// Where metals' values and the steps of a computation by hand are from: those that are a sentence
/// and no document have words in every language.
fn sources_of_steps() -> BTreeSet<String> {
    let files = [
        "03-deck-oven",
        "04-fog-machine",
        "05-classroom-strip",
        "10-impatient-resets",
    ];
    let explained = files.map(|f| explain(&scenario(f), &mut |_, _| {}).expect("an explanation"));
    let steps = explained.iter().flat_map(|e| e.steps());
    let mut found: BTreeSet<String> = steps.map(|s| s.source.clone()).collect();
    found.extend(formulas::ALL.iter().map(|f| f.source.to_owned()));
    found.extend(written_steps());
    found
}

/// Of steps that no such computation takes: the last text of each where it is made.
fn written_steps() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/study/by_hand");
    let mut paths = Vec::new();
    sources(&folder, &mut paths);
    let texts = paths
        .iter()
        .map(|path| std::fs::read_to_string(path).unwrap());
    let last = |made: &str| {
        let until = made.split_once(")?;").map_or(made, |(made, _)| made);
        let source = until.trim_end().trim_end_matches(',').strip_suffix('"')?;
        let (_, source) = source.rsplit_once('"')?;
        has_words(source).then(|| source.to_owned())
    };
    texts
        .flat_map(|text| {
            let made: Vec<String> = text.split(".step(").skip(1).filter_map(last).collect();
            made
        })
        .collect()
}

/// What properties of metals are called where a number is wanting.
fn of_properties() -> [String; 8] {
    use relatch::internals::answer::PropertyName::*;
    [
        Density,
        YoungsModulus,
        Resistivity,
        ThermalConductivity,
        SpecificHeat,
        ThermalExpansion,
        PoissonRatio,
        Hardness,
    ]
    .map(|property| property.name().to_owned())
}

fn has_a_year(source: &str) -> bool {
    let mut numbers = source.split(|c: char| !c.is_ascii_digit());
    numbers.any(|n| n.len() == 4) || source.contains(" ed., ")
}

fn citations() -> Vec<String> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/materials/references.toml");
    let text = std::fs::read_to_string(path).unwrap();
    let quoted = text.lines().filter_map(|l| l.strip_prefix("citation = \""));
    quoted.map(|l| l.trim_end_matches('"').to_owned()).collect()
}

/// Texts of the page: between its elements, read aloud, and said by its scripts.
fn on_the_page(found: &mut BTreeMap<String, String>) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/page/assets");
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let text = std::fs::read_to_string(&path).unwrap();
        let texts: Vec<String> = match path.extension().and_then(|e| e.to_str()) {
            Some("html") => {
                let body = text.split_once("<body>").unwrap().1;
                let between = body
                    .split('>')
                    .filter_map(|t| t.split_once('<'))
                    .map(|(t, _)| t);
                let aloud = body.split("aria-label=\"").skip(1);
                let aloud = aloud.filter_map(|t| t.split_once('"')).map(|(t, _)| t);
                let one_line = |t: &str| t.split_whitespace().collect::<Vec<_>>().join(" ");
                between.chain(aloud).map(one_line).collect()
            }
            Some("js") => ["say(", "noted("]
                .iter()
                .flat_map(|opening| text.split(opening).skip(1).filter_map(literal))
                .collect(),
            _ => Vec::new(),
        };
        let words = texts
            .into_iter()
            .filter(|t| has_words(t) && !AS_THEY_ARE.contains(&t.as_str()));
        found.extend(words.map(|t| (t, path.display().to_string())));
    }
}

#[test]
fn every_language_has_every_word_with_its_holes() {
    let mut said = said();
    let sources = sources_of_steps();
    let sentences = sources.iter().filter(|s| !has_a_year(s));
    said.extend(sentences.map(|s| (s.clone(), "steps by hand".to_owned())));
    let maybe: BTreeSet<String> = sources.into_iter().chain(citations()).collect();
    assert!(said.len() > 1000, "{}", said.len());
    for (_, file) in OTHERS {
        let path = format!(
            "{}/src/present/language/{file}.toml",
            env!("CARGO_MANIFEST_DIR")
        );
        let text = std::fs::read_to_string(path).unwrap();
        let table: BTreeMap<String, String> = toml::from_str(&text).expect("a table of words");
        let missing = said.iter().filter(|(text, _)| !table.contains_key(*text));
        let missing: Vec<String> = missing
            .map(|(text, at)| format!("{at}: {text:?}"))
            .collect();
        assert!(
            missing.is_empty(),
            "{file}.toml lacks\n{}",
            missing.join("\n")
        );
        let unused: Vec<&String> = table
            .keys()
            .filter(|k| !said.contains_key(*k) && !maybe.contains(*k))
            .collect();
        assert!(
            unused.is_empty(),
            "{file}.toml has what nothing says: {unused:#?}"
        );
        for (english, other) in &table {
            assert_eq!(
                holes(english),
                holes(other),
                "{file}.toml: {english:?}: {other:?}"
            );
            let ends = |t: &str| (t.starts_with(' '), t.ends_with(' '), t.ends_with('\n'));
            assert_eq!(
                ends(english),
                ends(other),
                "{file}.toml: {english:?}: {other:?}"
            );
        }
    }
}

fn scenario(file: &str) -> relatch::Scenario {
    let path = format!("{}/scenarios/{file}.toml", env!("CARGO_MANIFEST_DIR"));
    relatch::load(Path::new(&path)).unwrap()
}

fn shipped() -> Vec<relatch::Outcome> {
    let files = [
        "01-pug-mill",
        "04-fog-machine",
        "07-irrigation-pump-worn",
        "16-pump-lost-phase",
    ];
    let mut options = Options::default();
    options.characteristic = true;
    let outcome = |file| predict(&scenario(file), &options, &mut |_, _| {}).unwrap();
    files.map(outcome).into()
}

#[test]
fn a_run_is_said_in_every_language_and_nothing_is_cut() {
    for outcome in shipped() {
        let record = json(&outcome).unwrap();
        for (language, _) in OTHERS {
            speaking(language.into(), || {
                for columns in [40, 80, 160] {
                    let screen = terminal(&run_blocks(&outcome), Screen::new(columns, false));
                    let wide = screen.lines().find(|l| l.chars().count() > columns);
                    assert_eq!(wide, None, "{language:?}");
                    assert!(!screen.contains("How long to wait"), "{screen}");
                }
                // What a program reads is the same everywhere.
                assert_eq!(json(&outcome).unwrap(), record);
                for figure in figures(&outcome) {
                    assert!(figure.svg.contains("<text"), "{}", figure.stem);
                    assert_nothing_reaches_the_edge(&figure);
                }
            });
        }
    }
}

#[test]
fn decimals_stand_behind_the_mark_of_the_place() {
    let first = &shipped()[0];
    let screen = |locale: &str| {
        let locale = Locale::of(locale).unwrap();
        speaking(locale, || {
            terminal(&run_blocks(first), Screen::new(80, false))
        })
    };
    assert!(screen("en").contains("12.24 A"));
    assert!(screen("de_DE.UTF-8").contains("12,24 A"));
    assert!(screen("es_MX").contains("12.24 A"));
    assert!(screen("fr").contains("12,24 A"));
    let back = terminal(&run_blocks(first), Screen::new(80, false));
    assert_eq!(back, screen("en"));
}

/// What is put in is told in German, too: no label of a scenario's keys is left in English.
#[test]
fn a_report_has_no_label_in_another_language() {
    let labels = of_scenarios();
    let outcome = fabricated::latch();
    for file in [
        "01-pug-mill",
        "04-fog-machine",
        "06-irrigation-pump-new",
        "15-theatre-saw",
        "16-pump-lost-phase",
    ] {
        let scenario = scenario(file);
        let report = |language: Language| {
            let html = speaking(language.into(), || report_html(&outcome, &scenario));
            let texts = html.split('>').filter_map(|t| t.split_once('<'));
            let texts: BTreeSet<String> = texts.map(|(t, _)| t.to_lowercase()).collect();
            labels
                .iter()
                .filter(|l| texts.contains(&l.replace("degC", "°C").to_lowercase()))
                .count()
        };
        assert!(report(Language::English) > 20, "{file}");
        for (language, _) in OTHERS {
            // "Altitude" is French as well, and "radio" is no word of this part.
            assert!(report(language) <= 1, "{file} {language:?}");
        }
    }
}

/// Sentences that say where a formula is from are told in German, and differences have its comma.
#[test]
fn a_page_by_hand_has_sources_and_marks_of_its_language() {
    let explained = explain(&scenario("08-worked-strip"), &mut |_, _| {}).expect("an explanation");
    let html = speaking(Language::German.into(), || explanation_html(&explained));
    let texts: Vec<&str> = html
        .split('>')
        .filter_map(|t| t.split_once('<'))
        .map(|(t, _)| t)
        .collect();
    for source in sources_of_steps().iter().filter(|s| !has_a_year(s)) {
        assert!(!texts.contains(&source.as_str()), "{source}");
    }
    let apart: Vec<&&str> = texts
        .iter()
        .filter(|t| t.ends_with(" %") && t.starts_with(['+', '−']))
        .collect();
    assert!(apart.iter().any(|t| t.contains(',')), "{apart:?}");
    assert!(apart.iter().all(|t| !t.contains('.')), "{apart:?}");
}
