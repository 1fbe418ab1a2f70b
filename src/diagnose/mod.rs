//! From evidence to a verdict: what is wrong, how sure, what to measure next.
