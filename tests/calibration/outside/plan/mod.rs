//! What a plan costs until the machine runs safely, followed on made machines: each look shows what
//! is true there, each mend changes it. Beside it what the base rule costs, and an oracle that
//! plans with machines that are made alike.
//!
//! `cargo test --release --test calibration plan -- --ignored --nocapture` prints the table in
//! DEVELOPERS.md.

mod by_diagnosis;
mod by_oracle;
mod looks;
mod mends;
mod scores;
