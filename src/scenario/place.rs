//! Numbers of a scenario by the path at which they stand in its file: for studies that change them.

use super::{ContactResistance, Convection, Mechanism, Scenario};
use crate::load::{Current, Repeat};
use crate::quantity::Dimension;

/// What a number may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Least value, SI; not allowed itself where `open`.
    pub least: f64,
    /// Largest value, SI.
    pub most: f64,
    /// Whether the least value itself is not allowed.
    pub open: bool,
}

const POSITIVE: Range = Range {
    least: 0.0,
    most: f64::INFINITY,
    open: true,
};
const NOT_NEGATIVE: Range = Range {
    open: false,
    ..POSITIVE
};
const SHARE: Range = Range {
    most: 1.0,
    ..NOT_NEGATIVE
};
const LOSS: Range = Range {
    most: 0.949,
    ..NOT_NEGATIVE
};
const ANY: Range = Range {
    least: f64::NEG_INFINITY,
    most: f64::INFINITY,
    open: true,
};
const AMBIENT: Range = Range {
    least: 173.15,
    most: 473.15,
    open: false,
};

type Access = for<'s> fn(&'s mut Scenario, usize) -> Option<&'s mut f64>;

struct Row {
    path: &'static str,
    dimension: Dimension,
    range: Range,
    /// Whether units that differ in it can be computed side by side.
    beside: bool,
    access: Access,
}

const fn row(
    path: &'static str,
    dimension: Dimension,
    range: Range,
    beside: bool,
    access: Access,
) -> Row {
    Row {
        path,
        dimension,
        range,
        beside,
        access,
    }
}

/// The place of the layers' thickness, which stands once for every layer.
const LAYER_PATH: &str = "strip.layer.thickness";

