//! What a release mechanism and its strip are called.

use crate::predict::MechanismKind;
#[cfg(feature = "figures")]
use crate::present::number::plain;
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
    /// The other end of the strip.
    pub end: &'static str,
    /// Of a drawing to scale: what is not.
    pub sketched: &'static str,
    /// While it holds, as it lets go, and open.
    pub does: [&'static str; 3],
    /// Beside a moving picture of a trip.
    pub film: &'static str,
}

/// The words of a kind.
pub(crate) fn mechanism(kind: MechanismKind) -> &'static MechanismWords {
    match kind {
        MechanismKind::Latch => &MechanismWords {
            name: "latch",
            axis: "Deflection, mm",
            moves: "deflection",
            moved: ["bent", "bent by"],
            travel: "Release deflection",
            end: "moving contact",
            sketched: "; latch and spring sketched",
            does: [
                "latch holds, contacts closed",
                "latch lets go",
                "contacts open",
            ],
            film: "The strip bends while it heats, lets the latch go, and must bend back before it can be \
                   reset.",
        },
        MechanismKind::SnapBlade => &MechanismWords {
            name: "snap blade",
            axis: "Rise of the blade, mm",
            moves: "rise",
            moved: ["bow", "rise"],
            travel: "Rise as made",
            end: "contact end",
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

/// What a scenario says of it: names and values in the units people write.
#[cfg(feature = "figures")]
pub(crate) fn given(mechanism: &Mechanism) -> Vec<(&'static str, String)> {
    let mm = |length_m: f64| format!("{} mm", plain(1e3 * length_m));
    let newton = |force_n: f64| format!("{} N", plain(force_n));
    let name = self::mechanism(mechanism.kind()).name;
    let mut facts = vec![("Mechanism", name.to_owned())];
    match mechanism {
        Mechanism::Latch(latch) => {
            facts.extend([
                ("Clearance before release", mm(latch.release_travel_m)),
                ("Relatches at or below", mm(latch.relatch_travel_m)),
                ("Preload as new", newton(latch.preload_n)),
                ("Share felt at the push point", plain(latch.lever_ratio)),
            ]);
            if latch.release_force_factor != 1.0 {
                facts.push(("Friction factor", plain(latch.release_force_factor)));
            }
            if latch.constant_force_n != 0.0 {
                facts.push(("Further force", newton(latch.constant_force_n)));
            }
        }
        Mechanism::SnapBlade(blade) => {
            let size = format!("{}, {}", mm(blade.span_m), mm(blade.rise_m));
            let stiffness = blade.axial_stiffness_n_per_m;
            let frame = if stiffness.is_finite() {
                format!("{} N/mm", plain(stiffness / 1e3))
            } else {
                "rigid".to_owned()
            };
            facts.extend([
                ("Span, rise as made", size),
                ("Stiffness of the frame", frame),
                ("Thrust as new", newton(blade.preload_thrust_n)),
            ]);
            if let Some(f) = blade.frame {
                let at = if f.at_ambient {
                    "the air"
                } else {
                    "the clamped terminal"
                };
                let expands = plain(1e6 * f.per_k);
                let text = format!("{expands}e-6 1/K, at the temperature of {at}");
                facts.push(("Frame expands by", text));
            }
            if blade.model == SnapModel::OneTerm {
                facts.push(("Snap model", "one sine term, for teaching".to_owned()));
            }
        }
    }
    facts
}
