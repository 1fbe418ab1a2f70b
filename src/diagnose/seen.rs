//! The evidence of a case, line by line, with what it says.

use super::record::{EvidencePoint, State};
use crate::evidence::{AirPlace, Case, Event, Mend, Meter, Outcome, Setting, Unit, Waveform};
use crate::physics::constants::ZERO_CELSIUS_K;
use serde::{Deserialize, Serialize};

/// One piece of evidence.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Evidence {
    /// The line as the case has it.
    pub label: String,
    /// What it says.
    #[serde(flatten)]
    pub says: Says,
}

/// What a piece of evidence says.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Says {
    /// A reading of the running current.
    Current {
        /// A.
        current_a: f64,
        /// Standard uncertainty, A.
        uncertainty_a: f64,
        /// Over the rating.
        over_rated: f64,
        /// With what.
        meter: Meter,
        /// Shape of the current.
        waveform: Waveform,
    },
    /// The machine's own plate.
    Plate {
        /// A.
        rated_a: f64,
        /// Over the rating.
        over_rated: f64,
        /// What the machine was surely read to draw over it, where that is more.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        drawn: Option<f64>,
    },
    /// A temperature of the air.
    Air {
        /// Where.
        place: AirPlace,
        /// degC.
        temperature_c: f64,
        /// Above the reference air, K.
        above_reference_k: f64,
    },
    /// A start.
    Start {
        /// RMS current, A.
        peak_a: f64,
        /// s.
        duration_s: f64,
    },
    /// Currents of all phases.
    Phases {
        /// The least, A.
        least_a: f64,
        /// The greatest, A.
        greatest_a: f64,
    },
    /// Whether it hums without starting.
    Hums {
        /// Whether it does.
        hums: bool,
    },
    /// It goes on and off by itself.
    Cycles {
        /// s
        on_s: f64,
        /// s
        off_s: f64,
    },
    /// A drop across the closed protector.
    Drop {
        /// V.
        voltage_v: f64,
        /// A.
        current_a: f64,
        /// Over the drop of a sister.
        over_sister: Option<f64>,
    },
    /// Temperatures of both terminals.
    Terminals {
        /// degC.
        hotter_c: f64,
        /// degC.
        other_c: f64,
    },
    /// The supply, V.
    Supply {
        /// What the machine is made for.
        nominal_v: Option<f64>,
        /// With the machine at rest.
        at_rest_v: Option<f64>,
        /// While it runs.
        running_v: Option<f64>,
    },
    /// Something was mended, and nothing else changed.
    Mended {
        /// What.
        what: Mend,
    },
    /// A trip, or a time without.
    Event {
        /// Which protector.
        unit: Unit,
        /// Where.
        load: Load,
        /// What happened.
        #[serde(flatten)]
        outcome: Happened,
        /// How often alike.
        times: u32,
    },
}

/// Under what an event happened.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "place", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Load {
    /// On a bench.
    Bench {
        /// A.
        current_a: f64,
    },
    /// Under a recorded current.
    Recorded,
    /// On the machine.
    InService,
}

/// What happened.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "happened", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Happened {
    /// It tripped.
    Tripped {
        /// After this, s.
        after_s: f64,
    },
    /// It tripped at some time.
    TrippedWithin {
        /// Not before, s.
        from_s: f64,
        /// Not after, s; `None`: nobody knows.
        to_s: Option<f64>,
    },
    /// It held.
    Held {
        /// For this, s.
        for_s: f64,
    },
}

