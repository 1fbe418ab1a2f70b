//! A case, its family, and a particle at everything unknown: what part, what load, what air.

use super::latent::{BURST, LOAD, PLACE, Particle, ROOM, START};
use super::pieces::few_pieces;
use super::scatter::SELECTED_S;
use crate::evidence::{Case, Event, Outcome, Setting, Unit};
use crate::family::{AT_ONCE_S, Carries, Element, Family, Fixed, Part, Quick, Wear};
use crate::load::{Current, Programme, Repeat, Segment};

/// What a particle makes of the two terminals.
#[derive(Debug, Clone, Copy)]
pub struct TwoTerminals {
    /// Air at the part, K.
    pub air_k: f64,
    /// Rises of the clamped one and of that of the fixed contact above it, K.
    pub rise_k: [f64; 2],
}

impl TwoTerminals {
    /// The hotter less the cooler one, K.
    pub fn apart_k(&self) -> f64 {
        (self.rise_k[0] - self.rise_k[1]).abs()
    }

    /// Rise of the cooler one, K.
    pub fn cooler_k(&self) -> f64 {
        self.rise_k[0].min(self.rise_k[1])
    }
}

/// Weighs particles of one case.
pub struct Scales<'a> {
    /// The case.
    pub case: &'a Case,
    /// Its family.
    pub family: &'a Family,
    /// Step responses of its members.
    pub quick: &'a Quick,
    /// Recorded loads of the events, in few pieces.
    pub recorded: Vec<Vec<(f64, f64)>>,
    /// What every part carries alike in an event, followed once.
    pub fixed: Vec<Option<Fixed>>,
    shortest_s: f64,
    element: Option<Element>,
}

/// A machine whose every closing opens the element with this chance trips within half a day: it is
/// started some three times (common practice, no source).
const ELEMENT_TRIPS: f64 = 0.2;
/// Sooner than this, s, no armature has opened contacts (common practice, no source).
const SOONEST_S: f64 = 0.003;

