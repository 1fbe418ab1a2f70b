//! What is known once the main run is; the further questions of a prediction stand on it.

use super::case::Case;
use super::cautions::{OVERLOADS, is_late, never};
use super::cross_check::cross_check;
use super::curve::{characteristic, check_rows, point, sketch};
use super::dial::turned;
use super::fidelity::{Converged, Ladder};
use super::magnet::strike;
use super::main_run::strip_current_squared;
use super::metals::{Nominal, metal_data};
use super::options::{AskMetals, Options};
use super::outcome::{
    AmbientCorrection, Characteristic, ErrorEstimate, Governs, Moment, Part, PreloadShift,
    PrematureReset, Reset, StressAcross, Strike, Warning,
};
use super::part::describe;
use super::record::Recorder;
use super::run::RunAnswer;
use super::stress::stress_across;
use super::tables::{
    PointReport, ambient_correction, preload_shift, premature_reset, trip_point_record,
};
use super::warnings::{accuracy_reached, at_release, check_ranges, of_the_model, over_the_run};
use super::{PredictError, Progress};
use crate::answer::MetalData;
use crate::device::{Device, Model};
use crate::scenario::{Before, Scenario};

/// Fraction of the rated current before the hot curve, where none is asked for.
const HOT_FRACTION: f64 = 0.8;

/// A scenario, its main run and its trip point.
pub(super) struct Known<'a> {
    scenario: &'a Scenario,
    options: &'a Options,
    case: &'a Case,
    device: &'a Device,
    /// On the grid of the main run.
    model: &'a Model,
    run: &'a Converged<RunAnswer>,
    /// Square of the strip's current at the end of carrying, A^2.
    pub squared: f64,
    pub point: PointReport,
}

/// Tables beside the main answers; empty where none are asked for.
#[derive(Default)]
pub(super) struct Tables {
    pub premature_reset: Vec<PrematureReset>,
    pub preload_shift: Vec<PreloadShift>,
    pub ambient_correction: Vec<AmbientCorrection>,
}

