//! How many poles of a part carry the current, and what that makes of one of them.
//!
//! Equal strips on one bar share its force: of n poles that carry the same each gives a part in n.
//! Where k of them carry it and the others hang back, each gives a part in k, so that the strip
//! sees n/k times the force. A differential bar (a second bar held by the hindmost strip, a lever a
//! between) needs only 1/(1 + a) of the deflection once a strip stays cold. Both follow from the
//! bars' equations (`physics::trip_bar`) for equal strips; an idle one is taken as flat, and no heat
//! passes to it.

use super::super::part::Wear;

/// Levers of differential bars: 0.3 to 0.6 usual (from memory); the middle is taken.
const LEVER: f64 = 0.45;

/// Poles of a part and those that carry the current.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Loaded {
    /// How many there are.
    pub of: u32,
    /// How many carry the current.
    pub carrying: u32,
    /// Whether a differential bar compares them.
    pub notices_lost_phase: bool,
}

impl Loaded {
    /// One pole, or all of them.
    pub const ALL: Loaded = Loaded {
        of: 1,
        carrying: 1,
        notices_lost_phase: false,
    };

    /// Poles of a part behind which a machine has some phases. One phase is looped through all
    /// poles of a part that would take an idle one for a lost phase.
    pub fn by_phases(of: u32, phases: Option<u32>, notices_lost_phase: bool) -> Loaded {
        let looped = notices_lost_phase && phases == Some(1);
        let carrying = phases.filter(|_| !looped).unwrap_or(of).min(of);
        Loaded {
            of: of.max(1),
            carrying: carrying.max(1),
            notices_lost_phase,
        }
    }

    /// The same with a phase lost: one pole fewer carries the current.
    #[must_use]
    pub fn without_a_phase(self) -> Loaded {
        let carrying = self.carrying.min(self.of.saturating_sub(1)).max(1);
        Loaded { carrying, ..self }
    }

    /// Whether some pole carries nothing.
    pub fn some_idle(&self) -> bool {
        self.carrying < self.of
    }

    /// A state of a part as one of its poles that carry the current sees it.
    pub fn wear(&self, wear: Wear) -> Wear {
        if !self.some_idle() {
            return wear;
        }
        let [n, k] = [self.of, self.carrying].map(f64::from);
        let (travel, force) = match self.notices_lost_phase {
            false => (1.0, n / k),
            true => {
                // Forces of bar and second bar, (1 + a) F and a F, on the poles that carry it.
                let a = LEVER;
                let balanced = ((1.0 + a).powi(2) + a * a) / n;
                let lost = (1.0 + a) / k + a * a / ((1.0 + a) * (n - k));
                (1.0 / (1.0 + a), lost / balanced)
            }
        };
        Wear {
            force_factor: wear.force_factor * force,
            travel_factor: wear.travel_factor * travel,
            ..wear
        }
    }
}
