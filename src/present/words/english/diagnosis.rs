//! What a diagnosis says: causes, verdicts, the base rule, what would have been otherwise.

use super::{capital, list, since_mended};
use crate::diagnose::{
    Alike, BaseRule, Cause, Change, Computed, Diagnosis, Otherwise, StillOpen, Verdict,
};
use crate::present::number::{percent, plain, significant};

/// A cause in a few words.
pub fn cause(cause: Cause) -> &'static str {
    match cause {
        Cause::Overload => word!("machine draws too much while it runs"),
        Cause::StartOrStall => word!("heavy, long or frequent starts; a stall"),
        Cause::HotSurroundings => word!("hot air at the protector"),
        Cause::BadConnection => word!("bad joint at the protector"),
        Cause::WornEarly => word!("protector worn: trips too early"),
        Cause::WornLate => word!("protector worn: trips too late or never"),
        Cause::LostPhase => word!("a phase is lost: more current in the others"),
        Cause::WrongRating => word!("rating does not suit the machine"),
        Cause::NothingWrong => word!("nothing wrong: one-off, warm, misread"),
    }
}

/// A cause in a word or two, for lists.
pub(crate) fn cause_short(cause: Cause) -> &'static str {
    match cause {
        Cause::Overload => word!("overload"),
        Cause::StartOrStall => word!("start or stall"),
        Cause::HotSurroundings => word!("hot air"),
        Cause::BadConnection => word!("bad joint"),
        Cause::WornEarly => word!("worn early"),
        Cause::WornLate => word!("worn late"),
        Cause::LostPhase => word!("lost phase"),
        Cause::WrongRating => word!("wrong rating"),
        Cause::NothingWrong => word!("nothing wrong"),
    }
}

/// A verdict as a heading.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::DoNotReEnergise => word!("Do not switch on again"),
        Verdict::ReplaceTheProtector => word!("Replace the protector"),
        Verdict::FindTheLoad => word!("Find out why the machine draws too much"),
        Verdict::CoolOrReRate => word!("Cool the place or fit a part made for it"),
        Verdict::ReMakeTheConnection => word!("Re-make the connection"),
        Verdict::TwoCauses => word!("Two causes together"),
        Verdict::NothingToMend => word!("Nothing to mend"),
        Verdict::NotEnoughEvidence => word!("Cannot tell yet"),
    }
}

/// That the rating does not suit the machine, with the plate beside the rating.
pub(crate) fn wrong_rating(diagnosis: &Diagnosis) -> String {
    let Some(plate_a) = diagnosis.plate_a() else {
        return cause(Cause::WrongRating).into();
    };
    let (plate, rating) = (plain(plate_a), plain(diagnosis.rated_current_a));
    match diagnosis.dial_a() {
        Some(_) => say!(
            "the setting does not suit the machine: plate {plate} A, dial at {rating} A"
        ; plate, rating),
        None => say!(
            "the rating does not suit the machine: plate {plate} A, protector {rating} A"
        ; plate, rating),
    }
}

/// What is to be mended, in a few words: one thing, or two.
pub(crate) fn advice(mend: &[Verdict]) -> String {
    match mend {
        [one] => to_do(*one).into(),
        [one, other] => say!("two causes, {} and {}", found(*one), found(*other)),
        _ => to_do(Verdict::NotEnoughEvidence).into(),
    }
}

pub(super) fn to_do(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::DoNotReEnergise => word!("the protector is late: take it out of service"),
        Verdict::ReplaceTheProtector => word!("replace the protector"),
        Verdict::FindTheLoad => word!("the machine draws too much: find out why"),
        Verdict::CoolOrReRate => word!("cool the place, or fit a part rated for it"),
        Verdict::ReMakeTheConnection => word!("re-make the connection"),
        Verdict::TwoCauses => word!("two causes together"),
        Verdict::NothingToMend => word!("nothing to mend"),
        Verdict::NotEnoughEvidence => word!("not enough evidence"),
    }
}

/// What was found, for what is to be mended.
fn found(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::FindTheLoad => word!("the machine draws too much"),
        Verdict::CoolOrReRate => word!("the place is too hot for the part"),
        Verdict::ReMakeTheConnection => word!("a joint at the protector makes heat"),
        Verdict::ReplaceTheProtector => word!("the protector trips too early"),
        other => to_do(other),
    }
}

