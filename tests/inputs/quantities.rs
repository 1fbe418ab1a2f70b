//! Reading and printing.

use Dimension as D;
use relatch::internals::quantity::*;

fn si(text: &str, d: Dimension) -> f64 {
    match Quantity::read(text, d) {
        Ok(q) => q.value_si,
        Err(e) => panic!("{text}: {e}"),
    }
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-12 * b.abs()
}

#[test]
fn every_form_people_write_is_read() {
    #[rustfmt::skip]
    let cases = [
        ("0.20 mm", D::Length, 0.20e-3), ("22mm", D::Length, 0.022), ("40 mm", D::Length, 0.04), ("1 in", D::Length, 0.0254),
        ("31 degC", D::Temperature, 304.15), ("31 \u{b0}C", D::Temperature, 304.15), ("-20 degC", D::Temperature, 253.15),
        ("\u{2212}20 degC", D::Temperature, 253.15), ("298.15 K", D::Temperature, 298.15), ("77 degF", D::Temperature, 298.15),
        ("5 K", D::TemperatureDifference, 5.0),
        ("0.80 uohm m", D::Resistivity, 0.8e-6), ("0.80 \u{b5}\u{3a9}\u{b7}m", D::Resistivity, 0.8e-6),
        ("0.80 \u{3bc}\u{2126} m", D::Resistivity, 0.8e-6), ("80 uohm cm", D::Resistivity, 0.8e-6), ("0.8 ohm mm2/m", D::Resistivity, 0.8e-6),
        ("10.5 W/(m K)", D::Conductivity, 10.5), ("10.5 W/(m*K)", D::Conductivity, 10.5), ("10.5 W m^-1 K^-1", D::Conductivity, 10.5),
        ("10.5 W/m/K", D::Conductivity, 10.5), ("1.2e-6 1/K", D::PerKelvin, 1.2e-6), ("1.2 ppm/K", D::PerKelvin, 1.2e-6),
        ("0.39 %/K", D::PerKelvin, 0.39e-2), ("2 %", D::Fraction, 0.02), ("0.8", D::Fraction, 0.8), ("5 N", D::Force, 5.0),
        ("0.060 W/K", D::Conductance, 0.06), ("2.0 J/K", D::HeatCapacity, 2.0), ("1 h", D::Time, 3600.0), ("90 s", D::Time, 90.0),
        ("250 ms", D::Time, 0.25), ("1.5 min", D::Time, 90.0), ("145 GPa", D::Pressure, 145e9), ("350 N/mm2", D::Pressure, 350e6),
        ("8100 kg/m3", D::Density, 8100.0), ("8.1 g/cm3", D::Density, 8100.0), ("8.1 g/cm\u{b3}", D::Density, 8100.0),
        ("2 A", D::Current, 2.0), ("300 mA", D::Current, 0.3), ("1 mohm", D::Resistance, 1e-3), ("1 m\u{3a9}", D::Resistance, 1e-3),
        ("2.5 mm2", D::Area, 2.5e-6), ("2.5 mm^2", D::Area, 2.5e-6), ("2.5 mm\u{b2}", D::Area, 2.5e-6),
        ("500 J/(kg K)", D::SpecificHeat, 500.0), ("0.5 J/(g K)", D::SpecificHeat, 500.0), ("5 m/s", D::Speed, 5.0),
        ("10 W/(m2 K)", D::FilmCoefficient, 10.0), ("400 N/mm", D::Stiffness, 4e5), ("0 1/m", D::Curvature, 0.0), ("90 mV", D::Voltage, 0.09),
        ("  +1e2  mm ", D::Length, 0.1), (".5 mm", D::Length, 0.5e-3), ("5. mm", D::Length, 5e-3), ("21e6 psi", D::Pressure, 21e6 * 6894.757293168361),
    ];
    for (text, dimension, expected) in cases {
        let got = si(text, dimension);
        assert!(near(got, expected), "{text}: {got} against {expected}");
    }
}

#[test]
fn polynomial_coefficients_are_divided_by_kelvin() {
    let q = Quantity::read_per_kelvin("0.010 W/(m K2)", D::Conductivity, 1);
    assert!(q.is_ok_and(|q| near(q.value_si, 0.010)));
    let q = Quantity::read_per_kelvin("8e-9 1/K2", D::PerKelvin, 1);
    assert!(q.is_ok_and(|q| near(q.value_si, 8e-9)));
    assert!(Quantity::read_per_kelvin("0.010 W/(m K)", D::Conductivity, 1).is_err());
}

