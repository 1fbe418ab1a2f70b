//! `relatch diagnose` without a case: what is known is asked for on a terminal, one thing at a
//! time.
//!
//! Every answer becomes a line or two of a case file, and is refused by the reader of such files or
//! not at all. After what everybody can tell, the weighing itself says what to ask: what its plan
//! would look at or measure next.

mod answer;
mod draft;
mod terminal;

use super::{Failure, one_file};
use crate::diagnose::{Diagnosis, Measurement, Step, Verdict};
use crate::evidence::{Case, Question};
use crate::present::words;
use draft::Draft;
use std::path::Path;
pub use terminal::{Terminal, is_attended};

/// Questions at most, the machine's name not counted.
const MOST: usize = 11;
/// What is asked for when no measurement tells more.
const ELSE: [Question; 6] = [
    Question::Held,
    Question::Plate,
    Question::Air,
    Question::Start,
    Question::Supply,
    Question::Age,
];

/// Where questions are asked and answered.
pub trait Talk {
    /// Shows a text.
    ///
    /// # Errors
    /// Nobody is there to read it.
    fn say(&mut self, text: &str) -> Result<(), Failure>;
    /// The next answer; `None` when there are no more.
    ///
    /// # Errors
    /// It cannot be read.
    fn answer(&mut self) -> Result<Option<String>, Failure>;
}

/// What came of the questions.
#[derive(Debug)]
pub struct Told {
    /// The case file.
    pub text: String,
    /// The case.
    pub case: Case,
    /// What is wrong with it.
    pub diagnosis: Diagnosis,
}

type Weigh<'a> = &'a mut dyn FnMut(&Case) -> Result<Diagnosis, Failure>;

/// Asks until nothing more would help, or until nobody answers any more.
///
/// # Errors
/// Without a rating there is nothing to weigh.
pub fn ask(talk: &mut dyn Talk, weigh: Weigh<'_>) -> Result<Told, Failure> {
    talk.say(words::ASK_HEAD)?;
    let mut asked = Asked {
        talk,
        draft: Draft::default(),
        done: Vec::new(),
        is_over: false,
    };
    if !asked.put(Question::Rating)? {
        return Err(Failure::Input(format!("error: {}", words::NO_RATING)));
    }
    asked.put(Question::Signs)?;
    // A sign says all there is to say.
    let has_signs = !asked.case()?.signs.is_empty();
    if !has_signs {
        asked.put(Question::Trip)?;
        if asked.put(Question::Current)? {
            asked.put(Question::Meter)?;
        }
    }
    let mut diagnosis = asked.weighed(weigh)?;
    while !has_signs && asked.done.len() < MOST && !asked.is_over {
        let Some(question) = asked.next(&diagnosis) else {
            break;
        };
        if asked.put(question)? {
            diagnosis = asked.weighed(weigh)?;
        }
    }
    if asked.put(Question::Machine)? {
        diagnosis.equipment = asked.case()?.equipment;
        diagnosis.case.clone_from(&diagnosis.equipment);
    }
    Ok(Told {
        text: asked.whole().text(),
        case: asked.case()?,
        diagnosis,
    })
}

/// Offers to keep the answers as a case file; nothing is written over.
///
/// # Errors
/// The file cannot be written.
pub fn keep(talk: &mut dyn Talk, text: &str) -> Result<(), Failure> {
    talk.say(words::KEEP)?;
    while let Some(name) = talk.answer()? {
        let name = name.trim();
        if answer::is_open(name) || name == "no" {
            break;
        }
        let path = Path::new(name).with_extension("toml");
        match one_file::write(&path, text, false) {
            Ok(()) => return talk.say(&words::kept(&path.display().to_string())),
            Err(Failure::Input(why) | Failure::Failed(why)) => talk.say(&format!("{why}\n> "))?,
            Err(other) => return Err(other),
        }
    }
    Ok(())
}

