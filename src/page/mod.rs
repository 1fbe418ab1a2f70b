//! A local page with sliders: one protector to play with, in a browser on this machine.
//!
//! The page computes nothing. A move of a slider is sent to a server on this machine, or to
//! [`Offline`] in the page itself, which writes the slider into the text of the scenario
//! ([`written`]), reads that text as `relatch run` would and predicts; so the numbers on the page
//! are those of the command, and the scenario that the page exports gives them again.
//!
//! ```
//! use relatch::internals::page::{Sliders, answer, shipped};
//!
//! let presets = shipped()?;
//! let sliders = Sliders { current_a: Some(13.0), ..Default::default() };
//! let answer = answer(&presets[0], &sliders)?;
//! assert!(answer.outcome.trip.time_s().is_some_and(|t| t > 60.0));
//! # Ok::<(), relatch::internals::page::PageError>(())
//! ```

mod answer;
mod asked;
mod assets;
mod error;
mod facts;
mod interviewed;
mod offline;
mod one_file;
mod preset;
mod routes;
#[cfg(feature = "serve")]
mod server;
mod sliders;
mod taught;
mod waited;
mod watched;
mod worked;
mod write;

pub use answer::{Answer, answer};
pub use error::PageError;
pub use facts::{Facts, Slider, facts};
pub use offline::{Offline, with_shipped};
pub use one_file::one_file;
pub use preset::{Preset, shipped};
#[cfg(feature = "serve")]
pub use server::{Server, Stop};
pub use sliders::{Posture, Sliders};
pub use watched::{Frame, Moment, Watched, watched};
pub use write::written;
