//! Draws `scenarios/pictures/convergence.svg`: how errors fall with nodes and with right-hand sides.
//!
//! `cargo test --test convergence_figure -- --ignored` draws it again (the finite volumes take a while) and
//! leaves a PNG to look at in the target directory.

mod support;
#[path = "support/sheet.rs"]
mod sheet;
#[path = "support/steps.rs"]
mod steps;
#[path = "support/volumes.rs"]
mod volumes;

use pulp::Arch;
use relatch::device::{Device, Fineness, Model};
use relatch::load::Programme;
use relatch::predict::{Unwatched, run_on};
use sheet::{DASHED, DOTTED, EMBER, LAKE, Mark, PLUM, Panel, QUIET, SOLID, Series};
use steps::{Heated, Stepper};
use support::{apart, case, worked};
use volumes::Volumes;

const CURRENT_A: f64 = 20.0;
const LENGTH_M: f64 = 0.025;

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

/// Largest relative error of the temperature rises after 3 s against right-hand sides, on one element of
/// order 10: equal steps, explicit and implicit.
fn in_time() -> [Vec<(f64, f64)>; 2] {
    let model = model(10, LENGTH_M);
    let after = |stepper, steps| {
        Arch::new().dispatch(Heated {
            model: &model,
            current_a: CURRENT_A,
            ambient_k: 298.15,
            t_end: 3.0,
            stepper,
            steps,
        })
    };
    let (truth, _) = after(Stepper::Explicit, 4000);
    let hottest = truth.iter().fold(0.0f64, |m, y| m.max(y - 298.15));
    let errors = |stepper, counts: &[usize]| {
        counts
            .iter()
            .map(|steps| {
                let (y, count) = after(stepper, *steps);
                let error = y
                    .iter()
                    .zip(&truth)
                    .map(|(a, b)| (a - b).abs() / hottest)
                    .fold(0.0, f64::max);
                (count as f64, error)
            })
            .filter(|(_, error)| *error < 0.1 && *error > 1e-13)
            .collect()
    };
    [
        errors(Stepper::Explicit, &[4, 6, 8, 11, 16, 23, 32, 45, 64, 90]),
        errors(Stepper::Implicit, &[2, 4, 8, 16, 32, 64, 128, 256]),
    ]
}

#[test]
#[ignore = "draws a picture for the documentation"]
fn draws_the_convergence_figure() {
    let [volumes, element] = in_space();
    let [explicit, implicit] = in_time();
    println!("{volumes:?}\n{element:?}\n{explicit:?}\n{implicit:?}");
    let slope = |at: (f64, f64), to: f64, order: f64| {
        vec![at, (to, at.1 * (at.0 / to).powf(order))]
    };
    let space = Panel {
        title: "Error of the trip time at 20 A",
        x: ("Nodes", 2.0, 200.0),
        y: (1e-10, 1e-1),
        series: vec![
            Series::new("equal finite volumes", volumes.clone(), EMBER, DASHED, Mark::Square),
            Series::new("one spectral element", element, LAKE, SOLID, Mark::Disc),
            Series::new(
                "order 2",
                slope((10.0, 0.3 * volumes[0].1), 100.0, 2.0),
                QUIET,
                DOTTED,
                Mark::None,
            ),
        ],
    };
    let time = Panel {
        title: "Error of the temperatures after 3 s at 20 A",
        x: ("Right-hand sides", 10.0, 3000.0),
        y: (1e-13, 1e-1),
        series: vec![
            Series::new("explicit, order 8", explicit, LAKE, SOLID, Mark::Disc),
            Series::new("implicit, order 5", implicit, PLUM, DASHED, Mark::Triangle),
        ],
    };
    let svg = sheet::draw(
        "How errors fall",
        "Worked strip, cold start. Left: one more node in one element does what doubling the volumes does not. \
         Right: equal steps on one element of order 10.",
        "Two log-log panels. Left: relative error of the trip time against nodes; equal finite volumes fall \
         with order 2, one spectral element falls exponentially. Right: relative error of the temperatures \
         against right-hand sides; explicit steps of order 8 and implicit steps of order 5.",
        &[space, time],
    );
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    std::fs::write(root.join("scenarios/pictures/convergence.svg"), &svg).expect("write");
    let look = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("convergence.png");
    std::fs::write(look, sheet::png(&svg)).expect("write");
}
