//! Which moments of a run are marked on a stretch of time, and with which words.

use super::stretch::Stretch;
use crate::predict::{Event, EventRecord, Outcome};
use crate::present::chart::Flag;
use crate::present::chart::style::{DASH_DOT, DASHED, DOTTED, EMBER, INK, MOSS, Stroke, stroke};
use crate::present::number::duration;

/// Moments nearer than this part of a stretch share one flag.
const SHARED: f64 = 0.009;
/// Above this many, only the first of each kind is marked: the contact bar shows the rest.
const MOST: usize = 6;

/// Flags of the moments in a stretch.
pub(super) fn moments(outcome: &Outcome, stretch: &Stretch) -> Vec<Flag> {
    let zero_s = stretch.zero_s;
    let mut events: Vec<&EventRecord> = outcome
        .events
        .iter()
        .filter(|e| is_marked(e.event) && stretch.holds(e.time_s))
        // A stretch that counts from open contacts says so in its title.
        .filter(|e| zero_s <= 0.0 || e.time_s > zero_s)
        .collect();
    if events.len() > MOST {
        let mut seen: Vec<Event> = Vec::new();
        events.retain(|e| {
            let is_first = !seen.contains(&e.event);
            seen.push(e.event);
            is_first
        });
    }
    let mut groups: Vec<(f64, Vec<&EventRecord>)> = Vec::new();
    for event in events {
        let shared_s = SHARED * (stretch.to_s - stretch.from_s);
        match groups.last_mut() {
            Some((first_s, group)) if event.time_s - *first_s < shared_s => group.push(event),
            _ => groups.push((event.time_s, vec![event])),
        }
    }
    groups
        .into_iter()
        .map(|(time_s, group)| Flag {
            x: stretch.at(time_s),
            text: words(&group, zero_s),
            stroke: pole(group[0].event),
        })
        .collect()
}

fn is_marked(event: Event) -> bool {
    matches!(
        event,
        Event::Release
            | Event::ContactsOpen
            | Event::Relatch
            | Event::ClosesByItself
            | Event::Reset
            | Event::AlreadyClosed
            | Event::ResetRefused
    )
}

fn pole(event: Event) -> Stroke {
    match event {
        Event::Release => stroke(EMBER, 3, DASHED),
        Event::Relatch | Event::ClosesByItself => stroke(MOSS, 3, DASH_DOT),
        _ => stroke(INK, 3, DOTTED),
    }
}

/// "release, contacts open 12.6 s": a time stands once when it reads the same.
fn words(group: &[&EventRecord], zero_s: f64) -> String {
    let mut text = String::new();
    for (k, event) in group.iter().enumerate() {
        let time = duration(event.time_s - zero_s, 3);
        let next = group.get(k + 1).map(|e| duration(e.time_s - zero_s, 3));
        text += crate::present::words::event(event.event);
        if next.as_ref() != Some(&time) {
            text += &format!(" {time}");
        }
        if next.is_some() {
            text += ", ";
        }
    }
    text
}
