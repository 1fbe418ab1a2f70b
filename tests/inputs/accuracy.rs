//! Accuracies of meters.

use relatch::internals::evidence::*;
use relatch::internals::quantity::Dimension;

#[test]
fn sheets_are_read() {
    let read = |text| Accuracy::read(text, Dimension::Current);
    assert_eq!(read("2 % + 5 digits"), Ok(Accuracy::CLAMP));
    assert_eq!(read("\u{b1}(2 % + 5 digits)"), Ok(Accuracy::CLAMP));
    assert_eq!(
        read("1 % + 0.2 A").map(|a| (a.share, a.fixed_si)),
        Ok((0.01, 0.2))
    );
    for wrong in [
        "",
        "good",
        "2",
        "2 % of range",
        "0 %",
        "-1 %",
        "2 % + 1 V",
        "150 %",
    ] {
        assert!(read(wrong).is_err(), "{wrong}");
    }
}

/// A display that shows whole amperes and says so is off by its five digits.
#[test]
fn whole_amperes_of_a_file_were_rounded_unless_the_display_shows_no_more() {
    let u = |more: &str| {
        let text = format!(
            "format = 1\nkind = \"case\"\ntitle = \"kiln\"\n[protector]\nrating = \"10 A\"\n\
             [[reading]]\ncurrent = \"7 A\"\n{more}[[trip]]\nafter = \"8 min\"\n"
        );
        let case = read_text("kiln.toml", &text).unwrap_or_else(|e| panic!("{e}"));
        case.readings[0].current_a.standard_uncertainty
    };
    let of_digits = |digits_a: f64| ((0.14 + digits_a) / 3f64.sqrt()).hypot(0.07);
    assert!((u("") - of_digits(0.5)).abs() < 1e-9);
    assert!((u("digit = \"1 A\"\n") - of_digits(5.0)).abs() < 1e-9);
}

#[test]
fn the_last_digit_is_that_which_is_written() {
    let digit = |text| last_digit(text, Dimension::Current).expect("a digit");
    assert!((digit("11.3 A") - 0.1).abs() < 1e-15);
    assert!((digit("850 mA") - 1e-3).abs() < 1e-15);
    assert_eq!(digit("11 A +- 2 %"), 1.0);
}

/// 2 % and five digits of 0.1 A at 11.3 A are 0.726 A at most; even within that, sqrt 3 less.
#[test]
fn a_limit_is_an_even_spread() {
    let u = Accuracy::CLAMP.standard_uncertainty(11.3, 0.1);
    assert!((u - 0.726 / 3f64.sqrt()).abs() < 1e-12, "{u}");
}
