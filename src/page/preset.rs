//! What the page can start from: the scenarios that come with the program, and one that is given.

use super::PageError;
use crate::scenario::{Scenario, read_text};

/// A scenario to start from, as text and as read.
#[derive(Debug, Clone)]
pub struct Preset {
    /// Short name: the stem of its file.
    pub id: String,
    /// Its text.
    pub text: String,
    /// What the text says.
    pub scenario: Scenario,
}

impl Preset {
    /// A preset from the text of a scenario.
    ///
    /// # Errors
    /// Every problem of the text.
    pub fn new(id: &str, text: &str) -> Result<Preset, PageError> {
        let scenario = read_text(id, text).map_err(|e| PageError::Impossible(e.to_string()))?;
        Ok(Preset {
            id: id.to_owned(),
            text: text.to_owned(),
            scenario,
        })
    }
}

macro_rules! scenarios {
    ($($stem:literal),* $(,)?) => {
        [$(($stem, include_str!(concat!("../../scenarios/", $stem, ".toml")))),*]
    };
}

const SHIPPED: [(&str, &str); 10] = scenarios![
    "01-pug-mill",
    "02-curtain-winch",
    "03-deck-oven",
    "04-fog-machine",
    "05-classroom-strip",
    "06-irrigation-pump-new",
    "07-irrigation-pump-worn",
    "08-worked-strip",
    "09-late-part",
    "10-impatient-resets",
];

/// The scenarios that come with the program.
///
/// # Errors
/// None, unless a shipped file is damaged.
pub fn shipped() -> Result<Vec<Preset>, PageError> {
    SHIPPED
        .iter()
        .map(|(stem, text)| Preset::new(stem, text))
        .collect()
}
