use super::fabricated;
use super::sheet::{assert_every_colour_has_a_dark_one, assert_nothing_reaches_the_edge};
use relatch::answer::{Held, TripTime};
use relatch::present::plot::{Band, Measured, Overlay, Reading, characteristic_with, figures};

#[test]
fn every_figure_there_is_data_for_and_no_other() {
    let stems =
        |outcome| -> Vec<&str> { figures(&outcome).unwrap().iter().map(|f| f.stem).collect() };
    assert_eq!(
        stems(fabricated::latch()),
        [
            "time_course",
            "strip_shape",
            "drawn_strip",
            "along_strip",
            "heat_flow",
            "stress",
            "cool_down",
            "memory",
            "characteristic",
            "preload_shift",
            "ambient_correction"
        ]
    );
    assert_eq!(
        stems(fabricated::holds()),
        [
            "time_course",
            "strip_shape",
            "drawn_strip",
            "along_strip",
            "heat_flow",
            "stress",
            "preload_shift",
            "ambient_correction"
        ]
    );
    assert!(stems(fabricated::blade()).contains(&"snap_blade"));
}

#[test]
fn every_colour_has_a_dark_one() {
    for outcome in [
        fabricated::latch(),
        fabricated::blade(),
        fabricated::winding(),
    ] {
        for figure in figures(&outcome).unwrap() {
            assert_every_colour_has_a_dark_one(&figure);
        }
    }
}

#[test]
fn nothing_reaches_the_edge_of_the_sheet() {
    let outcomes = [
        fabricated::latch(),
        fabricated::holds(),
        fabricated::blade(),
        fabricated::winding(),
    ];
    for outcome in outcomes {
        for figure in figures(&outcome).unwrap() {
            assert_nothing_reaches_the_edge(&figure);
        }
    }
}

#[test]
fn readings_and_a_band_lie_on_the_characteristic() {
    let outcome = fabricated::latch();
    let plain = characteristic_with(&outcome, &Overlay::default())
        .unwrap()
        .unwrap();
    let reading = |current_a, measured, name: &str| Reading {
        current_a,
        current_error_a: 0.4,
        measured,
        name: name.into(),
    };
    let scaled = |factor: f64| -> Vec<(f64, f64)> {
        let cold = &outcome.characteristic.as_ref().unwrap().cold;
        let points = cold
            .iter()
            .filter_map(|p| Some((p.current_a, factor * p.time.time_s()?)));
        points.collect()
    };
    let overlay = Overlay {
        readings: vec![
            reading(
                20.0,
                Measured::Tripped {
                    time_s: 17.0,
                    error_s: 1.5,
                },
                "as found",
            ),
            reading(11.0, Measured::Held { for_s: 900.0 }, "held 15 min"),
            // Neither is a point on logarithmic axes.
            reading(f64::NAN, Measured::Held { for_s: 1.0 }, "no current"),
            reading(
                30.0,
                Measured::Tripped {
                    time_s: 0.0,
                    error_s: 1.0,
                },
                "no time",
            ),
        ],
        band: Some(Band {
            name: "5 % to 95 %".into(),
            low: scaled(0.7),
            high: scaled(1.4),
        }),
    };
    let figure = characteristic_with(&outcome, &overlay).unwrap().unwrap();
    assert!(
        figure
            .description
            .contains("2 measured points are marked, 1 of them still closed")
    );
    assert!(figure.description.contains("5 % to 95 %"));
    assert!(!plain.description.contains("measured"));
    assert!(figure.svg.len() > plain.svg.len() + 1000);
    assert!(!figure.svg.to_lowercase().contains("nan"));
    // A reading outside the range of the curves widens the axes instead of being lost.
    let far = Overlay {
        readings: vec![reading(
            900.0,
            Measured::Tripped {
                time_s: 1e-3,
                error_s: 0.0,
            },
            "far",
        )],
        band: None,
    };
    let wide = characteristic_with(&outcome, &far).unwrap().unwrap();
    assert_ne!(wide.svg, plain.svg);
    assert!(wide.png().unwrap().len() > 5_000);
}

#[test]
fn an_svg_needs_no_font_and_tells_what_it_shows() {
    for outcome in [fabricated::latch(), fabricated::blade()] {
        for figure in figures(&outcome).unwrap() {
            assert!(figure.svg.contains("<text"), "{}", figure.stem);
            assert!(
                figure
                    .svg
                    .contains(&format!("<title>{}</title>", figure.title))
            );
            assert!(figure.svg.contains("<desc>"));
            let lower = figure.svg.to_lowercase();
            assert!(
                !lower.contains("nan") && !lower.contains("inf "),
                "{}",
                figure.stem
            );
        }
    }
}

#[test]
fn a_png_is_a_picture_with_ink_and_the_same_every_time() {
    let figure = figures(&fabricated::latch()).unwrap().swap_remove(0);
    let png = figure.png().unwrap();
    assert_eq!(&png[1..4], b"PNG");
    let width = u32::from_be_bytes([png[16], png[17], png[18], png[19]]);
    let height = u32::from_be_bytes([png[20], png[21], png[22], png[23]]);
    assert_eq!(width, 1600);
    // A strip of cautions makes it a little higher than the sheet.
    assert!((1030..1100).contains(&height), "{height}");
    let pixels = resvg::tiny_skia::Pixmap::decode_png(&png).unwrap();
    let inked = pixels.pixels().iter().filter(|p| p.red() < 250).count();
    assert!(inked > 16_000, "{inked} dark pixels");
    let again = figures(&fabricated::latch()).unwrap().swap_remove(0);
    assert_eq!(again.svg, figure.svg);
    assert_eq!(again.png().unwrap(), png);
}

