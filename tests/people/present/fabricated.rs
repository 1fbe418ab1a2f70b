//! Made-up outcomes for tests of the rendering only: two first-order bodies, not the engine, and
//! nobody's part.

use crate::support::made;
use relatch::internals::answer::{Held, TripTime, Wait, WhyNever, WhyNotAsked};
use relatch::internals::predict::*;
use relatch::internals::scenario;

const AIR_C: f64 = 25.0;
const STRIP_S: f64 = 22.0;
const CASE_S: f64 = 400.0;
const RELEASE_MM: f64 = 1.2;
const RELATCH_MM: f64 = 0.55;
/// Deflection per kelvin of mean rise.
const MM_PER_K: f64 = RELEASE_MM / 80.0;

fn rise(multiple: f64, t: f64) -> f64 {
    multiple.powi(2) * (45.0 * (1.0 - (-t / STRIP_S).exp()) + 12.0 * (1.0 - (-t / CASE_S).exp()))
}

fn time_to(multiple: f64, needed: f64, before: f64) -> Option<f64> {
    let at = |t: f64| {
        rise(multiple, t) + before * (0.8 * (-t / STRIP_S).exp() + 0.2 * (-t / CASE_S).exp())
    };
    if at(1e5) < needed {
        return None;
    }
    let (mut low, mut high) = (0.0, 1e5);
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if at(middle) < needed {
            low = middle
        } else {
            high = middle
        }
    }
    Some(high)
}

fn state(time_s: f64, multiple: f64, mean_rise: f64, closed: bool) -> State {
    let deflection = MM_PER_K * mean_rise;
    made!(State {
        time_s,
        current_a: if closed { 10.0 * multiple } else { 0.0 },
        closed,
        ambient_c: AIR_C,
        clamped_terminal_c: AIR_C + 0.22 * mean_rise,
        moving_contact_c: AIR_C + 0.55 * mean_rise,
        fixed_contact_c: AIR_C + 0.15 * mean_rise,
        winding_c: None,
        housing_c: None,
        strip_mean_c: AIR_C + mean_rise,
        strip_mid_c: AIR_C + 1.25 * mean_rise,
        strip_peak_c: AIR_C + 1.3 * mean_rise,
        tip_deflection_mm: deflection,
        release_margin_mm: RELEASE_MM - deflection,
        power_w: if closed { multiple.powi(2) } else { 0.0 },
    })
}

fn series(multiple: f64, trip_s: f64, cool_s: f64) -> Vec<State> {
    let peak = rise(multiple, trip_s);
    let steps = 300;
    let heating = (0..=steps).map(|k| {
        let t = trip_s * f64::from(k) / f64::from(steps);
        state(t, multiple, rise(multiple, t), true)
    });
    let cooling = (0..=steps).map(|k| {
        let t = cool_s * f64::from(k) / f64::from(steps);
        let left = 0.85 * (-t / STRIP_S).exp() + 0.15 * (-t / CASE_S).exp();
        state(trip_s + 0.01 + t, multiple, peak * left, false)
    });
    heating.chain(cooling).collect()
}

fn event(time_s: f64, event: Event) -> EventRecord {
    made!(EventRecord { time_s, event })
}

fn times(time_s: Option<f64>) -> TripTime {
    time_s.map_or(TripTime::HoldsForEver, |t| {
        TripTime::After(relatch::internals::answer::Estimate::with_error(
            t,
            Some(2e-5),
        ))
    })
}

fn shape(time_s: f64, moment: Moment, mean_rise: f64) -> Shape {
    let x: Vec<f64> = (0..=40).map(|k| 40.0 * f64::from(k) / 40.0).collect();
    let tip = MM_PER_K * mean_rise;
    made!(Shape {
        time_s,
        moment,
        y_mm: x.iter().map(|x| tip * (x / 40.0).powi(2)).collect(),
        temperature_c: x
            .iter()
            .map(|x| AIR_C + mean_rise * (0.3 + (std::f64::consts::PI * x / 40.0).sin()))
            .collect(),
        x_mm: x,
    })
}

