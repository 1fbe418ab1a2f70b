//! Rows of the instantaneous element: its iron, its armature, the current it sees, and the cable.

use super::Need::{May, Needed, Or};
use super::{Row, Slot, Value, inside, number, other, words};
use crate::document::Bounds;
use crate::physics::closing_current::ClosingCurrent as C;
use crate::quantity::Dimension as D;
use crate::scenario::unread;
use crate::standards::Band;

const TRAVEL: Bounds = Bounds::between(1e-6, 0.05, "armatures move 0.5 mm to 5 mm");
const FORCE: Bounds = Bounds::not_negative(1000.0, "springs and triggers take 0.2 N to 20 N");
const AMPERES: Bounds = Bounds::positive(200_000.0, "is the unit right?");
const SECONDS: Bounds = Bounds::positive(10.0, "transients last 1 ms to 1 s");
const OHMS: Bounds = Bounds::not_negative(1000.0, "supplies have 10 mohm to some ohm");

/// A number of some kinds of closing current: `closes!(it: C::Direct { current_a: it, .. })`.
macro_rules! closes {
    ($it:ident: $kinds:pat) => {
        Slot::Here(|s, _| match s.closing.as_mut().map(|c| &mut c.current) {
            Some($kinds) => Some($it),
            _ => None,
        })
    };
}

#[rustfmt::skip]
pub(super) const MAGNETIC: &[Row] = &[
    words("kind", "coil, or yoke around the conductor", Needed, &[
        ("coil", |_, _| ()),
        ("yoke", |s, _| if let Some(m) = &mut s.magnetic { m.circuit.turns = 1.0; }),
    ]),
    number("turns", "turns of the coil", D::Fraction,
        Bounds::between(1.0, 10_000.0, "coils have 3 to some hundred turns"),
        Or(1.0), inside!(magnetic.circuit.turns)).beside(),
    number("gaps", "working gaps in series", D::Fraction,
        Bounds::between(1.0, 2.0, "an armature has one working gap or two"),
        Or(1.0), inside!(magnetic.circuit.gaps)).beside(),
    number("pole_area", "area of a pole", D::Area,
        Bounds::between(1e-7, 1e-2, "poles have 10 mm2 to 200 mm2"),
        Needed, inside!(magnetic.circuit.pole_area_m2)),
    number("pole_perimeter", "perimeter of a pole", D::Length,
        Bounds::between(1e-3, 1.0, "a square pole has four sides of the root of its area"),
        May, inside!(magnetic.circuit.pole_perimeter_m)).beside(),
    number("gap", "working gap at rest", D::Length, TRAVEL, Needed, inside!(magnetic.circuit.gap_m)).beside(),
    number("fringe", "permeance of the fringe per perimeter", D::Fraction,
        Bounds::between(0.0, 2.0, "0.26 for half cylinders around the pole, 0 for none"),
        Or(0.26), inside!(magnetic.circuit.fringe)).beside(),
    number("iron_length", "length of the path in iron", D::Length,
        Bounds::between(1e-3, 1.0, "paths are 20 mm to 200 mm long"),
        Needed, inside!(magnetic.circuit.iron_length_m)).beside(),
    number("iron_area", "cross-section of the iron", D::Area,
        Bounds::between(1e-7, 1e-2, "iron of 10 mm2 to 200 mm2"),
        Needed, inside!(magnetic.circuit.iron_area_m2)),
    number("permeability", "relative permeability of the iron", D::Fraction,
        Bounds::between(10.0, 1e6, "soft iron has 1500 to 2000 here"),
        Or(1500.0), inside!(magnetic.circuit.relative_permeability)).beside(),
    number("saturation", "flux density of saturated iron", D::FluxDensity,
        Bounds::between(0.1, 3.0, "soft iron saturates at 1.6 T to 2 T"),
        Or(1.6), inside!(magnetic.circuit.saturation_t)).beside(),
    number("mass", "moving mass at the pole", D::Mass,
        Bounds::between(1e-6, 10.0, "armatures weigh 0.5 g to 20 g"),
        Needed, inside!(magnetic.mass_kg)).beside(),
    number("preload", "spring force at rest", D::Force, FORCE, Needed, inside!(magnetic.preload_n)).beside(),
    number("stiffness", "stiffness of its spring", D::Stiffness,
        Bounds::not_negative(1e6, "springs of armatures have 50 N/m to 2000 N/m"),
        Or(0.0), inside!(magnetic.stiffness_n_per_m)).beside(),
    number("weight", "weight against the pull, by its posture", D::Force,
        Bounds::between(-100.0, 100.0, "0 where it moves on the level; with the pull it is negative"),
        Or(0.0), inside!(magnetic.weight_n)).beside(),
    number("strike_travel", "way to the trigger", D::Length,
        Bounds::not_negative(0.05, "strikers meet the trigger after 0.3 mm to 3 mm"),
        Needed, inside!(magnetic.strike_m)).beside(),
    number("lever", "travel of the striker over that of the armature", D::Fraction,
        Bounds::positive(20.0, "levers have 0.5 to 3"), Or(1.0), inside!(magnetic.lever)).beside(),
    number("trigger_force", "force that moves the trigger", D::Force, FORCE,
        Needed, inside!(magnetic.trigger_force_n)).beside(),
    number("trigger_travel", "travel of the trigger to the release", D::Length, TRAVEL,
        Needed, inside!(magnetic.trigger_travel_m)).beside(),
    words("band", "published band it is held against", May, &[
        ("B", |s, _| if let Some(m) = &mut s.magnetic { m.band = Some(Band::B); }),
        ("C", |s, _| if let Some(m) = &mut s.magnetic { m.band = Some(Band::C); }),
        ("D", |s, _| if let Some(m) = &mut s.magnetic { m.band = Some(Band::D); }),
    ]),
];

