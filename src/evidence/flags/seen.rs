//! What was seen at a machine in a few words of a command line: signs, a start, the supply, a drop,
//! the terminals.

use super::Gathered;
use super::measured::{quantity, temperature};
use super::mended::since;
use super::near_and_known;
use crate::diagnostic::nearest;
use crate::evidence::read::place::TERMINAL_K;
use crate::evidence::read::protector::MARKING;
use crate::evidence::{
    Accuracy, Cycles, Drop, Joints, Measured, Sign, StartSeen, Supply, Terminals, last_digit,
    read_time,
};
use crate::family::Assumed;
use crate::quantity::Dimension;

/// How well an inrush mode catches a start, relative (common practice, no source).
const INRUSH: f64 = 0.15;

impl Gathered<'_> {
    pub(super) fn seen(&mut self) {
        let flags = self.flags;
        for text in &flags.signs {
            let read = self.taken("sign", text, sign(text));
            self.case.signs.extend(read);
        }
        self.case.marking_agrees = self.asked("marking", flags.marking.as_ref(), marking);
        self.case.joints = self.asked("joints", flags.joints.as_ref(), Joints::read);
        let read = self.asked("start", flags.start.as_ref(), |text| {
            written(start(text), "\"50 A for 0.7 s\"")
        });
        if let Some(start) = read {
            let line = start.label.clone();
            self.case.assumed.push(Assumed::StartAsUsual { line });
            self.case.has_start.get_or_insert(true);
            self.case.start = Some(start);
        }
        self.case.hums = flags.hums.then_some(true);
        self.case.cycles = self.asked("cycles", flags.cycles.as_ref(), |text| {
            Cycles::read("goes on and off", text)
        });
        let trip = self.case.cycles.as_ref().map(Cycles::trip);
        if self.case.trips_in_service().next().is_none() {
            self.case.events.extend(trip);
        }
        self.case.supply = self.asked("supply", flags.supply.as_ref(), |text| {
            written(supply(text), "\"196 V running of 230 V\"")
        });
        let read = self.measured_joint("drop", flags.drop.as_ref(), |text, mended| {
            let way = "\"123 mV at 13.6 A\" or \"123 mV at 13.6 A, sister 72 mV\"";
            written(drop(text), way).map(|d| Drop { mended, ..d })
        });
        self.case.drops.extend(read);
        let read = self.measured_joint("terminals", flags.terminals.as_ref(), |text, mended| {
            let read = written(terminals(text), "\"58 degC and 31 degC\"");
            read.map(|t| Terminals { mended, ..t })
        });
        self.case.terminals = read;
    }

    /// What was measured at the joints, perhaps after they were mended.
    fn measured_joint<T>(
        &mut self,
        flag: &str,
        text: Option<&String>,
        read: impl Fn(&str, usize) -> Result<T, String>,
    ) -> Option<T> {
        let text = text?;
        let (said, is_since) = since(text);
        let mended = self.mends_before(flag, text, is_since);
        self.taken(flag, text, read(said, mended))
    }
}

/// Whether it agrees with the drawing.
fn marking(text: &str) -> Result<bool, String> {
    let said = text.trim().to_lowercase();
    let named = MARKING.iter().find(|(name, _)| name.starts_with(&said));
    let known = MARKING.iter().map(|(name, _)| *name);
    let named = named.filter(|_| !said.is_empty());
    named
        .map(|n| n.1)
        .ok_or_else(|| near_and_known(&said, known))
}

/// How it is written, beside what is wrong with it.
fn written<T>(read: Result<T, String>, way: &str) -> Result<T, String> {
    read.map_err(|found| format!("{found}; write it as {way}"))
}