/// Every piece of evidence of a case, in its order.
pub(super) fn evidence(case: &Case) -> Vec<Evidence> {
    let celsius = |k: f64| k - ZERO_CELSIUS_K;
    let mut out = Vec::new();
    let mut line = |label: &str, says: Says| {
        out.push(Evidence {
            label: label.into(),
            says,
        });
    };
    for r in &case.readings {
        let says = Says::Current {
            current_a: r.current_a.value,
            uncertainty_a: r.current_a.standard_uncertainty,
            over_rated: r.current_a.value / case.nameplate.rated_current_a,
            meter: r.meter,
            waveform: case.waveform,
        };
        line(&r.label, says);
    }
    if let Some(rated_a) = case.equipment_rated_a {
        let over_rated = rated_a / case.nameplate.rated_current_a;
        let says = Says::Plate {
            rated_a,
            over_rated,
            drawn: case.drawn_over_its_plate(),
        };
        line("the machine's plate", says);
    }
    for a in &case.air {
        let says = Says::Air {
            place: a.place,
            temperature_c: celsius(a.temperature_k.value),
            above_reference_k: a.temperature_k.value - case.nameplate.reference_ambient_k,
        };
        line(&a.label, says);
    }
    if let Some(s) = &case.start {
        let says = Says::Start {
            peak_a: s.peak_a.value,
            duration_s: s.duration_s.value,
        };
        line(&s.label, says);
    }
    if let Some(p) = &case.phase_currents {
        let greatest_a = p.each_a.iter().copied().fold(0.0, f64::max);
        let least_a = p.least_over_greatest() * greatest_a;
        line(
            &p.label,
            Says::Phases {
                least_a,
                greatest_a,
            },
        );
    }
    if let Some(hums) = case.hums {
        line("the machine", Says::Hums { hums });
    }
    if let Some(c) = &case.cycles {
        let (on_s, off_s) = (c.on_s, c.off_s);
        line(&c.label, Says::Cycles { on_s, off_s });
    }
    for d in &case.drops {
        let says = Says::Drop {
            voltage_v: d.voltage_v.value,
            current_a: d.current_a.value,
            over_sister: d.sister_v.map(|s| d.voltage_v.value / s.value),
        };
        line(&d.label, says);
    }
    if let Some(t) = &case.terminals {
        let says = Says::Terminals {
            hotter_c: celsius(t.hotter_k.value),
            other_c: celsius(t.other_k.value),
        };
        line(&t.label, says);
    }
    if let Some(s) = &case.supply {
        let says = Says::Supply {
            nominal_v: s.nominal_v,
            at_rest_v: s.at_rest_v.map(|v| v.value),
            running_v: s.running_v.map(|v| v.value),
        };
        line(&s.label, says);
    }
    // What came of a mend stands behind it.
    for done in 0..=case.mended.len() {
        let mended = done.checked_sub(1).map(|k| &case.mended[k]);
        if let Some(m) = mended {
            line(&m.label, Says::Mended { what: m.what });
        }
        for e in case.events.iter().filter(|e| e.mended == done) {
            line(&e.label, event(e));
        }
    }
    out
}

fn event(e: &Event) -> Says {
    Says::Event {
        unit: e.unit,
        load: match &e.setting {
            Setting::Bench { current_a } => Load::Bench {
                current_a: current_a.value,
            },
            Setting::Recorded(_) => Load::Recorded,
            Setting::InService { .. } => Load::InService,
        },
        outcome: happened(e),
        times: e.times,
    }
}

/// What happened in an event.
pub(super) fn happened(e: &Event) -> Happened {
    let under_load = |s: f64| (s - e.idle_s()).max(0.0);
    match e.outcome {
        Outcome::Tripped { after_s } => Happened::Tripped {
            after_s: under_load(after_s.value),
        },
        Outcome::TrippedWithin { from_s, to_s } => Happened::TrippedWithin {
            from_s: under_load(from_s),
            to_s: Some(under_load(to_s)).filter(|t| t.is_finite()),
        },
        Outcome::Held { for_s } => Happened::Held {
            for_s: under_load(for_s),
        },
    }
}

/// Events of this part as points on the characteristic; in service at the current that now seems
/// true.
pub(super) fn points(case: &Case, state: &State) -> Vec<EvidencePoint> {
    let point = |e: &Event| {
        let (current_a, current_uncertainty_a) = match &e.setting {
            Setting::Bench { current_a } => (current_a.value, current_a.standard_uncertainty),
            Setting::InService { .. } => {
                let r = state.true_current_a;
                (r.median, (r.high - r.low) / 3.3)
            }
            Setting::Recorded(_) => return None,
        };
        let (time_s, time_relative, held) = match e.outcome {
            Outcome::Tripped { after_s } => (after_s.value, after_s.relative(), false),
            Outcome::TrippedWithin { from_s, to_s } => {
                let low = from_s.max(1e-2 * to_s);
                ((low * to_s).sqrt(), 0.5 * (to_s / low).ln(), false)
            }
            Outcome::Held { for_s } => (for_s, 0.0, true),
        };
        time_s.is_finite().then(|| EvidencePoint {
            label: e.label.clone(),
            current_a,
            current_uncertainty_a,
            time_s,
            time_relative,
            held,
        })
    };
    let own = case.events.iter().filter(|e| e.unit == Unit::ThisPart);
    own.filter_map(point).collect()
}
