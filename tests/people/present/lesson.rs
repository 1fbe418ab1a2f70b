//! Lessons: their answers against formulas written here, from the sources named beside them.

use super::markup::{as_xml, stands_alone, texts};
use relatch::internals::present::{Paper, lesson_key_html, lesson_sheets_html, significant};
use relatch::internals::study::lesson::{Lesson, LessonError, Level, Plan, Sheet, lesson};

const LEVELS: [(Level, &str); 5] = [
    (Level::Curvature, "08-worked-strip"),
    (Level::Curvature, "04-fog-machine"),
    (Level::Heating, "08-worked-strip"),
    (Level::Preload, "06-irrigation-pump-new"),
    (Level::Bench, "05-classroom-strip"),
];

fn plan(level: Level) -> Plan {
    Plan {
        level,
        minutes: 90,
        variants: 3,
        seed: 7,
    }
}

fn of(file: &str, plan: &Plan) -> Result<Lesson, LessonError> {
    let path = format!("{}/scenarios/{file}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).expect("a scenario");
    lesson((&path, &text), plan, &mut |_, _| {})
}

fn made(file: &str, plan: &Plan) -> Lesson {
    of(file, plan).unwrap_or_else(|e| panic!("{file}: {e}"))
}

/// A number of a sheet, SI: given, or an answer of its key.
fn value(sheet: &Sheet, symbol: &str) -> f64 {
    let given = sheet.given.iter().find(|q| q.symbol == symbol);
    let task = sheet.tasks.iter().map(|t| &t.step.result);
    let task = task.into_iter().find(|q| q.symbol == symbol);
    let found = given.or(task).unwrap_or_else(|| panic!("no {symbol}"));
    found.value_si
}

/// An answer of the key against one computed here; moved by a percent it fails.
fn answers(sheet: &Sheet, symbol: &str, expected: f64) {
    let said = sheet.tasks.iter().map(|t| &t.step.result);
    let said = said.into_iter().find(|q| q.symbol == symbol);
    let said = said
        .unwrap_or_else(|| panic!("{symbol} is not asked"))
        .value_si;
    let apart = (said / expected - 1.0).abs();
    assert!(
        apart < 1e-9,
        "sheet {}: {symbol} {said} {expected}",
        sheet.number
    );
}

/// S. Timoshenko, J. Opt. Soc. Am. & Rev. Sci. Instrum. 11 (1925) 233, eq. 4 (curvature) and the
/// stiffness of two layers by the parallel-axis theorem; ASTM B106 for the flexivity; the tip of a
/// cantilever of one curvature is kappa L^2 / 2 (elementary beam theory).
#[test]
fn curvature_by_timoshenko() {
    for sheet in &made("08-worked-strip", &plan(Level::Curvature)).sheets {
        let v = |symbol| value(sheet, symbol);
        let (t1, t2, e1, e2) = (v("t_1"), v("t_2"), v("E_1"), v("E_2"));
        let (m, n) = (t1 / t2, e1 / e2);
        let h = t1 + t2;
        answers(sheet, "m", m);
        answers(sheet, "n", n);
        let strain = v("eps_2") - v("eps_1");
        let bracket = 3.0 * (1.0 + m).powi(2) + (1.0 + m * n) * (m * m + 1.0 / (m * n));
        let kappa = 6.0 * strain * (1.0 + m).powi(2) / (h * bracket);
        answers(sheet, "kappa_T", kappa);
        answers(sheet, "F", kappa * h / v("DeltaT_h"));
        answers(sheet, "d_h", 0.5 * kappa * v("L").powi(2));
        // About the neutral axis, layer by layer.
        let z = (e1 * t1 * 0.5 * t1 + e2 * t2 * (t1 + 0.5 * t2)) / (e1 * t1 + e2 * t2);
        let layer = |e: f64, t: f64, at: f64| e * t * (t * t / 12.0 + (at - z).powi(2));
        let ei = v("w") * (layer(e1, t1, 0.5 * t1) + layer(e2, t2, t1 + 0.5 * t2));
        answers(sheet, "EI", ei);
        answers(sheet, "S", v("L").powi(3) / (3.0 * ei));
        for point in &sheet.graph.points {
            let per_kelvin = kappa / v("DeltaT_h");
            let rise = point.x_si - v("T_flat");
            let tip = 0.5 * per_kelvin * rise * v("L").powi(2);
            assert!((point.step.result.value_si / tip - 1.0).abs() < 1e-9);
        }
    }
}

/// One body with one temperature (any heat transfer textbook): C dT/dt = I^2 R - G T, integrated
/// here in small steps and not by its logarithm; resistances of layers side by side (Ohm), heat
/// capacity and surface by their definitions.
#[test]
fn heating_by_integration() {
    for sheet in &made("08-worked-strip", &plan(Level::Heating)).sheets {
        let v = |symbol: &str| value(sheet, symbol);
        let layers = [1, 2].map(|k| {
            let of = |name: &str| v(&format!("{name}_{k}"));
            (of("t"), of("rho"), of("rho_m") * of("c"))
        });
        let (w, length) = (v("w"), v("L"));
        let siemens: f64 = layers
            .iter()
            .map(|(t, rho, _)| w * t / (rho * length))
            .sum();
        answers(sheet, "R", 1.0 / siemens);
        let c: f64 = layers
            .iter()
            .map(|(t, _, heat)| heat * t * w * length)
            .sum();
        answers(sheet, "C", c);
        let h: f64 = layers.iter().map(|l| l.0).sum();
        let g = 2.0 * (w + h) * length * (v("h_c") + v("h_r"));
        answers(sheet, "G", g);
        answers(sheet, "tau_far", c / g);
        let heat = v("I").powi(2) / siemens;
        answers(sheet, "Q", heat);
        answers(sheet, "theta_far", heat / g);
        answers(sheet, "I_far", (g * v("theta") * siemens).sqrt());
        answers(sheet, "t_0", c * v("theta") / heat);
        // Runge and Kutta's fourth order, until the rise is there.
        let rate = |rise: f64| (heat - g * rise) / c;
        let step = v("t_far") / 20_000.0;
        let (mut rise, mut time) = (0.0, 0.0);
        while rise < v("theta") {
            let k1 = rate(rise);
            let k2 = rate(rise + 0.5 * step * k1);
            let k3 = rate(rise + 0.5 * step * k2);
            let k4 = rate(rise + step * k3);
            rise += step * (k1 + 2.0 * k2 + 2.0 * k3 + k4) / 6.0;
            time += step;
        }
        let late = (rise - v("theta")) / rate(rise);
        let apart = (v("t_far") / (time - late) - 1.0).abs();
        assert!(apart < 1e-6, "{apart}");
    }
}

/// Lever and spring; a cantilever's end gives F L^3 / (3 EI) to a force (elementary beam theory);
/// the trip point goes with the root of the rise, so that its shift is a derivative, taken here as
/// a difference.
#[test]
fn preload_by_differences() {
    for sheet in &made("06-irrigation-pump-new", &plan(Level::Preload)).sheets {
        let v = |symbol| value(sheet, symbol);
        let length = v("L");
        let s = v("S");
        let force = |lost: f64| v("f") * v("lambda") * v("F_0") * (1.0 - v("p") - lost) + v("F_c");
        answers(sheet, "P", force(0.0));
        answers(sheet, "d_rel", v("g") + s * force(0.0));
        let release = |lost: f64| {
            let d = v("g") + s * force(lost);
            v("T_flat") + 2.0 * v("h") * d / (v("F") * length.powi(2))
        };
        let rise = release(0.0) - v("T_air");
        answers(sheet, "theta", rise);
        let share = s * (force(0.0) - v("F_c")) / (v("g") + s * force(0.0));
        answers(sheet, "s_P", share);
        let point = |lost: f64| v("I_mid") * ((release(lost) - v("T_air")) / rise).sqrt();
        let per_percent = (point(1e-5) - point(-1e-5)) / 2e-3;
        let apart = (v("DeltaI_P") / per_percent - 1.0).abs();
        assert!(apart < 1e-6, "{apart}");
        for p in &sheet.graph.points {
            let apart = p.step.result.value_si / (per_percent * p.x_si) - 1.0;
            assert!(apart.abs() < 1e-6, "{apart}");
        }
    }
}

/// The line of the measuring lesson: rise I^2 R / G of one body, tip by its flexivity.
#[test]
fn the_line_of_the_bench_and_what_it_asks_to_measure() {
    let lesson = made("05-classroom-strip", &plan(Level::Bench));
    for sheet in &lesson.sheets {
        let v = |symbol| value(sheet, symbol);
        let bench = sheet.bench.as_ref().expect("readings");
        assert!(bench.readings.len() >= 3);
        for (point, reading) in sheet.graph.points.iter().zip(&bench.readings) {
            assert!(reading.current_a <= bench.most_a);
            assert!(reading.hottest_c < 95.5 && reading.voltage_v < 24.0);
            let rise = v("T_air") - v("T_flat") + reading.current_a.powi(2) * v("R") / v("G");
            let tip = 0.5 * v("F") * rise * v("L").powi(2) / v("h");
            assert!((point.step.result.value_si / tip - 1.0).abs() < 1e-9);
            // Cold ends: the strip moves less than one body without them, and not ten times less.
            assert!(
                (0.1..1.0).contains(&(reading.deflection_m / tip)),
                "{reading:?}"
            );
        }
        let currents = bench.readings.windows(2);
        assert!(
            currents
                .into_iter()
                .all(|w| w[1].current_a > 1.05 * w[0].current_a)
        );
    }
    let first = |sheet: &Sheet| sheet.bench.as_ref().map(|b| b.readings[0].current_a);
    assert_ne!(first(&lesson.sheets[0]), first(&lesson.sheets[1]));
}

/// Rounded to four digits where it is written down, by the test's own way.
fn four(value: f64) -> f64 {
    format!("{value:.3e}").parse().expect("a number")
}

#[test]
fn sheets_are_well_posed_and_no_two_have_the_same_answer() {
    for (level, file) in LEVELS {
        let lesson = made(file, &plan(level));
        assert_eq!(lesson.sheets.len(), 3, "{file}");
        for sheet in &lesson.sheets {
            assert!(sheet.tasks.len() >= 3, "{file}");
            for task in &sheet.tasks {
                assert!(task.step.result.value_si.is_finite());
                assert!(task.by_rounding <= 0.005, "{file}: {}", task.by_rounding);
                // Everything that a step needs stands on the sheet.
                for input in &task.step.inputs {
                    value(sheet, &input.symbol);
                }
            }
            if level == Level::Heating {
                let v = |symbol| four(value(sheet, symbol));
                let (tau, steady) = (v("C") / v("G"), v("Q") / v("G"));
                let time = four(tau) * (four(steady) / (four(steady) - v("theta"))).ln();
                let apart = (time / value(sheet, "t_far") - 1.0).abs();
                assert!(apart < 0.005, "{file}: {apart}");
            }
        }
        if level == Level::Bench {
            continue;
        }
        for (k, a) in lesson.sheets.iter().enumerate() {
            for b in &lesson.sheets[k + 1..] {
                let [a, b] = [a, b].map(|s| s.goal().result.value_si);
                assert!((a / b - 1.0).abs() > 5e-4, "{file}: {a} {b}");
            }
        }
    }
}

#[test]
fn the_same_seed_makes_the_same_bytes_and_another_seed_other_sheets() {
    let asked = plan(Level::Curvature);
    let html = |plan: &Plan| lesson_sheets_html(&made("08-worked-strip", plan), Paper::A4);
    assert_eq!(html(&asked), html(&asked));
    assert_ne!(html(&asked), html(&Plan { seed: 8, ..asked }));
    // The first sheets of many are those of few.
    let few = made(
        "08-worked-strip",
        &Plan {
            variants: 2,
            ..asked
        },
    );
    let many = made("08-worked-strip", &asked);
    assert_eq!(few.sheets, many.sheets[..2]);
}

#[test]
fn sheets_and_key_are_pages_that_stand_alone_and_the_key_alone_holds_answers() {
    for (level, file) in LEVELS {
        let lesson = made(file, &plan(level));
        for paper in [Paper::A4, Paper::Letter] {
            let sheets = lesson_sheets_html(&lesson, paper);
            let key = lesson_key_html(&lesson, paper, &format!("{file}.toml"));
            for (name, html) in [("sheets", &sheets), ("key", &key)] {
                stands_alone(html);
                let xml = as_xml(html);
                let page = roxmltree::Document::parse(&xml);
                let page = page.unwrap_or_else(|e| panic!("{file} {name}: {e}"));
                assert!(!texts(&page, "h1").is_empty());
            }
            let size = match paper {
                Paper::A4 => "size: A4",
                Paper::Letter => "size: letter",
            };
            assert!(sheets.contains(size) && key.contains(size));
            for sheet in &lesson.sheets {
                let result = &sheet.goal().result;
                let answer = significant(result.unit.shown(result.value_si), 4);
                assert!(key.contains(&answer), "{file}: {answer}");
                // Nowhere on the sheet: neither as a number nor as the result of a formula.
                assert!(!sheets.contains(&format!("<mn>{answer}</mn>")), "{file}");
                assert!(!sheets.contains(&format!(">{answer} ")), "{file}: {answer}");
            }
        }
    }
}

#[test]
fn a_short_lesson_asks_for_less_and_gives_the_rest() {
    let long = made("08-worked-strip", &plan(Level::Heating));
    let asked = plan(Level::Heating);
    let short = made(
        "08-worked-strip",
        &Plan {
            minutes: 30,
            ..asked
        },
    );
    let [long, short] = [&long, &short].map(|l| &l.sheets[0]);
    assert!(short.tasks.len() < long.tasks.len());
    assert_eq!(short.goal().result.symbol, "t_far");
    // What is not asked any more is given.
    assert!(short.given.iter().any(|q| q.symbol == "G"));
    assert!(long.given.iter().all(|q| q.symbol != "G"));
}

#[test]
fn what_makes_no_lesson_is_told() {
    let refused = |file: &str, plan: Plan| of(file, &plan).expect_err("no lesson").to_string();
    let with = |level| plan(level);
    for (file, plan, words) in [
        ("08-worked-strip", with(Level::Preload), "no spring"),
        ("04-fog-machine", with(Level::Bench), "free end"),
        (
            "04-fog-machine",
            with(Level::Heating),
            "one constant current",
        ),
        ("17-pump-motor-disc", with(Level::Curvature), "disc"),
        ("16-pump-lost-phase", with(Level::Curvature), "poles"),
        (
            "08-worked-strip",
            Plan {
                minutes: 5,
                ..with(Level::Heating)
            },
            "30 to 240 minutes, not 5",
        ),
        (
            "08-worked-strip",
            Plan {
                variants: 0,
                ..with(Level::Heating)
            },
            "1 to 100 sheets",
        ),
    ] {
        let said = refused(file, plan);
        assert!(said.contains(words), "{file}: {said}");
    }
}
