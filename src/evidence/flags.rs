//! A case from a few words of a command line.

use super::flag_seen::seen;
use super::load_kind::LOAD_KINDS;
use super::read::current::{at_position, is_elsewhere};
use super::read::protector::{is_setting, marked};
use super::{
    Accuracy, Air, AirPlace, Before, Case, Event, FlagLog, JAW, Measured, Meter, Outcome, Reading,
    Setting, Taken, Unit, last_digit, read_before, read_time,
};
use crate::diagnostic::nearest;
use crate::family::{Assumed, Nameplate};
use crate::quantity::{Dimension, Quantity};

/// What somebody says without a file. All are texts as they were typed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Flags {
    /// Rated current, `13 A`.
    pub rating: String,
    /// Air that the rating is stated for.
    pub reference_air: Option<String>,
    /// Name of published limits.
    pub limits: Option<String>,
    /// Readings of the running current, `11.3 A`.
    pub readings: Vec<String>,
    /// `true RMS`, `average responding` or `unknown`.
    pub meter: Option<String>,
    /// `2 % + 5 digits`.
    pub accuracy: Option<String>,
    /// Air in the room.
    pub room: Option<String>,
    /// Air 10 mm to 20 mm from the part.
    pub air: Option<String>,
    /// Trips: `after 8.3 min`, `after 8.3 min from cold`, `not known`.
    pub trips: Vec<String>,
    /// Times without a trip: `1 h`, `1 h from cold`.
    pub held: Vec<String>,
    /// Rated current of the machine.
    pub machine_rating: Option<String>,
    /// A recorded log.
    pub log: Option<FlagLog>,
    /// Signs of a fault: `smell`.
    pub signs: Vec<String>,
    /// A start: `50 A for 0.7 s`.
    pub start: Option<String>,
    /// Voltage of the supply: `196 V running of 230 V`.
    pub supply: Option<String>,
    /// Drop across the closed protector: `123 mV at 13.6 A, sister 72 mV`.
    pub drop: Option<String>,
    /// Where a dial stands.
    pub setting: Option<String>,
    /// How many poles.
    pub poles: Option<u32>,
    /// Which one all this is of.
    pub pole: Option<String>,
    /// Kind of load: `motor`.
    pub load: Option<String>,
    /// Where the machine's switch stands when it trips.
    pub position: Option<String>,
    /// Both terminals: `58 degC and 31 degC`.
    pub terminals: Option<String>,
}

/// Standard uncertainty of an air temperature that states none, K. Common practice, no source.
const AIR_K: f64 = 1.5;

/// The case of some flags.
///
/// ```
/// use relatch::internals::evidence::{Flags, from_flags};
/// let case = from_flags(&Flags {
///     rating: "13 A".into(),
///     readings: vec!["11.3 A".into()],
///     trips: vec!["after 8.3 min from cold".into()],
///     ..Flags::default()
/// })
/// .unwrap();
/// assert_eq!(case.events.len(), 1);
/// assert_eq!(case.readings[0].current_a.value, 11.3);
/// ```
///
/// # Errors
/// Every problem, one sentence each.
pub fn from_flags(flags: &Flags) -> Result<Case, Vec<String>> {
    from_flags_with_progress(flags, &mut |_, _| {})
}

/// The same; `progress` is told which log is read, and how far (0 to 1).
///
/// # Errors
/// Every problem, one sentence each; those of a log with notes and help on lines of their own.
pub fn from_flags_with_progress(
    flags: &Flags,
    progress: &mut dyn FnMut(&str, f64),
) -> Result<Case, Vec<String>> {
    let (mut case, mut problems) = gathered(flags);
    // Logs may be long: they wait until the rest is right.
    if let (Some(log), true) = (&flags.log, problems.is_empty()) {
        match log.read(progress) {
            Ok(found) => case.takes(found),
            Err(found) => problems.extend(found),
        }
    }
    let nothing = case.readings.is_empty() && case.events.is_empty() && case.signs.is_empty();
    if nothing && problems.is_empty() {
        problems.push(
            "nothing has happened to this protector yet: add --reading \"11.3 A\", --trip \"after \
             8.3 min\", --held \"1 h\" or --log current.csv"
                .into(),
        );
    }
    sound_or(case, problems)
}

/// The same where a log is still to come, so that nothing need have happened yet.
///
/// # Errors
/// Every problem, one sentence each.
pub fn before_a_log(flags: &Flags) -> Result<Case, Vec<String>> {
    let (case, problems) = gathered(flags);
    sound_or(case, problems)
}

fn sound_or(case: Case, problems: Vec<String>) -> Result<Case, Vec<String>> {
    if problems.is_empty() {
        Ok(case)
    } else {
        Err(problems)
    }
}

