//! Median and 90 % range of numbers.

use crate::statistics::weighted::Weighted;
use serde::{Deserialize, Serialize};

/// Median and 90 % range over the parts in question.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Spread {
    /// One in twenty lies below.
    pub low: f64,
    /// Half lie below.
    pub median: f64,
    /// One in twenty lies above.
    pub high: f64,
}

impl Spread {
    /// Of numbers with weights; `None` of nothing.
    pub(crate) fn of(all: &Weighted) -> Option<Spread> {
        (!all.is_empty()).then(|| Spread {
            low: all.at(0.05),
            median: all.at(0.5),
            high: all.at(0.95),
        })
    }

    /// The same with the shortest interval that holds 90 %: of a number that is often at an end of
    /// what is possible, as a preload that is not lost, no end is left out.
    pub(crate) fn shortest(all: &Weighted) -> Option<Spread> {
        let (low, high) = all.shortest(0.9)?;
        Some(Spread {
            low,
            median: all.at(0.5),
            high,
        })
    }
}

/// Median and 90 % range; `None` of nothing.
pub(crate) fn spread(mut values: Vec<f64>) -> Option<Spread> {
    values.sort_by(f64::total_cmp);
    let at = |share: f64| {
        values
            .get(((share * values.len() as f64) as usize).min(values.len().saturating_sub(1)))
            .copied()
    };
    Some(Spread {
        low: at(0.05)?,
        median: at(0.5)?,
        high: at(0.95)?,
    })
}
