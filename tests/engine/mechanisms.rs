//! Release mechanisms: what is said of a one-term blade, and where a mechanism may be told from
//! another.

use crate::support::{shipped, worked};
use relatch::internals::device::{Device, Fineness, Model};
use relatch::internals::predict::{Options, Outcome, Warning, predict, trip_temperature_k};
use relatch::internals::scenario::{Mechanism, Scenario, SnapModel};
use std::collections::BTreeSet;
use std::path::Path;

fn predicted(s: &Scenario) -> Outcome {
    let mut options = Options::default();
    (options.without_course, options.without_tables) = (true, true);
    predict(s, &options, &mut |_, _| {}).expect("an outcome")
}

/// The fog machine's blade with another rise, in one sine term or in its modes.
fn blade(rise: f64, model: SnapModel) -> Scenario {
    let mut s = shipped("04-fog-machine.toml");
    let Mechanism::SnapBlade(blade) = &mut s.release.mechanism else {
        panic!("a blade");
    };
    blade.rise_m *= rise;
    blade.model = model;
    s
}

/// Uniform warming from the flat temperature to the snap through, K, on a fine grid.
fn warming_k(rise: f64, model: SnapModel) -> f64 {
    let device = Device::new(&blade(rise, model)).expect("device");
    let fineness = Fineness {
        order: 16,
        end_element_m: device.length_m / 8.0,
    };
    let trip_k = trip_temperature_k(&Model::new(&device, fineness)).expect("it snaps");
    trip_k - device.laws.flat_temperature_k
}

#[test]
fn how_late_one_term_is_is_said_of_the_blade_at_hand() {
    let mut all = Vec::new();
    for rise in [0.9, 1.0, 1.1] {
        let said = predicted(&blade(rise, SnapModel::OneTerm))
            .warnings
            .into_iter()
            .find_map(|w| match w {
                Warning::OneTerm { late_relative } => Some(late_relative),
                _ => None,
            });
        let said = said.expect("a warning").expect("both snap");
        let true_late = warming_k(rise, SnapModel::OneTerm) / warming_k(rise, SnapModel::Exact);
        assert!((1.0 + said - true_late).abs() < 1e-3, "{rise}: {said}");
        all.push(said);
    }
    assert!((all[2] - all[0]).abs() > 2e-3, "{all:?}");
    let exact = predicted(&blade(1.0, SnapModel::Exact));
    assert!(
        !exact
            .warnings
            .iter()
            .any(|w| matches!(w, Warning::OneTerm { .. }))
    );
}

#[test]
fn an_accuracy_that_is_not_reached_is_said() {
    let said = |accuracy: f64| {
        let s = worked(|s| s.ask.accuracy = accuracy);
        predicted(&s).warnings.into_iter().find_map(|w| match w {
            Warning::Accuracy { asked, reached } => Some((asked, reached)),
            _ => None,
        })
    };
    assert_eq!(said(1e-5), None);
    let (asked, reached) = said(1e-14).expect("a warning");
    assert!(asked == 1e-14 && reached > asked, "{reached}");
}

/// One mechanism is told from every other in four files; with its own two, adding one touches those
/// six and what only it has. Whoever names any of them, or asks for one alone, stands here: a
/// further file is noticed.
#[test]
fn mechanisms_are_told_apart_in_four_files_and_asked_for_in_known_ones() {
    fn files(folder: &Path, found: &mut Vec<std::path::PathBuf>) {
        for entry in std::fs::read_dir(folder).expect("folder") {
            let path = entry.expect("entry").path();
            if path.is_dir() {
                files(&path, found);
            } else if path.extension().is_some_and(|e| e == "rs") {
                found.push(path);
            }
        }
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut all = Vec::new();
    files(&root, &mut all);
    let named = |text: &str| -> usize {
        let kinds = ["Latch", "SnapBlade", "Bar", "Disc"].map(|variant| {
            let names = ["Mechanism::", "MechanismKind::"].map(|of| format!("{of}{variant}"));
            names.iter().any(|name| text.contains(name))
        });
        kinds.into_iter().filter(|named| *named).count()
    };
    let asks = |text: &str| {
        let calls = [".latch()", ".snap_blade()", ".disc()"];
        calls.iter().any(|call| text.contains(call))
    };
    let (mut telling, mut asking) = (BTreeSet::new(), BTreeSet::new());
    for path in &all {
        let text = std::fs::read_to_string(path).expect("text");
        let inside = path.strip_prefix(&root).expect("inside");
        let name = inside.display().to_string();
        if named(&text) > 2 {
            telling.insert(name);
        } else if named(&text) > 0 || asks(&text) {
            asking.insert(name);
        }
    }
    let expected = [
        "device/release/mod.rs",
        "present/plot/release.rs",
        "present/words/english/mechanism.rs",
        "scenario/mechanism/mod.rs",
    ];
    assert_eq!(telling, expected.map(str::to_owned).into());
    let known = include_str!("mechanisms.txt");
    let known: BTreeSet<String> = known.lines().map(str::to_owned).collect();
    assert_eq!(asking, known);
}
