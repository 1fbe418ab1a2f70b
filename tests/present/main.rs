//! Every output renders the same record.

mod csv;
mod fabricated;
mod figures;
mod files;
mod json;
mod text;
