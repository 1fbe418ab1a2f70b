use crate::fabricated;
use relatch::present::plot::figures;

#[test]
fn every_figure_there_is_data_for_and_no_other() {
    let stems =
        |outcome| -> Vec<&str> { figures(&outcome).unwrap().iter().map(|f| f.stem).collect() };
    assert_eq!(
        stems(fabricated::latch()),
        [
            "time_course",
            "strip_shape",
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
            "preload_shift",
            "ambient_correction"
        ]
    );
}

#[test]
fn an_svg_needs_no_font_and_tells_what_it_shows() {
    for outcome in [fabricated::latch(), fabricated::blade()] {
        for figure in figures(&outcome).unwrap() {
            assert!(!figure.svg.contains("<text"), "{}", figure.stem);
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
    assert_eq!((width, height), (1600, 1000));
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
    assert_eq!(figures(&outcome).unwrap().len(), 5);
}

#[test]
fn numbers_that_are_not_finite_do_not_break_the_drawing() {
    let mut outcome = fabricated::latch();
    outcome.series[40].strip_peak_c = f64::NAN;
    outcome.preload_shift[1].trip_point_a = Some(f64::NAN);
    outcome.part.release_deflection_mm = f64::INFINITY;
    if let Some(curve) = &mut outcome.characteristic {
        curve.cold[20].time_s = Some(f64::NAN);
        curve.limits[1].at_most_s = Some(f64::INFINITY);
    }
    for figure in figures(&outcome).unwrap() {
        assert!(figure.png().unwrap().len() > 10_000, "{}", figure.stem);
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
