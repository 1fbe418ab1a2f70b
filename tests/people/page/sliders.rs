//! Sliders: how far they go, and what they write into the text of a scenario.

use relatch::internals::load::Programme;
use relatch::internals::page::{Posture, Preset, Sliders, facts, shipped, written};
use relatch::internals::scenario::{Convection, Scenario, read_text, starter};

fn all() -> Sliders {
    Sliders {
        current_a: Some(13.3),
        ambient_c: Some(41.5),
        preload_left_percent: Some(73.0),
        thickness_percent: Some(105.0),
        posture: Some(Posture::Flat),
        ..Sliders::default()
    }
}

#[test]
fn every_preset_takes_every_slider() {
    for preset in shipped().expect("presets") {
        let text = written(&preset, &all()).expect("text");
        let new = read_text(&preset.id, &text).unwrap_or_else(|e| panic!("{e}\n{text}"));
        let old = &preset.scenario;
        assert_eq!(new.load, Programme::constant(13.3));
        assert_eq!(new.surroundings.ambient.len(), 1);
        assert!((new.surroundings.ambient[0].1 - 314.65).abs() < 1e-9);
        assert!((new.release.preload_loss - 0.27).abs() < 1e-12);
        for (a, b) in new.strip.layers.iter().zip(&old.strip.layers) {
            assert!((a.thickness_m - 1.05 * b.thickness_m).abs() < 1e-12);
        }
        assert_eq!(new.cooling.convection, Convection::Flat);
        assert!(new.history.is_empty());
        assert!(new.name().ends_with(", changed"), "{}", new.name());
        let air = ["surroundings.ambient = 41.5 degC", "load.current = 13.3 A"];
        assert!(
            new.changed.ends_with(&air.map(str::to_owned)),
            "{:?}",
            new.changed
        );
        let relative = |s: &Scenario| -> Vec<f64> {
            s.tolerances
                .iter()
                .map(|t| t.standard_uncertainty / t.value)
                .collect()
        };
        assert_eq!(new.tolerances.len(), old.tolerances.len(), "{text}");
        for (a, b) in relative(&new).iter().zip(relative(old)) {
            assert!((a - b).abs() < 1e-9, "{text}");
        }
    }
}

#[test]
fn one_slider_changes_one_thing() {
    let all = shipped().expect("presets");
    let preset = &all[0];
    let sliders = Sliders {
        thickness_percent: Some(105.0),
        ..Sliders::default()
    };
    let text = written(preset, &sliders).expect("text");
    // 0.38 mm times 1.05, without the dust of binary fractions.
    assert_eq!(text.matches("\"0.399 mm +- 1 %\"").count(), 2, "{text}");
    let same = |line: &&str| preset.text.contains(*line);
    let changed: Vec<&str> = text.lines().filter(|l| !same(l)).collect();
    let kinds = ["# Written by", "thickness"];
    for line in &changed {
        assert!(kinds.iter().any(|k| line.contains(k)), "{line}");
    }
    assert!(!text.contains("[[history]]") && text.contains("[[start_up.step]]"));
}

#[test]
fn unmoved_sliders_leave_the_text_alone() {
    for preset in shipped().expect("presets") {
        let text = written(&preset, &Sliders::default()).expect("text");
        assert_eq!(text, preset.text);
    }
}

#[test]
fn comments_and_other_tables_stay() {
    for kind in relatch::internals::scenario::STARTER_KINDS {
        let text = starter(kind).expect("starter");
        let preset = Preset::new("mine", text).expect("preset");
        let mut sliders = all();
        if *kind == "disc" {
            // It lies flat.
            sliders.posture = None;
        }
        let new = written(&preset, &sliders).expect("text");
        let comments = |t: &str| t.lines().filter(|l| l.starts_with('#')).count();
        assert!(comments(&new) > comments(text) / 2, "{new}");
        read_text("mine", &new).unwrap_or_else(|e| panic!("{e}\n{new}"));
    }
}

