//! What was read and timed.

use super::Gathered;
use super::printed::near_and_known;
use crate::evidence::load_kind::LOAD_KINDS;
use crate::evidence::read::current::{at_position, is_elsewhere};
use crate::evidence::{
    Accuracy, Air, AirPlace, Before, Event, JAW, Measured, Meter, Outcome, Reading, Setting, Taken,
    Unit, last_digit, read_before, read_time,
};
use crate::family::Assumed;
use crate::quantity::{Dimension, Quantity};

/// Standard uncertainty of an air temperature that states none, K. Common practice, no source.
const AIR_K: f64 = 1.5;

impl Gathered<'_> {
    pub(super) fn readings(&mut self) {
        let flags = self.flags;
        let meter = self.asked("meter", flags.meter.as_ref(), meter);
        let stated = self.asked("accuracy", flags.accuracy.as_ref(), |text| {
            Accuracy::read(text, Dimension::Current)
                .map_err(|e| format!("{e}; write it as \"2 % + 5 digits\""))
        });
        let accuracy = stated.unwrap_or(Accuracy::CLAMP);
        let tripped = !flags.trips.is_empty();
        for text in &flags.readings {
            let (amperes, position) = match text.split_once(" on ") {
                Some((amperes, position)) => (amperes, Some(position)),
                None => (text.as_str(), None),
            };
            let label = at_position(format!("reading {amperes}"), position);
            let read = self.taken("reading", text, current(amperes, accuracy));
            let Some((current_a, digit_a)) = read else {
                continue;
            };
            if let Some(trips_in) = is_elsewhere(position, flags.position.as_deref()) {
                let line = label;
                (self.case.assumed).push(Assumed::OtherPosition { line, trips_in });
                continue;
            }
            let (value, open_a) = (current_a.value, current_a.standard_uncertainty);
            if let Some(digit_a) = digit_a.filter(|_| flags.accuracy.is_none()) {
                let coarse = accuracy.coarse_digit(&label, value, digit_a, open_a);
                self.case.assumed.extend(coarse);
            }
            self.case.readings.push(Reading {
                label,
                current_a,
                meter: meter.unwrap_or(Meter::Unknown),
                taken: match tripped {
                    true => Taken::UpToTheTrip,
                    false => Taken::WhileRunning,
                },
            });
        }
        if !flags.readings.is_empty() && flags.accuracy.is_none() {
            self.case.assumed.push(Assumed::MeterAsUsual {
                line: None,
                sheet: Accuracy::CLAMP.describe(),
            });
        }
        if tripped && !flags.readings.is_empty() {
            self.case.assumed.push(Assumed::ReadUpToTheTrip);
        }
    }

    pub(super) fn airs(&mut self) {
        let flags = self.flags;
        let places = [
            ("room", &flags.room, AirPlace::InTheRoom, "air in the room"),
            ("air", &flags.air, AirPlace::AtThePart, "air at the part"),
        ];
        for (flag, text, place, label) in places {
            let read = self.asked(flag, text.as_ref(), air);
            self.case.air.extend(read.map(|temperature_k| Air {
                label: label.into(),
                place,
                temperature_k,
            }));
        }
    }

    pub(super) fn events(&mut self) {
        let flags = self.flags;
        for (flag, list) in [("trip", &flags.trips), ("held", &flags.held)] {
            for text in list {
                let read = self.taken(flag, text, event(text, flag == "trip"));
                self.case.events.extend(read);
            }
        }
    }

    pub(super) fn machine(&mut self) {
        let flags = self.flags;
        let rated_a = self.asked("machine-rating", flags.machine_rating.as_ref(), |text| {
            let read = quantity(text, Dimension::Current)?;
            above_zero_a(read.value)
        });
        self.case.equipment_rated_a = rated_a;
        let kind = self.asked("load-kind", flags.load.as_ref(), |text| {
            let known = LOAD_KINDS.iter().map(|(name, _)| *name);
            let said = text.to_lowercase();
            // The longest name in it: a dimmed heater is one.
            let named = LOAD_KINDS.iter().filter(|(name, _)| said.contains(name));
            let named = named.max_by_key(|(name, _)| name.len());
            (named.map(|(_, kind)| *kind)).ok_or_else(|| near_and_known(text, known))
        });
        if let Some((surge, waveform)) = kind {
            self.case.has_start = surge;
            self.case.waveform = waveform;
        }
    }
}

fn above_zero_a(current_a: f64) -> Result<f64, String> {
    match current_a > 0.0 {
        true => Ok(current_a),
        false => Err("a current above zero belongs here".into()),
    }
}

fn meter(text: &str) -> Result<Meter, String> {
    Meter::spoken(text).ok_or_else(|| "allowed: true RMS, average responding, unknown".into())
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
    let allowed = "air at a protector lies between -60 degC and 150 degC";
    temperature(text, 423.15, allowed, AIR_K)
}

/// A temperature from -60 degC to an end, K; without a tolerance it is known to `open_k`.
pub(super) fn temperature(
    text: &str,
    up_to_k: f64,
    allowed: &str,
    open_k: f64,
) -> Result<Measured, String> {
    let mut read = quantity(text, Dimension::Temperature)?;
    if !(213.15..=up_to_k).contains(&read.value) {
        return Err(allowed.into());
    }
    if read.standard_uncertainty == 0.0 {
        read.standard_uncertainty = open_k;
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
    if ["at once", "instantly", "immediately"].contains(&time) {
        return Err("that is a sign of a fault: --sign \"trips at once cold\"".into());
    }
    if time.contains(" at ") {
        return Err(
            "the current at that time is --reading; of a test on a bench a case file says it \
             (`on = \"bench\"`); `relatch new case` prints one"
                .into(),
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
