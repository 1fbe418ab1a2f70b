//! `relatch diagnose` without a case: what is known is asked for on a terminal, one thing at a
//! time, by an [`Interview`].

mod terminal;

use super::{Failure, one_file};
use crate::diagnose::Diagnosis;
use crate::diagnose::interview::{Interview, is_open};
use crate::evidence::{Case, Question};
use crate::present::words;
use std::path::Path;
pub use terminal::{Terminal, is_attended};

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
    talk.say(words::ask_head())?;
    let mut asked = Asked {
        talk,
        interview: Interview::default(),
        is_over: false,
    };
    if !asked.put(Question::Rating)? {
        return Err(Failure::Input(format!("error: {}", words::no_rating())));
    }
    while let Some(question) = asked.interview.first().filter(|_| !asked.is_over) {
        asked.put(question)?;
    }
    let mut diagnosis = asked.weighed(weigh)?;
    while let Some(question) = asked.next(&diagnosis) {
        if !asked.put(question)? {
            continue;
        }
        if question == Question::Machine {
            diagnosis.equipment = asked.case()?.equipment;
            diagnosis.case.clone_from(&diagnosis.equipment);
        } else {
            diagnosis = asked.weighed(weigh)?;
        }
    }
    Ok(Told {
        text: asked.interview.text(),
        case: asked.case()?,
        diagnosis,
    })
}

/// Offers to keep the answers as a case file; nothing is written over.
///
/// # Errors
/// The file cannot be written.
pub fn keep(talk: &mut dyn Talk, text: &str) -> Result<(), Failure> {
    talk.say(words::keep())?;
    while let Some(name) = talk.answer()? {
        let name = name.trim();
        if is_open(name) || name == "no" {
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

struct Asked<'t> {
    talk: &'t mut dyn Talk,
    interview: Interview,
    is_over: bool,
}

impl Asked<'_> {
    /// Asks until the answer is understood; whether there was one.
    fn put(&mut self, question: Question) -> Result<bool, Failure> {
        let (asks, forms) = words::question(question);
        let mut prompt = format!("\n{asks}\n  ({forms}; Enter: don't know)\n> ");
        loop {
            self.talk.say(&prompt)?;
            let Some(said) = self.talk.answer()? else {
                self.is_over = true;
                return Ok(false);
            };
            match self.interview.take(question, &said) {
                Ok(lines) => {
                    if let Some(lines) = &lines {
                        self.talk.say(&format!("  {}\n", words::noted(lines)))?;
                    }
                    return Ok(lines.is_some());
                }
                Err(why) => prompt = format!("  {}\n> ", words::not_understood(&why)),
            }
        }
    }

    fn next(&self, diagnosis: &Diagnosis) -> Option<Question> {
        let next = self.interview.next(diagnosis);
        next.first().copied().filter(|_| !self.is_over)
    }

    fn case(&self) -> Result<Case, Failure> {
        self.interview.case().map_err(Failure::Input)
    }

    fn weighed(&mut self, weigh: Weigh<'_>) -> Result<Diagnosis, Failure> {
        let case = self.case()?;
        let diagnosis = weigh(&case)?;
        self.talk
            .say(&format!("\n{}\n", words::so_far(&diagnosis)))?;
        Ok(diagnosis)
    }
}