/// What the flags hold, and every problem of them.
fn gathered(flags: &Flags) -> (Case, Vec<String>) {
    let mut problems = Vec::new();
    let mut say = |flag: &str, text: &str, found: String| {
        problems.push(format!("--{flag} \"{text}\": {found}"));
    };
    let rating = quantity(&flags.rating, Dimension::Current).and_then(|r| {
        if Nameplate::RATINGS_A.contains(&r.value) {
            Ok(r)
        } else {
            Err("rated currents lie between 0.05 A and 10 kA".into())
        }
    });
    let nameplate = match rating {
        Ok(r) => Nameplate::of_rating(r.value),
        Err(e) => {
            say("rating", &flags.rating, e);
            Nameplate::of_rating(1.0)
        }
    };
    let printed_a = nameplate.rated_current_a;
    let mut nameplate = match &flags.setting {
        None => nameplate,
        Some(text) => match quantity(text, Dimension::Current) {
            Ok(set) if is_setting(set.value, printed_a) => Nameplate::of_rating(set.value),
            Ok(_) => {
                let most =
                    "a dial is set below the largest current that it is marked with, its --rating";
                say("setting", text, most.into());
                nameplate
            }
            Err(e) => {
                say("setting", text, e);
                nameplate
            }
        },
    };
    marked(&mut nameplate, printed_a, flags.poles, flags.pole.clone());
    let mut case = Case::of(nameplate);
    case.title = "Case of the command line".into();
    if let Some(name) = &flags.limits {
        match Nameplate::limits_named(name) {
            Some(table) if case.nameplate.rated_current_a <= table.up_to_a => {
                case.nameplate = case.nameplate.with_limits(table);
            }
            Some(table) => say(
                "limits",
                name,
                format!("they hold up to {} A", table.up_to_a),
            ),
            None => {
                let known = crate::standards::LIMITS.iter().map(|l| l.name);
                let near = nearest(name, known.clone())
                    .map(|n| format!("did you mean \"{n}\"? "))
                    .unwrap_or_default();
                let known: Vec<&str> = known.collect();
                say(
                    "limits",
                    name,
                    format!("not known; {near}known: {}", known.join(", ")),
                );
            }
        }
    }
    if let Some(text) = &flags.reference_air {
        match air(text) {
            Ok(t) => case.nameplate = case.nameplate.at_reference(t.value),
            Err(e) => say("reference-air", text, e),
        }
    }
    let meter = match flags.meter.as_deref() {
        None => Meter::Unknown,
        Some(text) => match text.trim().to_lowercase().as_str() {
            "true rms" | "true-rms" => Meter::TrueRms,
            "average responding" | "average-responding" => Meter::AverageResponding,
            "unknown" => Meter::Unknown,
            _ => {
                let allowed = "allowed: true RMS, average responding, unknown";
                say("meter", text, allowed.into());
                Meter::Unknown
            }
        },
    };
    let accuracy = match flags.accuracy.as_deref() {
        None => Accuracy::CLAMP,
        Some(text) => Accuracy::read(text, Dimension::Current).unwrap_or_else(|e| {
            say(
                "accuracy",
                text,
                format!("{e}; write it as \"2 % + 5 digits\""),
            );
            Accuracy::CLAMP
        }),
    };
    let tripped = !flags.trips.is_empty();
    for text in &flags.readings {
        let (amperes, position) = match text.split_once(" on ") {
            Some((amperes, position)) => (amperes, Some(position)),
            None => (text.as_str(), None),
        };
        let label = at_position(format!("reading {amperes}"), position);
        let trips_in = is_elsewhere(position, flags.position.as_deref());
        match current(amperes, accuracy) {
            Ok(_) if trips_in.is_some() => {
                let trips_in = trips_in.unwrap_or_default();
                let line = label;
                case.assumed.push(Assumed::OtherPosition { line, trips_in });
            }
            Ok((current_a, digit_a)) => {
                let (value, open_a) = (current_a.value, current_a.standard_uncertainty);
                if let Some(digit_a) = digit_a.filter(|_| flags.accuracy.is_none()) {
                    let coarse = accuracy.coarse_digit(&label, value, digit_a, open_a);
                    case.assumed.extend(coarse);
                }
                case.readings.push(Reading {
                    label,
                    current_a,
                    meter,
                    taken: if tripped {
                        Taken::UpToTheTrip
                    } else {
                        Taken::WhileRunning
                    },
                });
            }
            Err(e) => say("reading", text, e),
        }
    }
    if !flags.readings.is_empty() && flags.accuracy.is_none() {
        case.assumed.push(Assumed::MeterAsUsual {
            line: None,
            sheet: Accuracy::CLAMP.describe(),
        });
    }
    if tripped && !flags.readings.is_empty() {
        case.assumed.push(Assumed::ReadUpToTheTrip);
    }
    let places = [
        ("room", &flags.room, AirPlace::InTheRoom, "air in the room"),
        ("air", &flags.air, AirPlace::AtThePart, "air at the part"),
    ];
    for (flag, text, place, label) in places {
        let Some(text) = text else { continue };
        match air(text) {
            Ok(temperature_k) => case.air.push(Air {
                label: label.into(),
                place,
                temperature_k,
            }),
            Err(e) => say(flag, text, e),
        }
    }
    for (flag, list) in [("trip", &flags.trips), ("held", &flags.held)] {
        for text in list {
            match event(text, flag == "trip") {
                Ok(event) => case.events.push(event),
                Err(e) => say(flag, text, e),
            }
        }
    }
    if let Some(text) = &flags.machine_rating {
        match quantity(text, Dimension::Current) {
            Ok(r) if r.value > 0.0 => case.equipment_rated_a = Some(r.value),
            Ok(_) => say(
                "machine-rating",
                text,
                "a current above zero belongs here".into(),
            ),
            Err(e) => say("machine-rating", text, e),
        }
    }
    if let Some(text) = &flags.load {
        let known = LOAD_KINDS.iter().map(|(name, _)| *name);
        match LOAD_KINDS.iter().find(|(name, _)| *name == text.trim()) {
            Some((_, (surge, waveform))) => {
                case.has_start = *surge;
                case.waveform = *waveform;
            }
            None => {
                let near = nearest(text, known.clone()).map(|n| format!("did you mean \"{n}\"? "));
                let known: Vec<&str> = known.collect();
                let near = near.unwrap_or_default();
                say(
                    "load-kind",
                    text,
                    format!("{near}known: {}", known.join(", ")),
                );
            }
        }
    }
    seen(flags, &mut case, &mut say);
    (case, problems)
}

