//! What can be asked for, whatever carries question and answer. Nothing is read from the disk.

use super::answer::answer_until;
use super::asked::Asked;
use super::interviewed::interviewed;
use super::waited::waited;
use super::watched::watched_until;
use super::{PageError, Preset, facts, written};
use crate::predict::Halt;
use serde::{Serialize, de::DeserializeOwned};

/// Targets that are answered without a question.
pub(super) const PLAIN: &str = "/presets";
/// Targets of questions.
pub(super) const QUESTIONS: [&str; 5] = ["/answer", "/course", "/scenario", "/wait", "/diagnosis"];

/// A question as JSON.
pub(super) fn read<T: DeserializeOwned>(question: &[u8]) -> Result<T, PageError> {
    serde_json::from_slice(question)
        .map_err(|e| PageError::Asked(format!("the request is not understood: {e}")))
}

fn json(record: &impl Serialize) -> Result<String, PageError> {
    serde_json::to_string(record).map_err(|e| PageError::Impossible(e.to_string()))
}

/// The presets, as the page needs them.
pub(super) fn plain(presets: &[Preset]) -> Result<String, PageError> {
    json(&presets.iter().map(facts).collect::<Vec<_>>())
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
        _ => {
            let (brief, look) = (asked.brief, asked.look);
            json(&answer_until(preset, &sliders, brief, look, halt)?)
        }
    }
}