#[rustfmt::skip]
const ROWS: &[Row] = {
    use Dimension as D;
    &[
        row("strip.length", D::Length, POSITIVE, true, |s, _| Some(&mut s.strip.length_m)),
        row("strip.width", D::Length, POSITIVE, true, |s, _| Some(&mut s.strip.width_m)),
        row("strip.push_point", D::Length, POSITIVE, true, |s, _| Some(&mut s.strip.push_point_m)),
        row(LAYER_PATH, D::Length, POSITIVE, true, |s, k| s.strip.layers.get_mut(k).map(|l| &mut l.thickness_m)),
        row("strip.flat_temperature", D::Temperature, AMBIENT, false, |s, _| Some(&mut s.strip.flat_temperature_k)),
        row("strip.initial_curvature", D::Curvature, ANY, true, |s, _| Some(&mut s.strip.initial_curvature_per_m)),
        row("strip.current_share", D::Fraction, Range { least: 0.0, most: 1.0, open: true }, true, |s, _| Some(&mut s.strip.current_share)),
        row("cooling.emissivity", D::Fraction, SHARE, true, |s, _| Some(&mut s.cooling.emissivity)),
        row("cooling.uncovered_fraction", D::Fraction, SHARE, true, |s, _| Some(&mut s.cooling.uncovered_fraction)),
        row("cooling.coefficient", D::FilmCoefficient, POSITIVE, false, |s, _| match &mut s.cooling.convection {
            Convection::Constant { coefficient_w_per_m2_k } => Some(coefficient_w_per_m2_k),
            _ => None,
        }),
        row("cooling.air_speed", D::Speed, POSITIVE, false, |s, _| match &mut s.cooling.convection {
            Convection::Forced { speed_m_per_s, .. } => Some(speed_m_per_s),
            _ => None,
        }),
        row("cooling.gap", D::Length, POSITIVE, false, |s, _| match &mut s.cooling.convection {
            Convection::Gap { gap_m } => Some(gap_m),
            _ => None,
        }),
        row("clamped_terminal.heat_capacity", D::HeatCapacity, POSITIVE, true, |s, _| Some(&mut s.clamped_terminal.heat_capacity_j_per_k)),
        row("clamped_terminal.resistance", D::Resistance, NOT_NEGATIVE, true, |s, _| Some(&mut s.clamped_terminal.resistance_ohm)),
        row("clamped_terminal.conductance", D::Conductance, NOT_NEGATIVE, true, |s, _| Some(&mut s.clamped_terminal.conductance_w_per_k)),
        row("moving_contact.heat_capacity", D::HeatCapacity, POSITIVE, true, |s, _| Some(&mut s.moving_contact.heat_capacity_j_per_k)),
        row("moving_contact.conductance", D::Conductance, NOT_NEGATIVE, true, |s, _| Some(&mut s.moving_contact.conductance_w_per_k)),
        row("fixed_contact.heat_capacity", D::HeatCapacity, POSITIVE, true, |s, _| Some(&mut s.fixed_contact.heat_capacity_j_per_k)),
        row("fixed_contact.conductance", D::Conductance, NOT_NEGATIVE, true, |s, _| Some(&mut s.fixed_contact.conductance_w_per_k)),
        row("contact.resistance", D::Resistance, POSITIVE, true, |s, _| match &mut s.contact.resistance {
            ContactResistance::Constant(ohm) => Some(ohm),
            ContactResistance::Holm { .. } => None,
        }),
        row("contact.film_resistance", D::Resistance, NOT_NEGATIVE, true, |s, _| match &mut s.contact.resistance {
            ContactResistance::Holm { film_ohm, .. } => Some(film_ohm),
            ContactResistance::Constant(_) => None,
        }),
        row("contact.force", D::Force, POSITIVE, true, |s, _| match &mut s.contact.resistance {
            ContactResistance::Holm { force_n, .. } => Some(force_n),
            ContactResistance::Constant(_) => None,
        }),
        row("contact.film_conductance", D::Conductance, POSITIVE, true, |s, _| s.contact.film_conductance_w_per_k.as_mut()),
        row("winding.resistance", D::Resistance, POSITIVE, true, |s, _| s.winding.as_mut().map(|w| &mut w.resistance_ohm)),
        row("winding.temperature_coefficient", D::PerKelvin, ANY, true, |s, _| s.winding.as_mut().map(|w| &mut w.temperature_coefficient_per_k)),
        row("winding.heat_capacity", D::HeatCapacity, POSITIVE, true, |s, _| s.winding.as_mut().map(|w| &mut w.heat_capacity_j_per_k)),
        row("winding.conductance_to_strip", D::Conductance, POSITIVE, true, |s, _| s.winding.as_mut().map(|w| &mut w.conductance_to_strip_w_per_k)),
        row("winding.conductance_to_air", D::Conductance, NOT_NEGATIVE, true, |s, _| s.winding.as_mut().map(|w| &mut w.conductance_to_air_w_per_k)),
        row("housing.heat_capacity", D::HeatCapacity, POSITIVE, true, |s, _| s.housing.as_mut().map(|h| &mut h.heat_capacity_j_per_k)),
        row("housing.conductance", D::Conductance, POSITIVE, true, |s, _| s.housing.as_mut().map(|h| &mut h.conductance_w_per_k)),
        row("latch.release_travel", D::Length, POSITIVE, true, |s, _| match &mut s.release.mechanism {
            Mechanism::Latch { release_travel_m, .. } => Some(release_travel_m),
            Mechanism::SnapBlade { .. } => None,
        }),
        row("latch.relatch_travel", D::Length, ANY, true, |s, _| match &mut s.release.mechanism {
            Mechanism::Latch { relatch_travel_m, .. } => Some(relatch_travel_m),
            Mechanism::SnapBlade { .. } => None,
        }),
        row("latch.preload", D::Force, NOT_NEGATIVE, true, |s, _| match &mut s.release.mechanism {
            Mechanism::Latch { preload_n, .. } => Some(preload_n),
            Mechanism::SnapBlade { .. } => None,
        }),
        row("latch.lever_ratio", D::Fraction, POSITIVE, true, |s, _| match &mut s.release.mechanism {
            Mechanism::Latch { lever_ratio, .. } => Some(lever_ratio),
            Mechanism::SnapBlade { .. } => None,
        }),
        row("latch.release_force_factor", D::Fraction, POSITIVE, true, |s, _| match &mut s.release.mechanism {
            Mechanism::Latch { release_force_factor, .. } => Some(release_force_factor),
            Mechanism::SnapBlade { .. } => None,
        }),
        row("latch.constant_force", D::Force, NOT_NEGATIVE, true, |s, _| match &mut s.release.mechanism {
            Mechanism::Latch { constant_force_n, .. } => Some(constant_force_n),
            Mechanism::SnapBlade { .. } => None,
        }),
        row("latch.preload_loss", D::Fraction, LOSS, true, |s, _| match s.release.mechanism {
            Mechanism::Latch { .. } => Some(&mut s.release.preload_loss),
            Mechanism::SnapBlade { .. } => None,
        }),
        row("snap_blade.rise", D::Length, POSITIVE, false, |s, _| match &mut s.release.mechanism {
            Mechanism::SnapBlade { rise_m, .. } => Some(rise_m),
            Mechanism::Latch { .. } => None,
        }),
        row("snap_blade.preload_thrust", D::Force, ANY, false, |s, _| match &mut s.release.mechanism {
            Mechanism::SnapBlade { preload_thrust_n, .. } => Some(preload_thrust_n),
            Mechanism::Latch { .. } => None,
        }),
        row("snap_blade.axial_stiffness", D::Stiffness, POSITIVE, false, |s, _| match &mut s.release.mechanism {
            Mechanism::SnapBlade { axial_stiffness_n_per_m, .. } if axial_stiffness_n_per_m.is_finite() => Some(axial_stiffness_n_per_m),
            _ => None,
        }),
        row("snap_blade.preload_loss", D::Fraction, LOSS, false, |s, _| match s.release.mechanism {
            Mechanism::SnapBlade { .. } => Some(&mut s.release.preload_loss),
            Mechanism::Latch { .. } => None,
        }),
        row("surroundings.ambient", D::Temperature, AMBIENT, true, |s, _| match s.surroundings.ambient.as_mut_slice() {
            [(_, only)] => Some(only),
            _ => None,
        }),
        row("load.current", D::Current, POSITIVE, true, |s, _| match s.load.segments.as_mut_slice() {
            [only] if s.load.repeat == Repeat::Once && only.duration_s.is_infinite() => match &mut only.current {
                Current::Constant(a) => Some(a),
                _ => None,
            },
            _ => None,
        }),
    ]
};