/// A quantity; without a tolerance its uncertainty is zero here.
pub(super) fn quantity(text: &str, dimension: Dimension) -> Result<Measured, String> {
    Quantity::read(text, dimension)
        .map(|q| Measured::new(q.value_si, q.standard_uncertainty_si.unwrap_or(0.0)))
        .map_err(|e| format!("{}; {}", e.found(), e.help()))
}

/// A current, and what its last digit is worth where that counts.
fn current(text: &str, accuracy: Accuracy) -> Result<(Measured, Option<f64>), String> {
    let mut read = quantity(text, Dimension::Current)?;
    if !(read.value > 0.0 && read.value <= 200_000.0) {
        return Err("a current above zero belongs here".into());
    }
    if read.standard_uncertainty > 0.0 {
        return Ok((read, None));
    }
    let digit_a = last_digit(text, Dimension::Current);
    read.standard_uncertainty = accuracy
        .standard_uncertainty(read.value, digit_a.unwrap_or(0.0))
        .hypot(JAW * read.value);
    Ok((read, digit_a))
}

pub(super) fn air(text: &str) -> Result<Measured, String> {
    let mut read = quantity(text, Dimension::Temperature)?;
    if !(213.15..=423.15).contains(&read.value) {
        return Err("air at a protector lies between -60 degC and 150 degC".into());
    }
    if read.standard_uncertainty == 0.0 {
        read.standard_uncertainty = AIR_K;
    }
    Ok(read)
}

/// `after 8.3 min from cold`; `after` and `from ...` may be left out.
fn event(text: &str, tripped: bool) -> Result<Event, String> {
    let (time, from) = match text.split_once(" from ") {
        Some((time, from)) => (time.trim(), Some(from)),
        None => (text.trim(), None),
    };
    let before = match from {
        Some(from) => read_before(from).map_err(|e| format!("{}; write {}", e.found, e.help))?,
        None => Before::Unknown,
    };
    if matches!(before, Before::AfterTrip { .. }) {
        return Err(
            "a second trip after the first needs a case file; `relatch new case` prints one".into(),
        );
    }
    let word = if tripped { "after " } else { "for " };
    let time = time.strip_prefix(word).unwrap_or(time);
    let outcome = if tripped && ["not known", "unknown"].contains(&time) {
        Outcome::TrippedWithin {
            from_s: 0.0,
            to_s: f64::INFINITY,
        }
    } else {
        let read = read_time(time).map_err(|e| format!("{}; {}", e.found, e.help))?;
        if read.value <= 0.0 {
            return Err("a time above zero belongs here".into());
        }
        match tripped {
            true => Outcome::Tripped { after_s: read },
            false => Outcome::Held { for_s: read.value },
        }
    };
    let what = if tripped { "trip" } else { "held" };
    Ok(Event {
        label: format!("{what} {text}"),
        unit: Unit::ThisPart,
        setting: Setting::InService { with_start: false },
        before,
        air_k: None,
        outcome,
        times: 1,
        reset_between_s: None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_problem_is_said_at_once() {
        let problems = from_flags(&Flags {
            rating: "13".into(),
            readings: vec!["11.3 V".into()],
            meter: Some("good".into()),
            accuracy: Some("fine".into()),
            room: Some("400 degC".into()),
            trips: vec!["after 0 s".into(), "soon".into()],
            ..Flags::default()
        })
        .expect_err("problems");
        assert_eq!(problems.len(), 7, "{problems:#?}");
    }

    #[test]
    fn a_rating_alone_is_no_case() {
        let flags = Flags {
            rating: "13 A".into(),
            ..Flags::default()
        };
        assert!(from_flags(&flags).is_err());
    }
}
