//! What a scenario asks of its instantaneous element.

use super::{Angles, HORIZON_S, Poles, angles, flight, rms_pick_up_a};
use crate::device::{Device, Magnet};
use crate::physics::closing_current::ClosingCurrent;
use crate::predict::case::Case;
use crate::predict::curve::point;
use crate::predict::outcome::{
    BandCheck, CableAnswer, ClosingAnswer, ClosingLaw, FirstToAct, MagneticAnswer, OpeningTime,
    Release, Trip,
};
use crate::predict::{PredictError, parallel};
use crate::scenario::{Before, Cable, Closing, Scenario};
use crate::standards::Band;
use std::f64::consts::{SQRT_2, TAU};

/// Frequency where the scenario's current has none, Hz.
const USUAL_HZ: f64 = 50.0;
/// Currents of the table of opening times, over the rms pick-up.
const OPENING: [f64; 18] = [
    0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 1.0, 1.05, 1.1, 1.2, 1.35, 1.5, 1.75, 2.0, 2.5, 3.0, 4.0, 5.0,
];
/// Halvings of the length of a cable.
const HALVINGS: usize = 20;

/// What one instantaneous element does, in few numbers.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PickUp {
    /// Smallest alternating current that releases it, rms, A; `None`: none does.
    pub rms_a: Option<f64>,
    /// Chance that it opens at a closing of the scenario.
    pub closings_share: f64,
    /// Whether it holds at the lower end of its band.
    pub holds_lower: bool,
    /// Whether it releases at the upper end.
    pub releases_upper: bool,
}

/// The same of the element of a scenario; `None`: it has none, or its iron forbids any motion.
pub fn pick_up(scenario: &Scenario) -> Option<PickUp> {
    let (asked, start_a) = Asked::of(scenario)?;
    let closing = asked.closing(&scenario.closing?);
    let band = asked.magnet.built.band.map(|band| asked.band(band));
    Some(PickUp {
        rms_a: rms_pick_up_a(&asked.magnet, start_a, asked.frequency_hz),
        closings_share: closing.probability,
        holds_lower: band.as_ref().is_some_and(|band| band.holds_lower),
        releases_upper: band.is_some_and(|band| band.releases_upper),
    })
}

/// The answers of the instantaneous element; `None` where there is none. `trip` is what the strip
/// does.
pub(in crate::predict) fn magnetic(
    scenario: &Scenario,
    device: &Device,
    case: &Case,
    trip: &Trip,
    with_table: bool,
) -> Result<Option<MagneticAnswer>, PredictError> {
    let (Some((asked, _)), Some(closing)) = (Asked::of(scenario), scenario.closing) else {
        return Ok(None);
    };
    let (magnet, frequency_hz) = (asked.magnet, asked.frequency_hz);
    let Some(direct) = magnet.direct_currents() else {
        return Ok(None);
    };
    let x_over_r = match closing.current {
        ClosingCurrent::Alternating { x_over_r, .. } => x_over_r,
        _ => 0.0,
    };
    let pick_up_rms_a = rms_pick_up_a(&magnet, direct.start_a, frequency_hz);
    let answer = asked.closing(&closing);
    let cable = match &scenario.cable {
        None => None,
        Some(cable) => {
            let allowed = scenario.strip.allow_extrapolation;
            Some(asked.cable(cable, device, case, allowed)?)
        }
    };
    Ok(Some(MagneticAnswer {
        start_a: direct.start_a,
        static_a: direct.static_a,
        step_a: direct.step_a,
        pick_up_rms_a,
        frequency_hz,
        first: first(&answer, magnet.opening_time_s, trip),
        closing: answer,
        opening: pick_up_rms_a
            .filter(|_| with_table)
            .map_or_else(Vec::new, |a| asked.opening(a, x_over_r, poles(&closing))),
        band: magnet.built.band.map(|band| asked.band(band)),
        cable,
    }))
}

