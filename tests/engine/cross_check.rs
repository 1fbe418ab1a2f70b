//! The engine against programs that share nothing with it.
//!
//! * The full worked strip, discretised here by plain finite volumes with its formulas written out
//!   again, integrated by the BDF method of the `diffsol` crate (grid error removed by Richardson
//!   extrapolation).
//! * The same strip on the engine's grid, stepped by the explicit pair of the `ode_solvers` crate.
//! * The lumped model by `ode_solvers` against its closed form and against the engine with a strip
//!   that conducts so well that it is lumped.
//! * Years of wear, with the feedback of the contact, by SciPy's Radau (numbers and script beside
//!   the test).

use crate::support::{apart, case, run_at, worked};
use crate::volumes::{LENGTH, Volumes};
use ode_solvers::{DVector, Dopri5};
use relatch::internals::device::{Device, Drive, Fineness, Model, Plant};
use relatch::internals::load::Programme;
use relatch::internals::predict::Unwatched;
use relatch::internals::scenario::Convection;
use relatch::internals::scenario::ageing::{Relaxation, TimeScale};
use relatch::internals::solve::explicit_event_time;
use relatch::internals::study::ageing::{
    Constants, Drift, DutyState, Map, Nodes, StateField, View, YEAR_S,
};

/// Two grids and Richardson's extrapolation leave an error of a few 1e-6; 1e-5 is asked.
#[test]
fn the_full_strip_by_finite_volumes_and_bdf_agrees() {
    for current_a in [13.0, 20.0, 60.0] {
        let cells = if current_a > 50.0 { 160 } else { 80 };
        let coarse = Volumes {
            n: cells,
            current_a,
        }
        .trip_time(1e-9);
        let fine = Volumes {
            n: 2 * cells,
            current_a,
        }
        .trip_time(1e-9);
        let extrapolated = fine + (fine - coarse) / 3.0;
        let engine = run_at(&worked(|_| {}), current_a)
            .value
            .trip_time_s
            .expect("trips");
        assert!(
            apart(engine, extrapolated) < 2e-5,
            "{current_a} A: {engine} against {extrapolated}"
        );
    }
}

/// Same grid, other stepper: the difference is the time error of both.
#[test]
fn the_engines_grid_by_explicit_steps_agrees() {
    let s = worked(|_| {});
    let device = Device::new(&s).expect("device");
    let model = Model::new(
        &device,
        Fineness {
            order: 9,
            end_element_m: 0.0097,
        },
    );
    let case = case(&s);
    for current_a in [13.0, 20.0, 60.0] {
        let plant = Plant {
            model: &model,
            drive: Drive::constant(current_a, 298.15),
        };
        let event = plant.release();
        let explicit =
            explicit_event_time(&plant, &event, 0.0, &model.uniform(298.15), 60.0, 1e-10)
                .expect("trips");
        let mut session = case.start(&model, 1e-9).expect("start");
        session
            .carry(
                &Programme::constant(current_a),
                0.0,
                60.0,
                0.0,
                &mut Unwatched,
            )
            .expect("carry");
        assert!(
            apart(session.t, explicit) < 2e-8,
            "{current_a} A: {} against {explicit}",
            session.t
        );
    }
}

struct Lumped {
    capacity_j_per_k: f64,
    conductance_w_per_k: f64,
    power_w: f64,
    target_k: f64,
}

impl ode_solvers::System<f64, DVector<f64>> for Lumped {
    fn system(&self, _: f64, y: &DVector<f64>, dy: &mut DVector<f64>) {
        dy[0] = (self.power_w - self.conductance_w_per_k * y[0]) / self.capacity_j_per_k;
    }
    fn solout(&mut self, _: f64, y: &DVector<f64>, _: &DVector<f64>) -> bool {
        y[0] >= self.target_k
    }
}

