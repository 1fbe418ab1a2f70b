//! The one record that every output renders. Units are in the names; `None` where there is no such
//! event, with the reason beside it.

use serde::Serialize;

/// Everything one scenario predicts.
#[derive(Debug, Clone, Serialize)]
pub struct Outcome {
    /// Version of this record's layout.
    pub format: u32,
    /// Version of the program.
    pub version: String,
    /// Title of the scenario.
    pub scenario: String,
    /// What the scenario shows.
    pub shows: String,
    /// The part in a few numbers.
    pub part: Part,
    /// How wrong the numbers may be.
    pub error_estimate: ErrorEstimate,
    /// First release under the load.
    pub trip: Trip,
    /// Largest current held for ever.
    pub trip_point: TripPoint,
    /// Waits after the trip.
    pub reset: Reset,
    /// Time to trip again against the wait before the reset.
    pub premature_reset: Vec<PrematureReset>,
    /// How lost preload moves everything.
    pub preload_shift: Vec<PreloadShift>,
    /// Trip point against the ambient.
    pub ambient_correction: Vec<AmbientCorrection>,
    /// State at the times asked for.
    pub states: Vec<State>,
    /// What happened, in order.
    pub events: Vec<EventRecord>,
    /// Drawn shapes of the strip.
    pub shapes: Vec<Shape>,
    /// Time series of the run and the cool-down after it.
    pub series: Vec<State>,
    /// Where the heat goes: one entry at some of the times of `series`.
    pub heat: Vec<HeatFlow>,
    /// The cool-down after the first trip, until it can be reset and started and a little longer;
    /// empty without one.
    pub cool_down: Vec<State>,
    /// The first trips when it is reset and loaded again each time it relatches; empty where it does
    /// not relatch.
    pub repeated_resets: Vec<RepeatedReset>,
    /// Stress through the thickness where it comes nearest to yielding (absent for a failed run).
    pub stress: Option<StressAcross>,
    /// Energy and hysteresis of a snap blade (absent for a latch).
    pub snap: Option<SnapPicture>,
    /// Frames of a moving picture (absent when not asked for; never part of the JSON).
    #[serde(skip)]
    pub film: Option<Film>,
    /// Time-current characteristic (absent when not asked for).
    pub characteristic: Option<Characteristic>,
    /// Where the answer should not be trusted blindly.
    pub warnings: Vec<Warning>,
    /// What the model leaves out.
    pub not_modelled: Vec<String>,
    /// Cautions for the person at the machine.
    pub cautions: Vec<String>,
    /// Sources actually used.
    pub citations: Vec<String>,
}

/// The part in a few numbers.
#[derive(Debug, Clone, Serialize)]
pub struct Part {
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Reference air, degC.
    pub reference_ambient_c: f64,
    /// Air in the scenario at time zero, degC.
    pub ambient_c: f64,
    /// "latch" or "snap blade".
    pub mechanism: String,
    /// "by hand" or "automatic".
    pub reset: String,
    /// Layers as text, low-expansion side first.
    pub layers: Vec<String>,
    /// Alloy of each layer, low-expansion side first.
    pub layer_alloys: Vec<String>,
    /// Thickness of each layer, mm.
    pub layer_thicknesses_mm: Vec<f64>,
    /// Total thickness, mm.
    pub thickness_mm: f64,
    /// Free length, mm.
    pub length_mm: f64,
    /// Distance of the push point from the clamp, mm.
    pub push_point_mm: f64,
    /// Width, mm.
    pub width_mm: f64,
    /// Flexivity kappa h / dT between the flat temperature and the trip temperature, 1/K.
    pub flexivity_per_k: f64,
    /// Resistance from terminal to terminal at the reference air, ohm.
    pub resistance_ohm: f64,
    /// Heat made at rated current in the steady state, W (`None` if it trips below its rating).
    pub power_at_rated_w: Option<f64>,
    /// Millivolt drop at rated current in the steady state, mV.
    pub drop_at_rated_mv: Option<f64>,
    /// Share of the release travel that the preload holds (latch), 0..1.
    pub preload_share: Option<f64>,
    /// Preload lost, 0..1.
    pub preload_loss: f64,
    /// Release deflection with no force (clearance), mm; a snap blade: rise of the cold blade.
    pub release_travel_mm: f64,
    /// Deflection at release including the push against the preload, mm.
    pub release_deflection_mm: f64,
    /// Relatch deflection, mm.
    pub relatch_travel_mm: Option<f64>,
    /// Uniform temperature that releases it without current, degC.
    pub trip_temperature_c: Option<f64>,
    /// Uniform temperature at or below which it relatches, degC.
    pub relatch_temperature_c: Option<f64>,
    /// Time constant of the strip to its surroundings near the trip, s.
    pub time_constant_s: Option<f64>,
    /// Whether the temperature through the thickness was resolved.
    pub through_thickness: String,
}

