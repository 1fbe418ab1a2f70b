//! The one record that every output of a diagnosis renders. Units are in the names.

use super::energise::Energise;
use crate::statistics::weighted::Weighted;
use serde::Serialize;

/// What can be wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
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
    /// The protector's rating does not suit the machine, which draws what its own plate says.
    WrongRating,
    /// Nothing: a single trip, memory of an earlier one, a measuring error.
    NothingWrong,
}

impl Cause {
    /// Every cause.
    pub const ALL: [Cause; 8] = [
        Cause::Overload,
        Cause::StartOrStall,
        Cause::HotSurroundings,
        Cause::BadConnection,
        Cause::WornEarly,
        Cause::WornLate,
        Cause::WrongRating,
        Cause::NothingWrong,
    ];
}

/// What to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
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

/// Median and the ends of the 90 % interval.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize)]
pub struct Range {
    /// 5 % lie below.
    pub low: f64,
    /// Half lie below.
    pub median: f64,
    /// 5 % lie above.
    pub high: f64,
}

impl Range {
    /// Of numbers with weights; `None` when there is none.
    pub fn of(values: &Weighted) -> Option<Range> {
        (!values.is_empty()).then(|| Range {
            low: values.at(0.05),
            median: values.at(0.5),
            high: values.at(0.95),
        })
    }
}

/// Everything one diagnosis says.
#[derive(Debug, Clone, Serialize)]
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
    /// First of all: may it be energised again?
    pub energise: Energise,
    /// What to do.
    pub verdict: Verdict,
    /// What is to be mended: one thing, or two where two causes work together; empty while the evidence is not
    /// enough.
    pub mend: Vec<Verdict>,
    /// Causes that are more probable than not, and that mending does not touch: the machine may run without, but they
    /// are out of order.
    pub also: Vec<Cause>,
    /// Probability that what is to be mended is really out of order and that the machine runs on once it is
    /// mended, 0..1.
    pub confidence: f64,
    /// The verdict in a sentence or two.
    pub sentence: String,
    /// The usual base rule's answer, provisional.
    pub base_rule: BaseRule,
    /// Probability of each cause (causes can come together, so they may add up to more than 1), most probable
    /// first.
    pub causes: Vec<CauseShare>,
    /// The most probable combinations of causes.
    pub combinations: Vec<Combination>,
    /// The state of this protector and its place.
    pub state: State,
    /// What would have happened otherwise, in sentences.
    pub counterfactuals: Vec<String>,
    /// What could not be ruled out, and why, in sentences.
    pub ruled_out: Vec<String>,
    /// Each piece of evidence and what it says.
    pub evidence: Vec<EvidenceLine>,
    /// Pieces of evidence that do not go together.
    pub contradictions: Vec<Contradiction>,
    /// What to measure next, the best first; empty when no measurement would change what to do.
    pub next: Vec<NextMeasurement>,
    /// Waits after a trip in its place, now.
    pub waits: Option<Waits>,
    /// The characteristic of a sound part and of this one, with bands.
    pub characteristic: Vec<BandPoint>,
    /// The readings as points on it.
    pub points: Vec<EvidencePoint>,
    /// What would prove the verdict wrong.
    pub would_prove_wrong: Vec<String>,
    /// What these readings cannot tell apart, and why it does not matter.
    pub cannot_tell_apart: Vec<String>,
    /// Fields to settle before a part is replaced.
    pub replacement: Vec<ReplacementField>,
    /// Cautions for the person at the machine; filled by whoever renders the record.
    pub cautions: Vec<String>,
    /// What was assumed because nothing was said.
    pub assumed: Vec<String>,
    /// How it was computed, and how many simulated parts carry the answer.
    pub computed_with: String,
}

/// The usual base rule: current clearly below the rating and it trips, so the protector is worn; otherwise the
/// machine draws too much.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BaseRule {
    /// Its answer (`NotEnoughEvidence` without a reading of the current).
    pub verdict: Verdict,
    /// In a sentence, marked provisional.
    pub sentence: String,
}

/// Probability of one cause.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CauseShare {
    /// The cause.
    pub cause: Cause,
    /// 0..1.
    pub probability: f64,
    /// In a sentence.
    pub sentence: String,
}

/// Probability of causes together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Combination {
    /// The causes.
    pub causes: Vec<Cause>,
    /// 0..1.
    pub probability: f64,
}

/// The state of the protector and of its place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct State {
    /// Preload lost, 0..1.
    pub preload_loss: Range,
    /// Factor on the force that releases the latch (above 1: late).
    pub release_force_factor: Range,
    /// Trip point now at the reference air, A.
    pub trip_point_now_a: Range,
    /// Trip point now over that of the same part as new.
    pub trip_point_now_over_new: Range,
    /// Heat of a joint at the protector under rated current, W.
    pub joint_w: Range,
    /// Air at the protector when it trips, degC.
    pub air_at_the_part_c: Range,
    /// True current when it trips, A.
    pub true_current_a: Range,
}

/// One piece of evidence.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EvidenceLine {
    /// The line as the case has it.
    pub label: String,
    /// What it says, in a sentence.
    pub sentence: String,
}

/// Two pieces of evidence that no part of the family explains together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Contradiction {
    /// Line of one.
    pub one: String,
    /// Line of the other.
    pub other: String,
    /// Why, in a sentence.
    pub sentence: String,
}

/// A measurement that would tell more.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NextMeasurement {
    /// What to measure.
    pub what: String,
    /// How, with the caution that belongs to it.
    pub how: String,
    /// Expected information about what to do, bits.
    pub information_bits: f64,
    /// Effort with rests, minutes.
    pub minutes: f64,
    /// Trips of the protector that it uses up.
    pub trips_used: f64,
    /// What its outcomes would mean: (outcome, probability, meaning).
    pub outcomes: Vec<OutcomeMeaning>,
}

/// What an outcome of a measurement would mean.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OutcomeMeaning {
    /// The outcome.
    pub outcome: String,
    /// How probable it is now, 0..1.
    pub probability: f64,
    /// What it would mean.
    pub meaning: String,
}

/// Waits after a trip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Waits {
    /// From open contacts until the latch holds again, s.
    pub reset_s: Option<Range>,
    /// Until the machine can be started, s.
    pub start_s: Option<Range>,
    /// In a sentence, with what was not known.
    pub sentence: String,
}

/// Cold trip times at a current and the reference air. `None`: holds for ever.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BandPoint {
    /// A.
    pub current_a: f64,
    /// Sound parts of this nameplate: 5, 50, 95 % of them have tripped by, s.
    pub sound_s: [Option<f64>; 3],
    /// This part as it now seems: the same, s.
    pub this_part_s: [Option<f64>; 3],
}

/// A reading as a point on the characteristic.
#[derive(Debug, Clone, PartialEq, Serialize)]
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

/// A field of the replacement sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReplacementField {
    /// Field.
    pub field: String,
    /// Value to fill in, where the case knows it.
    pub value: String,
    /// Rule.
    pub rule: String,
}
