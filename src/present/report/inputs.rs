//! What the scenario says: its numbers as their rows tell them, and the words between them.

use super::load_words::programme;
use crate::material::library;
use crate::material::{Alloy, Property, source_keys};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::block::{Block, Table};
use crate::present::language::worded;
use crate::present::number::{as_read, celsius, duration, plain, significant};
use crate::present::words;
use crate::quantity::Dimension;
use crate::scenario::{
    Before, Convection, Given, HistoryStep, Layer, Scenario, SectionKind, given,
};

type Facts = Vec<(String, String)>;

/// 20 degC, at which layer values are shown, K.
const SHOWN_AT_K: f64 = 293.15;

/// Every table of the scenario in turn.
pub(super) fn blocks(scenario: &Scenario) -> Vec<Block> {
    let mut list = Vec::new();
    for Given {
        path,
        about,
        numbers,
    } in given(scenario)
    {
        let mut facts: Facts = said(path, scenario)
            .into_iter()
            .map(|(label, text)| (label.to_owned(), text))
            .collect();
        let named = |about| as_read(&words::capital(worded(about)));
        let shown = |(about, v, dimension)| (named(about), words::amount(v, dimension));
        facts.extend(numbers.into_iter().map(shown));
        if facts.is_empty() {
            continue;
        }
        list.push(Block::subheading(named(about)));
        list.push(Block::facts(facts));
        if path == "strip" {
            list.push(layers(scenario).into());
            list.push(sources(scenario).into());
        }
    }
    list
}

/// What a table says that is no number of its own.
fn said(path: &str, scenario: &Scenario) -> Vec<(&'static str, String)> {
    let one = |label, text: &str| vec![(label, text.to_owned())];
    match path {
        "protector" => match &scenario.protector.limits {
            Some(limits) => one(word!("Held against"), worded(limits)),
            None => Vec::new(),
        },
        "strip" => one(
            word!("Section"),
            match scenario.strip.section {
                SectionKind::Narrow => word!("narrow beam"),
                SectionKind::WideFree => word!("wide, free to bow both ways"),
                SectionKind::HeldFlat => word!("held flat across its width"),
            },
        ),
        "cooling" => one(
            word!("Loses heat"),
            match scenario.cooling.convection {
                Convection::EdgeOn => word!("on edge, in still air"),
                Convection::Upright => word!("upright, in still air"),
                Convection::Flat => word!("lying flat, in still air"),
                Convection::Constant { .. } => word!("with a constant coefficient"),
                Convection::Forced { .. } => word!("in a stream of air"),
                Convection::Gap { .. } => word!("across a gap"),
            },
        ),
        "contact" => match &scenario.contact.metal {
            Some(metal) => one(word!("Metal"), &metal.name),
            None => Vec::new(),
        },
        table if table == scenario.release.mechanism.table() => {
            let mut facts = words::given(&scenario.release.mechanism);
            facts.push((
                word!("Closed again"),
                words::resets(scenario.release.reset).to_owned(),
            ));
            facts
        }
        "surroundings" => air(&scenario.surroundings.ambient),
        "before" => match scenario.before {
            Before::Cold => one(word!("Cold"), word!("everything at the air's temperature")),
            Before::Hot { fraction_of_rated } => {
                let part = significant(fraction_of_rated, 3);
                vec![(
                    word!("Steady"),
                    say!("at {part} of the rated current"; part),
                )]
            }
        },
        // One current for ever is a number of its own.
        "load" if scenario.load.only_a().is_some() => Vec::new(),
        "load" => vec![(word!("Current"), programme(&scenario.load))],
        "start_up" => match &scenario.start_up {
            Some(start) => vec![(word!("Start-up after a reset"), programme(&start.profile))],
            None => Vec::new(),
        },
        "history" => history(scenario),
        _ => Vec::new(),
    }
}

