//! Cooling, terminals, contacts, winding, housing.

use super::metals::{Metals, unknown_name};
use super::{
    ClampedTerminal, Contact, ContactResistance, Convection, Cooling, FixedContact, Housing,
    MovingContact, Winding,
};
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::quantity::Dimension;

const CAPACITY: Bounds = Bounds::positive(1e4, "terminals and contacts hold 0.05 J/K to 50 J/K");
const CONDUCTANCE: Bounds =
    Bounds::not_negative(100.0, "parts of protectors give off 1 mW/K to 1 W/K");

/// Read `[cooling]`.
pub(super) fn cooling(t: &TableReader<'_>) -> Option<Cooling> {
    #[derive(Clone, Copy)]
    enum Word {
        EdgeOn,
        Upright,
        Flat,
        Constant,
        Forced,
        Gap,
    }
    let words = [
        ("edge-on", Word::EdgeOn),
        ("upright", Word::Upright),
        ("flat", Word::Flat),
        ("constant", Word::Constant),
        ("forced", Word::Forced),
        ("gap", Word::Gap),
    ];
    if !t.has("posture") {
        t.missing("posture", "\"edge-on\"");
    }
    let convection = t
        .choice("posture", &words)
        .and_then(|word| match word.value {
            Word::EdgeOn => Some(Convection::EdgeOn),
            Word::Upright => Some(Convection::Upright),
            Word::Flat => Some(Convection::Flat),
            Word::Constant => {
                let limit = Bounds::positive(5000.0, "still air gives 5 to 30 W/(m2 K)");
                let h = t.required("coefficient", Dimension::FilmCoefficient, limit)?;
                Some(Convection::Constant {
                    coefficient_w_per_m2_k: h.value,
                })
            }
            Word::Forced => {
                let speed = t.required(
                    "air_speed",
                    Dimension::Speed,
                    Bounds::positive(50.0, "fans blow 0.5 to 10 m/s"),
                );
                let flow = t.required(
                    "flow_length",
                    Dimension::Length,
                    Bounds::between(1e-4, 1.0, "the length the air runs along the strip"),
                );
                Some(Convection::Forced {
                    speed_m_per_s: speed?.value,
                    flow_length_m: flow?.value,
                })
            }
            Word::Gap => {
                let gap = t.required(
                    "gap",
                    Dimension::Length,
                    Bounds::between(
                        1e-5,
                        0.02,
                        "conduction across air holds for gaps of a few millimetres",
                    ),
                )?;
                Some(Convection::Gap { gap_m: gap.value })
            }
        });
    let emissivity = t.or(
        "emissivity",
        Dimension::Fraction,
        Bounds::between(0.0, 1.0, "between 0 (mirror) and 1 (black)"),
        0.3,
    );
    let uncovered = t.or(
        "uncovered_fraction",
        Dimension::Fraction,
        Bounds::between(0.0, 1.0, ""),
        1.0,
    );
    let altitude = t.or(
        "altitude",
        Dimension::Length,
        Bounds::between(-500.0, 9000.0, "altitudes of places where people work"),
        0.0,
    );
    t.finish();
    Some(Cooling {
        convection: convection?,
        emissivity: emissivity?,
        uncovered_fraction: uncovered?,
        altitude_m: altitude?,
    })
}

/// Conductance of an attached wire that ends far away: the infinite fin, sqrt(h P k A) (F. P. Incropera
/// & D. P. DeWitt, Fundamentals of Heat and Mass Transfer, table 3.4, case D).
fn wire_conductance_w_per_k(area_m2: f64) -> f64 {
    // Copper core; insulation taken as 0.8 mm thick and as warm as the core; still air and radiation
    // from its surface together about 12 W/(m^2 K): common practice, no source.
    let core_m = (4.0 * area_m2 / std::f64::consts::PI).sqrt();
    let perimeter_m = std::f64::consts::PI * (core_m + 1.6e-3);
    (12.0 * perimeter_m * 395.0 * area_m2).sqrt()
}

fn conductance(t: &TableReader<'_>) -> Option<f64> {
    match (t.has("conductance"), t.has("wire")) {
        (true, true) => {
            t.report(
                Problem::new(t.span_of("wire"), "give `conductance` or `wire`, not both")
                    .label("a wire gauge sets the conductance"),
            );
            t.optional("conductance", Dimension::Conductance, CONDUCTANCE);
            None
        }
        (false, true) => {
            let limit = Bounds::between(5e-8, 5e-4, "wires are 0.5 mm2 to 240 mm2");
            t.optional("wire", Dimension::Area, limit)
                .map(|a| wire_conductance_w_per_k(a.value))
        }
        _ => t
            .required("conductance", Dimension::Conductance, CONDUCTANCE)
            .map(|r| r.value),
    }
}

/// Read `[clamped_terminal]`.
pub(super) fn clamped_terminal(t: &TableReader<'_>) -> Option<ClampedTerminal> {
    let capacity = t.required("heat_capacity", Dimension::HeatCapacity, CAPACITY);
    let resistance = t.or(
        "resistance",
        Dimension::Resistance,
        Bounds::not_negative(1000.0, "terminals have 0.1 to 10 mohm"),
        0.0,
    );
    let conductance_w_per_k = conductance(t);
    t.finish();
    Some(ClampedTerminal {
        heat_capacity_j_per_k: capacity?.value,
        resistance_ohm: resistance?,
        conductance_w_per_k: conductance_w_per_k?,
    })
}