/// How wrong the numbers may be: numerical error only, not the part's tolerances.
#[derive(Debug, Clone, Serialize)]
pub struct ErrorEstimate {
    /// Relative error of the trip time.
    pub trip_time_relative: Option<f64>,
    /// Relative error of the trip point.
    pub trip_point_relative: Option<f64>,
    /// Relative error of the relatch wait.
    pub relatch_wait_relative: Option<f64>,
    /// Relative difference of the trip time by explicit steps on the same grid, when asked for.
    pub cross_check_relative: Option<f64>,
    /// Energy in minus energy out minus energy stored, over energy in.
    pub energy_balance_relative: Option<f64>,
    /// What the numbers were computed with, in words.
    pub computed_with: String,
}

/// First release under the load.
#[derive(Debug, Clone, Serialize)]
pub struct Trip {
    /// Whether it trips.
    pub trips: bool,
    /// Why it does not, or why there is no answer.
    pub reason: Option<String>,
    /// Time to release, s.
    pub time_s: Option<f64>,
    /// Time to open contacts, s.
    pub clearing_time_s: Option<f64>,
    /// Current at release, A.
    pub current_a: Option<f64>,
    /// Current as a multiple of the rating.
    pub multiple_of_rated: Option<f64>,
    /// Deflection at release, mm.
    pub tip_deflection_mm: Option<f64>,
    /// Hottest point of the strip at release, degC.
    pub strip_peak_c: Option<f64>,
    /// Mean strip temperature at release, degC.
    pub strip_mean_c: Option<f64>,
    /// Winding temperature at release, degC.
    pub winding_c: Option<f64>,
    /// Smallest deflection left before release when it does not trip, mm.
    pub closest_approach_mm: Option<f64>,
}

/// Largest current held for ever, with sensitivities.
#[derive(Debug, Clone, Serialize)]
pub struct TripPoint {
    /// A.
    pub current_a: Option<f64>,
    /// Why there is none.
    pub reason: Option<String>,
    /// Multiple of the rating.
    pub multiple_of_rated: Option<f64>,
    /// Change per percent of preload lost, A.
    pub per_percent_preload_a: Option<f64>,
    /// Change per kelvin of ambient, A.
    pub per_kelvin_ambient_a: Option<f64>,
    /// Change per percent of release travel, A.
    pub per_percent_travel_a: Option<f64>,
    /// Hottest point of the strip at the trip point, degC.
    pub strip_peak_c: Option<f64>,
}

/// Waits after the trip, counted from open contacts.
#[derive(Debug, Clone, Serialize)]
pub struct Reset {
    /// Until it can be reset (or resets itself), s.
    pub relatch_wait_s: Option<f64>,
    /// Until the equipment can be started without a new trip, s.
    pub ready_wait_s: Option<f64>,
    /// "relatch", "start-up" or the reason why there is no ready wait.
    pub governs: Option<String>,
    /// Why there is no relatch wait.
    pub reason: Option<String>,
    /// Why there is no ready wait.
    pub ready_reason: Option<String>,
}

/// Reset after `wait_s`: how long the load is then carried.
#[derive(Debug, Clone, Serialize)]
pub struct PrematureReset {
    /// Wait after the contacts opened, s.
    pub wait_s: f64,
    /// Time to the next trip, s; `None`: does not trip again.
    pub trips_again_after_s: Option<f64>,
    /// Text where there is no time.
    pub reason: Option<String>,
}

/// One row of the preload-shift table.
#[derive(Debug, Clone, Serialize)]
pub struct PreloadShift {
    /// Preload lost, 0..1.
    pub loss: f64,
    /// A.
    pub trip_point_a: Option<f64>,
    /// Trip time under the scenario's load from cold, s.
    pub trip_time_s: Option<f64>,
    /// s.
    pub relatch_wait_s: Option<f64>,
    /// Uniform temperature that releases it, degC.
    pub trip_temperature_c: Option<f64>,
    /// Where a number is missing: why.
    pub reason: Option<String>,
}

