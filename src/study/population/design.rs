//! The points of a design: the inputs of a unit as uniform numbers, by unit number alone.

use super::Settings;
use super::settings::Design;
use crate::statistics::StatisticsError;
use crate::statistics::latin_hypercube::LatinHypercube;
use crate::statistics::sobol::SobolSequence;
use crate::statistics::stream::{Purpose, Stream};

/// Offset of the seed for the rows of the sensitivity analysis, so that they are no units of the
/// population.
const ROWS_SEED: u64 = 0x5e25_17e1_7f0a_9d3b;

/// Points of the population.
#[derive(Debug, Clone)]
pub enum Points {
    /// Scrambled Sobol sequence.
    Sobol(SobolSequence),
    /// Latin hypercube.
    Latin(LatinHypercube),
    /// One stream a unit.
    Random(u64),
}

impl Points {
    /// Points in so many dimensions.
    ///
    /// # Errors
    /// More dimensions than the design has.
    pub fn new(settings: &Settings, dimensions: usize) -> Result<Points, StatisticsError> {
        Ok(match settings.design {
            Design::Sobol => Points::Sobol(SobolSequence::scrambled(dimensions, settings.seed)?),
            Design::Latin => Points::Latin(LatinHypercube::new(
                settings.units,
                dimensions as u32,
                settings.seed,
            )?),
            Design::Random => Points::Random(settings.seed),
        })
    }

    /// Coordinate of a unit, strictly between 0 and 1.
    pub fn coordinate(&self, unit: u64, dimension: usize) -> f64 {
        match self {
            Points::Sobol(s) => s.coordinate(unit, dimension),
            Points::Latin(l) => l.coordinate(unit, dimension as u32),
            Points::Random(seed) => {
                Stream::new(*seed, Purpose::UNIT_INPUTS, unit).uniform(dimension as u32)
            }
        }
    }
}

/// Pairs of points for the sensitivity analysis: twice as many dimensions as inputs.
///
/// # Errors
/// More dimensions than the sequence has.
pub fn row_points(settings: &Settings, inputs: usize) -> Result<SobolSequence, StatisticsError> {
    SobolSequence::scrambled(2 * inputs, settings.seed ^ ROWS_SEED)
}
