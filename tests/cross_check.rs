//! The engine against programs that share nothing with it.
//!
//! * The full worked strip, discretised here by plain finite volumes with its formulas written out
//!   again, integrated by the BDF method of the `diffsol` crate (grid error removed by Richardson
//!   extrapolation).
//! * The same strip on the engine's grid, stepped by the explicit pair of the `ode_solvers` crate.
//! * The lumped model by `ode_solvers` against its closed form and against the engine with a strip that
//!   conducts so well that it is lumped.

mod support;
#[path = "support/volumes.rs"]
mod volumes;

use ode_solvers::{DVector, Dopri5};
use relatch::device::{Device, Drive, Fineness, Model, Plant, ReleaseEvent};
use relatch::load::Programme;
use relatch::predict::Unwatched;
use relatch::scenario::Convection;
use relatch::solve::explicit_event_time;
use support::{apart, case, run_at, worked};
use volumes::{LENGTH, Volumes};

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
        let event = ReleaseEvent {
            plant: &plant,
            in_hand_m: 0.0,
        };
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

/// A strip with constant properties, a constant coefficient, no terminals to speak of and a thousandfold
/// conductivity is one node: its trip time is that of the lumped model.
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
                property.law = relatch::material::Law::Constant(property.at(293.15));
            }
            alloy.conductivity.law = relatch::material::Law::Constant(3e4);
            layer.alloy = alloy.into();
        }
        s.clamped_terminal.heat_capacity_j_per_k = 1e-9;
        s.clamped_terminal.resistance_ohm = 0.0;
        s.clamped_terminal.conductance_w_per_k = 0.0;
        s.moving_contact.heat_capacity_j_per_k = 1e-9;
        s.moving_contact.conductance_w_per_k = 0.0;
        s.contact.resistance = relatch::scenario::ContactResistance::Constant(1e-9);
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
    // What the finite conductivity leaves: (L^2 conductance per length)/(12 k A) of the rise, below 1e-4.
    assert!(apart(engine, closed_form) < 1e-4, "{engine} {closed_form}");
}