/// Read `[moving_contact]`.
pub(super) fn moving_contact(t: &TableReader<'_>) -> Option<MovingContact> {
    let capacity = t.required("heat_capacity", Dimension::HeatCapacity, CAPACITY);
    let loss = t.or("conductance", Dimension::Conductance, CONDUCTANCE, 0.0);
    t.finish();
    Some(MovingContact {
        heat_capacity_j_per_k: capacity?.value,
        conductance_w_per_k: loss?,
    })
}

/// Read `[fixed_contact]`.
pub(super) fn fixed_contact(t: &TableReader<'_>) -> Option<FixedContact> {
    let capacity = t.required("heat_capacity", Dimension::HeatCapacity, CAPACITY);
    let conductance_w_per_k = conductance(t);
    t.finish();
    Some(FixedContact {
        heat_capacity_j_per_k: capacity?.value,
        conductance_w_per_k: conductance_w_per_k?,
    })
}

/// Read `[contact]`.
pub(super) fn contact(t: &TableReader<'_>, metals: &Metals) -> Option<Contact> {
    const OHM: Bounds = Bounds::not_negative(10.0, "contacts have 0.1 to 50 mohm");
    let metal = match t.text("metal", "\"silver\"") {
        None => Some(None),
        Some(read) => match metals.contact_metal(&read.value) {
            Some(m) => Some(Some(m)),
            None => {
                t.report(unknown_name(
                    read.span,
                    "contact metal",
                    &read.value,
                    &metals.contact_metal_names(),
                ));
                None
            }
        },
    };
    let resistance = match (t.has("resistance"), t.has("force")) {
        (true, false) => {
            let limit = Bounds::positive(10.0, "contacts have 0.1 to 50 mohm");
            t.optional("resistance", Dimension::Resistance, limit)
                .map(|r| ContactResistance::Constant(r.value))
        }
        (false, true) => {
            let film = t.or("film_resistance", Dimension::Resistance, OHM, 0.0);
            let force = t.optional(
                "force",
                Dimension::Force,
                Bounds::positive(1000.0, "contact forces lie between 0.05 N and 50 N"),
            );
            if matches!(metal, Some(None)) {
                t.report(
                    Problem::new(
                        t.span_of("force"),
                        "a contact given by its force needs its `metal`",
                    )
                    .help("add `metal = \"silver\"`, or give a constant `resistance`"),
                );
            }
            Some(ContactResistance::Holm {
                film_ohm: film?,
                force_n: force?.value,
            })
        }
        (true, true) => {
            t.report(
                Problem::new(
                    t.span_of("resistance"),
                    "give `resistance`, or `force` with `metal` and `film_resistance`; not both",
                )
                .label("constant resistance"),
            );
            None
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
            None
        }
    };
    let film_conductance = if t.has("film_conductance") {
        t.optional(
            "film_conductance",
            Dimension::Conductance,
            Bounds::not_negative(100.0, ""),
        )
        .map(|r| Some(r.value))
    } else {
        Some(None)
    };
    t.has("film_resistance");
    t.finish();
    Some(Contact {
        resistance: resistance?,
        metal: metal?,
        film_conductance_w_per_k: film_conductance?,
    })
}

/// Read `[winding]`.
pub(super) fn winding(t: &TableReader<'_>) -> Option<Winding> {
    let resistance = t.required(
        "resistance",
        Dimension::Resistance,
        Bounds::positive(1000.0, "heater windings have 0.01 to 300 ohm"),
    );
    let coefficient = t.or(
        "temperature_coefficient",
        Dimension::PerKelvin,
        Bounds::between(-1e-3, 1e-2, "resistance alloys have about 1e-4 1/K"),
        0.0,
    );
    let capacity = t.required("heat_capacity", Dimension::HeatCapacity, CAPACITY);
    let to_strip = t.required("conductance_to_strip", Dimension::Conductance, CONDUCTANCE);
    let to_air = t.required("conductance_to_air", Dimension::Conductance, CONDUCTANCE);
    let limit = if t.has("limit_temperature") {
        t.optional(
            "limit_temperature",
            Dimension::Temperature,
            Bounds::between(300.0, 1500.0, "insulation stands 130 degC to 600 degC"),
        )
        .map(|r| Some(r.value))
    } else {
        Some(None)
    };
    t.finish();
    Some(Winding {
        resistance_ohm: resistance?.value,
        temperature_coefficient_per_k: coefficient?,
        heat_capacity_j_per_k: capacity?.value,
        conductance_to_strip_w_per_k: to_strip?.value,
        conductance_to_air_w_per_k: to_air?.value,
        limit_k: limit?,
    })
}

/// Read `[housing]`.
pub(super) fn housing(t: &TableReader<'_>) -> Option<Housing> {
    let capacity = t.required("heat_capacity", Dimension::HeatCapacity, CAPACITY);
    let conductance = t.required("conductance", Dimension::Conductance, CONDUCTANCE);
    t.finish();
    Some(Housing {
        heat_capacity_j_per_k: capacity?.value,
        conductance_w_per_k: conductance?.value,
    })
}
