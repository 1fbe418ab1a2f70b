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

fn latch() -> MechanismWords {
    MechanismWords {
        name: word!("latch"),
        axis: word!("Deflection, mm"),
        moves: word!("deflection"),
        moved: [word!("bent"), word!("bent by")],
        travel: word!("Release deflection"),
        piece: word!("strip"),
        near: word!("clamped terminal"),
        along: word!("Along the strip from the clamp, mm"),
        ends: word!("left: clamped terminal, right: moving contact"),
        sketched: word!("; latch and spring sketched"),
        does: [
            word!("latch holds, contacts closed"),
            word!("latch lets go"),
            word!("contacts open"),
        ],
        film: word!(
            "The strip bends while it heats, lets the latch go, and must bend back before it can be \
                   reset."
        ),
    }
}

/// Of the strips of several poles the first is shown.
fn bar() -> MechanismWords {
    MechanismWords {
        name: word!("trip bar of several poles"),
        axis: word!("Deflection of the first pole, mm"),
        does: [
            word!("bar holds, contacts closed"),
            word!("bar lets the latch go"),
            word!("contacts open"),
        ],
        film: word!(
            "The strip of the first pole bends while it heats, and pushes the trip bar with the others."
        ),
        ..latch()
    }
}

/// The words of a kind.
pub(crate) fn mechanism(kind: MechanismKind) -> MechanismWords {
    match kind {
        MechanismKind::Latch => latch(),
        MechanismKind::Bar => bar(),
        MechanismKind::Disc => MechanismWords {
            name: word!("snap disc"),
            axis: word!("Rise of the middle of the disc, mm"),
            moves: word!("rise"),
            moved: [word!("dome"), word!("rise")],
            travel: word!("Rise as made"),
            piece: word!("disc"),
            near: word!("rim"),
            along: word!("Across the disc, mm"),
            ends: word!("left and right: the rim, middle: the contact"),
            sketched: "",
            does: [
                word!("disc domed, contacts closed"),
                word!("disc snaps"),
                word!("disc snapped, contacts open"),
            ],
            film: word!(
                "The disc flattens while it heats, snaps through, and must cool far before it snaps back."
            ),
        },
        MechanismKind::SnapBlade => MechanismWords {
            name: word!("snap blade"),
            axis: word!("Rise of the blade, mm"),
            moves: word!("rise"),
            moved: [word!("bow"), word!("rise")],
            travel: word!("Rise as made"),
            piece: latch().piece,
            near: latch().near,
            along: latch().along,
            ends: word!("left: clamped terminal, right: contact end"),
            sketched: "",
            does: [
                word!("blade bowed, contacts closed"),
                word!("blade snaps"),
                word!("blade snapped, contacts open"),
            ],
            film: word!(
                "The blade flattens while it heats, snaps through, and must cool far before it snaps back."
            ),
        },
    }
}

/// What a scenario says of it beside its numbers.
#[cfg(feature = "figures")]
pub(crate) fn given(mechanism: &Mechanism) -> Vec<(&'static str, String)> {
    let name = self::mechanism(mechanism.kind()).name;
    let mut facts = vec![(word!("Mechanism"), name.to_owned())];
    if let Mechanism::SnapBlade(blade) = mechanism {
        if blade.axial_stiffness_n_per_m.is_infinite() {
            facts.push((word!("Frame"), word!("rigid").to_owned()));
        }
        if let Some(frame) = blade.frame {
            let at = match frame.at_ambient {
                true => word!("the air"),
                false => word!("the clamped terminal"),
            };
            facts.push((word!("Frame"), say!("at the temperature of {at}"; at)));
        }
        if blade.model == SnapModel::OneTerm {
            facts.push((
                word!("Snap model"),
                word!("one sine term, for teaching").to_owned(),
            ));
        }
    }
    facts
}

/// Below the drawing of a latch, in lines.
#[cfg(feature = "figures")]
pub(crate) fn latch_sketched() -> [&'static str; 2] {
    [
        word!(
            "No maker's part. Sketched without the link that keeps the contacts of a real part open while its button is"
        ),
        word!("held in: never hold it."),
    ]
}
/// A part whose spring has lost nothing.
#[cfg(feature = "figures")]
pub(crate) fn as_new() -> &'static str {
    word!("Preload as new")
}

