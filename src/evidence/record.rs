//! A whole case.

use super::{
    Accuracy, Air, Before, Event, FromLog, JAW, LogFindings, Measured, Missing, Outcome, Setting,
    Unit, read_time,
};
use super::{Joints, Mended, Sign};
use crate::family::{Assumed, LeftOut, Nameplate};
use crate::quantity::{Dimension, Quantity};
use serde::{Deserialize, Serialize};

/// What a meter shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Meter {
    /// True RMS whatever the waveform.
    TrueRms,
    /// Rectified average, marked as if the current were a sine: low on drives, dimmers, switched
    /// supplies.
    AverageResponding,
    /// Not known which of the two.
    Unknown,
}

impl Meter {
    /// The kind that a person names.
    pub fn spoken(said: &str) -> Option<Meter> {
        match said.trim().to_lowercase().replace('-', " ").as_str() {
            "true rms" | "trms" | "rms" => Some(Meter::TrueRms),
            "unknown" => Some(Meter::Unknown),
            mean if mean.starts_with("average") || mean == "mean" => Some(Meter::AverageResponding),
            _ => None,
        }
    }
}

/// Shape of the current.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Waveform {
    /// A sine or direct current: every meter is right.
    Sine,
    /// A drive, a dimmer, a switched supply.
    Distorted,
    /// Not known.
    Unknown,
}

/// When a current was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taken {
    /// Right up to the trip.
    UpToTheTrip,
    /// While the machine ran, no trip seen.
    WhileRunning,
    /// After a reset.
    AfterReset,
}

/// A reading of the running current.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Reading {
    /// The line as the case has it.
    pub label: String,
    /// A.
    pub current_a: Measured,
    /// With what.
    pub meter: Meter,
    /// When.
    pub taken: Taken,
    /// Computed by the program from a log, whose course an event follows: nobody can take it again.
    pub of_log: bool,
    /// How many mends of the case had been done by then.
    pub mended: usize,
}

impl Reading {
    /// A true-RMS reading right up to the trip, A, with what sheet and jaw of a clamp meter leave
    /// open.
    pub fn true_rms(label: &str, current_a: f64) -> Reading {
        let digit_a = 0.01 * current_a;
        let sheet_a = Accuracy::CLAMP.standard_uncertainty(current_a, digit_a);
        Reading {
            label: label.into(),
            current_a: Measured::new(current_a, sheet_a.hypot(JAW * current_a)),
            meter: Meter::TrueRms,
            taken: Taken::UpToTheTrip,
            of_log: false,
            mended: 0,
        }
    }
}

/// A start that was captured or noted.
#[derive(Debug, Clone, PartialEq)]
pub struct StartSeen {
    /// The line as the case has it.
    pub label: String,
    /// RMS current at the start, A.
    pub peak_a: Measured,
    /// How long until it runs, s.
    pub duration_s: Measured,
}

/// Voltage across the closed protector, wire to wire, under a steady current.
#[derive(Debug, Clone, PartialEq)]
pub struct Drop {
    /// The line as the case has it.
    pub label: String,
    /// V.
    pub voltage_v: Measured,
    /// A.
    pub current_a: Measured,
    /// The same across a sister pole or a twin at the same current, V.
    pub sister_v: Option<Measured>,
    /// How many mends of the case had been done by then.
    pub mended: usize,
}

/// Temperatures of the two terminals under a steady current.
#[derive(Debug, Clone, PartialEq)]
pub struct Terminals {
    /// The line as the case has it.
    pub label: String,
    /// The hotter one, K.
    pub hotter_k: Measured,
    /// The other one, K.
    pub other_k: Measured,
    /// How many mends of the case had been done by then.
    pub mended: usize,
}

/// Currents of all three phases, read one after the other under one load.
#[derive(Debug, Clone, PartialEq)]
pub struct PhaseCurrents {
    /// The line as the case has it.
    pub label: String,
    /// A.
    pub each_a: [f64; 3],
}

impl PhaseCurrents {
    /// `14 A, 13.8 A, 0 A`.
    ///
    /// # Errors
    /// What belongs there.
    pub fn read(label: &str, text: &str) -> Result<PhaseCurrents, String> {
        let amperes = |part: &str| {
            let read = Quantity::read(part.trim(), Dimension::Current).ok()?;
            (read.value_si >= 0.0).then_some(read.value_si)
        };
        let each: Option<Vec<f64>> = text.split(',').map(amperes).collect();
        let each_a: Option<[f64; 3]> = each.and_then(|each| each.try_into().ok());
        match each_a {
            Some(each_a) if each_a.iter().any(|a| *a > 0.0) => Ok(PhaseCurrents {
                label: label.into(),
                each_a,
            }),
            _ => Err(
                "three currents belong here, not all of them none: \"14 A, 13.8 A, 0 A\"".into(),
            ),
        }
    }

    /// The least of them over the greatest.
    pub fn least_over_greatest(&self) -> f64 {
        let least = self.each_a.iter().copied().fold(f64::INFINITY, f64::min);
        least / self.each_a.iter().copied().fold(0.0, f64::max)
    }
}

