//! temporary check of the worked case
use super::*;
use crate::device::Device;
use crate::load::Programme;
use crate::material::*;
use crate::scenario::*;
use std::sync::Arc;

fn prop(reference: f64, c: &[f64]) -> Property {
    Property {
        law: Law::Polynomial {
            reference_k: reference,
            coefficients: c.to_vec(),
        },
        valid_k: (200.0, 800.0),
        source: "case".into(),
        relative_uncertainty: 0.0,
        from_memory: false,
    }
}
fn alloy(
    name: &str,
    e: f64,
    r0: f64,
    ar: f64,
    k: [f64; 2],
    c: [f64; 2],
    a: [f64; 2],
) -> Arc<Alloy> {
    let t = 293.15;
    Arc::new(Alloy {
        name: name.into(),
        density: prop(t, &[8100.0]),
        youngs_modulus: prop(t, &[e]),
        resistivity: prop(t, &[r0, r0 * ar]),
        conductivity: prop(t, &k),
        specific_heat: prop(t, &c),
        expansion: Expansion {
            kind: ExpansionKind::Instantaneous,
            property: prop(t, &a),
        },
        poisson_ratio: None,
        yield_strength: None,
        highest_recommended_k: None,
    })
}
pub fn scenario() -> Scenario {
    let low = alloy(
        "low",
        145e9,
        0.80e-6,
        1.2e-3,
        [10.5, 0.010],
        [515.0, 0.25],
        [1.2e-6, 8e-9],
    );
    let high = alloy(
        "high",
        190e9,
        0.78e-6,
        0.95e-3,
        [12.5, 0.014],
        [480.0, 0.22],
        [18.2e-6, 6e-9],
    );
    Scenario {
        title: "s7".into(),
        shows: String::new(),
        protector: Protector {
            rated_current_a: 10.0,
            reference_ambient_k: 298.15,
            limits: None,
        },
        strip: Strip {
            length_m: 0.025,
            width_m: 0.005,
            push_point_m: 0.025,
            layers: vec![
                Layer {
                    alloy: low,
                    thickness_m: 0.2e-3,
                },
                Layer {
                    alloy: high,
                    thickness_m: 0.2e-3,
                },
            ],
            flat_temperature_k: 293.15,
            initial_curvature_per_m: 0.0,
            section: SectionKind::Narrow,
            current_share: 1.0,
            shunt_heat_to: None,
            through_thickness: ThroughThickness::Uniform,
            allow_extrapolation: false,
        },
        cooling: Cooling {
            convection: Convection::EdgeOn,
            emissivity: 0.4,
            uncovered_fraction: 1.0,
            altitude_m: 0.0,
        },
        clamped_terminal: ClampedTerminal {
            heat_capacity_j_per_k: 2.0,
            resistance_ohm: 0.5e-3,
            conductance_w_per_k: 0.060,
        },
        moving_contact: MovingContact {
            heat_capacity_j_per_k: 0.25,
            conductance_w_per_k: 0.010,
        },
        fixed_contact: FixedContact {
            heat_capacity_j_per_k: 1.5,
            conductance_w_per_k: 0.050,
        },
        contact: Contact {
            resistance: ContactResistance::Constant(1e-3),
            metal: None,
            film_conductance_w_per_k: None,
        },
        winding: None,
        housing: None,
        release: Release {
            mechanism: Mechanism::Latch {
                release_travel_m: 1.2e-3,
                relatch_travel_m: 0.7e-3,
                preload_n: 0.0,
                lever_ratio: 1.0,
                release_force_factor: 1.0,
                constant_force_n: 0.0,
            },
            opening_time_s: 0.0,
            reset: crate::scenario::Reset::ByHand,
            preload_loss: 0.0,
            contact_loss: 0.0,
        },
        surroundings: Surroundings {
            ambient: vec![(0.0, 298.15)],
        },
        before: Before::Cold,
        load: Programme::constant(20.0),
        start_up: None,
        history: vec![],
        ask: Ask {
            states_at_s: vec![],
            losses: vec![],
            ambients_k: vec![],
            waits_s: vec![],
            accuracy: 1e-5,
            longest_s: 14400.0,
        },
        tolerances: vec![],
        sources: vec![],
    }
}

