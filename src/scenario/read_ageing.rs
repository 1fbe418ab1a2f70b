//! `[ageing]`: constants of relaxation, friction and contact wear.

use super::ageing::{Ageing, Friction, Relaxation, SpringNode, SpringPlace, Tested, TimeScale};
use super::read_duty::duty;
use super::{Housing, Mechanism, Release};
use crate::diagnostic::Problem;
use crate::document::{Bounds, Read, TableReader};
use crate::quantity::Dimension;

const LOSS: Bounds = Bounds::between(0.0, 0.95, "a loss of preload lies below 95 %").without_most();
/// Temperatures of tests.
const TEST_AIR: Bounds = Bounds::between(
    173.15,
    773.15,
    "springs are tested between room temperature and 300 degC",
);

/// What ageing must fit to.
pub(super) struct Part<'s> {
    pub rated_a: Option<f64>,
    pub release: Option<&'s Release>,
    /// `Some(None)`: there is no housing.
    pub housing: Option<Option<&'s Housing>>,
}

/// Read `[ageing]` and `[duty]`: both or neither. `None` only after a problem.
pub(super) fn ageing(root: &TableReader<'_>, part: &Part<'_>) -> Option<Option<Ageing>> {
    match (root.has("ageing"), root.has("duty")) {
        (false, false) => Some(None),
        (true, true) => {
            let duty = root.table("duty").map(|t| duty(&t, part.rated_a));
            let ageing = root.table("ageing").map(|t| constants(&t, part));
            let (ageing, duty) = (ageing??, duty??);
            Some(Some(Ageing { duty, ..ageing }))
        }
        (has_ageing, _) => {
            let (there, lacks, what) = if has_ageing {
                ("ageing", "duty", "what the part has to do")
            } else {
                ("duty", "ageing", "the constants of its wear")
            };
            root.report(
                Problem::new(
                    root.span_of(there),
                    format!("[{there}] stands without [{lacks}]"),
                )
                .label(format!("needs [{lacks}]: {what}"))
                .help(format!("add [{lacks}], or remove [{there}]")),
            );
            // Its own problems are told all the same.
            if has_ageing {
                root.table("ageing").map(|t| constants(&t, part));
            } else {
                root.table("duty").map(|t| duty(&t, part.rated_a));
            }
            None
        }
    }
}

fn constants(t: &TableReader<'_>, part: &Part<'_>) -> Option<Ageing> {
    let source = t.required_text("source", "\"relaxation test of this spring, report 12\"");
    let node = spring_node(t, part);
    let offset = t.or(
        "spring_warmer_by",
        Dimension::TemperatureDifference,
        Bounds::between(-100.0, 200.0, ""),
        0.0,
    );
    let horizon = t.or(
        "horizon",
        Dimension::Time,
        Bounds::between(
            86_400.0,
            200.0 * 31_557_600.0,
            "parts are looked at for 5 to 50 years",
        ),
        30.0 * 31_557_600.0,
    );
    let first_loading = t.or("first_loading_loss", Dimension::Fraction, LOSS, 0.0);
    let per_trip = t.or(
        "loss_per_trip",
        Dimension::Fraction,
        Bounds::not_negative(0.1, "a trip costs far less than 1 % of the preload"),
        0.0,
    );
    let contact_ages = match t.boolean("contact_force_too") {
        Some(read) => Some(read.value),
        None if t.has("contact_force_too") => None,
        None => Some(true),
    };
    let relaxation = t.required_table("relaxation").and_then(|t| relaxation(&t));
    let tested = if t.has("test") {
        t.table("test").and_then(|t| tested(&t)).map(Some)
    } else {
        Some(None)
    };
    let friction = if t.has("friction") {
        friction_of_a_latch(t, part);
        t.table("friction").and_then(|t| friction(&t)).map(Some)
    } else {
        Some(None)
    };
    let film = t.or(
        "film_per_operation",
        Dimension::Resistance,
        Bounds::not_negative(0.01, "contacts gain far less than 1 mohm an operation"),
        0.0,
    );
    t.finish();
    Some(Ageing {
        source: source?.value,
        spring: SpringPlace {
            node: node?,
            offset_k: offset?,
        },
        horizon_s: horizon?,
        first_loading: first_loading?,
        loss_per_trip: per_trip?,
        contact_ages: contact_ages?,
        relaxation: relaxation?,
        tested: tested?,
        friction: friction?,
        film_per_operation_ohm: film?,
        duty: super::ageing::Duty {
            seasons: Vec::new(),
            shifts: Vec::new(),
            idle_held: true,
            trips_every_s: None,
            operations_every_s: None,
            exercise_every_s: None,
        },
    })
}

fn spring_node(t: &TableReader<'_>, part: &Part<'_>) -> Option<SpringNode> {
    if !t.has("spring_beside") {
        t.missing("spring_beside", "\"moving contact\"");
    }
    let node = t.choice(
        "spring_beside",
        &[
            ("clamped terminal", SpringNode::ClampedTerminal),
            ("moving contact", SpringNode::MovingContact),
            ("fixed contact", SpringNode::FixedContact),
            ("housing air", SpringNode::HousingAir),
            ("ambient", SpringNode::Ambient),
        ],
    )?;
    if node.value == SpringNode::HousingAir && matches!(part.housing, Some(None)) {
        t.report(
            Problem::new(
                node.span,
                "the spring is to be as warm as the air of the housing, but there is no [housing]",
            )
            .help("add [housing], or name another node"),
        );
        return None;
    }
    Some(node.value)
}