/// Inline tables and layers as a list are TOML too.
#[test]
fn other_spellings_are_written_into_as_well() {
    let text = starter("bench-strip").expect("starter");
    let start = text.find("[surroundings]").expect("surroundings");
    let end = start + text[start..].find("\n[").expect("the next table");
    let block = &text[start..end];
    let ambient = block
        .lines()
        .find(|l| l.starts_with("ambient"))
        .expect("ambient");
    let inline = format!("surroundings = {{ {ambient} }}\n");
    let text = format!("{inline}{}", text.replacen(block, "", 1));
    let preset = Preset::new("inline", &text).unwrap_or_else(|e| panic!("{e}\n{text}"));
    let new = written(&preset, &all()).expect("text");
    let scenario = read_text("inline", &new).unwrap_or_else(|e| panic!("{e}\n{new}"));
    assert!((scenario.surroundings.ambient[0].1 - 314.65).abs() < 1e-9);
}

#[test]
fn what_is_no_number_is_refused() {
    for bad in [f64::NAN, f64::INFINITY, -1.0, 1e9] {
        let sliders = Sliders {
            current_a: Some(bad),
            ..Sliders::default()
        };
        assert!(sliders.checked().is_err(), "{bad}");
    }
    let ends = Sliders {
        ambient_c: Some(90.0),
        preload_left_percent: Some(10.0),
        thickness_percent: Some(70.0),
        ..Sliders::default()
    };
    assert!(ends.checked().is_ok());
}

#[test]
fn sliders_reach_what_the_scenarios_have_in_round_steps() {
    for preset in shipped().expect("presets") {
        let facts = facts(&preset);
        for s in [&facts.current, &facts.ambient, &facts.preload] {
            assert!(s.least < s.most && s.step > 0.0, "{facts:?}");
            let own = s.own.unwrap_or(s.least);
            assert!(own >= s.least && own <= s.most, "{facts:?}");
        }
        let step = match facts.rated_current_a {
            1.6 => 0.01,
            2.0 => 0.02,
            7.5 => 0.05,
            10.0 | 12.0 => 0.1,
            32.0 => 0.2,
            other => panic!("a part of {other} A"),
        };
        assert_eq!(facts.current.step, step);
    }
}

/// A part that has a dial or poles can be set and lose a phase; what is asked is what is written.
#[test]
fn dials_and_lost_phases_are_written_into_the_scenario() {
    let preset = |file: &str| {
        let text = std::fs::read_to_string(format!("scenarios/{file}.toml")).expect("a file");
        Preset::new(file, &text).expect("a scenario")
    };
    let pump = preset("16-pump-lost-phase");
    let shown = facts(&pump);
    assert!(shown.dial.is_none() && shown.lost.is_some_and(|s| s.most == 3.0));
    let lost = Sliders {
        lost_phase: Some(2.0),
        ..Sliders::default()
    };
    let text = written(&pump, &lost).expect("text");
    let scenario = read_text("lost", &text).unwrap_or_else(|e| panic!("{e}\n{text}"));
    let own = scenario.poles.expect("poles").each;
    let factors: Vec<f64> = own.iter().map(|p| p.current_factor).collect();
    assert_eq!(factors, [1.732, 0.0, 1.732]);
    let conveyor = preset("18-conveyor-class-20");
    let dial = facts(&conveyor).dial.expect("a dial");
    assert_eq!((dial.least, dial.most), (9.0, 13.0));
    let set = Sliders {
        dial_a: Some(9.5),
        ..Sliders::default()
    };
    let text = written(&conveyor, &set).expect("text");
    let scenario = read_text("set", &text).unwrap_or_else(|e| panic!("{e}\n{text}"));
    assert!((scenario.protector.rated_current_a - 9.5).abs() < 1e-12);
    // A part without either has no such slider, and is not changed by one.
    let oven = preset("03-deck-oven");
    assert!(facts(&oven).dial.is_none() && facts(&oven).lost.is_none());
    let text = written(&oven, &set).expect("text");
    let scenario = read_text("oven", &text).expect("a scenario");
    assert_eq!(scenario.protector.rated_current_a, 32.0);
}