fn curve(needed: f64, before: f64) -> Vec<CurvePoint> {
    (0..=40)
        .map(|k| {
            let multiple = 1.05 * (8.0_f64 / 1.05).powf(f64::from(k) / 40.0);
            made!(CurvePoint {
                current_a: 10.0 * multiple,
                multiple,
                time: times(time_to(multiple, needed, before)),
            })
        })
        .collect()
}

fn limit(multiple: f64, at_least: Option<f64>, at_most: Option<f64>) -> LimitCheck {
    let time_s = time_to(multiple, 80.0, 0.0);
    let made = serde_json::json!({
        "source": "made-up limits for a test, clause 1",
        "multiple": multiple,
        "ambient_c": AIR_C,
        "after_multiple": 0.0,
        "must_hold": at_least.is_none() && at_most.is_none(),
        "at_least_s": at_least,
        "at_most_s": at_most,
        "time": times(time_s),
        "met": time_s.is_none_or(|t| at_least.is_none_or(|least| t >= least))
            && at_most.is_none_or(|most| time_s.is_some_and(|t| t <= most)),
    });
    serde_json::from_value(made).expect("a limit")
}

fn heat(multiple: f64, trip_s: f64, cool_s: f64) -> Vec<HeatFlow> {
    let flow = |s: State| {
        let rise = s.strip_mean_c - AIR_C;
        let out = [0.002, 0.012, 0.004, 0.001].map(|per_k| per_k * rise);
        made!(HeatFlow {
            time_s: s.time_s,
            electrical_w: s.power_w,
            convection_w: out[1],
            radiation_w: out[2],
            terminals_w: out[0],
            contact_w: out[3],
            stored_w: s.power_w - out.iter().sum::<f64>(),
        })
    };
    series(multiple, trip_s, cool_s)
        .into_iter()
        .map(flow)
        .collect()
}

fn stress() -> StressAcross {
    let layer = |alloy: &str, from_mm, free_mpa: [f64; 2], yield_mpa| {
        made!(StressLayer {
            alloy: alloy.into(),
            from_mm,
            to_mm: from_mm + 0.45,
            free_mpa,
            loaded_mpa: free_mpa.map(|s| 1.2 * s),
            yield_mpa,
        })
    };
    made!(StressAcross {
        moment: Moment::Release,
        position_mm: 18.0,
        temperature_c: 129.0,
        loaded_by: LoadedBy::LatchPush,
        layers: vec![
            layer("Fe-36Ni", 0.0, [-80.0, 160.0], Some(620.0)),
            layer("22Ni-3Cr-Fe", 0.45, [-190.0, 105.0], None),
        ],
    })
}

/// The frames of a made-up moving picture: 12 of heating, 12 of cooling.
pub fn film(outcome: &Outcome) -> Film {
    let frames = |states: Vec<State>| -> Vec<Frame> {
        let every = (states.len() / 12).max(1);
        let chosen = states.into_iter().step_by(every).take(12);
        chosen
            .map(|state| {
                made!(Frame {
                    shape: shape(state.time_s, Moment::Frame, state.strip_mean_c - AIR_C),
                    state,
                })
            })
            .collect()
    };
    let (heating, cooling) = outcome.series.iter().cloned().partition(|s| s.closed);
    made!(Film {
        heating: frames(heating),
        cooling: frames(cooling),
    })
}

/// Energy and branches of a made-up blade.
fn snap() -> SnapPicture {
    let curve = |moment: SnapMoment, temperature_c: f64, tilt: f64, stands_at_mm: Vec<f64>| {
        let rise_mm: Vec<f64> = (-20..=20).map(|k| f64::from(k) * 0.04).collect();
        made!(EnergyCurve {
            moment,
            temperature_c,
            energy_mj: rise_mm
                .iter()
                .map(|a| 20.0 * a.powi(4) - 10.0 * a.powi(2) + tilt * a)
                .collect(),
            rise_mm,
            stands_at_mm,
        })
    };
    let branches = (0..=40)
        .map(|k| {
            let t = 20.0 + 2.5 * f64::from(k);
            made!(BranchPoint {
                temperature_c: t,
                closed_mm: (t <= 110.0).then(|| 0.3 + 0.04 * (110.0 - t).sqrt()),
                unstable_mm: (70.0..=110.0).contains(&t).then(|| 0.3 * (t - 90.0) / 20.0),
                snapped_mm: (t >= 70.0).then(|| -0.3 - 0.04 * (t - 70.0).sqrt()),
            })
        })
        .collect();
    made!(SnapPicture {
        energy: vec![
            curve(SnapMoment::Cold, 25.0, -6.0, vec![0.62]),
            curve(SnapMoment::SnapsBack, 70.0, -2.5, vec![0.56]),
            curve(SnapMoment::HalfWay, 90.0, 0.0, vec![-0.5, 0.5]),
            curve(SnapMoment::SnapsThrough, 110.0, 2.5, vec![-0.56]),
        ],
        branches,
        trip_temperature_c: 110.0,
        reset_temperature_c: Some(70.0),
    })
}

