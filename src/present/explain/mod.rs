//! A computation by hand as Markdown and as a page with formulas in MathML.

mod html;
mod markdown;
mod mathml;
mod plain;
mod symbol;
mod words;

pub use html::explanation_html;
pub use markdown::explanation_markdown;
