//! What was assumed because nothing was said.

use serde::{Deserialize, Serialize};

/// One assumption.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Assumed {
    /// The air that the rating is stated for.
    ReferenceAir {
        /// degC.
        air_c: f64,
        /// Whether it is that of the published limits.
        of_limits: bool,
    },
    /// Windows that small protectors usually keep.
    UsualWindows,
    /// The protector feels the temperature of the air.
    NotCompensated,
    /// The air at the protector.
    AirAtThePart {
        /// degC.
        air_c: f64,
    },
    /// What the machine draws after its start.
    RunAfterStart {
        /// A.
        current_a: f64,
    },
    /// The protector sits in a box of its own, not on the machine that it protects.
    InABoxOfItsOwn,
    /// The setting of a dial is taken as the rating.
    SetByDial {
        /// What is printed, A.
        rating_a: f64,
        /// What the dial is set to, A.
        setting_a: f64,
    },
    /// One pole is weighed, and the others are taken to carry the same.
    OnePole {
        /// How many there are, where that was said.
        poles: Option<u32>,
        /// Which one, where that was said.
        pole: Option<String>,
    },
    /// A disc and the motor under it cool as one body.
    DiscOnAMotor,
    /// Some poles carry nothing: the strips of the others move the bar without them.
    SomePolesCarry {
        /// How many carry the current.
        carrying: u32,
        /// How many there are.
        of: u32,
        /// Whether a differential bar takes that for a lost phase.
        notices: bool,
    },
    /// A machine of one phase has its current looped through all poles of a part that would take an
    /// idle one for a lost phase.
    LoopedThroughAllPoles,
    /// A reading at another position of a switch than the one in which it trips is left out.
    OtherPosition {
        /// Line of the case.
        line: String,
        /// The position in which it trips.
        trips_in: String,
    },
    /// A heater winding around the strip.
    HeaterWinding {
        /// In all parts, or in some of them.
        in_all: bool,
    },
    /// Units scatter about a published curve.
    UnitScatter {
        /// At least so much, relative.
        relative: f64,
    },
    /// What a meter is off, with its jaw.
    MeterAsUsual {
        /// Line of the case; `None`: every reading.
        line: Option<String>,
        /// As its sheet would write it: `2 % + 5 digits`.
        sheet: String,
    },
    /// What the meter of a log is off, with its jaw.
    LogMeterAsUsual {
        /// File of the log.
        log: String,
        /// As its sheet would write it.
        sheet: String,
    },
    /// The last digits that a meter may be off are much of a reading.
    CoarseDigit {
        /// Line of the case.
        line: String,
        /// Worth of the last digit written, A.
        digit_a: f64,
        /// Half width of the range that holds the current in 19 of 20, A.
        within_a: f64,
    },
    /// The current was read right up to the trip.
    ReadUpToTheTrip,
    /// A reading was taken while the machine ran.
    TakenWhileRunning {
        /// Line of the case.
        line: String,
    },
    /// How well a start was captured.
    StartAsUsual {
        /// Line of the case.
        line: String,
    },
    /// A trip that is implied, at a time that nobody knows.
    TimeNotKnown {
        /// Line of the case.
        line: String,
    },
    /// A swap was watched for an hour.
    WatchedForAnHour {
        /// Line of the case.
        line: String,
    },
    /// Cold after a long rest in a log.
    ColdAfterRest {
        /// File of the log.
        log: String,
        /// After the first row, s.
        at_s: f64,
    },
    /// Where the temperatures of a log were measured is not known.
    LogAirAnywhere {
        /// File of the log.
        log: String,
    },
    /// No trip is told, and no time without one.
    ItTrips,
    /// A fall to zero in a log is a trip.
    FallIsATrip {
        /// File of the log.
        log: String,
        /// After the first row, s.
        at_s: f64,
    },
}

impl Assumed {
    /// Whether it says what became of something that somebody entered.
    pub fn is_of_an_entry(&self) -> bool {
        matches!(
            self,
            Self::SetByDial { .. }
                | Self::OnePole { .. }
                | Self::SomePolesCarry { .. }
                | Self::OtherPosition { .. }
        )
    }
}
