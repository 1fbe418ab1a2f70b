//! Draws `scenarios/pictures/convergence.svg`: how errors fall with nodes and with right-hand
//! sides.
//!
//! `cargo test --test engine convergence_figure -- --ignored` draws it again (the finite volumes
//! take a while) and leaves a PNG to look at in the target directory.

use crate::sheet::{self, DASHED, DOTTED, EMBER, LAKE, Mark, PLUM, Panel, QUIET, SOLID, Series};
use crate::steps::{Heated, Stepper};
use crate::support::{apart, case, worked};
use crate::volumes::Volumes;
use relatch::internals::device::{Device, Fineness, Model};
use relatch::internals::load::Programme;
use relatch::internals::predict::{Unwatched, closed_steady, run_on};
use relatch::internals::solve::wide::dispatch;

const CURRENT_A: f64 = 20.0;
const LENGTH_M: f64 = 0.025;
const AMBIENT_K: f64 = 298.15;

fn model(order: usize, end_element_m: f64) -> Model {
    let device = Device::new(&worked(|_| {})).expect("device");
    Model::new(
        &device,
        Fineness {
            order,
            end_element_m,
        },
    )
}

fn trip_time(order: usize, end_element_m: f64) -> f64 {
    let (s, model) = (worked(|_| {}), model(order, end_element_m));
    let load = Programme::constant(CURRENT_A);
    run_on(&model, 1e-12, &case(&s), &load, false, &mut Unwatched)
        .expect("run")
        .trip_time_s
        .expect("trips")
}

/// Errors of the trip time against nodes: equal volumes, and one element.
fn in_space() -> [Vec<(f64, f64)>; 2] {
    let truth = trip_time(18, 0.002);
    let volumes = [8, 16, 32, 64, 128].map(|n| {
        let t = Volumes {
            n,
            current_a: CURRENT_A,
        }
        .trip_time(1e-9);
        (n as f64, apart(t, truth))
    });
    let element = [2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13]
        .map(|p| (p as f64 + 1.0, apart(trip_time(p, LENGTH_M), truth)));
    [volumes.to_vec(), element.to_vec()]
}

/// Largest error of the temperatures after 3 s, relative to the largest rise, against right-hand
/// sides, on one element of order 10 in equal steps: explicit and implicit from a steady state, and
/// explicit from the cold, where the loss to the air starts as the power 5/4 of time and lets no
/// step keep its order.
fn in_time() -> [Vec<(f64, f64)>; 3] {
    let model = model(10, LENGTH_M);
    let cold = model.uniform(AMBIENT_K);
    let warm = closed_steady(&model, 7.5, AMBIENT_K, &cold)
        .expect("settles")
        .expect("a steady state");
    let errors = |from: &[f64], stepper, counts: &[usize]| {
        let after = |stepper, steps| {
            dispatch(Heated {
                model: &model,
                current_a: CURRENT_A,
                ambient_k: AMBIENT_K,
                from,
                t_end: 3.0,
                stepper,
                steps,
            })
        };
        let (truth, _) = after(Stepper::Explicit, 4000);
        let largest = truth.iter().fold(0.0f64, |m, y| m.max(y - AMBIENT_K));
        let error = |y: &[f64]| {
            y.iter()
                .zip(&truth)
                .map(|(a, b)| (a - b).abs() / largest)
                .fold(0.0, f64::max)
        };
        counts
            .iter()
            .map(|steps| after(stepper, *steps))
            .map(|(y, count)| (count as f64, error(&y)))
            .collect()
    };
    // Three steps are longer than the explicit method is stable for.
    let explicit = [4, 6, 8, 12, 16, 24, 32, 64];
    [
        errors(&warm, Stepper::Explicit, &explicit),
        errors(&warm, Stepper::Implicit, &[2, 4, 8, 16, 32, 64, 128]),
        errors(&cold, Stepper::Explicit, &explicit),
    ]
}

#[test]
#[ignore = "draws a picture for the documentation"]
fn draws_the_convergence_figure() {
    let [volumes, element] = in_space();
    let [explicit, implicit, cold] = in_time();
    println!("{volumes:?}\n{element:?}\n{explicit:?}\n{implicit:?}\n{cold:?}");
    let order_2 = vec![(10.0, 4e-3), (100.0, 4e-5)];
    let space = Panel {
        title: "Error of the trip time at 20 A",
        x: ("Nodes", 2.0, 200.0),
        y: (1e-8, 1e-1),
        series: vec![
            Series::new("equal finite volumes", volumes, EMBER, DASHED, Mark::Square)
                .labelled(0.5, 20.0, -34.0),
            Series::new("one spectral element", element, LAKE, SOLID, Mark::Disc)
                .labelled(0.75, 34.0, -10.0),
            Series::new("order 2", order_2, QUIET, DOTTED, Mark::None).labelled(0.55, -130.0, 34.0),
        ],
    };
    let time = Panel {
        title: "Error of the temperatures after 3 s at 20 A",
        x: ("Right-hand sides (Jacobians not counted)", 10.0, 1000.0),
        y: (1e-13, 1e-3),
        series: vec![
            Series::new("explicit, order 8", explicit, LAKE, SOLID, Mark::Disc)
                .labelled(0.6, -296.0, 60.0),
            Series::new("implicit, order 5", implicit, PLUM, DASHED, Mark::Triangle)
                .labelled(0.66, 26.0, -18.0),
            Series::new("explicit, from the cold", cold, QUIET, DOTTED, Mark::Square)
                .labelled(0.5, 10.0, -40.0),
        ],
    };
    let svg = sheet::draw(
        "How errors fall",
        "Worked strip. Left: cold start, grids compared. Right: equal steps on one element of order 10, \
         from the steady state at 7.5 A and from the cold.",
        "Two log-log panels. Left: relative error of the trip time against nodes; equal finite volumes fall \
         with order 2, one spectral element falls by nearly five decades between five and fourteen nodes. Right: relative error of the temperatures \
         against right-hand sides; from a steady state explicit steps fall with order 8 and implicit steps \
         with order 5; from the cold explicit steps fall with order 9/4 only.",
        &[space, time],
    );
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    std::fs::write(root.join("scenarios/pictures/convergence.svg"), &svg).expect("write");
    let look = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("convergence.png");
    std::fs::write(look, sheet::png(&svg)).expect("write");
}