#[test]
fn tolerances_are_relative_or_absolute() {
    #[rustfmt::skip]
    let cases = [
        ("0.20 mm +- 2 %", D::Length, 4e-6), ("0.20 mm \u{b1} 2%", D::Length, 4e-6), ("0.20 mm +/- 10 um", D::Length, 10e-6),
        ("25 degC +- 2 K", D::Temperature, 2.0), ("-5 N +- 10 %", D::Force, 0.5), ("0.8 +- 0.02", D::Fraction, 0.02),
        ("80 % +- 5 % of it", D::Fraction, 0.04), ("80 % +- 5 points", D::Fraction, 0.05),
        ("0.8 +- 5 %", D::Fraction, 0.04), ("2 A +- 0 %", D::Current, 0.0),
    ];
    for (text, dimension, expected) in cases {
        let q = Quantity::read(text, dimension);
        let got = q.ok().and_then(|q| q.standard_uncertainty_si);
        assert!(
            got.is_some_and(|u| (u - expected).abs() < 1e-15),
            "{text}: {got:?} against {expected}"
        );
    }
}

#[test]
fn what_is_wrong_is_named() {
    #[rustfmt::skip]
    let cases: [(&str, Dimension, Fault); 17] = [
        ("", D::Length, Fault::Empty),
        ("22", D::Length, Fault::NoUnit),
        ("thin", D::Length, Fault::NoNumber),
        ("1,5 mm", D::Length, Fault::DecimalComma),
        ("13,2,1 A", D::Current, Fault::TwoCommas),
        ("1 000 mm", D::Length, Fault::SpaceInNumber),
        ("nan mm", D::Length, Fault::NotFinite),
        ("-inf mm", D::Length, Fault::NotFinite),
        ("1e999 mm", D::Length, Fault::NotFinite),
        ("5 furlong", D::Length, Fault::UnknownUnit { found: "furlong".into(), nearest: None }),
        ("5 ma", D::Current, Fault::UnknownUnit { found: "ma".into(), nearest: Some("mA".into()) }),
        ("25 C", D::Temperature, Fault::UnknownUnit { found: "C".into(), nearest: Some("degC".into()) }),
        ("5 s", D::Length, Fault::WrongUnit { found: "s".into(), measures: Some(D::Time), meant: None }),
        ("500 J/kg K", D::SpecificHeat, Fault::WrongUnit { found: "J/kg K".into(), measures: None, meant: Some("J/(kg K)".into()) }),
        ("25 degC +- 2 degC", D::Temperature, Fault::DegreesForKelvin),
        ("25 degC +- 2 %", D::Temperature, Fault::RelativeTemperature),
        ("1.5 % +- 0.2 %", D::Fraction, Fault::AmbiguousTolerance(0.2)),
    ];
    for (text, dimension, fault) in cases {
        match Quantity::read(text, dimension) {
            Ok(q) => panic!("{text} was read as {q:?}"),
            Err(e) => assert_eq!(e.fault, fault, "{text}"),
        }
    }
    for text in [
        "5 mm)", "5 (mm", "5 m//s", "5 m^", "5 m10", "5 m^2^2", "5 degC/m",
    ] {
        assert!(Quantity::read(text, D::Length).is_err(), "{text}");
    }
}

#[test]
fn every_unit_offered_is_a_unit_of_its_kind() {
    for d in Dimension::ALL {
        for unit in d.units() {
            assert!(
                Quantity::read(&format!("1 {unit}"), d).is_ok(),
                "{unit} of {d}"
            );
        }
        assert!(Quantity::read(d.example(), d).is_ok(), "example of {d}");
    }
}

proptest::proptest! {
    #[test]
    fn what_is_printed_reads_back(mantissa in 1.0..10.0f64, exponent in -7..7i32, kind in 0..25usize) {
        let d = Dimension::ALL[kind];
        let value = mantissa * 10f64.powi(exponent);
        let text = format_si(value, d);
        let back = Quantity::read(&text, d).map(|q| q.value_si);
        // Six digits are printed; a temperature loses the digits of 273.15.
        let room = 1e-5 * value.abs() + if d == D::Temperature { 3e-3 } else { 0.0 };
        proptest::prop_assert!(back.clone().is_ok_and(|b| (b - value).abs() <= room), "{value} {text} {back:?}");
    }

    #[test]
    fn no_text_panics(text in "[-+0-9.eE %a-zA-Z/()^\u{b5}\u{b0}\u{b1}\u{2212}\u{3a9}\u{b2},]{0,24}", kind in 0..25usize) {
        let d = Dimension::ALL[kind];
        if let Err(e) = Quantity::read(&text, d) {
            proptest::prop_assert!(text.get(e.span.clone()).is_some(), "{text:?} {e:?}");
            proptest::prop_assert!(!e.found().is_empty() && !e.help().is_empty());
        }
    }
}
