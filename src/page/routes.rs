//! What can be asked for, whatever carries question and answer. Nothing is read from the disk.

use super::answer::answer_until;
use super::asked::Asked;
use super::interviewed::interviewed;
use super::taught::taught;
use super::waited::waited;
use super::watched::watched_until;
use super::worked::worked;
use super::{PageError, Preset, facts, written};
use crate::predict::Halt;
use crate::present::language::{Language, Locale, spoken, table};
use serde::{Serialize, de::DeserializeOwned};

/// Targets that are answered without a question: the presets, and the words of a language.
pub(super) const PLAIN: [&str; 2] = ["/presets", "/words"];
/// Targets of questions.
pub(super) const QUESTIONS: [&str; 7] = [
    "/answer",
    "/course",
    "/scenario",
    "/wait",
    "/diagnosis",
    "/lesson",
    "/mechanism",
];

/// A question as JSON.
pub(super) fn read<T: DeserializeOwned>(question: &[u8]) -> Result<T, PageError> {
    serde_json::from_slice(question)
        .map_err(|e| PageError::Asked(format!("the request is not understood: {e}")))
}

fn json(record: &impl Serialize) -> Result<String, PageError> {
    serde_json::to_string(record).map_err(|e| PageError::Impossible(e.to_string()))
}

/// What is asked for, and in which language: `/de/answer` asks for `/answer` in German.
pub(super) fn spoken_in(target: &str) -> (Locale, &str) {
    let inside = |language: &Language| target.strip_prefix('/')?.strip_prefix(language.code());
    let named = Language::ALL.into_iter().find_map(|language| {
        let rest = inside(&language).filter(|rest| rest.starts_with('/'))?;
        Some((language.into(), rest))
    });
    named.unwrap_or((Locale::ENGLISH, target))
}

/// Answers a target of [`PLAIN`].
pub(super) fn plain(target: &str, presets: &[Preset]) -> Result<String, PageError> {
    match target {
        "/words" => json(&table(spoken().language)),
        _ => json(&presets.iter().map(facts).collect::<Vec<_>>()),
    }
}

/// Answers a question of [`QUESTIONS`], as JSON or as the text of a scenario, unless `halt` is due
/// first.
pub(super) fn answered(
    target: &str,
    question: &[u8],
    presets: &[Preset],
    halt: &Halt,
) -> Result<String, PageError> {
    match target {
        "/wait" => return json(&waited(&read(question)?)?),
        "/diagnosis" => return json(&interviewed(&read(question)?)?),
        _ => {}
    }
    let asked: Asked = read(question)?;
    let preset = presets
        .iter()
        .find(|p| p.id == asked.preset)
        .ok_or_else(|| PageError::Asked("there is no preset of that name".into()))?;
    let sliders = asked.sliders.checked()?;
    match target {
        "/course" => {
            let (resets_s, look) = (&asked.resets_s, asked.look);
            json(&watched_until(preset, &sliders, resets_s, look, halt)?)
        }
        "/scenario" => written(preset, &sliders),
        "/mechanism" => json(&worked(preset, &sliders, asked.look, halt)?),
        "/lesson" => {
            let missing = || PageError::Asked("which lesson is not said".into());
            let lesson = asked.lesson.as_ref().ok_or_else(missing)?;
            json(&taught(preset, &sliders, lesson)?)
        }
        _ => {
            let (brief, look) = (asked.brief, asked.look);
            json(&answer_until(preset, &sliders, brief, look, halt)?)
        }
    }
}
