//! Every output renders the same record.

mod csv;
mod fabricated;
mod figures;
mod files;
mod gallery;
mod json;
mod moving;
mod text;
