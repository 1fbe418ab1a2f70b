//! One smooth piece of load and ambient, marched in registers towards an event.

use super::proof::{HOTTEST_K, Target, hold_proof, reach};
use crate::device::{Across, Along, Drive, EventDistance, Gauge, Model, Phase};
use crate::solve::wide::{Row, dispatch};
use crate::solve::{Distance, SteadyFailure};
use crate::solve::{Failure, Flow, Implicit5p, March, STABLE, Stop, settle};
use pulp::Simd;

/// Steps after which a march without an event in sight is worth a proof that there is none.
const STEPS_BEFORE_PROOF: usize = 5;
/// Explicit steps with heat across the layers resolved after which the general way is cheaper (and
/// knows a proof).
const STEPS_BEFORE_GENERAL: usize = 20_000;

/// How a leg ended.
pub enum LegEnd {
    /// At the event.
    Event,
    /// The event was proved never to come.
    Proved,
    /// At the end of the piece.
    End,
}

/// What a leg did.
pub struct LegReport {
    /// How it ended.
    pub end: LegEnd,
    /// Time reached, s.
    pub t: f64,
    /// Largest value of the event function.
    pub largest: f64,
    /// Steps.
    pub steps: usize,
}

/// How a march in registers ended.
pub enum Tried {
    /// With this.
    Report(Result<LegReport, Failure>),
    /// Temperatures left the fits; the state is as it was.
    LeftFits,
    /// There is no such form, or it is longer than explicit steps are for.
    NotServed,
}

/// One smooth piece to be marched.
pub struct Leg<'s, 'm> {
    /// The device on its grid.
    pub model: &'m Model,
    /// What drives it.
    pub drive: Drive,
    /// Event to stop at, if any.
    pub gauge: Option<Gauge>,
    /// The drive is constant from here on, so that its steady state can prove that no event comes.
    pub settles: bool,
    /// Start, s.
    pub t: f64,
    /// End, s.
    pub end_s: f64,
    /// Local tolerance.
    pub tolerance: f64,
    /// Accuracy asked for.
    pub accuracy: f64,
    /// State; left at the end of the leg.
    pub y: &'s mut Vec<f64>,
    /// Work space, kept between legs.
    pub marches: &'s mut Marches,
}

/// Work space of legs: with one temperature a section, and with heat across the layers resolved.
#[derive(Default)]
pub struct Marches {
    along: Option<March>,
    across: Option<March>,
}

impl Leg<'_, '_> {
    /// March; `None` (and an untouched state) when the general way has to be gone: no fast form, or
    /// temperatures beyond all fits.
    pub fn run(mut self) -> Option<Result<LegReport, Failure>> {
        let mut tried = dispatch(&mut self);
        if matches!(tried, Tried::LeftFits)
            && let Some(hotter) = self.model.hotter()
        {
            self.model = hotter;
            tried = dispatch(&mut self);
        }
        match tried {
            Tried::Report(report) => Some(report),
            Tried::LeftFits | Tried::NotServed => None,
        }
    }

    /// With heat across the layers resolved, by explicit steps alone: what takes many of them goes
    /// the general way, and so does a long cooling from its beginning.
    fn across<S: Simd>(&mut self, simd: S) -> Tried {
        let Some(mut across) = Across::new(simd, self.model, self.drive) else {
            return Tried::NotServed;
        };
        if let Some(gauge) = self.gauge {
            across.move_what_lags(gauge, self.t, self.end_s, self.y, self.accuracy);
        }
        let fits = across.fits();
        let longest_s = STEPS_BEFORE_GENERAL as f64 * STABLE / across.fastest_per_s();
        let aims = self.gauge.is_some() && self.drive.phase == Phase::Closed;
        if self.end_s - self.t > longest_s && !aims {
            return Tried::NotServed;
        }
        let (unknowns, len) = (across.unknowns(), across.len());
        let mut y = across.pack(self.y);
        let march = match &mut self.marches.across {
            Some(march) if march.is_for(len) => march,
            other => other.insert(March::new(unknowns, len)),
        };
        let mut distance = self.gauge.map(|g| across.distance(g));
        let mut lost = None;
        let report = march.run(
            simd,
            &mut across,
            distance.as_mut(),
            self.t,
            &mut y,
            self.end_s,
            self.tolerance,
            &mut |step| {
                if !fits.hold(step.y) {
                    lost = Some(Tried::LeftFits);
                } else if step.steps >= STEPS_BEFORE_GENERAL {
                    lost = Some(Tried::NotServed);
                }
                lost.is_none()
            },
        );
        if let Some(lost) = lost {
            return lost;
        }
        if !fits.hold(&y) {
            return Tried::LeftFits;
        }
        Tried::Report(report.map(|report| {
            across.unpack(&y, self.y);
            across.rest(report.t, self.y);
            LegReport {
                end: if report.stop == Stop::Event {
                    LegEnd::Event
                } else {
                    LegEnd::End
                },
                t: report.t,
                largest: report.largest,
                steps: report.steps,
            }
        }))
    }
}

