//! Constants drawn from the tolerances written beside them.

use super::constants::Constants;
use super::error::AgeError;
use super::outcome;
use crate::quantity::Dimension;
use crate::scenario::Scenario;
use crate::scenario::ageing::Relaxation;
use crate::statistics::latin_hypercube::LatinHypercube;
use crate::statistics::marginal::Marginal;

/// What a drawn number stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Part {
    Coefficient,
    Exponent,
    TimeConstant,
    Activation,
    MillerConstant,
    MillerStart,
    FirstLoading,
    LossPerTrip,
    Film,
    Stuck,
    FrictionTime,
    Relieved,
    Current(usize),
}

/// A constant that carries a tolerance.
struct Drawn {
    part: Part,
    path: String,
    value: f64,
    uncertainty: f64,
    marginal: Marginal,
    dimension: Dimension,
}

/// All constants that carry a tolerance.
pub struct Draws {
    drawn: Vec<Drawn>,
    /// Tolerances of `[ageing]` and `[duty]` that are not drawn.
    pub left_out: Vec<String>,
}

impl Draws {
    /// From the tolerances of a scenario.
    ///
    /// # Errors
    /// A tolerance that no distribution has.
    pub fn of(scenario: &Scenario) -> Result<Draws, AgeError> {
        let shifts = scenario
            .ageing
            .as_ref()
            .map_or(&[][..], |a| &a.duty.shifts[..]);
        let mut draws = Draws {
            drawn: Vec::new(),
            left_out: Vec::new(),
        };
        for t in &scenario.tolerances {
            if !(t.path.starts_with("ageing.") || t.path.starts_with("duty.")) {
                continue;
            }
            if !(t.standard_uncertainty > 0.0) {
                continue;
            }
            let (value, u) = (t.value, t.standard_uncertainty);
            let Some((part, dimension)) = part(&t.path) else {
                draws.left_out.push(t.path.clone());
                continue;
            };
            let marginal = match part {
                // Positive quantities whose uncertainty is a factor.
                Part::Coefficient
                | Part::TimeConstant
                | Part::LossPerTrip
                | Part::Film
                | Part::FrictionTime
                    if value > 0.0 =>
                {
                    Marginal::lognormal_of_mean(value, u)?
                }
                Part::Exponent => Marginal::truncated(value, u, 1e-3, 1.0)?,
                Part::FirstLoading => Marginal::truncated(value, u, 0.0, 0.94)?,
                Part::Relieved => Marginal::truncated(value, u, 0.0, 1.0)?,
                Part::Stuck => Marginal::truncated(value, u, 1.0, f64::MAX)?,
                Part::Current(shift) => {
                    // As a factor on the current of the shift.
                    let current = shifts.get(shift).map_or(0.0, |s| s.current_a);
                    if current <= 0.0 {
                        continue;
                    }
                    Marginal::normal(1.0, u / value)?
                }
                _ => Marginal::truncated(value, u, 0.0, f64::MAX)?,
            };
            draws.drawn.push(Drawn {
                part,
                path: t.path.clone(),
                value,
                uncertainty: u,
                marginal,
                dimension,
            });
        }
        Ok(draws)
    }

    /// Whether there is nothing to draw.
    pub fn is_empty(&self) -> bool {
        self.drawn.is_empty()
    }

    /// What is drawn.
    pub fn record(&self) -> Vec<outcome::Drawn> {
        let drawn = self.drawn.iter();
        drawn
            .map(|d| outcome::Drawn {
                path: d.path.clone(),
                value: d.value,
                standard_uncertainty: d.uncertainty,
                dimension: d.dimension,
            })
            .collect()
    }

    /// How each is spread, in order.
    pub fn marginals(&self) -> impl Iterator<Item = &Marginal> {
        self.drawn.iter().map(|d| &d.marginal)
    }

    /// Constants at standard normal scores, one each.
    pub fn at_scores(&self, nominal: &Constants, scores: &[f64]) -> Constants {
        let mut c = nominal.clone();
        for (d, score) in self.drawn.iter().zip(scores) {
            set(&mut c, d, d.marginal.from_score(*score).unwrap_or(d.value));
        }
        c
    }

    /// Half width of the factors on each shift's current that draws may need.
    pub fn spread(&self, shifts: usize) -> Vec<f64> {
        let mut spread = vec![0.003; shifts];
        for d in &self.drawn {
            if let Part::Current(k) = d.part
                && let Some(s) = spread.get_mut(k)
            {
                *s = (5.0 * d.uncertainty / d.value).clamp(0.003, 0.9);
            }
        }
        spread
    }

