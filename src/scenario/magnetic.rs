//! `[magnetic]`, `[closing]` and `[cable]`: an instantaneous element beside the strip, how the
//! current begins that it sees, and the wires in front of it and behind.

use super::rows::Fields;
use super::{Scenario, unread};
use crate::diagnostic::Problem;
use crate::document::TableReader;
use crate::physics::closing_current::ClosingCurrent;
use crate::physics::electromagnet::MagneticCircuit;
use crate::standards::Band;

/// The instantaneous element. Distances are those of the armature at its pole; the mass is reduced
/// to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Magnetic {
    /// Iron and gaps.
    pub circuit: MagneticCircuit,
    /// Moving mass at the pole, kg.
    pub mass_kg: f64,
    /// Spring force at rest, N.
    pub preload_n: f64,
    /// Spring stiffness, N/m.
    pub stiffness_n_per_m: f64,
    /// Weight that works against the pull, N (negative: with it).
    pub weight_n: f64,
    /// Closing of the gap at which the striker meets the trigger, m.
    pub strike_m: f64,
    /// Travel of the striker over that of the armature.
    pub lever: f64,
    /// Force that moves the trigger, N.
    pub trigger_force_n: f64,
    /// Travel of the trigger to the release, m.
    pub trigger_travel_m: f64,
    /// Published band it is held against.
    pub band: Option<Band>,
}

impl Magnetic {
    /// Closing of the gap at which the trigger releases, m.
    pub fn release_m(&self) -> f64 {
        self.strike_m + self.trigger_travel_m / self.lever
    }
}

/// How the current begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Closing {
    /// The current of one pole.
    pub current: ClosingCurrent,
    /// Poles that close together, each with the element: 1 or 3.
    pub poles: u32,
}

/// Supply and cable of a circuit with one fault at the far end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cable {
    /// Supply, rms, V.
    pub voltage_v: f64,
    /// Resistance in front of the cable, ohm.
    pub source_resistance_ohm: f64,
    /// Reactance in front of the cable, ohm.
    pub source_reactance_ohm: f64,
    /// Length, m; the current flows there and back.
    pub length_m: f64,
    /// Resistance of one conductor, ohm/m.
    pub resistance_ohm_per_m: f64,
    /// Reactance of one conductor, ohm/m.
    pub reactance_ohm_per_m: f64,
    /// Capacitance between the conductors, F/m.
    pub capacitance_f_per_m: f64,
}

/// Elements that are made and not modelled, and why.
const REFUSED: &[(&str, &str)] = &[
    (
        "shaded pole",
        "its shading ring delays a part of the flux, and the armature sees two of them",
    ),
    (
        "dashpot",
        "its core moves through a liquid, which decides when it trips",
    ),
];

/// Read `[magnetic]`.
pub(super) fn magnetic(f: &Fields<'_, '_>, s: &mut Scenario) -> bool {
    let t = f.t;
    let kind = t
        .word("kind")
        .map(|word| word.to_lowercase().replace('-', " "));
    if let Some((name, why)) = REFUSED
        .iter()
        .find(|(name, _)| kind.as_deref() == Some(name))
    {
        t.report(
            Problem::new(
                t.span_of("kind"),
                format!("{} elements are not modelled", name.replace(' ', "-")),
            )
            .label("refused")
            .note(format!("{why}: times from a plain armature would be wrong"))
            .help(
                "leave [magnetic], [closing] and [cable] out: the thermal strip alone is \
                       computed then",
            ),
        );
        f.ask_all();
        return false;
    }
    s.magnetic = Some(unread::MAGNETIC);
    let mut well = f.read(s);
    let Some(m) = &mut s.magnetic else {
        return false;
    };
    if m.circuit.pole_perimeter_m.is_nan() {
        m.circuit.pole_perimeter_m = 4.0 * m.circuit.pole_area_m2.sqrt();
    }
    match kind.as_deref() {
        Some("yoke") if m.circuit.turns.is_finite() && m.circuit.turns != 1.0 => {
            t.report(
                Problem::new(
                    t.span_of("turns"),
                    "a yoke around the conductor has one turn",
                )
                .help("leave `turns` out, or write `kind = \"coil\"`"),
            );
            well = false;
        }
        Some("coil") if !t.has("turns") => {
            t.missing("turns", "6");
            well = false;
        }
        _ => {}
    }
    well && possible(t, m)
}

/// Elements that cannot be.
fn possible(t: &TableReader<'_>, m: &Magnetic) -> bool {
    let circuit = &m.circuit;
    let problem = if m.release_m() >= circuit.gap_m {
        let gap_mm = 1e3 * circuit.gap_m;
        Problem::new(
            t.span_of("gap"),
            "the gap is closed before the trigger releases",
        )
        .label(format!("{gap_mm:.3} mm"))
        .note(format!(
            "the armature must move {:.3} mm: `strike_travel`, and `trigger_travel` over `lever`",
            1e3 * m.release_m()
        ))
        .help("make the gap wider, or the way to the release shorter")
    } else if m.preload_n + m.weight_n <= 0.0 {
        Problem::new(
            t.span_of("preload"),
            "nothing holds the armature at its rest",
        )
        .label("preload and weight together are not above 0 N")
        .help("give the spring a preload above the weight that pulls the armature on")
    } else if !circuit
        .current_for_pull_a(m.preload_n + m.weight_n, 0.0)
        .is_finite()
    {
        Problem::new(
            t.span_of("iron_area"),
            "the iron is saturated before the armature begins to move",
        )
        .label("no current moves it")
        .help("a larger `iron_area`, a smaller `preload`, or a narrower `gap`")
    } else {
        return true;
    };
    t.report(problem);
    false
}

/// Read `[closing]`.
pub(super) fn closing(f: &Fields<'_, '_>, s: &mut Scenario) -> bool {
    let t = f.t;
    s.closing = Some(unread::closing(unread::ALTERNATING));
    let mut well = f.read(s);
    if t.has("poles") {
        let poles = t.whole("poles", 3).map(|read| read.value);
        match (poles, &mut s.closing) {
            (Some(n), Some(closing)) if n != 2 => closing.poles = n,
            (Some(_), _) => {
                t.report(
                    Problem::new(t.span_of("poles"), "one pole closes, or three do")
                        .help("two poles of one circuit carry the same current: `poles = 1`"),
                );
                well = false;
            }
            _ => well = false,
        }
    }
    well
}

/// The three tables go together.
pub(super) fn belong_together(root: &TableReader<'_>) -> bool {
    let alone = |path: &'static str, needs: &'static str, why: &str| {
        let lacks = root.has(path) && !root.has(needs);
        if lacks {
            root.report(
                Problem::new(root.span_of(path), format!("[{path}] needs [{needs}]"))
                    .label(why.to_owned())
                    .help("`relatch new latch` shows them"),
            );
        }
        !lacks
    };
    let mut well = alone(
        "closing",
        "magnetic",
        "only an instantaneous element asks how a current begins",
    );
    well &= alone(
        "cable",
        "magnetic",
        "only an instantaneous element asks for it",
    );
    well & alone(
        "magnetic",
        "closing",
        "how the current begins decides whether it acts",
    )
}