/// The lines of a case file that an answer alone makes.
///
/// # Errors
/// Why it cannot be an answer.
pub fn lines(question: Question, said: &str) -> Result<String, String> {
    let rating = vec![("[protector]", vec![("rating", "10 A".into())])];
    let lines = answer::lines(question, said)?;
    let rated = match question {
        Question::Rating => Draft::default(),
        _ => Draft::default().and(rating),
    };
    let draft = rated.and(lines);
    draft.holds().map(|()| draft.text())
}

struct Asked<'t> {
    talk: &'t mut dyn Talk,
    draft: Draft,
    done: Vec<Question>,
    is_over: bool,
}

impl Asked<'_> {
    /// Asks until the answer is understood; whether there was one.
    fn put(&mut self, question: Question) -> Result<bool, Failure> {
        self.done.push(question);
        let (asks, forms) = words::question(question);
        let mut prompt = format!("\n{asks}\n  ({forms}; Enter: don't know)\n> ");
        while !self.is_over {
            self.talk.say(&prompt)?;
            let Some(said) = self.talk.answer()? else {
                self.is_over = true;
                break;
            };
            if answer::is_open(&said) {
                break;
            }
            let tried = answer::lines(question, &said).and_then(|lines| {
                let noted = noted(&lines);
                let draft = self.draft.and(lines);
                draft.holds().map(|()| (draft, noted))
            });
            match tried {
                Ok((draft, noted)) => {
                    self.draft = draft;
                    self.talk.say(&noted)?;
                    return Ok(true);
                }
                Err(why) => prompt = format!("  Not understood: {why}.\n> "),
            }
        }
        Ok(false)
    }

    /// What is known so far. That it trips is why somebody asks, whenever that may be.
    fn whole(&self) -> Draft {
        let trip = vec![("[[trip]]", vec![("after", "not known".into())])];
        match self.draft.case() {
            Ok(_) => self.draft.clone(),
            Err(_) => self.draft.and(trip),
        }
    }

    fn case(&self) -> Result<Case, Failure> {
        self.whole().case().map_err(Failure::Input)
    }

    fn weighed(&mut self, weigh: Weigh<'_>) -> Result<Diagnosis, Failure> {
        let case = self.case()?;
        let diagnosis = weigh(&case)?;
        self.talk.say(&words::so_far(&diagnosis))?;
        Ok(diagnosis)
    }

    /// What to ask next: what would be looked at or measured next, unless that is asked already.
    fn next(&self, diagnosis: &Diagnosis) -> Option<Question> {
        let planned = diagnosis.plan.iter().filter_map(Step::measured);
        let told = planned.chain(diagnosis.next.iter().map(|n| n.measurement));
        let open = diagnosis.verdict == Verdict::NotEnoughEvidence;
        told.map(question_of)
            .chain(ELSE.into_iter().filter(|_| open))
            .find(|q| !self.done.contains(q))
    }
}

/// The question that a measurement answers.
fn question_of(measurement: Measurement) -> Question {
    match measurement {
        Measurement::ReadThePlate => Question::Plate,
        Measurement::ReadTheMarking => Question::Marking,
        Measurement::LookAtTheJoints | Measurement::TerminalTemperatures => Question::Terminals,
        Measurement::RunningCurrent | Measurement::CurrentUpToTheTrip => Question::Current,
        Measurement::AirAtThePart => Question::Air,
        Measurement::DropBesideASister => Question::Drop,
        Measurement::TimedTrip { .. } => Question::BenchTrip,
        Measurement::HoldTest { .. } => Question::BenchHold,
        Measurement::CaptureOfAStart => Question::Start,
        Measurement::SwapWithATwin => Question::Swap,
    }
}

/// What was understood.
fn noted(lines: &[answer::Lines]) -> String {
    let keys = lines.iter().flat_map(|(_, keys)| keys);
    let told = keys.map(|(key, value)| {
        let said = value
            .as_str()
            .map_or_else(|| value.to_string(), str::to_owned);
        format!("{}: {said}", key.replace('_', " "))
    });
    let told: Vec<String> = told.collect();
    match told.is_empty() {
        true => "  Noted.\n".to_owned(),
        false => format!("  Noted: {}.\n", told.join("; ")),
    }
}