/// One row of the ambient correction.
#[derive(Debug, Clone, Serialize)]
pub struct AmbientCorrection {
    /// degC.
    pub ambient_c: f64,
    /// A.
    pub trip_point_a: Option<f64>,
    /// Trip point over the trip point at the reference air.
    pub factor: Option<f64>,
    /// Wait until it can be reset after the trip of the scenario's load at that ambient, s.
    pub relatch_wait_s: Option<f64>,
    /// Where a number is missing: why.
    pub reason: Option<String>,
}

/// State of the protector at one time.
#[derive(Debug, Clone, Serialize)]
pub struct State {
    /// Time since the load started, s.
    pub time_s: f64,
    /// Current, A.
    pub current_a: f64,
    /// Whether the contacts are closed.
    pub closed: bool,
    /// degC.
    pub ambient_c: f64,
    /// Clamped terminal, degC.
    pub clamped_terminal_c: f64,
    /// Moving contact, degC.
    pub moving_contact_c: f64,
    /// Fixed contact, degC.
    pub fixed_contact_c: f64,
    /// Heater winding, degC.
    pub winding_c: Option<f64>,
    /// Housing air, degC.
    pub housing_c: Option<f64>,
    /// Mean of the strip, degC.
    pub strip_mean_c: f64,
    /// Middle of the strip, degC.
    pub strip_mid_c: f64,
    /// Hottest point of the strip, degC.
    pub strip_peak_c: f64,
    /// Free deflection of the tip (push point), mm; a snap blade: rise at mid span.
    pub tip_deflection_mm: f64,
    /// Deflection left before release, mm (negative: released).
    pub release_margin_mm: f64,
    /// Electrical power, W.
    pub power_w: f64,
}

/// One event.
#[derive(Debug, Clone, Serialize)]
pub struct EventRecord {
    /// s.
    pub time_s: f64,
    /// "load on", "release", "contacts open", "relatch", "reset", "reset refused", "end".
    pub event: String,
    /// Words.
    pub text: String,
}

/// Shape of the strip at one moment: exact integral of the rotation.
#[derive(Debug, Clone, Serialize)]
pub struct Shape {
    /// s.
    pub time_s: f64,
    /// What the moment is.
    pub moment: String,
    /// Positions along the drawing, mm.
    pub x_mm: Vec<f64>,
    /// Deflection, mm, positive towards the first-listed side.
    pub y_mm: Vec<f64>,
    /// Temperatures, degC.
    pub temperature_c: Vec<f64>,
}

/// Where the heat of the metal parts (strip, winding, terminals, contacts) goes at one moment: the
/// electrical power equals everything given away plus what is stored.
#[derive(Debug, Clone, Serialize)]
pub struct HeatFlow {
    /// s.
    pub time_s: f64,
    /// Electrical power made into heat in these parts, W.
    pub electrical_w: f64,
    /// From the faces of the strip to the air by convection, W.
    pub convection_w: f64,
    /// From the faces of the strip by radiation, W.
    pub radiation_w: f64,
    /// From both terminals into their wires, W.
    pub terminals_w: f64,
    /// From the moving contact (and a winding) to the air, W.
    pub contact_w: f64,
    /// Rate at which these parts store heat, W (negative: they give it back).
    pub stored_w: f64,
}

/// One trip of a part that is reset and loaded again as soon as it relatches.
#[derive(Debug, Clone, Serialize)]
pub struct RepeatedReset {
    /// 1 for the first trip.
    pub number: u32,
    /// Time the load was carried, s; `None`: it did not trip any more.
    pub trips_after_s: Option<f64>,
    /// Wait from open contacts to relatch, s.
    pub relatch_wait_s: Option<f64>,
}

/// Stress along the strip through its thickness, at the station where it comes nearest to yielding
/// (without yield strengths: where it is largest).
#[derive(Debug, Clone, Serialize)]
pub struct StressAcross {
    /// "release" or "end of the run".
    pub moment: String,
    /// Distance from the clamp, mm.
    pub position_mm: f64,
    /// Temperature there, degC.
    pub temperature_c: f64,
    /// What loads the strip in the loaded case.
    pub loaded_by: String,
    /// Layers, low-expansion side first.
    pub layers: Vec<StressLayer>,
}