impl<'a> Known<'a> {
    /// Asks for the trip point.
    pub fn of(
        scenario: &'a Scenario,
        options: &'a Options,
        case: &'a Case,
        device: &'a Device,
        model: &'a Model,
        run: &'a Converged<RunAnswer>,
    ) -> Result<Known<'a>, PredictError> {
        Ok(Known {
            squared: strip_current_squared(device, scenario, &run.value),
            point: trip_point_record(device, case)?,
            scenario,
            options,
            case,
            device,
            model,
            run,
        })
    }

    /// Where the answers should not be trusted blindly.
    ///
    /// # Errors
    /// A property needed outside its range.
    pub fn warnings(&self, seen: &Recorder) -> Result<Vec<Warning>, PredictError> {
        let mut warnings = Vec::new();
        let extrapolates = self.scenario.strip.allow_extrapolation;
        check_ranges(self.device, extrapolates, seen.range_k, &mut warnings)?;
        let state = &self.run.value.state;
        of_the_model(self.scenario, self.model, state, &mut warnings);
        let errors = [self.run.error_relative, self.point.error_relative];
        accuracy_reached(self.case.accuracy, errors, &mut warnings);
        if self.trips() {
            let mechanism = self.model.mechanism();
            let rotation = mechanism.rotation_rad(self.model, state, self.squared);
            at_release(self.model, state, self.squared, rotation, &mut warnings);
        }
        over_the_run(self.device, seen.winding_k, seen.contact_v, &mut warnings);
        Ok(warnings)
    }

    fn trips(&self) -> bool {
        self.run.value.trip_time_s.is_some()
    }

    /// The few points of the cold curve that were asked for in place of the whole.
    pub fn sketched(&self) -> Option<Result<Characteristic, PredictError>> {
        let asked = self.options.sketch.as_ref()?;
        let (scenario, held) = (self.scenario, self.point.held());
        let extrapolates = scenario.strip.allow_extrapolation;
        let limits = scenario.limits();
        Some(sketch(
            self.device,
            self.case,
            held,
            asked,
            limits,
            extrapolates,
        ))
    }

    /// The characteristic, cold and hot.
    pub fn characteristic(
        &self,
        progress: &mut Progress<'_>,
    ) -> Result<Characteristic, PredictError> {
        let hot_fraction = match self.options.hot_fraction {
            fraction if fraction > 0.0 => fraction,
            _ => HOT_FRACTION,
        };
        characteristic(
            self.device,
            self.case,
            self.options.currents_a.as_deref(),
            hot_fraction,
            self.scenario.limits(),
            self.scenario.strip.allow_extrapolation,
            progress,
        )
    }

    /// Whether it leaves an overload unprotected, as its characteristic would show where that is
    /// not asked for: by the published limits for overloads and at twice the rating.
    pub fn comes_late(&self) -> Result<bool, PredictError> {
        let case = self.case.at_ambient(self.case.ambient_k());
        let (poles, notices) = self.device.bar();
        if let Some(table) = self.scenario.limits() {
            let rows = table.rows_for(poles, notices).into_iter();
            let rows = rows.filter(|r| OVERLOADS.contains(&r.multiple) && r.at_most_s.is_finite());
            for row in rows {
                match check_rows(self.device, &case, table, &[row]) {
                    Ok(checks) if checks.iter().any(is_late) => return Ok(true),
                    Ok(_) => {}
                    // What has no answer there is not known to be late.
                    Err(error) => {
                        error.in_a_row()?;
                    }
                }
            }
        }
        let extrapolates = self.scenario.strip.allow_extrapolation;
        let twice_a = OVERLOADS.start * case.rated_current_a;
        let cold = case.from(Before::Cold);
        Ok(never(
            &point(self.device, &cold, twice_a, extrapolates)?.time,
        ))
    }

    /// Currents of the characteristic that was asked for, A.
    pub fn timed_a(&self, characteristic: Option<&Characteristic>) -> Vec<f64> {
        characteristic
            .filter(|_| self.options.characteristic)
            .map_or_else(Vec::new, |c| c.cold.iter().map(|p| p.current_a).collect())
    }

    /// Stress through the thickness, at release or at the end. Of a disc the shell carries stress
    /// that the layers alone do not know.
    pub fn stress(&self) -> Option<StressAcross> {
        let moment = match self.trips() {
            true => Moment::Release,
            false => Moment::End,
        };
        let state = &self.run.value.state;
        let layered = self.device.disc().is_none();
        layered.then(|| stress_across(self.model, state, self.squared, moment))
    }

    /// The armature's strike, for a moving picture.
    pub fn strike(&self) -> Option<Strike> {
        let closing = self.scenario.closing.as_ref()?;
        let built = self.scenario.magnetic.filter(|_| self.options.film)?;
        strike(built, closing)
    }

    /// Early resets, lost preload and other ambients.
    pub fn tables(&self, progress: &mut Progress<'_>) -> Result<Tables, PredictError> {
        if self.options.without_tables {
            return Ok(Tables::default());
        }
        let (device, case) = (self.device, self.case);
        let (ask, load) = (&self.scenario.ask, &self.scenario.load);
        let asked = (load, self.scenario.strip.allow_extrapolation);
        // The part as it is stands in the table too.
        let own = device.release.preload_loss;
        let mut losses = ask.losses.clone();
        if !losses.iter().any(|l| (l - own).abs() < 1e-9) {
            losses.push(own);
            losses.sort_by(f64::total_cmp);
        }
        Ok(Tables {
            premature_reset: premature_reset(device, case, load, &ask.waits_s, &self.run.value)?,
            preload_shift: preload_shift(device, case, asked, &losses, progress)?,
            ambient_correction: ambient_correction(
                device,
                case,
                asked,
                &ask.ambients_k,
                self.scenario.protector.reference_ambient_k,
                progress,
            )?,
        })
    }

    /// What is known of the metals, where it is asked or costs little.
    pub fn metal_data(
        &self,
        reset: &Reset,
        progress: &mut Progress<'_>,
    ) -> Result<Option<MetalData>, PredictError> {
        let asked = match self.options.metals {
            AskMetals::Always => true,
            AskMetals::WhereCheap => self.device.goes_fast(),
            AskMetals::WithTables => self.device.goes_fast() && !self.options.without_tables,
        };
        if !asked {
            return Ok(None);
        }
        progress("what is known of the metals", 0.7);
        let nominal = Nominal {
            trip_point_a: self.point.record.held().map(|held| held.current_a),
            trips: self.trips(),
            start_governs: reset.governs.is_some_and(|g| g != Governs::Relatch),
            fidelity: self.run.fidelity,
        };
        metal_data(&*turned(self.scenario)?, self.case, &nominal).map(Some)
    }

    /// The part in a few numbers, on a grid fine enough for steady states, whatever the run needed.
    pub fn part(&self) -> Result<Part, PredictError> {
        let fineness = Ladder::new(self.device, f64::INFINITY, self.case.accuracy)
            .rung(2)
            .fineness;
        let model = Model::new(self.device, fineness);
        let compliance = match (self.trips(), &self.point.at) {
            (false, Some((point_model, state))) => point_model.compliance_m_per_n(state),
            _ => self.model.compliance_m_per_n(&self.run.value.state),
        };
        describe(self.scenario, &model, self.case, compliance)
    }

    /// How wrong the numbers may be.
    pub fn error_estimate(
        &self,
        energy_balance_relative: Option<f64>,
    ) -> Result<ErrorEstimate, PredictError> {
        let main = &self.run.value;
        let error = self.run.error_relative.filter(|e| e.is_finite());
        let cross_check_relative = match main.trip_time_s {
            Some(t) if self.options.cross_check => {
                let load = &self.scenario.load;
                cross_check(self.device, self.case, load, self.run.fidelity, t)?
            }
            _ => None,
        };
        Ok(ErrorEstimate {
            trip_time_relative: main.trip_time_s.and(error),
            trip_point_relative: self.point.error_relative,
            relatch_wait_relative: main.relatch_wait_s.and(error),
            cross_check_relative,
            energy_balance_relative,
            computed_with: self.run.fidelity.computed_with(self.device.length_m),
        })
    }
}
