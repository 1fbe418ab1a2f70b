//! Materials as a person may write them, right and wrong.

use relatch::internals::diagnostic::Report;
use relatch::internals::document::Document;
use relatch::internals::material::{Alloy, ExpansionKind, Law, read_alloy};

/// The low side of a worked example: linear laws in `u = T - 20 degC`.
const LOW_SIDE: &str = r#"
[[alloy]]
name = "low side"
[alloy.density]
value = "8100 kg/m3"
[alloy.youngs_modulus]
value = "145 GPa +- 3 %"
[alloy.resistivity]
value = "0.80 uohm m"
temperature_coefficient = "1.2e-3 1/K"
reference = "20 degC"
[alloy.conductivity]
polynomial = ["10.5 W/(m K)", "0.010 W/(m K2)"]
reference = "20 degC"
[alloy.specific_heat]
polynomial = ["515 J/(kg K)", "0.25 J/(kg K2)"]
reference = "20 degC"
[alloy.expansion]
kind = "instantaneous"
polynomial = ["1.2e-6 1/K", "8e-9 1/K2"]
reference = "20 degC"
range = ["-60 degC", "400 degC"]
"#;

fn read(text: &str) -> Result<Option<Alloy>, Report> {
    let document = Document::parse("low.toml", text);
    let root = document.root();
    let alloy = root.tables("alloy").first().and_then(read_alloy);
    root.finish();
    document.finish()?;
    Ok(alloy)
}

fn low_side() -> Alloy {
    read(LOW_SIDE).map_err(|r| r.to_string()).unwrap().unwrap()
}

/// What the report says of the low side after a change.
fn report(from: &str, to: &str) -> String {
    assert!(LOW_SIDE.contains(from), "{from}");
    match read(&LOW_SIDE.replacen(from, to, 1)) {
        Ok(_) => String::new(),
        Err(report) => report.to_string(),
    }
}

#[test]
fn an_inline_alloy_is_the_one_written() {
    let a = low_side();
    let t_k = 393.15;
    let close = |value: f64, expected: f64| {
        assert!((value / expected - 1.0).abs() < 1e-12, "{value} {expected}")
    };
    close(a.density.at(t_k), 8100.0);
    close(a.resistivity.at(t_k), 0.80e-6 * 1.12);
    close(a.conductivity.at(t_k), 11.5);
    close(a.specific_heat.at(t_k), 540.0);
    close(
        a.expansion.strain_with_slope(293.15, t_k).0,
        1.2e-6 * 100.0 + 4e-9 * 1e4,
    );
    assert_eq!(a.expansion.kind, ExpansionKind::Instantaneous);
    assert_eq!(a.poisson_ratio, None);
    assert_eq!(a.youngs_modulus.law, Law::Constant(145e9));
}

#[test]
fn what_is_left_out_has_documented_defaults() {
    let a = low_side();
    assert_eq!(a.density.valid_k, (150.0, 1300.0));
    assert_eq!(a.density.source, "this scenario");
    assert_eq!(a.density.relative_uncertainty, 0.0);
    assert!((a.youngs_modulus.relative_uncertainty - 0.03).abs() < 1e-12);
    assert!(a.expansion.property.within(673.15) && !a.expansion.property.within(674.0));
}

#[test]
fn every_slip_is_named() {
    for (from, to, said) in [
        (
            "[alloy.density]\nvalue = \"8100 kg/m3\"",
            "",
            "lacks `density`",
        ),
        ("value = \"8100 kg/m3\"", "", "lacks `value`"),
        ("\"8100 kg/m3\"", "\"8100 kg\"", "a density belongs here"),
        ("\"8100 kg/m3\"", "8100", "needs a unit"),
        ("\"8100 kg/m3\"", "\"8100 g/cm3\"", "metals weigh"),
        ("\"145 GPa +- 3 %\"", "\"145 MPa\"", "moduli of metals"),
        (
            "reference = \"20 degC\"\n[alloy.conductivity]",
            "[alloy.conductivity]",
            "lacks `reference`",
        ),
        (
            "polynomial = [\"515",
            "value = \"515 J/(kg K)\"\npolynomial = [\"515",
            "only one of `value`, `polynomial`",
        ),
        (
            "kind = \"instantaneous\"",
            "kind = \"mean\"",
            "lacks `from`",
        ),
        (
            "kind = \"instantaneous\"",
            "kind = \"secant\"",
            "allowed: \"mean\", \"instantaneous\"",
        ),
        (
            "[\"-60 degC\", \"400 degC\"]",
            "[\"400 degC\", \"-60 degC\"]",
            "two rising temperatures",
        ),
        (
            "value = \"8100 kg/m3\"",
            "table = [[\"50 degC\", \"8 g/cm3\"], [\"20 degC\", \"8 g/cm3\"]]",
            "must increase",
        ),
        (
            "value = \"8100 kg/m3\"",
            "table = [[\"50 degC\", \"8 g/cm3\"]]",
            "at least two points",
        ),
        (
            "\"0.010 W/(m K2)\"",
            "\"-0.02 W/(m K2)\"",
            "the conductivity would be",
        ),
        ("\"0.010 W/(m K2)\"", "\"0.010 W/(m K)\"", "conductivity"),
        ("name = \"low side\"", "", "lacks `name`"),
        (
            "temperature_coefficient = \"1.2e-3 1/K\"\n",
            "",
            "`reference` belongs to",
        ),
        (
            "kind = \"instantaneous\"",
            "kind = \"instantaneous\"\nfrom = \"20 degC\"",
            "`from` belongs to",
        ),
    ] {
        let text = report(from, to);
        assert!(
            text.contains(said),
            "{from} -> {to}: {said:?} is missing in\n{text}"
        );
        assert!(
            text.ends_with("1 problem in low.toml"),
            "{from} -> {to}\n{text}"
        );
    }
}

#[test]
fn all_slips_of_a_file_are_reported_together() {
    let text = LOW_SIDE
        .replace("8100 kg/m3", "8100")
        .replace("0.80 uohm m", "0.80 m");
    let report = read(&text).unwrap_err();
    assert_eq!(report.problems().len(), 2, "{report}");
}

#[test]
fn a_misspelt_property_is_missing_and_its_likely_name_is_offered() {
    let text = report("[alloy.density]", "[alloy.densty]");
    assert!(
        text.contains("lacks `density`") && text.contains("did you mean `density`?"),
        "{text}"
    );
    assert!(text.ends_with("2 problems in low.toml"), "{text}");
}
