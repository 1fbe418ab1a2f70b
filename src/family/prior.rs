//! The family of a nameplate, as a prior over members, trip points and paces.

use super::member::{DRAWS, Member};
use super::nameplate::Nameplate;
use super::part::{Drawn, Part, Placing, Wear};
use super::quick::Quick;
use super::shape::strips;
use crate::predict::parallel;
use crate::statistics::sobol::SobolSequence;
use crate::statistics::stream::{Purpose, Stream};
use std::fmt;
use std::sync::OnceLock;

/// Seed of the designs: a family is the same in every run.
const DESIGNS: u64 = 0x5eed_0f0d_e516_0001;
/// Paces considered, as factors: the designs cover the dimensions that parts have, so that only
/// what they leave open is left to the pace.
const PACES: (f64, f64) = (0.33, 3.0);
/// The same of motor overload relays, which are made as slow as their class asks.
const PACES_OF_CLASSES: (f64, f64) = (0.33, 10.0);
/// Trip points of parts whose sheet says nothing narrower: from just above the rating to 1.45 of
/// it.
const TRIP_MULTIPLES: (f64, f64) = (1.01, 1.45);
/// How far the usable current of a member may be from the air table, relative.
const AIR_TABLE_SPREAD: f64 = 0.025;
/// How far units of a family lie about published typical points when nothing is said, relative.
const LEAST_POINT_SPREAD: f64 = 0.05;

/// Why there is no family.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum FamilyError {
    /// No design keeps all the limits.
    NoneKeepsTheLimits(NoFamily),
}

/// What leaves no protector over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum NoFamily {
    /// No designs could be drawn.
    NotDrawn,
    /// None could be adjusted at that reference air.
    NotAdjusted,
    /// What is to be carried lies above what must trip.
    CarriesWhatTrips,
    /// No characteristic of a heated strip lies between the windows.
    NoWindow,
}

impl fmt::Display for NoFamily {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotDrawn => "no designs could be drawn",
            Self::NotAdjusted => "no design could be adjusted at that reference air",
            Self::CarriesWhatTrips => "the current to be carried lies above the one that must trip",
            Self::NoWindow => {
                "their windows leave no characteristic of a heated strip between them; check \
                 multiples and times"
            }
        })
    }
}

impl fmt::Display for FamilyError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FamilyError::NoneKeepsTheLimits(why) => write!(
                f,
                "no thermal protector of the family keeps all the published limits: {why}"
            ),
        }
    }
}

impl std::error::Error for FamilyError {}

/// Parts that a nameplate may stand for.
#[derive(Debug, Clone)]
pub struct Family {
    nameplate: Nameplate,
    members: Vec<Member>,
    /// Logarithm of the weight of each member by the air table (at most 0).
    air: Vec<f64>,
    multiples: (f64, f64),
    paces: (f64, f64),
    /// Logarithm of the density of draws where the limits are kept.
    log_drawn: f64,
    quick: OnceLock<Quick>,
}

impl Family {
    /// A family of at most `designs` members.
    ///
    /// # Errors
    /// No design keeps all the limits.
    pub fn new(nameplate: &Nameplate, designs: usize) -> Result<Family, FamilyError> {
        Family::of_designs(nameplate, 0..designs as u64)
    }

