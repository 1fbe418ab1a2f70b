//! One smooth piece of a session: the way it is integrated, and on which model.

use super::{Session, Watch};
use crate::device::{Drive, Gauge, Model, Phase, Plant};
use crate::predict::leg::{Leg, LegEnd, LegReport};
use crate::predict::proof::{Target, hold_proof};
use crate::predict::trip_point::{BOILED_K, MELTED_K};
use crate::solve::{Controls, Event, Failure, Stop, integrate};

/// Tolerance of steps that do not aim at their event, in parts of that of a march of the same
/// accuracy.
const UNAIMED: f64 = 2e-3;
/// Steps after which one that nobody watches and that has not come to its event is worth a proof that
/// there is none: events come sooner, and what settles comes to its end in as many.
const STEPS_BEFORE_PROOF: usize = 40;
/// Time that stands for ever where nothing can be proved, s.
const ENDLESS_S: f64 = 1e9;

/// What is integrated at once.
#[derive(Clone, Copy)]
pub(super) struct Stretch {
    pub drive: Drive,
    /// Event looked for.
    pub gauge: Option<Gauge>,
    /// Whether the drive is constant from here on, so that its steady state can prove that the event
    /// never comes.
    pub settles: bool,
    /// End, s; infinite where only the event or a proof ends it.
    pub end_s: f64,
}

impl Session<'_> {
    fn goes_on(&self) -> Result<(), Failure> {
        match self.halt.is_due() {
            true => Err(Failure::Halted),
            false => Ok(()),
        }
    }

    /// Integrate one smooth piece. Where heat across the layers is resolved but the current too
    /// weak to make a difference there, only what a stronger one left behind is still followed,
    /// until it has decayed.
    pub(super) fn go(
        &mut self,
        mut stretch: Stretch,
        watch: &mut dyn Watch,
    ) -> Result<LegReport, Failure> {
        let model = self.model;
        if !stretch.end_s.is_finite() {
            stretch.end_s = self.t + ENDLESS_S;
        }
        let Stretch {
            drive,
            gauge,
            end_s,
            ..
        } = stretch;
        let Some(uniform) = model.one_temperature(&drive) else {
            let report = self.on_model(model, stretch, watch)?;
            self.fed_until_s = self.t;
            return Ok(report);
        };
        let settled_s = end_s.min(self.fed_until_s + model.across_settles_s());
        let mut largest = f64::NEG_INFINITY;
        let followed = watch.wants_steps()
            || settled_s == end_s
            || gauge.is_some_and(|gauge| self.modes_decide(drive, gauge));
        if self.t < settled_s && followed {
            let fed = Stretch {
                settles: false,
                end_s: settled_s,
                ..stretch
            };
            let report = self.on_model(model, fed, watch)?;
            if matches!(report.end, LegEnd::Event) || settled_s == end_s {
                return Ok(report);
            }
            largest = report.largest;
        }
        let mut report = self.on_model(uniform, stretch, watch)?;
        report.largest = report.largest.max(largest);
        Ok(report)
    }

    /// Whether the event is so near that what is left in the modes across the layers may decide it.
    fn modes_decide(&self, drive: Drive, gauge: Gauge) -> bool {
        let plant = Plant {
            model: self.model,
            drive,
        };
        let with = plant.distance_m(gauge, self.t, &self.y);
        let evened = self
            .model
            .widened(self.y[..self.model.layout.modes].to_vec());
        let without = plant.distance_m(gauge, self.t, &evened);
        without.abs() < 10.0 * (with - without).abs()
    }

    /// Integrate one smooth piece on a model: this session's, or the one without modes across the
    /// layers.
    fn on_model(
        &mut self,
        model: &Model,
        stretch: Stretch,
        watch: &mut dyn Watch,
    ) -> Result<LegReport, Failure> {
        self.goes_on()?;
        let Stretch {
            drive,
            gauge,
            settles,
            end_s,
        } = stretch;
        let mut y = self.y[..model.layout.len].to_vec();
        let fast = if watch.wants_steps() {
            None
        } else {
            Leg {
                model,
                drive,
                gauge,
                settles,
                t: self.t,
                end_s,
                tolerance: self.controls.tolerance,
                accuracy: self.accuracy,
                y: &mut y,
                marches: &mut self.marches,
            }
            .run()
        };
        let report = match fast {
            Some(report) => report?,
            None => {
                let mut controls = self.controls;
                if !model.device.goes_fast() && !watch.wants_steps() {
                    // The event of a march is aimed at: its tolerance is too loose for what is not.
                    controls = Controls::new(UNAIMED * controls.tolerance);
                }
                self.generally(model, stretch, &mut y, &controls, watch)?
            }
        };
        self.y = self.model.widened(y);
        self.steps += report.steps;
        self.t = report.t;
        Ok(report)
    }

    /// The same the general way, seen step by step.
    fn generally(
        &self,
        model: &Model,
        stretch: Stretch,
        y: &mut [f64],
        controls: &Controls,
        watch: &mut dyn Watch,
    ) -> Result<LegReport, Failure> {
        let drive = stretch.drive;
        let (len, shorter) = (self.model.layout.len, y.len() < self.model.layout.len);
        let whole = Plant {
            model: self.model,
            drive,
        };
        let plant = Plant { model, drive };
        let event = stretch.gauge.map(|g| plant.event(g));
        let target = |t: f64, y: &[f64]| match &event {
            Some(event) if stretch.settles => Target::of(&plant, event, t, y),
            _ => Target::None,
        };
        let mut judge = watch.wants_steps().then(|| target(self.t, y));
        let (mut proved, mut steps) = (false, 0);
        // What a current does to a molten strip while its contacts open is asked by nobody; nor what it
        // does to one that has boiled away and still is not released.
        let opens = stretch.gauge.is_none() && drive.phase == Phase::Closed;
        let most_k = if opens { MELTED_K } else { BOILED_K };
        let stays_solid = |y: &[f64]| model.peak_k(y) <= most_k;
        let report = integrate(
            &plant,
            self.t,
            y,
            stretch.end_s,
            controls,
            event.as_ref().map(|e| e as &dyn Event),
            &mut |dense| {
                if shorter {
                    watch.step(&whole, &dense.widened(len));
                } else {
                    watch.step(&whole, dense);
                }
                steps += 1;
                let (t, y) = (dense.t_end(), dense.end());
                if judge.is_some() || steps >= STEPS_BEFORE_PROOF || t >= stretch.end_s {
                    proved = hold_proof(judge.get_or_insert_with(|| target(t, y)), y);
                }
                !proved && !self.halt.is_due() && stays_solid(y)
            },
        )?;
        self.goes_on()?;
        Ok(LegReport {
            end: match report.stop {
                Stop::Event => LegEnd::Event,
                _ if proved => LegEnd::Proved,
                _ => LegEnd::End,
            },
            t: report.t,
            largest: report.largest_event_value,
            steps: report.steps,
        })
    }
}
