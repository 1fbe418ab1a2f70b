//! Lessons: what is asked, how to measure, what the deviation teaches.

use crate::study::by_hand::Explanation;
use crate::study::lesson::{Level, Sheet};

/// Words of a level.
pub(crate) struct LessonWords {
    /// What it is about.
    pub title: &'static str,
    /// What the pupil is told to do.
    pub task: &'static str,
    /// On the sheet, which travels alone.
    pub cautions: Vec<&'static str>,
    /// What is to be answered in words.
    pub questions: Vec<&'static str>,
    /// What a teacher makes of it.
    pub teaches: Vec<&'static str>,
}

fn on_paper() -> Vec<&'static str> {
    vec![word!(
        "Numbers to learn from: they decide nothing about equipment in use. Never bridge a protector, and \
     never fit a higher rating to stop it from tripping."
    )]
}

fn at_the_bench() -> Vec<&'static str> {
    vec![
        word!(
            "Extra-low voltage only: a bench supply of at most 24 V with its current limit set before anything is \
     connected. No mains boards, nothing built into equipment, no battery that can give more than the limit."
        ),
        word!(
            "The strip and its terminals get hot enough to burn: guard them, let them cool before they are touched, \
     never leave them alone. Stop at the largest current of the sheet, at a smell or at smoke."
        ),
        word!("A teacher checks the circuit before it is switched on."),
    ]
}

/// What belongs to a level.
pub(crate) fn of(level: Level) -> LessonWords {
    match level {
        Level::Curvature => LessonWords {
            title: word!("Curvature by hand"),
            task: word!(
                "A strip of bonded metals bends when it gets warm, because one layer wants to grow \
                   more than the other. Compute by how much. Write every formula with its numbers, \
                   carry four digits, give each result with its unit."
            ),
            cautions: on_paper(),
            questions: vec![
                word!(
                    "Two strips are alike except that one is twice as thick. Which bends more, and by \
                 what factor? Read it off your formulas."
                ),
                word!("Read off your plot at which temperature this strip releases."),
            ],
            teaches: vec![
                word!(
                    "Thickness: at the same ratios the curvature goes with 1/h, so the thick strip bends \
                 half as far; held where it is, it pushes four times as hard."
                ),
                word!(
                    "The full model takes expansion and modulus at every temperature, so that its curve is \
                 no straight line: the low-expansion alloy expands more the hotter it gets."
                ),
                word!(
                    "The release read off the plot is for the free strip: the push of the latch is in the \
                 release travel, where there is one."
                ),
            ],
        },
        Level::Heating => LessonWords {
            title: word!("Heating with one temperature"),
            task: word!(
                "A current warms the strip and the air cools it. Take the whole strip as one body at \
                   one temperature, with no heat through its ends, and find when it releases. Write \
                   every formula with its numbers, carry four digits, give each result with its unit."
            ),
            cautions: on_paper(),
            questions: vec![
                word!(
                    "Which current is held for ever, and why is that no sharp line in a real part?"
                ),
                word!(
                    "After one time constant, which part of the final rise is reached? Read it off your plot."
                ),
            ],
            teaches: vec![
                word!(
                    "After one time constant 63 % of the final rise is reached, after five 99 %."
                ),
                word!(
                    "The full model loses heat through the ends as well, so it warms more slowly and releases \
                 later; its resistance rises with temperature, which makes it sooner. Which of both wins \
                 is seen in the plot."
                ),
                word!(
                    "At a strong overload nothing has time to get away, and the time goes with one over the \
                 square of the current."
                ),
            ],
        },
        Level::Preload => LessonWords {
            title: word!("Preload and drift"),
            task: word!(
                "A spring holds the latch against the strip. The strip has to bend through the clearance \
                   and push against the spring. Find what the spring adds to the travel, and how the trip \
                   point moves when the spring tires. Write every formula with its numbers, carry four \
                   digits, give each result with its unit."
            ),
            cautions: on_paper(),
            questions: vec![
                word!(
                    "Does a tired spring make the part trip sooner or later? Why can that be mistaken for an \
                 overload?"
                ),
                word!(
                    "When half of the preload is gone: at which part of today's trip point does it trip?"
                ),
            ],
            teaches: vec![
                word!(
                    "A tired spring makes it trip sooner: less travel is left. Friction of a latch that is never \
                 moved makes it trip later, which is the dangerous side."
                ),
                word!(
                    "With a small share of preload a tired spring hardly matters; with a half or more it moves the \
                 trip point into the load."
                ),
                word!(
                    "The full model's line bends: resistance, loss and the contact change with the current."
                ),
            ],
        },
        Level::Bench => LessonWords {
            title: word!("Measuring a strip on the bench"),
            task: word!(
                "A current warms a bare strip, and its end moves. Measure how far at several currents, \
                   wait each time until it stands still, and compare with what one body at one temperature \
                   would do."
            ),
            cautions: at_the_bench(),
            questions: vec![
                word!(
                    "Where do your measured points leave the line computed by hand, and to which side?"
                ),
                word!(
                    "Which of these does it tell of: cold ends, air that cools better the hotter the strip is, \
                 a resistance that rises, a reading too early?"
                ),
            ],
            teaches: vec![
                word!(
                    "All points below the line by the same factor: the ends take heat that the hand leaves out. A \
                 short strip shows it more than a long one."
                ),
                word!(
                    "Points that fall behind at large currents: radiation and rising air cool the better the hotter \
                 the strip is, and the coefficient was taken at the temperature of release."
                ),
                word!(
                    "Voltage over current that rises from row to row: the metal resists more when it is hot. Read \
                 it at the strip with leads of its own, or the contacts are measured as well."
                ),
                word!(
                    "One point too low, the next in line again: it was read before the strip stood still. Points \
                 that jump: a draught."
                ),
                word!(
                    "A shift of all points alike: the strip was not flat at the temperature of the room. Subtract \
                 the reading without current."
                ),
            ],
        },
    }
}

