//! The instantaneous element that a part has beside its strip.
//!
//! The pull goes with current times turns, so one design serves every pick-up: what decides is the
//! current over the pick-up, and the moment of closing. A few designs behind a few circuits are
//! flown through all closing angles once; a band then averages over the pick-ups that it allows,
//! evenly on a logarithmic scale.

use crate::device::Magnet;
use crate::family::{Nameplate, PartsWait};
use crate::physics::closing_current::ClosingCurrent;
use crate::physics::electromagnet::MagneticCircuit;
use crate::predict::magnet::{HORIZON_S, flight, rms_pick_up_a};
use crate::predict::parallel;
use crate::scenario::Magnetic;
use crate::standards::Band;
use serde::{Deserialize, Serialize};
use std::sync::OnceLock;

/// Within this time, s, what is seen as a trip at once may have been the element: it opens within
/// 0.1 s (IEC 60898-1), and a hand at a stop-watch is as much late.
pub const AT_ONCE_S: f64 = 0.2;
/// Currents over the pick-up, rms, between which closings are flown: below, no first peak of these
/// circuits reaches it; above, every closing does.
const RATIOS: (f64, f64) = (0.5, 1.15);
const STEPS: usize = 26;
const STEP: f64 = (RATIOS.1 - RATIOS.0) / (STEPS - 1) as f64;
/// Closing angles of a half turn: the other half is the same with the other sign.
const ANGLES: usize = 24;
/// Moving mass, kg, spring force at rest, N, spring, N/m, and force of the trigger, N, of armatures
/// from light to heavy. Invented within what such parts have (common practice, no source).
const ARMATURES: [(f64, f64, f64, f64); 3] = [
    (1.2e-3, 1.5, 300.0, 1.0),
    (2.5e-3, 2.3, 350.0, 2.0),
    (6.0e-3, 3.5, 600.0, 3.5),
];
/// Reactance over resistance of what is switched: heaters behind their wires, a transformer's
/// secondary side, locked rotors (power factor 0.4 to 0.9; common practice, no source).
const X_OVER_R: [f64; 3] = [0.3, 1.0, 2.3];
const FREQUENCY_HZ: f64 = 50.0;

/// The element of a nameplate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Element {
    /// Type, where it is printed; else any of the three.
    pub band: Option<Band>,
    rated_a: f64,
}

/// What it does under the current that is asked about.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Instantaneous {
    /// Type, where it is printed; else any of the three is meant.
    pub band: Option<Band>,
    /// Below this current, rms, none releases, A.
    pub may_open_from_a: f64,
    /// From this one on all do, A.
    pub opens_from_a: f64,
    /// Share of closings of such parts onto the load in which it opens before the strip, 0..1.
    pub by_load: f64,
    /// The same of the start.
    pub by_start: Option<f64>,
    /// From open contacts after it has acted until the latch holds.
    pub reset: PartsWait,
}

impl Element {
    /// The element of a part, where one is printed or its limits are those of parts that have one.
    pub fn of(nameplate: &Nameplate) -> Option<Element> {
        let named = nameplate.limits.as_deref();
        let limits = named.and_then(Nameplate::limits_named);
        let has_one = limits.is_some_and(|l| l.with_instantaneous);
        let is_one = nameplate.instantaneous.is_some() || has_one;
        is_one.then_some(Element {
            band: nameplate.instantaneous,
            rated_a: nameplate.rated_current_a,
        })
    }

    fn bands(&self) -> &[Band] {
        self.band.as_ref().map_or(&Band::ALL, std::slice::from_ref)
    }

    /// Currents, rms, up to which none releases within 0.1 s and from which on all do, A.
    pub fn limits_a(&self) -> [f64; 2] {
        let all = || self.bands().iter().map(|b| b.multiples());
        let low = all().map(|m| m[0]).fold(f64::INFINITY, f64::min);
        let high = all().map(|m| m[1]).fold(0.0, f64::max);
        [low, high].map(|multiple| multiple * self.rated_a)
    }

    /// Chance that such a part opens at once when it is closed onto a current, rms, A, at any
    /// moment.
    pub fn chance(&self, current_a: f64) -> f64 {
        let multiple = current_a / self.rated_a;
        let of = |band: &Band| {
            let [low, high] = band.multiples();
            let between = summed(multiple / low) - summed(multiple / high);
            match multiple / high < RATIOS.1 {
                true => (between / (high / low).ln()).min(1.0),
                false => 1.0,
            }
        };
        self.bands().iter().map(of).sum::<f64>() / self.bands().len() as f64
    }
}