fn sign(text: &str) -> Result<Sign, String> {
    let key = text.trim().to_lowercase().replace([' ', '-'], "_");
    if Sign::is_denied(&key) {
        return Err("that is no sign: leave the flag out where there is none".into());
    }
    let is_said = |name: &str| key.contains(name) || key == "smoke" && name == "smell";
    if let Some((_, sign)) = Sign::NAMES.iter().find(|(name, _)| is_said(name)) {
        return Ok(*sign);
    }
    let names = || Sign::NAMES.iter().map(|(name, _)| *name);
    let near = nearest(&key, names()).map(|n| format!("did you mean \"{}\"? ", spaced(n)));
    let known: Vec<String> = names().map(spaced).collect();
    Err(format!(
        "no sign; {}known: {}",
        near.unwrap_or_default(),
        known.join(", ")
    ))
}

fn spaced(name: &str) -> String {
    name.replace('_', " ")
}

fn halves<'t>(text: &'t str, between: &str) -> Result<(&'t str, &'t str), String> {
    let (one, other) = text
        .split_once(between)
        .ok_or_else(|| format!("\"{}\" is missing", between.trim()))?;
    Ok((one.trim(), other.trim()))
}

fn above_zero(text: &str, dimension: Dimension) -> Result<Measured, String> {
    let read = quantity(text, dimension)?;
    match read.value > 0.0 {
        true => Ok(read),
        false => Err("a number above zero belongs here".into()),
    }
}

fn start(text: &str) -> Result<StartSeen, String> {
    let (peak, duration) = halves(text, " for ")?;
    let peak = above_zero(peak, Dimension::Current)?;
    let time = read_time(duration).map_err(|e| format!("{}; {}", e.found, e.help))?;
    if !(time.value > 0.0 && time.value <= 120.0) {
        return Err("a start lasts seconds".into());
    }
    let relative =
        |m: Measured| Measured::new(m.value, m.standard_uncertainty.max(INRUSH * m.value));
    Ok(StartSeen {
        label: format!("start {text}"),
        peak_a: relative(peak),
        duration_s: relative(time),
    })
}

/// A voltage as a meter shows it.
fn volts(text: &str) -> Result<Measured, String> {
    let mut read = above_zero(text, Dimension::Voltage)?;
    if read.standard_uncertainty == 0.0 {
        let digit = last_digit(text, Dimension::Voltage).unwrap_or(0.0);
        read.standard_uncertainty = Accuracy::VOLTMETER.standard_uncertainty(read.value, digit);
    }
    Ok(read)
}

/// `229 V at rest, 196 V running of 230 V`, or less of it; what is neither at rest nor running is
/// running.
fn supply(text: &str) -> Result<Supply, String> {
    let (measured, nominal) = match text.split_once(" of ") {
        Some((measured, nominal)) => (
            measured,
            Some(above_zero(nominal.trim(), Dimension::Voltage)?),
        ),
        None => (text, None),
    };
    let mut supply = Supply {
        label: format!("supply {text}"),
        nominal_v: nominal.map(|v| v.value),
        at_rest_v: None,
        running_v: None,
    };
    for part in measured.split(',').map(str::trim) {
        match part.strip_suffix("at rest") {
            Some(rest) => supply.at_rest_v = Some(volts(rest.trim())?),
            None => supply.running_v = Some(volts(part.trim_end_matches("running").trim())?),
        }
    }
    if let Some(why) = supply.is_of_another_pair() {
        return Err(why);
    }
    if nominal.is_none() && (supply.at_rest_v.is_none() || supply.running_v.is_none()) {
        return Err("one voltage says nothing alone".into());
    }
    Ok(supply)
}

fn drop(text: &str) -> Result<Drop, String> {
    let (own, sister) = match text.split_once(", sister ") {
        Some((own, sister)) => (own, Some(volts(sister)?)),
        None => (text, None),
    };
    let (voltage, current) = halves(own, " at ")?;
    let mut current_a = above_zero(current, Dimension::Current)?;
    if current_a.standard_uncertainty == 0.0 {
        current_a.standard_uncertainty = 0.02 * current_a.value;
    }
    let drop = Drop {
        label: format!("drop {text}"),
        voltage_v: volts(voltage)?,
        current_a,
        sister_v: sister,
        mended: 0,
    };
    match drop.is_of_no_closed_part() {
        Some(why) => Err(why),
        None => Ok(drop),
    }
}