/// What a pupil writes at the top.
pub(crate) fn pupil() -> [&'static str; 3] {
    [word!("Name"), word!("Class"), word!("Date")]
}
pub(crate) fn given_heading() -> &'static str {
    word!("Given")
}
pub(crate) fn measure() -> &'static str {
    word!("Measure")
}
pub(crate) fn readings() -> &'static str {
    word!("Readings, from the smallest current to the largest")
}
pub(crate) fn expected() -> &'static str {
    word!(
        "What the full model expects (of a strip exactly as described; a real one differs by some percent)"
    )
}
pub(crate) fn all_answers() -> &'static str {
    word!("All answers")
}
pub(crate) fn answers() -> &'static str {
    word!("Results by hand, four digits")
}
pub(crate) fn to_talk() -> &'static str {
    word!("To talk about")
}
pub(crate) fn by_hand() -> &'static str {
    word!("by hand")
}
pub(crate) fn full_model() -> &'static str {
    word!("full model")
}
pub(crate) fn releases() -> &'static str {
    word!("releases here")
}
pub(crate) fn to_complete() -> &'static str {
    word!("Plot to complete.")
}
pub(crate) fn solved() -> &'static str {
    word!("The points by hand, joined, and the curve of the full model.")
}
/// Columns of a table of readings.
pub(crate) fn measured() -> [&'static str; 5] {
    [
        word!("current, A"),
        word!("its square, A²"),
        word!("voltage at the strip, mV"),
        word!("deflection, mm"),
        word!("voltage / current, mΩ"),
    ]
}

pub(crate) fn sheet_title(title: &str, number: usize, of: usize) -> String {
    match of {
        1 => title.to_owned(),
        _ => say!("{title}: sheet {number} of {of}"; title, number, of),
    }
}

pub(crate) fn sheet_name(number: usize) -> String {
    say!("Sheet {number}"; number)
}

pub(crate) fn key_title(title: &str) -> String {
    say!("{title}: the teacher's key"; title)
}

pub(crate) fn below(scenario: &str, minutes: u32) -> String {
    say!("{scenario}; {minutes} minutes"; scenario, minutes)
}

pub(crate) fn how_to_mark(seed: u64) -> String {
    say!(
        "Made with seed {seed}; the same seed makes the same sheets. Every sheet was computed twice: \
         with all digits, as shown here, and with each number rounded to four digits where a pupil \
         writes it down. No step moves by more than 0.5 % by that (of the rise above the flat strip, for \
         a temperature), so an answer within 1 % is right. The times for steps are an estimate, common \
         practice, no source."
    ; seed)
}

/// How to get everything of a sheet.
pub(crate) fn again(source: &str, settings: &[(String, String)]) -> String {
    if settings.is_empty() {
        return say!("Everything else worked by hand: relatch explain {source}"; source);
    }
    let sets = settings.iter();
    let sets = sets.map(|(path, value)| format!(" --set {path}=\"{value}\""));
    say!(
        "Everything else of this sheet worked by hand: relatch explain {source}{}",
        sets.collect::<String>()
    ; source)
}

pub(crate) fn by_rounding(percent: &str) -> String {
    say!("Rounding to four digits on the way moves it by {percent} %."; percent)
}

