//! Targets as a file.

use super::read_wants::{Wants, wants_of};
use super::targets::{Choice, Free, Targets};
use crate::diagnostic::Problem;
use crate::document::{Bounds, Document, Read, TableReader};
use crate::quantity::{Dimension, format_si};
use crate::scenario::{ReadError, Scenario, kind_at, set, value_at};

/// Finds the scenario that targets name: what it is called in messages, and its text.
pub type Find<'f> = &'f dyn Fn(&str) -> Result<(String, String), ReadError>;

/// Most sizes of a stock.
const MOST_SIZES: f64 = 10_000.0;

/// Reads targets; the scenario that they name lies beside the file.
///
/// # Errors
/// A file cannot be read; or every problem of its content at once.
#[cfg(feature = "files")]
pub fn read(path: &std::path::Path) -> Result<Targets, ReadError> {
    const KIND: crate::document::FileKind = crate::document::FileKind {
        noun: "file of targets",
        starter: "relatch new targets",
    };
    let text = crate::document::read_file(path, KIND)?;
    let folder = path
        .parent()
        .map(std::path::Path::to_owned)
        .unwrap_or_default();
    read_text(&path.display().to_string(), &text, &|named| {
        let path = folder.join(named);
        let text = crate::scenario::file_text(&path)?;
        Ok((path.display().to_string(), text))
    })
}

/// Reads targets from text; `name` stands in messages, and `scenario` finds the scenario that they
/// name, with the name that stands in its messages.
///
/// # Errors
/// Every problem at once.
pub fn read_text(name: &str, text: &str, scenario: Find<'_>) -> Result<Targets, ReadError> {
    let document = Document::parse(name, text);
    let root = document.root();
    let mut targets = None;
    if !document.has_problems() {
        let (title, of) = head(&root);
        // Without its scenario nothing else can be judged.
        let base = match of {
            Some(of) => {
                let (name, text) = scenario(of.value.trim())?;
                let (text, scenario) = set((&name, &text), "design", &[])?;
                Some((name, text, scenario))
            }
            None => None,
        };
        if let Some((name, text, scenario)) = base {
            let (free, wanted) = lists(&root, (&text, &scenario));
            if free.is_empty() {
                lacks(
                    &root,
                    "free",
                    "`path = \"strip.width\"`, `from = \"4 mm\"`, `to = \"8 mm\"`",
                );
            }
            if root.tables("want").is_empty() {
                lacks(&root, "want", "`what = \"trip time\"`, `is = \"20 s\"`");
            }
            twice(&root, &free);
            let placed: Vec<&Placed> = free.iter().flatten().collect();
            impossible(&root, (&name, &text), &placed);
            targets = title.map(|title| Targets {
                title: title.value.trim().to_owned(),
                name,
                text,
                scenario,
                free: free.into_iter().flatten().map(|f| f.0).collect(),
                wants: wanted.list,
                documents: wanted.documents,
                cost: wanted.cost,
            });
        }
        root.finish();
    }
    match (document.finish(), targets) {
        (Ok(_), Some(targets)) => Ok(targets),
        (Err(report), _) => Err(ReadError::Content(report)),
        (Ok(_), None) => Err(ReadError::File {
            name: name.into(),
            problem: "it could not be understood".into(),
            help: "`relatch new targets` prints a starter file".into(),
        }),
    }
}

fn head(root: &TableReader<'_>) -> (Option<Read<String>>, Option<Read<String>>) {
    root.whole("format", 1);
    let title = root.required_text("title", "\"A part for the kiln\"");
    (title, root.required_text("scenario", "\"part.toml\""))
}

fn lists(root: &TableReader<'_>, of: (&str, &Scenario)) -> (Vec<Option<Placed>>, Wants) {
    let (free, wants) = (root.tables("free"), root.tables("want"));
    let free = free.iter().map(|t| free_of(t, of.0)).collect();
    (free, wants_of(&wants, of))
}

/// Asks for every key of targets, whatever scenario they name.
pub(super) fn asked_for(root: &TableReader<'_>) {
    head(root);
    let text = crate::scenario::starter("latch");
    if let Some(text) = text
        && let Ok(part) = crate::scenario::read_text("", text)
    {
        lists(root, (text, &part));
    }
}

/// A commented file to begin with.
pub fn starter() -> &'static str {
    include_str!("starter.toml")
}

fn lacks(root: &TableReader<'_>, key: &str, example: &str) {
    root.report(
        Problem::new(root.span(), format!("the file has no [[{key}]]"))
            .label("needed")
            .help(format!("add `[[{key}]]` with {example}")),
    );
}

type Placed = (Free, std::ops::Range<usize>);

fn twice(root: &TableReader<'_>, free: &[Option<Placed>]) {
    let free: Vec<&Placed> = free.iter().flatten().collect();
    for (k, (one, span)) in free.iter().enumerate() {
        if free[..k].iter().any(|(before, _)| before.path == one.path) {
            root.report(Problem::new(span.clone(), "it is free twice").label("the second time"));
        }
    }
}

