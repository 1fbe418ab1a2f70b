//! Diagnoses and their cases, made by hand and invented: what an inference would fill. The characteristic is drawn
//! with a two-time-constant sum, good enough for a picture.

use relatch::internals::diagnose::*;
use relatch::internals::evidence::{Before, Case, Event, Measured, Outcome, Setting, Sign, Unit};
use relatch::internals::family::Nameplate;

/// Trip time at a multiple of the rating of a part that releases `rise_k` above its air, s.
fn time_s(multiple: f64, rise_k: f64) -> Option<f64> {
    let reached = |t: f64| {
        let strip = 35.0 * (1.0 - (-t / 25.0_f64).exp());
        let case = 20.0 * (1.0 - (-t / 480.0_f64).exp());
        multiple * multiple * (strip + case)
    };
    if reached(1e6) < rise_k {
        return None;
    }
    let (mut low, mut high) = (1e-3, 1e6);
    for _ in 0..80 {
        let middle = f64::sqrt(low * high);
        if reached(middle) < rise_k {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(high)
}

fn characteristic(rated_a: f64, sound_k: [f64; 3], this_k: [f64; 3]) -> Vec<BandPoint> {
    (0..60)
        .map(|k| {
            let multiple = 0.7 * 1.05_f64.powi(k);
            BandPoint {
                current_a: rated_a * multiple,
                sound_s: sound_k.map(|d| time_s(multiple, d)),
                this_part_s: this_k.map(|d| time_s(multiple, d)),
            }
        })
        .collect()
}

fn range(low: f64, median: f64, high: f64) -> Range {
    Range { low, median, high }
}

fn share(cause: Cause, probability: f64) -> CauseShare {
    CauseShare {
        cause,
        probability,
        sentence: "A sentence.".into(),
    }
}

fn line(label: &str, sentence: &str) -> EvidenceLine {
    EvidenceLine {
        label: label.into(),
        sentence: sentence.into(),
    }
}

fn meaning(outcome: &str, probability: f64, meaning: &str) -> OutcomeMeaning {
    OutcomeMeaning {
        outcome: outcome.into(),
        probability,
        meaning: meaning.into(),
    }
}

fn point(label: &str, current_a: f64, time_s: f64, held: bool) -> EvidencePoint {
    EvidencePoint {
        label: label.into(),
        current_a,
        current_uncertainty_a: 0.012 * current_a,
        time_s,
        time_relative: 0.06,
        held,
    }
}

fn texts(texts: &[&str]) -> Vec<String> {
    texts.iter().map(|t| (*t).to_owned()).collect()
}

fn case(title: &str, equipment: &str, rated_a: f64) -> Case {
    Case {
        title: title.into(),
        equipment: equipment.into(),
        ..Case::of(Nameplate::of_rating(rated_a))
    }
}

fn bench(label: &str, unit: Unit, current_a: f64, outcome: Outcome) -> Event {
    Event {
        label: label.into(),
        unit,
        setting: Setting::Bench {
            current_a: Measured::new(current_a, 0.012 * current_a),
        },
        before: Before::Cold,
        air_k: Some(Measured::new(294.15, 1.0)),
        outcome,
        times: 1,
        reset_between_s: None,
    }
}

fn tripped(after_s: f64) -> Outcome {
    Outcome::Tripped {
        after_s: Measured::new(after_s, 0.3),
    }
}

/// A worn part on the heater of a drying cupboard.
pub fn worn() -> (Diagnosis, Case) {
    let mut case = case(
        "Drying cupboard trips on mild days",
        "Heater of the drying cupboard, pottery studio (invented)",
        20.0,
    );
    case.equipment_rated_a = Some(17.0);
    case.marking_agrees = Some(true);
    case.age_years = Some(9.0);
    case.trips_so_far = Some(40);
    case.short_circuit = Some(false);
    case.events = vec![
        bench("label: new, 40 A, 20.4 s", Unit::AsNew, 40.0, tripped(20.4)),
        bench(
            "trip 3: 40 A on the bench",
            Unit::ThisPart,
            40.0,
            tripped(7.1),
        ),
    ];
    let diagnosis = Diagnosis {
        format: 2,
        version: "0.1.0".into(),
        case: case.title.clone(),
        equipment: case.equipment.clone(),
        seed: 7,
        rated_current_a: 20.0,
        reference_ambient_c: 23.0,
        energise: Energise::Yes,
        verdict: Verdict::ReplaceTheProtector,
        mend: vec![Verdict::ReplaceTheProtector],
        also: Vec::new(),
        confidence: 0.972,
        sentence: "It trips although the heater draws 16.8 A, well below its rating in this air: its spring has lost \
                   about 58 % of its preload. It trips too early, not too late."
            .into(),
        base_rule: BaseRule {
            verdict: Verdict::ReplaceTheProtector,
            sentence: "The current is clearly below the rating and it trips: the protector is worn.".into(),
        },
        causes: vec![
            share(Cause::WornEarly, 0.981),
            share(Cause::HotSurroundings, 0.034),
            share(Cause::BadConnection, 0.012),
            share(Cause::Overload, 0.004),
            share(Cause::StartOrStall, 0.001),
            share(Cause::WornLate, 0.0),
            share(Cause::WrongRating, 0.002),
            share(Cause::NothingWrong, 0.0),
        ],
        combinations: vec![Combination {
            causes: vec![Cause::WornEarly],
            probability: 0.94,
        }],
        state: State {
            preload_loss: range(0.52, 0.58, 0.64),
            release_force_factor: range(0.97, 1.0, 1.03),
            trip_point_now_a: range(14.8, 15.7, 16.5),
            trip_point_now_over_new: range(0.61, 0.65, 0.69),
            joint_w: range(0.0, 0.1, 0.3),
            air_at_the_part_c: range(21.0, 23.4, 26.0),
            true_current_a: range(16.4, 16.8, 17.2),
        },
        counterfactuals: texts(&[
            "A sound part at this current and in this air would have tripped with probability 1 %.",
            "With the air at 5 °C this part would hold.",
        ]),
        ruled_out: texts(&[
            "The joints: the drop is that of the sister pole.",
            "The air: 23 °C at the part.",
            "The meter: true RMS.",
        ]),
        evidence: vec![
            line("clamp, true RMS: 16.8 A up to the trip", "0.84 times the rating: a sound part carries it for ever."),
            line("air at the part: 23 °C", "Nothing is taken from the rating."),
            line("trip after about 12 min from cold", "Far too early for a sound part at 16.8 A."),
            line("drop 40 mV, sister pole 41 mV", "No joint heats the strip."),
            line("label: new, 40 A, 20.4 s", "Says where this part stood when it was new."),
            line("trip 3: 40 A on the bench", "A third of the time on its label."),
        ],
        contradictions: Vec::new(),
        next: vec![NextMeasurement {
            what: "Hold test at 20 A on the bench, until warm".into(),
            how: "Low-voltage source, part removed, 1.2 m of its own cable at either end, air 23 °C; stop after 1 h.".into(),
            information_bits: 0.11,
            minutes: 65.0,
            trips_used: 1.0,
            outcomes: vec![
                meaning("It trips", 0.97, "worn beyond doubt: replace it."),
                meaning("It holds", 0.03, "not worn: look for heat at its place again."),
            ],
        }],
        waits: Some(Waits {
            reset_s: Some(range(9.2, 14.0, 22.0)),
            start_s: Some(range(9.2, 14.0, 22.0)),
            sentence: "No start-up surge is known of this machine.".into(),
        }),
        characteristic: characteristic(20.0, [70.0, 80.0, 96.0], [31.0, 34.0, 38.0]),
        points: vec![
            point("trip after about 12 min from cold", 16.8, 720.0, false),
            point("label: new, 40 A, 20.4 s", 40.0, 20.4, false),
            point("trip 3: 40 A on the bench", 40.0, 7.1, false),
        ],
        would_prove_wrong: texts(&[
            "It holds 20 A on the bench at 23 °C for an hour.",
            "A new part of the same rating trips at the same place as well.",
        ]),
        cannot_tell_apart: texts(&[
            "Preload lost in the spring or calibration drifted: both are mended by a new part.",
        ]),
        replacement: Vec::new(),
        cautions: Vec::new(),
        assumed: texts(&["the spring works against the strip", "stop-watch error 0.3 s"]),
        computed_with: "4000 simulated parts of this nameplate, each weighed by the evidence; 312 carry the answer.".into(),
    };
    (diagnosis, case)
}

/// One reading with a meter that reads low.
pub fn unsure() -> (Diagnosis, Case) {
    let (mut diagnosis, _) = worn();
    let mut case = case(
        "Pug mill stops",
        "Pug mill with a speed drive, pottery studio (invented)",
        13.0,
    );
    case.assumed = texts(&["air at the part as in the room"]);
    diagnosis.case = case.title.clone();
    diagnosis.equipment = case.equipment.clone();
    diagnosis.rated_current_a = 13.0;
    diagnosis.verdict = Verdict::NotEnoughEvidence;
    diagnosis.confidence = 0.55;
    diagnosis.sentence = "The meter reads the average of a current that is no sine, so the true current may be anything \
                          from 11 A to 18 A: above the rating or below it."
        .into();
    diagnosis.base_rule.sentence =
        "11.3 A is below the rating of 13 A and it trips: the protector is worn. Not ruled out: \
                                    the meter, the air at the part, a joint."
            .into();
    diagnosis.causes = vec![
        share(Cause::Overload, 0.55),
        share(Cause::WornEarly, 0.29),
        share(Cause::StartOrStall, 0.13),
        share(Cause::HotSurroundings, 0.07),
        share(Cause::BadConnection, 0.04),
        share(Cause::WrongRating, 0.03),
        share(Cause::WornLate, 0.02),
        share(Cause::NothingWrong, 0.015),
    ];
    diagnosis.state.preload_loss = range(0.0, 0.12, 0.66);
    diagnosis.state.trip_point_now_a = range(9.9, 14.6, 17.1);
    diagnosis.evidence = vec![
        line(
            "clamp, average responding: 11.3 A",
            "Reads 5 to 40 % low on a drive: says little.",
        ),
        line("room 24 °C", "The air at the part was not measured."),
        line(
            "trip after 8.3 min from cold",
            "Fits a sound part at 16 A to 17 A, or a worn one at 11 A to 13 A.",
        ),
    ];
    diagnosis.points = vec![EvidencePoint {
        current_uncertainty_a: 1.4,
        ..point("trip after 8.3 min from cold", 13.6, 498.0, false)
    }];
    diagnosis.characteristic = characteristic(13.0, [64.0, 80.0, 100.0], [38.0, 70.0, 96.0]);
    diagnosis.ruled_out = texts(&["Nothing is ruled out yet."]);
    diagnosis.counterfactuals.clear();
    diagnosis.would_prove_wrong.clear();
    diagnosis.next = vec![NextMeasurement {
        what: "True-RMS current up to a trip, same conductor".into(),
        how: "Clamp meter marked true RMS, jaw closed and centred; note the highest steady value before it trips.".into(),
        information_bits: 0.74,
        minutes: 12.0,
        trips_used: 1.0,
        outcomes: vec![
            meaning("Above 15 A", 0.62, "the machine draws too much: find out why. The protector did its job."),
            meaning("Below 12.5 A", 0.28, "the protector is worn: replace it."),
        ],
    }];
    (diagnosis, case)
}

/// A part that does not trip at twice its rating; and two lines that do not go together.
pub fn late() -> (Diagnosis, Case) {
    let (mut diagnosis, _) = worn();
    let mut case = case(
        "Pump ran on when the filter was blocked",
        "Irrigation pump, 12 A protector (invented)",
        12.0,
    );
    case.signs = vec![Sign::Smell];
    case.nameplate.resets_itself = true;
    case.events = vec![bench(
        "bench: 24 A from cold, no trip in 6 min",
        Unit::ThisPart,
        24.0,
        Outcome::Held { for_s: 360.0 },
    )];
    diagnosis.case = case.title.clone();
    diagnosis.equipment = case.equipment.clone();
    diagnosis.rated_current_a = 12.0;
    diagnosis.energise = Energise::No {
        why: vec![WhyNot::Signs {
            signs: case.signs.clone(),
        }],
    };
    diagnosis.verdict = Verdict::DoNotReEnergise;
    diagnosis.confidence = 0.93;
    diagnosis.sentence = "The protector releases far too late or not at all: dried lubricant or a jammed latch. The pump \
                          is not protected."
        .into();
    diagnosis.base_rule = BaseRule {
        verdict: Verdict::NotEnoughEvidence,
        sentence: "The base rule knows no late protector: no answer.".into(),
    };
    diagnosis.causes = vec![
        share(Cause::WornLate, 0.93),
        share(Cause::Overload, 0.71),
        share(Cause::WrongRating, 0.05),
    ];
    diagnosis.state.preload_loss = range(0.0, 0.03, 0.1);
    diagnosis.state.trip_point_now_a = range(21.0, 26.4, f64::INFINITY);
    diagnosis.evidence = vec![
        line(
            "bench: 24 A from cold, no trip in 6 min",
            "Sound parts trip within 2 min here.",
        ),
        line("trip after 40 s at 24 A", "That is a sound part."),
    ];
    diagnosis.contradictions = vec![Contradiction {
        one: "bench: 24 A from cold, no trip in 6 min".into(),
        other: "trip after 40 s at 24 A".into(),
        sentence: "no part does both from cold at the same current; one of the two currents is not what it says.".into(),
    }];
    diagnosis.points = vec![
        point("bench: 24 A from cold, no trip in 6 min", 24.0, 360.0, true),
        point("trip after 40 s at 24 A", 24.0, 40.0, false),
    ];
    diagnosis.characteristic = characteristic(12.0, [64.0, 80.0, 100.0], [190.0, 320.0, 900.0]);
    diagnosis.ruled_out.clear();
    diagnosis.counterfactuals = texts(&[
        "A sound part would have tripped at 24 A within 6 min with probability above 99 %.",
    ]);
    diagnosis.would_prove_wrong =
        texts(&["It trips three times in a row within 2 min at 24 A, from cold."]);
    diagnosis.next.clear();
    diagnosis.waits = None;
    (diagnosis, case)
}

/// Two causes, and far more text than fits: nobody's case.
pub fn crowded() -> (Diagnosis, Case) {
    let (mut diagnosis, mut case) = worn();
    let long = "A sentence that goes on and on, as people write when they have seen a great deal and want to say all of it. ";
    diagnosis.verdict = Verdict::TwoCauses;
    diagnosis.combinations.insert(
        0,
        Combination {
            causes: vec![Cause::WornEarly, Cause::HotSurroundings],
            probability: 0.8,
        },
    );
    diagnosis
        .causes
        .iter_mut()
        .for_each(|c| c.probability = 0.3);
    for text in [&mut diagnosis.sentence, &mut diagnosis.base_rule.sentence] {
        *text = long.repeat(6);
    }
    diagnosis.evidence = (0..20)
        .map(|k| line(&format!("{k} {long}"), &long.repeat(3)))
        .collect();
    diagnosis.contradictions = (0..4)
        .map(|k| Contradiction {
            one: format!("{k} {long}"),
            other: long.into(),
            sentence: long.repeat(2),
        })
        .collect();
    for list in [
        &mut diagnosis.ruled_out,
        &mut diagnosis.counterfactuals,
        &mut diagnosis.would_prove_wrong,
        &mut diagnosis.cannot_tell_apart,
        &mut diagnosis.assumed,
    ] {
        *list = (0..8).map(|_| long.repeat(2)).collect();
    }
    if let Some(next) = diagnosis.next.first_mut() {
        next.how = long.repeat(5);
        next.outcomes
            .iter_mut()
            .for_each(|o| o.meaning = long.repeat(4));
    }
    diagnosis.computed_with = long.repeat(5);
    diagnosis.case = long.into();
    diagnosis.equipment = long.repeat(2);
    case.assumed = texts(&[long, long]);
    (diagnosis, case)
}

/// All of them.
pub fn all() -> [(Diagnosis, Case); 4] {
    [worn(), unsure(), late(), crowded()]
}
