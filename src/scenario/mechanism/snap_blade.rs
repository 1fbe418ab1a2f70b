//! A bowed blade that snaps through: its numbers, and their keys in `[snap_blade]`.

use super::Mechanism;
use crate::document::Bounds;
use crate::quantity::Dimension as D;
use crate::scenario::Scenario;
use crate::scenario::rows::Need::{Like, May, Needed, Or, UpTo};
use crate::scenario::rows::{
    RELEASE, Row, Slot, Table, contact_loss, kind, number, preload_loss, words,
};

/// A bowed blade that snaps.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct SnapBlade {
    /// Hinged span, m.
    pub span_m: f64,
    /// Stress-free rise towards the first-listed side, m.
    pub rise_m: f64,
    /// Axial stiffness of the frame, N/m (infinite for rigid supports).
    pub axial_stiffness_n_per_m: f64,
    /// Preload thrust at the rise and the flat temperature, N.
    pub preload_thrust_n: f64,
    /// Expansion of the frame; `None`: the frame follows the blade.
    pub frame: Option<FrameExpansion>,
    /// Modes or the one-term form.
    pub model: SnapModel,
}

/// Expansion of the frame that holds a snap blade.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct FrameExpansion {
    /// Mean coefficient, 1/K.
    pub per_k: f64,
    /// Whether the frame is at the ambient (true) or at the clamped terminal's temperature (false).
    pub at_ambient: bool,
}

/// How the snap blade is computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum SnapModel {
    /// Exact in the modes (default).
    Exact,
    /// One sine term, for teaching: it snaps late, by what a run states.
    OneTerm,
}

impl SnapBlade {
    /// Of which nothing is known yet, in a frame that follows it or one that expands by itself.
    pub(super) fn unread(frame_expands: bool) -> SnapBlade {
        SnapBlade {
            span_m: f64::NAN,
            rise_m: f64::NAN,
            axial_stiffness_n_per_m: f64::NAN,
            preload_thrust_n: f64::NAN,
            frame: frame_expands.then_some(FrameExpansion {
                per_k: f64::NAN,
                at_ambient: true,
            }),
            model: SnapModel::Exact,
        }
    }
}

/// Its table.
pub(in crate::scenario) const TABLE: Table = Table {
    path: "snap_blade",
    about: "a bowed blade that snaps through",
    list: false,
    needed: false,
    count: |s| usize::from(matches!(s.release.mechanism, Mechanism::SnapBlade(_))),
    rows: &[SNAP_BLADE, RELEASE],
};

fn blade(s: &mut Scenario) -> Option<&mut SnapBlade> {
    match &mut s.release.mechanism {
        Mechanism::SnapBlade(blade) => Some(blade),
        _ => None,
    }
}

fn frame(s: &mut Scenario) -> Option<&mut FrameExpansion> {
    blade(s)?.frame.as_mut()
}

fn frame_at(s: &mut Scenario, ambient: bool) {
    if let Some(frame) = frame(s) {
        frame.at_ambient = ambient;
    }
}

fn set_model(s: &mut Scenario, wanted: SnapModel) {
    if let Some(blade) = blade(s) {
        blade.model = wanted;
    }
}

#[rustfmt::skip]
const SNAP_BLADE: &[Row] = &[
    number("span", "hinged span", D::Length,
        Bounds::positive(0.5, "the hinged span lies within the strip's length"),
        UpTo("strip.length"), kind!(release.mechanism => Mechanism::SnapBlade, span_m)).alone(),
    number("rise", "stress-free rise", D::Length, Bounds::positive(0.02, "blades rise 0.2 mm to 3 mm"),
        Needed, kind!(release.mechanism => Mechanism::SnapBlade, rise_m)).alone(),
    number("axial_stiffness", "axial stiffness of the frame", D::Stiffness, Bounds::positive(1e12, ""),
        Like("\"rigid\", or \"400 N/mm\""),
        kind!(release.mechanism => Mechanism::SnapBlade, axial_stiffness_n_per_m))
        .alone().or_word("rigid", f64::INFINITY),
    number("preload_thrust", "thrust at the rise and the flat temperature", D::Force,
        Bounds::between(-1e4, 1e4, ""),
        Or(0.0), kind!(release.mechanism => Mechanism::SnapBlade, preload_thrust_n)).alone(),
    number("frame_expansion", "mean expansion of the frame", D::PerKelvin,
        Bounds::between(0.0, 1e-4, "metals lie between 1e-6 and 30e-6 1/K"),
        May, Slot::Here(|s, _| frame(s).map(|f| &mut f.per_k))).alone(),
    words("frame_at", "whose temperature the frame has", May, &[
        ("ambient", |s, _| frame_at(s, true)),
        ("clamped terminal", |s, _| frame_at(s, false)),
    ]),
    words("model", "how the snap is computed", May, &[
        ("exact", |s, _| set_model(s, SnapModel::Exact)),
        ("one-term", |s, _| set_model(s, SnapModel::OneTerm)),
    ]),
    preload_loss().alone(),
    contact_loss("snap_blade.preload_loss"),
];