#[test]
fn strange_titles_do_not_break_the_drawing() {
    let mut outcome = fabricated::latch();
    outcome.scenario = format!("<b>\u{7}&\"' {}", "very long ".repeat(60));
    assert_eq!(figures(&outcome).unwrap().len(), 11);
}

#[test]
fn numbers_that_are_not_finite_do_not_break_the_drawing() {
    let mut outcome = fabricated::latch();
    outcome.series[40].strip_peak_c = f64::NAN;
    outcome.preload_shift[1].trip_point = Held::UpTo(f64::NAN.into());
    outcome.part.release_deflection_mm = f64::INFINITY;
    if let Some(curve) = &mut outcome.characteristic {
        curve.cold[20].time = TripTime::After(f64::NAN.into());
        curve.limits[1].at_most_s = Some(f64::INFINITY);
    }
    for figure in figures(&outcome).unwrap() {
        assert!(figure.png().unwrap().len() > 5_000, "{}", figure.stem);
    }
}

#[test]
fn a_run_of_very_many_heatings_is_cut_and_says_so() {
    let mut outcome = fabricated::blade();
    let once = outcome.series.clone();
    for n in 1..20 {
        outcome.series.extend(once.iter().cloned().map(|mut s| {
            s.time_s += 407.0 * f64::from(n);
            s
        }));
    }
    let description = |outcome: &_| figures(outcome).unwrap().swap_remove(0).description;
    assert!(
        description(&outcome).contains("heatings 1 to 12 of 180"),
        "{}",
        description(&outcome)
    );
    // What the reader looks for is the release, however late it comes.
    for event in &mut outcome.events {
        event.time_s += 407.0 * 10.0;
    }
    assert!(
        description(&outcome).contains("heatings 80 to 91 of 180"),
        "{}",
        description(&outcome)
    );
    assert!(!description(&fabricated::blade()).contains("heatings"));
}

/// The figure of a stem.
fn of(outcome: &relatch::predict::Outcome, stem: &str) -> relatch::present::plot::Figure {
    let all = figures(outcome).unwrap();
    all.into_iter().find(|f| f.stem == stem).unwrap()
}

#[test]
fn a_figure_that_tells_a_wait_says_to_find_the_cause_first() {
    for stem in [
        "time_course",
        "cool_down",
        "memory",
        "preload_shift",
        "ambient_correction",
    ] {
        let figure = of(&fabricated::latch(), stem);
        let caution = "Find the cause before switching on again";
        assert!(figure.description.contains(caution), "{stem}");
        assert!(figure.svg.contains(&format!(">! {caution}")), "{stem}");
        assert_nothing_reaches_the_edge(&figure);
    }
    assert!(
        !of(&fabricated::latch(), "stress")
            .svg
            .contains("Find the cause")
    );
}

#[test]
fn what_never_comes_lies_in_a_lane_at_the_top() {
    let mut outcome = fabricated::latch();
    assert!(!of(&outcome, "preload_shift").svg.contains(">never<"));
    outcome.preload_shift[0].trip_time = TripTime::HoldsForEver;
    let figure = of(&outcome, "preload_shift");
    let before = figure.svg.split(">never<").next().unwrap();
    let element = &before[before.rfind("<text").unwrap()..];
    let y = element.split(" y=\"").nth(1).unwrap();
    let y: f64 = y[..y.find('"').unwrap()].parse().unwrap();
    // The lane is the first thing below the header.
    assert!((190.0..260.0).contains(&y), "{element}");
}

#[test]
fn the_strip_moves_by_the_difference_of_its_shapes() {
    let outcome = fabricated::latch();
    let cold = &outcome.shapes[0];
    let bent = outcome
        .shapes
        .iter()
        .find(|s| s.moment == relatch::predict::Moment::Release);
    let pairs = cold.y_mm.iter().zip(&bent.unwrap().y_mm);
    let most = pairs.map(|(a, b)| (b - a).abs()).fold(0.0, f64::max);
    let words = format!(
        "moves {} mm between",
        relatch::present::significant(most, 3)
    );
    assert!(of(&outcome, "drawn_strip").svg.contains(&words), "{words}");
}

#[test]
fn the_load_of_the_run_is_marked_on_the_characteristic() {
    let outcome = fabricated::latch();
    let release = outcome.trip.release().unwrap();
    let current = relatch::present::significant(release.current_a, 3);
    let figure = of(&outcome, "characteristic");
    assert!(figure.svg.contains(&format!(">this load: {current} A, ")));
    assert!(figure.description.contains("A ring marks this load"));
}

#[test]
fn a_limit_for_other_air_says_for_which_air_the_curve_is() {
    let mut outcome = fabricated::latch();
    let says = |outcome: &_| {
        of(outcome, "characteristic")
            .svg
            .contains("(the curve: at 53 °C)")
    };
    assert!(!says(&outcome));
    outcome.characteristic.as_mut().unwrap().ambient_c = 53.0;
    assert!(says(&outcome));
}

#[test]
fn text_can_be_had_as_outlines() {
    let figure = of(&fabricated::latch(), "stress");
    let outlined = figure.clone().outlined().unwrap();
    assert!(figure.svg.contains("<text") && !outlined.svg.contains("<text"));
    assert!(
        outlined
            .svg
            .contains(&format!("<title>{}</title>", figure.title))
    );
    let ink = |figure: &relatch::present::plot::Figure| {
        let picture = resvg::tiny_skia::Pixmap::decode_png(&figure.png().unwrap()).unwrap();
        let dark = picture.pixels().iter().filter(|p| p.red() < 128).count();
        dark as f64
    };
    assert!((ink(&outlined) / ink(&figure) - 1.0).abs() < 0.01);
}
