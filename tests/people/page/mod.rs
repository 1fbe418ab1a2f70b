//! The page: its server over real sockets, its numbers beside the command's, and (ignored unless
//! asked for) the whole of it in a browser.

mod browser;
mod client;
mod course;
mod devtools;
mod guards;
mod hand;
mod manners;
mod marionette;
mod numbers;
mod one_file;
mod program;
mod sliders;
mod taught;
mod wording;
