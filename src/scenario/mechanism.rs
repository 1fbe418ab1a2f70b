//! `[latch]` or `[snap_blade]`.

use super::{FrameExpansion, Mechanism, Release, Reset, SnapModel};
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::quantity::Dimension;

const FORCE: Bounds = Bounds::not_negative(1000.0, "latch forces lie between 0.2 N and 20 N");
const LOSS: Bounds = Bounds::between(
    0.0,
    0.95,
    "from 95 % on the contact hardly closes and the model does not hold",
)
.without_most();

/// Read whichever mechanism the file has.
pub(super) fn release(root: &TableReader<'_>, length_m: Option<f64>) -> Option<Release> {
    match (root.table("latch"), root.table("snap_blade")) {
        (Some(t), None) => latch(&t),
        (None, Some(t)) => snap_blade(&t, length_m),
        (Some(_), Some(t)) => {
            root.report(
                Problem::new(
                    t.span(),
                    "a protector has [latch] or [snap_blade], not both",
                )
                .label("remove one of the two"),
            );
            None
        }
        (None, None) => {
            if !root.has("latch") && !root.has("snap_blade") {
                root.lacks(
                    &["latch", "snap_blade"],
                    Problem::new(
                        root.span(),
                        "the file lacks its release: [latch] or [snap_blade]",
                    )
                    .label("needed")
                    .help("`relatch new latch` and `relatch new snap-blade` print starter files"),
                );
            }
            None
        }
    }
}

/// What both mechanisms have.
fn common(t: &TableReader<'_>, mechanism: Option<Mechanism>) -> Option<Release> {
    let opening = t.or(
        "opening_time",
        Dimension::Time,
        Bounds::not_negative(10.0, "contacts open within 50 ms"),
        0.0,
    );
    if !t.has("reset") {
        t.missing("reset", "\"by hand\"");
    }
    let reset = t.choice(
        "reset",
        &[("by hand", Reset::ByHand), ("automatic", Reset::Automatic)],
    );
    let loss = t.or("preload_loss", Dimension::Fraction, LOSS, 0.0);
    let contact_loss = match loss {
        Some(l) => t.or("contact_loss", Dimension::Fraction, LOSS, l),
        None => t.or("contact_loss", Dimension::Fraction, LOSS, 0.0),
    };
    t.finish();
    Some(Release {
        mechanism: mechanism?,
        opening_time_s: opening?,
        reset: reset?.value,
        preload_loss: loss?,
        contact_loss: contact_loss?,
    })
}

fn latch(t: &TableReader<'_>) -> Option<Release> {
    let travel = |hint| Bounds::between(1e-6, 0.05, hint);
    let release = t.required(
        "release_travel",
        Dimension::Length,
        travel("releases are pushed 0.3 mm to 15 mm"),
    );
    let relatch = t.required(
        "relatch_travel",
        Dimension::Length,
        Bounds::between(-0.05, 0.05, "relatch lies below the release travel"),
    );
    let preload = t.or("preload", Dimension::Force, FORCE, 0.0);
    let lever = t.or(
        "lever_ratio",
        Dimension::Fraction,
        Bounds::positive(10.0, "the share of the preload felt at the push point"),
        1.0,
    );
    let factor = t.or(
        "release_force_factor",
        Dimension::Fraction,
        Bounds::positive(20.0, "1 as new, above 1 for a part that releases late"),
        1.0,
    );
    let constant = t.or("constant_force", Dimension::Force, FORCE, 0.0);
    let mechanism = (|| {
        Some(Mechanism::Latch {
            release_travel_m: release?.value,
            relatch_travel_m: relatch?.value,
            preload_n: preload?,
            lever_ratio: lever?,
            release_force_factor: factor?,
            constant_force_n: constant?,
        })
    })();
    common(t, mechanism)
}

fn snap_blade(t: &TableReader<'_>, length_m: Option<f64>) -> Option<Release> {
    // Without a length every span may be right; the strip has its own message.
    let length = length_m.unwrap_or(0.5);
    let span = t.or(
        "span",
        Dimension::Length,
        Bounds::positive(length, "the hinged span lies within the strip's length"),
        length,
    );
    let rise = t.required(
        "rise",
        Dimension::Length,
        Bounds::positive(0.02, "blades rise 0.2 mm to 3 mm"),
    );
    if !t.has("axial_stiffness") {
        t.missing("axial_stiffness", "\"rigid\", or \"400 N/mm\"");
    }
    let stiffness = match t.text("axial_stiffness", "\"rigid\"") {
        Some(word) if word.value.trim().eq_ignore_ascii_case("rigid") => Some(f64::INFINITY),
        Some(_) => t
            .optional(
                "axial_stiffness",
                Dimension::Stiffness,
                Bounds::positive(1e12, ""),
            )
            .map(|r| r.value),
        None => None,
    };
    let thrust = t.or(
        "preload_thrust",
        Dimension::Force,
        Bounds::between(-1e4, 1e4, ""),
        0.0,
    );
    let expansion = if t.has("frame_expansion") {
        t.optional(
            "frame_expansion",
            Dimension::PerKelvin,
            Bounds::between(0.0, 1e-4, "metals lie between 1e-6 and 30e-6 1/K"),
        )
        .map(|r| Some(r.value))
    } else {
        Some(None)
    };
    let at_ambient = t.choice_or(
        "frame_at",
        &[("ambient", true), ("clamped terminal", false)],
        true,
    );
    let model = t.choice_or(
        "model",
        &[
            ("exact", SnapModel::Exact),
            ("one-term", SnapModel::OneTerm),
        ],
        SnapModel::Exact,
    );
    let mechanism = (|| {
        let at_ambient = at_ambient?;
        Some(Mechanism::SnapBlade {
            span_m: span?,
            rise_m: rise?.value,
            axial_stiffness_n_per_m: stiffness?,
            preload_thrust_n: thrust?,
            frame: expansion?.map(|per_k| FrameExpansion { per_k, at_ambient }),
            model: model?,
        })
    })();
    common(t, mechanism)
}