/// The share of closings that release, summed over the logarithm of the current over the pick-up
/// from where none does up to a ratio; between the ratios that are flown the share is a straight
/// line.
fn summed(ratio: f64) -> f64 {
    static TABLE: OnceLock<Vec<Piece>> = OnceLock::new();
    let place = (ratio - RATIOS.0) / STEP;
    if place < 0.0 {
        return 0.0;
    }
    let table = TABLE.get_or_init(pieces);
    table[(place as usize).min(table.len() - 1)].up_to(ratio)
}

/// A straight piece of the share.
struct Piece {
    from: f64,
    share: f64,
    slope: f64,
    before: f64,
}

impl Piece {
    fn up_to(&self, ratio: f64) -> f64 {
        let level = self.share - self.slope * self.from;
        self.before + level * (ratio / self.from).ln() + self.slope * (ratio - self.from)
    }
}

fn ratio(k: usize) -> f64 {
    RATIOS.0 + STEP * k as f64
}

/// From each ratio that is flown on; from the last one on all release.
fn pieces() -> Vec<Piece> {
    let shares = flown();
    let mut pieces: Vec<Piece> = Vec::new();
    for (k, share) in shares.iter().enumerate() {
        let next = shares.get(k + 1);
        pieces.push(Piece {
            from: ratio(k),
            share: next.map_or(1.0, |_| *share),
            slope: next.map_or(0.0, |next| (next - share) / STEP),
            before: pieces.last().map_or(0.0, |piece| piece.up_to(ratio(k))),
        });
    }
    pieces
}

/// The shares at all ratios, as means over armatures and circuits.
fn flown() -> Vec<f64> {
    let mut closings = Vec::new();
    for magnet in ARMATURES.map(magnet) {
        let start_a = magnet.direct_currents().map(|d| d.start_a);
        let picks_up = start_a.and_then(|a| rms_pick_up_a(&magnet, a, FREQUENCY_HZ));
        let pick_up_a = picks_up.unwrap_or(f64::NAN);
        closings.extend(X_OVER_R.map(|x_over_r| Closings {
            magnet,
            pick_up_a,
            x_over_r,
        }));
    }
    let from = parallel::map(&closings, Closings::release_from, &mut |_| {}).concat();
    let share = |k| from.iter().filter(|from| **from <= k).count() as f64 / from.len() as f64;
    (0..STEPS).map(share).collect()
}

/// Closings of one armature onto one circuit.
struct Closings {
    magnet: Magnet,
    pick_up_a: f64,
    x_over_r: f64,
}

impl Closings {
    /// Number of the smallest ratio that releases, of every closing angle; beyond the last where
    /// none does. A larger current pulls harder at every moment, so all larger ratios release too.
    fn release_from(&self) -> Vec<usize> {
        let mut from = STEPS / 2;
        let found = (0..ANGLES).map(|k| {
            let angle_rad = std::f64::consts::PI * (k as f64 + 0.5) / ANGLES as f64;
            // Neighbouring angles release from neighbouring ratios.
            while from < STEPS && !self.releases(from, angle_rad) {
                from += 1;
            }
            while from > 0 && self.releases(from - 1, angle_rad) {
                from -= 1;
            }
            from
        });
        found.collect()
    }

    fn releases(&self, k: usize, angle_rad: f64) -> bool {
        let current = ClosingCurrent::Alternating {
            rms_a: ratio(k) * self.pick_up_a,
            frequency_hz: FREQUENCY_HZ,
            x_over_r: self.x_over_r,
        };
        let flown = flight(
            &self.magnet,
            &current,
            angle_rad,
            HORIZON_S,
            &mut |_, _, _| (),
        );
        flown.release.is_some()
    }
}