#[rustfmt::skip]
pub(super) const CLOSING: &[Row] = &[
    words("law", "how the current begins", Needed, &[
        ("alternating", |s, _| s.closing = Some(unread::closing(unread::ALTERNATING))),
        ("direct", |s, _| s.closing = Some(unread::closing(unread::DIRECT))),
        ("half wave", |s, _| s.closing = Some(unread::closing(unread::HALF_WAVE))),
        ("lamp", |s, _| s.closing = Some(unread::closing(unread::LAMP))),
        ("transformer", |s, _| s.closing = Some(unread::closing(unread::TRANSFORMER))),
        ("capacitor", |s, _| s.closing = Some(unread::closing(unread::CAPACITOR))),
    ]),
    number("current", "prospective current: rms, or direct", D::Current, AMPERES, Needed,
        closes!(it: C::Alternating { rms_a: it, .. } | C::Lamp { rms_a: it, .. } | C::Direct { current_a: it, .. })),
    number("peak", "largest peak", D::Current, AMPERES, Needed,
        closes!(it: C::HalfWave { peak_a: it, .. } | C::Transformer { first_peak_a: it, .. }
            | C::Capacitor { peak_a: it, .. })),
    number("frequency", "of the supply", D::Frequency,
        Bounds::between(10.0, 2000.0, "supplies have 50 Hz, 60 Hz or 400 Hz"), Or(50.0),
        closes!(it: C::Alternating { frequency_hz: it, .. } | C::HalfWave { frequency_hz: it, .. }
            | C::Lamp { frequency_hz: it, .. } | C::Transformer { frequency_hz: it, .. }
            | C::Capacitor { frequency_hz: it, .. })),
    number("x_over_r", "reactance over resistance", D::Fraction,
        Bounds::not_negative(100.0, "0.3 behind a long cable, 3 to 10 near a transformer"), Or(0.0),
        closes!(it: C::Alternating { x_over_r: it, .. })),
    number("time_constant", "time constant of what decays", D::Time, SECONDS, Needed,
        closes!(it: C::Lamp { time_constant_s: it, .. } | C::Transformer { time_constant_s: it, .. }
            | C::Capacitor { time_constant_s: it, .. } | C::Direct { time_constant_s: it, .. })),
    number("cold_ratio", "current cold over warm", D::Fraction,
        Bounds::between(1.0, 30.0, "tungsten has 7 to 15"), Needed,
        closes!(it: C::Lamp { cold_ratio: it, .. })),
    number("remanence", "flux left over the rated flux peak", D::Fraction,
        Bounds::between(0.0, 0.95, "0 to 0.7"), Needed,
        closes!(it: C::Transformer { remanence: it, .. })),
    number("saturation", "saturation over the rated flux peak", D::Fraction,
        Bounds::between(1.0, 1.9, "1.1 to 1.4"), Needed,
        closes!(it: C::Transformer { saturation: it, .. })),
    number("ringing", "frequency of the ringing", D::Frequency,
        Bounds::between(10.0, 1e6, "cables ring at some kilohertz"), Needed,
        closes!(it: C::Capacitor { ringing_hz: it, .. })),
    number("steady", "current afterwards, rms", D::Current, Bounds::not_negative(200_000.0, "is the unit right?"),
        Or(0.0), closes!(it: C::Capacitor { steady_rms_a: it, .. })),
    other("poles", "poles that close together, each with the element", May, Value::Whole(3)),
];

#[rustfmt::skip]
pub(super) const CABLE: &[Row] = &[
    number("voltage", "supply, rms", D::Voltage, Bounds::positive(2000.0, "supplies have 12 V to 690 V"),
        Needed, inside!(cable.voltage_v)),
    number("source_resistance", "resistance in front of the cable", D::Resistance, OHMS,
        Needed, inside!(cable.source_resistance_ohm)),
    number("source_reactance", "reactance in front of the cable", D::Resistance, OHMS,
        Needed, inside!(cable.source_reactance_ohm)),
    number("length", "length; the current flows there and back", D::Length,
        Bounds::positive(1e5, "cables of circuits are 5 m to 500 m long"), Needed, inside!(cable.length_m)),
    number("resistance", "resistance of one conductor", D::ResistancePerLength,
        Bounds::positive(10.0, "2.5 mm2 of copper has 7.4 mohm/m"), Needed, inside!(cable.resistance_ohm_per_m)),
    number("reactance", "reactance of one conductor", D::ResistancePerLength,
        Bounds::not_negative(10.0, "about 0.1 mohm/m"), Or(1e-4), inside!(cable.reactance_ohm_per_m)),
    number("capacitance", "capacitance between the conductors", D::CapacitancePerLength,
        Bounds::positive(1e-6, "about 100 pF/m"), Or(1e-10), inside!(cable.capacitance_f_per_m)),
];
