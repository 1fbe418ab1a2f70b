//! The one record that every output of a diagnosis renders. Units are in the names; words live in
//! `present`.

use super::energise::{Energise, First};
use super::looks::Look;
use super::measurement::NextMeasurement;
use super::plan::Step;
use super::seen::{Evidence, Happened, Says};
use crate::answer::Caution;
use crate::evidence::Mend;
use crate::family::{Assumed, LeftOut, PartsWait, Spread};
use serde::{Deserialize, Serialize};

/// What can be wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Cause {
    /// The machine draws too much while it runs.
    Overload,
    /// It draws too much for too long, or too often, when it starts; or it stalls.
    StartOrStall,
    /// The air at the protector is hot.
    HotSurroundings,
    /// A joint at the protector heats it.
    BadConnection,
    /// The protector releases too early: preload lost, or its calibration drifted.
    WornEarly,
    /// The protector releases too late, or not at all.
    WornLate,
    /// A phase of a three-phase machine is lost: its motor draws more in the two that are left.
    LostPhase,
    /// The protector's rating does not suit the machine, which draws what its own plate says.
    WrongRating,
    /// Nothing: a single trip, memory of an earlier one, a measuring error.
    NothingWrong,
}

impl Cause {
    /// Every cause.
    pub const ALL: [Cause; 9] = [
        Cause::Overload,
        Cause::StartOrStall,
        Cause::HotSurroundings,
        Cause::BadConnection,
        Cause::WornEarly,
        Cause::WornLate,
        Cause::WrongRating,
        Cause::NothingWrong,
        Cause::LostPhase,
    ];

    /// What mends it.
    pub fn mended_by(self) -> Verdict {
        match self {
            Cause::Overload | Cause::StartOrStall | Cause::LostPhase => Verdict::FindTheLoad,
            Cause::HotSurroundings | Cause::WrongRating => Verdict::CoolOrReRate,
            Cause::BadConnection => Verdict::ReMakeTheConnection,
            Cause::WornEarly => Verdict::ReplaceTheProtector,
            Cause::WornLate => Verdict::DoNotReEnergise,
            Cause::NothingWrong => Verdict::NothingToMend,
        }
    }
}

/// What to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Verdict {
    /// Signs or readings that forbid another reset.
    DoNotReEnergise,
    /// The protector trips too early: replace it.
    ReplaceTheProtector,
    /// The machine draws too much, running or starting: find out why.
    FindTheLoad,
    /// Cool the place, or fit a part rated for it (by the maker's table, never simply larger).
    CoolOrReRate,
    /// Re-make the connection, isolated.
    ReMakeTheConnection,
    /// Two causes together.
    TwoCauses,
    /// The protector and the machine are in order.
    NothingToMend,
    /// The evidence does not tell yet.
    NotEnoughEvidence,
}

/// Everything one diagnosis says.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Diagnosis {
    /// Version of this record's layout.
    pub format: u32,
    /// Version of the program.
    pub version: String,
    /// Title of the case.
    pub case: String,
    /// The machine.
    pub equipment: String,
    /// Seed of the random numbers: the same seed gives the same bytes.
    pub seed: u64,
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Reference air, degC.
    pub reference_ambient_c: f64,
    /// Nothing but bench tests of the part is known: the answer is about the part, no machine is
    /// assumed.
    pub bench_only: bool,
    /// It is told how the part held its machine, and no trip: none is looked for.
    #[serde(default)]
    pub nothing_tripped: bool,
    /// First of all: may it be energised again?
    pub energise: Energise,
    /// What to do.
    pub verdict: Verdict,
    /// What is to be mended: one thing, or two where two causes work together; empty while the
    /// evidence is not enough.
    pub mend: Vec<Verdict>,
    /// What is certain and safe to mend while the evidence is not enough for the whole answer.
    pub mend_first: Vec<Verdict>,
    /// What was mended before, in its order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub mended: Vec<Mend>,
    /// What came of the last of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since_mended: Option<Happened>,
    /// What is to be mended was mended, and it holds since.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub is_mended: bool,
    /// Causes that are more probable than not, and that mending does not touch: the machine may run
    /// without, but they are out of order.
    pub also: Vec<Cause>,
    /// What is most probably to be mended, however unsure that is.
    pub likely: Vec<Verdict>,
    /// Probability that what is to be mended is really out of order and that the machine runs on
    /// once it is mended, 0..1.
    pub confidence: f64,
    /// The usual base rule's answer, provisional.
    pub base_rule: BaseRule,
    /// Probability of each cause (causes can come together, so they may add up to more than 1),
    /// most probable first.
    pub causes: Vec<CauseShare>,
    /// The most probable combinations of causes.
    pub combinations: Vec<Combination>,
    /// The state of this protector and its place.
    pub state: State,
    /// What would have happened otherwise.
    pub otherwise: Vec<Otherwise>,
    /// What could not be ruled out.
    pub still_open: Vec<StillOpen>,
    /// What the model leaves out that may matter here.
    pub not_modelled: Vec<LeftOut>,
    /// Each piece of evidence and what it says.
    pub evidence: Vec<Evidence>,
    /// Entries that are probably wrong, and were given little weight.
    pub does_not_fit: Vec<Misfit>,
    /// Pieces of evidence that do not go together.
    pub contradictions: Vec<Contradiction>,
    /// What to measure next, the best first; empty when no measurement would change what to do.
    pub next: Vec<NextMeasurement>,
    /// What costs nothing and was not looked at yet, while the evidence is not enough.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub looks: Vec<Look>,
    /// In which order to look, measure and mend while the evidence is not enough; empty otherwise.
    pub plan: Vec<Step>,
    /// Waits after a trip in its place, now.
    pub waits: Option<Waits>,
    /// The characteristic of a sound part and of this one, with bands.
    pub characteristic: Vec<BandPoint>,
    /// The readings as points on it.
    pub points: Vec<EvidencePoint>,
    /// What these readings cannot tell apart.
    pub cannot_tell_apart: Vec<Alike>,
    /// Cautions for the person at the machine, most urgent first.
    pub cautions: Vec<Caution>,
    /// What was assumed because nothing was said.
    pub assumed: Vec<Assumed>,
    /// How it was computed.
    pub computed: Computed,
}

