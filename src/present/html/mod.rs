//! Text and figures as markup of a page; [`block`](super::block) puts pages together.

mod drawing;
mod escape;

pub use drawing::inline;
pub use escape::escape;