/// Which element acts. A release of the strip counts where it comes before the armature's.
fn first(closing: &ClosingAnswer, opening_s: f64, trip: &Trip) -> FirstToAct {
    let strip_s = match trip {
        Trip::AtOnce(_) => Some(0.0),
        Trip::After(Release { time_s, .. }) => Some(*time_s),
        _ => None,
    };
    let before = |cleared: Option<f64>| {
        strip_s.is_some_and(|s| cleared.is_none_or(|cleared_s| s + opening_s <= cleared_s))
    };
    let certain = closing.probability >= 1.0;
    if before(closing.earliest_s) {
        FirstToAct::Strip
    } else if certain && !before(closing.latest_s) {
        FirstToAct::Magnetic
    } else if closing.probability > 0.0 && strip_s.is_some() {
        FirstToAct::MagneticOrStrip
    } else if closing.probability > 0.0 {
        FirstToAct::MagneticOrNone
    } else {
        FirstToAct::None
    }
}

/// Whether one element sees the closing, or three a third of a period apart.
fn poles(closing: &Closing) -> Poles {
    match closing.poles {
        3 => Poles::Three,
        _ => Poles::One,
    }
}

struct Asked {
    magnet: Magnet,
    frequency_hz: f64,
    rated_a: f64,
}

impl Asked {
    /// What is asked of the element of a scenario, and the direct current that moves it, A. A
    /// scenario whose iron forbids any motion is refused when it is read.
    fn of(scenario: &Scenario) -> Option<(Asked, f64)> {
        let (built, closing) = (scenario.magnetic?, scenario.closing?);
        let magnet = Magnet {
            built,
            opening_time_s: scenario.release.opening_time_s,
        };
        let asked = Asked {
            magnet,
            frequency_hz: closing.current.frequency_hz().unwrap_or(USUAL_HZ),
            rated_a: scenario.protector.rated_current_a,
        };
        Some((asked, magnet.direct_currents()?.start_a))
    }

    fn alternating(&self, rms_a: f64, x_over_r: f64) -> ClosingCurrent {
        ClosingCurrent::Alternating {
            rms_a,
            frequency_hz: self.frequency_hz,
            x_over_r,
        }
    }

    fn angles(&self, current: &ClosingCurrent, poles: Poles) -> Angles {
        angles(&self.magnet, current, poles, HORIZON_S)
    }

    fn cleared(&self, release_s: Option<f64>) -> Option<f64> {
        release_s.map(|s| s + self.magnet.opening_time_s)
    }

    fn closing(&self, closing: &Closing) -> ClosingAnswer {
        let found = self.angles(&closing.current, poles(closing));
        let (law, size_a, x_over_r) = match closing.current {
            ClosingCurrent::Alternating {
                rms_a, x_over_r, ..
            } => (ClosingLaw::Alternating, rms_a, Some(x_over_r)),
            ClosingCurrent::Direct { current_a, .. } => (ClosingLaw::Direct, current_a, None),
            ClosingCurrent::HalfWave { peak_a, .. } => (ClosingLaw::HalfWave, peak_a, None),
            ClosingCurrent::Lamp { rms_a, .. } => (ClosingLaw::Lamp, rms_a, None),
            ClosingCurrent::Transformer { first_peak_a, .. } => {
                (ClosingLaw::Transformer, first_peak_a, None)
            }
            ClosingCurrent::Capacitor { peak_a, .. } => (ClosingLaw::Capacitor, peak_a, None),
        };
        ClosingAnswer {
            law,
            size_a,
            x_over_r,
            poles: closing.poles,
            probability: found.probability,
            releasing: found.releasing,
            earliest_s: self.cleared(found.earliest_s),
            latest_s: self.cleared(found.latest_s),
        }
    }

