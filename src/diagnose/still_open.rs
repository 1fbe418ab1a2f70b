//! What a case leaves open, whatever is found.

use super::readings::LOST_SHOWS;
use super::record::{Alike, StillOpen};
use crate::evidence::{Case, Meter, Waveform};
/// Supplies keep within a tenth of their nominal voltage, and motors are made for that (IEC 60038,
/// IEC 60034-1 zone B, both from memory).
const SUPPLY_IS_OFF: f64 = 0.1;

/// A supply that is off: its voltage over the nominal one, and whether the load draws more for it,
/// where its kind is known.
pub(super) fn off_supply(case: &Case) -> Option<(f64, Option<bool>)> {
    let over = case.supply_over_nominal()?;
    let draws_more = case.by_voltage.map(|power| over.powi(power) > 1.0);
    ((over - 1.0).abs() > SUPPLY_IS_OFF).then_some((over, draws_more))
}

/// Least current over the greatest below which phases are told as unlike: a tenth from their mean,
/// which 1 to 2 % between the voltages make of a motor (NEMA MG 1 as a trade journal tells it: six
/// to ten times that of the voltages).
const UNLIKE: f64 = 0.85;

/// The least current over the greatest of phases that are unlike though none is lost.
fn unlike_phases(case: &Case) -> Option<f64> {
    let ratio = case.phase_currents.as_ref()?.least_over_greatest();
    (LOST_SHOWS..UNLIKE).contains(&ratio).then_some(ratio)
}

/// Whether currents were read, and none as true RMS.
fn is_never_true_rms(case: &Case) -> bool {
    let mut readings = case.readings.iter();
    !case.readings.is_empty() && readings.all(|r| r.meter != Meter::TrueRms)
}

/// Whether a current that is known not to be a sine was read with a meter that may not see it all.
pub(super) fn may_read_low(case: &Case) -> bool {
    case.waveform == Waveform::Distorted && is_never_true_rms(case)
}

/// What could not be ruled out of a case.
pub(super) fn still_open(case: &Case) -> Vec<StillOpen> {
    let may_read_low = case.waveform != Waveform::Sine && is_never_true_rms(case);
    let limits_unknown = case.nameplate.windows.is_empty();
    [
        may_read_low.then_some(StillOpen::MeterMayReadLow),
        limits_unknown.then_some(StillOpen::LimitsNotKnown),
        off_supply(case).map(|(over_nominal, draws_more)| StillOpen::SupplyIsOff {
            over_nominal,
            draws_more,
        }),
        unlike_phases(case).map(|least_over_greatest| StillOpen::PhasesAreUnlike {
            least_over_greatest,
        }),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// What the evidence of a case cannot tell apart.
pub(super) fn cannot_tell_apart(case: &Case) -> Vec<Alike> {
    use crate::evidence::Unit;
    let no_baseline = !case.events.iter().any(|e| e.unit != Unit::ThisPart);
    let no_plate = case.equipment_rated_a.is_none() && !case.is_bench_only();
    [
        Some(Alike::LossOrDrift),
        no_baseline.then_some(Alike::NoBaseline),
        no_plate.then_some(Alike::LoadOrRating),
    ]
    .into_iter()
    .flatten()
    .collect()
}
