//! How long to wait, from what is printed on a protector: the answer of `relatch wait`, and what is
//! counted down to.

use super::PageError;
use crate::family::{Nameplate, Said, Sits, Timed, Told, wait};
use crate::present::block::html_part;
use crate::present::{wait_full_blocks, words};
use crate::quantity::read_loosely;
use crate::scenario::MOST_POLES;
use crate::standards::Band;
use serde::{Deserialize, Serialize};

/// What is said of a wait, as it would be on the command line; what is empty is not known.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub(super) struct WaitAsked {
    rating: String,
    load: String,
    air: String,
    start: String,
    sits: Option<Sits>,
    instantaneous: Option<Band>,
    poles: Option<u32>,
    phases: Option<u32>,
    notices_lost_phase: bool,
    resets_itself: bool,
    tripped: String,
    held: String,
    refused: String,
}

/// The answer.
#[derive(Debug, Serialize)]
pub(super) struct Waited {
    /// As HTML.
    shown: String,
    /// Moments that are counted down to, in order.
    moments: Vec<Moment>,
    /// Why there are none; empty where there are.
    no_count: String,
}

/// A moment that is waited for.
#[derive(Debug, Serialize)]
struct Moment {
    /// From open contacts, s.
    after_s: f64,
    /// What holds then.
    until: &'static str,
    /// What is said then.
    now: String,
}

const SAID: Said = Said(read_loosely);

/// Answers.
///
/// # Errors
/// What was not understood, or why such parts give no answer.
pub(super) fn waited(asked: &WaitAsked) -> Result<Waited, PageError> {
    let rating = known("rated current", &asked.rating, |t| SAID.current(t))?.ok_or_else(|| {
        PageError::Asked(word!("the rated current is needed, for example 10 A").into())
    })?;
    let few = |name: &str, most: u32, number: Option<u32>| match number {
        Some(n) if !(1..=most).contains(&n) => {
            Err(PageError::Asked(format!("{name}: 1 to {most}")))
        }
        number => Ok(number),
    };
    let (poles, phases) = (
        few("poles", MOST_POLES as u32, asked.poles)?,
        few("phases", 3, asked.phases)?,
    );
    let mut nameplate =
        Nameplate::of_rating(rating).with_poles(poles, phases, asked.notices_lost_phase);
    nameplate.instantaneous = asked.instantaneous;
    nameplate.resets_itself = asked.resets_itself;
    let told = Told {
        nameplate,
        load_a: known("load", &asked.load, |t| SAID.current(t))?,
        ambient_k: known("air", &asked.air, |t| SAID.temperature(t))?,
        start: known("start", &asked.start, |t| SAID.start(t))?,
        sits: asked.sits,
        timed: Timed {
            trip: known("timed trip", &asked.tripped, |t| SAID.trip(t))?,
            held_s: known("reset that held", &asked.held, |t| SAID.after(t))?
                .into_iter()
                .collect(),
            refused_s: known("reset too early", &asked.refused, |t| SAID.after(t))?
                .into_iter()
                .collect(),
        },
    };
    if told.load_a.is_none() && told.timed.trip.is_none() {
        let why = word!("the current that tripped it is needed, for example 24 A");
        return Err(PageError::Asked(why.into()));
    }
    let answer = wait(&told.question()).map_err(|e| PageError::Impossible(e.to_string()))?;
    let (moments, no_count) = match words::countdown(&answer) {
        Ok(moments) => (moments, String::new()),
        Err(why) => (Vec::new(), why),
    };
    let moment = |(after_s, until)| Moment {
        after_s,
        until,
        now: words::left(0.0, until),
    };
    Ok(Waited {
        shown: html_part(&wait_full_blocks(&answer)),
        moments: moments.into_iter().map(moment).collect(),
        no_count,
    })
}

fn known<T>(
    name: &str,
    text: &str,
    read: impl FnOnce(&str) -> Result<T, String>,
) -> Result<Option<T>, PageError> {
    match text.trim() {
        "" => Ok(None),
        text => read(text)
            .map(Some)
            .map_err(|why| PageError::Asked(format!("{name}: {why}"))),
    }
}
