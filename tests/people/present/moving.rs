use super::fabricated;
use crate::support::{made, shipped};
use relatch::internals::predict::{Options, predict};
use relatch::internals::present::plot::Theme;
use relatch::internals::present::plot::moving::{moving, moving_of_width, strike_of_width};

#[test]
fn no_frames_no_moving_picture() {
    assert!(
        moving(&fabricated::latch(), Theme::Light)
            .unwrap()
            .is_none()
    );
}

#[test]
fn gif_and_svg_show_the_same_frames_for_the_same_time() {
    let mut outcome = fabricated::latch();
    outcome.film = Some(fabricated::film(&outcome));
    let film = moving(&outcome, Theme::Light).unwrap().unwrap();
    let frames = outcome
        .film
        .as_ref()
        .map_or(0, |f| f.heating.len() + f.cooling.len());
    assert!(film.gif.len() < 3_000_000 && film.svg.len() < 3_000_000);

    let mut options = gif::DecodeOptions::new();
    options.set_color_output(gif::ColorOutput::Indexed);
    let mut decoder = options.read_info(film.gif.as_slice()).unwrap();
    // A strip of cautions makes it a little higher than the sheet.
    let (width, height) = (decoder.width(), decoder.height());
    assert!(width == 960 && (612..660).contains(&height), "{height}");
    let (mut count, mut shown_cs) = (0, 0);
    while let Some(frame) = decoder.read_next_frame().unwrap() {
        count += 1;
        shown_cs += u32::from(frame.delay);
        assert!(frame.left + frame.width <= 960 && frame.top + frame.height <= height);
    }
    assert_eq!(count, frames);
    assert!((0.01 * f64::from(shown_cs) - film.duration_s).abs() < 1e-9);

    assert!(film.svg.contains("<text") && !film.svg.contains("NaN"));
    let length = format!("dur=\"{:.2}s\"", film.duration_s);
    let clocks = film.svg.matches("<animate ").count();
    assert_eq!(film.svg.matches(&length).count(), clocks);
    // The strip, the numbers and the marks of every frame have a clock of their own.
    assert!(clocks > 3 * frames, "{clocks}");
    // Something is shown without a clockwork, too.
    assert!(film.svg.matches("display=\"inline\"").count() > 5);
    let attribute = |text: &str| text[..text.find('"').unwrap()].to_owned();
    let values = film.svg.split(" values=\"").skip(1).map(attribute);
    let times = film.svg.split(" keyTimes=\"").skip(1).map(attribute);
    for (values, times) in values.zip(times) {
        let times: Vec<f64> = times.split(';').map(|t| t.parse().unwrap()).collect();
        assert_eq!(values.split(';').count(), times.len());
        assert_eq!(times[0], 0.0);
        assert!(times.windows(2).all(|p| p[0] < p[1]) && times.iter().all(|t| *t < 1.0));
    }
    assert!(
        film.description.contains("12.5 pictures a second"),
        "{}",
        film.description
    );
    assert!(
        film.description.contains("faster than life"),
        "{}",
        film.description
    );
}

#[test]
fn the_same_film_every_time_and_small_ones_too() {
    let mut outcome = fabricated::blade();
    outcome.film = Some(fabricated::film(&outcome));
    let first = moving_of_width(&outcome, Theme::Dark, 320)
        .unwrap()
        .unwrap();
    let again = moving_of_width(&outcome, Theme::Dark, 320)
        .unwrap()
        .unwrap();
    assert_eq!(first.gif, again.gif);
    assert_eq!(first.svg, again.svg);
}

#[test]
fn who_asks_for_less_motion_sees_the_moment_of_release() {
    let mut outcome = fabricated::latch();
    outcome.film = Some(fabricated::film(&outcome));
    let svg = moving(&outcome, Theme::Light).unwrap().unwrap().svg;
    assert!(svg.contains("@media (prefers-reduced-motion: reduce)"));
    assert!(svg.contains(".still{display:inline!important}.moves{display:none!important}"));
    // What stands without a clockwork stands there too, and nothing else.
    assert_eq!(
        svg.matches("class=\"still\" display=\"inline\"").count(),
        svg.matches("display=\"inline\"").count()
    );
    assert_eq!(
        svg.matches("class=\"moves\" display=\"none\"").count(),
        svg.matches("display=\"none\"").count()
    );
}

#[test]
fn hardly_any_current_is_no_load_carried() {
    let mut outcome = fabricated::latch();
    let mut film = fabricated::film(&outcome);
    let says = |outcome: &_| {
        let svg = moving(outcome, Theme::Light).unwrap().unwrap().svg;
        svg.contains("hardly any current")
    };
    outcome.film = Some(film.clone());
    assert!(!says(&outcome));
    film.heating[2].state.current_a = 0.2;
    outcome.film = Some(film);
    assert!(says(&outcome));
}

#[test]
fn a_film_of_a_trip_says_to_find_the_cause_first() {
    let caution = "Find the cause before switching on again";
    let mut outcome = fabricated::latch();
    outcome.film = Some(fabricated::film(&outcome));
    let film = moving(&outcome, Theme::Light).unwrap().unwrap();
    assert!(film.svg.contains(">! Find the cause first"));
    assert!(film.description.contains(caution));
}

/// A disc is called one.
#[test]
fn the_film_of_a_disc_speaks_of_a_disc() {
    let scenario = shipped("17-pump-motor-disc.toml");
    let options = made!(Options {
        film: true,
        ..Options::default()
    });
    let outcome = predict(&scenario, &options, &mut |_, _| {}).unwrap();
    let shown = moving(&outcome, Theme::Light).unwrap().unwrap();
    assert!(
        !shown.description.contains("strip"),
        "{}",
        shown.description
    );
    assert!(!shown.svg.contains(">Strip") && shown.svg.contains(">Disc"));
    // It closes by itself, and what it starts may be under somebody's hands.
    assert!(
        shown
            .svg
            .contains("It may start by itself: switch off, lock.")
    );
}

#[test]
fn sentences_about_a_strike_begin_like_sentences() {
    let scenario = shipped("15-theatre-saw.toml");
    let options = made!(Options {
        film: true,
        ..Options::default()
    });
    let mut outcome = predict(&scenario, &options, &mut |_, _| {}).unwrap();
    for met in [true, false] {
        if let Some(strike) = outcome.strike.as_mut().filter(|_| !met) {
            strike.strike_s = None;
        }
        let film = strike_of_width(&outcome, Theme::Light, 480)
            .unwrap()
            .expect("a strike");
        let mut sentences = film.description.split(". ").map(|s| s.chars().next());
        let is_small = |first: Option<char>| first.is_some_and(char::is_lowercase);
        assert!(!sentences.any(is_small), "{}", film.description);
        assert_eq!(film.description.contains("meets the trigger after"), met);
    }
}