#[test]
fn worked_case() {
    let s = scenario();
    let d = Device::new(&s).unwrap();
    let case = Case {
        ambient: s.surroundings.ambient.clone(),
        before: Before::Cold,
        rated_current_a: 10.0,
        accuracy: 1e-5,
        longest_s: 14400.0,
    };
    let t0 = std::time::Instant::now();
    let tp = trip_point(&d, 298.15, 10.0, 1e-5).unwrap();
    println!(
        "trip point {:?} err {:?} {:?}",
        tp.value.current_a(),
        tp.error_relative,
        t0.elapsed()
    );
    for (i, t, w) in [
        (13.0, 11.03978, 8.69855),
        (20.0, 3.576757, 8.00662),
        (60.0, 0.3300955, 6.81964),
        (9.3, 0.0, 0.0),
        (9.0, 0.0, 0.0),
        (200.0, 0.0, 0.0),
    ] {
        let t0 = std::time::Instant::now();
        let a = run(&d, &case, &Programme::constant(i), true).unwrap();
        let el = t0.elapsed();
        let (tt, ww) = (
            a.value.trip_time_s.unwrap_or(0.0),
            a.value.relatch_wait_s.unwrap_or(0.0),
        );
        println!(
            "{i}: {tt} ({:.1e}) wait {ww} ({:.1e}) est {:?} {:?} {:?} {:?}",
            tt / t - 1.0,
            ww / w - 1.0,
            a.error_relative,
            a.fidelity,
            a.value.carried,
            el
        );
    }
}
#[test]
fn tp_orders() {
    let s = scenario();
    let d = Device::new(&s).unwrap();
    for (o, e) in [
        (8, 0.0125),
        (12, 0.0125),
        (20, 0.0125),
        (12, 0.002),
        (16, 0.001),
        (20, 0.0005),
    ] {
        let m = crate::device::Model::new(
            &d,
            crate::device::Fineness {
                order: o,
                end_element_m: e,
            },
        );
        let tp = trip_point_on(&m, 298.15, 10.0).unwrap();
        let TripPointAnswer::At { current_a, state } = tp else {
            panic!()
        };
        println!(
            "{o} {e}: {:.9} {} B {} M {} F {}",
            current_a,
            m.release_excess_m(&state, 0.0),
            state[0] - 273.15,
            state[m.layout.strip - 1] - 273.15,
            state[m.layout.fixed] - 273.15
        );
    }
}
#[test]
fn micro() {
    use crate::solve::System;
    let s = scenario();
    let d = Device::new(&s).unwrap();
    let case = Case {
        ambient: s.surroundings.ambient.clone(),
        before: Before::Cold,
        rated_current_a: 10.0,
        accuracy: 1e-5,
        longest_s: 14400.0,
    };
    for k in 0..3 {
        let f = Fidelity::rung(k, 0.0097);
        let m = crate::device::Model::new(&d, f.fineness);
        let plant = crate::device::Plant {
            model: &m,
            drive: crate::device::Drive::constant(20.0, 298.15),
        };
        let y = m.uniform(340.0);
        let mut dy = y.clone();
        let t0 = std::time::Instant::now();
        for _ in 0..1000 {
            plant.rhs(0.0, &y, &mut dy);
        }
        let rhs = t0.elapsed() / 1000;
        let mut j = crate::solve::ProfileMatrix::zeros(plant.shape());
        let t0 = std::time::Instant::now();
        for _ in 0..1000 {
            j.clear();
            plant.jacobian(0.0, &y, &mut j);
        }
        let jac = t0.elapsed() / 1000;
        let mut fa = j.clone();
        let t0 = std::time::Instant::now();
        for _ in 0..1000 {
            fa.set_shifted_negative(&j, 10.0);
            let _ = fa.factorise();
        }
        let lu = t0.elapsed() / 1000;
        let t0 = std::time::Instant::now();
        for _ in 0..1000 {
            fa.solve(&mut dy);
        }
        let so = t0.elapsed() / 1000;
        let t0 = std::time::Instant::now();
        for _ in 0..1000 {
            std::hint::black_box(m.release_excess_m(&y, 400.0));
        }
        let ev = t0.elapsed() / 1000;
        let t0 = std::time::Instant::now();
        let _ = crate::device::Model::new(&d, f.fineness);
        let mo = t0.elapsed();
        let t0 = std::time::Instant::now();
        let mut se = case.start(&m, f.tolerance).unwrap();
        se.carry(&Programme::constant(20.0), 0.0, 1e4, 0.0, &mut Unwatched)
            .unwrap();
        let tr = t0.elapsed();
        let st = se.steps;
        se.open(&Programme::constant(20.0), 0.0, 0.0, &mut Unwatched)
            .unwrap();
        let t0 = std::time::Instant::now();
        se.wait_for_relatch(1e5, &mut Unwatched).unwrap();
        println!(
            "n {} rhs {:?} jac {:?} lu {:?} solve {:?} event {:?} model {:?} trip {:?} ({} steps) cool {:?} ({} steps)",
            m.grid.len(),
            rhs,
            jac,
            lu,
            so,
            ev,
            mo,
            tr,
            st,
            t0.elapsed(),
            se.steps - st
        );
    }
}