    /// A family of designs of the list by number: other numbers are other designs of the same kind.
    ///
    /// # Errors
    /// No design keeps all the limits.
    pub fn of_designs(
        nameplate: &Nameplate,
        designs: std::ops::Range<u64>,
    ) -> Result<Family, FamilyError> {
        let of_a_class = nameplate.is_of_a_motor_class();
        let strips = strips(nameplate.rated_current_a, of_a_class);
        let none = FamilyError::NoneKeepsTheLimits;
        let sequence =
            SobolSequence::scrambled(DRAWS, DESIGNS).map_err(|_| none(NoFamily::NotDrawn))?;
        let numbers: Vec<u64> = designs.collect();
        let members: Vec<Member> = parallel::map(
            &numbers,
            |k| {
                Member::draw(
                    &strips,
                    nameplate.rated_current_a,
                    nameplate.reference_ambient_k,
                    &sequence,
                    *k,
                )
            },
            &mut |_| {},
        )
        .into_iter()
        .flatten()
        .collect();
        if members.is_empty() {
            return Err(none(NoFamily::NotAdjusted));
        }
        let multiples =
            trip_multiples(nameplate).ok_or_else(|| none(NoFamily::CarriesWhatTrips))?;
        let air = parallel::map(&members, |m| air_weight(m, nameplate), &mut |_| {});
        let best = air.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let mut family = Family {
            nameplate: nameplate.clone(),
            air: air.iter().map(|a| a - best).collect(),
            members,
            multiples,
            paces: if of_a_class { PACES_OF_CLASSES } else { PACES },
            log_drawn: f64::NEG_INFINITY,
            quick: OnceLock::new(),
        };
        let kept = family.share_kept();
        if !(kept > 0.0) {
            return Err(none(NoFamily::NoWindow));
        }
        let ((low, high), (quick, slow)) = (family.multiples, family.paces);
        let volume = family.members.len() as f64 * (high - low) * (slow / quick).ln() * kept;
        family.log_drawn = -volume.ln();
        Ok(family)
    }

    /// Its nameplate.
    pub fn nameplate(&self) -> &Nameplate {
        &self.nameplate
    }

    /// Its members.
    pub fn members(&self) -> &[Member] {
        &self.members
    }

    /// Step responses of its members, found out when they are first asked for.
    pub fn quick(&self) -> &Quick {
        let found = || Quick::of(&self.members, &self.nameplate, self.paces);
        self.quick.get_or_init(found)
    }

    /// A sound part that was drawn, as one of its poles that carry the current sees it.
    pub fn sound_part(&self, drawn: &Drawn) -> Part {
        let wear = self.nameplate.loaded.wear(Wear::NONE);
        let rated_a = self.nameplate.rated_current_a;
        Part::new(
            &self.members[drawn.member],
            drawn.placing,
            wear,
            rated_a,
            1.0,
        )
    }

    /// Range of trip points over the rating.
    pub fn trip_multiples(&self) -> (f64, f64) {
        self.multiples
    }

    /// Range of paces.
    pub fn paces(&self) -> (f64, f64) {
        self.paces
    }

    /// Cold trip time of a part as new at a multiple of the rating, at the reference air, s.
    pub fn cold_trip_s(&self, drawn: Drawn, multiple: f64) -> f64 {
        let p = drawn.placing;
        p.pace * self.members[drawn.member].cold_trip_s(multiple / p.trip_multiple)
    }

    /// Logarithm of the prior density over (member, trip multiple, logarithm of the pace); minus
    /// infinity where a limit is not kept. The density is normalised up to what the soft knowledge
    /// (points, air table, resistance) takes away.
    pub fn log_density(&self, drawn: Drawn) -> f64 {
        match self.log_drawn_density(drawn) {
            density if density.is_finite() => density + self.log_weight(drawn),
            density => density,
        }
    }

    /// Logarithm of the density that [`Family::draw`] draws from.
    pub fn log_drawn_density(&self, drawn: Drawn) -> f64 {
        let p = drawn.placing;
        let ((low, high), (quick, slow)) = (self.multiples, self.paces);
        let inside =
            p.trip_multiple >= low && p.trip_multiple <= high && p.pace >= quick && p.pace <= slow;
        if inside && self.keeps_limits(drawn) {
            self.log_drawn
        } else {
            f64::NEG_INFINITY
        }
    }

    /// What a draw of [`Family::draw`] weighs by the soft knowledge: points, air table, resistance.
    pub fn weight(&self, drawn: Drawn) -> f64 {
        self.log_weight(drawn).exp()
    }

    /// Whether the part keeps every window.
    fn keeps_limits(&self, drawn: Drawn) -> bool {
        self.nameplate.windows.iter().all(|w| {
            if w.at_least_s.is_infinite() {
                return drawn.placing.trip_multiple > w.multiple;
            }
            let time_s = self.cold_trip_s(drawn, w.multiple);
            // A part that starts hot trips sooner than from cold.
            let late = if w.after_multiple > 0.0 && time_s.is_finite() {
                drawn.placing.trip_multiple > 0.985 * w.multiple
            } else {
                time_s > w.at_most_s
            };
            !late && (w.after_multiple > 0.0 || time_s >= w.at_least_s)
        })
    }