/// How long a part that closes by itself is on and off in a round, once rounds repeat.
#[derive(Debug, Clone, PartialEq)]
pub struct Cycles {
    /// The line as the case has it.
    pub label: String,
    /// s
    pub on_s: f64,
    /// s
    pub off_s: f64,
}

impl Cycles {
    /// `on 20 s, off 3 min`.
    ///
    /// # Errors
    /// What belongs there.
    pub fn read(label: &str, text: &str) -> Result<Cycles, String> {
        let time_s = |part: &str, word: &str| {
            let told = part.trim().strip_prefix(word)?.trim();
            let time = read_time(told).ok()?;
            (time.value > 0.0 && time.value < 1e6).then_some(time.value)
        };
        let read = text.split_once(',').and_then(|(on, off)| {
            Some(Cycles {
                label: label.into(),
                on_s: time_s(on, "on")?,
                off_s: time_s(off, "off")?,
            })
        });
        read.ok_or_else(|| "two times belong here: \"on 20 s, off 3 min\"".into())
    }

    /// That it trips in service.
    pub(in crate::evidence) fn trip(&self) -> Event {
        Event {
            outcome: Outcome::TrippedWithin {
                from_s: 0.0,
                to_s: f64::INFINITY,
            },
            before: Before::Unknown,
            ..Event::trip_from_cold(&self.label, 1.0)
        }
    }
}

/// Voltage of the supply.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// The line as the case has it.
    pub label: String,
    /// What the machine is made for, V.
    pub nominal_v: Option<f64>,
    /// With the machine at rest, V.
    pub at_rest_v: Option<Measured>,
    /// While it runs, V.
    pub running_v: Option<Measured>,
}

/// Everything known of one case.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Case {
    /// Title.
    pub title: String,
    /// What the case shows, for demonstrations.
    pub shows: String,
    /// The machine, in words.
    pub equipment: String,
    /// What is printed on the protector and its sheet.
    pub nameplate: Nameplate,
    /// Rated current of the machine, A.
    pub equipment_rated_a: Option<f64>,
    /// Whether the protector's marking agrees with the drawing, where somebody looked.
    pub marking_agrees: Option<bool>,
    /// What was found or done at its joints, where somebody looked.
    pub joints: Option<Joints>,
    /// Shape of the current.
    pub waveform: Waveform,
    /// Power of the voltage by which the current of the machine goes, where its kind is known: 1 of
    /// a heater, -1 of what keeps its power (a motor, a drive).
    pub by_voltage: Option<i32>,
    /// Whether the machine starts with a surge (a motor, lamps).
    pub has_start: Option<bool>,
    /// Phases that the machine runs on, where somebody says.
    pub phases: Option<u32>,
    /// Currents of all of them.
    pub phase_currents: Option<PhaseCurrents>,
    /// Whether it hums without starting, where somebody listened.
    pub hums: Option<bool>,
    /// How long it is on and off by itself.
    pub cycles: Option<Cycles>,
    /// Readings of the running current.
    pub readings: Vec<Reading>,
    /// A start that was captured.
    pub start: Option<StartSeen>,
    /// Air.
    pub air: Vec<Air>,
    /// Trips and times without, in their order.
    pub events: Vec<Event>,
    /// Voltage across the closed protector.
    pub drops: Vec<Drop>,
    /// Temperatures of the terminals.
    pub terminals: Option<Terminals>,
    /// Signs that come before every number.
    pub signs: Vec<Sign>,
    /// Voltage of the supply.
    pub supply: Option<Supply>,
    /// What recorded logs have shown; their currents and trips stand among `readings` and `events`.
    pub logs: Vec<LogFindings>,
    /// Age, years.
    pub age_years: Option<f64>,
    /// Overload trips so far.
    pub trips_so_far: Option<u32>,
    /// Whether it has cleared a short circuit.
    pub short_circuit: Option<bool>,
    /// What was mended, in its order.
    pub mended: Vec<Mended>,
    /// What is not at hand: no step needs it.
    pub missing: Vec<Missing>,
    /// What was assumed because nothing was said.
    pub assumed: Vec<Assumed>,
}

impl Case {
    /// A case of which nothing is known but the nameplate.
    pub fn of(nameplate: Nameplate) -> Case {
        Case {
            title: String::new(),
            shows: String::new(),
            equipment: String::new(),
            nameplate,
            equipment_rated_a: None,
            marking_agrees: None,
            joints: None,
            waveform: Waveform::Unknown,
            by_voltage: None,
            has_start: None,
            phases: None,
            phase_currents: None,
            hums: None,
            cycles: None,
            readings: Vec::new(),
            start: None,
            air: Vec::new(),
            events: Vec::new(),
            drops: Vec::new(),
            terminals: None,
            signs: Vec::new(),
            supply: None,
            logs: Vec::new(),
            age_years: None,
            trips_so_far: None,
            short_circuit: None,
            mended: Vec::new(),
            missing: Vec::new(),
            assumed: Vec::new(),
        }
    }

