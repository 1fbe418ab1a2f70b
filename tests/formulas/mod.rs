//! Published formulas that serve no answer: closed forms to hold the engine and its formulas
//! against, one function each, on plain SI numbers.
#![allow(dead_code)]

pub mod adiabatic;
pub mod contact;
pub mod convection;
pub mod derating;
pub mod fin;
pub mod heating;
pub mod joule;
pub mod layered;
pub mod one_mode_blade;
pub mod relaxation;
pub mod spring;
pub mod thermostat_metal;
pub mod timoshenko;
pub mod truss;
