//! What was assumed because nothing was said.

use crate::family::Assumed;
use crate::present::number::{duration, plain, significant};

/// An assumption in a few words, without an end.
pub fn assumed(assumed: &Assumed) -> String {
    match assumed {
        Assumed::ReferenceAir { air_c, of_limits } => {
            let whose = match of_limits {
                true => word!(", that of the published limits"),
                false => "",
            };
            say!("reference air {air_c:.0} °C{whose}"; air_c, whose)
        }
        Assumed::UsualWindows => word!("usual windows of small protectors: 1.0 times the rating is carried, 1.45 times \
             trips within 1 h, twice within 2 s to 2 min, six times within 0.1 s to 12 s (from memory)")
            .into(),
        Assumed::NotCompensated => word!("not compensated for the temperature of the air").into(),
        Assumed::AirAtThePart { air_c } => say!("air at the protector {air_c:.0} °C"; air_c),
        Assumed::RunAfterStart { current_a } => {
            let rounded = (1e3 * current_a).round() / 1e3;
            say!("after the start it runs at {rounded} A"; rounded)
        }
        Assumed::InABoxOfItsOwn => {
            word!("it sits in a box of its own; on or in the motor the motor's heat rules").into()
        }
        Assumed::SetByDial { rating_a, setting_a } => say!(
            "the dial's setting, {} A, stands for the rating (printed: {} A)",
            plain(*setting_a),
            plain(*rating_a)
        ),
        Assumed::OnePole { poles, pole } => {
            let which = pole.as_ref().map_or(word!("one pole").into(), |pole| say!("pole {pole}"; pole));
            let of = poles.map_or(String::new(), |n| say!(" of {n}"; n));
            say!(
                "weighed is {which}{of}; the others are taken to carry the same: a pole that carries more is not seen, and a \
                 lost phase only where the machine is said to run on three"
            ; which, of)
        }
        Assumed::DiscOnAMotor => word!(
            "disc and motor cool as one body: discs open at 85 to 150 °C and close 15 to 45 K below, a motor that \
             stands has a time constant of 10 to 50 min (common practice, no source)"
        )
        .into(),
        Assumed::SomePolesCarry { carrying, of, notices } => {
            let then = match notices {
                true => word!("the bar takes the idle ones for a lost phase and lets go sooner"),
                false => word!("the strips there move the bar without the idle ones, later and hotter"),
            };
            say!(
                "current flows in {carrying} of {of} poles: {then}; heat that idle poles take from them is left out"
            ; carrying, of, then)
        }
        Assumed::LoopedThroughAllPoles => {
            word!("this part takes a pole without current for a lost phase, and the machine has one phase: is its current \
             looped through all poles in series? Taken: yes. If not, that alone trips it early")
                .into()
        }
        Assumed::OtherPosition { line, trips_in } => {
            say!("{line}: left out, because it trips with the switch at {trips_in}"; line, trips_in)
        }
        Assumed::HeaterWinding { in_all } => {
            let which = if *in_all {
                word!("all parts")
            } else {
                word!("some of the parts")
            };
            say!("a heater winding around the strip in {which} of so small a rating"; which)
        }
        Assumed::UnitScatter { relative } => say!(
            "trip times scatter by at least {:.0} % from unit to unit about a published curve",
            100.0 * relative
        ),
        Assumed::MeterAsUsual { line, sheet } => {
            let whose = line.as_ref().map_or(String::new(), |l| format!("{l}: "));
            say!("{whose}the meter is off by at most {sheet} (usual sheets), and the jaw by 1 % (common practice)"; whose, sheet)
        }
        Assumed::LogMeterAsUsual { log, sheet } => say!(
            "{log}: the recorded current is off by at most {sheet} (usual sheets), and the jaw by \
             1 % (common practice)"
        ; log, sheet),
        Assumed::CoarseDigit {
            line,
            digit_a,
            within_a,
        } => {
            let (digit, within) = (significant(*digit_a, 1), significant(*within_a, 2));
            say!(
                "{line}: its last digit is {digit} A, which leaves ± {within} A open; write every digit, or the accuracy \
                 of its sheet"
            ; line, digit, within)
        }
        Assumed::ReadUpToTheTrip => word!("the current was read right up to the trip").into(),
        Assumed::TakenWhileRunning { line } => say!("{line}: taken while it ran, no trip seen"; line),
        Assumed::StartAsUsual { line } => {
            say!("{line}: captured to within 15 % (a usual inrush mode)"; line)
        }
        Assumed::TimeNotKnown { line } => say!("{line}: at a time that is not known"; line),
        Assumed::WatchedForAnHour { line } => say!("{line}: watched for 1 h"; line),
        Assumed::ColdAfterRest { log, at_s } => say!(
            "{log}: cold {} after the first row, after a rest of more than 45 min (common practice)",
            duration(*at_s, 2)
        ; log),
        Assumed::LogAirAnywhere { log } => say!(
            "{log}: its temperatures were taken in the room or at the part; say which: --log-air-at \"the part\" or \
             \"the room\""
        ; log),
        Assumed::ItTrips => {
            word!("no trip is told, and one is assumed: say when, or how long it held").into()
        }
        Assumed::FallIsATrip { log, at_s } => say!(
            "{log}: the fall to zero {} after the first row is a trip, not a hand at the switch",
            duration(*at_s, 2)
        ; log),
    }
}

/// The same in as few words as tell what to write instead.
pub(crate) fn assumed_brief(assumed: &Assumed) -> String {
    match assumed {
        Assumed::CoarseDigit { line, digit_a, .. } => {
            let digit = significant(*digit_a, 1);
            say!("{line}: its last digit is {digit} A; write every digit"; line, digit)
        }
        other => self::assumed(other),
    }
}