/// Every end of a number and every word must make a scenario with the other free things somewhere:
/// as they are, or at their least, middle or most.
fn impossible(root: &TableReader<'_>, of: (&str, &str), free: &[&Placed]) {
    let said = |k: usize, at: f64| (free[k].0.path.as_str(), free[k].0.text(at));
    let is_word = |k: usize| matches!(free[k].0.choice, Choice::Words(_));
    for (k, (one, span)) in free.iter().enumerate() {
        let ends = match &one.choice {
            Choice::Words(words) => (0..words.len()).map(|k| k as f64).collect(),
            _ => vec![0.0, 1.0],
        };
        for at in ends {
            let with = |others: Option<f64>| {
                let mut values = vec![said(k, at)];
                let rest = (0..free.len()).filter(|o| *o != k && !is_word(*o));
                values.extend(
                    others
                        .into_iter()
                        .flat_map(|o| rest.clone().map(move |r| said(r, o))),
                );
                let values: Vec<(&str, &str)> =
                    values.iter().map(|(p, v)| (*p, v.as_str())).collect();
                set(of, "design", &values).map(|_| ())
            };
            let Err(ReadError::Content(report)) = with(None) else {
                continue;
            };
            let is_possible = [0.0, 0.5, 1.0].iter().any(|at| with(Some(*at)).is_ok());
            if let (false, Some(first)) = (is_possible, report.problems().first()) {
                root.report(Problem {
                    span: span.clone(),
                    also: None,
                    message: format!("{}: {}", one.choice.text(at), first.message),
                    ..first.clone()
                });
                break;
            }
        }
    }
}

/// One `[[free]]` of the text of a scenario.
fn free_of(t: &TableReader<'_>, scenario: &str) -> Option<Placed> {
    let path = t.required_text("path", "\"strip.width\"")?;
    let kind = match kind_at(path.value.trim()) {
        Ok(kind) => kind,
        Err(problem) => {
            let span = path.span;
            t.report(Problem { span, ..*problem });
            // What else it says belongs to a path that is not known.
            for key in ["from", "to", "step", "stock", "among"] {
                t.has(key);
            }
            t.finish();
            return None;
        }
    };
    let choice = match kind {
        Some(dimension) => number(t, dimension, &path),
        None => words(t, &path),
    };
    t.finish();
    let own = value_at(scenario, path.value.trim()).filter(|_| kind.is_some());
    let free = Free {
        path: path.value.trim().to_owned(),
        choice: choice?,
        tolerance: own.map_or(String::new(), |own| tolerance_of(&own)),
    };
    Some((free, path.span))
}

/// What stands behind a number, from its `+-` on.
fn tolerance_of(value: &str) -> String {
    let at = ["+-", "+/-", "\u{b1}"].iter().find_map(|s| value.find(s));
    at.map_or(String::new(), |at| format!(" {}", &value[at..]))
}

fn number(t: &TableReader<'_>, dimension: Dimension, path: &Read<String>) -> Option<Choice> {
    if t.has("stock") {
        let mut stock = t.quantities("stock", dimension, Bounds::ANY)?;
        stock.sort_by(f64::total_cmp);
        stock.dedup();
        if stock.len() < 2 {
            t.report(
                Problem::new(t.span_of("stock"), "one size leaves nothing free")
                    .help("name two sizes or more"),
            );
            return None;
        }
        return Some(Choice::Stock(stock, dimension));
    }
    if !t.has("from") || !t.has("to") {
        let what = format!("`{}` is free without bounds", path.value.trim());
        t.lacks(
            &["from", "to"],
            Problem::new(path.span.clone(), what)
                .label("from where to where?")
                .help("give `from` and `to` (and `step`, where it comes in sizes), or a list of `stock`"),
        );
    }
    let from = t.optional("from", dimension, Bounds::ANY);
    let to = t.optional("to", dimension, Bounds::ANY);
    let step = t.has("step").then(|| {
        let dimension = match dimension {
            Dimension::Temperature => Dimension::TemperatureDifference,
            other => other,
        };
        t.optional("step", dimension, Bounds::positive(f64::MAX, ""))
    });
    let (from, to) = (from?, to?);
    if from.value >= to.value {
        t.report(Problem::new(to.span, "it must be more than `from`").also(
            from.span,
            format!("{} here", format_si(from.value, dimension)),
        ));
        return None;
    }
    let Some(step) = step else {
        return Some(Choice::Between([from.value, to.value], dimension));
    };
    let step = step?;
    let count = ((to.value - from.value) / step.value * (1.0 + 1e-9)).floor();
    if !(1.0..MOST_SIZES).contains(&count) {
        t.report(
            Problem::new(step.span, "this step makes no list of sizes").help(format!(
                "between `from` and `to` lie 2 to {MOST_SIZES} sizes"
            )),
        );
        return None;
    }
    let sizes = (0..=count as u64).map(|k| from.value + k as f64 * step.value);
    Some(Choice::Stock(sizes.collect(), dimension))
}

fn words(t: &TableReader<'_>, path: &Read<String>) -> Option<Choice> {
    if !t.has("among") {
        let what = format!("`{}` is free without a list", path.value.trim());
        t.lacks(
            &["among"],
            Problem::new(path.span.clone(), what)
                .label("one of which?")
                .help("give `among = [...]` with the words that it may be"),
        );
        return None;
    }
    let words = t.texts("among")?;
    if words.is_empty() {
        t.report(Problem::new(t.span_of("among"), "nothing to choose among"));
        return None;
    }
    Some(Choice::Words(words))
}
