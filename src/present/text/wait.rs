//! How long to wait, for the person at the machine.

use crate::family::{Spread, WaitAnswer};
use crate::present::number::{celsius, duration, plain};
use std::fmt::Write;

/// A screenful: waits with ranges, what a reset too early brings, cautions.
pub fn wait_text(answer: &WaitAnswer) -> String {
    let mut out = String::new();
    let mut line = |text: String| {
        let _ = writeln!(out, "{text}");
    };
    line(format!(
        "{} A protector (rating stated for {}), {} A in air of {}",
        plain(answer.rated_current_a),
        celsius(Some(answer.reference_ambient_c), 0),
        plain(answer.load_a),
        celsius(Some(answer.ambient_c), 0)
    ));
    line(String::new());
    line("!  Find the cause before you reset. Smell, soot, a trip at once when cold or with no load: do not reset.".into());
    line("!  The machine may start by itself when it cools or power returns: switch off and lock first.".into());
    line(String::new());
    let Some(reset) = answer.reset_s else {
        line(if answer.trips < 0.05 {
            "A sound part of this kind carries that current without tripping: there is nothing to wait for. If it \
             did trip, ask `relatch diagnose`."
                .into()
        } else {
            "At this air the latch of such a part never holds again: cool the place first.".into()
        });
        return out;
    };
    let row = |name: &str, spread: Spread| {
        format!(
            "  {name:<22}{:>14}   {} to {}",
            duration(spread.median, 2),
            duration(spread.low, 2),
            duration(spread.high, 2)
        )
    };
    line(format!(
        "  {:<22}{:>14}   9 of 10 parts",
        "", "half of parts"
    ));
    if let Some(trip) = answer.trip_s {
        line(row("Trips from cold after", trip));
    }
    line(row("Reset possible after", reset));
    match answer.start_s {
        Some(start) => line(row("Start possible after", start)),
        None if answer.never_starts > 0.0 => {
            line("  This start trips such a part again however long you wait.".into());
        }
        None => line(
            "  Start: say what the machine draws with --start \"60 A for 0.6 s\" to be told."
                .into(),
        ),
    }
    for (share, text) in [
        (1.0 - answer.trips, "carry that load without a trip"),
        (answer.never_resets, "never reset at this air"),
        (
            if answer.start_s.is_some() {
                answer.never_starts
            } else {
                0.0
            },
            "are tripped by this start however long you wait",
        ),
    ] {
        if share >= 0.01 {
            line(format!("  {:.0} % of such parts {text}.", 100.0 * share));
        }
    }
    line(String::new());
    line("  Reset too early, with the same load back on:".into());
    for early in &answer.early {
        let wait = duration(early.wait_s, 2);
        if early.latch_holds < 0.05 {
            line(format!(
                "    after {wait:>12}   the latch does not hold yet"
            ));
            continue;
        }
        let again = match early.again_after_s {
            Some(t) if early.trips_again > 0.05 => {
                format!("trips again after about {}", duration(t, 2))
            }
            _ => "holds".into(),
        };
        line(format!(
            "    after {wait:>12}   the latch holds in {:>3.0} % of parts; {again}",
            100.0 * early.latch_holds
        ));
    }
    line(String::new());
    line("!  Waits are for the protector: a motor winding may need far longer to cool.".into());
    line("!  Never hold the reset in, never tape or bridge it, never fit a higher rating to stop the tripping.".into());
    for assumed in &answer.assumed {
        line(format!("   Assumed: {assumed}."));
    }
    line(format!(
        "   {} sound parts that this nameplate may stand for were simulated; the maker's curve and local rules prevail.",
        answer.parts
    ));
    out
}