/// A number without a unit, required, with an example that fits it.
fn needed(
    t: &TableReader<'_>,
    key: &'static str,
    example: &str,
    bounds: Bounds,
) -> Option<Read<f64>> {
    if !t.has(key) {
        t.missing(key, example);
        return None;
    }
    t.fraction(key, bounds)
}

fn time_scale(t: &TableReader<'_>) -> Option<TimeScale> {
    let constant = t.required(
        "time_constant",
        Dimension::Time,
        Bounds::positive(1e15, "relaxation starts within seconds to years"),
    );
    let at = if t.has("at") {
        t.optional("at", Dimension::Temperature, TEST_AIR)
            .map(|r| Some(r.value))
    } else {
        Some(None)
    };
    let energy = t.required(
        "activation_energy",
        Dimension::MolarEnergy,
        Bounds::not_negative(1e6, "springs relax with 50 kJ/mol to 250 kJ/mol"),
    );
    Some(TimeScale {
        time_constant_s: constant?.value,
        at_k: at?,
        activation_j_per_mol: energy?.value,
    })
}

fn relaxation(t: &TableReader<'_>) -> Option<Relaxation> {
    #[derive(Clone, Copy)]
    enum Law {
        Logarithmic,
        Power,
        LarsonMiller,
    }
    if !t.has("law") {
        t.missing("law", "\"logarithmic\"");
    }
    let words = [
        ("logarithmic", Law::Logarithmic),
        ("power", Law::Power),
        ("Larson-Miller", Law::LarsonMiller),
    ];
    let coefficient = |t: &TableReader<'_>| {
        needed(
            t,
            "coefficient",
            "\"1.5 %\"",
            Bounds::positive(1.0, "for example 1.5 %"),
        )
    };
    let Some(law) = t.choice("law", &words) else {
        // Without a law every key may be right.
        for key in [
            "coefficient",
            "exponent",
            "time_constant",
            "at",
            "activation_energy",
            "constant",
            "start",
            "loss_per_kelvin",
        ] {
            t.has(key);
        }
        t.finish();
        return None;
    };
    let relaxation = match law.value {
        Law::Logarithmic => {
            let (coefficient, scale) = (coefficient(t), time_scale(t));
            coefficient
                .zip(scale)
                .map(|(c, scale)| Relaxation::Logarithmic {
                    coefficient: c.value,
                    scale,
                })
        }
        Law::Power => {
            let (coefficient, scale) = (coefficient(t), time_scale(t));
            let exponent = needed(
                t,
                "exponent",
                "0.2",
                Bounds::positive(1.0, "fast first, slower later: below 1").without_most(),
            );
            coefficient
                .zip(scale)
                .zip(exponent)
                .map(|((c, scale), p)| Relaxation::Power {
                    coefficient: c.value,
                    exponent: p.value,
                    scale,
                })
        }
        Law::LarsonMiller => {
            let constant = needed(
                t,
                "constant",
                "20",
                Bounds::between(1.0, 60.0, "usually 20 to 25"),
            );
            let kelvin = Dimension::TemperatureDifference;
            let start = t.required(
                "start",
                kelvin,
                Bounds::positive(1e5, "parameters of springs lie at 5000 K to 15 000 K"),
            );
            let slope = t.required(
                "loss_per_kelvin",
                Dimension::PerKelvin,
                Bounds::positive(1e-2, "about 0.01 %/K"),
            );
            constant
                .zip(start)
                .zip(slope)
                .map(|((c, start), slope)| Relaxation::LarsonMiller {
                    constant: c.value,
                    start_k: start.value,
                    loss_per_k: slope.value,
                })
        }
    };
    t.finish();
    relaxation
}

fn tested(t: &TableReader<'_>) -> Option<Tested> {
    let length = t.required(
        "lasted",
        Dimension::Time,
        Bounds::positive(1e10, "tests last 100 h to 10 000 h"),
    );
    let at = t.required("at", Dimension::Temperature, TEST_AIR);
    t.finish();
    Some(Tested {
        for_s: length?.value,
        at_k: at?.value,
    })
}

fn friction_of_a_latch(t: &TableReader<'_>, part: &Part<'_>) {
    if part
        .release
        .is_some_and(|r| matches!(r.mechanism, Mechanism::SnapBlade { .. }))
    {
        t.report(
            Problem::new(
                t.span_of("friction"),
                "a snap blade has no latch that sticks",
            )
            .label("friction belongs to a latch")
            .help("remove [ageing.friction]"),
        );
    }
}

fn friction(t: &TableReader<'_>) -> Option<Friction> {
    let factor = needed(
        t,
        "stuck_factor",
        "2.5",
        Bounds::between(
            1.0,
            20.0,
            "a latch that was never moved takes a multiple of the force",
        ),
    );
    let time = t.required(
        "time_constant",
        Dimension::Time,
        Bounds::positive(1e11, "lubricants dry in years"),
    );
    let relieved = needed(
        t,
        "relieved",
        "\"80 %\"",
        Bounds::between(
            0.0,
            1.0,
            "the part of the rise that one operation takes away",
        ),
    );
    t.finish();
    Some(Friction {
        stuck_factor: factor?.value,
        time_constant_s: time?.value,
        relieved: relieved?.value,
    })
}
