//! How a part ages: what its spring, its latch and its contacts do over the years, and the duty
//! they do it under. Constants have no defaults: no public figure exists for small protectors.

use serde::{Deserialize, Serialize};

/// `[ageing]` and `[duty]`.
#[derive(Debug, Clone)]
pub struct Ageing {
    /// Where the constants come from, in the author's words.
    pub source: String,
    /// Whose temperature the spring has.
    pub spring: SpringPlace,
    /// Time looked at, s.
    pub horizon_s: f64,
    /// Part of the preload lost in the first loading, before any relaxation, 0 <= loss < 0.95.
    pub first_loading: f64,
    /// Part of the preload lost in every trip.
    pub loss_per_trip: f64,
    /// Whether the contact force is lost with the preload.
    pub contact_ages: bool,
    /// Loss with time under stress.
    pub relaxation: Relaxation,
    /// The longest test behind the constants, if the scenario says so.
    pub tested: Option<Tested>,
    /// A latch that sticks when it is never moved.
    pub friction: Option<Friction>,
    /// Resistance that contacts gain with every operation, ohm.
    pub film_per_operation_ohm: f64,
    /// What the part has to do.
    pub duty: Duty,
}

/// The node that has the temperature of the spring.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SpringPlace {
    /// Node.
    pub node: SpringNode,
    /// How much warmer the spring is than it, K.
    pub offset_k: f64,
}

/// Nodes beside which a spring can sit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SpringNode {
    /// The clamped terminal.
    ClampedTerminal,
    /// The moving contact.
    MovingContact,
    /// The fixed contact.
    FixedContact,
    /// The air of the housing (needs a housing).
    HousingAir,
    /// The air outside.
    Ambient,
}

/// Time scale after Arrhenius.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TimeScale {
    /// Time constant, s (> 0).
    pub time_constant_s: f64,
    /// Temperature it is stated for, K; `None`: the pre-exponential factor, at infinite
    /// temperature.
    pub at_k: Option<f64>,
    /// Activation energy, J/mol.
    pub activation_j_per_mol: f64,
}

/// Loss of preload with time under stress.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "law", rename_all = "snake_case")]
pub enum Relaxation {
    /// A ln(1 + exposure).
    Logarithmic {
        /// A (> 0).
        coefficient: f64,
        /// Time scale of the exposure.
        scale: TimeScale,
    },
    /// k exposure^p.
    Power {
        /// k (> 0).
        coefficient: f64,
        /// p, 0 < p < 1.
        exponent: f64,
        /// Time scale of the exposure.
        scale: TimeScale,
    },
    /// Straight in the Larson-Miller parameter above a start.
    LarsonMiller {
        /// C.
        constant: f64,
        /// Parameter below which nothing is lost, K.
        start_k: f64,
        /// Loss per kelvin of the parameter, 1/K (> 0).
        loss_per_k: f64,
    },
}

/// The longest relaxation test behind the constants.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Tested {
    /// How long, s.
    pub for_s: f64,
    /// At which temperature, K.
    pub at_k: f64,
}

/// Friction of a latch that is not moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Friction {
    /// Release-force factor it tends to, as a multiple of the factor when just moved (> 1).
    pub stuck_factor: f64,
    /// Time constant of the rise, s.
    pub time_constant_s: f64,
    /// Part of the rise that one trip or exercise takes away, 0..=1.
    pub relieved: f64,
}

/// The calendar of a part's duty; every year is like the others.
#[derive(Debug, Clone, PartialEq)]
pub struct Duty {
    /// Seasons, their shares adding up to 1.
    pub seasons: Vec<Season>,
    /// Loads; what is left of the week the part carries nothing.
    pub shifts: Vec<Shift>,
    /// Whether the spring is held while the part carries nothing.
    pub idle_held: bool,
    /// Time between trips, s; `None`: it never trips.
    pub trips_every_s: Option<f64>,
    /// Time between ordinary operations of the contacts, s.
    pub operations_every_s: Option<f64>,
    /// Time between exercises of the latch by hand, s.
    pub exercise_every_s: Option<f64>,
}

/// A part of the year.
#[derive(Debug, Clone, PartialEq)]
pub struct Season {
    /// Name.
    pub name: String,
    /// Share of the year.
    pub share: f64,
    /// Air around the part, K.
    pub ambient_k: f64,
}

/// A load that comes back every week.
#[derive(Debug, Clone, PartialEq)]
pub struct Shift {
    /// Name.
    pub name: String,
    /// Time a day, s.
    pub daily_s: f64,
    /// Days a week.
    pub days_a_week: f64,
    /// Current, A.
    pub current_a: f64,
    /// Whether it says what air it has.
    pub air: ShiftAir,
    /// The only season in which it comes; `None`: all year.
    pub season: Option<usize>,
    /// Whether the spring is held meanwhile.
    pub held: bool,
}

/// Air around the part during a shift.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ShiftAir {
    /// As much warmer than the season, K.
    WarmerBy(f64),
    /// This, whatever the season, K.
    At(f64),
}

impl Shift {
    /// Share of the week.
    #[must_use]
    pub fn share(&self) -> f64 {
        self.daily_s * self.days_a_week / (7.0 * 86_400.0)
    }

    /// Air in a season, K.
    #[must_use]
    pub fn ambient_k(&self, season: &Season) -> f64 {
        match self.air {
            ShiftAir::WarmerBy(k) => season.ambient_k + k,
            ShiftAir::At(k) => k,
        }
    }
}