/// A latch part that trips at twice its rating and is reset by hand.
pub fn latch() -> Outcome {
    let trip_s = time_to(2.0, 80.0, 0.0).unwrap();
    let relatch_s = 17.4;
    let shifted = |loss: f64| 80.0 * (1.0 - 0.52 * loss);
    made!(Outcome {
        format: relatch::internals::predict::FORMAT,
        version: "0.1.0".into(),
        scenario: "Pug mill in a pottery studio, clay too stiff".into(),
        shows: "A made-up outcome for tests".into(),
        part: made!(Part {
            rated_current_a: 10.0,
            reference_ambient_c: 25.0,
            ambient_c: AIR_C,
            mechanism: MechanismKind::Latch,
            reset: scenario::Reset::ByHand,
            layer_alloys: vec!["Fe-36Ni".into(), "22Ni-3Cr-Fe".into()],
            layer_thicknesses_mm: vec![0.45, 0.45],
            thickness_mm: 0.9,
            length_mm: 40.0,
            push_point_mm: 40.0,
            width_mm: 6.0,
            flexivity_per_k: 26.5e-6,
            resistance_ohm: 9.12e-3,
            power_at_rated_w: Some(0.98),
            drop_at_rated_mv: Some(97.6),
            preload_share: Some(0.52),
            preload_loss: 0.0,
            release_travel_mm: 0.576,
            release_deflection_mm: RELEASE_MM,
            relatch_travel_mm: Some(RELATCH_MM),
            trip_temperature_c: Some(105.0),
            relatch_temperature_c: Some(61.7),
            time_constant_s: Some(STRIP_S),
            contact_resistance_new_ohm: 0.6e-3,
            contact_resistance_ohm: 0.7e-3,
            section_stiffness_n_m2: 0.055,
            compliance_mm_per_n: 0.39,
            blade_thrust_n: None,
            through_thickness: Across::OneTemperature,
        }),
        error_estimate: made!(ErrorEstimate {
            trip_time_relative: Some(1.2e-5),
            trip_point_relative: Some(3e-6),
            relatch_wait_relative: Some(8e-5),
            cross_check_relative: None,
            energy_balance_relative: Some(2e-9),
            computed_with: made!(ComputedWith {
                elements: 1,
                order: 10,
                tolerance: 1e-6,
            }),
        }),
        trip: Trip::After(made!(Release {
            time_s: trip_s,
            clearing_time_s: trip_s + 0.01,
            current_a: 20.0,
            multiple_of_rated: 2.0,
            tip_deflection_mm: RELEASE_MM,
            strip_peak_c: 129.0,
            strip_mean_c: 105.0,
            winding_c: None,
            nodes: AlongStrip::default(),
            fixed_contact_c: 37.0,
            housing_c: None,
        })),
        trip_point: TripPoint::UpTo(made!(HeldCurrent {
            current_a: 11.847,
            multiple_of_rated: 1.1847,
            per_percent_preload_a: Some(-0.0309),
            per_kelvin_ambient_a: Some(-0.0741),
            per_percent_travel_a: Some(0.0592),
            strip_peak_c: Some(129.0),
        })),
        reset: made!(Reset {
            relatch_wait: Wait::of(relatch_s.into()),
            ready_wait: Wait::of(143.0.into()),
            governs: Some(Governs::StartUp),
        }),
        premature_reset: [0.25, 0.5, 1.0, 2.0, 4.0, 8.0]
            .map(|k| made!(PrematureReset {
                wait_s: relatch_s * k,
                trips_again_after: if k < 1.0 {
                    TripTime::NotReset
                } else {
                    times(time_to(2.0, 80.0, 80.0 * (-relatch_s * k / STRIP_S).exp()))
                },
            }))
            .to_vec(),
        preload_shift: [0.0, 0.1, 0.2, 0.3, 0.4, 0.5]
            .map(|loss| made!(PreloadShift {
                loss,
                trip_point: Held::UpTo((11.847 * (shifted(loss) / 80.0).sqrt()).into()),
                trip_time: times(time_to(2.0, shifted(loss), 0.0)),
                relatch_wait: Wait::of((relatch_s * (1.0 - 0.4 * loss)).into()),
                trip_temperature_c: Some(AIR_C + shifted(loss)),
            }))
            .to_vec(),
        ambient_correction: [-20.0, 0.0, 25.0, 40.0, 60.0]
            .map(|air| {
                let factor = ((105.0 - air) / 80.0_f64).sqrt();
                made!(AmbientCorrection {
                    ambient_c: air,
                    trip_point: Held::UpTo((11.847 * factor).into()),
                    factor: Some(factor),
                    trip_time: times(Some(trip_s)),
                    relatch_wait: if air < 60.0 {
                        Wait::of((relatch_s * 40.0 / (61.7 - air)).into())
                    } else {
                        Wait::Never {
                            why: WhyNever::StaysWarm,
                        }
                    },
                })
            })
            .to_vec(),
        states: vec![state(5.0, 2.0, rise(2.0, 5.0), true)],
        events: vec![
            event(0.0, Event::LoadOn),
            event(trip_s, Event::Release),
            event(trip_s + 0.01, Event::ContactsOpen),
            event(trip_s + 0.01 + relatch_s, Event::Relatch),
            event(trip_s + 70.0, Event::End),
        ],
        shapes: vec![
            shape(0.0, Moment::Start, 0.0),
            shape(0.5 * trip_s, Moment::HalfWay, rise(2.0, 0.5 * trip_s)),
            shape(trip_s, Moment::Release, 80.0),
            shape(trip_s + relatch_s, Moment::Relatch, 80.0 * 0.4583),
            shape(trip_s + 70.0, Moment::End, 13.0),
        ],
        series: series(2.0, trip_s, 70.0),
        heat: heat(2.0, trip_s, 40.0),
        cool_down: series(2.0, trip_s, 170.0)
            .into_iter()
            .filter(|s| !s.closed)
            .collect(),
        repeated_resets: (1..=6)
            .map(|n| made!(RepeatedReset {
                number: n,
                trips_after: times(Some(12.0 + 10.0 / f64::from(n))),
                relatch_wait: Wait::of((23.0 + f64::from(n)).into()),
            }))
            .collect(),
        stress: Some(stress()),
        snap: None,
        film: None,
        characteristic: Some(made!(Characteristic {
            ambient_c: AIR_C,
            hot_fraction: 0.8,
            cold: curve(80.0, 0.0),
            hot: curve(80.0, 0.64 * 57.0),
            trip_point: Held::UpTo(11.847.into()),
            limits: vec![
                limit(1.0, None, None),
                limit(1.35, None, Some(3600.0)),
                limit(2.0, Some(4.0), Some(40.0)),
                limit(4.0, Some(0.6), Some(5.0)),
            ],
        })),
        warnings: vec![Warning::WindingLimit {
            peak_c: 129.0,
            limit_c: 120.0,
        }],
        not_modelled: vec![NotModelled::Arc, NotModelled::MagneticForces],
        cautions: vec![],
        citations: vec!["Timoshenko 1925".into(), "Churchill and Chu 1975".into()],
    })
}

