//! The cautions of a diagnosis in the fewest words, for a screen that must be read in seconds. Each stands where the
//! long one stands.

use super::cautions::{Caution, diagnosis_cautions};
use crate::answer::Place;
use crate::diagnose::Diagnosis;

const ENERGISING: &str = "Find the cause first: at work, repeated reclosing by hand is prohibited (OSHA \
    1910.334(b)(2), NFPA 70E). Smell, soot, an instant trip when cold, a trip with no load: do not reset.";
const STARTS_BY_ITSELF: &str =
    "The machine may start by itself after cooling or when power returns: switch off, lock.";
const NEVER_DEFEAT: &str =
    "Never hold, tape or bridge the reset button. A motor winding may cool far slower.";
const LIVE: &str = "Live measuring: qualified people, fitting meter. Isolate, lock, prove dead, cool before touching.";
const FORCED_TRIP: &str =
    "Force a trip only with the part removed, at low voltage, for a limited time: parts get hot.";
const END: &str =
    "Never raise the rating to stop the tripping. Estimates: maker's curve, local rules prevail.";

/// The cautions in brief, each at its place, most urgent first. Cautions that whoever filled the record has added are
/// kept in full.
pub(super) fn brief_cautions(diagnosis: &Diagnosis) -> Vec<Caution> {
    let brief = [
        (Place::Top, ENERGISING),
        (Place::BeforeWaits, STARTS_BY_ITSELF),
        (Place::BesideWaits, NEVER_DEFEAT),
        (Place::Measuring, LIVE),
        (Place::Testing, FORCED_TRIP),
        (Place::End, END),
    ];
    let mut list: Vec<Caution> = brief
        .map(|(place, text)| Caution {
            place,
            text: text.to_owned(),
        })
        .into();
    let bare = Diagnosis {
        cautions: Vec::new(),
        ..diagnosis.clone()
    };
    let usual = diagnosis_cautions(&bare);
    let added = diagnosis_cautions(diagnosis)
        .into_iter()
        .filter(|c| !usual.contains(c));
    list.extend(added);
    list
}
