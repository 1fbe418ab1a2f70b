//! The cheapest settings found for a total error (space and time together, against the continuum),
//! by a search over cells, grading, tolerance and, for the backward differences, the first step;
//! `tests/engine/peer_errors.rs` holds them to it. Errors stand in the order: trip at 20 A, at 13
//! A, at 60 A, cool-down after 20 A.
//!
//! Second-order volumes have an error of either sign, by grading and current. The first family
//! holds its accuracy in all four events and is the one to compare with. The second is chosen by
//! knowing the answer at 20 A, so that the errors cancel just there: a lower bound of what a peer
//! can cost, wrong by up to 2 % at 60 A.

use super::{Method, Setting};

const fn setting(
    method: Method,
    cells: usize,
    grading: f64,
    tolerance: f64,
    first_step_s: f64,
) -> Setting {
    Setting {
        method,
        cells,
        grading,
        tolerance,
        first_step_s,
    }
}

// Accurate in all four events.

/// -5.6e-4, -7.7e-4, 3.0e-4, -8.5e-4; 23 evaluations at 20 A.
pub const BDF_1E3: Setting = setting(Method::Bdf, 24, 0.6, 3e-3, 1e-2);
/// -6.1e-5, -9.1e-5, 9.3e-5, 1.2e-5; 34 evaluations.
pub const BDF_1E4: Setting = setting(Method::Bdf, 62, 0.525, 7e-4, 3e-3);
/// -5.0e-6, -8.0e-6, 6.2e-6, -8.6e-6; 58 evaluations.
pub const BDF_1E5: Setting = setting(Method::Bdf, 185, 0.55, 5e-5, 1e-3);
/// -4.8e-4, -7.2e-4, 9.0e-4, -1.5e-4; 171 evaluations.
pub const DOPRI5_1E3: Setting = setting(Method::Dopri5, 20, 0.55, 3e-3, 0.0);
/// -7.6e-5, -9.7e-5, 9.7e-5, -5.2e-5; 1677 evaluations: the steps are as short as stability demands. 1e-5
/// would take three times the cells and ten times the steps.
pub const DOPRI5_1E4: Setting = setting(Method::Dopri5, 58, 0.55, 3e-3, 0.0);
/// -5.6e-4, -7.7e-4, 9.0e-4, -3.1e-4; 240 evaluations.
pub const DOP853_1E3: Setting = setting(Method::Dop853, 20, 0.55, 1e-3, 0.0);
/// -1.5e-5, -5.1e-5, 8.7e-5, 4.0e-5; 1536 evaluations.
pub const DOP853_1E4: Setting = setting(Method::Dop853, 64, 0.45, 3e-3, 0.0);

// Chosen by knowing the answer at 20 A.

/// 3.8e-4, -7.3e-4, 1.4e-2, 1.3e-3; 44 evaluations.
pub const DIFFSOL_AT_20_A_1E3: Setting = setting(Method::Tsit45, 8, 0.45, 3e-3, 0.0);
/// -8.9e-5, -5.8e-4, 8.6e-3, -1.9e-4; 50 evaluations.
pub const DIFFSOL_AT_20_A_1E4: Setting = setting(Method::Tsit45, 10, 0.45, 3e-3, 0.0);
/// -9.4e-6, -5.9e-4, 5.8e-3, 5.9e-4; 47 evaluations.
pub const DIFFSOL_AT_20_A_1E5: Setting = setting(Method::Esdirk34, 12, 0.45, 1e-3, 0.0);
/// -1.6e-5, -4.3e-4, 1.8e-2, -5.1e-4; 51 evaluations; the cheapest for 1e-3, too.
pub const DOPRI5_AT_20_A_1E4: Setting = setting(Method::Dopri5, 7, 0.45, 3e-3, 0.0);
/// -6.5e-6, -4.9e-4, 4.1e-3, 7.2e-4; 81 evaluations.
pub const DOPRI5_AT_20_A_1E5: Setting = setting(Method::Dopri5, 14, 0.45, 1e-3, 0.0);
/// -2.3e-5, -5.1e-4, 1.8e-2, -6.6e-4; 87 evaluations; for 1e-3, too.
pub const DOP853_AT_20_A_1E4: Setting = setting(Method::Dop853, 7, 0.45, 3e-4, 0.0);
/// -9.3e-7, -5.5e-4, 4.6e-3, 6.7e-4; 134 evaluations.
pub const DOP853_AT_20_A_1E5: Setting = setting(Method::Dop853, 13, 0.45, 1e-4, 0.0);