/// Stress in one layer, MPa, tension positive; linear between its faces.
#[derive(Debug, Clone, Serialize)]
pub struct StressLayer {
    /// Alloy.
    pub alloy: String,
    /// Height of its first face above the first face of the strip, mm.
    pub from_mm: f64,
    /// Height of its last face, mm.
    pub to_mm: f64,
    /// Free strip, first and last face.
    pub free_mpa: [f64; 2],
    /// Loaded strip, first and last face.
    pub loaded_mpa: [f64; 2],
    /// Yield strength at that temperature, where it is known.
    pub yield_mpa: Option<f64>,
}

/// A snap blade at one temperature throughout, without current: why it snaps and why it comes back later.
#[derive(Debug, Clone, Serialize)]
pub struct SnapPicture {
    /// Energy against rise at a few temperatures.
    pub energy: Vec<EnergyCurve>,
    /// Where the blade can stand, against temperature.
    pub branches: Vec<BranchPoint>,
    /// Temperature at which it snaps through, degC.
    pub trip_temperature_c: f64,
    /// Temperature at which it snaps back, degC.
    pub reset_temperature_c: Option<f64>,
}

/// Elastic energy against rise (amplitude of the first sine mode, the others in equilibrium).
#[derive(Debug, Clone, Serialize)]
pub struct EnergyCurve {
    /// What this temperature is.
    pub moment: String,
    /// degC.
    pub temperature_c: f64,
    /// Rise, mm.
    pub rise_mm: Vec<f64>,
    /// Energy above the energy of the flat blade, mJ.
    pub energy_mj: Vec<f64>,
    /// Rises at which the blade stands by itself, mm.
    pub stands_at_mm: Vec<f64>,
}

/// Equilibria at one temperature; `None` where there is none.
#[derive(Debug, Clone, Serialize)]
pub struct BranchPoint {
    /// degC.
    pub temperature_c: f64,
    /// Contacts closed, bowed as made, mm.
    pub closed_mm: Option<f64>,
    /// Equilibrium that any touch upsets, mm.
    pub unstable_mm: Option<f64>,
    /// Snapped through, mm.
    pub snapped_mm: Option<f64>,
}

/// Frames of a moving picture of the main run.
#[derive(Debug, Clone)]
pub struct Film {
    /// From the start of the load to the release, or to the end.
    pub heating: Vec<Frame>,
    /// From open contacts to a little beyond relatch.
    pub cooling: Vec<Frame>,
}

/// One frame.
#[derive(Debug, Clone)]
pub struct Frame {
    /// State.
    pub state: State,
    /// Shape.
    pub shape: Shape,
}

/// Trip time against current.
#[derive(Debug, Clone, Serialize)]
pub struct Characteristic {
    /// Ambient, degC.
    pub ambient_c: f64,
    /// Fraction of rated current of the hot curve.
    pub hot_fraction: f64,
    /// Cold curve.
    pub cold: Vec<CurvePoint>,
    /// Hot curve.
    pub hot: Vec<CurvePoint>,
    /// Why there is no hot curve.
    pub hot_reason: Option<String>,
    /// Trip point at that ambient, A.
    pub trip_point_a: Option<f64>,
    /// Published limits and whether the part meets each.
    pub limits: Vec<LimitCheck>,
}

/// One point of a characteristic.
#[derive(Debug, Clone, Serialize)]
pub struct CurvePoint {
    /// A.
    pub current_a: f64,
    /// Multiple of the rating.
    pub multiple: f64,
    /// s; `None`: never trips.
    pub time_s: Option<f64>,
    /// Relative numerical error.
    pub error_relative: Option<f64>,
}

/// One published limit and what the part does there.
#[derive(Debug, Clone, Serialize)]
pub struct LimitCheck {
    /// Source and clause.
    pub source: String,
    /// Multiple of the rating.
    pub multiple: f64,
    /// Ambient of the test, degC.
    pub ambient_c: f64,
    /// Shortest allowed time, s (`None`: none).
    pub at_least_s: Option<f64>,
    /// Longest allowed time, s (`None`: must hold for ever or no limit).
    pub at_most_s: Option<f64>,
    /// What the part does, s (`None`: never trips).
    pub time_s: Option<f64>,
    /// Whether it is met.
    pub met: bool,
    /// In words.
    pub text: String,
}

/// A warning.
#[derive(Debug, Clone, Serialize, PartialEq)]
pub struct Warning {
    /// Stable short name, e.g. `tip-rotation`.
    pub code: String,
    /// In words, with numbers.
    pub text: String,
}