/// What is plotted.
pub(crate) fn plot(sheet: &Sheet) -> &'static str {
    match sheet.graph.y_symbol {
        "d" if sheet.bench.is_some() => word!("Deflection against the square of the current"),
        "d" => word!("Deflection against temperature"),
        "kappa" => word!("Curvature against temperature"),
        "theta_t" => word!("Warming up"),
        _ => word!("Shift of the trip point against the preload lost"),
    }
}

/// What to do with the plot.
pub(crate) fn to_plot(sheet: &Sheet) -> &'static str {
    match (sheet.bench.is_some(), sheet.graph.level.is_some()) {
        (true, _) => {
            word!(
                "Complete the table, plot it and join the points. Then plot your measured points into the \
             same figure."
            )
        }
        (false, true) => {
            word!(
                "Complete the table, plot the points and join them. Draw where it releases as a line across."
            )
        }
        (false, false) => word!("Complete the table, plot the points and join them."),
    }
}

/// The name of an axis, before its symbol.
pub(crate) fn axis(symbol: &str) -> &'static str {
    match symbol {
        "T" => word!("Temperature of the whole strip"),
        "d" => word!("Deflection"),
        "kappa" => word!("Curvature"),
        "t" => word!("Time"),
        "theta_t" => word!("Rise over the air"),
        "p_l" => word!("Preload lost"),
        "DeltaI" => word!("Shift of the trip point"),
        "J" => word!("Square of the current"),
        _ => "",
    }
}

pub(crate) fn how_to_measure(wait: &str, most: &str, hottest: &str) -> [String; 5] {
    [
        word!("Clamp the strip in its block, edge on, in still air away from draughts. Set up a dial gauge \
         without spring, a feeler gauge or a ruler with a lens at its free end, a voltmeter at the \
         strip itself (not at the supply), an ammeter in the circuit.")
            .to_owned(),
        say!(
            "Set the current limit of the supply to zero, connect, and never go beyond {most}: the strip \
             reaches about {hottest} there."
        ; most, hottest),
        word!("Read the deflection without current and subtract it from every reading.").to_owned(),
        say!("Set each current of the table and wait {wait}, until nothing moves. Read."; wait),
        word!("Turn the current to zero, wait until the strip is cold, switch off, disconnect.").to_owned(),
    ]
}

/// What a quantity is that is given and not computed on the sheet.
pub(crate) fn given(of: &Explanation, symbol: &str) -> String {
    if let Some((kind, layer)) = symbol.rsplit_once('_')
        && layer.chars().all(|c| c.is_ascii_digit())
    {
        let name = match kind {
            "z" => word!("height of the middle"),
            kind => super::by_hand::layer_column(kind),
        };
        if !name.is_empty() {
            return say!("Layer {layer}: {name}"; layer, name);
        }
    }
    let name = match symbol {
        "L" => word!("Length of the strip"),
        "x_P" => word!("From the clamp to where it pushes"),
        "w" => word!("Width"),
        "h" => word!("Thickness of all layers"),
        "T_h" => word!("Temperature for all values"),
        "T_flat" => word!("Temperature at which it is flat"),
        "T_air" | "T_a" => word!("Air"),
        "T_s" => word!("Strip at release"),
        "DeltaT_h" => word!("Rise above the flat strip"),
        "kappa_0" => word!("Curvature as made"),
        "g" => word!("Clearance to the latch"),
        "d_relatch" => word!("Deflection at which it relatches"),
        "F_0" => word!("Preload of the spring"),
        "lambda" => word!("Share of it felt at the strip"),
        "f" => word!("Friction factor, 1 as new"),
        "F_c" => word!("Constant force"),
        "p" => word!("Part of the preload lost"),
        "I" => word!("Current"),
        "I_b" => word!("Current before"),
        "s" => word!("Share of the current in the strip"),
        "phi" => word!("Part of the surface in the open"),
        "G_H" => word!("Conductance of the housing"),
        "G_W" => word!("Conductance of the winding"),
        "l" => word!("Span"),
        "a_0" => word!("Rise as made"),
        "K" => word!("Stiffness of the frame"),
        "N_0" => word!("Thrust as made"),
        "EA" => word!("Axial stiffness"),
        _ => "",
    };
    match (name, of.step(symbol)) {
        ("", Some(step)) => {
            let what = super::by_hand::step(of, step);
            let end = what.find([':', '(', ',']).unwrap_or(what.len());
            what[..end].trim_end().to_owned()
        }
        (name, _) => name.to_owned(),
    }
}
