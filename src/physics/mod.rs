//! One function a published formula, on plain SI numbers.
//!
//! Nothing here knows a file, a device or a solver. Every function states what it means, its units,
//! where it holds and who published it. Inputs are not checked: a number outside the stated range
//! gives a number (perhaps infinite or NaN), never a panic; the reader of the scenario checks.
//!
//! | Subject | Module |
//! |---|---|
//! | bending of layered strips | [`layered_section`] |
//! | heat made by current | [`contact`] |
//! | heat given off | [`air`], [`convection`], [`radiation`] |
//! | heat across the layers | [`through_thickness`] |
//! | blades that snap | [`snap_blade`] |
//! | discs that snap | [`shell`] |
//! | magnetic pull on an armature | [`electromagnet`] |
//! | current after a circuit is closed | [`closing_current`] |
//! | strips that push one bar | [`trip_bar`] |
//! | nodes of elements | [`lobatto`] |
//! | a body of one temperature | [`one_body`] |
//! | springs and their loss of preload | [`relaxation`] |

pub mod air;
pub mod closing_current;
pub mod constants;
pub mod contact;
pub mod convection;
pub mod electromagnet;
pub mod layered_section;
pub mod lobatto;
pub mod one_body;
pub mod radiation;
pub mod relaxation;
pub mod shell;
pub mod snap_blade;
pub mod through_thickness;
pub mod trip_bar;
