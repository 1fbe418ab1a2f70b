//! Rows of `[snap_blade]`: a bowed blade that snaps.

use super::Need::{Like, May, Needed, Or, UpTo};
use super::part::{RELEASE, contact_loss, preload_loss};
use super::{Row, Slot, Table, number, of, words};
use crate::document::Bounds;
use crate::quantity::Dimension as D;
use crate::scenario::{FrameExpansion, Mechanism, Scenario, SnapModel};

/// The table.
pub(super) const TABLE: Table = Table {
    path: "snap_blade",
    about: "a bowed blade that snaps through",
    list: false,
    needed: false,
    count: |s| usize::from(matches!(s.release.mechanism, Mechanism::SnapBlade { .. })),
    rows: &[SNAP_BLADE, RELEASE],
};

/// A blade of which nothing is known yet, in a frame that follows it or one that expands by itself.
pub(in crate::scenario) const fn unread(frame_expands: bool) -> Mechanism {
    let frame = FrameExpansion {
        per_k: f64::NAN,
        at_ambient: true,
    };
    Mechanism::SnapBlade {
        span_m: f64::NAN,
        rise_m: f64::NAN,
        axial_stiffness_n_per_m: f64::NAN,
        preload_thrust_n: f64::NAN,
        frame: if frame_expands { Some(frame) } else { None },
        model: SnapModel::Exact,
    }
}

fn frame(s: &mut Scenario) -> Option<&mut FrameExpansion> {
    match &mut s.release.mechanism {
        Mechanism::SnapBlade { frame, .. } => frame.as_mut(),
        _ => None,
    }
}

fn frame_at(s: &mut Scenario, ambient: bool) {
    if let Some(frame) = frame(s) {
        frame.at_ambient = ambient;
    }
}

fn set_model(s: &mut Scenario, wanted: SnapModel) {
    if let Mechanism::SnapBlade { model, .. } = &mut s.release.mechanism {
        *model = wanted;
    }
}

#[rustfmt::skip]
const SNAP_BLADE: &[Row] = &[
    number("span", "hinged span", D::Length,
        Bounds::positive(0.5, "the hinged span lies within the strip's length"),
        UpTo("strip.length"), of!(release.mechanism => Mechanism::SnapBlade { span_m })),
    number("rise", "stress-free rise", D::Length, Bounds::positive(0.02, "blades rise 0.2 mm to 3 mm"),
        Needed, of!(release.mechanism => Mechanism::SnapBlade { rise_m })).alone(),
    number("axial_stiffness", "axial stiffness of the frame", D::Stiffness, Bounds::positive(1e12, ""),
        Like("\"rigid\", or \"400 N/mm\""),
        of!(release.mechanism => Mechanism::SnapBlade { axial_stiffness_n_per_m }))
        .alone().or_word("rigid", f64::INFINITY),
    number("preload_thrust", "thrust at the rise and the flat temperature", D::Force,
        Bounds::between(-1e4, 1e4, ""),
        Or(0.0), of!(release.mechanism => Mechanism::SnapBlade { preload_thrust_n })).alone(),
    number("frame_expansion", "mean expansion of the frame", D::PerKelvin,
        Bounds::between(0.0, 1e-4, "metals lie between 1e-6 and 30e-6 1/K"),
        May, Slot::Here(|s, _| frame(s).map(|f| &mut f.per_k))),
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
