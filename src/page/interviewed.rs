//! The questions of a diagnosis, one at a time, and what it makes of the answers: those of `relatch
//! diagnose` on a terminal. All that was said comes with every request.

use super::PageError;
use crate::diagnose::diagnose;
use crate::diagnose::interview::{Interview, is_open};
use crate::evidence::{Case, Missing, Question};
use crate::present::block::html_part;
use crate::present::{diagnosis_blocks, diagnosis_full_blocks, words, work_order};
use serde::{Deserialize, Serialize};

/// Most answers: there are not so many questions.
const MOST_ANSWERS: usize = 24;
/// What chance is drawn with, as by the command.
const SEED: u64 = 1;

/// All that was asked and said.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Interviewing {
    answers: Vec<Said>,
    /// What is not at hand, in the words of [`Missing::NAMES`].
    #[serde(default)]
    missing: Vec<String>,
}

/// An answer; empty where it is not known.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Said {
    question: Question,
    said: String,
}

/// Where the questions stand.
#[derive(Debug, Default, Serialize)]
pub(super) struct Interviewed {
    /// What was understood of each answer; empty where it is not known.
    noted: Vec<String>,
    /// Why the last answer is none; empty where it is.
    problem: String,
    /// What is asked next, the first first: a further one where an answer is not known. Empty at
    /// the end.
    next: Vec<Asks>,
    /// What is known so far, in a sentence; empty until it is weighed.
    so_far: String,
    /// The verdict, the plan, the evidence, as HTML; empty until it is weighed.
    shown: String,
    /// Everything, as HTML.
    full: String,
    /// The answers as a case file.
    case: String,
    /// The work order, a document that prints.
    order: String,
}

/// A question in words.
#[derive(Debug, Serialize)]
struct Asks {
    question: Question,
    asks: &'static str,
    forms: &'static str,
}

fn asks(question: Question) -> Asks {
    let (asks, forms) = words::question(question);
    Asks {
        question,
        asks,
        forms,
    }
}

/// Takes all answers, and weighs them once what everybody can tell is told.
///
/// # Errors
/// Too many answers, one before the last that is none, or a case that cannot be weighed.
pub(super) fn interviewed(asked: &Interviewing) -> Result<Interviewed, PageError> {
    if asked.answers.len() > MOST_ANSWERS {
        let why = format!("{} answers; {MOST_ANSWERS} are taken", asked.answers.len());
        return Err(PageError::Asked(why));
    }
    let mut interview = Interview::default();
    let mut noted = Vec::new();
    for (k, Said { question, said }) in asked.answers.iter().enumerate() {
        let taken = match question {
            Question::Rating if is_open(said) => Err(words::rating_needed().to_owned()),
            _ => interview.take(*question, said),
        };
        match taken {
            Ok(lines) => noted.push(lines.map_or_else(String::new, |l| words::noted(&l))),
            Err(why) if k + 1 == asked.answers.len() => {
                return Ok(Interviewed {
                    noted,
                    problem: words::not_understood(&why),
                    next: vec![asks(*question)],
                    ..Interviewed::default()
                });
            }
            Err(why) => return Err(PageError::Asked(why)),
        }
    }
    if let Some(question) = interview.first() {
        return Ok(Interviewed {
            noted,
            next: vec![asks(question)],
            ..Interviewed::default()
        });
    }
    let missing = asked.missing.iter().map(|m| Missing::read(m));
    let case = Case {
        missing: missing
            .collect::<Result<_, _>>()
            .map_err(PageError::Asked)?,
        ..interview.case().map_err(PageError::Asked)?
    };
    let diagnosis = diagnose(&case, SEED).map_err(|e| PageError::Impossible(e.to_string()))?;
    Ok(Interviewed {
        noted,
        problem: String::new(),
        next: interview.next(&diagnosis).into_iter().map(asks).collect(),
        so_far: words::so_far(&diagnosis),
        shown: html_part(&diagnosis_blocks(&diagnosis, &case)),
        full: html_part(&diagnosis_full_blocks(&diagnosis, &case)),
        case: interview.text(),
        order: work_order(&diagnosis, &case),
    })
}
