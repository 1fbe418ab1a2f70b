//! The first question of everyone who stands before the machine.

use crate::answer::Place;
use crate::predict::Outcome;
use crate::present::cautions::Caution;

/// What this page can say to it, and the most urgent cautions.
pub(super) fn answer<'c>(outcome: &Outcome, cautions: &'c [Caution]) -> Vec<&'c str> {
    let mut list = Vec::new();
    let is_late = cautions.iter().any(|c| c.text.starts_with("LATE"));
    let trips_below_rating = outcome
        .trip_point
        .multiple_of_rated()
        .is_some_and(|m| m < 1.0);
    list.push(if is_late {
        "No."
    } else if trips_below_rating {
        "Nothing here says so. As modelled, this part does not carry its own rating in this air: it will trip \
         although the load is in order."
    } else {
        "Nothing here says so: this page predicts a part as it was described, not the one before you. Find out why \
         it tripped first."
    });
    let top = cautions.iter().filter(|c| c.place == Place::Top);
    list.extend(top.map(|c| c.text.as_str()));
    list
}
