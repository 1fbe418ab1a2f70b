//! The whole file, table by table. Each reader puts its table into the scenario and says whether
//! that went well; whatever did not has left a problem behind.

use super::check::{Whole, check};
use super::metals::{Metals, unknown_name};
use super::population::population;
use super::rows::{Fields, table};
use super::{
    Before, Disc, Mechanism, Scenario, Tolerance, ageing_reader, dial, history, machine_case,
    magnetic, mechanism, parts, poles, programme, strip, unread,
};
use crate::diagnostic::Problem;
use crate::document::{Noted, TableReader};
use crate::material::{library, source_keys};
use crate::standards;

/// Version of the layout of scenario files.
const FORMAT: u32 = 1;

impl From<Noted> for Tolerance {
    fn from(n: Noted) -> Tolerance {
        Tolerance {
            path: n.path,
            value: n.value_si,
            standard_uncertainty: n.standard_uncertainty_si,
            span: n.span,
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
    let mut scenario = unread::scenario();
    let s = &mut scenario;
    let mut well = head(root, s);
    let metals = Metals::read(root);
    let plain = |f: &Fields<'_, '_>, s: &mut Scenario| f.read(s);
    well &= part(root, "protector", s, &protector);
    // What stands in [strip] depends on it.
    let is_disc = root.has("disc");
    if is_disc {
        s.release.mechanism = Mechanism::Disc(Disc::UNREAD);
    }
    let strip = part(root, "strip", s, &|f, s| strip::strip(f, &metals, s));
    well &= part(root, "cooling", s, &plain);
    let clamped_terminal = parts::clamped_terminal(root, is_disc, s);
    well &= part(root, "machine_case", s, &machine_case::machine_case);
    well &= part(root, "moving_contact", s, &plain);
    let fixed_contact = part(root, "fixed_contact", s, &|f, s| {
        let read = f.read(s);
        parts::wire(f, &mut s.fixed_contact.conductance_w_per_k) && read
    });
    well &= part(root, "contact", s, &|f, s| parts::contact(f, &metals, s));
    well &= part(root, "winding", s, &|f, s| {
        s.winding = Some(unread::WINDING);
        f.read(s)
    });
    let housing = part(root, "housing", s, &|f, s| {
        s.housing = Some(unread::HOUSING);
        f.read(s)
    });
    well &= magnetic::belong_together(root);
    well &= part(root, "magnetic", s, &magnetic::magnetic);
    well &= part(root, "closing", s, &magnetic::closing);
    well &= part(root, "cable", s, &|f, s| {
        s.cable = Some(unread::CABLE);
        f.read(s)
    });
    let release = mechanism::release(root, s);
    well &= poles::poles(root, s);
    well &= dial::dial(root, s);
    well &= part(root, "surroundings", s, &surroundings);
    well &= part(root, "before", s, &before);
    let load = part(root, "load", s, &programme::load);
    well &= part(root, "start_up", s, &programme::start_up);
    well &= history::history(root, load, s);
    let whole = Whole {
        strip,
        release,
        housing,
        terminals: clamped_terminal && fixed_contact,
    };
    well &= ageing_reader::ageing(root, &whole, s);
    well &= ask(root, s);
    let has_population = root.has("population");
    root.finish();
    check(root, &whole, s);
    well &= strip && release && housing && clamped_terminal && fixed_contact && load;
    if !well {
        return None;
    }
    // It names numbers of the file, so it is read when all of them are known.
    if has_population {
        s.population = population(&root.table("population")?, s)?;
    }
    s.sources = sources(s);
    Some(scenario)
}

/// Read a table where it is there, or must be; false only after a problem.
fn part(
    root: &TableReader<'_>,
    path: &'static str,
    s: &mut Scenario,
    read: &dyn Fn(&Fields<'_, '_>, &mut Scenario) -> bool,
) -> bool {
    let rows = table(path);
    if !rows.needed && !root.has(path) {
        return true;
    }
    root.required_table(path).is_some_and(|t| {
        let well = read(&Fields::new(&t, rows), s);
        t.finish();
        well
    })
}

fn head(root: &TableReader<'_>, s: &mut Scenario) -> bool {
    if !root.has("format") {
        root.missing("format", "1");
    } else if let Some(read) = root.whole("format", 1000)
        && read.value != FORMAT
    {
        root.report(
            Problem::new(read.span, format!("this program reads format {FORMAT}"))
                .label(format!("format {}", read.value))
                .help("a newer file needs a newer program"),
        );
    }
    let f = Fields::new(root, table(""));
    let title = f.text("title");
    let shows = f.text_if_any("shows");
    s.shows = shows
        .map(|read| read.value.trim().to_owned())
        .unwrap_or_default();
    f.read_key("used_for", s) & f.read_key("changed", s)
        && title.map(|read| s.title = read.value).is_some()
}

fn protector(f: &Fields<'_, '_>, s: &mut Scenario) -> bool {
    let well = f.read(s);
    let Some(read) = f.text_if_any("limits") else {
        return well;
    };
    let Some(limits) = standards::find(&read.value) else {
        let known: Vec<&str> = standards::LIMITS.iter().map(|l| l.name).collect();
        let what = "table of published limits";
        f.t.report(unknown_name(read.span, what, &read.value, &known));
        return false;
    };
    let rated_a = s.protector.rated_current_a;
    if rated_a.is_finite() && !limits.covers(rated_a) {
        f.t.report(
            Problem::new(
                read.span,
                format!("these limits hold {}", standards::covered(limits.covers_a)),
            )
            .label(format!("the part is rated {rated_a} A")),
        );
    }
    s.protector.limits = Some(limits.name.to_owned());
    well
}

fn surroundings(f: &Fields<'_, '_>, s: &mut Scenario) -> bool {
    let t = f.t;
    if !t.has("ambient_points") {
        s.surroundings.ambient = vec![(0.0, f64::NAN)];
        return f.read(s);
    }
    if t.has("ambient") {
        t.report(Problem::new(
            t.span_of("ambient_points"),
            "give `ambient` or `ambient_points`, not both",
        ));
    }
    let Some(pairs) = f.pairs("ambient_points") else {
        return false;
    };
    if let Some(pair) = pairs.windows(2).find(|w| w[1].0.value <= w[0].0.value) {
        t.report(
            Problem::new(
                pair[1].0.span.clone(),
                "the times of ambient points must increase",
            )
            .label("not after the one before"),
        );
        return false;
    }
    s.surroundings.ambient = pairs.iter().map(|(a, b)| (a.value, b.value)).collect();
    true
}

fn before(f: &Fields<'_, '_>, s: &mut Scenario) -> bool {
    let t = f.t;
    let fraction =
        match (t.has("hot"), t.has("steady_at")) {
            (true, false) => f.number("hot").map(|r| r.value),
            (false, true) => f
                .number("steady_at")
                .map(|current| current.value / s.protector.rated_current_a),
            _ => {
                let problem = Problem::new(t.span(), "[before] needs either `hot` or `steady_at`")
                .help("`hot = 0.8` (fraction of the rated current) or `steady_at = \"7 A\"`; leave \
                       [before] out for a cold start");
                t.lacks(&["hot", "steady_at"], problem);
                None
            }
        };
    fraction
        .map(|fraction_of_rated| s.before = Before::Hot { fraction_of_rated })
        .is_some()
}

/// Read `[ask]`; every key has a default.
fn ask(root: &TableReader<'_>, s: &mut Scenario) -> bool {
    let reference_k = s.protector.reference_ambient_k;
    let listed = |k: &f64| (k - reference_k).abs() < 0.5;
    if reference_k.is_finite() && !s.ask.ambients_k.iter().any(listed) {
        s.ask.ambients_k.push(reference_k);
        s.ask.ambients_k.sort_by(f64::total_cmp);
    }
    let rows = table("ask");
    if !root.has("ask") {
        return rows.defaults(s);
    }
    let Some(t) = root.table("ask") else {
        return false;
    };
    let well = Fields::new(&t, rows).read(s);
    let ask = &s.ask;
    for (key, list) in [
        ("preload_losses", &ask.losses),
        ("ambients", &ask.ambients_k),
        ("waits", &ask.waits_s),
        ("states_at", &ask.states_at_s),
    ] {
        if list.len() > 500 {
            t.report(Problem::new(
                t.span_of(key),
                format!("`{key}` holds more than 500 values"),
            ));
        }
    }
    t.finish();
    well
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
    if let Some(table) = scenario.limits() {
        add(table.source.split(',').next().unwrap_or(table.source));
    }
    keys
}