    /// The logarithm of that.
    pub fn log_weight(&self, drawn: Drawn) -> f64 {
        let mut sum = self.air[drawn.member];
        for point in &self.nameplate.points {
            if point.after_multiple > 0.0 {
                continue;
            }
            let time_s = self.cold_trip_s(drawn, point.multiple);
            let spread = point.relative.max(LEAST_POINT_SPREAD);
            let miss = if time_s.is_finite() {
                (time_s / point.time_s).ln() / spread
            } else {
                30.0
            };
            sum -= 0.5 * miss * miss;
        }
        if let Some((ohm, relative)) = self.nameplate.resistance_ohm {
            let member = &self.members[drawn.member];
            let own = member.trip_point_a
                / (drawn.placing.trip_multiple * self.nameplate.rated_current_a);
            let miss =
                (member.drop_v / member.trip_point_a * own * own / ohm).ln() / relative.max(0.05);
            sum -= 0.5 * miss * miss;
        }
        sum
    }

    /// Candidate number `k` of a stream of draws from the box of placings; `None` when it keeps the
    /// limits not. Accepted candidates are draws from the prior without its soft part.
    pub fn candidate(&self, stream: &Stream, draw: u32) -> Option<Drawn> {
        let ((low, high), (quick, slow)) = (self.multiples, self.paces);
        let drawn = Drawn {
            member: stream.below(draw, self.members.len() as u64) as usize,
            placing: Placing {
                trip_multiple: low + (high - low) * stream.uniform(draw + 1),
                pace: quick * (slow / quick).powf(stream.uniform(draw + 2)),
            },
        };
        self.keeps_limits(drawn).then_some(drawn)
    }

    /// A draw from the prior without its soft part.
    pub fn draw(&self, stream: &Stream) -> Option<Drawn> {
        (0..2000).find_map(|k| self.candidate(stream, 1000 + 3 * k))
    }

    fn share_kept(&self) -> f64 {
        let numbers: Vec<u64> = (0..64).collect();
        let hits: usize = parallel::map(
            &numbers,
            |k| {
                let stream = Stream::new(DESIGNS, Purpose::other(31), *k);
                (0..64)
                    .filter(|d| self.candidate(&stream, 3 * d).is_some())
                    .count()
            },
            &mut |_| {},
        )
        .into_iter()
        .sum();
        hits as f64 / (64.0 * 64.0)
    }
}

/// Trip points that the windows allow.
fn trip_multiples(nameplate: &Nameplate) -> Option<(f64, f64)> {
    let (mut low, mut high) = TRIP_MULTIPLES;
    let mut above = f64::INFINITY;
    for w in &nameplate.windows {
        if w.at_least_s.is_infinite() {
            low = low.max(w.multiple * 1.002);
        } else if w.at_most_s.is_finite() {
            above = above.min(w.multiple);
        }
    }
    // A sheet may allow more than usual.
    if above.is_finite() {
        high = above * 0.999;
    }
    if low >= high && above.is_infinite() {
        high = low * 1.4;
    }
    (low < high).then_some((low, high))
}

/// Logarithm of how well a member follows an air table.
fn air_weight(member: &Member, nameplate: &Nameplate) -> f64 {
    if nameplate.compensated {
        return 0.0;
    }
    let mut sum = 0.0;
    for row in &nameplate.air_table {
        let usable =
            crate::predict::trip_point(&member.device, row.ambient_k, member.trip_point_a, 1e-3)
                .ok()
                .and_then(|answer| answer.value.current_a());
        let miss = match usable {
            Some(a) => (a / member.trip_point_a - row.factor) / AIR_TABLE_SPREAD,
            None => 10.0,
        };
        sum -= 0.5 * miss * miss / nameplate.air_table.len() as f64;
    }
    sum
}
