//! How long to wait, from a nameplate alone.

use super::nameplate::Nameplate;
use super::part::{Carries, Part, Wear};
use super::prior::{Drawn, Family, FamilyError};
use super::ready::{Opened, Start};
use crate::load::Programme;
use crate::predict::parallel;
use crate::statistics::stream::{Purpose, Stream};
use crate::statistics::weighted::systematic;
use serde::Serialize;

/// Designs and draws: enough for the ends of a 90 % interval to settle, few enough for an answer at once.
const DESIGNS: usize = 48;
const DRAWS: u64 = 120;
/// Waits at which a reset too early is tried, in units of the median wait to reset.
const EARLY: [f64; 5] = [1.0, 1.5, 2.0, 4.0, 8.0];

/// Median and 90 % range over the sound parts that the nameplate may stand for.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Spread {
    /// One in twenty lies below.
    pub low: f64,
    /// Half lie below.
    pub median: f64,
    /// One in twenty lies above.
    pub high: f64,
}

/// A reset after some wait.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Early {
    /// Wait after the contacts opened, s.
    pub wait_s: f64,
    /// Share of the parts whose latch holds by then, 0..1.
    pub latch_holds: f64,
    /// Share of those that trip again under the same load within an hour, 0..1.
    pub trips_again: f64,
    /// When, s (median of those that do).
    pub again_after_s: Option<f64>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WaitAnswer {
    /// Version of this record's layout.
    pub format: u32,
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Reference air, degC.
    pub reference_ambient_c: f64,
    /// Air at the part, degC.
    pub ambient_c: f64,
    /// Load that tripped it, A.
    pub load_a: f64,
    /// Share of sound parts that this load trips, 0..1.
    pub trips: f64,
    /// How soon it trips from cold, s.
    pub trip_s: Option<Spread>,
    /// From open contacts until it can be reset, s.
    pub reset_s: Option<Spread>,
    /// Share of the parts that never reset at this air, 0..1.
    pub never_resets: f64,
    /// Until the machine can be started, s.
    pub start_s: Option<Spread>,
    /// Share of the parts that this start trips however long one waits, 0..1.
    pub never_starts: f64,
    /// A reset too early.
    pub early: Vec<Early>,
    /// Parts simulated.
    pub parts: usize,
    /// What was assumed, in words.
    pub assumed: Vec<String>,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct WaitQuestion {
    /// The nameplate.
    pub nameplate: Nameplate,
    /// Current that tripped it, A.
    pub load_a: f64,
    /// Air at the part, K.
    pub ambient_k: f64,
    /// What the machine draws when it is started again: the start and the run after it.
    pub start: Option<Programme>,
}

/// What one part did.
struct Tripped {
    trip_s: f64,
    reset: Option<f64>,
    start: Option<Start>,
}

/// Answer.
///
/// # Errors
/// No protector keeps the published limits.
///
/// ```
/// use relatch::internals::family::{Nameplate, WaitQuestion, wait};
/// let answer = wait(&WaitQuestion {
///     nameplate: Nameplate::of_rating(10.0),
///     load_a: 24.0,
///     ambient_k: 308.15,
///     start: None,
/// })?;
/// let reset = answer.reset_s.expect("24 A trips a 10 A part, and it cools");
/// assert!(reset.low < reset.median && reset.median < reset.high);
/// # Ok::<(), relatch::internals::family::FamilyError>(())
/// ```
pub fn wait(question: &WaitQuestion) -> Result<WaitAnswer, FamilyError> {
    let plate = &question.nameplate;
    let family = Family::new(plate, DESIGNS)?;
    let drawn = draws(&family, DRAWS);
    let felt_k = if plate.compensated {
        plate.reference_ambient_k
    } else {
        question.ambient_k
    };
    let air = [(0.0, felt_k)];
    let load = Programme::constant(question.load_a);
    let place = |d: &Drawn| {
        Part::new(
            &family.members()[d.member],
            d.placing,
            Wear::NONE,
            plate.rated_current_a,
            1.0,
        )
    };
    let found: Vec<Option<Tripped>> = parallel::map(
        &drawn,
        |d| {
            let part = place(d);
            let (trip_s, opened) = Opened::from_cold(&part, &air, &load)?;
            let reset = opened.relatch_s();
            let start = match (&question.start, reset) {
                (Some(start), Some(reset)) => Some(opened.start_after(reset, start)),
                _ => None,
            };
            Some(Tripped {
                trip_s,
                reset,
                start,
            })
        },
        &mut |_| {},
    );
    let tripped: Vec<_> = found.iter().flatten().collect();
    let count = tripped.len().max(1) as f64;
    let resets: Vec<f64> = tripped.iter().filter_map(|t| t.reset).collect();
    let reset_s = spread(resets.clone());
    let starts: Vec<f64> = tripped
        .iter()
        .filter_map(|t| match t.start {
            Some(Start::After(s)) => Some(s),
            _ => None,
        })
        .collect();
    let never = tripped
        .iter()
        .filter(|t| t.start == Some(Start::Never))
        .count() as f64;
    let early = reset_s.map_or(Vec::new(), |reset| {
        let mut waits: Vec<f64> = EARLY.iter().map(|e| e * reset.median).collect();
        waits.insert(0, 0.5 * reset.median);
        resets_too_early(&drawn, &place, &air, &load, &waits)
    });
    Ok(WaitAnswer {
        format: 1,
        rated_current_a: plate.rated_current_a,
        reference_ambient_c: plate.reference_ambient_k - 273.15,
        ambient_c: question.ambient_k - 273.15,
        load_a: question.load_a,
        trips: tripped.len() as f64 / found.len().max(1) as f64,
        trip_s: spread(tripped.iter().map(|t| t.trip_s).collect()),
        never_resets: (tripped.len() - resets.len()) as f64 / count,
        reset_s,
        start_s: spread(starts),
        never_starts: never / count,
        early,
        parts: found.len(),
        assumed: plate.assumed.clone(),
    })
}

/// Draws from the family; what soft knowledge makes improbable is drawn less often.
pub(crate) fn draws(family: &Family, count: u64) -> Vec<Drawn> {
    let all: Vec<(Drawn, f64)> = (0..4 * count)
        .filter_map(|k| {
            let drawn = family.draw(&Stream::new(1, Purpose::other(60), k))?;
            Some((drawn, family.weight(drawn)))
        })
        .collect();
    let weights: Vec<f64> = all.iter().map(|a| a.1).collect();
    systematic(&weights, count as usize, 0.5)
        .into_iter()
        .map(|k| all[k].0)
        .collect()
}

fn resets_too_early(
    drawn: &[Drawn],
    place: &(impl Fn(&Drawn) -> Part + Sync),
    air: &[(f64, f64)],
    load: &Programme,
    waits: &[f64],
) -> Vec<Early> {
    // A third of the parts is enough for shares.
    let some: Vec<Drawn> = drawn.iter().step_by(3).copied().collect();
    let rows = parallel::map(
        &some,
        |d| {
            let part = place(d);
            let (_, opened) = Opened::from_cold(&part, air, load)?;
            let reset = opened.relatch_s()?;
            Some(
                waits
                    .iter()
                    .map(|w| {
                        if *w < reset {
                            return None;
                        }
                        Some(match opened.again(*w, load) {
                            Some(Carries::Trips(t)) => t,
                            _ => f64::INFINITY,
                        })
                    })
                    .collect(),
            )
        },
        &mut |_| {},
    );
    let rows: Vec<Vec<Option<f64>>> = rows.into_iter().flatten().collect();
    let count = rows.len().max(1) as f64;
    waits
        .iter()
        .enumerate()
        .map(|(k, wait_s)| {
            let held: Vec<f64> = rows.iter().filter_map(|r| r[k]).collect();
            let again: Vec<f64> = held.iter().copied().filter(|t| t.is_finite()).collect();
            Early {
                wait_s: *wait_s,
                latch_holds: held.len() as f64 / count,
                trips_again: again.len() as f64 / held.len().max(1) as f64,
                again_after_s: spread(again).map(|s| s.median),
            }
        })
        .collect()
}

/// Median and 90 % range; `None` of nothing.
pub(crate) fn spread(mut values: Vec<f64>) -> Option<Spread> {
    values.sort_by(f64::total_cmp);
    let at = |share: f64| {
        values
            .get(((share * values.len() as f64) as usize).min(values.len().saturating_sub(1)))
            .copied()
    };
    Some(Spread {
        low: at(0.05)?,
        median: at(0.5)?,
        high: at(0.95)?,
    })
}
