//! One function a published formula, on plain SI numbers.
//!
//! Nothing here knows a file, a device or a solver. Every function states what it means, its units,
//! where it holds and who published it. Inputs are not checked: a number outside the stated range
//! gives a number (perhaps infinite or NaN), never a panic; the reader of the scenario checks.
//!
//! | Subject | Module |
//! |---|---|
//! | bending of layered strips | [`layered_section`], [`timoshenko`], [`thermostat_metal`] |
//! | heat made by current | [`joule`], [`contact`] |
//! | heat given off | [`air`], [`convection`], [`radiation`] |
//! | heat across the layers | [`through_thickness`] |
//! | blades and discs that snap | [`snap_blade`], [`snap_disc`], [`truss`] |
//! | springs and their loss of preload | [`spring`], [`relaxation`] |
//! | closed forms to teach and to check by hand | [`fin`], [`heating`], [`adiabatic`], [`derating`] |

pub mod adiabatic;
pub mod air;
pub mod constants;
pub mod contact;
pub mod convection;
pub mod derating;
pub mod fin;
pub mod heating;
pub mod joule;
pub mod layered_section;
pub mod radiation;
pub mod relaxation;
pub mod snap_blade;
pub mod snap_disc;
pub mod spring;
pub mod thermostat_metal;
pub mod through_thickness;
pub mod timoshenko;
pub mod truss;
