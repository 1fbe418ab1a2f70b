//! Scenarios beside each other: their answers and curves, and which difference of the files does
//! what.

mod differences;
mod outcome;

pub use outcome::{Cause, Change, CompareError, CompareOutcome, Compared, CurveAt, compare};