/// The same part, carrying a current that it holds for ever.
pub fn holds() -> Outcome {
    let mut outcome = latch();
    outcome.scenario = "Dough mixer in a bakery, running as it should".into();
    let none = Wait::NotAsked {
        why: WhyNotAsked::DoesNotTrip,
    };
    outcome.trip = Trip::HoldsForEver {
        proof: Proof::SteadyState,
        closest_approach_mm: 0.345,
    };
    outcome.reset = made!(Reset {
        relatch_wait: none,
        ready_wait: none,
        governs: None,
    });
    outcome.premature_reset.clear();
    outcome.repeated_resets.clear();
    outcome.cool_down.clear();
    outcome.heat = heat(1.0, 600.0, 1.0);
    outcome.heat.retain(|h| h.time_s <= 600.0);
    outcome.events.truncate(1);
    outcome.shapes.truncate(2);
    outcome.characteristic = None;
    for row in &mut outcome.preload_shift {
        row.trip_time = TripTime::HoldsForEver;
        row.relatch_wait = none;
    }
    outcome.series = (0..=400)
        .map(|k| f64::from(k) * 9.0)
        .map(|t| state(t, 1.0, rise(1.0, t), true))
        .collect();
    outcome
}

/// A winding-heated part with a short violent trip and a long wait.
pub fn winding() -> Outcome {
    let mut outcome = latch();
    outcome.scenario = "Fog machine pump in a theatre, rotor stuck".into();
    let trip_s = time_to(6.0, 80.0, 0.0).unwrap();
    outcome.series = series(6.0, trip_s, 240.0);
    for s in &mut outcome.series {
        let extra = if s.closed { 12.0 } else { 6.0 };
        s.winding_c = Some(s.strip_mean_c + extra * (s.strip_mean_c - AIR_C) / 12.0);
        s.housing_c = Some(AIR_C + 0.1 * (s.strip_mean_c - AIR_C));
    }
    let release = outcome.trip.release_mut().expect("it trips");
    (release.time_s, release.clearing_time_s) = (trip_s, trip_s + 0.01);
    release.winding_c = Some(188.0);
    outcome.events = vec![
        event(0.0, Event::LoadOn),
        event(trip_s, Event::Release),
        event(trip_s + 0.01, Event::ContactsOpen),
        event(trip_s + 31.0, Event::Relatch),
        event(trip_s + 45.0, Event::Reset),
    ];
    outcome
}

