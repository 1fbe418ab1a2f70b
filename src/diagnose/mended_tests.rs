//! Cases of machines that were mended and came back.

use super::assemble::with_family;
use super::energise::Energise;
use super::judged_tests::{of, probability};
use super::plan::{Action, Step};
use super::record::{Cause, Diagnosis, Verdict};
use crate::evidence;
use crate::family::Family;

/// Trips of which nothing says why.
const TRIPPED: &str = r#"
[machine]
waveform = "sine"
rated_current = "8.5 A"
starts_with_a_surge = false

[[trip]]
after = "10 min"
from = "cold"
times = 4
"#;

fn mended(what: &str, then: &str) -> String {
    format!("{TRIPPED}\n[[mended]]\nwhat = \"{what}\"\n\n{then}\nfrom = \"cold\"\n")
}

fn whole(rest: &str) -> Diagnosis {
    let text = format!(
        "format = 1\nkind = \"case\"\ntitle = \"A mixer\"\n\n[protector]\nrating = \"10 A\"\n\n{rest}"
    );
    let case = evidence::read_text("case", &text).unwrap_or_else(|e| panic!("{e}"));
    with_family(&case, &Family::new(&case.nameplate, 48).unwrap(), 1)
}

/// What was mended was the only change.
#[test]
fn it_was_what_holds_once_it_is_mended_and_was_not_what_trips_all_the_same() {
    for (what, cause) in [
        ("protector", Cause::WornEarly),
        ("load", Cause::Overload),
        ("air", Cause::HotSurroundings),
        ("joints", Cause::BadConnection),
    ] {
        let by = |rest: &str| probability(&of(rest), cause);
        let before = by(TRIPPED);
        let held = by(&mended(what, "[[held]]\nfor = \"8 h\""));
        let trips = by(&mended(what, "[[trip]]\nafter = \"11 min\""));
        let odds = |p: f64| p / (1.0 - p);
        assert!(odds(held) > 1.8 * odds(before), "{what}: {before} {held}");
        assert!(odds(trips) < 0.8 * odds(before), "{what}: {before} {trips}");
    }
}

#[test]
fn what_was_read_before_and_after_tells_of_two_machines() {
    let reading = |amperes: &str| {
        format!(
            "\n[[reading]]\ncurrent = \"{amperes}\"\nmeter = \"true RMS\"\ntaken = \"while running\"\n"
        )
    };
    let held = mended("load", "[[held]]\nfor = \"8 h\"");
    let case = format!("{}{held}{}", reading("14 A"), reading("8.2 A"));
    let found = whole(&case);
    assert_eq!(found.causes[0].cause, Cause::Overload, "{:?}", found.causes);
    assert!(found.causes[0].probability > 0.6, "{:?}", found.causes);
    assert_eq!(found.is_mended, found.verdict == Verdict::FindTheLoad);
    let asks_again = |step: &Step| matches!(&step.action, Action::Mend { mend } if mend[..] == [Verdict::FindTheLoad]);
    assert!(!found.plan.iter().any(asks_again), "{:?}", found.plan);
    assert!(!matches!(found.energise, Energise::No { .. }));
    // Neither reading is wrong.
    assert!(found.does_not_fit.is_empty(), "{:?}", found.does_not_fit);
}

/// Of two readings the one of a meter that was changed counts less.
#[test]
fn a_meter_that_was_changed_was_doubted() {
    let with = |between: &str| {
        let found = of(&format!(
            "{TRIPPED}\n[[reading]]\ncurrent = \"7.5 A\"\nmeter = \"true RMS\"\ntaken = \"up to the trip\"\n{between}\n\
             [[reading]]\ncurrent = \"14 A\"\nmeter = \"true RMS\"\ntaken = \"up to the trip\"\n"
        ));
        probability(&found, Cause::Overload)
    };
    let (alike, changed) = (with(""), with("[[mended]]\nwhat = \"meter\"\n"));
    // It is wrong one time in two, not three in a hundred.
    let odds = |p: f64| p / (1.0 - p);
    assert!(odds(changed) > 5.0 * odds(alike), "{alike} {changed}");
}

#[test]
fn a_joint_that_burnt_or_a_late_part_forbids_nothing_once_it_is_mended() {
    let burnt = "\n[terminals]\nhotter = \"180 degC\"\nother = \"60 degC\"\n";
    let late =
        "\n[[held]]\nfor = \"30 min\"\nfrom = \"cold\"\non = \"bench\"\ncurrent = \"25 A\"\n";
    for (entry, what) in [(burnt, "joints"), (late, "protector")] {
        let before = whole(&format!("{TRIPPED}{entry}"));
        assert!(matches!(before.energise, Energise::No { .. }), "{what}");
        let mend = format!("\n[[mended]]\nwhat = \"{what}\"\n\n[[held]]\nfor = \"8 h\"\n");
        let after = whole(&format!("{TRIPPED}{entry}{mend}"));
        assert!(
            !matches!(after.energise, Energise::No { .. }),
            "{what}: {:?}",
            after.energise
        );
        // Another mend changes nothing of that.
        let other = whole(&format!("{TRIPPED}{entry}{}", mend.replace(what, "air")));
        assert!(matches!(other.energise, Energise::No { .. }), "{what}");
    }
}

/// Another type makes another case.
#[test]
fn another_protector_is_no_mend() {
    let text = format!(
        "format = 1\nkind = \"case\"\ntitle = \"A mixer\"\n\n[protector]\nrating = \"10 A\"\n{}",
        mended("another protector", "[[held]]\nfor = \"2 h\"")
    );
    let refused = evidence::read_text("case", &text).expect_err("refused");
    let said = refused.to_string();
    assert!(said.contains("that is no mend of this case"), "{said}");
    assert!(said.contains("never simply a larger one"), "{said}");
}
