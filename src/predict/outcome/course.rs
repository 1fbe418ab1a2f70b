//! What a run looks like in time: states, events, shapes, heat.

use serde::{Deserialize, Serialize};

/// State of the protector at one time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
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
    /// Case of the machine on which a disc sits, degC.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub machine_case_c: Option<f64>,
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

/// What happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Event {
    /// The contacts carry the load.
    LoadOn,
    /// The load is switched off elsewhere; the contacts stay closed.
    LoadOff,
    /// The strip releases.
    Release,
    /// The contacts are open; waits count from here.
    ContactsOpen,
    /// Cool enough for a reset.
    Relatch,
    /// Cool enough: it closes by itself.
    ClosesByItself,
    /// The reset catches and the contacts close.
    Reset,
    /// A reset of contacts that are closed already.
    AlreadyClosed,
    /// A reset that comes too early.
    ResetRefused,
    /// From here on it is proved to hold for ever.
    Holds,
    /// Not tripped when the time was up.
    HoldsSoFar,
    /// It never cools enough to relatch.
    StaysOpen,
    /// Not relatched when the time was up.
    StillOpen,
    /// End of the record.
    End,
}

/// One event.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct EventRecord {
    /// s.
    pub time_s: f64,
    /// What happened.
    pub event: Event,
}

/// A moment of a run that is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Moment {
    /// The load begins.
    Start,
    /// A quarter of the time to release.
    QuarterWay,
    /// Half of the time to release.
    HalfWay,
    /// Three quarters of the time to release.
    ThreeQuarters,
    /// Release.
    Release,
    /// On the way to relatch.
    Cooling,
    /// Relatch.
    Relatch,
    /// Early in a run that does not trip.
    Early,
    /// A little later.
    Later,
    /// Late in it.
    Late,
    /// The end of a run that does not trip.
    End,
    /// A frame of a moving picture.
    Frame,
}

/// Shape of the strip at one moment: exact integral of the rotation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Shape {
    /// s.
    pub time_s: f64,
    /// What the moment is.
    pub moment: Moment,
    /// Positions along the drawing, mm.
    pub x_mm: Vec<f64>,
    /// Deflection, mm, positive towards the first-listed side.
    pub y_mm: Vec<f64>,
    /// Temperatures, degC.
    pub temperature_c: Vec<f64>,
}

/// Where the heat of the metal parts (strip, winding, terminals, contacts) goes at one moment: the
/// electrical power equals everything given away plus what is stored.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
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

/// Frames of a moving picture of the main run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Film {
    /// From the start of the load to the release, or to the end.
    pub heating: Vec<Frame>,
    /// From open contacts to a little beyond relatch.
    pub cooling: Vec<Frame>,
}

/// One frame.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Frame {
    /// State.
    pub state: State,
    /// Shape.
    pub shape: Shape,
}