/// What was wrong and is mended.
pub(crate) fn it_was(diagnosis: &Diagnosis) -> String {
    let was: Vec<&str> = diagnosis.mend.iter().map(|v| found(*v)).collect();
    let was = list(&was);
    say!("mended, and it was that: {was}"; was)
}

/// The verdict in a sentence or two.
pub(crate) fn verdict_text(diagnosis: &Diagnosis) -> String {
    let since = since_mended(&diagnosis.mended, diagnosis.since_mended.as_ref());
    let alone = verdict_alone(diagnosis);
    match since.is_empty() {
        true => alone,
        false => format!("{alone} {since}"),
    }
}

fn verdict_alone(diagnosis: &Diagnosis) -> String {
    match diagnosis.verdict {
        _ if diagnosis.is_mended => format!("{}.", capital(&it_was(diagnosis))),
        Verdict::DoNotReEnergise => {
            word!("Do not switch on again. Take the protector out of service and have a qualified person find out why \
             before anything is energised.")
                .into()
        }
        Verdict::ReplaceTheProtector => {
            word!("It trips too early: replace it by one of the same rating and type. Never fit a higher rating to stop the \
             tripping.")
                .into()
        }
        Verdict::FindTheLoad if diagnosis.has_lost_a_phase() => {
            word!("The protector did its job: a phase is lost, and the motor draws more in those that are left.").into()
        }
        Verdict::FindTheLoad => {
            word!("The protector did its job: the machine draws too much, running or starting.").into()
        }
        Verdict::CoolOrReRate if diagnosis.rating_is_wrong() => say!(
            "{}. Until that is settled nothing is known against the protector.",
            capital(&wrong_rating(diagnosis))
        ),
        Verdict::CoolOrReRate => {
            word!("The place is too hot for the part, or the part is not made for that load. Until it is cooled nothing is \
             known against the protector.")
                .into()
        }
        Verdict::ReMakeTheConnection => {
            word!("A joint at the protector makes heat of its own. Until it is re-made nothing is known against the \
             protector.")
                .into()
        }
        Verdict::TwoCauses => {
            let found: Vec<&str> = diagnosis.mend.iter().map(|v| found(*v)).collect();
            say!("{}. Mend both, the machine and the place before the protector.", capital(&list(&found)))
        }
        Verdict::NothingToMend => {
            if diagnosis.nothing_tripped {
                return word!("Nothing has tripped, and nothing speaks against the protector.")
                    .into();
            }
            word!("Protector, place and machine look sound: a single trip, or heat left from an earlier one.")
                .into()
        }
        Verdict::NotEnoughEvidence if diagnosis.is_late_or_misread() => late_or_misread().into(),
        Verdict::NotEnoughEvidence => say!(
            "What is likeliest to help so far: {} ({}).",
            advice(&diagnosis.likely),
            percent(diagnosis.confidence)
        ),
    }
}

/// Of a part that let flow what none of its rating does.
pub(crate) fn late_or_misread() -> &'static str {
    word!("Either the reading or the time is wrong, or the protector is late.")
}

/// What a rule of thumb alone would say, and what it rests on.
pub(crate) fn base_rule(rule: &BaseRule, rated_a: f64) -> String {
    let Some(current_a) = rule.current_a else {
        return word!("it needs a reading of the current.").into();
    };
    let shown = say!(
        "{} A against {} A",
        significant(current_a, 3),
        significant(rated_a, 3)
    );
    match rule.verdict {
        Verdict::ReplaceTheProtector => {
            say!("{shown}, clearly below, and it trips: replace the protector."; shown)
        }
        Verdict::FindTheLoad => say!("{shown}: the machine draws too much."; shown),
        _ => say!("{shown} is within the meter's doubt: it cannot say."; shown),
    }
}

/// What would have happened with one thing put right.
pub(crate) fn otherwise(other: &Otherwise, diagnosis: &Diagnosis) -> String {
    let trips = percent(other.trips);
    match other.change {
        Change::SoundPart => say!(
            "A sound part under the same {} A in the same place would trip within half a day with \
             probability {trips}.",
            significant(diagnosis.state.true_current_a.median, 3)
        ; trips),
        Change::RatedCurrent => {
            say!(
                "With no more than its rated current this part would trip with probability {trips}."
            ; trips)
        }
        Change::RoomAir => say!(
            "With the air of the room at the part, instead of about {:.0} °C, it would trip with \
             probability {trips}.",
            diagnosis.state.air_at_the_part_c.median
        ; trips),
        Change::NoJoint => {
            say!("Without the heat of a joint it would trip with probability {trips}."; trips)
        }
        Change::NoStart => {
            say!("Without the surge of a start it would trip with probability {trips}."; trips)
        }
    }
}

