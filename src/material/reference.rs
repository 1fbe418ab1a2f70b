//! Sources of material data.

/// A source by its key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reference {
    /// Key, as properties name it.
    pub key: String,
    /// Author, title, year, and how the value was had from it.
    pub citation: String,
}
