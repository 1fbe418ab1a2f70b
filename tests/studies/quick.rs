//! Quick parts against the engine.

use relatch::internals::family::*;
use relatch::internals::family::{Carries, Nameplate};
use relatch::internals::load::{Programme, Repeat};
use relatch::internals::statistics::stream::{Purpose, Stream};

fn programme(steps: &[(f64, f64)]) -> Programme {
    Programme::steps(steps.iter().copied(), Repeat::Once)
}

/// What is asked, and how far the factor may be off in the worst of the cases, as a logarithm.
type Kind = (
    &'static str,
    f64,
    fn(&mut Wear, &mut f64, &mut f64, &mut Vec<(f64, f64)>, f64),
);

#[test]
fn superposition_finds_nearly_the_load_that_trips_a_simulated_part() {
    let plate = Nameplate::of_rating(10.0);
    let family = Family::new(&plate, 48).unwrap();
    let quick = family.quick();
    let kinds: [Kind; 5] = [
        ("hot start", 0.03, |_, _, before, _, u| *before = 6.0 * u),
        ("lost preload", 0.03, |w, _, _, _, u| w.loss = 0.8 * u),
        ("hot place", 0.04, |_, air, _, _, u| *air += 30.0 * u),
        ("joint", 0.04, |w, _, _, _, u| w.joint_w = 1.5 * u),
        ("start", 0.02, |_, _, _, load, u| {
            load.insert(0, (0.3 + 2.0 * u, 45.0))
        }),
    ];
    for (name, most, change) in kinds {
        let mut asked = 0;
        for k in 0..40 {
            let stream = Stream::new(3, Purpose::other(8), k);
            let drawn = family.draw(&stream).unwrap();
            let (mut wear, mut air_k, mut before_a) = (Wear::NONE, 296.15, 0.0);
            let mut load = vec![(f64::INFINITY, 11.0 + 15.0 * stream.uniform(1))];
            change(
                &mut wear,
                &mut air_k,
                &mut before_a,
                &mut load,
                stream.uniform(2),
            );
            let part = Part::new(
                &family.members()[drawn.member],
                drawn.placing,
                wear,
                10.0,
                0.3,
            );
            let air = [(0.0, air_k)];
            let run = if before_a > 0.0 {
                part.hot(&air, before_a)
            } else {
                Some(part.cold(&air))
            };
            let Some(Carries::Trips(time_s)) = run.unwrap().carry(&programme(&load), 1e6) else {
                continue;
            };
            let steps = Steps {
                before_a,
                past: &[],
                load: &load,
                fixed: None,
            };
            let (log, _) = quick.part(drawn, wear).factor(&steps, air_k, time_s);
            assert!(log.abs() < most, "{name} {k}: {log} after {time_s} s");
            asked += 1;
        }
        assert!(asked > 25, "{name}: {asked}");
    }
}