impl pulp::WithSimd for &mut Leg<'_, '_> {
    type Output = Tried;

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Self::Output {
        if self.model.device.through.is_some() {
            return self.across(simd);
        }
        let Some(mut along) = Along::new(simd, self.model, self.drive) else {
            return Tried::NotServed;
        };
        let unknowns = along.unknowns();
        let len = along.len();
        let mut y = Row::zeros(len);
        y.fill(self.drive.ambient.value_k);
        y[..unknowns].copy_from_slice(self.y);
        if !self.model.within_fits(self.drive.ambient.value_k, &y) {
            return Tried::LeftFits;
        }
        let march = (self.marches.along).get_or_insert_with(|| March::new(unknowns, len));
        let mut distance = self.gauge.map(|g| along.distance(g));
        let model = self.model;
        let ambient_k = self.drive.ambient.value_k;
        let mut judge = if self.settles {
            None
        } else {
            Some(Target::None)
        };
        let (mut t, mut steps, mut largest) = (self.t, 0, f64::NEG_INFINITY);
        loop {
            let (mut within, mut proved, mut asks) = (true, false, false);
            let report = march.run(
                simd,
                &mut along,
                distance.as_mut(),
                t,
                &mut y,
                self.end_s,
                self.tolerance,
                &mut |step| {
                    within = model.within_fits(ambient_k, step.y);
                    match &judge {
                        None => asks = step.far && step.steps >= STEPS_BEFORE_PROOF,
                        Some(target) => proved = hold_proof(target, &step.y[..unknowns]),
                    }
                    within && !proved && !asks
                },
            );
            let report = match report {
                Ok(r) => r,
                Err(e) => return Tried::Report(Err(e)),
            };
            t = report.t;
            steps += report.steps;
            largest = largest.max(report.largest);
            if !within || !model.within_fits(ambient_k, &y) {
                return Tried::LeftFits;
            }
            if let (true, Some(distance)) = (asks && report.stop == Stop::Observer, &mut distance) {
                // No event in sight: from here on look for the proof that there is none.
                judge = Some(target(simd, model, &mut along, distance, t, &y));
                continue;
            }
            if let (true, None, Some(distance)) = (report.stop == Stop::End, &judge, &mut distance)
            {
                // A state that changes so little that few steps reach the end: the proof is asked
                // for there.
                let target = target(simd, model, &mut along, distance, t, &y);
                proved = hold_proof(&target, &y[..unknowns]);
            }
            self.y.copy_from_slice(&y[..unknowns]);
            return Tried::Report(Ok(LegReport {
                end: match report.stop {
                    Stop::Event => LegEnd::Event,
                    _ if proved => LegEnd::Proved,
                    _ => LegEnd::End,
                },
                t,
                largest,
                steps,
            }));
        }
    }
}

/// Steady state of a constant drive and the box around it that cannot be left.
fn target<S: Simd>(
    simd: S,
    model: &Model,
    along: &mut Along<'_, S>,
    distance: &mut EventDistance<'_, S>,
    t: f64,
    y: &[f64],
) -> Target {
    let (unknowns, len) = (along.unknowns(), along.len());
    let mut implicit = Implicit5p::new(unknowns, len);
    let mut steady = y.to_vec();
    match settle(
        simd,
        along,
        &mut implicit,
        t,
        &mut steady,
        1.0,
        1.0,
        HOTTEST_K,
    ) {
        Err(SteadyFailure::Runaway) => return Target::Reached,
        Err(SteadyFailure::NotSettled) => return Target::None,
        Ok(_) => {}
    }
    if !model.within_fits(along.drive.ambient.value_k, &steady) {
        return Target::None;
    }
    let zero = vec![0.0; len];
    let (value, _) = distance.value_and_rate(t, &steady, &zero);
    if value >= 0.0 {
        return Target::Reached;
    }
    implicit.linearise(along, t, &steady);
    let (mut shape, mut ones) = (zero.clone(), zero.clone());
    ones[..unknowns].fill(1.0);
    if !implicit.solve_shifted(simd, 0.0, &ones, &mut shape) {
        return Target::None;
    }
    let mut unit = zero;
    let mut gradient = Vec::with_capacity(unknowns);
    for i in 0..unknowns {
        unit[i] = 1.0;
        gradient.push(distance.value_and_rate(t, &steady, &unit).1);
        unit[i] = 0.0;
    }
    steady.truncate(unknowns);
    shape.truncate(unknowns);
    let slope = reach(&gradient, &shape);
    Target::safe(steady, shape, unknowns, value, slope)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::device::{Device, Fineness};
    use crate::scenario::read_text;

    /// While the contacts of a strong current open, the strip goes on heating past the fits that
    /// everybody pays for.
    #[test]
    fn a_strip_beyond_its_fits_goes_on_in_registers() {
        let text = include_str!("../../scenarios/08-worked-strip.toml");
        let scenario = read_text("worked strip", text).unwrap_or_else(|e| panic!("{e}"));
        let device = Device::new(&scenario).unwrap();
        let end_element_m = device.length_m;
        let fineness = Fineness {
            order: 9,
            end_element_m,
        };
        let model = Model::new(&device, fineness);
        let mut marches = Marches::default();
        for (from_k, leaves) in [(400.0, false), (1200.0, true)] {
            let mut y = model.uniform(from_k);
            let mut leg = Leg {
                model: &model,
                drive: Drive::open(293.15),
                gauge: None,
                settles: false,
                t: 0.0,
                end_s: 0.05,
                tolerance: 1e-6,
                accuracy: 1e-5,
                y: &mut y,
                marches: &mut marches,
            };
            let left = matches!(dispatch(&mut leg), Tried::LeftFits);
            assert_eq!(left, leaves, "{from_k} K");
            let report = leg.run().expect("in registers").expect("marches");
            assert_eq!(report.t, 0.05);
        }
    }
}
