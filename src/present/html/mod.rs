//! Self-contained pages: one HTML file, no script, nothing loaded from elsewhere, readable on a screen
//! (light and dark) and on A4 or Letter paper (always light).
//!
//! [`Page`] puts headings, text, cautions, tables and figures one below the other. Everything that it
//! is given as text is escaped; only [`Page::raw`] and the drawing of a [`Page::figure`] are markup.
//!
//! ```
//! use relatch::present::html::{Page, Table};
//! let mut page = Page::new("Kiln <3>", "what the file is about");
//! page.heading("Answers");
//! page.paragraph("It trips.");
//! page.table(&Table::new("Trip time against current", &["Current", "Time"]).row(["20 A", "22.4 s"]));
//! let html = page.finish();
//! assert!(html.contains("<h1>Kiln &lt;3&gt;</h1>") && html.contains("<th scope=\"row\">20 A</th>"));
//! ```

mod drawing;
mod escape;
mod page;
mod table;

pub use drawing::inline;
pub use escape::escape;
pub use page::{Callout, Page};
pub use table::Table;