/// A strip with constant properties, a constant coefficient, no terminals to speak of and a
/// thousandfold conductivity is one node: its trip time is that of the lumped model.
#[test]
fn a_strip_that_conducts_well_is_the_lumped_model() {
    let s = worked(|s| {
        s.cooling.convection = Convection::Constant {
            coefficient_w_per_m2_k: 15.0,
        };
        s.cooling.emissivity = 0.0;
        for layer in &mut s.strip.layers {
            let mut alloy = (*layer.alloy).clone();
            for property in [
                &mut alloy.resistivity,
                &mut alloy.specific_heat,
                &mut alloy.conductivity,
                &mut alloy.expansion.property,
            ] {
                property.law = relatch::internals::material::Law::Constant(property.at(293.15));
            }
            alloy.conductivity.law = relatch::internals::material::Law::Constant(3e4);
            layer.alloy = alloy.into();
        }
        s.clamped_terminal.heat_capacity_j_per_k = 1e-9;
        s.clamped_terminal.resistance_ohm = 0.0;
        s.clamped_terminal.conductance_w_per_k = 0.0;
        s.moving_contact.heat_capacity_j_per_k = 1e-9;
        s.moving_contact.conductance_w_per_k = 0.0;
        s.contact.resistance = relatch::internals::scenario::ContactResistance::Constant(1e-9);
        s.contact.film_conductance_w_per_k = Some(0.0);
    });
    let device = Device::new(&s).expect("device");
    let line = device.laws.line(293.15);
    let current_a: f64 = 14.0;
    // Deflection 1.2 mm of a uniform strip: the rise at which the lumped model must arrive.
    let per_kelvin = (device.laws.bend(353.15).curvature_per_m
        - device.laws.bend(293.15).curvature_per_m)
        / 60.0;
    let target_k = 1.2e-3 * 2.0 / (per_kelvin * LENGTH * LENGTH) - 5.0;
    let lumped = |target_k: f64| Lumped {
        capacity_j_per_k: line.capacity * LENGTH,
        conductance_w_per_k: 15.0 * device.cooling.perimeter_m * LENGTH,
        power_w: current_a * current_a * line.resistance * LENGTH,
        target_k,
    };
    let model = lumped(target_k);
    let (tau, rise) = (
        model.capacity_j_per_k / model.conductance_w_per_k,
        model.power_w / model.conductance_w_per_k,
    );
    let closed_form = tau * (rise / (rise - target_k)).ln();
    // The crate's Dopri5 to the closed form's time, to show that both are the same equation.
    let mut stepper = Dopri5::new(
        lumped(f64::INFINITY),
        0.0,
        closed_form,
        closed_form,
        DVector::from_element(1, 0.0),
        1e-12,
        1e-12,
    );
    stepper.set_output(ode_solvers::dop_shared::OutputType::Sparse);
    stepper.integrate().expect("run");
    let reached = stepper.y_out().last().expect("output")[0];
    assert!(apart(reached, target_k) < 1e-9, "{reached} {target_k}");
    let engine = run_at(&s, current_a).value.trip_time_s.expect("trips");
    // What the finite conductivity leaves: (L^2 conductance per length)/(12 k A) of the rise, below
    // 1e-4.
    assert!(apart(engine, closed_form) < 1e-4, "{engine} {closed_form}");
}