/// A number of a scenario, by where it stands in the file.
///
/// ```
/// use relatch::internals::scenario::{self, Place};
/// let text = scenario::starter("latch").expect("a starter");
/// let mut s = scenario::read_text("starter", text)?;
/// let width = Place::find("strip.width").expect("a place");
/// *width.of(&mut s).expect("it has a width") *= 1.01;
/// # Ok::<(), scenario::ReadError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    row: usize,
    layer: usize,
}

impl Place {
    /// Every number that this scenario has, in the order of the file.
    pub fn all(scenario: &Scenario) -> Vec<Place> {
        let mut scenario = scenario.clone();
        let mut all = Vec::new();
        for (row, entry) in ROWS.iter().enumerate() {
            let layers = if entry.path == LAYER_PATH {
                scenario.strip.layers.len()
            } else {
                1
            };
            for layer in 0..layers {
                if (entry.access)(&mut scenario, layer).is_some() {
                    all.push(Place { row, layer });
                }
            }
        }
        all
    }

    /// The place of a path, `strip.layer[1].thickness` for a layer; it need not be there in every scenario.
    pub fn find(path: &str) -> Option<Place> {
        if let Some(layer) = path
            .strip_prefix("strip.layer[")
            .and_then(|rest| rest.strip_suffix("].thickness"))
        {
            let row = ROWS.iter().position(|r| r.path == LAYER_PATH)?;
            return Some(Place {
                row,
                layer: layer.parse().ok()?,
            });
        }
        let row = ROWS
            .iter()
            .position(|r| r.path == path && r.path != LAYER_PATH)?;
        Some(Place { row, layer: 0 })
    }

    /// Dotted path, as in the file.
    pub fn path(self) -> String {
        let path = ROWS[self.row].path;
        if path == LAYER_PATH {
            format!("strip.layer[{}].thickness", self.layer)
        } else {
            path.to_owned()
        }
    }

    /// The path without the number of a layer.
    pub fn family(self) -> &'static str {
        ROWS[self.row].path
    }

    /// Kind of quantity.
    pub fn dimension(self) -> Dimension {
        ROWS[self.row].dimension
    }

    /// What the number may be.
    pub fn range(self) -> Range {
        ROWS[self.row].range
    }

    /// Whether units that differ in this number can be computed side by side.
    pub fn is_served_beside(self) -> bool {
        ROWS[self.row].beside
    }

    /// The number, to be changed; `None` where the scenario does not have it.
    pub fn of(self, scenario: &mut Scenario) -> Option<&mut f64> {
        (ROWS[self.row].access)(scenario, self.layer)
    }
}

impl Range {
    /// Whether a value is finite and allowed.
    pub fn allows(&self, value: f64) -> bool {
        value.is_finite()
            && value <= self.most
            && (value > self.least || value == self.least && !self.open)
    }
}
