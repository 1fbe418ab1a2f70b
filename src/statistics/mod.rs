//! Statistics on plain numbers: chance that can be repeated, distributions, designs, intervals,
//! fits, and summaries that merge. Nothing here knows physics, units or files.
//!
//! Every result is the same bytes on every machine: integers, the basic operations of IEEE 754 and
//! the portable functions of `libm`; no clock, no thread count, no order of arrival. Inputs are
//! checked and refused with a [`StatisticsError`]; nothing panics.
//!
//! Methods are cited from memory unless it says that they were read; what they compute is held to
//! published or independently computed values in the tests, whose provenance stands beside each.
//!
//! | Subject | Module |
//! |---|---|
//! | random numbers by (seed, purpose, unit, draw) | [`philox`], [`stream`] |
//! | distributions by their quantiles | [`normal`], [`truncated_normal`], [`marginal`], [`weibull`] |
//! | parts that share a batch | [`shared_factors`] |
//! | samples better than chance | [`sobol`], [`latin_hypercube`], [`permutation`] |
//! | counts and their tails | [`beta`], [`binomial`] |
//! | numbers with weights, polynomials through many | [`weighted`], [`least_squares`] |
//! | confidence without a distribution | [`order_statistics`], [`proportion`] |
//! | rare events | [`importance`] |
//! | which input matters | [`sensitivity`] |
//! | lives, some of them not yet over | [`kaplan_meier`], [`weibull_fit`], [`weibull_goodness`] |
//! | summaries that merge to the same bytes | [`exact_sum`], [`summary`], [`histogram`] |

pub mod beta;
pub mod binomial;
pub mod deviance;
mod error;
pub mod exact_sum;
pub mod histogram;
pub mod importance;
mod interval;
pub mod kaplan_meier;
pub mod latin_hypercube;
pub mod least_squares;
mod limbs;
pub mod marginal;
pub mod normal;
pub mod order_statistics;
pub mod permutation;
pub mod philox;
pub mod proportion;
pub mod rates;
pub mod sensitivity;
pub mod shared_factors;
pub mod sobol;
pub mod stream;
pub mod summary;
pub mod truncated_normal;
pub mod weibull;
pub mod weibull_fit;
pub mod weibull_goodness;
pub mod weighted;

pub use error::StatisticsError;
pub use interval::Interval;
