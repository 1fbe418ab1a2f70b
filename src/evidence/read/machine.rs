//! `[machine]`: what hangs behind the protector.

use super::common::AMPERES;
use crate::document::TableReader;
use crate::evidence::Waveform;
use crate::evidence::load_kind::LOAD_KINDS;
use crate::quantity::Dimension;

/// What is known of the machine.
#[derive(Debug)]
pub(super) struct Machine {
    pub name: String,
    pub rated_a: Option<f64>,
    pub waveform: Waveform,
    pub surge: Option<bool>,
    /// Phases that it runs on.
    pub phases: Option<u32>,
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
            phases: None,
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
    let (usual_surge, usual_form) = load.unwrap_or((None, Waveform::Unknown));
    let waveform = t.choice_or("waveform", &WAVEFORMS, usual_form);
    let surge = t.boolean("starts_with_a_surge");
    let phases = t.has("phases").then(|| t.whole("phases", 3)).flatten();
    let position = t.text("position", "\"high heat\"");
    t.finish();
    Machine {
        name: name.map(|n| n.value.trim().to_owned()).unwrap_or_default(),
        rated_a: rated.map(|r| r.value),
        waveform: waveform.unwrap_or(Waveform::Unknown),
        surge: surge.map(|s| s.value).or(usual_surge),
        phases: phases.map(|n| n.value),
        position: position.map(|p| p.value.trim().to_owned()),
    }
}
