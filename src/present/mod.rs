//! Renders the one [`Outcome`](crate::predict::Outcome) record: text, JSON, CSV, figures, and the
//! folder that holds them. Nothing here computes a prediction.

pub mod cautions;
mod csv;
mod files;
mod json;
mod limits;
mod number;
pub mod plot;
mod population;
mod text;

pub use csv::{
    CsvError, ambient_correction_csv, characteristic_csv, preload_shift_csv, series_csv,
};
pub use files::{FilesError, Folder, Written, write};
pub use json::{json, json_list, serialised};
pub use number::significant;
pub use population::write_population;
pub use text::{characteristic_text, single_text, text, vary_text};
