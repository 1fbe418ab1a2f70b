//! A case from a few words of a command line.

mod log;
mod measured;
mod mended;
mod printed;
mod seen;

use super::Case;
use crate::family::Nameplate;
use crate::standards::Band;
pub use log::FlagLog;
pub use mended::{AFTER_THE_MEND, since};
pub(super) use printed::near_and_known;
pub use printed::said_apart;

/// What somebody says without a file. All are texts as they were typed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Flags {
    /// Rated current, `13 A`.
    pub rating: String,
    /// Air that the rating is stated for.
    pub reference_air: Option<String>,
    /// Name of published limits.
    pub limits: Option<String>,
    /// Readings of the running current, `11.3 A`.
    pub readings: Vec<String>,
    /// `true RMS`, `average responding` or `unknown`.
    pub meter: Option<String>,
    /// `2 % + 5 digits`.
    pub accuracy: Option<String>,
    /// Air in the room.
    pub room: Option<String>,
    /// Air 10 mm to 20 mm from the part.
    pub air: Option<String>,
    /// Trips: `after 8.3 min`, `after 8.3 min from cold`, `not known`.
    pub trips: Vec<String>,
    /// Times without a trip: `1 h`, `1 h from cold`.
    pub held: Vec<String>,
    /// Rated current of the machine.
    pub machine_rating: Option<String>,
    /// A recorded log.
    pub log: Option<FlagLog>,
    /// Signs of a fault: `smell`.
    pub signs: Vec<String>,
    /// The marking beside the drawing: `agrees` or `differs`.
    pub marking: Option<String>,
    /// What was found at the joints: `no marks`.
    pub joints: Option<String>,
    /// What was mended, and what came of it: `load, then held 2 h`.
    pub mended: Vec<String>,
    /// A start: `50 A for 0.7 s`.
    pub start: Option<String>,
    /// Voltage of the supply: `196 V running of 230 V`.
    pub supply: Option<String>,
    /// Drop across the closed protector: `123 mV at 13.6 A, sister 72 mV`.
    pub drop: Option<String>,
    /// Where a dial stands.
    pub setting: Option<String>,
    /// How many poles.
    pub poles: Option<u32>,
    /// Which one all this is of.
    pub pole: Option<String>,
    /// Type of its instantaneous element: `C`.
    pub instantaneous: Option<Band>,
    /// Whether its poles are compared.
    pub notices_lost_phase: bool,
    /// Phases that the machine runs on.
    pub phases: Option<u32>,
    /// Currents of all three: `14 A, 13.8 A, 0 A`.
    pub phase_currents: Option<String>,
    /// Whether the machine hums without starting.
    pub hums: bool,
    /// How long it is on and off by itself: `on 20 s, off 3 min`.
    pub cycles: Option<String>,
    /// Kind of load: `motor`.
    pub load: Option<String>,
    /// Where the machine's switch stands when it trips.
    pub position: Option<String>,
    /// Both terminals: `58 degC and 31 degC`.
    pub terminals: Option<String>,
}

/// The case of some flags.
///
/// ```
/// use relatch::internals::evidence::{Flags, from_flags};
/// let case = from_flags(&Flags {
///     rating: "13 A".into(),
///     readings: vec!["11.3 A".into()],
///     trips: vec!["after 8.3 min from cold".into()],
///     ..Flags::default()
/// })
/// .unwrap();
/// assert_eq!(case.events.len(), 1);
/// assert_eq!(case.readings[0].current_a.value, 11.3);
/// ```
///
/// # Errors
/// Every problem, one sentence each.
pub fn from_flags(flags: &Flags) -> Result<Case, Vec<String>> {
    from_flags_with_progress(flags, &mut |_, _| {})
}

/// The same; `progress` is told which log is read, and how far (0 to 1).
///
/// # Errors
/// Every problem, one sentence each; those of a log with notes and help on lines of their own.
pub fn from_flags_with_progress(
    flags: &Flags,
    progress: &mut dyn FnMut(&str, f64),
) -> Result<Case, Vec<String>> {
    let mut gathered = Gathered::of(flags);
    // Logs may be long: they wait until the rest is right.
    if let (Some(log), true) = (&flags.log, gathered.problems.is_empty()) {
        match log.read(progress) {
            Ok(found) => gathered.case.takes(found),
            Err(found) => gathered.problems.extend(found),
        }
    }
    let case = &gathered.case;
    let nothing = case.readings.is_empty() && case.events.is_empty() && case.signs.is_empty();
    if nothing && gathered.problems.is_empty() {
        gathered.problems.push(
            "nothing has happened to this protector yet: add --reading \"11.3 A\", --trip \"after \
             8.3 min\", --held \"1 h\" or --log current.csv"
                .into(),
        );
    }
    gathered.sound()
}

/// The same where a log is still to come, so that nothing need have happened yet.
///
/// # Errors
/// Every problem, one sentence each.
pub fn before_a_log(flags: &Flags) -> Result<Case, Vec<String>> {
    Gathered::of(flags).sound()
}

/// A case as far as the flags make one, and every problem of them.
struct Gathered<'f> {
    flags: &'f Flags,
    case: Case,
    problems: Vec<String>,
}

impl<'f> Gathered<'f> {
    fn of(flags: &'f Flags) -> Gathered<'f> {
        let mut gathered = Gathered {
            flags,
            case: Case::of(Nameplate::of_rating(1.0)),
            problems: Vec::new(),
        };
        gathered.case = Case::of(gathered.nameplate());
        gathered.case.title = "Case of the command line".into();
        gathered.readings();
        gathered.airs();
        gathered.events();
        gathered.mended();
        gathered.machine();
        gathered.seen();
        gathered
    }

    fn say(&mut self, flag: &str, text: &str, found: &str) {
        self.problems.push(format!("--{flag} \"{text}\": {found}"));
    }

    /// What a text was read as; what is wrong with it is kept.
    fn taken<T>(&mut self, flag: &str, text: &str, read: Result<T, String>) -> Option<T> {
        read.map_err(|found| self.say(flag, text, &found)).ok()
    }

    /// The same of a flag that may be missing.
    fn asked<T>(
        &mut self,
        flag: &str,
        text: Option<&String>,
        read: impl Fn(&str) -> Result<T, String>,
    ) -> Option<T> {
        let text = text?;
        self.taken(flag, text, read(text))
    }

    fn sound(self) -> Result<Case, Vec<String>> {
        match self.problems.is_empty() {
            true => Ok(self.case),
            false => Err(self.problems),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_problem_is_said_at_once() {
        let problems = from_flags(&Flags {
            rating: "13".into(),
            readings: vec!["11.3 V".into()],
            meter: Some("good".into()),
            accuracy: Some("fine".into()),
            room: Some("400 degC".into()),
            trips: vec!["after 0 s".into(), "soon".into()],
            ..Flags::default()
        })
        .expect_err("problems");
        assert_eq!(problems.len(), 7, "{problems:#?}");
    }

    #[test]
    fn a_rating_alone_is_no_case() {
        let flags = Flags {
            rating: "13 A".into(),
            ..Flags::default()
        };
        assert!(from_flags(&flags).is_err());
    }
}
