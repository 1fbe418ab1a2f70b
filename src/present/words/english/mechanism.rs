//! What a release mechanism and its strip are called.

use crate::predict::MechanismKind;
#[cfg(feature = "figures")]
use crate::scenario::{Mechanism, SnapModel};

/// Words of a mechanism.
#[cfg_attr(not(feature = "figures"), allow(dead_code))]
pub(crate) struct MechanismWords {
    /// Itself.
    pub name: &'static str,
    /// The axis of what its strip does.
    pub axis: &'static str,
    /// What its strip does.
    pub moves: &'static str,
    /// Before a number of millimetres: what its strip does now, and where there is room.
    pub moved: [&'static str; 2],
    /// Before the travel to its release.
    pub travel: &'static str,
    /// What it is made of: a strip, or a disc.
    pub piece: &'static str,
    /// The clamped end of the strip, or what a disc has in its place.
    pub near: &'static str,
    /// The axis along the strip.
    pub along: &'static str,
    /// What stands at the ends of that axis.
    pub ends: &'static str,
    /// Of a drawing to scale: what is not.
    pub sketched: &'static str,
    /// While it holds, as it lets go, and open.
    pub does: [&'static str; 3],
    /// Beside a moving picture of a trip.
    pub film: &'static str,
}

const LATCH: MechanismWords = MechanismWords {
    name: "latch",
    axis: "Deflection, mm",
    moves: "deflection",
    moved: ["bent", "bent by"],
    travel: "Release deflection",
    piece: "strip",
    near: "clamped terminal",
    along: "Along the strip from the clamp, mm",
    ends: "left: clamped terminal, right: moving contact",
    sketched: "; latch and spring sketched",
    does: [
        "latch holds, contacts closed",
        "latch lets go",
        "contacts open",
    ],
    film: "The strip bends while it heats, lets the latch go, and must bend back before it can be \
                   reset.",
};

/// Of the strips of several poles the first is shown.
const BAR: MechanismWords = MechanismWords {
    name: "trip bar of several poles",
    axis: "Deflection of the first pole, mm",
    does: [
        "bar holds, contacts closed",
        "bar lets the latch go",
        "contacts open",
    ],
    film: "The strip of the first pole bends while it heats, and pushes the trip bar with the others.",
    ..LATCH
};

/// The words of a kind.
pub(crate) fn mechanism(kind: MechanismKind) -> &'static MechanismWords {
    match kind {
        MechanismKind::Latch => &LATCH,
        MechanismKind::Bar => &BAR,
        MechanismKind::Disc => &MechanismWords {
            name: "snap disc",
            axis: "Rise of the middle of the disc, mm",
            moves: "rise",
            moved: ["dome", "rise"],
            travel: "Rise as made",
            piece: "disc",
            near: "rim",
            along: "Across the disc, mm",
            ends: "left and right: the rim, middle: the contact",
            sketched: "",
            does: [
                "disc domed, contacts closed",
                "disc snaps",
                "disc snapped, contacts open",
            ],
            film: "The disc flattens while it heats, snaps through, and must cool far before it snaps back.",
        },
        MechanismKind::SnapBlade => &MechanismWords {
            name: "snap blade",
            axis: "Rise of the blade, mm",
            moves: "rise",
            moved: ["bow", "rise"],
            travel: "Rise as made",
            piece: LATCH.piece,
            near: LATCH.near,
            along: LATCH.along,
            ends: "left: clamped terminal, right: contact end",
            sketched: "",
            does: [
                "blade bowed, contacts closed",
                "blade snaps",
                "blade snapped, contacts open",
            ],
            film: "The blade flattens while it heats, snaps through, and must cool far before it snaps back.",
        },
    }
}

/// What a scenario says of it beside its numbers.
#[cfg(feature = "figures")]
pub(crate) fn given(mechanism: &Mechanism) -> Vec<(&'static str, String)> {
    let name = self::mechanism(mechanism.kind()).name;
    let mut facts = vec![("Mechanism", name.to_owned())];
    if let Mechanism::SnapBlade(blade) = mechanism {
        if blade.axial_stiffness_n_per_m.is_infinite() {
            facts.push(("Frame", "rigid".to_owned()));
        }
        if let Some(frame) = blade.frame {
            let at = match frame.at_ambient {
                true => "the air",
                false => "the clamped terminal",
            };
            facts.push(("Frame", format!("at the temperature of {at}")));
        }
        if blade.model == SnapModel::OneTerm {
            facts.push(("Snap model", "one sine term, for teaching".to_owned()));
        }
    }
    facts
}
