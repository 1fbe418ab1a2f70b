//! The page without a server: the same questions, as text to a function and text back.

use super::routes::{self, PLAIN, spoken_in};
use super::{PageError, Preset, shipped};
use crate::predict::Halt;
use crate::present::language::speaking;
use serde::Deserialize;

/// What answers a page that has no server.
#[derive(Debug, Default)]
pub struct Offline {
    presets: Vec<Preset>,
}

/// A scenario that the page brings with it.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Brought {
    id: String,
    text: String,
}

impl Offline {
    /// Answers a request, a line with its target and the question as JSON below: `200` or `400` in
    /// the first line, and below the answer, or `{"error": ...}`.
    ///
    /// The target `/open` comes first, with the scenarios that stand before the shipped ones,
    /// `[{"id": ..., "text": ...}]`; the others are those of the local server.
    ///
    /// ```
    /// let mut page = relatch::Offline::default();
    /// assert!(page.answer("/open\n[]").starts_with("200\n["));
    /// let answer = page.answer("/answer\n{\"preset\":\"08-worked-strip\"}");
    /// assert!(answer.starts_with("200\n{\"outcome\":{"));
    /// assert!(page.answer("/answer\n{}").starts_with("400\n{\"error\":"));
    /// ```
    pub fn answer(&mut self, request: &str) -> String {
        let (target, question) = request.split_once('\n').unwrap_or((request, ""));
        match self.reply(target, question) {
            Ok(text) => format!("200\n{text}"),
            Err(e) => format!("400\n{}", serde_json::json!({ "error": e.to_string() })),
        }
    }

    fn reply(&mut self, target: &str, question: &str) -> Result<String, PageError> {
        let (locale, target) = spoken_in(target);
        speaking(locale, || self.replied(target, question))
    }

    fn replied(&mut self, target: &str, question: &str) -> Result<String, PageError> {
        match target {
            "/open" => {
                self.presets = presets(question)?;
                routes::plain(PLAIN[0], &self.presets)
            }
            _ if PLAIN.contains(&target) => routes::plain(target, &self.presets),
            _ if routes::QUESTIONS.contains(&target) => {
                routes::answered(target, question.as_bytes(), &self.presets, &Halt::default())
            }
            _ => Err(PageError::Asked("there is no such page here".into())),
        }
    }
}

fn presets(brought: &str) -> Result<Vec<Preset>, PageError> {
    let brought: Vec<Brought> = routes::read(brought.as_bytes())?;
    let own = brought.iter().map(|b| Preset::new(&b.id, &b.text));
    with_shipped(own.collect::<Result<_, _>>()?)
}

/// The shipped presets behind those that somebody brings.
///
/// # Errors
/// None, unless a shipped file is damaged.
pub fn with_shipped(mut own: Vec<Preset>) -> Result<Vec<Preset>, PageError> {
    let shipped = shipped()?;
    let more = shipped
        .into_iter()
        .filter(|s| !own.iter().any(|p| p.id == s.id));
    let more: Vec<Preset> = more.collect();
    own.extend(more);
    Ok(own)
}