/// A plunger coil of a wall-box part with one of the armatures.
fn magnet(
    (mass_kg, preload_n, stiffness_n_per_m, trigger_force_n): (f64, f64, f64, f64),
) -> Magnet {
    let pole_area_m2: f64 = 28e-6;
    let circuit = MagneticCircuit {
        turns: 6.0,
        gaps: 1.0,
        pole_area_m2,
        pole_perimeter_m: 4.0 * pole_area_m2.sqrt(),
        gap_m: 2.5e-3,
        fringe: 0.26,
        iron_length_m: 65e-3,
        iron_area_m2: 24e-6,
        relative_permeability: 1500.0,
        saturation_t: 1.6,
    };
    Magnet {
        built: Magnetic {
            circuit,
            mass_kg,
            preload_n,
            stiffness_n_per_m,
            weight_n: 0.0,
            strike_m: 1.1e-3,
            lever: 1.0,
            trigger_force_n,
            trigger_travel_m: 0.6e-3,
            band: None,
        },
        opening_time_s: 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(band: Option<Band>) -> Element {
        Element {
            band,
            rated_a: 20.0,
        }
    }

    #[test]
    fn a_band_is_kept_at_both_ends_and_an_offset_reaches_below_it() {
        for band in Band::ALL {
            let [low, high] = band.multiples().map(|m| 20.0 * m);
            let chance = |a: f64| of(Some(band)).chance(a);
            // The first peak of the most inductive of these circuits is 1.26 of the symmetrical
            // one (1 + exp(-π R/X), textbook), and its half wave is longer.
            assert_eq!(chance(0.72 * low), 0.0);
            assert!(chance(1.02 * low) > 0.0);
            assert!(chance(0.95 * high) < 1.0 && chance(1.16 * high) == 1.0);
            let rises = (0..20).map(|k| chance(low * (0.8 + 0.1 * f64::from(k))));
            // A sum of logarithms is rounded.
            assert!(
                rises
                    .clone()
                    .zip(rises.skip(1))
                    .all(|(a, b)| a <= b + 1e-12)
            );
        }
        let any = of(None);
        assert_eq!(any.limits_a(), [60.0, 400.0]);
        let mean = Band::ALL
            .map(|b| of(Some(b)).chance(130.0))
            .iter()
            .sum::<f64>()
            / 3.0;
        assert!((any.chance(130.0) - mean).abs() < 1e-12);
    }

    /// Flown at every ratio, from the smallest that releases on all do.
    #[test]
    fn a_larger_current_releases_wherever_a_smaller_one_does() {
        for (armature, x_over_r) in ARMATURES.into_iter().zip(X_OVER_R) {
            let magnet = magnet(armature);
            let start_a = magnet.direct_currents().expect("moves").start_a;
            let pick_up_a = rms_pick_up_a(&magnet, start_a, FREQUENCY_HZ).expect("picks up");
            let closings = Closings {
                magnet,
                pick_up_a,
                x_over_r,
            };
            let from = closings.release_from();
            for (angle, from) in from.into_iter().enumerate().step_by(5) {
                let angle_rad = std::f64::consts::PI * (angle as f64 + 0.5) / ANGLES as f64;
                for k in 0..STEPS {
                    let releases = closings.releases(k, angle_rad);
                    assert_eq!(releases, k >= from, "{x_over_r} {angle} {k}");
                }
            }
        }
    }

    /// A band is its pick-ups one by one, evenly on a logarithmic scale.
    #[test]
    fn a_band_is_the_mean_of_its_pick_ups() {
        let shares = flown();
        let share = |ratio: f64| {
            let place = ((ratio - RATIOS.0) / STEP).max(0.0);
            let k = place as usize;
            match (shares.get(k), shares.get(k + 1)) {
                (Some(a), Some(b)) => a + (place - k as f64) * (b - a),
                _ => 1.0,
            }
        };
        for (band, multiple) in [
            (Band::B, 3.1),
            (Band::C, 6.5),
            (Band::D, 14.0),
            (Band::D, 21.0),
        ] {
            let [low, high] = band.multiples();
            let pick_up = |k: u32| low * (high / low).powf((f64::from(k) + 0.5) / 5000.0);
            let mean = (0..5000).map(|k| share(multiple / pick_up(k))).sum::<f64>() / 5000.0;
            let chance = of(Some(band)).chance(20.0 * multiple);
            assert!(
                (chance - mean).abs() < 1e-4,
                "{band:?} {multiple}: {chance} {mean}"
            );
        }
    }

    /// Another element than those of the family, looked at at every closing angle, with the turns
    /// that give it each pick-up of the band.
    #[test]
    fn the_chance_is_that_of_an_element_that_the_family_does_not_have() {
        use crate::predict::magnet::{Poles, angles};
        let mut other = magnet((1.8e-3, 2.0, 420.0, 1.6));
        other.built.circuit.gap_m = 3.0e-3;
        other.built.strike_m = 1.4e-3;
        let start_a = other.direct_currents().expect("moves").start_a;
        let own_a = rms_pick_up_a(&other, start_a, FREQUENCY_HZ).expect("picks up");
        let turns = other.built.circuit.turns;
        let mut sum = 0.0;
        for k in 0..12 {
            let pick_up_a = 100.0 * 2_f64.powf((f64::from(k) + 0.5) / 12.0);
            other.built.circuit.turns = turns * own_a / pick_up_a;
            for x_over_r in [0.3, 1.0, 2.3] {
                let current = ClosingCurrent::Alternating {
                    rms_a: 130.0,
                    frequency_hz: FREQUENCY_HZ,
                    x_over_r,
                };
                sum += angles(&other, &current, Poles::One, HORIZON_S).probability / 36.0;
            }
        }
        let family = of(Some(Band::C)).chance(130.0);
        assert!((family - sum).abs() < 0.03, "{family} {sum}");
    }
}
