//! Sentences of the record.

use crate::quantity::{Dimension, format_number, format_si};
use crate::scenario::ageing::{Relaxation, SpringNode, SpringPlace, TimeScale};

/// The law of relaxation.
pub fn law(relaxation: &Relaxation) -> String {
    let percent = |v: f64| format!("{} %", format_number(100.0 * v));
    match relaxation {
        Relaxation::Logarithmic { coefficient, scale } => format!(
            "logarithmic, A {}, {}",
            percent(*coefficient),
            time_scale(scale)
        ),
        Relaxation::Power {
            coefficient,
            exponent,
            scale,
        } => format!(
            "power law, k {}, p {}, {}",
            percent(*coefficient),
            format_number(*exponent),
            time_scale(scale)
        ),
        Relaxation::LarsonMiller {
            constant,
            start_k,
            loss_per_k,
        } => format!(
            "Larson-Miller, C {}, from {} K on {} per 1000 K",
            format_number(*constant),
            format_number(*start_k),
            percent(1000.0 * loss_per_k)
        ),
    }
}

fn time_scale(scale: &TimeScale) -> String {
    let time = format_si(scale.time_constant_s, Dimension::Time);
    let energy = format_number(scale.activation_j_per_mol / 1000.0);
    match scale.at_k {
        Some(k) => format!(
            "{time} at {}, {energy} kJ/mol",
            format_si(k, Dimension::Temperature)
        ),
        None => format!("tau0 {time}, {energy} kJ/mol"),
    }
}

/// Where the spring is.
pub fn spring(place: &SpringPlace) -> String {
    let node = match place.node {
        SpringNode::ClampedTerminal => "clamped terminal",
        SpringNode::MovingContact => "moving contact",
        SpringNode::FixedContact => "fixed contact",
        SpringNode::HousingAir => "housing air",
        SpringNode::Ambient => "ambient",
    };
    if place.offset_k == 0.0 {
        node.to_owned()
    } else {
        format!("{node} {:+} K", place.offset_k)
    }
}