/// The slow time scale with its feedback, against SciPy's Radau: exposure in plain time, the
/// Larson-Miller parameter in its logarithm. A spring that is 330 K in 0.4 of the time, 40 K a
/// milliohm more as the contact grows worse, and 295 K otherwise. The numbers are the output of
/// (scipy 1.17.1)
///
/// ```python
/// import numpy as np
/// from scipy.integrate import solve_ivp
/// R, Y, f = 8.31446261815324, 31557600.0, [0.4, 0.6]
/// T = lambda r: [330 + 40e3*(r - 0.5e-3), 295.0]
/// ohm = lambda t, loss: 0.3e-3 + 1e-9*t/43200 + 0.2e-3/np.sqrt(1 - loss)
/// total = lambda t, relaxed: 0.02 + relaxed + 5e-4*t/Y*2
/// rate = lambda k: np.exp(-95e3/R*(1/k - 1/373.15))/3600
/// def log(t, y):
///     r = ohm(t, total(t, 0.05*np.log1p(y[0])))
///     return [sum(a*rate(k) for a, k in zip(f, T(r)))]
/// def miller(s, y):
///     t = np.exp(s); r = ohm(t, total(t, max(0, 8e-5*(y[0] - 6500))))
///     return [t*sum(a*k*10**(20 - y[0]/k) for a, k in zip(f, T(r)))/np.log(10)/3600]
/// for y in (1, 10, 30):
///     xi = solve_ivp(log, (0, y*Y), [0.0], method='Radau', rtol=1e-11, atol=1e-12).y[0, -1]
///     print(total(y*Y, 0.05*np.log1p(xi)))
///     P0 = max(k*(20 + np.log10(a*1e-6/3600)) for a, k in zip(f, T(0.5e-3)))
///     P = solve_ivp(miller, (np.log(1e-6), np.log(y*Y)), [P0], method='Radau', rtol=1e-11, atol=1e-9,
///                   max_step=0.05).y[0, -1]
///     print(total(y*Y, max(0, 8e-5*(P - 6500))))
/// ```
#[test]
fn years_of_wear_agree_with_an_independent_integrator() {
    let state = |share, current_a: f64| DutyState {
        name: "state".into(),
        shift: None,
        share,
        current_a,
        ambient_k: 295.0,
        held: true,
    };
    let resistances = Nodes::chebyshev(0.4e-3, 2.4e-3, 3);
    let warm: Vec<f64> = resistances
        .points()
        .iter()
        .map(|r| 330.0 + 40e3 * (r - 0.5e-3))
        .collect();
    let field = |state, spring_k: Vec<f64>| StateField {
        state,
        factors: Nodes::chebyshev(1.0, 1.0, 1),
        margin_m: vec![-1.0; 2 * spring_k.len()],
        spring_k,
    };
    let map = Map {
        states: vec![
            field(state(0.4, 0.0), warm),
            field(state(0.6, 0.0), vec![295.0; 3]),
        ],
        resistances,
        holds: Nodes::chebyshev(0.0, 1.0, 2),
        limits: Vec::new(),
        is_straight: true,
        ends_in_runaway: false,
        between: (0.0, 0.0),
    };
    let logarithmic = Relaxation::Logarithmic {
        coefficient: 0.05,
        scale: TimeScale {
            time_constant_s: 3600.0,
            at_k: Some(373.15),
            activation_j_per_mol: 95e3,
        },
    };
    let miller = Relaxation::LarsonMiller {
        constant: 20.0,
        start_k: 6500.0,
        loss_per_k: 8e-5,
    };
    let expected = [
        (
            logarithmic,
            [0.23542810650277932, 0.36343332482741997, 0.4425015277886013],
        ),
        (
            miller,
            [0.12355855174133207, 0.15955805768653963, 0.1930285799755741],
        ),
    ];
    for (relaxation, losses) in expected {
        let constants = Constants {
            relaxation,
            start_loss: 0.02,
            start_contact_loss: 0.02,
            loss_per_trip: 5e-4,
            contact_ages: true,
            friction: None,
            film_per_operation_ohm: 1e-9,
            trips_per_s: 2.0 / YEAR_S,
            operations_per_s: 1.0 / 43_200.0,
            moved_every_s: f64::INFINITY,
            film_ohm: 0.3e-3,
            constriction_ohm: 0.2e-3,
            current_factors: Vec::new(),
        };
        let view = View::new(&map, &[]);
        let drift = Drift::follow(&constants, &view, 30.0 * YEAR_S, 1e-9);
        for (years, loss) in [1.0, 10.0, 30.0].into_iter().zip(losses) {
            let found = drift.at(years * YEAR_S).loss;
            // Both integrators are asked for 1e-9 or better.
            assert!(
                (found - loss).abs() < 1e-8,
                "{relaxation:?} {years}: {found} {loss}"
            );
        }
        assert!(drift.steps_taken() < 160, "{} steps", drift.steps_taken());
    }
}
