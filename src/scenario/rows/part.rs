//! Rows of the part as built: rating, strip, cooling, terminals, contacts, winding and housing.

use super::Need::{As, May, Needed, Or, Unless, UpTo};
use super::{Row, Slot, Value, here, inside, maybe_inside, number, of, other, words};
use crate::document::Bounds;
use crate::quantity::Dimension as D;
use crate::scenario::{ContactResistance, Convection, SectionKind, ShuntNode, ThroughThickness};

/// An ambient that people and protectors live in, with room.
pub(in crate::scenario) const AMBIENT: Bounds = Bounds::between(
    173.15,
    473.15,
    "an ambient lies between -100 degC and 200 degC",
);
const CAPACITY: Bounds = Bounds::positive(1e4, "terminals and contacts hold 0.05 J/K to 50 J/K");
const CONDUCTANCE: Bounds =
    Bounds::not_negative(100.0, "parts of protectors give off 1 mW/K to 1 W/K");
const WIRE: Bounds = Bounds::between(5e-8, 5e-4, "wires are 0.5 mm2 to 240 mm2");
/// A number of a strip that a disc has not.
macro_rules! flat {
    ($field:ident) => {
        Slot::Here(|s, _| match s.release.mechanism.disc() {
            None => Some(&mut s.strip.$field),
            Some(_) => None,
        })
    };
}

const SHARE: Bounds = Bounds::between(0.0, 1.0, "");

#[rustfmt::skip]
pub(super) const PROTECTOR: &[Row] = &[
    number("rated_current", "rated current: carried without tripping", D::Current,
        Bounds::between(0.01, 10_000.0, "rated currents lie between 0.05 A and some thousand amperes"),
        Needed, here!(protector.rated_current_a)),
    number("reference_ambient", "air the rating is stated for", D::Temperature, AMBIENT,
        Or(296.15), here!(protector.reference_ambient_k)),
    other("limits", "published limits it is held against", May,
        Value::Text("\"equipment breaker window\"")),
];

#[rustfmt::skip]
pub(super) const STRIP: &[Row] = &[
    number("length", "free length from the clamp", D::Length,
        Bounds::between(1e-3, 0.5, "strips are 10 mm to 100 mm long; is the unit right?"),
        Needed, flat!(length_m)).beside(),
    number("width", "width", D::Length,
        Bounds::between(1e-4, 0.2, "strips are 1 mm to 30 mm wide; is the unit right?"),
        Needed, flat!(width_m)).beside(),
    number("push_point", "where it pushes the release, from the clamp", D::Length,
        Bounds::positive(0.5, "the push point lies on the strip, at most its length from the clamp"),
        UpTo("strip.length"), flat!(push_point_m)).beside(),
    number("flat_temperature", "flat and free of stress at", D::Temperature,
        Bounds::between(173.15, 573.15, "strips are flat near room temperature"),
        Or(293.15), here!(strip.flat_temperature_k)).alone(),
    number("initial_curvature", "curvature as made", D::Curvature, Bounds::between(-200.0, 200.0, ""),
        Or(0.0), flat!(initial_curvature_per_m)).beside(),
    number("flexivity", "this coil's flexivity over that of its layers' data", D::Fraction,
        Bounds::between(0.2, 5.0, "a coil bends about as much as the data of its layers say"),
        Or(1.0), here!(strip.flexivity_factor)).beside(),
    number("resistivity", "this coil's resistivity over that of its layers' data", D::Fraction,
        Bounds::between(0.2, 5.0, "a coil resists about as much as the data of its layers say"),
        Or(1.0), here!(strip.resistivity_factor)).beside(),
    words("section", "how the width bends", May, &[
        ("narrow", |s, _| s.strip.section = SectionKind::Narrow),
        ("wide", |s, _| s.strip.section = SectionKind::WideFree),
        ("held flat", |s, _| s.strip.section = SectionKind::HeldFlat),
    ]),
    number("current_share", "share of the current through the strip", D::Fraction,
        Bounds::positive(1.0, "the share of the current that flows through the strip"),
        Or(1.0), flat!(current_share)).beside(),
    words("shunt_heat_to", "where the heat of a shunt goes", May, &[
        ("clamped terminal", |s, _| s.strip.shunt_heat_to = Some(ShuntNode::ClampedTerminal)),
        ("moving contact", |s, _| s.strip.shunt_heat_to = Some(ShuntNode::MovingContact)),
        ("housing", |s, _| s.strip.shunt_heat_to = Some(ShuntNode::Housing)),
    ]),
    words("through_thickness", "temperature through the thickness", May, &[
        ("auto", |s, _| s.strip.through_thickness = ThroughThickness::Auto),
        ("uniform", |s, _| s.strip.through_thickness = ThroughThickness::Uniform),
        ("resolved", |s, _| s.strip.through_thickness = ThroughThickness::Resolved),
    ]),
    other("allow_extrapolation", "whether properties may be used beyond their source", May,
        Value::Flag(|s, _| Some(&mut s.strip.allow_extrapolation), false)),
];

