//! What happens in a run, and the moments that are drawn.

use crate::predict::{Event, LoadedBy, Moment, SnapMoment};

/// The name of an event.
pub(crate) fn event(event: Event) -> &'static str {
    match event {
        Event::LoadOn => word!("load on"),
        Event::LoadOff => word!("load off"),
        Event::Release => word!("release"),
        Event::ContactsOpen => word!("contacts open"),
        Event::Relatch | Event::ClosesByItself => word!("relatch"),
        Event::Reset | Event::AlreadyClosed => word!("reset"),
        Event::ResetRefused => word!("reset refused"),
        Event::Holds => word!("holds"),
        Event::HoldsSoFar => word!("holds so far"),
        Event::StaysOpen => word!("stays open"),
        Event::StillOpen => word!("still open"),
        Event::End => word!("end"),
    }
}

/// An event in a sentence.
pub(crate) fn event_text(event: Event) -> &'static str {
    match event {
        Event::LoadOn => word!("the contacts carry the load"),
        Event::LoadOff => word!("the load is switched off; the contacts stay closed"),
        Event::Release => word!("it releases"),
        Event::ContactsOpen => word!("the contacts are open; the waits count from here"),
        Event::Relatch => word!("cool enough: it can be reset by hand from here on"),
        Event::ClosesByItself => word!("cool enough: it closes by itself"),
        Event::Reset => word!("reset; the contacts are closed again"),
        Event::AlreadyClosed => word!("the contacts were already closed"),
        Event::ResetRefused => {
            word!("too early: the strip still holds the latch free, the reset does not catch")
        }
        Event::Holds => word!("from here on it is proved to hold for ever"),
        Event::HoldsSoFar => word!("not tripped when the time was up"),
        Event::StaysOpen => word!("it NEVER cools enough to relatch at this ambient"),
        Event::StillOpen => word!("not relatched after a month"),
        Event::End => word!("end of the record"),
    }
}

/// The name of a drawn moment.
pub(crate) fn moment(moment: Moment) -> &'static str {
    match moment {
        Moment::Start => word!("start"),
        Moment::QuarterWay => word!("a quarter of the time"),
        Moment::HalfWay => word!("half-way to release"),
        Moment::ThreeQuarters => word!("three quarters"),
        Moment::Release => word!("release"),
        Moment::Cooling => word!("cooling"),
        Moment::Relatch => word!("relatch"),
        Moment::Early => word!("early"),
        Moment::Later => word!("later"),
        Moment::Late => word!("near the end"),
        Moment::End => word!("end of the run"),
        Moment::Frame => "",
    }
}

/// The name of a temperature at which a blade is looked at.
pub(crate) fn snap_moment(moment: SnapMoment) -> &'static str {
    match moment {
        SnapMoment::Cold => word!("cold"),
        SnapMoment::SnapsBack => word!("snaps back"),
        SnapMoment::HalfWay => word!("half-way between"),
        SnapMoment::SnapsThrough => word!("snaps through"),
    }
}

/// What loads a strip just before release.
pub(crate) fn loaded_by(load: LoadedBy) -> &'static str {
    match load {
        LoadedBy::LatchPush => word!("the push against the latch just before release"),
        LoadedBy::ThrustAndBow => word!("thrust and bow just before it snaps"),
    }
}
