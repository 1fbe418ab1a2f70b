//! What is printed on a protector and its sheet.

use super::assumed::Assumed;
use super::kinds::Loaded;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::standards::{self, Band, PublishedLimits};

/// A published limit: at a multiple of the rating, between two times.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Window {
    /// Multiple of the rated current.
    pub multiple: f64,
    /// Does not trip before, s (0: no lower limit; infinite: must hold).
    pub at_least_s: f64,
    /// Has tripped by, s (infinite: no upper limit).
    pub at_most_s: f64,
    /// Starts from the steady state of this multiple (0: cold).
    pub after_multiple: f64,
}

/// A published point of a typical characteristic.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Point {
    /// Multiple of the rated current.
    pub multiple: f64,
    /// Trip time, s.
    pub time_s: f64,
    /// Relative standard uncertainty of the time.
    pub relative: f64,
    /// Starts from the steady state of this multiple (0: cold).
    pub after_multiple: f64,
}

impl Point {
    /// A point from cold: multiple, s, and relative standard uncertainty.
    pub fn cold(multiple: f64, time_s: f64, relative: f64) -> Point {
        Point {
            multiple,
            time_s,
            relative,
            after_multiple: 0.0,
        }
    }
}

/// A row of an air table: usable current over rated current.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirRow {
    /// Air, K.
    pub ambient_k: f64,
    /// Usable current over the rated current.
    pub factor: f64,
}

/// Rating, reference air and what else is published of a protector.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Nameplate {
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Air that the rating is stated for, K.
    pub reference_ambient_k: f64,
    /// Whether a second strip cancels the temperature of the air.
    pub compensated: bool,
    /// Name of the published limits, if any.
    pub limits: Option<String>,
    /// Windows, those of `limits` included.
    pub windows: Vec<Window>,
    /// Points of a typical characteristic.
    pub points: Vec<Point>,
    /// Air table.
    pub air_table: Vec<AirRow>,
    /// Resistance between the terminals, ohm, and its relative standard uncertainty.
    pub resistance_ohm: Option<(f64, f64)>,
    /// Resets itself when cool.
    pub resets_itself: bool,
    /// Type of an instantaneous element beside the strip, where one is printed.
    pub instantaneous: Option<Band>,
    /// Its poles, and which of them carry the current in service.
    pub loaded: Loaded,
    /// What was assumed because nothing is printed.
    pub assumed: Vec<Assumed>,
}

/// Reference air taken where none is printed, K.
const USUAL_REFERENCE_K: f64 = 296.15;

impl Nameplate {
    /// Ratings that are taken, A: those of parts that exist, with room.
    pub const RATINGS_A: std::ops::RangeInclusive<f64> = 0.05..=10_000.0;

    /// When a part has tripped from cold at the latest under a current, A, by its windows, s; infinite
    /// where none says it.
    pub fn latest_s(&self, current_a: f64) -> f64 {
        let reached_a = current_a * (1.0 + 1e-9);
        let asks =
            |w: &&Window| w.after_multiple == 0.0 && w.multiple * self.rated_current_a <= reached_a;
        let latest = self.windows.iter().filter(asks).map(|w| w.at_most_s);
        latest.fold(f64::INFINITY, f64::min)
    }

    /// A nameplate that says nothing but the rating. The windows are wide: rated current is
    /// carried, 1.4 times trips within an hour, twice the rating within two minutes (from memory of
    /// several sheets).
    pub fn of_rating(rated_current_a: f64) -> Nameplate {
        Nameplate {
            rated_current_a,
            reference_ambient_k: USUAL_REFERENCE_K,
            compensated: false,
            limits: None,
            windows: Vec::new(),
            points: Vec::new(),
            air_table: Vec::new(),
            resistance_ohm: None,
            resets_itself: false,
            instantaneous: None,
            loaded: Loaded::ALL,
            assumed: vec![Assumed::ReferenceAir {
                air_c: USUAL_REFERENCE_K - ZERO_CELSIUS_K,
                of_limits: false,
            }],
        }
        .with_usual_windows()
    }

    fn with_usual_windows(mut self) -> Nameplate {
        self.windows = vec![
            hold(1.0),
            window(1.45, 0.0, 3600.0),
            window(2.0, 2.0, 120.0),
            window(6.0, 0.1, 12.0),
        ];
        self.assumed.push(Assumed::UsualWindows);
        self
    }

