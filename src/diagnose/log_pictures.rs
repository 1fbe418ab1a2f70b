//! The strip of sound parts through every log of a case.

use super::through_log;
use super::through_record::LogPicture;
use crate::evidence::{AirPlace, Case, LogFindings};
use crate::family::{Family, FamilyError};

/// Designs of the family.
const DESIGNS: usize = 32;

/// The strip through one log.
#[derive(Debug, Clone, PartialEq)]
pub struct LogPictures {
    /// With the current as it is recorded: the least heat there can have been, where the log holds
    /// averages.
    pub recorded: LogPicture,
    /// With the most heat that averages with their least and largest values allow.
    pub most: Option<LogPicture>,
}

/// Carries every recorded log of a case through sound parts of its nameplate, in the order of the
/// logs. They were cold when a log began, and stand in the air measured for the log, else at the
/// part, else in the room, else in that of the rating.
///
/// # Errors
/// No protector of the family keeps the published limits of the case.
pub fn log_pictures(case: &Case) -> Result<Vec<LogPictures>, FamilyError> {
    if case.logs.is_empty() {
        return Ok(Vec::new());
    }
    let family = Family::new(&case.nameplate, DESIGNS)?;
    let through = |log: &LogFindings| {
        let air_k = air_k(case, log);
        let of = |course| through_log(&family, course, air_k);
        LogPictures {
            recorded: of(&log.course.condensed),
            most: log.course.most.as_ref().map(of),
        }
    };
    Ok(case.logs.iter().map(through).collect())
}

/// Air at the part during a log, K.
fn air_k(case: &Case, log: &LogFindings) -> f64 {
    let own = case
        .events
        .iter()
        .filter(|e| e.label.starts_with(&log.file))
        .find_map(|e| e.air_k);
    let at = |place: AirPlace| {
        let air = case.air.iter().find(|a| a.place == place);
        air.map(|a| a.temperature_k)
    };
    own.or_else(|| at(AirPlace::AtThePart))
        .or_else(|| at(AirPlace::InTheRoom))
        .or_else(|| at(AirPlace::NotSaid))
        .map_or(case.nameplate.reference_ambient_k, |t| t.value)
}
