//! The statistics room against closed forms, published and independently computed values.

mod beta;
mod binomial;
mod exact_sum;
mod histogram;
mod kaplan_meier;
mod latin_hypercube;
mod lives;
mod marginal;
mod normal;
mod order_statistics;
mod permutation;
mod proportion;
mod rates;
mod same_bytes;
mod sensitivity;
mod shared_factors;
mod sobol;
mod stream;
mod summary;
mod truncated_normal;
mod weibull;
mod weibull_fit;
mod weibull_goodness;
mod weighted;
