//! Rows of `[ageing]` and `[duty]`: constants of wear, and the calendar of the work.

use super::Need::{Like, May, Needed, Or};
use super::part::AMBIENT;
use super::{Row, Slot, Value, inside, maybe_inside, number, other, words};
use crate::document::Bounds;
use crate::quantity::Dimension as D;
use crate::scenario::Scenario;
use crate::scenario::ageing::{Ageing, Relaxation, Shift, SpringNode, TimeScale};

const LOSS: Bounds = Bounds::between(0.0, 0.95, "a loss of preload lies below 95 %").without_most();
const EVERY: Bounds = Bounds::between(1.0, 1e11, "for example \"2 week\"");
/// Temperatures of tests.
const TEST_AIR: Bounds = Bounds::between(
    173.15,
    773.15,
    "springs are tested between room temperature and 300 degC",
);
const DAY_S: f64 = 86_400.0;
const YEAR_S: f64 = 31_557_600.0;

fn beside(s: &mut Scenario, node: SpringNode) {
    if let Some(ageing) = &mut s.ageing {
        ageing.spring.node = node;
    }
}

fn law(s: &mut Scenario, law: Relaxation) {
    if let Some(ageing) = &mut s.ageing {
        ageing.relaxation = law;
    }
}

const UNREAD_SCALE: TimeScale = TimeScale {
    time_constant_s: f64::NAN,
    at_k: None,
    activation_j_per_mol: f64::NAN,
};

/// The time scale of a law that has one.
fn scale(s: &mut Scenario) -> Option<&mut TimeScale> {
    match &mut s.ageing.as_mut()?.relaxation {
        Relaxation::Logarithmic { scale, .. } | Relaxation::Power { scale, .. } => Some(scale),
        Relaxation::LarsonMiller { .. } => None,
    }
}

/// A constant of one law.
macro_rules! of_law {
    ($law:ident { $field:ident }) => {
        Slot::Here(|s, _| match &mut s.ageing.as_mut()?.relaxation {
            Relaxation::$law { $field, .. } => Some($field),
            _ => None,
        })
    };
}

/// A number of a table inside `[ageing]` that may be missing.
macro_rules! of_ageing {
    ($table:ident . $field:ident) => {
        Slot::Here(|s, _| s.ageing.as_mut()?.$table.as_mut().map(|t| &mut t.$field))
    };
}

#[rustfmt::skip]
pub(super) const AGEING: &[Row] = &[
    other("source", "where the constants come from", Needed,
        Value::Text("\"relaxation test of this spring, report 12\"")),
    words("spring_beside", "whose temperature the spring has", Like("\"moving contact\""), &[
        ("clamped terminal", |s, _| beside(s, SpringNode::ClampedTerminal)),
        ("moving contact", |s, _| beside(s, SpringNode::MovingContact)),
        ("fixed contact", |s, _| beside(s, SpringNode::FixedContact)),
        ("housing air", |s, _| beside(s, SpringNode::HousingAir)),
        ("ambient", |s, _| beside(s, SpringNode::Ambient)),
    ]),
    number("spring_warmer_by", "how much warmer the spring is", D::TemperatureDifference,
        Bounds::between(-100.0, 200.0, ""), Or(0.0), inside!(ageing.spring.offset_k)),
    number("horizon", "time looked at", D::Time,
        Bounds::between(DAY_S, 200.0 * YEAR_S, "parts are looked at for 5 to 50 years"),
        Or(30.0 * YEAR_S), inside!(ageing.horizon_s)),
    number("first_loading_loss", "preload lost in the first loading", D::Fraction, LOSS,
        Or(0.0), inside!(ageing.first_loading)),
    number("loss_per_trip", "preload lost in every trip", D::Fraction,
        Bounds::not_negative(0.1, "a trip costs far less than 1 % of the preload"),
        Or(0.0), inside!(ageing.loss_per_trip)),
    other("contact_force_too", "whether the contact force is lost with the preload", May,
        Value::Flag(|s, _| s.ageing.as_mut().map(|a| &mut a.contact_ages), true)),
    number("film_per_operation", "resistance gained with every operation", D::Resistance,
        Bounds::not_negative(0.01, "contacts gain far less than 1 mohm an operation"),
        Or(0.0), inside!(ageing.film_per_operation_ohm)),
];

