//! What is written is as frequent as its chance says.

use super::{Entry, Scene, Wrong, meters, places, trips};
use crate::outside::dice::Dice;
use crate::outside::made;
use std::collections::BTreeMap;

const THROWS: usize = 10_000;

/// Throws an entry often, and compares how often each text comes with its chance.
fn compare(what: &str, scene: &Scene<'_>, write: impl Fn(&Dice) -> Option<Entry>) -> usize {
    let dice = Dice::new(11);
    let mut texts: BTreeMap<String, (usize, Entry)> = BTreeMap::new();
    for _ in 0..THROWS {
        let Some(entry) = write(&dice) else { continue };
        let text = entry.toml("");
        texts.entry(text).or_insert((0, entry)).0 += 1;
    }
    let mut compared = 0;
    for (text, (count, entry)) in texts {
        // About or not, with which chance is not asked of a time.
        let told = match (&entry, text.contains("about")) {
            (Entry::Trip { .. }, true) => 0.3,
            (Entry::Trip { .. }, false) => 0.7,
            _ => 1.0,
        };
        let p = told * entry.chance(scene, &Dice::new(1)).exp();
        let share = count as f64 / THROWS as f64;
        // The normal numbers of the dice are sums of twelve, up to 3 % off near the middle.
        let n = THROWS as f64;
        let off = 4.5 * (p / n).sqrt() + 0.04 * p + 4.0 / n;
        assert!((share - p).abs() < off, "{what}: {text} {share} {p}");
        compared += usize::from(p > 0.01);
    }
    compared
}

#[test]
fn what_is_written_is_as_frequent_as_its_chance() {
    let mut compared = 0;
    for k in 0..8 {
        let machine = made(k).0;
        for wrong in [None, Some(Wrong::Reading), Some(Wrong::DeclaredTrueRms)] {
            let scene = Scene::new(&machine, wrong);
            let reading = |dice: &Dice| Some(meters::reading(&scene, dice));
            compared += compare("reading", &scene, reading);
        }
        for wrong in [None, Some(Wrong::RoomForPart), Some(Wrong::WarmCalledCold)] {
            let scene = Scene::new(&machine, wrong);
            let air = |dice: &Dice| Some(places::air(&scene, dice, true));
            compared += compare("air", &scene, air);
            if scene.trip_s.is_some() {
                compared += compare("trip", &scene, |dice| trips::trip(&scene, dice));
            }
        }
        let scene = Scene::new(&machine, None);
        let terminals = |dice: &Dice| Some(places::terminals(&scene, dice));
        compared += compare("terminals", &scene, terminals);
    }
    assert!(compared > 200, "{compared}");
}
