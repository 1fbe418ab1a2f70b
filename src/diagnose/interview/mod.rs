//! What is known of a machine, asked for one thing at a time.
//!
//! Every answer becomes a line or two of a case file, and is refused by the reader of such files or
//! not at all. After what everybody can tell, the weighing itself says what to ask: what its plan
//! would look at or measure next.

mod answer;
mod draft;

use super::{Diagnosis, Look, Measurement, Step, Verdict};
use crate::evidence::{Case, Question};
pub use answer::{Lines, is_open};
use draft::Draft;

/// Questions at most, the machine's name not counted.
const MOST: usize = 11;
/// What is asked for when no measurement tells more.
const ELSE: [Question; 7] = [
    Question::Mended,
    Question::Held,
    Question::Plate,
    Question::Air,
    Question::Start,
    Question::Supply,
    Question::Age,
];

/// Questions asked and answers given so far.
#[derive(Debug, Clone, Default)]
pub struct Interview {
    draft: Draft,
    done: Vec<Question>,
    is_metered: bool,
}

impl Interview {
    /// What everybody can tell, one after the other; `None` once it is to be weighed.
    pub fn first(&self) -> Option<Question> {
        let trip = [Question::Trip, Question::Current];
        // A sign says all there is to say.
        let trip = trip.into_iter().filter(|_| !self.has_signs());
        let meter = [Question::Meter].into_iter().filter(|_| self.is_metered);
        let all = [Question::Rating, Question::Signs].into_iter();
        all.chain(trip).chain(meter).find(|q| self.is_new(*q))
    }

    /// What to ask after it was weighed, the first first: what costs nothing, then what would be looked
    /// at or measured next, unless that is asked already; at last the name of the machine.
    pub fn next(&self, diagnosis: &Diagnosis) -> Vec<Question> {
        let planned = diagnosis.plan.iter().filter_map(Step::measured);
        let told = planned.chain(diagnosis.next.iter().map(|n| n.measurement));
        let open = diagnosis.verdict == Verdict::NotEnoughEvidence;
        let free = diagnosis.looks.iter().map(|look| match look {
            Look::Plate => Question::Plate,
            Look::Marking => Question::Marking,
            Look::History => Question::Age,
        });
        let all = free
            .chain(told.map(question_of))
            .chain(ELSE.into_iter().filter(|_| open));
        let mut next = Vec::new();
        for question in all.filter(|q| self.is_new(*q) && !self.has_signs()) {
            if self.done.len() + next.len() < MOST && !next.contains(&question) {
                next.push(question);
            }
        }
        next.extend([Question::Machine].into_iter().filter(|q| self.is_new(*q)));
        next
    }

    /// Takes an answer: the lines of a case file that it makes, none where it is not known.
    ///
    /// # Errors
    /// What was not understood, and how to answer; the question stays open then.
    pub fn take(&mut self, question: Question, said: &str) -> Result<Option<Vec<Lines>>, String> {
        let lines = match is_open(said) {
            true => None,
            false => Some(answer::lines(question, said)?),
        };
        if let Some(lines) = &lines {
            let draft = self.draft.and(lines.clone());
            draft.holds()?;
            self.draft = draft;
            self.is_metered |= question == Question::Current;
        }
        self.done.push(question);
        Ok(lines)
    }

    /// The case file. That it trips is why somebody asks, whenever that may be.
    pub fn text(&self) -> String {
        self.whole().text()
    }

    /// The case.
    ///
    /// # Errors
    /// What cannot be, and what to answer instead.
    pub fn case(&self) -> Result<Case, String> {
        self.whole().case()
    }

    fn whole(&self) -> Draft {
        match self.draft.case() {
            Ok(_) => self.draft.clone(),
            Err(_) => self.draft.and(Draft::of_a_trip()),
        }
    }

    fn has_signs(&self) -> bool {
        self.case().is_ok_and(|case| !case.signs.is_empty())
    }

    fn is_new(&self, question: Question) -> bool {
        !self.done.contains(&question)
    }
}

/// The lines of a case file that an answer alone makes.
///
/// # Errors
/// Why it cannot be an answer.
pub fn lines(question: Question, said: &str) -> Result<String, String> {
    let mut interview = Interview::default();
    if question != Question::Rating {
        interview.take(Question::Rating, "10 A")?;
    }
    interview.take(question, said)?;
    Ok(interview.draft.text())
}

/// The question that a measurement answers.
fn question_of(measurement: Measurement) -> Question {
    match measurement {
        Measurement::ReadThePlate => Question::Plate,
        Measurement::ReadTheMarking => Question::Marking,
        Measurement::LookAtTheJoints => Question::Joints,
        Measurement::TerminalTemperatures => Question::Terminals,
        Measurement::RunningCurrent
        | Measurement::PhaseCurrents
        | Measurement::CurrentUpToTheTrip => Question::Current,
        Measurement::AirAtThePart => Question::Air,
        Measurement::DropBesideASister => Question::Drop,
        Measurement::TimedTrip { .. } => Question::BenchTrip,
        Measurement::HoldTest { .. } => Question::BenchHold,
        Measurement::CaptureOfAStart => Question::Start,
        Measurement::SwapWithATwin => Question::Swap,
    }
}
