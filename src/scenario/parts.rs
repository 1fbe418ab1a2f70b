//! What of terminals and contacts is more than a number a key.

use super::metals::{Metals, unknown_name};
use super::rows::{Fields, table};
use super::{ContactResistance, Scenario};
use crate::diagnostic::Problem;
use crate::document::TableReader;

/// Conductance of an attached wire that ends far away: the infinite fin, sqrt(h P k A) (F. P.
/// Incropera & D. P. DeWitt, Fundamentals of Heat and Mass Transfer, table 3.4, case D).
fn wire_conductance_w_per_k(area_m2: f64) -> f64 {
    // Copper core; insulation taken as 0.8 mm thick and as warm as the core; still air and
    // radiation from its surface together about 12 W/(m^2 K): common practice, no source.
    let core_m = (4.0 * area_m2 / std::f64::consts::PI).sqrt();
    let perimeter_m = std::f64::consts::PI * (core_m + 1.6e-3);
    (12.0 * perimeter_m * 395.0 * area_m2).sqrt()
}

/// The conductance of a terminal whose wire is given instead; false after a problem.
pub(super) fn wire(f: &Fields<'_, '_>, conductance_w_per_k: &mut f64) -> bool {
    if !f.t.has("wire") {
        return true;
    }
    if f.t.has("conductance") {
        f.t.report(
            Problem::new(
                f.t.span_of("wire"),
                "give `conductance` or `wire`, not both",
            )
            .label("a wire gauge sets the conductance"),
        );
        return false;
    }
    f.number("wire")
        .map(|area| *conductance_w_per_k = wire_conductance_w_per_k(area.value))
        .is_some()
}

/// Read `[clamped_terminal]`, or `[rim]` of a disc in its place; false after a problem.
pub(super) fn clamped_terminal(root: &TableReader<'_>, is_disc: bool, s: &mut Scenario) -> bool {
    let (own, other) = match is_disc {
        true => ("rim", "clamped_terminal"),
        false => ("clamped_terminal", "rim"),
    };
    if root.has(other) {
        let text = match is_disc {
            true => "a disc has no clamped terminal: its rim rests on a seat",
            false => "only a disc has a rim",
        };
        root.report(Problem::new(root.span_of(other), text).help(format!("write it as [{own}]")));
        return false;
    }
    root.required_table(own).is_some_and(|t| {
        let f = Fields::new(&t, table(own));
        let read = f.read(s);
        let wired = is_disc || wire(&f, &mut s.clamped_terminal.conductance_w_per_k);
        t.finish();
        read && wired
    })
}

/// Read `[contact]`.
pub(super) fn contact(f: &Fields<'_, '_>, metals: &Metals, s: &mut Scenario) -> bool {
    let t = f.t;
    let mut well = true;
    let named = f.text_if_any("metal");
    if let Some(read) = &named {
        s.contact.metal = metals.contact_metal(&read.value);
        if s.contact.metal.is_none() {
            let known = metals.contact_metal_names();
            t.report(unknown_name(
                read.span.clone(),
                "contact metal",
                &read.value,
                &known,
            ));
            well = false;
        }
    }
    match (t.has("resistance"), t.has("force")) {
        (true, false) => {}
        (false, true) => {
            s.contact.resistance = ContactResistance::Holm {
                film_ohm: f64::NAN,
                force_n: f64::NAN,
            };
            if !t.has("metal") {
                t.report(
                    Problem::new(
                        t.span_of("force"),
                        "a contact given by its force needs its `metal`",
                    )
                    .help("add `metal = \"silver\"`, or give a constant `resistance`"),
                );
            }
        }
        (true, true) => {
            t.report(
                Problem::new(
                    t.span_of("resistance"),
                    "give `resistance`, or `force` with `metal` and `film_resistance`; not both",
                )
                .label("constant resistance"),
            );
            well = false;
        }
        (false, false) => {
            t.lacks(
                &["resistance", "force"],
                Problem::new(
                    t.span(),
                    "[contact] needs `resistance`, or `force` and `metal`",
                )
                .help(
                    "`resistance = \"1.0 mohm\"`, or `force = \"0.8 N\"` and `metal = \"silver\"`",
                ),
            );
            well = false;
        }
    }
    t.has("film_resistance");
    f.read(s) && well
}
