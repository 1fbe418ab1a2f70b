//! Populations of units: scatter, what matters most, rates of failure.
