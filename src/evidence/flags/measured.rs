//! What was read and timed.

use super::Gathered;
use super::mended::since;
use super::printed::near_and_known;
use crate::evidence::load_kind::{LOAD_KINDS, spoken};
use crate::evidence::read::current::{at_position, is_elsewhere};
use crate::evidence::{
    Accuracy, Air, AirPlace, Before, Event, JAW, Measured, Meter, Outcome, PhaseCurrents, Reading,
    Setting, Taken, Unit, last_digit, read_before, read_time,
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
        let accuracy_of = |text: &str| {
            let amperes = text.split_once(" on ").map_or(text, |(amperes, _)| amperes);
            let digit_a = last_digit(amperes, Dimension::Current);
            stated.unwrap_or_else(|| Accuracy::of_a_clamp(digit_a))
        };
        let tripped = !flags.trips.is_empty();
        for text in &flags.readings {
            let (said, is_since) = since(text);
            let mended = self.mends_before("reading", text, is_since);
            let (amperes, position) = match said.split_once(" on ") {
                Some((amperes, position)) => (amperes, Some(position)),
                None => (said, None),
            };
            let label = at_position(format!("reading {amperes}"), position);
            let accuracy = accuracy_of(amperes);
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
                taken: match tripped && !is_since {
                    true => Taken::UpToTheTrip,
                    false => Taken::WhileRunning,
                },
                of_log: false,
                mended,
            });
        }
        self.case.phase_currents =
            self.asked("phase-currents", flags.phase_currents.as_ref(), |text| {
                PhaseCurrents::read("currents of the phases", text)
            });
        let is_three = flags.phase_currents.is_some();
        self.case.phases = flags.phases.or(is_three.then_some(3));
        self.case
            .worst_phase_counts(meter.unwrap_or(Meter::Unknown));
        if !flags.readings.is_empty() && flags.accuracy.is_none() {
            self.case.assumed.push(Assumed::MeterAsUsual {
                line: None,
                sheet: accuracy_of(&flags.readings[0]).describe(),
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
            let Some(text) = text else { continue };
            let (said, is_since) = since(text);
            let mended = self.mends_before(flag, text, is_since);
            let read = self.taken(flag, text, air(said));
            self.case.air.extend(read.map(|temperature_k| Air {
                label: label.into(),
                place,
                temperature_k,
                mended,
            }));
        }
    }

    pub(super) fn events(&mut self) {
        let flags = self.flags;
        // As in a case file: who tells of a start, or of a load that has one, tells of trips with it.
        let kind = flags.load.as_deref().and_then(spoken);
        let surge = kind.and_then(|(surge, ..)| surge);
        let with_start = surge.unwrap_or(flags.start.is_some());
        for (flag, list) in [("trip", &flags.trips), ("held", &flags.held)] {
            for text in list {
                let read = self.taken(flag, text, event(text, flag == "trip"));
                let setting = Setting::InService { with_start };
                (self.case.events).extend(read.map(|event| Event { setting, ..event }));
            }
        }
    }

    pub(super) fn machine(&mut self) {
        let flags = self.flags;
        let rated_a = self.asked("machine-rating", flags.machine_rating.as_ref(), |text| {
            if let Ok(power) = quantity(text, Dimension::Power) {
                let a = power.value / 230.0;
                return Err(format!(
                    "a current belongs here: the amperes of the same plate; of a heater the power over \
                     its voltage ({a:.1} A at 230 V), of a motor more"
                ));
            }
            let read = quantity(text, Dimension::Current)?;
            above_zero_a(read.value)
        });
        self.case.equipment_rated_a = rated_a;
        let kind = self.asked("load-kind", flags.load.as_ref(), |text| {
            let known = LOAD_KINDS.iter().map(|(name, _)| *name);
            spoken(text).ok_or_else(|| near_and_known(text, known))
        });
        if let Some((surge, waveform, by_voltage)) = kind {
            self.case.has_start = surge;
            self.case.waveform = waveform;
            self.case.by_voltage = by_voltage;
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

/// One of two times, s; its unit may be said with the other: `10 to 20 min`.
fn time_s(text: &str, both: &str) -> Result<f64, String> {
    let unit = both
        .trim_end_matches('.')
        .rsplit(' ')
        .next()
        .unwrap_or_default();
    let read = read_time(text).or_else(|e| read_time(&format!("{text} {unit}")).map_err(|_| e));
    read.map(|time| time.value)
        .map_err(|e| format!("{}; {}", e.found, e.help))
}

/// `after 8.3 min from cold`, `between 10 and 20 min`; `after` and `from ...` may be left out.
pub(super) fn event(text: &str, tripped: bool) -> Result<Event, String> {
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
    if tripped && ["never", "no", "none"].contains(&time) {
        return Err("what has not tripped is told by how long it held: --held \"8 h\"".into());
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
    let between = time.strip_prefix("between ").unwrap_or(time);
    let two = [" and ", " to "].iter().find_map(|w| between.split_once(w));
    let outcome = if let (true, Some((from, to))) = (tripped, two) {
        let [from_s, to_s] = [from, to].map(|t| time_s(t, between));
        let (from_s, to_s) = (from_s?, to_s?);
        if from_s >= to_s {
            return Err("the earlier time belongs first: \"between 10 min and 20 min\"".into());
        }
        Outcome::TrippedWithin { from_s, to_s }
    } else if tripped && ["not known", "unknown"].contains(&time) {
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
        mended: 0,
    })
}

#[cfg(test)]
mod tests {
    use crate::evidence::{Case, Flags, Meter, Outcome, Setting, from_flags, read_text};

    fn of(change: impl FnOnce(&mut Flags)) -> Result<Case, String> {
        let mut flags = Flags {
            rating: "10 A".into(),
            trips: vec!["after 8 min".into()],
            ..Flags::default()
        };
        change(&mut flags);
        from_flags(&flags).map_err(|problems| problems.join("\n"))
    }

    #[test]
    fn a_trip_between_two_times_is_understood() {
        for said in [
            "between 10 and 20 min",
            "10 to 20 min",
            "after 10 min to 20 min",
            "between 600 s and 20 min",
        ] {
            let case = of(|f| f.trips = vec![said.into()]).unwrap_or_else(|e| panic!("{e}"));
            let Outcome::TrippedWithin { from_s, to_s } = case.events[0].outcome else {
                panic!("{said}: {:?}", case.events[0]);
            };
            assert_eq!((from_s, to_s), (600.0, 1200.0), "{said}");
        }
        let wrong = of(|f| f.trips = vec!["20 to 10 min".into()]);
        assert!(wrong.is_err_and(|e| e.contains("the earlier time")));
    }

    #[test]
    fn loads_have_the_names_that_people_give_them() {
        let kind =
            |said: &str| of(|f| f.load = Some(said.into())).map(|c| (c.has_start, c.by_voltage));
        let [motor, heater] = [Ok((Some(true), Some(-1))), Ok((Some(false), Some(1)))];
        for said in ["motor", "Pump", "a compressor"] {
            assert_eq!(kind(said), motor, "{said}");
        }
        for said in ["heater", "oven", "a dimmed heater"] {
            assert_eq!(kind(said), heater, "{said}");
        }
        assert_eq!(kind("DC"), Ok((None, None)));
        assert!(kind("abcdcba").is_err_and(|e| e.contains("known: motor")));
    }

    /// As in a case file, and in an interview, which writes one.
    #[test]
    fn a_start_belongs_to_the_trips_of_flags_as_to_those_of_a_file() {
        let started = |case: &Case| match case.events[0].setting {
            Setting::InService { with_start } => (case.has_start, with_start),
            ref other => panic!("{other:?}"),
        };
        for (kind, start, with_start) in [
            (None, false, false),
            (None, true, true),
            (Some("motor"), false, true),
            (Some("motor"), true, true),
            (Some("heater"), false, false),
        ] {
            let flags = of(|f| {
                f.load = kind.map(Into::into);
                f.start = start.then(|| "70 A for 8 s".into());
            })
            .unwrap_or_else(|e| panic!("{e}"));
            let mut text = "format = 1\nkind = \"case\"\ntitle = \"lathe\"\n\
                [protector]\nrating = \"10 A\"\n[machine]\nname = \"lathe\"\n"
                .to_owned();
            text += &kind.map_or(String::new(), |kind| format!("load = \"{kind}\"\n"));
            if start {
                text += "[start]\npeak = \"70 A\"\nduration = \"8 s\"\n";
            }
            text += "[[trip]]\nafter = \"8 min\"\n";
            let file = read_text("lathe.toml", &text).unwrap_or_else(|e| panic!("{e}"));
            assert_eq!(started(&flags), started(&file), "{kind:?} {start}");
            assert_eq!(started(&flags).1, with_start, "{kind:?} {start}");
        }
    }

    #[test]
    fn a_trip_that_never_came_is_a_time_that_it_held() {
        let said = of(|f| f.trips = vec!["never".into()]);
        assert!(said.is_err_and(|e| e.contains("--held \"8 h\"")));
    }

    /// Half an ampere and 2 % of seven, even within that; not five amperes.
    #[test]
    fn whole_amperes_were_rounded() {
        let u = |reading: &str| {
            let case = of(|f| f.readings = vec![reading.into()]).unwrap_or_else(|e| panic!("{e}"));
            case.readings[0].current_a.standard_uncertainty
        };
        let expected = ((0.02 * 7.0 + 0.5) / 3f64.sqrt()).hypot(0.01 * 7.0);
        assert!((u("7 A") - expected).abs() < 1e-12, "{}", u("7 A"));
        let digits = ((0.02 * 7.0 + 0.05) / 3f64.sqrt()).hypot(0.01 * 7.0);
        assert!((u("7.00 A") - digits).abs() < 1e-12, "{}", u("7.00 A"));
    }

    /// The worst pole is what trips a part.
    #[test]
    fn the_greatest_of_the_phases_counts_as_a_reading() {
        let case = |readings: &[&str]| {
            of(|f| {
                f.phase_currents = Some("9.1 A, 7.0 A, 9.9 A".into());
                f.meter = Some("true RMS".into());
                f.readings = readings.iter().map(|r| (*r).to_owned()).collect();
            })
            .unwrap_or_else(|e| panic!("{e}"))
        };
        let [greatest] = &case(&[]).readings[..] else {
            panic!("one reading")
        };
        assert!((greatest.current_a.value - 9.9).abs() < 1e-9);
        assert_eq!(greatest.meter, Meter::TrueRms);
        assert_eq!(case(&["9.1 A"]).readings.len(), 2);
        assert_eq!(case(&["9.9 A"]).readings.len(), 1);
    }

    #[test]
    fn what_is_printed_is_refused_with_the_way() {
        let rating = |text: &str| of(|f| f.rating = text.into()).err().unwrap_or_default();
        assert!(rating("C16").contains("--rating \"16 A\" --instantaneous C"));
        assert!(rating("7-10 A").contains("--rating \"10 A\""));
        let both = of(|f| {
            f.rating = "7-10 A".into();
            f.setting = Some("9 A".into());
        });
        assert_eq!(both.err().map(|e| e.lines().count()), Some(1));
        assert_eq!(rating("1e-1 A"), "");
        let class = of(|f| f.limits = Some("class10".into()))
            .err()
            .unwrap_or_default();
        assert!(
            class.contains("did you mean \"motor class 10\"?"),
            "{class}"
        );
        let watts = of(|f| f.machine_rating = Some("2.8 kW".into()))
            .err()
            .unwrap_or_default();
        assert!(watts.contains("12.2 A at 230 V"), "{watts}");
    }
}
