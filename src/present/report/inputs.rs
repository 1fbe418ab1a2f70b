//! What the scenario says, in the units people write.

use super::load_words::programme;
use crate::material::library;
use crate::material::{Alloy, Property, source_keys};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::block::{Block, Table};
use crate::present::number::{celsius, duration, plain, significant};
use crate::present::words;
use crate::scenario::{
    Before, ContactResistance, Convection, HistoryStep, Layer, Reset, Scenario, SectionKind,
};

type Facts = Vec<(&'static str, String)>;

/// 20 degC, at which layer values are shown, K.
const SHOWN_AT_K: f64 = 293.15;

fn mm(length_m: f64) -> String {
    format!("{} mm", plain(1e3 * length_m))
}

fn degrees(kelvin: f64) -> String {
    format!("{} °C", plain(kelvin - ZERO_CELSIUS_K))
}

fn unit(value_si: f64, one: f64, symbol: &str) -> String {
    format!("{} {symbol}", plain(value_si / one))
}

/// All groups.
pub(super) fn blocks(scenario: &Scenario) -> Vec<Block> {
    let groups: [(&str, Facts); 6] = [
        ("Protector and place", place(scenario)),
        ("Strip", strip(scenario)),
        ("Release", release(scenario)),
        ("Terminals and contacts", nodes(scenario)),
        ("Load", load(scenario)),
        ("History", history(scenario)),
    ];
    let mut list = Vec::new();
    for (heading, facts) in groups {
        if facts.is_empty() {
            continue;
        }
        list.push(Block::subheading(heading));
        list.push(Block::facts(facts));
        if heading == "Strip" {
            list.push(layers(scenario).into());
            list.push(sources(scenario).into());
        }
    }
    list
}

fn place(scenario: &Scenario) -> Facts {
    let p = &scenario.protector;
    let air: Vec<String> = scenario
        .surroundings
        .ambient
        .iter()
        .map(|(s, k)| match scenario.surroundings.ambient.len() {
            1 => degrees(*k),
            _ => format!("{} at {}", degrees(*k), duration(*s, 3)),
        })
        .collect();
    let mut facts = vec![
        ("Rated current", unit(p.rated_current_a, 1.0, "A")),
        (
            "Air the rating is stated for",
            degrees(p.reference_ambient_k),
        ),
        ("Air around it", air.join(", ")),
        (
            "Before the load",
            match scenario.before {
                Before::Cold => "cold: everything at the air's temperature".to_owned(),
                Before::Hot { fraction_of_rated } => format!(
                    "steady at {} of the rated current",
                    significant(fraction_of_rated, 3)
                ),
            },
        ),
    ];
    if let Some(limits) = &p.limits {
        facts.push(("Held against", limits.clone()));
    }
    facts
}

fn strip(scenario: &Scenario) -> Facts {
    let (s, c) = (&scenario.strip, &scenario.cooling);
    let mut facts = vec![
        (
            "Length, width",
            format!("{}, {}", mm(s.length_m), mm(s.width_m)),
        ),
        ("Flat and free of stress at", degrees(s.flat_temperature_k)),
    ];
    if s.push_point_m != s.length_m {
        facts.push((
            "Pushes at",
            format!("{} from the clamp", mm(s.push_point_m)),
        ));
    }
    if s.initial_curvature_per_m != 0.0 {
        facts.push((
            "Curvature as made",
            unit(s.initial_curvature_per_m, 1.0, "1/m"),
        ));
    }
    if s.current_share < 1.0 {
        facts.push(("Share of the current", plain(s.current_share)));
    }
    facts.push((
        "Section",
        match s.section {
            SectionKind::Narrow => "narrow beam",
            SectionKind::WideFree => "wide, free to bow both ways",
            SectionKind::HeldFlat => "held flat across its width",
        }
        .to_owned(),
    ));
    facts.push((
        "Loses heat",
        match c.convection {
            Convection::EdgeOn => "on edge, in still air".to_owned(),
            Convection::Upright => "upright, in still air".to_owned(),
            Convection::Flat => "lying flat, in still air".to_owned(),
            Convection::Constant {
                coefficient_w_per_m2_k,
            } => format!("with {} W/(m² K)", plain(coefficient_w_per_m2_k)),
            Convection::Forced {
                speed_m_per_s,
                flow_length_m,
            } => format!(
                "in a stream of {} m/s along {}",
                plain(speed_m_per_s),
                mm(flow_length_m)
            ),
            Convection::Gap { gap_m } => format!("across a gap of {}", mm(gap_m)),
        },
    ));
    facts.push(("Emissivity", plain(c.emissivity)));
    if c.uncovered_fraction < 1.0 {
        facts.push((
            "Part not covered by the winding",
            plain(c.uncovered_fraction),
        ));
    }
    if c.altitude_m != 0.0 {
        facts.push(("Altitude", unit(c.altitude_m, 1.0, "m")));
    }
    facts
}

fn layers(scenario: &Scenario) -> Table {
    let caption = "Layers from the low-expansion side, at 20 °C; expansion is the mean from 20 °C";
    let layers = &scenario.strip.layers;
    let named = layers
        .iter()
        .enumerate()
        .map(|(n, layer)| format!("{}  {}", n + 1, layer.alloy.name));
    type Of = fn(&Alloy) -> &Property;
    let properties: [(&str, f64, Of); 5] = [
        ("Modulus, GPa", 1e9, |a| &a.youngs_modulus),
        ("Resistivity, µΩ m", 1e-6, |a| &a.resistivity),
        ("Conductivity, W/(m K)", 1.0, |a| &a.conductivity),
        ("Specific heat, J/(kg K)", 1.0, |a| &a.specific_heat),
        ("Density, kg/m³", 1.0, |a| &a.density),
    ];
    let table = Table::new(caption).text("Layer", named).numbers(
        "Thickness, mm",
        layers.iter().map(|l| plain(1e3 * l.thickness_m)),
    );
    let table = properties
        .into_iter()
        .fold(table, |table, (heading, unit, property)| {
            let shown = |l: &Layer| significant(property(&l.alloy).at(SHOWN_AT_K) / unit, 4);
            table.numbers(heading, layers.iter().map(shown))
        });
    let expansion = |l: &Layer| {
        let (strain, _) = l
            .alloy
            .expansion
            .strain_with_slope(SHOWN_AT_K, SHOWN_AT_K + 100.0);
        significant(1e4 * strain, 4)
    };
    table.numbers("Expansion to 120 °C, 10⁻⁶/K", layers.iter().map(expansion))
}

/// Which sources the properties of each alloy were taken from: one row a source and range.
fn sources(scenario: &Scenario) -> Table {
    let mut rows: Vec<[String; 4]> = Vec::new();
    for layer in &scenario.strip.layers {
        let a = &layer.alloy;
        let properties = [
            ("density", Some(&a.density)),
            ("Young's modulus", Some(&a.youngs_modulus)),
            ("resistivity", Some(&a.resistivity)),
            ("conductivity", Some(&a.conductivity)),
            ("specific heat", Some(&a.specific_heat)),
            ("expansion", Some(&a.expansion.property)),
            ("Poisson ratio", a.poisson_ratio.as_ref()),
            ("yield strength", a.yield_strength.as_ref()),
        ];
        for (name, property) in properties {
            let Some(p) = property else { continue };
            let (range, source) = (range(p), source(p));
            let same = rows
                .iter_mut()
                .find(|r| r[0] == a.name && r[2] == range && r[3] == source);
            match same {
                // A metal that makes two layers is named once.
                Some(row) if row[1].split(", ").any(|known| known == name) => {}
                Some(row) => row[1] += &format!(", {name}"),
                None => rows.push([a.name.clone(), name.to_owned(), range, source]),
            }
        }
    }
    let head = ["Alloy", "Properties", "Range", "Source"];
    Table::of_text("Where the layer values come from", head, rows)
}

fn range(p: &Property) -> String {
    let (low, high) = p.valid_k;
    if !low.is_finite() || !high.is_finite() {
        return "not stated".to_owned();
    }
    let shown = |k: f64| celsius(Some(k - ZERO_CELSIUS_K), 0);
    format!("{} to {}", shown(low), shown(high))
}

fn source(p: &Property) -> String {
    let keys: Vec<&str> = source_keys(&p.source)
        .map(|key| library::citation(key).unwrap_or(key))
        .collect();
    if keys.is_empty() {
        "the scenario".to_owned()
    } else {
        keys.join("; ")
    }
}

fn release(scenario: &Scenario) -> Facts {
    let r = &scenario.release;
    let mut facts = words::given(&r.mechanism);
    facts.push(("Preload lost", unit(r.preload_loss, 0.01, "%")));
    if r.contact_loss != r.preload_loss {
        facts.push(("Contact force lost", unit(r.contact_loss, 0.01, "%")));
    }
    facts.push(("Opening time", duration(r.opening_time_s, 3)));
    facts.push((
        "Reset",
        match r.reset {
            Reset::ByHand => "by hand",
            Reset::Automatic => "by itself",
        }
        .to_owned(),
    ));
    facts
}

fn nodes(scenario: &Scenario) -> Facts {
    let (b, m, f) = (
        scenario.clamped_terminal,
        scenario.moving_contact,
        scenario.fixed_contact,
    );
    let mut facts = vec![
        (
            "Clamped terminal",
            format!(
                "{} J/K, {} mΩ, {} mW/K to the surroundings",
                plain(b.heat_capacity_j_per_k),
                plain(1e3 * b.resistance_ohm),
                significant(1e3 * b.conductance_w_per_k, 4)
            ),
        ),
        (
            "Moving contact",
            format!(
                "{} J/K, {} mW/K to the air",
                plain(m.heat_capacity_j_per_k),
                significant(1e3 * m.conductance_w_per_k, 4)
            ),
        ),
        (
            "Fixed contact",
            format!(
                "{} J/K, {} mW/K to the surroundings",
                plain(f.heat_capacity_j_per_k),
                significant(1e3 * f.conductance_w_per_k, 4)
            ),
        ),
        (
            "Contact pair",
            match scenario.contact.resistance {
                ContactResistance::Constant(r) => format!("{} mΩ", plain(1e3 * r)),
                ContactResistance::Holm { film_ohm, force_n } => format!(
                    "{}, film {} mΩ, pressed with {} N as new",
                    scenario
                        .contact
                        .metal
                        .as_ref()
                        .map_or("metal not given", |m| m.name.as_str()),
                    plain(1e3 * film_ohm),
                    plain(force_n)
                ),
            },
        ),
    ];
    if let Some(w) = scenario.winding {
        facts.push((
            "Heater winding",
            format!(
                "{} Ω at 20 °C, {}e-6 1/K, {} J/K, {} mW/K to the strip, {} mW/K to the air",
                plain(w.resistance_ohm),
                plain(1e6 * w.temperature_coefficient_per_k),
                plain(w.heat_capacity_j_per_k),
                plain(1e3 * w.conductance_to_strip_w_per_k),
                plain(1e3 * w.conductance_to_air_w_per_k)
            ),
        ));
    }
    if let Some(h) = scenario.housing {
        facts.push((
            "Housing",
            format!(
                "{} J/K, {} mW/K to the surroundings",
                plain(h.heat_capacity_j_per_k),
                plain(1e3 * h.conductance_w_per_k)
            ),
        ));
    }
    facts
}

fn load(scenario: &Scenario) -> Facts {
    let mut facts = vec![("Load", programme(&scenario.load))];
    if let Some(start) = &scenario.start_up {
        facts.push((
            "Start-up after a reset",
            format!(
                "{}; watched for {}, {} of deflection to stay in hand",
                programme(&start.profile),
                duration(start.horizon_s, 3),
                mm(start.margin_m)
            ),
        ));
    }
    facts.push(("Accuracy asked for", format!("{:e}", scenario.ask.accuracy)));
    facts
}

fn history(scenario: &Scenario) -> Facts {
    scenario
        .history
        .iter()
        .map(|step| match step {
            HistoryStep::Run {
                programme: load,
                longest_s,
            } => {
                let longest = if longest_s.is_finite() {
                    format!(", for {} at most", duration(*longest_s, 3))
                } else {
                    String::new()
                };
                ("Run", format!("{}{longest}", programme(load)))
            }
            HistoryStep::Wait { duration_s } => ("Wait", duration(*duration_s, 3)),
            HistoryStep::WaitForRelatch { and_then_s } if *and_then_s > 0.0 => (
                "Wait for relatch",
                format!("and {} longer", duration(*and_then_s, 3)),
            ),
            HistoryStep::WaitForRelatch { .. } => ("Wait for relatch", String::new()),
            HistoryStep::Reset => ("Reset", "by hand".to_owned()),
        })
        .collect()
}