#[rustfmt::skip]
pub(super) const LAYER: &[Row] = &[
    other("alloy", "alloy, by name", Needed, Value::Text("\"Fe-36Ni\"")),
    number("thickness", "thickness", D::Length,
        Bounds::between(0.0, 0.01, "layers of strips are 0.01 mm to 2 mm thick; did you mean mm?"),
        Needed, Slot::Here(|s, k| s.strip.layers.get_mut(k).map(|l| &mut l.thickness_m))).beside(),
];

#[rustfmt::skip]
pub(super) const COOLING: &[Row] = &[
    words("posture", "how the strip lies in the air, or another way to lose heat", Needed, &[
        ("edge-on", |s, _| s.cooling.convection = Convection::EdgeOn),
        ("upright", |s, _| s.cooling.convection = Convection::Upright),
        ("flat", |s, _| s.cooling.convection = Convection::Flat),
        ("constant", |s, _| s.cooling.convection = Convection::Constant { coefficient_w_per_m2_k: 0.0 }),
        ("forced", |s, _| s.cooling.convection = Convection::Forced { speed_m_per_s: 0.0, flow_length_m: 0.0 }),
        ("gap", |s, _| s.cooling.convection = Convection::Gap { gap_m: 0.0 }),
    ]),
    number("coefficient", "heat-transfer coefficient, with posture constant", D::FilmCoefficient,
        Bounds::positive(5000.0, "still air gives 5 to 30 W/(m2 K)"), Needed,
        of!(cooling.convection => Convection::Constant { coefficient_w_per_m2_k })).alone(),
    number("air_speed", "speed of the air, with posture forced", D::Speed,
        Bounds::positive(50.0, "fans blow 0.5 to 10 m/s"), Needed,
        of!(cooling.convection => Convection::Forced { speed_m_per_s })).alone(),
    number("flow_length", "length the air runs along, with posture forced", D::Length,
        Bounds::between(1e-4, 1.0, "the length the air runs along the strip"), Needed,
        of!(cooling.convection => Convection::Forced { flow_length_m })).alone(),
    number("gap", "width of the air gap, with posture gap", D::Length,
        Bounds::between(1e-5, 0.02, "conduction across air holds for gaps of a few millimetres"), Needed,
        of!(cooling.convection => Convection::Gap { gap_m })).alone(),
    number("emissivity", "emissivity of the strip", D::Fraction,
        Bounds::between(0.0, 1.0, "between 0 (mirror) and 1 (black)"),
        Or(0.3), here!(cooling.emissivity)).beside(),
    number("uncovered_fraction", "share of the surface not under a winding", D::Fraction, SHARE,
        Or(1.0), here!(cooling.uncovered_fraction)).beside(),
    number("altitude", "altitude", D::Length,
        Bounds::between(-500.0, 9000.0, "altitudes of places where people work"),
        Or(0.0), here!(cooling.altitude_m)).alone(),
];

#[rustfmt::skip]
pub(super) const CLAMPED_TERMINAL: &[Row] = &[
    number("heat_capacity", "heat capacity", D::HeatCapacity, CAPACITY,
        Needed, here!(clamped_terminal.heat_capacity_j_per_k)).beside(),
    number("resistance", "resistance", D::Resistance,
        Bounds::not_negative(1000.0, "terminals have 0.1 to 10 mohm"),
        Or(0.0), here!(clamped_terminal.resistance_ohm)).beside(),
    number("conductance", "conductance to the surroundings", D::Conductance, CONDUCTANCE,
        Unless("wire"), here!(clamped_terminal.conductance_w_per_k)).beside(),
    number("wire", "copper wire that carries its heat away", D::Area, WIRE, May, Slot::ByHand),
];

/// The rim of a disc stands where the clamped end of a strip does.
#[rustfmt::skip]
pub(super) const RIM: &[Row] = &[
    number("heat_capacity", "heat capacity of its seat", D::HeatCapacity, CAPACITY,
        Needed, here!(clamped_terminal.heat_capacity_j_per_k)).alone(),
    number("resistance", "resistance from the terminal into the rim", D::Resistance,
        Bounds::not_negative(1000.0, "terminals have 0.1 to 10 mohm"),
        Or(0.0), here!(clamped_terminal.resistance_ohm)).alone(),
    number("conductance", "conductance to the case of the machine, or to the surroundings", D::Conductance,
        CONDUCTANCE, Needed, here!(clamped_terminal.conductance_w_per_k)).alone(),
];

#[rustfmt::skip]
pub(super) const MOVING_CONTACT: &[Row] = &[
    number("heat_capacity", "heat capacity", D::HeatCapacity, CAPACITY,
        Needed, here!(moving_contact.heat_capacity_j_per_k)).beside(),
    number("conductance", "conductance to the air", D::Conductance, CONDUCTANCE,
        Or(0.0), here!(moving_contact.conductance_w_per_k)).beside(),
];

