//! Quantities as people write them: `"0.20 mm"`, `"31 degC"`, `"0.20 mm +- 2 %"`.
//!
//! [`Quantity::read`] turns such a text into an SI number, checks that the unit fits what is
//! asked for, and keeps the tolerance (a standard uncertainty) where one is written.
//! [`format_si`] goes the other way.
//!
//! ```
//! use relatch::internals::quantity::{Dimension, Quantity};
//! let thickness = Quantity::read("0.20 mm +- 2 %", Dimension::Length).unwrap();
//! assert!((thickness.value_si - 0.20e-3).abs() < 1e-18);
//! assert!((thickness.standard_uncertainty_si.unwrap() - 4e-6).abs() < 1e-18);
//! assert!(Quantity::read("0.20", Dimension::Length).is_err());
//! ```

mod dimension;
mod error;
mod loose;
mod number;
mod print;
mod read;
mod symbol;
mod unit;

pub use dimension::Dimension;
pub use error::{Fault, QuantityError};
pub use loose::{beside, read_loosely, strict, two, understood};
pub use print::{format_in_file, format_number, format_si};
pub use read::Quantity;
pub use unit::{Unit, UnitFault};
