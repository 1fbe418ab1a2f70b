//! Every output renders the same record.

mod csv;
mod explain;
mod fabricated;
mod figures;
mod files;
mod json;
mod markup;
mod report;
mod text;
