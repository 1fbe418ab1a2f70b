//! What costs nothing: looks and questions that come before anything is measured or mended.

use super::measurement::Measurement;
use crate::evidence::Case;
use serde::{Deserialize, Serialize};

/// A look, or a question, that nobody has to pay for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Look {
    /// The machine's own plate beside the protector's rating.
    Plate,
    /// The protector's marking beside the drawing.
    Marking,
    /// What was changed before it began.
    History,
}

impl Look {
    /// Those that are at hand and were not made yet.
    pub fn open(case: &Case) -> Vec<Look> {
        let at_hand = |measurement: Measurement| measurement.is_at_hand(&case.missing);
        let knows_history =
            case.age_years.is_some() || case.trips_so_far.is_some() || !case.mended.is_empty();
        let all = [
            (
                case.equipment_rated_a.is_none() && at_hand(Measurement::ReadThePlate),
                Look::Plate,
            ),
            (
                case.marking_agrees.is_none() && at_hand(Measurement::ReadTheMarking),
                Look::Marking,
            ),
            (!knows_history, Look::History),
        ];
        let open = all.into_iter().filter(|(is_open, _)| *is_open);
        open.map(|(_, look)| look).collect()
    }

    /// Whether it shows what a measurement of a plan would.
    pub fn shows(self, measurement: Measurement) -> bool {
        match self {
            Look::Plate => measurement == Measurement::ReadThePlate,
            Look::Marking => measurement == Measurement::ReadTheMarking,
            Look::History => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::Missing;
    use crate::family::Nameplate;

    #[test]
    fn what_is_known_or_not_at_hand_is_not_looked_at() {
        let mut case = Case::of(Nameplate::of_rating(10.0));
        let open = Look::open(&case);
        assert_eq!(open, [Look::Plate, Look::Marking, Look::History]);
        case.equipment_rated_a = Some(9.0);
        case.age_years = Some(4.0);
        assert_eq!(Look::open(&case), [Look::Marking]);
        case.missing = vec![Missing::Drawing];
        assert_eq!(Look::open(&case), []);
    }
}
