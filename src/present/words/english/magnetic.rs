//! What the instantaneous element does.

use crate::predict::{BandCheck, ClosingAnswer, ClosingLaw, FirstToAct, MagneticAnswer};
use crate::present::number::{duration, percent, plain, significant};
use crate::standards::Band;

/// What is left out of every answer about a first peak.
pub(crate) fn neglected() -> &'static str {
    word!(
        "Eddy currents in solid iron delay and weaken the first half \
    wave; they are left out here, as are remanence, rebound, and what coil and motion do to the \
    current."
    )
}

/// What the waits of a run are worth after the instantaneous element has acted.
pub(crate) fn waits_are_the_strips() -> &'static str {
    word!(
        "Trip point and waits here are those of the strip. After \
    the instantaneous element has opened it the strip is hardly warm and the reset catches at \
    once, which says nothing of the fault: find it first."
    )
}

fn kind(law: ClosingLaw) -> &'static str {
    match law {
        ClosingLaw::Alternating => word!("alternating, rms"),
        ClosingLaw::Direct => word!("direct"),
        ClosingLaw::HalfWave => word!("half waves, peak"),
        ClosingLaw::Lamp => word!("filament lamps, warm, rms"),
        ClosingLaw::Transformer => word!("transformer inrush, worst first peak"),
        ClosingLaw::Capacitor => word!("charging, peak"),
    }
}

/// "6.1 ms to 14 ms"
fn cleared(closing: &ClosingAnswer) -> Option<String> {
    let (a, b) = (closing.earliest_s?, closing.latest_s?);
    let [a, b] = [a, b].map(|s| duration(s, 2));
    Some(if a == b { a } else { say!("{a} to {b}"; a, b) })
}

/// How often it releases, and when.
pub(crate) fn closing_does(closing: &ClosingAnswer) -> String {
    let Some(cleared) = cleared(closing) else {
        return match closing.law {
            ClosingLaw::Direct => word!("does not release it within 0.1 s").into(),
            _ => word!("does not release it within 0.1 s, at any closing angle").into(),
        };
    };
    if closing.law == ClosingLaw::Direct {
        return say!("releases it; cleared after {cleared}"; cleared);
    }
    if closing.probability >= 1.0 {
        return say!("releases it at every closing angle; cleared after {cleared}"; cleared);
    }
    let angles = closing.releasing.iter().map(|i| {
        let [a, b] = [i.from_deg, i.to_deg].map(|deg| plain((deg % 360.0).round()));
        say!("{a}° to {b}°"; a, b)
    });
    say!(
        "releases it in {} of closings ({} after voltage zero); cleared after {cleared}",
        percent(closing.probability),
        angles.collect::<Vec<_>>().join(", ")
    ; cleared)
}

/// The current of a closing in words.
pub(crate) fn closing_current(closing: &ClosingAnswer) -> String {
    let size = significant(closing.size_a, 3);
    let inductive = closing
        .x_over_r
        .map(|x| say!(", X/R {}", significant(x, 2)));
    let poles = if closing.poles == 3 {
        word!(", three poles")
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
    let when = cleared(closing).map_or(String::new(), |s| say!(", cleared after {s}"; s));
    let share = percent(closing.probability);
    match answer.first {
        FirstToAct::Magnetic => {
            // Direct current knows no angle.
            let always = match closing.law {
                ClosingLaw::Direct => "",
                _ => word!(", at every closing angle"),
            };
            say!(
                "The instantaneous element opens it at once{always}{when}; the strip comes too \
                 late. Of the strip alone:"
            ; always, when)
        }
        FirstToAct::MagneticOrStrip => {
            say!(
                "The instantaneous element opens it at once in {share} of closings{when}; in the \
                 others the strip does. Of the strip alone:"
            ; share, when)
        }
        FirstToAct::MagneticOrNone => {
            say!(
                "The instantaneous element opens it at once in {share} of closings{when}. In the \
                 others neither element acts. Of the strip alone:"
            ; share, when)
        }
        FirstToAct::Strip => word!("The strip acts, not the instantaneous element.").into(),
        FirstToAct::None => word!("Neither element acts. Of the strip alone:").into(),
    }
}

/// How it stands against its band.
pub(crate) fn band(check: &BandCheck) -> String {
    let [low, high] = check.multiples.map(plain);
    let verdict = match (check.holds_lower, check.releases_upper) {
        (true, true) => word!("met"),
        (false, true) => word!("NOT MET, it releases at the lower limit"),
        (true, false) => word!("NOT MET, it does not always release at the upper limit"),
        (false, false) => word!("NOT MET, at either limit"),
    };
    say!(
        "{verdict}: no release within 0.1 s at {low} x, release at {high} x rated, rms; direct \
         current is another document's [{}]",
        check.source
    ; verdict, low, high)
}

/// Name of a band.
pub(crate) fn band_name(band: Band) -> &'static str {
    match band {
        Band::B => word!("Type B"),
        Band::C => word!("Type C"),
        Band::D => word!("Type D"),
    }
}
