//! What was asked for: how many units, from which seed, by which design.

use super::VaryError;
use serde::{Deserialize, Serialize};
use std::fmt;

/// How the inputs of the units are chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Design {
    /// A scrambled Sobol sequence; most even at powers of two.
    Sobol,
    /// A Latin hypercube; even at any number.
    Latin,
    /// Independent draws, one stream a unit.
    Random,
}

impl fmt::Display for Design {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Design::Sobol => "sobol",
            Design::Latin => "latin",
            Design::Random => "random",
        })
    }
}

/// One of several parts of a run, counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Shard {
    /// Which, 1 to `of`.
    pub part: u32,
    /// Of how many.
    pub of: u32,
}

/// What was asked for. Runs with the same settings and the same scenario are the same run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Settings {
    /// Layout of the folder.
    pub format: u32,
    /// Version of the program.
    pub version: String,
    /// Number of units.
    pub units: u64,
    /// Start of every random number.
    pub seed: u64,
    /// How inputs are chosen.
    pub design: Design,
    /// Rows of the sensitivity analysis.
    pub sensitivity_rows: u64,
    /// Whether every unit stands in a table.
    pub table: bool,
    /// Whether polynomials answer for units where they hold.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub surrogate: bool,
    /// This part of it; `None`: all.
    pub shard: Option<Shard>,
}

/// Layout of the folder of a run: from 2 on every piece holds its checksum.
const FORMAT: u32 = 2;
/// Most units of one run.
pub const MOST_UNITS: u64 = 1_000_000_000;
/// Most rows of the sensitivity analysis.
const MOST_ROWS: u64 = 1 << 20;
/// Units of a chunk: few enough to lose little, many enough to cost little.
const LARGEST_CHUNK: u64 = 16_384;
const SMALLEST_CHUNK: u64 = 256;
/// A small run has about so many chunks.
const CHUNKS: u64 = 64;

impl Settings {
    /// Settings of this version of the program, checked.
    ///
    /// # Errors
    /// An empty or too large population, or a shard that does not exist.
    pub fn new(
        units: u64,
        seed: u64,
        design: Design,
        sensitivity_rows: u64,
        table: bool,
        shard: Option<Shard>,
    ) -> Result<Settings, VaryError> {
        let wrong = |option, what: String| Err(VaryError::Option { option, what });
        if units < 2 {
            return wrong(
                "units",
                format!(
                    "a population of {units} has no scatter: ask for at least 2 units, some \
                     thousand for rates"
                ),
            );
        }
        if units > MOST_UNITS {
            return wrong("units", format!("{units} units are more than {MOST_UNITS}"));
        }
        if sensitivity_rows == 1 || sensitivity_rows > MOST_ROWS {
            return wrong(
                "sensitivity_rows",
                format!(
                    "{sensitivity_rows} rows for the sensitivity: 0 leaves it out, otherwise 2 to {MOST_ROWS}"
                ),
            );
        }
        if let Some(Shard { part, of }) = shard
            && !(1..=of).contains(&part)
        {
            return wrong(
                "shard",
                format!("there is no shard {part} of {of}: shards are counted from 1, as in 3/16"),
            );
        }
        Ok(Settings {
            format: FORMAT,
            version: env!("CARGO_PKG_VERSION").to_owned(),
            units,
            seed,
            design,
            sensitivity_rows,
            table,
            surrogate: false,
            shard,
        })
    }

    /// The same with polynomials for units where they hold.
    #[must_use]
    pub fn by_surrogate(self, surrogate: bool) -> Settings {
        Settings { surrogate, ..self }
    }

    /// Units of a chunk, a multiple of every register's lanes; the same for every shard.
    pub fn chunk_units(&self) -> u64 {
        self.units
            .div_ceil(CHUNKS)
            .next_multiple_of(SMALLEST_CHUNK)
            .clamp(SMALLEST_CHUNK, LARGEST_CHUNK)
    }

    /// Number of chunks of the whole run.
    pub fn chunks(&self) -> u64 {
        self.units.div_ceil(self.chunk_units())
    }

    /// Chunks of this shard, in order.
    pub fn own_chunks(&self) -> Vec<u64> {
        let all = 0..self.chunks();
        match self.shard {
            None => all.collect(),
            Some(Shard { part, of }) => all.skip(part as usize - 1).step_by(of as usize).collect(),
        }
    }

    /// Units of a chunk, by number.
    pub fn units_of(&self, chunk: u64) -> std::ops::Range<u64> {
        let size = self.chunk_units();
        (chunk * size).min(self.units)..((chunk + 1) * size).min(self.units)
    }

    /// Rows of the sensitivity analysis that a chunk computes.
    pub fn rows_of(&self, chunk: u64) -> std::ops::Range<u64> {
        let (chunks, rows) = (self.chunks(), self.sensitivity_rows);
        chunk * rows / chunks..(chunk + 1) * rows / chunks
    }

    /// The first difference to another run, in words; shards may differ.
    pub fn difference(&self, other: &Settings) -> Option<String> {
        let pairs = [
            ("layout", self.format.to_string(), other.format.to_string()),
            ("version", self.version.clone(), other.version.clone()),
            (
                "number of units",
                self.units.to_string(),
                other.units.to_string(),
            ),
            ("seed", self.seed.to_string(), other.seed.to_string()),
            ("design", self.design.to_string(), other.design.to_string()),
            (
                "number of rows for the sensitivity",
                self.sensitivity_rows.to_string(),
                other.sensitivity_rows.to_string(),
            ),
            (
                "table of units",
                self.table.to_string(),
                other.table.to_string(),
            ),
            (
                "polynomials in the engine's place",
                self.surrogate.to_string(),
                other.surrogate.to_string(),
            ),
        ];
        pairs
            .into_iter()
            .find(|(_, a, b)| a != b)
            .map(|(what, a, b)| format!("the {what} differs, {a} here and {b} there"))
    }
}