    fn opening(&self, pick_up_a: f64, x_over_r: f64, poles: Poles) -> Vec<OpeningTime> {
        let row = |over: &f64| {
            let current_a = over * pick_up_a;
            let found = self.angles(&self.alternating(current_a, x_over_r), poles);
            let direct = ClosingCurrent::Direct {
                current_a,
                time_constant_s: 0.0,
            };
            let flown = flight(&self.magnet, &direct, 0.0, HORIZON_S, &mut |_, _, _| ());
            OpeningTime {
                current_a,
                multiple: current_a / self.rated_a,
                direct_s: self.cleared(flown.release.map(|r| r.time_s)),
                earliest_s: self.cleared(found.earliest_s),
                latest_s: self.cleared(found.latest_s),
                probability: found.probability,
            }
        };
        parallel::map(&OPENING, row, &mut |_| ())
    }

    fn band(&self, band: Band) -> BandCheck {
        let multiples = band.multiples();
        let chance = |multiple: f64| {
            let current = self.alternating(multiple * self.rated_a, 0.0);
            self.angles(&current, Poles::One).probability
        };
        BandCheck {
            band,
            source: Band::SOURCE.into(),
            multiples,
            holds_lower: chance(multiples[0]) <= 0.0,
            releases_upper: chance(multiples[1]) >= 1.0,
        }
    }

    fn cable(
        &self,
        cable: &Cable,
        device: &Device,
        case: &Case,
        allow_extrapolation: bool,
    ) -> Result<CableAnswer, PredictError> {
        let one_pole = |current| Closing { current, poles: 1 };
        let far = |length_m: f64| self.far_fault(cable, length_m);
        let far_fault = self.closing(&one_pole(far(cable.length_m)));
        let cold = case.from(Before::Cold);
        let strip = point(device, &cold, far_fault.size_a, allow_extrapolation)?;
        let sure = |length_m: f64| self.angles(&far(length_m), Poles::One).probability >= 1.0;
        Ok(CableAnswer {
            length_m: cable.length_m,
            charging: self.closing(&one_pole(self.charging(cable))),
            far_fault,
            far_fault_strip: strip.time,
            sure_up_to_m: longest(cable.length_m, sure),
        })
    }

    /// The current of a fault at the end: supply over the impedance of source and both conductors.
    fn far_fault(&self, cable: &Cable, length_m: f64) -> ClosingCurrent {
        let resistance = cable.source_resistance_ohm + 2.0 * length_m * cable.resistance_ohm_per_m;
        let reactance = cable.source_reactance_ohm + 2.0 * length_m * cable.reactance_ohm_per_m;
        let rms_a = cable.voltage_v / resistance.hypot(reactance);
        self.alternating(rms_a, reactance / resistance)
    }

    /// The charging current of the whole cable as one capacitance behind one inductance.
    fn charging(&self, cable: &Cable) -> ClosingCurrent {
        let omega = TAU * self.frequency_hz;
        let loop_m = 2.0 * cable.length_m;
        let least_h = 1e-9 * cable.length_m;
        let reactance = cable.source_reactance_ohm + loop_m * cable.reactance_ohm_per_m;
        let inductance_h = (reactance / omega).max(least_h);
        let resistance = cable.source_resistance_ohm + loop_m * cable.resistance_ohm_per_m;
        let capacitance_f = cable.length_m * cable.capacitance_f_per_m;
        ClosingCurrent::Capacitor {
            peak_a: SQRT_2 * cable.voltage_v * (capacitance_f / inductance_h).sqrt(),
            ringing_hz: 1.0 / (TAU * (inductance_h * capacitance_f).sqrt()),
            time_constant_s: 2.0 * inductance_h / resistance,
            steady_rms_a: cable.voltage_v * omega * capacitance_f,
            frequency_hz: self.frequency_hz,
        }
    }
}

/// Longest length that is sure; `None`: not even none of it is.
fn longest(length_m: f64, sure: impl Fn(f64) -> bool) -> Option<f64> {
    let (mut short, mut long) = (0.0, length_m);
    if !sure(short) {
        return None;
    }
    while sure(long) {
        (short, long) = (long, 2.0 * long);
        if long > 1e6 {
            return Some(short);
        }
    }
    for _ in 0..HALVINGS {
        let middle = 0.5 * (short + long);
        if sure(middle) {
            short = middle;
        } else {
            long = middle;
        }
    }
    Some(short)
}