impl Diagnosis {
    /// Probability of a cause, 0..1.
    pub fn probability(&self, cause: Cause) -> f64 {
        let share = self.causes.iter().find(|c| c.cause == cause);
        share.map_or(0.0, |c| c.probability)
    }

    /// Whether a phase of the machine is lost, more probably than not.
    pub fn has_lost_a_phase(&self) -> bool {
        self.probability(Cause::LostPhase) > 0.5
    }

    /// Current of the machine's own plate, A.
    pub fn plate_a(&self) -> Option<f64> {
        self.evidence.iter().find_map(|e| match e.says {
            Says::Plate { rated_a, .. } => Some(rated_a),
            _ => None,
        })
    }

    /// The largest current of a dial, which stands at [`Diagnosis::rated_current_a`], A.
    pub fn dial_a(&self) -> Option<f64> {
        self.assumed.iter().find_map(|a| match a {
            Assumed::SetByDial { rating_a, .. } => Some(*rating_a),
            _ => None,
        })
    }

    /// Whether it is late unless the current that was read beside it, or its time, is wrong.
    pub fn is_late_or_misread(&self) -> bool {
        let passed = |first: &First| {
            matches!(
                first,
                First::TimeATrip {
                    passed: Some(_),
                    ..
                }
            )
        };
        self.energise.first().iter().any(passed)
    }

    /// Whether the rating does not suit the machine, rather than the place the part.
    pub fn rating_is_wrong(&self) -> bool {
        self.probability(Cause::WrongRating) > self.probability(Cause::HotSurroundings)
    }

    /// The causes that the verdict is about; while the evidence is not enough, the most probable
    /// one.
    pub fn about(&self) -> Vec<Cause> {
        let together = self.combinations.iter().find(|c| c.causes.len() > 1);
        match (self.verdict, together) {
            (Verdict::TwoCauses, Some(both)) => both.causes.clone(),
            (Verdict::NotEnoughEvidence, _) if self.is_late_or_misread() => vec![Cause::WornLate],
            _ if self.energise.is_at_once() => vec![Cause::StartOrStall],
            (Verdict::NotEnoughEvidence, _) => {
                self.causes.first().map(|c| c.cause).into_iter().collect()
            }
            (verdict, _) => {
                let mended = self.causes.iter().map(|c| c.cause);
                mended
                    .filter(|c| c.mended_by() == verdict)
                    .take(1)
                    .collect()
            }
        }
    }
}

/// The usual base rule: current clearly below the rating and it trips, so the protector is worn;
/// otherwise the machine draws too much.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct BaseRule {
    /// Its answer (`NotEnoughEvidence` without a reading, and within the meter's doubt).
    pub verdict: Verdict,
    /// The reading that it goes by, A; `None`: there is none.
    pub current_a: Option<f64>,
}

/// Probability of one cause.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct CauseShare {
    /// The cause.
    pub cause: Cause,
    /// 0..1.
    pub probability: f64,
}

/// Probability of causes together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Combination {
    /// The causes.
    pub causes: Vec<Cause>,
    /// 0..1.
    pub probability: f64,
}