#[rustfmt::skip]
pub(super) const RELAXATION: &[Row] = &[
    words("law", "law of the loss with time", Needed, &[
        ("logarithmic", |s, _| law(s, Relaxation::Logarithmic { coefficient: f64::NAN, scale: UNREAD_SCALE })),
        ("power", |s, _| law(s, Relaxation::Power { coefficient: f64::NAN, exponent: f64::NAN, scale: UNREAD_SCALE })),
        ("Larson-Miller", |s, _| law(s, Relaxation::LarsonMiller { constant: f64::NAN, start_k: f64::NAN, loss_per_k: f64::NAN })),
    ]),
    number("coefficient", "coefficient of the law", D::Fraction, Bounds::positive(1.0, "for example 1.5 %"),
        Like("\"1.5 %\""), Slot::Here(|s, _| match &mut s.ageing.as_mut()?.relaxation {
            Relaxation::Logarithmic { coefficient, .. } | Relaxation::Power { coefficient, .. } => Some(coefficient),
            Relaxation::LarsonMiller { .. } => None,
        })),
    number("time_constant", "time constant", D::Time,
        Bounds::positive(1e15, "relaxation starts within seconds to years"),
        Needed, Slot::Here(|s, _| scale(s).map(|x| &mut x.time_constant_s))),
    number("at", "temperature the time constant is stated for", D::Temperature, TEST_AIR,
        May, Slot::Maybe(|s, _| scale(s).map(|x| &mut x.at_k))),
    number("activation_energy", "activation energy", D::MolarEnergy,
        Bounds::not_negative(1e6, "springs relax with 50 kJ/mol to 250 kJ/mol"),
        Needed, Slot::Here(|s, _| scale(s).map(|x| &mut x.activation_j_per_mol))),
    number("exponent", "exponent of the power law", D::Fraction,
        Bounds::positive(1.0, "fast first, slower later: below 1").without_most(),
        Like("0.2"), of_law!(Power { exponent })),
    number("constant", "constant of the Larson-Miller parameter", D::Fraction,
        Bounds::between(1.0, 60.0, "usually 20 to 25"), Like("20"), of_law!(LarsonMiller { constant })),
    number("start", "parameter below which nothing is lost", D::TemperatureDifference,
        Bounds::positive(1e5, "parameters of springs lie at 5000 K to 15 000 K"),
        Needed, of_law!(LarsonMiller { start_k })),
    number("loss_per_kelvin", "loss per kelvin of the parameter", D::PerKelvin,
        Bounds::positive(1e-2, "about 0.01 %/K"), Needed, of_law!(LarsonMiller { loss_per_k })),
];

#[rustfmt::skip]
pub(super) const TEST: &[Row] = &[
    number("lasted", "how long the test lasted", D::Time,
        Bounds::positive(1e10, "tests last 100 h to 10 000 h"), Needed, of_ageing!(tested.for_s)),
    number("at", "temperature of the test", D::Temperature, TEST_AIR, Needed, of_ageing!(tested.at_k)),
];

#[rustfmt::skip]
pub(super) const FRICTION: &[Row] = &[
    number("stuck_factor", "multiple of the release force that it tends to", D::Fraction,
        Bounds::between(1.0, 20.0, "a latch that was never moved takes a multiple of the force"),
        Like("2.5"), of_ageing!(friction.stuck_factor)),
    number("time_constant", "time constant of the rise", D::Time,
        Bounds::positive(1e11, "lubricants dry in years"), Needed, of_ageing!(friction.time_constant_s)),
    number("relieved", "part of the rise that one operation takes away", D::Fraction,
        Bounds::between(0.0, 1.0, "the part of the rise that one operation takes away"),
        Like("\"80 %\""), of_ageing!(friction.relieved)),
];

#[rustfmt::skip]
pub(super) const DUTY: &[Row] = &[
    number("ambient", "air all year, instead of seasons", D::Temperature, AMBIENT, May, Slot::ByHand),
    other("held_when_idle", "whether the spring is held while nothing is carried", May,
        Value::Flag(|s, _| s.ageing.as_mut().map(|a| &mut a.duty.idle_held), true)),
    number("trips_every", "time between trips", D::Time, EVERY, May, maybe_inside!(ageing.duty.trips_every_s)),
    number("operations_every", "time between operations of the contacts", D::Time, EVERY,
        May, maybe_inside!(ageing.duty.operations_every_s)),
    number("exercise_every", "time between exercises of the latch", D::Time, EVERY,
        May, maybe_inside!(ageing.duty.exercise_every_s)),
];

#[rustfmt::skip]
pub(super) const SEASON: &[Row] = &[
    other("name", "name of the season", Needed, Value::Text("\"summer\"")),
    number("months", "months of the year", D::Fraction, Bounds::positive(12.0, "a year has 12 months"),
        May, Slot::ByHand),
    number("share", "share of the year, instead of months", D::Fraction,
        Bounds::positive(1.0, "the share of the year"), May, Slot::ByHand),
    number("ambient", "air of the season", D::Temperature, AMBIENT, Needed, Slot::ByHand),
];

fn shift(s: &mut Scenario, k: usize) -> Option<&mut Shift> {
    let ageing: &mut Ageing = s.ageing.as_mut()?;
    ageing.duty.shifts.get_mut(k)
}

#[rustfmt::skip]
pub(super) const SHIFT: &[Row] = &[
    other("name", "name of the shift", Needed, Value::Text("\"milking\"")),
    number("daily", "time a day", D::Time, Bounds::positive(DAY_S, "a day has 24 h"),
        Needed, Slot::Here(|s, k| shift(s, k).map(|x| &mut x.daily_s))),
    number("days_a_week", "days a week", D::Fraction, Bounds::positive(7.0, "a week has 7 days"),
        Or(7.0), Slot::Here(|s, k| shift(s, k).map(|x| &mut x.days_a_week))),
    number("current", "current carried", D::Current, Bounds::not_negative(20_000.0, "is the unit right?"),
        May, Slot::ByHand),
    number("times_rated", "current as a multiple of the rating, instead", D::Fraction,
        Bounds::not_negative(5.0, "a multiple of the rated current, for example 0.8"), May, Slot::ByHand),
    number("ambient", "air, whatever the season", D::Temperature, AMBIENT, May, Slot::ByHand),
    number("warmer_by", "how much the air is warmer than the season's", D::TemperatureDifference,
        Bounds::between(-50.0, 150.0, "how much the equipment warms the air"), Or(0.0), Slot::ByHand),
    other("season", "the only season in which it comes", May, Value::Text("\"summer\"")),
    other("spring_held", "whether the spring is held meanwhile", May,
        Value::Flag(|s, k| shift(s, k).map(|x| &mut x.held), true)),
];