/// Air that changes; one that does not is a number of its own.
fn air(points: &[(f64, f64)]) -> Vec<(&'static str, String)> {
    if points.len() < 2 {
        return Vec::new();
    }
    let at = |(s, k): &(f64, f64)| {
        say!(
            "{} at {}",
            words::amount(*k, Dimension::Temperature),
            duration(*s, 3)
        )
    };
    vec![(
        word!("Air around it"),
        points.iter().map(at).collect::<Vec<_>>().join(", "),
    )]
}

fn layers(scenario: &Scenario) -> Table {
    let caption =
        word!("Layers from the low-expansion side, at 20 °C; expansion is the mean from 20 °C");
    let layers = &scenario.strip.layers;
    let named = layers
        .iter()
        .enumerate()
        .map(|(n, layer)| format!("{}  {}", n + 1, layer.alloy.name));
    type Of = fn(&Alloy) -> &Property;
    let properties: [(&str, f64, Of); 5] = [
        (word!("Modulus, GPa"), 1e9, |a| &a.youngs_modulus),
        (word!("Resistivity, µΩ m"), 1e-6, |a| &a.resistivity),
        (word!("Conductivity, W/(m K)"), 1.0, |a| &a.conductivity),
        (word!("Specific heat, J/(kg K)"), 1.0, |a| &a.specific_heat),
        (word!("Density, kg/m³"), 1.0, |a| &a.density),
    ];
    let table = Table::new(caption).text(word!("Layer"), named).numbers(
        word!("Thickness, mm"),
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
    table.numbers(
        word!("Expansion to 120 °C, 10⁻⁶/K"),
        layers.iter().map(expansion),
    )
}

/// Which sources the properties of each alloy were taken from: one row a source and range.
fn sources(scenario: &Scenario) -> Table {
    let mut rows: Vec<[String; 4]> = Vec::new();
    for layer in &scenario.strip.layers {
        let a = &layer.alloy;
        let properties = [
            (word!("density"), Some(&a.density)),
            (word!("Young's modulus"), Some(&a.youngs_modulus)),
            (word!("resistivity"), Some(&a.resistivity)),
            (word!("conductivity"), Some(&a.conductivity)),
            (word!("specific heat"), Some(&a.specific_heat)),
            (word!("expansion"), Some(&a.expansion.property)),
            (word!("Poisson ratio"), a.poisson_ratio.as_ref()),
            (word!("yield strength"), a.yield_strength.as_ref()),
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
    let head = [
        word!("Alloy"),
        word!("Properties"),
        word!("Range"),
        word!("Source"),
    ];
    Table::of_text(word!("Where the layer values come from"), head, rows)
}

fn range(p: &Property) -> String {
    let (low, high) = p.valid_k;
    if !low.is_finite() || !high.is_finite() {
        return word!("not stated").to_owned();
    }
    let shown = |k: f64| celsius(Some(k - ZERO_CELSIUS_K), 0);
    say!("{} to {}", shown(low), shown(high))
}

fn source(p: &Property) -> String {
    let keys: Vec<&str> = source_keys(&p.source)
        .map(|key| worded(library::citation(key).unwrap_or(key)))
        .collect();
    if keys.is_empty() {
        word!("the scenario").to_owned()
    } else {
        keys.join("; ")
    }
}

fn history(scenario: &Scenario) -> Vec<(&'static str, String)> {
    scenario
        .history
        .iter()
        .map(|step| match step {
            HistoryStep::Run {
                programme: load,
                longest_s,
            } => {
                let longest = if longest_s.is_finite() {
                    say!(", for {} at most", duration(*longest_s, 3))
                } else {
                    String::new()
                };
                (word!("Run"), format!("{}{longest}", programme(load)))
            }
            HistoryStep::Wait { duration_s } => (word!("Wait"), duration(*duration_s, 3)),
            HistoryStep::WaitForRelatch { and_then_s } if *and_then_s > 0.0 => (
                word!("Wait for relatch"),
                say!("and {} longer", duration(*and_then_s, 3)),
            ),
            HistoryStep::WaitForRelatch { .. } => (word!("Wait for relatch"), String::new()),
            HistoryStep::Reset => (word!("Reset"), word!("by hand").to_owned()),
        })
        .collect()
}
