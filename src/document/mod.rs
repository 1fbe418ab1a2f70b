//! TOML files with spans: every value is checked where it is read, every problem is collected,
//! nothing aborts on the first.

mod asked;
mod bounds_text;
mod file;
mod lists;
mod parse;
mod scalars;
#[cfg(feature = "files")]
mod staged;
mod table;
mod value;

pub(crate) use asked::{Asked, AskedKeys};
pub(crate) use bounds_text::{example_within, name_within};
pub use file::{FileKind, MOST_BYTES, ReadError, read_file};
pub use parse::{Document, Noted};
#[cfg(feature = "files")]
pub(crate) use staged::{TEMPORARY, temporary};
pub use table::TableReader;
pub use value::{Bounds, Read};