    /// The same with another reference air, K.
    pub fn at_reference(mut self, ambient_k: f64) -> Nameplate {
        self.reference_ambient_k = ambient_k;
        let is_air = |a: &Assumed| matches!(a, Assumed::ReferenceAir { .. });
        self.assumed.retain(|a| !is_air(a));
        self
    }

    /// The same at the air of its published limits.
    pub fn at_air_of(self, limits: &PublishedLimits) -> Nameplate {
        let mut same = self.at_reference(ZERO_CELSIUS_K + limits.ambient_c);
        same.assumed.push(Assumed::ReferenceAir {
            air_c: limits.ambient_c,
            of_limits: true,
        });
        same
    }

    /// The same with the limits of a published table instead of the usual windows; rated current is
    /// carried.
    pub fn with_limits(mut self, limits: &PublishedLimits) -> Nameplate {
        self.limits = Some(limits.name.into());
        self.assumed.retain(|a| *a != Assumed::UsualWindows);
        self.windows = limits
            .rows
            .iter()
            .map(|r| Window {
                multiple: r.multiple,
                at_least_s: r.at_least_s,
                at_most_s: r.at_most_s,
                after_multiple: r.after_multiple,
            })
            .collect();
        if !self.windows.iter().any(|w| w.at_least_s.is_infinite()) {
            self.windows.push(hold(1.0));
        }
        self
    }

    /// The same with windows of its own sheet; rated current is carried in any case.
    pub fn with_windows(mut self, windows: Vec<Window>) -> Nameplate {
        self.assumed.retain(|a| *a != Assumed::UsualWindows);
        self.windows = windows;
        if !self.windows.iter().any(|w| w.at_least_s.is_infinite()) {
            self.windows.push(hold(1.0));
        }
        self
    }

    /// The same with poles behind which a machine has some phases; a bar that notices a lost phase
    /// has three where nobody says.
    pub fn with_poles(mut self, of: Option<u32>, phases: Option<u32>, notices: bool) -> Nameplate {
        let of = of.unwrap_or(if notices { 3 } else { 1 });
        self.loaded = Loaded::by_phases(of, phases, notices);
        let is_looped = notices && phases == Some(1);
        if self.loaded.some_idle() || is_looped {
            // What is said of the idle ones, or of the loop, says it.
            self.assumed
                .retain(|a| !matches!(a, Assumed::OnePole { pole: None, .. }));
        }
        if self.loaded.some_idle() {
            self.assumed.push(Assumed::SomePolesCarry {
                carrying: self.loaded.carrying,
                of: self.loaded.of,
                notices,
            });
        } else if is_looped {
            self.assumed.push(Assumed::LoopedThroughAllPoles);
        }
        self
    }

    /// What the release feels of an air temperature, K: a compensated part its reference air.
    pub fn felt_k(&self, air_k: f64) -> f64 {
        match self.compensated {
            true => self.reference_ambient_k,
            false => air_k,
        }
    }

    /// Whether it is held to the trip class of a motor overload relay.
    pub(super) fn is_of_a_motor_class(&self) -> bool {
        let name = self.limits.as_deref();
        name.is_some_and(|name| name.starts_with("motor class"))
    }

    /// The same, held to the published limits of a name at their air.
    ///
    /// # Errors
    /// The name is not known, or the limits are not for parts of this rating.
    pub fn held_to(self, name: &str) -> Result<Nameplate, String> {
        let Some(table) = Self::limits_named(name) else {
            let known: Vec<&str> = standards::LIMITS.iter().map(|l| l.name).collect();
            return Err(format!(
                "no limits are called {name}; known: {}",
                known.join("; ")
            ));
        };
        if self.rated_current_a > table.up_to_a {
            return Err(format!(
                "the limits \"{}\" have no source above {} A; without them usual windows are taken",
                table.name, table.up_to_a
            ));
        }
        Ok(self.with_limits(table).at_air_of(table))
    }

    /// Published limits of a name.
    pub fn limits_named(name: &str) -> Option<&'static PublishedLimits> {
        standards::LIMITS
            .iter()
            .find(|l| l.name.eq_ignore_ascii_case(name.trim()))
    }
}

fn hold(multiple: f64) -> Window {
    window(multiple, f64::INFINITY, f64::INFINITY)
}

fn window(multiple: f64, at_least_s: f64, at_most_s: f64) -> Window {
    Window {
        multiple,
        at_least_s,
        at_most_s,
        after_multiple: 0.0,
    }
}
