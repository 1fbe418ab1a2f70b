use super::fabricated;
use super::sheet::{assert_every_colour_has_a_dark_one, assert_nothing_reaches_the_edge};
use crate::support::made;
use relatch::internals::answer::{Caution, Held, TripTime, Wait, WhyNever};
use relatch::internals::predict::{Outcome, Warning};
use relatch::internals::present::plot::moving::moving;
use relatch::internals::present::plot::{Figure, Theme, figures};

#[test]
fn every_figure_there_is_data_for_and_no_other() {
    let stems = |outcome| -> Vec<&str> { figures(&outcome).iter().map(|f| f.stem).collect() };
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
    assert!(stems(fabricated::blade()).contains(&"snap"));
}

#[test]
fn every_colour_has_a_dark_one() {
    for outcome in [
        fabricated::latch(),
        fabricated::blade(),
        fabricated::winding(),
    ] {
        for figure in figures(&outcome) {
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
        for figure in figures(&outcome) {
            assert_nothing_reaches_the_edge(&figure);
        }
    }
}

#[test]
fn an_svg_needs_no_font_and_tells_what_it_shows() {
    for outcome in [fabricated::latch(), fabricated::blade()] {
        for figure in figures(&outcome) {
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
    let figure = figures(&fabricated::latch()).swap_remove(0);
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
    let again = figures(&fabricated::latch()).swap_remove(0);
    assert_eq!(again.svg, figure.svg);
    assert_eq!(again.png().unwrap(), png);
}

#[test]
fn strange_titles_do_not_break_the_drawing() {
    let mut outcome = fabricated::latch();
    outcome.scenario = format!("<b>\u{7}&\"' {}", "very long ".repeat(60));
    assert_eq!(figures(&outcome).len(), 11);
}

#[test]
fn numbers_that_are_not_finite_do_not_break_the_drawing() {
    let mut outcome = fabricated::latch();
    outcome.series[40].strip_peak_c = f64::NAN;
    outcome.preload_shift[1].trip_point = Held::UpTo(f64::NAN.into());
    outcome.part.release_deflection_mm = f64::INFINITY;
    if let Some(curve) = &mut outcome.characteristic {
        curve.cold[20].time = TripTime::After(f64::NAN.into());
        curve.limits[1].demand.at_most_s = Some(f64::INFINITY);
    }
    for figure in figures(&outcome) {
        assert!(figure.png().unwrap().len() > 5_000, "{}", figure.stem);
    }
}

#[test]
fn a_run_of_very_many_heatings_is_cut_and_says_so() {
    let mut outcome = fabricated::blade();
    let once = outcome.series.clone();
    for n in 1..3 {
        outcome.series.extend(once.iter().cloned().map(|mut s| {
            s.time_s += 407.0 * f64::from(n);
            s
        }));
    }
    let description = |outcome: &_| figures(outcome).swap_remove(0).description;
    assert!(
        description(&outcome).contains("heatings 1 to 12 of 27"),
        "{}",
        description(&outcome)
    );
    // What the reader looks for is the release, however late it comes.
    for event in &mut outcome.events {
        event.time_s += 407.0 * 2.0;
    }
    assert!(
        description(&outcome).contains("heatings 8 to 19 of 27"),
        "{}",
        description(&outcome)
    );
    assert!(!description(&fabricated::blade()).contains("heatings"));
}

/// The figure of a stem.
fn of(
    outcome: &relatch::internals::predict::Outcome,
    stem: &str,
) -> relatch::internals::present::plot::Figure {
    let all = figures(outcome);
    all.into_iter().find(|f| f.stem == stem).unwrap()
}

/// Any of them may travel alone: what the record warns of goes with each, in the drawing briefly and
/// in the description in full.
#[test]
fn every_figure_carries_what_its_record_warns_of() {
    let late = |mut outcome: Outcome| {
        outcome.cautions.push(Caution::NotProtected);
        outcome
    };
    let outcomes = [
        late(fabricated::latch()),
        late(fabricated::holds()),
        late(fabricated::blade()),
        late(fabricated::winding()),
    ];
    for outcome in outcomes {
        let film = fabricated::film(&outcome);
        for figure in figures(&outcome) {
            let stem = figure.stem;
            assert!(
                figure.svg.contains(">! LATE: the equipment is not"),
                "{stem}"
            );
            assert!(figure.svg.contains("Find the cause first"), "{stem}");
            let full = "Find the cause before switching on again";
            assert!(figure.description.contains(full), "{stem}");
            assert_nothing_reaches_the_edge(&figure);
            let by_itself = outcome.part.resets_itself();
            let starts = "The machine may start by itself";
            assert_eq!(figure.description.contains(starts), by_itself, "{stem}");
        }
        let mut outcome = outcome;
        outcome.film = Some(film);
        if let Some(film) = moving(&outcome, Theme::Light).expect("drawn") {
            assert!(film.svg.contains("LATE: ") && film.description.contains("LATE: "));
        }
    }
    for figure in figures(&fabricated::latch()) {
        assert!(!figure.svg.contains("LATE"), "{}", figure.stem);
    }
}

#[test]
fn what_never_comes_lies_in_a_lane_at_the_top() {
    let mut outcome = fabricated::latch();
    assert!(!of(&outcome, "preload_shift").svg.contains(">NEVER<"));
    outcome.preload_shift[0].trip_time = TripTime::HoldsForEver;
    let figure = of(&outcome, "preload_shift");
    let before = figure.svg.split(">NEVER<").next().unwrap();
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
        .find(|s| s.moment == relatch::internals::predict::Moment::Release);
    let pairs = cold.y_mm.iter().zip(&bent.unwrap().y_mm);
    let most = pairs.map(|(a, b)| (b - a).abs()).fold(0.0, f64::max);
    let words = format!(
        "moves {} mm between",
        relatch::internals::present::significant(most, 3)
    );
    assert!(of(&outcome, "drawn_strip").svg.contains(&words), "{words}");
}

#[test]
fn the_load_of_the_run_is_marked_on_the_characteristic() {
    let outcome = fabricated::latch();
    let release = outcome.trip.release().unwrap();
    let current = relatch::internals::present::significant(release.current_a, 3);
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

/// Brightness of squares of ten pixels, 0 to 255.
fn squares(picture: &resvg::tiny_skia::Pixmap) -> Vec<f64> {
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    let bright = |x: usize, y: usize| {
        let p = picture.pixels()[y * width + x];
        (f64::from(p.red()) + f64::from(p.green()) + f64::from(p.blue())) / 3.0
    };
    let square = |left, top| {
        let points = (0..100).map(|k| bright(left + k % 10, top + k / 10));
        points.sum::<f64>() / 100.0
    };
    let tops = (0..height / 10).map(|y| 10 * y);
    tops.flat_map(|top| (0..width / 10).map(move |x| (10 * x, top)))
        .map(|(left, top)| square(left, top))
        .collect()
}

/// The same without its words.
fn wordless(figure: &Figure) -> Figure {
    let mut pieces = figure.svg.split("<text ");
    let mut svg = pieces.next().unwrap().to_owned();
    for piece in pieces {
        svg += piece.split_once("</text>").unwrap().1;
    }
    let mut wordless = figure.clone();
    wordless.svg = svg;
    wordless
}

/// resvg reads the same SVG on its own. Lines, areas and discs are where they are; it moves some
/// pairs of letters together, so the words of a long line may stand a little to the side.
#[test]
fn pictures_are_what_another_renderer_makes_of_the_svg() {
    use resvg::tiny_skia::{Pixmap, Transform};
    use resvg::usvg::{Options, Tree, fontdb};
    let mut fonts = fontdb::Database::new();
    fonts.load_font_data(dejavu::sans::regular().to_vec());
    fonts.load_font_data(dejavu::sans::bold().to_vec());
    let options = Options {
        fontdb: std::sync::Arc::new(fonts),
        ..Options::default()
    };
    let apart = |figure: &Figure| -> Vec<f64> {
        let ours = Pixmap::decode_png(&figure.png().unwrap()).unwrap();
        let tree = Tree::from_str(&figure.svg, &options).unwrap();
        let scale = ours.width() as f32 / tree.size().width();
        let mut theirs = Pixmap::new(ours.width(), ours.height()).unwrap();
        let scale = Transform::from_scale(scale, scale);
        resvg::render(&tree, scale, &mut theirs.as_mut());
        let both = squares(&ours).into_iter().zip(squares(&theirs));
        both.map(|(a, b)| (a - b).abs()).collect()
    };
    let (latch, blade) = (fabricated::latch(), fabricated::blade());
    for figure in figures(&latch).into_iter().chain(figures(&blade)) {
        let lines = apart(&wordless(&figure));
        let most = lines.iter().copied().fold(0.0, f64::max);
        assert!(most < 8.0, "{}: {most}", figure.stem);
        let words = apart(&figure);
        let far = words.iter().filter(|d| **d > 20.0).count();
        assert!(100 * far < words.len(), "{}: {far}", figure.stem);
    }
}

/// The number of an attribute of the first element that holds `words`.
fn number_at(svg: &str, words: &str, attribute: &str) -> f64 {
    let before = svg.split(words).next().unwrap();
    let element = &before[before.rfind('<').unwrap()..];
    let value = element.split(&format!(" {attribute}=\"")).nth(1).unwrap();
    value[..value.find('"').unwrap()].parse().unwrap()
}

#[test]
fn the_label_of_the_own_load_stands_off_its_ring() {
    let figure = of(&fabricated::latch(), "characteristic");
    let label = ["x", "y"].map(|a| number_at(&figure.svg, ">this load: ", a));
    // The ring is drawn as a disc with a smaller one in it.
    let ring = figure.svg.find("r=\"17\"").unwrap();
    let element = &figure.svg[figure.svg[..ring].rfind('<').unwrap()..];
    let centre = ["cx", "cy"].map(|a| {
        let value = element.split(&format!(" {a}=\"")).nth(1).unwrap();
        value[..value.find('"').unwrap()].parse::<f64>().unwrap()
    });
    let start = figure.svg.find(">this load: ").unwrap();
    let text = &figure.svg[start + 1..];
    let letters = text[..text.find('<').unwrap()].trim().chars().count() as f64;
    // A letter is about 0.6 em wide, and the text is centred on its height.
    let (right, middle) = (label[0] + 0.6 * 31.0 * letters, label[1]);
    let across = (label[0] - centre[0]).max(centre[0] - right).max(0.0);
    let up = ((middle - centre[1]).abs() - 16.0).max(0.0);
    assert!(across.hypot(up) >= 17.0, "{label:?} {centre:?}");
}

#[test]
fn the_hot_curve_says_after_which_current() {
    let outcome = fabricated::latch();
    let curve = outcome.characteristic.as_ref().unwrap();
    let before = curve.hot_fraction * outcome.part.rated_current_a;
    let words = format!(
        "after {} A (",
        relatch::internals::present::significant(before, 3)
    );
    let svg = of(&outcome, "characteristic").svg;
    assert!(svg.contains(&words), "{words}");
}

#[test]
fn a_limit_for_other_air_is_grey() {
    let mut outcome = fabricated::latch();
    let plum = |outcome: &_| of(outcome, "characteristic").svg.matches("#862668").count();
    let before = plum(&outcome);
    outcome.characteristic.as_mut().unwrap().ambient_c = 53.0;
    assert!(plum(&outcome) < before, "{before}");
    assert!(
        of(&outcome, "characteristic")
            .svg
            .contains("Grey limits are for other air")
    );
}

#[test]
fn all_bands_of_heat_stand_in_the_key() {
    let svg = of(&fabricated::latch(), "heat_flow").svg;
    for name in [
        "into the wires at the terminals",
        "convection to the air",
        "radiation",
        "moving contact to the air",
        "stored: warms the metal",
        "electrical power",
    ] {
        // The key stands below the panels and is drawn first.
        let y = number_at(&svg, &format!(">{name}<"), "y");
        assert!(y > 1300.0, "{name} {y}");
    }
}

#[test]
fn a_page_can_read_axes_and_lines_off_the_svg() {
    for figure in figures(&fabricated::latch()) {
        if figure.stem == "drawn_strip" {
            continue;
        }
        let panels: Vec<&str> = figure.svg.split("<g class=\"panel\"").skip(1).collect();
        assert!(!panels.is_empty(), "{}", figure.stem);
        for panel in panels {
            let head = &panel[..panel.find('>').unwrap()];
            let number = |name: &str| -> f64 {
                let value = head.split(&format!(" data-{name}=\"")).nth(1).unwrap();
                value[..value.find('"').unwrap()].parse().unwrap()
            };
            assert!(number("left") < number("right") && number("top") < number("bottom"));
            assert!(number("x-min") < number("x-max") && number("y-min") < number("y-max"));
            assert!(head.contains("data-x-scale=\"") && head.contains("data-y-title=\""));
        }
    }
    let svg = of(&fabricated::latch(), "characteristic").svg;
    assert!(svg.contains("<g class=\"series\" data-series=\"cold start\">"));
}

#[test]
fn a_run_that_is_idle_for_most_of_its_time_leaves_that_out() {
    use relatch::internals::predict::{Event, EventRecord};
    let mut outcome = fabricated::latch();
    let end_s = outcome.series.last().unwrap().time_s;
    let again_s = 20.0 * end_s;
    let later = outcome.series.iter().cloned().map(|mut s| {
        s.time_s += again_s;
        s
    });
    let later: Vec<_> = later.collect();
    outcome.series.extend(later);
    let svg = |outcome: &_| of(outcome, "time_course").svg;
    assert!(!svg(&outcome).contains("Time since the reset"));
    let event = |event, time_s| made!(EventRecord { event, time_s });
    outcome.events.push(event(Event::Reset, again_s));
    outcome.events.push(event(Event::End, again_s + end_s));
    let split = svg(&outcome);
    assert!(split.contains("Time since the reset, s"), "{split}");
    assert!(split.contains("Time since the load started, s"));
}

#[test]
fn the_drawn_strip_shows_what_it_releases() {
    let words = "latch and spring sketched";
    assert!(of(&fabricated::latch(), "drawn_strip").svg.contains(words));
    assert!(!of(&fabricated::blade(), "drawn_strip").svg.contains(words));
}

/// Where the rating lies close below the trip point, the words of neither cover the line of the
/// other.
#[test]
fn words_along_an_upright_keep_off_its_neighbour() {
    let mut outcome = fabricated::latch();
    let rated = outcome.part.rated_current_a;
    let curve = outcome.characteristic.as_mut().unwrap();
    let x_of = |svg: &str, words: &str| -> f64 {
        let before = svg.split(words).next().unwrap();
        let element = &before[before.rfind("<text").unwrap()..];
        let value = element.split(" x=\"").nth(1).unwrap();
        value[..value.find('"').unwrap()].parse().unwrap()
    };
    curve.trip_point = Held::UpTo((1.3 * rated).into());
    let apart = of(&outcome, "characteristic").svg;
    let curve = outcome.characteristic.as_mut().unwrap();
    curve.trip_point = Held::UpTo((1.02 * rated).into());
    let close = of(&outcome, "characteristic").svg;
    let gap = |svg: &str| x_of(svg, ">trip point ") - x_of(svg, ">rated ");
    assert!(gap(&close) > 1.4 * 31.0, "{} {}", gap(&close), gap(&apart));
}

/// Panels of a figure: their highest values upwards.
fn tops(svg: &str) -> Vec<f64> {
    let heads = svg.split(" data-y-max=\"").skip(1);
    heads
        .map(|h| h[..h.find('"').unwrap()].parse().unwrap())
        .collect()
}

#[test]
fn a_rush_of_current_does_not_press_the_heat_of_the_rest_against_the_axis() {
    let mut outcome = fabricated::latch();
    assert_eq!(tops(&of(&outcome, "heat_flow").svg).len(), 1);
    let release_s = outcome.trip.time_s().unwrap();
    for flow in &mut outcome.heat {
        if flow.time_s < 0.1 * release_s {
            flow.electrical_w *= 30.0;
            flow.stored_w *= 30.0;
        }
    }
    let tops = tops(&of(&outcome, "heat_flow").svg);
    assert!(tops.len() > 1 && tops[0] > 10.0 * tops[1], "{tops:?}");
}

/// Where nothing of a quantity is a number there is no panel of it; its word says so instead, and
/// no number is called missing that is drawn.
#[test]
fn a_quantity_that_is_never_a_number_is_said_below() {
    let mut outcome = fabricated::latch();
    for row in &mut outcome.preload_shift {
        row.relatch_wait = Wait::Never {
            why: WhyNever::StaysWarm,
        };
    }
    let svg = of(&outcome, "preload_shift").svg;
    let said = "Wait for the reset: NEVER everywhere (at this ambient it does not cool enough";
    assert!(svg.contains(said), "{svg}");
    assert!(!svg.contains("no number") && !svg.contains("Wait for the reset, s"));
    outcome.preload_shift[2].trip_point = Held::StaysOpen;
    let svg = of(&outcome, "preload_shift").svg;
    assert!(svg.contains("Trip point: no number at 20 % ("), "{svg}");
}

#[test]
fn what_trips_at_once_lies_in_a_lane_at_the_foot_and_is_no_nought() {
    let mut outcome = fabricated::latch();
    assert!(!of(&outcome, "preload_shift").svg.contains(">at once<"));
    outcome.preload_shift[0].trip_time = TripTime::AtOnce;
    outcome.premature_reset[1].trips_again_after = TripTime::AtOnce;
    for stem in ["preload_shift", "memory"] {
        let svg = of(&outcome, stem).svg;
        assert!(svg.contains(">at once<"), "{stem}");
        let lane = number_at(&svg, ">at once<", "y");
        let ends = svg.split(" data-bottom=\"").skip(1);
        let mut ends = ends.map(|p| p[..p.find('"').unwrap()].parse::<f64>().unwrap());
        assert!(ends.any(|end| (lane - end - 31.0).abs() < 2.0), "{stem}");
    }
    for row in &mut outcome.preload_shift {
        row.trip_time = TripTime::AtOnce;
    }
    let svg = of(&outcome, "preload_shift").svg;
    assert!(
        svg.contains("Trip time, this load: at once everywhere"),
        "{svg}"
    );
}

#[test]
fn moments_that_coincide_are_drawn_once() {
    let mut outcome = fabricated::latch();
    let count = |outcome: &_| {
        of(outcome, "strip_shape")
            .description
            .matches(" at ")
            .count()
    };
    let apart = count(&outcome);
    let first_s = outcome.shapes[0].time_s;
    outcome.shapes[1].time_s = first_s;
    assert_eq!(count(&outcome), apart - 1);
}

#[test]
fn what_creeps_is_not_said_to_snap() {
    let mut outcome = fabricated::blade();
    outcome.warnings.push(Warning::Creeps);
    assert!(figures(&outcome).iter().all(|f| f.stem != "snap"));
}

/// Lines of words of a figure, in order.
fn lines(svg: &str) -> Vec<&str> {
    let texts = svg.split("<text ").skip(1);
    let texts = texts.filter_map(|t| t.split_once('>')?.1.split_once("</text>"));
    texts.map(|t| t.0).collect()
}

#[test]
fn a_number_keeps_its_unit_in_figures() {
    use relatch::internals::present::plot::{Print, Size};
    let print = Print {
        size: Size::Column,
        ..Print::default()
    };
    let units = ["s", "A", "°C", "mm", "%", "x", "min", "h"];
    let outcomes = [
        fabricated::latch(),
        fabricated::blade(),
        fabricated::winding(),
    ];
    for figure in outcomes.iter().flat_map(figures) {
        let figure = figure.printed(&print);
        for pair in lines(&figure.svg).windows(2) {
            let is_number = pair[0].ends_with(|c: char| c.is_ascii_digit());
            let next = pair[1].split([' ', ';', ',', '.', ')']).next();
            // Letters of limits and numbers of an axis are no broken line.
            let is_broken = pair[0].contains(' ') && is_number && pair[1].contains(' ');
            assert!(
                !is_broken || !units.contains(&next.unwrap_or_default()),
                "{} {pair:?}",
                figure.stem
            );
        }
    }
}
