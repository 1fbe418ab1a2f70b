//! `[machine]`: what hangs behind the protector.

use super::common::AMPERES;
use crate::diagnostic::Problem;
use crate::document::TableReader;
use crate::evidence::load_kind::LOAD_KINDS;
use crate::evidence::{Cycles, PhaseCurrents, Waveform};
use crate::quantity::Dimension;

/// What is known of the machine.
#[derive(Debug)]
pub(super) struct Machine {
    pub name: String,
    pub rated_a: Option<f64>,
    pub waveform: Waveform,
    pub surge: Option<bool>,
    /// Power of the voltage by which its current goes.
    pub by_voltage: Option<i32>,
    /// Phases that it runs on.
    pub phases: Option<u32>,
    /// Currents of all phases.
    pub phase_currents: Option<PhaseCurrents>,
    /// Whether it hums without starting.
    pub hums: Option<bool>,
    /// How long it is on and off by itself.
    pub cycles: Option<Cycles>,
    /// Where its switch stands when it trips.
    pub position: Option<String>,
}

impl Default for Machine {
    fn default() -> Self {
        Machine {
            name: String::new(),
            rated_a: None,
            waveform: Waveform::Unknown,
            surge: None,
            by_voltage: None,
            phases: None,
            phase_currents: None,
            hums: None,
            cycles: None,
            position: None,
        }
    }
}

pub(super) fn machine(t: &TableReader<'_>) -> Machine {
    const WAVEFORMS: [(&str, Waveform); 3] = [
        ("sine", Waveform::Sine),
        ("distorted", Waveform::Distorted),
        ("unknown", Waveform::Unknown),
    ];
    let name = t.text("name", "\"pug mill\"");
    let rated = t.optional("rated_current", Dimension::Current, AMPERES);
    let load = t.choice("load", &LOAD_KINDS).map(|load| load.value);
    let (usual_surge, usual_form, by_voltage) = load.unwrap_or((None, Waveform::Unknown, None));
    let waveform = t.choice_or("waveform", &WAVEFORMS, usual_form);
    let surge = t.boolean("starts_with_a_surge");
    let phases = t.has("phases").then(|| t.whole("phases", 3)).flatten();
    let phase_currents = told(t, "phase_currents", "\"14 A, 13.8 A, 0 A\"", |text| {
        PhaseCurrents::read("currents of the phases", text)
    });
    let cycles = told(t, "cycles", "\"on 20 s, off 3 min\"", |text| {
        Cycles::read("goes on and off", text)
    });
    let hums = t.boolean("hums_without_starting");
    let position = t.text("position", "\"high heat\"");
    t.finish();
    Machine {
        name: name.map(|n| n.value.trim().to_owned()).unwrap_or_default(),
        rated_a: rated.map(|r| r.value),
        waveform: waveform.unwrap_or(Waveform::Unknown),
        surge: surge.map(|s| s.value).or(usual_surge),
        by_voltage,
        // Whoever reads three currents has three phases.
        phases: phases
            .map(|n| n.value)
            .or(phase_currents.as_ref().map(|_| 3)),
        phase_currents,
        hums: hums.map(|h| h.value),
        cycles,
        position: position.map(|p| p.value.trim().to_owned()),
    }
}

/// A text that is told on a command line in the same way.
fn told<T>(
    t: &TableReader<'_>,
    key: &'static str,
    example: &str,
    read: impl Fn(&str) -> Result<T, String>,
) -> Option<T> {
    let text = t.text(key, example)?;
    let problem = |help| {
        let problem = Problem::new(text.span.clone(), format!("`{key}` cannot be read so"));
        t.report(problem.label("this").help(help));
    };
    read(&text.value).map_err(problem).ok()
}