#[rustfmt::skip]
pub(super) const FIXED_CONTACT: &[Row] = &[
    number("heat_capacity", "heat capacity", D::HeatCapacity, CAPACITY,
        Needed, here!(fixed_contact.heat_capacity_j_per_k)).beside(),
    number("conductance", "conductance to the surroundings", D::Conductance, CONDUCTANCE,
        Unless("wire"), here!(fixed_contact.conductance_w_per_k)).beside(),
    number("wire", "copper wire that carries its heat away", D::Area, WIRE, May, Slot::ByHand),
];

#[rustfmt::skip]
pub(super) const CONTACT: &[Row] = &[
    other("metal", "contact metal, by name", May, Value::Text("\"silver\"")),
    number("resistance", "constant resistance, instead of force and metal", D::Resistance,
        Bounds::positive(10.0, "contacts have 0.1 to 50 mohm"), May,
        Slot::Here(|s, _| match &mut s.contact.resistance {
            ContactResistance::Constant(ohm) => Some(ohm),
            ContactResistance::Holm { .. } => None,
        })).beside(),
    number("film_resistance", "film resistance", D::Resistance,
        Bounds::not_negative(10.0, "contacts have 0.1 to 50 mohm"),
        Or(0.0), of!(contact.resistance => ContactResistance::Holm { film_ohm })).beside(),
    number("force", "contact force as new", D::Force,
        Bounds::positive(1000.0, "contact forces lie between 0.05 N and 50 N"),
        May, of!(contact.resistance => ContactResistance::Holm { force_n })).beside(),
    number("film_conductance", "thermal conductance of the closed pair", D::Conductance,
        Bounds::not_negative(100.0, ""),
        May, Slot::Maybe(|s, _| Some(&mut s.contact.film_conductance_w_per_k))).beside(),
];

#[rustfmt::skip]
pub(super) const WINDING: &[Row] = &[
    number("resistance", "resistance at 20 degC", D::Resistance,
        Bounds::positive(1000.0, "heater windings have 0.01 to 300 ohm"),
        Needed, inside!(winding.resistance_ohm)).beside(),
    number("temperature_coefficient", "temperature coefficient of the resistance", D::PerKelvin,
        Bounds::between(-1e-3, 1e-2, "resistance alloys have about 1e-4 1/K"),
        Or(0.0), inside!(winding.temperature_coefficient_per_k)).beside(),
    number("heat_capacity", "heat capacity", D::HeatCapacity, CAPACITY,
        Needed, inside!(winding.heat_capacity_j_per_k)).beside(),
    number("conductance_to_strip", "conductance to the strip", D::Conductance, CONDUCTANCE,
        Needed, inside!(winding.conductance_to_strip_w_per_k)).beside(),
    number("conductance_to_air", "conductance to the air", D::Conductance, CONDUCTANCE,
        Needed, inside!(winding.conductance_to_air_w_per_k)).beside(),
    number("limit_temperature", "highest temperature of its insulation", D::Temperature,
        Bounds::between(300.0, 1500.0, "insulation stands 130 degC to 600 degC"),
        May, maybe_inside!(winding.limit_k)),
];

#[rustfmt::skip]
pub(super) const HOUSING: &[Row] = &[
    number("heat_capacity", "heat capacity of its air and walls", D::HeatCapacity, CAPACITY,
        Needed, inside!(housing.heat_capacity_j_per_k)).beside(),
    number("conductance", "conductance to the surroundings", D::Conductance, CONDUCTANCE,
        Needed, inside!(housing.conductance_w_per_k)).beside(),
];

const LOSS: Bounds = Bounds::between(
    0.0,
    0.95,
    "from 95 % on the contact hardly closes and the model does not hold",
)
.without_most();

/// What every release has, whatever its mechanism; `preload_loss` apart, see [`preload_loss`].
#[rustfmt::skip]
pub(in crate::scenario) const RELEASE: &[Row] = &[
    number("opening_time", "time from release to open contacts", D::Time,
        Bounds::not_negative(10.0, "contacts open within 50 ms"),
        Or(0.0), here!(release.opening_time_s)).alone(),
    words("reset", "who closes it again", Needed, &[
        ("by hand", |s, _| s.release.reset = crate::scenario::Reset::ByHand),
        ("automatic", |s, _| s.release.reset = crate::scenario::Reset::Automatic),
    ]),
];

/// The lost preload, in the table of this mechanism.
pub(in crate::scenario) const fn preload_loss() -> Row {
    number(
        "preload_loss",
        "preload lost",
        D::Fraction,
        LOSS,
        Or(0.0),
        here!(release.preload_loss),
    )
    .alone()
}

/// The lost contact force: as much as the preload, unless given.
pub(in crate::scenario) const fn contact_loss(preload_loss: &'static str) -> Row {
    number(
        "contact_loss",
        "contact force lost",
        D::Fraction,
        LOSS,
        As(preload_loss),
        here!(release.contact_loss),
    )
    .alone()
}