/// What could not be ruled out.
pub(crate) fn still_open(open: StillOpen) -> String {
    match open {
        StillOpen::MeterMayReadLow => {
            word!("The meter may read low on this waveform; only a true-RMS meter decides.").into()
        }
        StillOpen::LimitsNotKnown => {
            word!("The published limits of this part are not known.").into()
        }
        StillOpen::SupplyIsOff {
            over_nominal,
            draws_more,
        } => {
            let of = format!("{:.0} %", 100.0 * over_nominal);
            match (draws_more, over_nominal < 1.0) {
                (Some(false), _) => say!(
                    "The supply is at {of} of what the machine is made for: such a load draws less then, so that is \
                     not why it trips. It is to be mended all the same."
                ; of),
                (Some(true), true) => say!(
                    "The supply is at {of} of what the machine is made for while it runs: a motor then draws more. \
                     Mend that first."
                ; of),
                (Some(true), false) => say!(
                    "The supply is at {of} of what the machine is made for: a heater then draws more. Mend that first."
                ; of),
                (None, _) => say!(
                    "The supply is at {of} of what the machine is made for: a motor draws more on a low one, a heater on \
                     a high one. Say what kind of load it is."
                ; of),
            }
        }
        StillOpen::PhasesAreUnlike {
            least_over_greatest,
        } => say!(
            "The least phase carries {:.0} % of the greatest: a few per cent between the voltages of a motor make six to \
             ten times that between its currents; the greatest is what the protector feels.",
            100.0 * least_over_greatest
        ),
    }
}

/// What the evidence cannot tell apart.
pub(crate) fn alike(alike: Alike) -> &'static str {
    match alike {
        Alike::LossOrDrift => {
            word!(
                "Lost preload and a drifted calibration both lower the release threshold; trip times cannot tell them \
             apart. What to do is the same: replace the part."
            )
        }
        Alike::NoBaseline => {
            word!(
                "New parts of one rating differ by a quarter in what they carry. Without the time this part took when it \
             was new, or a sister's, a small loss cannot be told from that."
            )
        }
        Alike::LoadOrRating => {
            word!(
                "Without the current on the machine's own plate, a machine that draws too much cannot be told from a \
             protector that is too small for it."
            )
        }
    }
}

/// What would prove a verdict wrong.
pub(crate) fn proved_wrong_by(diagnosis: &Diagnosis) -> Vec<&'static str> {
    match diagnosis.verdict {
        Verdict::DoNotReEnergise => vec![word!(
            "A timed trip at 200 % from cold within the maker's band, before the part was operated by hand."
        )],
        Verdict::ReplaceTheProtector => vec![
            word!(
                "The part carries its rated current for two hours on a bench at its reference air."
            ),
            word!("A sound twin trips in the same place under the same load."),
            word!("A true-RMS meter shows more than the rated current right up to the trip."),
        ],
        Verdict::FindTheLoad => vec![
            word!(
                "A true-RMS reading right up to the trip that stays clearly below the rated current."
            ),
            word!("A sound twin carries the same load without a trip."),
        ],
        Verdict::CoolOrReRate if diagnosis.rating_is_wrong() => vec![
            word!(
                "A true-RMS reading up to the trip that stays clearly below the protector's rating."
            ),
            word!("The plate belongs to another voltage or connection than the one in use."),
        ],
        Verdict::CoolOrReRate => vec![
            word!("It trips as soon with the air at the part as cool as its reference."),
            word!("On a bench at its reference air it does not carry its rated current."),
        ],
        Verdict::ReMakeTheConnection => vec![
            word!("The drop across the part stays as high after the joint was re-made."),
            word!("Both terminals are equally warm under load."),
        ],
        Verdict::TwoCauses => {
            vec![word!(
                "With one of the two put right it never trips again, whatever the other does."
            )]
        }
        Verdict::NothingToMend => vec![word!("It trips again under the same conditions.")],
        Verdict::NotEnoughEvidence => Vec::new(),
    }
}

/// How it was computed.
pub(crate) fn computed(computed: &Computed, seed: u64) -> String {
    say!(
        "{} designs of the family, {} particles looked at by superposition, {} of them simulated by the engine ({:.0} \
         carry the answer), seed {seed}; trip times of particles to 0.1 %",
        computed.designs, computed.by_superposition, computed.by_the_engine, computed.effective
    ; seed)
}
