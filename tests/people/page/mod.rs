//! The page: its server over real sockets, its numbers beside the command's, and (ignored unless asked for) the
//! whole of it in a browser.

mod browser;
mod client;
mod course;
mod devtools;
mod guards;
mod manners;
mod numbers;
mod program;
mod sliders;
