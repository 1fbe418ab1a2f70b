//! The whole file, table by table.

use super::ask::ask;
use super::bounds::AMBIENT;
use super::check::{Parts, check};
use super::history::history;
use super::load::{programme, start_up};
use super::mechanism::release;
use super::metals::{Metals, unknown_name};
use super::parts::{
    clamped_terminal, contact, cooling, fixed_contact, housing, moving_contact, winding,
};
use super::population::population;
use super::read_ageing::{Part, ageing};
use super::strip::strip;
use super::{Before, Population, Protector, Scenario, Surroundings, Tolerance};
use crate::diagnostic::Problem;
use crate::document::{Bounds, Noted, TableReader};
use crate::material::{library, source_keys};
use crate::quantity::Dimension;
use crate::standards;

/// Version of the layout of scenario files.
const FORMAT: u32 = 1;
impl From<Noted> for Tolerance {
    fn from(n: Noted) -> Tolerance {
        Tolerance {
            path: n.path,
            value: n.value_si,
            standard_uncertainty: n.standard_uncertainty_si,
        }
    }
}

/// Read everything; `None` only after a problem.
pub(super) fn scenario(root: &TableReader<'_>) -> Option<Scenario> {
    if root.is_text("kind") {
        root.report(
            Problem::new(root.span_of("kind"), "this is no scenario")
                .label("scenarios have no `kind`; cases have")
                .help("`relatch run` reads scenarios, `relatch diagnose` reads cases"),
        );
        return None;
    }
    format(root);
    let title = root.required_text("title", "\"Pump in a greenhouse\"");
    let shows = root
        .text("shows", "\"what this scenario shows\"")
        .map(|s| s.value.trim().to_owned())
        .unwrap_or_default();
    let metals = Metals::read(root);
    let protector = root.required_table("protector").and_then(|t| protector(&t));
    let strip = root
        .required_table("strip")
        .and_then(|t| strip(&t, &metals));
    let cooling = root.required_table("cooling").and_then(|t| cooling(&t));
    let clamped_terminal = root
        .required_table("clamped_terminal")
        .and_then(|t| clamped_terminal(&t));
    let moving_contact = root
        .required_table("moving_contact")
        .and_then(|t| moving_contact(&t));
    let fixed_contact = root
        .required_table("fixed_contact")
        .and_then(|t| fixed_contact(&t));
    let contact = root
        .required_table("contact")
        .and_then(|t| contact(&t, &metals));
    let winding = optional(root, "winding", winding);
    let housing = optional(root, "housing", housing);
    let length_m = strip.as_ref().map(|s| s.length_m);
    let release = release(root, length_m);
    let surroundings = root
        .required_table("surroundings")
        .and_then(|t| surroundings(&t));
    let rated = protector.as_ref().map(|p| p.rated_current_a);
    let before = match root.table("before") {
        Some(t) => before(&t, rated),
        None => Some(Before::Cold),
    };
    let load = root.required_table("load").and_then(|t| {
        let load = programme(&t);
        t.finish();
        load
    });
    let start_up = optional(root, "start_up", start_up);
    let history = history(
        root,
        load.as_ref(),
        start_up.as_ref().and_then(|s| s.as_ref()),
    );
    let ageing = ageing(
        root,
        &Part {
            rated_a: rated,
            release: release.as_ref(),
            housing: housing.as_ref().map(Option::as_ref),
        },
    );
    let ask = ask(root, protector.as_ref().map(|p| p.reference_ambient_k));
    let has_population = root.has("population");
    root.finish();
    check(
        root,
        &Parts {
            strip: strip.as_ref(),
            release: release.as_ref(),
            housing: housing.as_ref().map(Option::as_ref),
            clamped_terminal: clamped_terminal.as_ref(),
            fixed_contact: fixed_contact.as_ref(),
        },
    );
    let scenario = Scenario {
        title: title?.value,
        shows,
        protector: protector?,
        strip: strip?,
        cooling: cooling?,
        clamped_terminal: clamped_terminal?,
        moving_contact: moving_contact?,
        fixed_contact: fixed_contact?,
        contact: contact?,
        winding: winding?,
        housing: housing?,
        release: release?,
        surroundings: surroundings?,
        before: before?,
        load: load?,
        start_up: start_up?,
        history: history?,
        ageing: ageing?,
        ask: ask?,
        population: Population::default(),
        tolerances: Vec::new(),
        sources: Vec::new(),
    };
    // It names numbers of the file, so it is read when all of them are known.
    let population = if has_population {
        population(&root.table("population")?, &scenario)?
    } else {
        Population::default()
    };
    let sources = sources(&scenario);
    Some(Scenario {
        population,
        sources,
        ..scenario
    })
}

