//! Renders the one [`Outcome`](crate::predict::Outcome) record: text, JSON, CSV, figures, and the
//! folder that holds them. Nothing here computes a prediction.

// Before what speaks, which is all the rest.
#[macro_use]
pub mod language;

mod ageing;
pub mod block;
pub mod cautions;
#[cfg(feature = "figures")]
pub(crate) mod chart;
#[cfg(feature = "cli")]
mod cite;
mod compare;
mod csv;
mod design;
mod diagnosis;
#[cfg(feature = "figures")]
mod diagnosis_files;
mod explain;
mod failures;
#[cfg(feature = "figures")]
mod files;
mod fit;
#[cfg(feature = "figures")]
pub mod gallery;
pub mod html;
mod json;
#[cfg(feature = "figures")]
mod lesson;
mod limits;
mod materials;
mod number;
#[cfg(feature = "figures")]
pub mod plot;
#[cfg(feature = "figures")]
mod population;
mod record;
#[cfg(feature = "figures")]
mod report;
mod run;
mod sentences;
#[cfg(feature = "page")]
pub mod short;
mod summaries;
mod sweep;
#[cfg(feature = "parquet")]
mod units_parquet;
mod vary;
mod wait;
mod watch;
pub(crate) mod words;

#[cfg(feature = "figures")]
pub use ageing::write_age;
pub use ageing::{age_blocks, age_json, drift_csv, lives_csv};
#[cfg(feature = "cli")]
pub use cite::citation_file;
pub use compare::{compare_blocks, compare_json};
pub use csv::{
    CsvError, ambient_correction_csv, characteristic_csv, dial_csv, preload_shift_csv, series_csv,
};
pub use design::{design_blocks, design_json};
#[cfg(feature = "figures")]
pub use diagnosis::work_order;
pub use diagnosis::{diagnosis_blocks, diagnosis_full_blocks};
#[cfg(feature = "figures")]
pub use diagnosis_files::diagnosis_figures;
pub use explain::{explanation_html, explanation_markdown};
#[cfg(feature = "figures")]
pub use failures::write_failures;
pub use failures::{failures_blocks, failures_csv, failures_json, saved_csv};
#[cfg(feature = "figures")]
#[cfg(feature = "figures")]
pub use files::{FilesError, Folder, Look, Written, write, write_all};
pub use fit::{fit_blocks, fit_json};
pub(crate) use json::worded;
pub use json::{diagnosis_json, json_list, serialised};
#[cfg(feature = "figures")]
pub use lesson::{Paper, lesson_key_html, lesson_sheets_html};
#[cfg(feature = "page")]
pub(crate) use lesson::{lesson_key_blocks, lesson_sheet_blocks};
pub use materials::{material_blocks, materials_blocks, materials_readme, strip_blocks};
#[cfg(feature = "page")]
pub(crate) use number::duration;
pub use number::significant;
#[cfg(feature = "figures")]
pub use population::write_population;
pub use record::{Tellable, json, text};
#[cfg(feature = "figures")]
pub use report::report_html;
pub use run::{curve_blocks, run_blocks};
#[cfg(feature = "figures")]
pub use sweep::write_sweep;
pub use sweep::{sweep_blocks, sweep_csv, sweep_json};
#[cfg(feature = "parquet")]
pub use units_parquet::{UnitsParquetError, units_parquet};
pub use vary::{single_blocks, vary_blocks, vary_json};
pub use wait::{wait_blocks, wait_full_blocks, wait_json};
pub use watch::{watch_head, watch_line, watch_status};
pub use words::{
    assumed as assumed_words, cause as cause_words, log_import, verdict as verdict_words,
};
#[cfg(feature = "cli")]
pub(crate) use words::{log_assumption, log_findings};
