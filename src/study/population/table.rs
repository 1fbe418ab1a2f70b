//! Every unit's inputs and results as CSV (RFC 4180), written as the units are computed.

use super::Plan;
use super::unit::Answered;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::quantity::Dimension;
use std::fmt::Write;

/// The header: one column an input in SI units (temperatures in degrees Celsius), then the results.
pub fn header(plan: &Plan) -> String {
    let mut line = String::from("unit");
    for input in &plan.inputs.list {
        let unit = match input.place.map(|p| p.dimension()) {
            Some(Dimension::Temperature) => "c",
            Some(dimension) => si_suffix(dimension),
            None => "of_set_time",
        };
        let path = input.path.replace(' ', "_");
        if unit.is_empty() {
            let _ = write!(line, ",{path}");
        } else {
            let _ = write!(line, ",{path}_{unit}");
        }
    }
    line.push_str(",clearance_m,trip_point_a,trip_time_s,relatch_wait_s");
    for (_, current_a) in &plan.bands {
        let _ = write!(line, ",trip_time_at_{current_a:.4}_a_s");
    }
    for row in &plan.limits {
        let after = if row.limit.after_multiple > 0.0 {
            format!("_after_{}x", row.limit.after_multiple)
        } else {
            String::new()
        };
        let poles = row.limit.unequal.map_or(String::new(), |u| {
            let [a, b, c] = u.poles;
            format!("_poles_{a}_{b}_{c}")
        });
        let air = row
            .limit
            .air_c
            .map_or(String::new(), |c| format!("_in_{c}_c"));
        let multiple = row.limit.multiple;
        let _ = write!(line, ",trip_time_at_{multiple}x{after}{poles}{air}_s");
    }
    line.push_str(",asked_alone,note\r\n");
    line
}

/// One unit. Infinite times read "never"; an empty cell has no number.
pub fn row(plan: &Plan, unit: u64, values: &[f64], answered: &Answered, out: &mut String) {
    let _ = write!(out, "{unit}");
    for (input, value) in plan.inputs.list.iter().zip(values) {
        let is_temperature = input.dimension() == Dimension::Temperature;
        number(
            out,
            if is_temperature {
                value - ZERO_CELSIUS_K
            } else {
                *value
            },
        );
    }
    match &answered.finding {
        Ok(f) => {
            let has_clearance = f.clearance_m.is_finite();
            number(
                out,
                if has_clearance {
                    f.clearance_m
                } else {
                    f64::NAN
                },
            );
            number(out, plan.trip_point_a(f));
            number(out, f.times_s[0]);
            number(out, f.waits_s[0]);
            for (carry, _) in &plan.bands {
                number(out, f.times_s[*carry]);
            }
            for limit in &plan.limits {
                number(out, f.times_s[limit.carry]);
            }
            let _ = write!(out, ",{},", if answered.alone { "yes" } else { "no" });
        }
        Err(reason) => {
            let empty = 4 + plan.bands.len() + plan.limits.len();
            out.extend(std::iter::repeat_n(',', empty));
            let quoted = reason.replace('"', "\"\"").replace(['\r', '\n'], " ");
            let _ = write!(out, ",yes,\"{quoted}\"");
        }
    }
    out.push_str("\r\n");
}

fn number(out: &mut String, value: f64) {
    out.push(',');
    if value.is_finite() {
        // Nine digits are far more than the numbers carry.
        let _ = write!(out, "{}", rounded(value));
    } else if value.is_infinite() {
        out.push_str("never");
    }
}

/// To about nine digits, so that a table of a million units stays small.
fn rounded(value: f64) -> f64 {
    if value == 0.0 {
        return 0.0;
    }
    let exponent = 8 - libm::floor(libm::log10(value.abs())) as i32;
    if !(-20..=22).contains(&exponent) {
        return value;
    }
    if exponent >= 0 {
        let scale = POWERS[exponent as usize];
        libm::round(value * scale) / scale
    } else {
        let scale = POWERS[-exponent as usize];
        libm::round(value / scale) * scale
    }
}

/// Exact in doubles.
const POWERS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

/// The SI unit of a kind of number, as it ends the name of a column; empty where a number needs
/// none.
pub fn si_suffix(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Length => "m",
        Dimension::Curvature => "per_m",
        Dimension::Current => "a",
        Dimension::Time => "s",
        Dimension::Area => "m2",
        Dimension::TemperatureDifference => "k",
        Dimension::MolarEnergy => "j_per_mol",
        Dimension::Resistance => "ohm",
        Dimension::Force => "n",
        Dimension::Stiffness => "n_per_m",
        Dimension::HeatCapacity => "j_per_k",
        Dimension::Conductance => "w_per_k",
        Dimension::FilmCoefficient => "w_per_m2_k",
        Dimension::PerKelvin => "per_k",
        Dimension::Speed => "m_per_s",
        _ => "",
    }
}

#[cfg(test)]
mod tests {
    use super::rounded;

    #[test]
    fn nine_digits_are_kept() {
        assert_eq!(rounded(0.000_383_456_789_123), 0.000_383_456_789);
        assert_eq!(rounded(-12.345_678_912_3), -12.345_678_9);
        assert_eq!(rounded(9_876_543_219.4), 9_876_543_220.0);
        assert_eq!(rounded(0.0), 0.0);
        assert_eq!(rounded(1e-30), 1e-30);
    }
}
