//! Every name and sentence for an answer, once each. One function an enum; another language is
//! another set of the same functions in place of [`english`].

mod english;

pub(crate) use english::*;
pub use english::{assumed, cause, log_import, verdict};