/// A snap blade that cycles by itself.
pub fn blade() -> Outcome {
    let mut outcome = latch();
    outcome.scenario = "Irrigation pump on an automatic blade, well run dry".into();
    outcome.part.mechanism = MechanismKind::SnapBlade;
    outcome.part.reset = scenario::Reset::Automatic;
    outcome.part.preload_share = None;
    outcome.part.relatch_travel_mm = None;
    outcome.part.release_deflection_mm = 0.31;
    outcome.snap = Some(snap());
    outcome.events = vec![event(0.0, Event::LoadOn)];
    outcome.series.clear();
    let mut t = 0.0;
    for _ in 0..9 {
        for k in 0..60 {
            let up = f64::from(k) / 60.0;
            outcome
                .series
                .push(state(t + 20.0 * up, 2.0, 40.0 + 40.0 * up.sqrt(), true));
        }
        outcome.events.push(event(t + 20.0, Event::Release));
        outcome.events.push(event(t + 20.0, Event::ContactsOpen));
        for k in 0..60 {
            let down = f64::from(k) / 60.0;
            outcome.series.push(state(
                t + 20.1 + 25.0 * down,
                2.0,
                80.0 - 40.0 * down.sqrt(),
                false,
            ));
        }
        outcome.events.push(event(t + 45.1, Event::Relatch));
        outcome.events.push(event(t + 45.1, Event::Reset));
        t += 45.2;
    }
    for s in &mut outcome.series {
        s.tip_deflection_mm = if s.closed { 0.6 } else { -0.6 } - 0.003 * (s.strip_mean_c - 40.0);
    }
    let bow = |rise_mm: f64, time_s: f64, moment: Moment| {
        let mut shape = shape(time_s, moment, 60.0);
        let bend = |x: &f64| rise_mm * (std::f64::consts::PI * x / 40.0).sin();
        shape.y_mm = shape.x_mm.iter().map(bend).collect();
        shape
    };
    outcome.shapes = vec![
        bow(0.62, 0.0, Moment::Start),
        bow(0.45, 12.0, Moment::HalfWay),
        bow(0.31, 20.0, Moment::Release),
        bow(-0.55, 20.1, Moment::Cooling),
        bow(-0.3, 45.0, Moment::Relatch),
    ];
    outcome
}

/// The held current of an outcome, to be changed.
pub fn held(outcome: &mut Outcome) -> &mut HeldCurrent {
    match &mut outcome.trip_point {
        TripPoint::UpTo(held) => held,
        other => panic!("{other:?}"),
    }
}
