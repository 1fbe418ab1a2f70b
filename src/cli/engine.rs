//! The library functions the commands call.

pub use crate::evidence::starter as case_starter;
pub use crate::evidence::{
    case_schema, datasheet_schema, datasheet_starter, read_datasheet, read_datasheet_text,
};
pub use crate::family::{Effort, fit_with};
pub use crate::page::{Preset, Server, one_file, with_shipped};
pub use crate::predict::{Options, predict};
pub use crate::scenario::{STARTER_KINDS, file_text, json_schema, key_list, set, starter};
pub use crate::study::by_hand::explain;
pub use crate::study::design::{starter as targets_starter, targets_schema};
