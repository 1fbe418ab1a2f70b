//! What the instantaneous element does.

use crate::predict::{BandCheck, ClosingAnswer, ClosingLaw, FirstToAct, MagneticAnswer};
use crate::present::number::{duration, percent, plain, significant};
use crate::standards::Band;

/// What is left out of every answer about a first peak.
pub(crate) const NEGLECTED: &str = "Eddy currents in solid iron delay and weaken the first half \
    wave; they are left out here, as are remanence, rebound, and what coil and motion do to the \
    current.";

/// What the waits of a run are worth after the instantaneous element has acted.
pub(crate) const WAITS_ARE_THE_STRIPS: &str = "Trip point and waits here are those of the strip. After \
    the instantaneous element has opened it the strip is hardly warm and the reset catches at \
    once, which says nothing of the fault: find it first.";

fn kind(law: ClosingLaw) -> &'static str {
    match law {
        ClosingLaw::Alternating => "alternating, rms",
        ClosingLaw::Direct => "direct",
        ClosingLaw::HalfWave => "half waves, peak",
        ClosingLaw::Lamp => "filament lamps, warm, rms",
        ClosingLaw::Transformer => "transformer inrush, worst first peak",
        ClosingLaw::Capacitor => "charging, peak",
    }
}

/// "6.1 ms to 14 ms"
fn cleared(closing: &ClosingAnswer) -> Option<String> {
    let (a, b) = (closing.earliest_s?, closing.latest_s?);
    let [a, b] = [a, b].map(|s| duration(s, 2));
    Some(if a == b { a } else { format!("{a} to {b}") })
}

/// How often it releases, and when.
pub(crate) fn closing_does(closing: &ClosingAnswer) -> String {
    let Some(cleared) = cleared(closing) else {
        return "does not release it within 0.1 s, at any closing angle".into();
    };
    if closing.law == ClosingLaw::Direct {
        return format!("releases it; cleared after {cleared}");
    }
    if closing.probability >= 1.0 {
        return format!("releases it at every closing angle; cleared after {cleared}");
    }
    let angles = closing.releasing.iter().map(|i| {
        let [a, b] = [i.from_deg, i.to_deg].map(|deg| plain((deg % 360.0).round()));
        format!("{a}° to {b}°")
    });
    format!(
        "releases it in {} of closings ({} after voltage zero); cleared after {cleared}",
        percent(closing.probability),
        angles.collect::<Vec<_>>().join(", ")
    )
}

/// The current of a closing in words.
pub(crate) fn closing_current(closing: &ClosingAnswer) -> String {
    let size = significant(closing.size_a, 3);
    let inductive = closing
        .x_over_r
        .map(|x| format!(", X/R {}", significant(x, 2)));
    let poles = if closing.poles == 3 {
        ", three poles"
    } else {
        ""
    };
    format!(
        "{size} A ({}{}{poles})",
        kind(closing.law),
        inductive.unwrap_or_default()
    )
}

/// Which element acts under the load.
pub(crate) fn first_to_act(answer: &MagneticAnswer) -> String {
    let closing = &answer.closing;
    let when = cleared(closing).map_or(String::new(), |s| format!(", cleared after {s}"));
    let share = percent(closing.probability);
    match answer.first {
        FirstToAct::Magnetic => {
            format!(
                "The instantaneous element opens it at once, at every closing angle{when}; the strip \
                 comes too late. Of the strip alone:"
            )
        }
        FirstToAct::MagneticOrStrip => {
            format!(
                "The instantaneous element opens it at once in {share} of closings{when}; in the \
                 others the strip does. Of the strip alone:"
            )
        }
        FirstToAct::MagneticOrNone => {
            format!(
                "The instantaneous element opens it at once in {share} of closings{when}. In the \
                 others neither element acts. Of the strip alone:"
            )
        }
        FirstToAct::Strip => "The strip acts, not the instantaneous element.".into(),
        FirstToAct::None => "Neither element acts. Of the strip alone:".into(),
    }
}

/// How it stands against its band.
pub(crate) fn band(check: &BandCheck) -> String {
    let [low, high] = check.multiples.map(plain);
    let verdict = match (check.holds_lower, check.releases_upper) {
        (true, true) => "met",
        (false, true) => "NOT MET, it releases at the lower limit",
        (true, false) => "NOT MET, it does not always release at the upper limit",
        (false, false) => "NOT MET, at either limit",
    };
    format!(
        "{verdict}: no release within 0.1 s at {low} x, release at {high} x rated, rms [{}]",
        check.source
    )
}

/// Name of a band.
pub(crate) fn band_name(band: Band) -> &'static str {
    match band {
        Band::B => "Type B",
        Band::C => "Type C",
        Band::D => "Type D",
    }
}