    /// The plan of so many units.
    ///
    /// # Errors
    /// No units.
    pub fn plan(&self, units: u64, seed: u64) -> Result<LatinHypercube, AgeError> {
        Ok(LatinHypercube::new(units, self.drawn.len() as u32, seed)?)
    }

    /// Constants of a unit.
    ///
    /// # Errors
    /// Never for a plan of these draws.
    pub fn unit(
        &self,
        nominal: &Constants,
        plan: &LatinHypercube,
        unit: u64,
    ) -> Result<Constants, AgeError> {
        let mut c = nominal.clone();
        for (k, d) in self.drawn.iter().enumerate() {
            let v = d.marginal.quantile(plan.coordinate(unit, k as u32))?;
            set(&mut c, d, v);
        }
        Ok(c)
    }
}

fn set(c: &mut Constants, d: &Drawn, v: f64) {
    match d.part {
        Part::FirstLoading => {
            c.start_loss += v - d.value;
            if c.contact_ages {
                c.start_contact_loss += v - d.value;
            }
        }
        Part::LossPerTrip => c.loss_per_trip = v,
        Part::Film => c.film_per_operation_ohm = v,
        Part::Current(shift) => {
            if let Some(f) = c.current_factors.get_mut(shift) {
                *f = v.max(0.0);
            }
        }
        Part::Stuck | Part::FrictionTime | Part::Relieved => {
            if let Some(f) = &mut c.friction {
                match d.part {
                    Part::Stuck => f.stuck_factor = v,
                    Part::FrictionTime => f.time_constant_s = v,
                    _ => f.relieved = v,
                }
            }
        }
        _ => set_law(&mut c.relaxation, d.part, v),
    }
}

fn set_law(law: &mut Relaxation, part: Part, v: f64) {
    match law {
        Relaxation::Logarithmic { coefficient, scale } => match part {
            Part::Coefficient => *coefficient = v,
            Part::TimeConstant => scale.time_constant_s = v,
            Part::Activation => scale.activation_j_per_mol = v,
            _ => {}
        },
        Relaxation::Power {
            coefficient,
            exponent,
            scale,
        } => match part {
            Part::Coefficient => *coefficient = v,
            Part::Exponent => *exponent = v,
            Part::TimeConstant => scale.time_constant_s = v,
            Part::Activation => scale.activation_j_per_mol = v,
            _ => {}
        },
        Relaxation::LarsonMiller {
            constant,
            start_k,
            loss_per_k,
        } => match part {
            Part::Coefficient => *loss_per_k = v,
            Part::MillerConstant => *constant = v,
            Part::MillerStart => *start_k = v,
            _ => {}
        },
    }
}

/// What a path stands for.
fn part(path: &str) -> Option<(Part, Dimension)> {
    use Dimension as D;
    let found = match path {
        "ageing.relaxation.coefficient" => (Part::Coefficient, D::Fraction),
        "ageing.relaxation.loss_per_kelvin" => (Part::Coefficient, D::PerKelvin),
        "ageing.relaxation.exponent" => (Part::Exponent, D::Fraction),
        "ageing.relaxation.time_constant" => (Part::TimeConstant, D::Time),
        "ageing.relaxation.activation_energy" => (Part::Activation, D::MolarEnergy),
        "ageing.relaxation.constant" => (Part::MillerConstant, D::Fraction),
        "ageing.relaxation.start" => (Part::MillerStart, D::TemperatureDifference),
        "ageing.first_loading_loss" => (Part::FirstLoading, D::Fraction),
        "ageing.loss_per_trip" => (Part::LossPerTrip, D::Fraction),
        "ageing.film_per_operation" => (Part::Film, D::Resistance),
        "ageing.friction.stuck_factor" => (Part::Stuck, D::Fraction),
        "ageing.friction.time_constant" => (Part::FrictionTime, D::Time),
        "ageing.friction.relieved" => (Part::Relieved, D::Fraction),
        _ => {
            let rest = path.strip_prefix("duty.shift[")?;
            let (number, key) = rest.split_once("].")?;
            let dimension = match key {
                "current" => D::Current,
                "times_rated" => D::Fraction,
                _ => return None,
            };
            (Part::Current(number.parse().ok()?), dimension)
        }
    };
    Some(found)
}