#[cfg(feature = "figures")]
mod at_work {
    pub(crate) fn preload_lost(percent: &str) -> String {
        say!("{percent} of the preload lost"; percent)
    }

    pub(crate) fn force_scale(newton: &str) -> String {
        say!("length of an arrow of {newton} N"; newton)
    }

    pub(crate) fn since_opening(time: &str) -> String {
        say!("{time} since the contacts opened"; time)
    }

    pub(crate) fn under_load(time: &str) -> String {
        say!("{time} under load"; time)
    }

    pub(crate) fn touches(mm: &str) -> String {
        say!("touches the latch at {mm} mm"; mm)
    }

    pub(crate) fn catches_below(mm: &str) -> String {
        say!("catches at or below {mm} mm"; mm)
    }

    pub(crate) fn bends(now: &str, travel: &str) -> String {
        say!("heats and bends: {now} of {travel}"; now, travel)
    }

    pub(crate) fn pushes(now: &str, holds: &str) -> String {
        say!("pushes with {now}; the latch holds {holds}"; now, holds)
    }

    pub(crate) fn lets_go(time: &str) -> String {
        say!("lets go after {time} (in slow motion)"; time)
    }

    pub(crate) fn has_tripped(time: &str) -> String {
        say!("has tripped after {time}; drawn as it was then"; time)
    }

    pub(crate) fn cools(now: &str, catches: &str) -> String {
        say!("cools: bent {now}, catches at {catches}"; now, catches)
    }

    pub(crate) fn too_early(wait: &str, now: &str) -> String {
        say!("reset after {wait}: still bent {now}, it does not hold"; wait, now)
    }

    pub(crate) fn catches(wait: &str) -> String {
        say!("reset after {wait}: it catches and holds"; wait)
    }

    pub(crate) fn description(title: &str, with_worn: bool) -> String {
        let worn = match with_worn {
            true => word!(" Below it the same part with a tired spring, which lets go sooner."),
            false => "",
        };
        say!(
            "{title}: in section, the strip bends while it heats, touches the latch and pushes until \
             that lets go in slow motion, and the contacts open. It cools; a reset that comes too early does \
             not hold, one after the wait does. Forces are arrows to a scale.{worn}"
        ; title, worn)
    }

    /// Below the drawing of what snaps, in lines.
    pub(crate) fn snap_sketched() -> [&'static str; 2] {
        [
            word!("No maker's part. The snap takes milliseconds; its shapes between are sketched."),
            word!(
                "The dot is mean temperature and rise; the curves hold where all of it is equally warm."
            ),
        ]
    }
    pub(crate) fn snap_rise() -> &'static str {
        word!("Rise of the middle, mm")
    }
    /// Where it can stand, in the order of the curves.
    pub(crate) fn snap_branches() -> [&'static str; 3] {
        [
            word!("contacts closed"),
            word!("topples at a touch"),
            word!("snapped over, contacts open"),
        ]
    }

    pub(crate) fn snap_bends(rise: &str) -> String {
        say!("heats: rise {rise}, contacts closed"; rise)
    }

    pub(crate) fn snap_snaps(time: &str) -> String {
        say!("no way to stand is left on this side: it snaps after {time} (in slow motion)"; time)
    }

    pub(crate) fn snap_cools(rise: &str) -> String {
        say!("snapped and cools: rise {rise}"; rise)
    }

    pub(crate) fn snap_back(wait: &str) -> String {
        say!("snaps back after {wait} (in slow motion)"; wait)
    }

    pub(crate) fn snap_description(title: &str) -> String {
        say!(
            "{title}: it heats, holds out until no equilibrium is left on its side, snaps over in slow motion \
             and opens the contacts, cools and snaps back. Beside it the rises of its middle at which it can \
             stand against temperature, with a dot where it is."
        ; title)
    }
}
#[cfg(feature = "figures")]
pub(crate) use at_work::*;
