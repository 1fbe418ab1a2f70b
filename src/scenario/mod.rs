//! Scenario files: read, checked all at once, and handed on in SI units.

mod schema;

pub use schema::*;