fn terminals(text: &str) -> Result<Terminals, String> {
    let (one, other) = halves(text, " and ")?;
    let allowed = "a terminal lies between -60 degC and 600 degC";
    let [one, other] = [one, other].map(|t| temperature(t, 873.15, allowed, TERMINAL_K));
    let (one, other) = (one?, other?);
    let (hotter_k, other_k) = match one.value >= other.value {
        true => (one, other),
        false => (other, one),
    };
    Ok(Terminals {
        label: format!("terminals {text}"),
        hotter_k,
        other_k,
        mended: 0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::{Flags, from_flags};

    fn flags() -> Flags {
        Flags {
            rating: "16 A".into(),
            readings: vec!["11.3 A".into()],
            signs: vec!["Smell".into(), "trips at once cold".into()],
            start: Some("50 A for 0.7 s".into()),
            supply: Some("196 V running of 230 V".into()),
            drop: Some("123 mV at 11.3 A, sister 72 mV".into()),
            terminals: Some("31 degC and 58 degC".into()),
            ..Flags::default()
        }
    }

    #[test]
    fn what_was_seen_is_part_of_the_case() {
        let case = from_flags(&flags()).expect("a case");
        assert_eq!(case.signs, [Sign::Smell, Sign::TripsAtOnceCold]);
        let start = case.start.expect("a start");
        assert!((start.peak_a.value - 50.0).abs() < 1e-9 && start.duration_s.value == 0.7);
        let supply = case.supply.expect("a supply");
        assert_eq!(supply.nominal_v, Some(230.0));
        assert_eq!(supply.running_v.map(|v| v.value), Some(196.0));
        let sister = case.drops[0].sister_v.expect("a sister");
        assert!((sister.value - 0.072).abs() < 1e-12);
        let terminals = case.terminals.expect("terminals");
        assert!((terminals.hotter_k.value - 331.15).abs() < 1e-9);
        // One that burns is one all the same; air is no matter there.
        let burns = super::terminals("180 degC and 60 degC").expect("terminals");
        assert!((burns.hotter_k.value - 453.15).abs() < 1e-9);
        let glows = super::terminals("700 degC and 60 degC").unwrap_err();
        assert!(glows.contains("a terminal lies between"), "{glows}");
    }

    #[test]
    fn no_smell_is_no_sign() {
        for said in [
            "no smell",
            "never trips at once cold",
            "Ohne Geruch",
            "no_soot",
        ] {
            assert!(sign(said).is_err(), "{said}");
        }
        assert_eq!(sign("does not latch cold"), Ok(Sign::LatchDoesNotHold));
    }

    #[test]
    fn what_was_found_at_the_joints_and_the_marking_is_part_of_the_case() {
        let mut flags = flags();
        (flags.joints, flags.marking) = (Some("no marks".into()), Some("differs".into()));
        let case = from_flags(&flags).expect("a case");
        assert_eq!(case.joints, Some(Joints::NoMarks));
        assert_eq!(case.marking_agrees, Some(false));
    }

    #[test]
    fn every_problem_of_what_was_seen_names_its_flag() {
        let problems = from_flags(&Flags {
            signs: vec!["smel".into()],
            start: Some("50 A".into()),
            supply: Some("196 V".into()),
            drop: Some("123 mV".into()),
            terminals: Some("58 degC".into()),
            ..flags()
        })
        .expect_err("problems");
        for flag in ["sign", "start", "supply", "drop", "terminals"] {
            let said = problems
                .iter()
                .any(|p| p.starts_with(&format!("--{flag} \"")));
            assert!(said, "{flag}: {problems:?}");
        }
        assert!(
            problems[0].contains("did you mean \"smell\"?"),
            "{problems:?}"
        );
    }
}
