//! A lesson's sheet on the page, with its key: the blocks that `relatch lesson` prints.

use super::{PageError, Preset, Sliders, written};
use crate::present::block::html_part;
use crate::present::{Paper, lesson_key_blocks, lesson_sheet_blocks, lesson_sheets_html};
use crate::study::lesson::{Level, Plan, lesson};
use serde::{Deserialize, Serialize};

/// Which lesson is wanted.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LessonAsked {
    level: Level,
    minutes: u32,
    seed: u32,
}

/// A sheet with its key.
#[derive(Debug, Serialize)]
pub(super) struct Taught {
    /// The sheet, as HTML.
    sheet: String,
    /// Its key, as HTML.
    key: String,
    /// The sheet as a file that prints.
    file: String,
}

/// Makes the sheet.
///
/// # Errors
/// Why there is none.
pub(super) fn taught(
    preset: &Preset,
    sliders: &Sliders,
    asked: &LessonAsked,
) -> Result<Taught, PageError> {
    let text = written(preset, sliders)?;
    let plan = Plan {
        level: asked.level,
        minutes: asked.minutes,
        variants: 1,
        seed: asked.seed.into(),
    };
    let made = lesson((&preset.id, &text), &plan, &mut |_, _| {})
        .map_err(|e| PageError::Impossible(e.to_string()))?;
    let (sheets, keys) = (made.sheets.iter(), made.sheets.iter());
    let sheets: Vec<_> = sheets.flat_map(|s| lesson_sheet_blocks(&made, s)).collect();
    let keys: Vec<_> = keys.flat_map(lesson_key_blocks).collect();
    Ok(Taught {
        sheet: html_part(&sheets),
        key: html_part(&keys),
        file: lesson_sheets_html(&made, Paper::A4),
    })
}