/// The state of the protector and of its place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct State {
    /// Preload lost, 0..1.
    pub preload_loss: Spread,
    /// Factor on the force that releases the latch (above 1: late).
    pub release_force_factor: Spread,
    /// Trip point now at the reference air, A.
    pub trip_point_now_a: Spread,
    /// Trip point now over that of the same part as new.
    pub trip_point_now_over_new: Spread,
    /// Heat of a joint at the protector under rated current, W.
    pub joint_w: Spread,
    /// Air at the protector when it trips, degC.
    pub air_at_the_part_c: Spread,
    /// True current when it trips, A.
    pub true_current_a: Spread,
}

/// One thing put right in thought.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Change {
    /// A sound part.
    SoundPart,
    /// No more than rated current.
    RatedCurrent,
    /// The air of the room at the part.
    RoomAir,
    /// No heat of a joint.
    NoJoint,
    /// No surge of a start.
    NoStart,
}

/// An entry that is probably wrong.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Misfit {
    /// The line as the case has it.
    pub entry: String,
    /// Probability that it is wrong.
    pub probability: f64,
    /// What it should have been; `None` where that is no number.
    pub expected: Option<Expected>,
}

/// What an entry should have been.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Expected {
    /// A current, A.
    CurrentA(Spread),
    /// An air temperature, degC.
    AirC(Spread),
    /// A time to a trip, s.
    TripS(Spread),
    /// A trip not before a time, s, if any.
    NotBeforeS(f64),
    /// No trip at all.
    NoTrip,
}

impl Expected {
    /// Whether something of what was said lies in what would fit.
    pub(crate) fn meets(&self, said: &std::ops::RangeInclusive<f64>) -> bool {
        match self {
            Self::CurrentA(r) | Self::AirC(r) | Self::TripS(r) => {
                *said.start() <= r.high && r.low <= *said.end()
            }
            Self::NotBeforeS(s) => s <= said.end(),
            Self::NoTrip => false,
        }
    }
}

/// Whether it would have tripped otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Otherwise {
    /// What is put right.
    pub change: Change,
    /// Probability that it trips within half a day all the same, 0..1.
    pub trips: f64,
}

/// What could not be ruled out.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum StillOpen {
    /// The meter may read low on this waveform.
    MeterMayReadLow,
    /// The published limits of the part are not known.
    LimitsNotKnown,
    /// The supply is far from the nominal voltage while the machine runs.
    SupplyIsOff {
        /// Voltage while it runs over the nominal one.
        over_nominal: f64,
        /// Whether the load draws more for it: a motor on a low supply, a heater on a high one;
        /// `None`: it is not said what the load is.
        draws_more: Option<bool>,
    },
    /// The phases carry unlike currents, and none is lost.
    PhasesAreUnlike {
        /// The least over the greatest.
        least_over_greatest: f64,
    },
}

/// What the evidence cannot tell apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Alike {
    /// Lost preload and a drifted calibration.
    LossOrDrift,
    /// A small loss and the scatter of new parts: there is no time as new.
    NoBaseline,
    /// A machine that draws too much and a protector too small for it: its plate was not read.
    LoadOrRating,
}

/// Two pieces of evidence, by their labels, of which one is probably wrong.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Contradiction {
    /// One.
    pub one: String,
    /// The other.
    pub other: String,
    /// Probability that just one of them is wrong.
    pub probability: f64,
}

/// Waits after a trip, s from open contacts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Waits {
    /// After a trip by the machine's own load; otherwise after one at twice the rating.
    pub by_own_load: bool,
    /// Until the latch holds again.
    pub reset: PartsWait,
    /// Until the machine can be started.
    pub start: PartsWait,
}

/// Cold trip times at a current and the reference air. `None`: holds for ever.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct BandPoint {
    /// A.
    pub current_a: f64,
    /// Sound parts of this nameplate: 5, 50, 95 % of them have tripped by, s.
    pub sound_s: [Option<f64>; 3],
    /// This part as it now seems: the same, s.
    pub this_part_s: [Option<f64>; 3],
}

/// A reading as a point on the characteristic.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct EvidencePoint {
    /// The line as the case has it.
    pub label: String,
    /// A.
    pub current_a: f64,
    /// Standard uncertainty of the current, A.
    pub current_uncertainty_a: f64,
    /// Trip time, or time held, s.
    pub time_s: f64,
    /// Relative standard uncertainty of the time.
    pub time_relative: f64,
    /// Whether it held that long without a trip.
    pub held: bool,
}

/// How much was computed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Computed {
    /// Designs of the family.
    pub designs: usize,
    /// Particles looked at by superposition.
    pub by_superposition: usize,
    /// Particles simulated by the engine.
    pub by_the_engine: usize,
    /// How many equally weighed ones they are worth.
    pub effective: f64,
}