    /// With a title and the name of the machine.
    pub fn named(mut self, title: &str, equipment: &str) -> Case {
        self.title = title.into();
        self.equipment = equipment.into();
        self
    }

    /// With a reading of the running current.
    pub fn with_reading(mut self, reading: Reading) -> Case {
        self.readings.push(reading);
        self
    }

    /// With a trip, or a time without; events stand in the order in which they happened.
    pub fn with_event(mut self, event: Event) -> Case {
        self.events.push(event);
        self
    }

    /// With a temperature of the air.
    pub fn with_air(mut self, air: Air) -> Case {
        self.air.push(air);
        self
    }

    /// With a drop across the closed protector.
    pub fn with_drop(mut self, drop: Drop) -> Case {
        self.drops.push(drop);
        self
    }

    /// The worst pole is what trips a part: the greatest current of the phases counts as a reading,
    /// where no other is as high.
    pub(super) fn worst_phase_counts(&mut self, meter: Meter) {
        let Some(phases) = &self.phase_currents else {
            return;
        };
        let greatest_a = phases.each_a.iter().copied().fold(0.0, f64::max);
        let as_high = |r: &Reading| r.current_a.value >= 0.98 * greatest_a;
        if !self.readings.iter().any(as_high) {
            self.readings.push(Reading {
                label: format!("greatest of the {}", phases.label),
                meter,
                taken: Taken::WhileRunning,
                ..Reading::true_rms("", greatest_a)
            });
        }
    }

    /// What was assumed of the case and of its nameplate.
    pub fn all_assumed(&self) -> impl Iterator<Item = &Assumed> {
        self.nameplate.assumed.iter().chain(&self.assumed)
    }

    /// Events of this part on its machine.
    pub fn of_this_part_in_service(&self) -> impl DoubleEndedIterator<Item = &Event> {
        self.events
            .iter()
            .filter(|e| e.unit == Unit::ThisPart && e.is_in_service())
    }

    /// Trips of this part on its machine.
    pub fn trips_in_service(&self) -> impl Iterator<Item = &Event> {
        self.of_this_part_in_service().filter(|e| e.is_trip())
    }

    /// Voltage of the supply while the machine runs (at rest, where nothing else is known) over
    /// what the machine is made for (that at rest, where nothing else is known).
    pub fn supply_over_nominal(&self) -> Option<f64> {
        let supply = self.supply.as_ref()?;
        let at_rest = supply.at_rest_v.map(|v| v.value);
        let nominal_v = supply.nominal_v.or(at_rest);
        // What is low at rest is no higher under load.
        let volts = supply.running_v.map(|v| v.value).or(at_rest)?;
        Some(volts / nominal_v.filter(|v| *v > 0.0)?)
    }

    /// Whether nothing but bench tests is known: then no machine is in question.
    pub fn is_bench_only(&self) -> bool {
        !self.events.is_empty()
            && !self.events.iter().any(Event::is_in_service)
            && self.readings.is_empty()
            && self.logs.is_empty()
            && self.start.is_none()
    }

    /// Whether this part was tested on a bench.
    pub fn is_tested(&self) -> bool {
        !self.events.iter().all(Event::is_in_service)
    }

    /// Whether it is told how the part was tested or held its machine, and no trip on the machine:
    /// then none is looked for. A motor that stands and hums is at fault all the same.
    pub fn is_told_without_a_trip(&self) -> bool {
        let in_service = || self.events.iter().filter(|e| e.is_in_service());
        let held = in_service().any(|e| e.unit == Unit::ThisPart);
        (self.is_tested() || held && self.trips_so_far.is_none_or(|n| n == 0))
            && !in_service().any(Event::is_trip)
            && self.hums != Some(true)
    }

    /// What the model leaves out that may matter here.
    pub fn not_modelled(&self) -> Vec<LeftOut> {
        let largest_a = |e: &Event| match &e.setting {
            Setting::Bench { current_a } => current_a.value,
            Setting::Recorded(load) => load.largest_a(),
            Setting::InService { .. } => 0.0,
        };
        let read = self.readings.iter().map(|r| r.current_a.value);
        let started = self.start.iter().map(|s| s.peak_a.value);
        let all = read.chain(started).chain(self.events.iter().map(largest_a));
        let plate = &self.nameplate;
        let instantaneous = LeftOut::instantaneous(plate, all.fold(0.0, f64::max));
        instantaneous
            .into_iter()
            .chain(LeftOut::other_rating(plate))
            .chain(plate.resets_itself.then_some(LeftOut::ClosesByItself))
            .collect()
    }

    /// Takes what a log says; its trips are the last of the events. Those that it is too slow to show count where no
    /// other is told: they may be the same.
    pub(super) fn takes(&mut self, log: FromLog) {
        let is_told = log.findings.too_slow() && self.trips_in_service().next().is_some();
        self.readings.extend(log.readings);
        self.air.extend(log.air);
        self.assumed.extend(log.assumed);
        self.logs.push(log.findings);
        self.events
            .extend(log.events.into_iter().filter(|_| !is_told));
    }
}
