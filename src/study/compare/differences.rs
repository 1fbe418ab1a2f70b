//! Where two scenarios differ, and the first with some of the differences taken over from the
//! second.

use toml_edit::{DocumentMut, Item, Table, Value};

/// Keys that change no answer.
const WORDS: [&str; 5] = ["title", "shows", "format", "changed", "sources"];

/// A place of the file in which two scenarios differ: a key, or a table or list that cannot be
/// taken over in part.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Difference {
    /// Keys on the way; entries of a list by their number.
    steps: Vec<Step>,
    /// As the first has it.
    pub(super) from: Option<String>,
    /// As the second has it.
    pub(super) to: Option<String>,
}

#[derive(Debug, Clone, PartialEq)]
enum Step {
    Key(String),
    Entry(usize),
}

impl Difference {
    /// Its path as `--set` takes it.
    pub(super) fn path(&self) -> String {
        let mut path = String::new();
        for step in &self.steps {
            match step {
                Step::Key(key) if path.is_empty() => path.clone_from(key),
                Step::Key(key) => path += &format!(".{key}"),
                Step::Entry(number) => path += &format!("[{number}]"),
            }
        }
        path
    }

    /// The table of the file in which it stands.
    pub(super) fn table(&self) -> String {
        match self.steps.first() {
            Some(Step::Key(key)) => key.clone(),
            _ => String::new(),
        }
    }
}

/// Every difference, in the order of the files.
pub(super) fn differences(first: &str, second: &str) -> Vec<Difference> {
    let (Ok(a), Ok(b)) = (first.parse::<DocumentMut>(), second.parse::<DocumentMut>()) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    tables(&mut Vec::new(), a.as_table(), b.as_table(), &mut found);
    found
}

fn tables(at: &mut Vec<Step>, a: &Table, b: &Table, found: &mut Vec<Difference>) {
    let new = b.iter().filter(|(key, _)| !a.contains_key(key));
    let keys: Vec<&str> = a.iter().chain(new).map(|(key, _)| key).collect();
    for key in keys {
        if at.is_empty() && WORDS.contains(&key) {
            continue;
        }
        at.push(Step::Key(key.to_owned()));
        items(at, a.get(key), b.get(key), found);
        at.pop();
    }
}

fn items(at: &mut Vec<Step>, a: Option<&Item>, b: Option<&Item>, found: &mut Vec<Difference>) {
    match (a, b) {
        (Some(Item::Table(a)), Some(Item::Table(b))) => tables(at, a, b, found),
        (Some(Item::ArrayOfTables(a)), Some(Item::ArrayOfTables(b))) if a.len() == b.len() => {
            for (k, (a, b)) in a.iter().zip(b.iter()).enumerate() {
                at.push(Step::Entry(k));
                tables(at, a, b, found);
                at.pop();
            }
        }
        _ => {
            let [from, to] = [a, b].map(|item| item.map(said));
            if from != to {
                found.push(Difference {
                    steps: at.clone(),
                    from,
                    to,
                });
            }
        }
    }
}

/// What stands there, on one line.
fn said(item: &Item) -> String {
    match item {
        Item::Value(Value::String(text)) => text.value().clone(),
        Item::Value(value) => value.clone().decorated("", "").to_string(),
        other => {
            let text = other.to_string();
            let lines = text
                .lines()
                .map(|line| line.split('#').next().unwrap_or("").trim());
            lines
                .filter(|line| !line.is_empty())
                .collect::<Vec<_>>()
                .join(", ")
        }
    }
}

/// The first text with these differences taken over from the second.
pub(super) fn taken_over(first: &str, second: &str, list: &[&Difference]) -> Option<String> {
    let mut a = first.parse::<DocumentMut>().ok()?;
    let b = second.parse::<DocumentMut>().ok()?;
    for difference in list {
        let (last, way) = difference.steps.split_last()?;
        let mut into = a.as_item_mut();
        let mut from = Some(b.as_item());
        for step in way {
            (into, from) = match step {
                Step::Key(key) => (into.get_mut(key)?, from.and_then(|item| item.get(key))),
                Step::Entry(number) => (
                    into.get_mut(*number)?,
                    from.and_then(|item| item.get(*number)),
                ),
            };
        }
        let Step::Key(key) = last else {
            return None;
        };
        let table = into.as_table_like_mut()?;
        match from.and_then(|item| item.get(key)) {
            Some(item) => drop(table.insert(key, item.clone())),
            None => drop(table.remove(key)),
        }
    }
    Some(a.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    const A: &str = "title = \"a\"\n[strip]\nwidth = \"4 mm\" # thin\nlength = \"30 mm\"\n\
                     [[strip.layer]]\nalloy = \"x\"\n[housing]\nconductance = \"1 W/K\"\n";
    const B: &str = "title = \"b\"\n[strip]\nlength = \"30 mm\"\nwidth = \"5 mm\"\npush_point = \"20 mm\"\n\
                     [[strip.layer]]\nalloy = \"y\"\n";

    #[test]
    fn differences_are_found_by_key_and_taken_over_one_by_one() {
        let all = differences(A, B);
        let paths: Vec<String> = all.iter().map(Difference::path).collect();
        assert_eq!(
            paths,
            [
                "strip.width",
                "strip.layer[0].alloy",
                "strip.push_point",
                "housing"
            ]
        );
        assert_eq!(
            (all[2].from.as_deref(), all[2].to.as_deref()),
            (None, Some("20 mm"))
        );
        assert_eq!(all[3].to, None);
        let one = taken_over(A, B, &[&all[1]]).expect("a text");
        assert_eq!(differences(A, &one), vec![all[1].clone()]);
        let every: Vec<&Difference> = all.iter().collect();
        let whole = taken_over(A, B, &every).expect("a text");
        assert_eq!(differences(&whole, B), []);
    }
}
