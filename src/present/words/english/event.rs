//! What happens in a run, and the moments that are drawn.

use crate::predict::{BladeMoment, Event, LoadedBy, Moment};

/// The name of an event.
pub(crate) fn event(event: Event) -> &'static str {
    match event {
        Event::LoadOn => "load on",
        Event::LoadOff => "load off",
        Event::Release => "release",
        Event::ContactsOpen => "contacts open",
        Event::Relatch | Event::ClosesByItself => "relatch",
        Event::Reset | Event::AlreadyClosed => "reset",
        Event::ResetRefused => "reset refused",
        Event::Holds => "holds",
        Event::HoldsSoFar => "holds so far",
        Event::StaysOpen => "stays open",
        Event::StillOpen => "still open",
        Event::End => "end",
    }
}

/// An event in a sentence.
pub(crate) fn event_text(event: Event) -> &'static str {
    match event {
        Event::LoadOn => "the contacts carry the load",
        Event::LoadOff => "the load is switched off; the contacts stay closed",
        Event::Release => "the strip releases",
        Event::ContactsOpen => "the contacts are open; the waits count from here",
        Event::Relatch => "cool enough: it can be reset by hand from here on",
        Event::ClosesByItself => "cool enough: it closes by itself",
        Event::Reset => "reset; the contacts are closed again",
        Event::AlreadyClosed => "the contacts were already closed",
        Event::ResetRefused => {
            "too early: the strip still holds the latch free, the reset does not catch"
        }
        Event::Holds => "from here on it is proved to hold for ever",
        Event::HoldsSoFar => "not tripped when the time was up",
        Event::StaysOpen => "it NEVER cools enough to relatch at this ambient",
        Event::StillOpen => "not relatched after a month",
        Event::End => "end of the record",
    }
}

/// The name of a drawn moment.
pub(crate) fn moment(moment: Moment) -> &'static str {
    match moment {
        Moment::Start => "start",
        Moment::QuarterWay => "a quarter of the time",
        Moment::HalfWay => "half-way to release",
        Moment::ThreeQuarters => "three quarters",
        Moment::Release => "release",
        Moment::Cooling => "cooling",
        Moment::Relatch => "relatch",
        Moment::Early => "early",
        Moment::Later => "later",
        Moment::Late => "late",
        Moment::End => "end of the run",
        Moment::Frame => "",
    }
}

/// The name of a temperature at which a blade is looked at.
pub(crate) fn blade_moment(moment: BladeMoment) -> &'static str {
    match moment {
        BladeMoment::Cold => "cold",
        BladeMoment::SnapsBack => "snaps back",
        BladeMoment::HalfWay => "half-way between",
        BladeMoment::SnapsThrough => "snaps through",
    }
}

/// What loads a strip just before release.
pub(crate) fn loaded_by(load: LoadedBy) -> &'static str {
    match load {
        LoadedBy::LatchPush => "the push against the latch just before release",
        LoadedBy::ThrustAndBow => "thrust and bow just before it snaps",
    }
}
