//! Times as people write them.

use relatch::internals::evidence::*;

#[test]
fn times_are_read_as_people_write_them() {
    for (text, expected_s) in [
        ("8.3 min", 498.0),
        ("about 40 s", 40.0),
        ("~40s", 40.0),
        ("ca. 2 h", 7200.0),
        ("19,8s", 19.8),
        ("1m10", 70.0),
        ("1m10s", 70.0),
        ("1 min 10 s", 70.0),
        ("2 h 5 min", 7500.0),
        ("2h05", 7500.0),
        ("0:07", 7.0),
        ("12:03,2", 723.2),
        ("1:02:11", 3731.0),
        ("350 ms", 0.35),
        ("1 day", 86_400.0),
        ("40 s +- 3 s", 40.0),
        ("3 min.", 180.0),
    ] {
        let read = read_time(text).unwrap_or_else(|e| panic!("{text}: {e:?}"));
        assert!((read.value - expected_s).abs() < 1e-9, "{text}: {read:?}");
    }
}

#[test]
fn uncertainty_comes_from_the_hand_the_last_digit_and_the_word() {
    let u = |text| read_time(text).expect("a time").standard_uncertainty;
    assert!((u("19.8 s") - 0.25f64.hypot(0.05 / 3f64.sqrt())).abs() < 1e-12);
    assert!((u("8.3 min") - 0.25f64.hypot(3.0 / 3f64.sqrt())).abs() < 1e-12);
    assert!(u("about 40 s") > 8.0 && u("about 40 s") < 8.1);
    assert_eq!(u("40 s +- 3 s"), 3.0);
    assert_eq!(u("40 s +- 5 %"), 2.0);
    assert_eq!(u("0:07"), u("7 s"));
}

#[test]
fn what_is_no_time_is_refused() {
    for text in [
        "",
        "40",
        "-3 s",
        "about",
        "1,204 s",
        "0:75",
        "1:2:3:4",
        "3 A",
        "10 s 3 min",
        "NaN s",
        "inf s",
        "1e999 s",
        "cold",
        "s",
        ":",
        "1.5:30",
        "1 ms 3",
        "..",
        "9 9",
    ] {
        assert!(read_time(text).is_err(), "{text}: {:?}", read_time(text));
    }
}