/// `Some(None)`: not there; `None`: there, but with a problem.
fn optional<T>(
    root: &TableReader<'_>,
    key: &'static str,
    read: impl Fn(&TableReader<'_>) -> Option<T>,
) -> Option<Option<T>> {
    if !root.has(key) {
        return Some(None);
    }
    root.table(key).and_then(|t| read(&t)).map(Some)
}

fn format(root: &TableReader<'_>) {
    if !root.has("format") {
        root.missing("format", "1");
        return;
    }
    if let Some(read) = root.whole("format", 1000)
        && read.value != FORMAT
    {
        root.report(
            Problem::new(read.span, format!("this program reads format {FORMAT}"))
                .label(format!("format {}", read.value))
                .help("a newer file needs a newer program"),
        );
    }
}

fn protector(t: &TableReader<'_>) -> Option<Protector> {
    let rated = t.required(
        "rated_current",
        Dimension::Current,
        Bounds::between(
            0.01,
            10_000.0,
            "rated currents lie between 0.05 A and some thousand amperes",
        ),
    );
    let reference = t.or("reference_ambient", Dimension::Temperature, AMBIENT, 296.15);
    let limits = match t.text("limits", "\"equipment breaker window\"") {
        None => Some(None),
        Some(read) => match standards::find(&read.value) {
            Some(table) => {
                if let Some(rated) = &rated
                    && rated.value > table.up_to_a
                {
                    t.report(
                        Problem::new(
                            read.span,
                            format!("these limits hold up to {} A", table.up_to_a),
                        )
                        .label(format!("the part is rated {} A", rated.value)),
                    );
                }
                Some(Some(table.name.to_owned()))
            }
            None => {
                let known: Vec<&str> = standards::LIMITS.iter().map(|l| l.name).collect();
                t.report(unknown_name(
                    read.span,
                    "table of published limits",
                    &read.value,
                    &known,
                ));
                None
            }
        },
    };
    t.finish();
    Some(Protector {
        rated_current_a: rated?.value,
        reference_ambient_k: reference?,
        limits: limits?,
    })
}

fn surroundings(t: &TableReader<'_>) -> Option<Surroundings> {
    let points = if t.has("ambient_points") {
        if t.has("ambient") {
            t.report(Problem::new(
                t.span_of("ambient_points"),
                "give `ambient` or `ambient_points`, not both",
            ));
        }
        let time = Bounds::between(0.0, 1e9, "");
        let pairs = t.pairs(
            "ambient_points",
            (Dimension::Time, Dimension::Temperature),
            (time, AMBIENT),
        );
        if let Some(pair) = pairs
            .as_ref()
            .and_then(|p| p.windows(2).find(|w| w[1].0.value <= w[0].0.value))
        {
            t.report(
                Problem::new(
                    pair[1].0.span.clone(),
                    "the times of ambient points must increase",
                )
                .label("not after the one before"),
            );
            return None;
        }
        pairs.map(|p| p.into_iter().map(|(a, b)| (a.value, b.value)).collect())
    } else {
        t.required("ambient", Dimension::Temperature, AMBIENT)
            .map(|r| vec![(0.0, r.value)])
    };
    t.finish();
    Some(Surroundings { ambient: points? })
}

fn before(t: &TableReader<'_>, rated_a: Option<f64>) -> Option<Before> {
    let most = Bounds::not_negative(5.0, "a fraction of the rated current, for example 0.8");
    let fraction = match (t.has("hot"), t.has("steady_at")) {
        (true, false) => t.fraction("hot", most).map(|r| r.value),
        (false, true) => {
            let current = t.optional(
                "steady_at",
                Dimension::Current,
                Bounds::not_negative(1e5, ""),
            );
            current.and_then(|c| Some(c.value / rated_a?))
        }
        _ => {
            let problem = Problem::new(t.span(), "[before] needs either `hot` or `steady_at`")
                .help("`hot = 0.8` (fraction of the rated current) or `steady_at = \"7 A\"`; leave [before] out for a cold start");
            t.lacks(&["hot", "steady_at"], problem);
            None
        }
    };
    t.finish();
    Some(Before::Hot {
        fraction_of_rated: fraction?,
    })
}

/// Citations of every property actually used, once each.
fn sources(scenario: &Scenario) -> Vec<String> {
    let mut keys: Vec<String> = Vec::new();
    let mut add = |source: &str| {
        for key in source_keys(source) {
            let text = library::citation(key).unwrap_or(key).to_owned();
            if !keys.contains(&text) {
                keys.push(text);
            }
        }
    };
    for layer in &scenario.strip.layers {
        let a = &layer.alloy;
        for p in [
            &a.density,
            &a.youngs_modulus,
            &a.resistivity,
            &a.conductivity,
            &a.specific_heat,
            &a.expansion.property,
        ] {
            add(&p.source);
        }
        for p in [&a.poisson_ratio, &a.yield_strength].into_iter().flatten() {
            add(&p.source);
        }
    }
    if let Some(metal) = &scenario.contact.metal {
        add(&metal.resistivity.source);
        add(&metal.hardness.source);
        add(&metal.softening_source);
    }
    if let Some(table) = scenario
        .protector
        .limits
        .as_deref()
        .and_then(standards::find)
    {
        add(table.source.split(',').next().unwrap_or(table.source));
    }
    keys
}