impl<'a> Scales<'a> {
    /// Scales for a case.
    pub fn new(case: &'a Case, family: &'a Family) -> Scales<'a> {
        let times = case.events.iter().map(|e| match e.outcome {
            Outcome::Tripped { after_s } => after_s.value,
            Outcome::TrippedWithin { to_s, .. } => to_s,
            Outcome::Held { for_s } => for_s,
        });
        let pieces = case.events.iter().map(|e| match &e.setting {
            Setting::Recorded(load) => few_pieces(load),
            _ => Vec::new(),
        });
        let recorded: Vec<Vec<(f64, f64)>> = pieces.collect();
        let mut scales = Scales {
            case,
            family,
            quick: family.quick(),
            fixed: Vec::new(),
            recorded,
            shortest_s: times.fold(10.0, f64::min).max(0.05),
            element: Element::of(&case.nameplate),
        };
        scales.fixed = (0..case.events.len()).map(|k| scales.followed(k)).collect();
        scales
    }

    /// Rated current, A.
    pub fn rated_a(&self) -> f64 {
        self.case.nameplate.rated_current_a
    }

    /// Current at other times than when it trips, A.
    pub fn other_a(&self, particle: &Particle) -> f64 {
        self.rated_a() * (particle.x[LOAD] - particle.x[BURST]).exp()
    }

    /// Air at the part in service, K.
    pub fn air_k(&self, particle: &Particle) -> f64 {
        particle.x[ROOM] + particle.x[PLACE]
    }

    /// What the release feels of an air temperature, K.
    pub fn felt_k(&self, air_k: f64) -> f64 {
        self.case.nameplate.felt_k(air_k)
    }

    /// Heat of a sound part at rated current, W.
    pub fn sound_w(&self, particle: &Particle) -> f64 {
        let member = &self.family.members()[particle.drawn.member];
        member.power_w / particle.drawn.placing.trip_multiple.powi(2)
    }

    /// State of the part.
    pub fn wear(&self, particle: &Particle) -> Wear {
        particle.wear(self.sound_w(particle))
    }

    /// A part of this particle in some state.
    pub fn part(&self, particle: &Particle, wear: Wear) -> Part {
        Part::new(
            &self.family.members()[particle.drawn.member],
            particle.drawn.placing,
            wear,
            self.rated_a(),
            self.shortest_s,
        )
    }

    /// A state as a pole sees it that carries the current in service.
    pub fn in_place(&self, particle: &Particle, wear: Wear) -> Wear {
        let all = self.case.nameplate.loaded;
        let loaded = if particle.lost_phase {
            all.without_a_phase()
        } else {
            all
        };
        loaded.wear(wear)
    }

    /// The load in service.
    pub fn load(&self, particle: &Particle, with_start: bool) -> Programme {
        let run_a = self.rated_a() * particle.x[LOAD].exp();
        if !with_start || self.case.has_start == Some(false) {
            return Programme::constant(run_a);
        }
        Programme {
            segments: vec![
                Segment {
                    duration_s: particle.x[START].exp(),
                    current: Current::Constant(self.rated_a() * particle.log_start().exp()),
                },
                Segment {
                    duration_s: f64::INFINITY,
                    current: Current::Constant(run_a),
                },
            ],
            repeat: Repeat::Once,
        }
    }

    /// State of the part that an event is about: this one as it is, with its joint or away from it;
    /// the same as new; a sound twin in the same place.
    pub fn event_wear(&self, particle: &Particle, event: &Event) -> Wear {
        let wear = self.wear(particle);
        match (event.unit, &event.setting) {
            (Unit::ThisPart, Setting::Bench { .. }) => Wear {
                joint_w: 0.0,
                ..wear
            },
            (Unit::ThisPart, _) => self.in_place(particle, wear),
            (Unit::AsNew, _) | (Unit::Twin, Setting::Bench { .. }) => Wear::NONE,
            (Unit::Twin, _) => self.in_place(
                particle,
                Wear {
                    joint_w: wear.joint_w,
                    ..Wear::NONE
                },
            ),
        }
    }

    /// Air at the part during an event, K.
    pub fn event_air_k(&self, particle: &Particle, event: &Event) -> f64 {
        let read = event.air_k.map(|air| air.value);
        match (read.or_else(|| self.cooled_k(event)), &event.setting) {
            (Some(air_k), _) => air_k,
            (None, Setting::Bench { .. }) => particle.x[ROOM],
            (None, _) => self.air_k(particle),
        }
    }

    /// Load of an event.
    pub fn event_load(&self, particle: &Particle, event: &Event) -> Programme {
        match &event.setting {
            Setting::InService { with_start } => self.load(particle, *with_start),
            Setting::Recorded(programme) => programme.clone(),
            Setting::Bench { current_a } => Programme::constant(current_a.value),
        }
    }

    /// Whether the machine of a particle trips the part, in some state of wear, within half a day.
    pub fn trips(&self, particle: &Particle, wear: Wear, with_start: bool) -> bool {
        let part = self.part(particle, self.in_place(particle, wear));
        let air = [(0.0, self.felt_k(self.air_k(particle)))];
        let load = self.load(particle, with_start);
        let carried = part.cold(&air).carry(&load, SELECTED_S);
        matches!(carried, Some(Carries::Trips(_)))
            || self.opens_at_once(load.largest_a()) > ELEMENT_TRIPS
    }

    /// Whether such parts have an instantaneous element too.
    pub fn has_element(&self) -> bool {
        self.element.is_some()
    }

    /// Chance that its instantaneous element opens it where it is closed onto a current, A.
    pub fn opens_at_once(&self, current_a: f64) -> f64 {
        self.element.map_or(0.0, |e| e.chance(current_a))
    }

    /// Logarithm of the likelihood of an event, from that of the strip alone: the element opens it
    /// at once, or the strip does what it does.
    pub fn with_element(&self, particle: &Particle, event: &Event, strip: f64) -> f64 {
        if self.element.is_none() {
            return strip;
        }
        let chance = self.opens_at_once(self.event_load(particle, event).largest_a());
        let by_element = match event.outcome {
            // Evenly over the logarithm of the times at which it may be seen.
            Outcome::Tripped { after_s } => {
                f64::from(u8::from(after_s.value <= AT_ONCE_S)) / (AT_ONCE_S / SOONEST_S).ln()
            }
            Outcome::TrippedWithin { from_s, .. } => f64::from(u8::from(from_s < AT_ONCE_S)),
            Outcome::Held { .. } => 0.0,
        };
        ((1.0 - chance) * strip.exp() + chance * by_element).ln()
    }

    /// Whether the case tells of a trip of this part in service.
    pub fn has_trip_in_service(&self) -> bool {
        self.case.trips_in_service().next().is_some()
    }

    /// The terminals under the steady load of other times than the trip's, when they could be read:
    /// settled, or at the trip where that load trips too.
    pub fn terminals(&self, particle: &Particle) -> TwoTerminals {
        let wear = self.wear(particle);
        let part = self.part(particle, self.in_place(particle, wear));
        let air_k = self.air_k(particle);
        let felt_k = self.felt_k(air_k);
        let air = [(0.0, felt_k)];
        let warmed = part.warmed(&air, self.other_a(particle));
        let warm_k = warmed.map_or([felt_k; 3], |(run, _)| run.temperatures_k());
        TwoTerminals {
            air_k,
            rise_k: [warm_k[0] - felt_k, warm_k[1] - felt_k],
        }
    }
}
