//! What was measured or seen and is a fact, whatever tripped.

use super::{Case, Joints, Measured, Mend, Meter, Reading, Waveform};

/// A machine that draws so many times what its plate says is overloaded (common practice, no source).
const ABOVE_PLATE: f64 = 1.1;
/// Air that is hotter than what a part without a second strip is made for, K: sheets end their tables
/// at 60 degC, many sooner (from memory of several).
const HOT_AIR_K: f64 = 333.15;

impl Case {
    /// Whether something was measured at the joints of its machine, or marks were seen there.
    pub fn tells_of_joints(&self) -> bool {
        let seen = self.joints == Some(Joints::MarksOfHeat);
        !self.is_bench_only() && (seen || !self.drops.is_empty() || self.terminals.is_some())
    }

    /// Whether a reading that shows what flows lies surely above the machine's own plate.
    pub fn draws_more_than_its_plate(&self) -> bool {
        self.drawn_over_its_plate().is_some()
    }

    /// What the machine was read to draw over its plate, where that is surely more.
    pub fn drawn_over_its_plate(&self) -> Option<f64> {
        let least_a = |r: &Reading| r.current_a.value - 2.0 * r.current_a.standard_uncertainty;
        let is_sure = |r: &&Reading| r.meter == Meter::TrueRms || self.waveform == Waveform::Sine;
        let plate_a = self.equipment_rated_a?;
        let read = self.readings.iter().filter(is_sure);
        let more = read.filter(|r| least_a(r) > ABOVE_PLATE * plate_a);
        more.map(|r| r.current_a.value / plate_a).reduce(f64::max)
    }

    /// Whether the air was measured to be hotter than such parts are made for.
    pub fn is_in_hot_air(&self) -> bool {
        let least_k = |m: &Measured| m.value - 2.0 * m.standard_uncertainty;
        let is_now = |mended: usize| !self.is_undone(mended, &[Mend::Air]);
        let events = self.events.iter().filter(|e| is_now(e.mended));
        let of_events = events.filter_map(|e| e.air_k.as_ref());
        let air = self.air.iter().filter(|a| is_now(a.mended));
        let mut all = of_events.chain(air.map(|a| &a.temperature_k));
        !self.nameplate.compensated
            && all.any(|air| least_k(air) > HOT_AIR_K.max(self.nameplate.reference_ambient_k))
    }
}
