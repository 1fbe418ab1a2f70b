//! Diagnoses and their cases, made by hand and invented: what an inference would fill. The
//! characteristic is drawn with a two-time-constant sum, good enough for a picture.

use crate::support::made;
use relatch::internals::answer::{Caution, WhyNever};
use relatch::internals::diagnose::*;
use relatch::internals::evidence::{
    AirPlace, Before, Case, Event, Measured, Meter, Outcome, Setting, Sign, Unit, Waveform,
};
use relatch::internals::family::{Assumed, Nameplate, PartsWait, Spread};

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
            made!(BandPoint {
                current_a: rated_a * multiple,
                sound_s: sound_k.map(|d| time_s(multiple, d)),
                this_part_s: this_k.map(|d| time_s(multiple, d)),
            })
        })
        .collect()
}

fn range(low: f64, median: f64, high: f64) -> Spread {
    made!(Spread { low, median, high })
}

fn share(cause: Cause, probability: f64) -> CauseShare {
    made!(CauseShare { cause, probability })
}

fn result(shows: Shows, probability: f64, mend: Verdict, right: f64) -> Meaning {
    Meaning {
        shows,
        probability,
        mend: vec![mend],
        right,
    }
}

fn read(label: &str, current_a: f64, rated_a: f64, meter: Meter) -> Evidence {
    Evidence {
        label: label.into(),
        says: Says::Current {
            current_a,
            uncertainty_a: 0.012 * current_a,
            over_rated: current_a / rated_a,
            meter,
            waveform: Waveform::Unknown,
        },
    }
}

fn air(label: &str, temperature_c: f64) -> Evidence {
    Evidence {
        label: label.into(),
        says: Says::Air {
            place: AirPlace::AtThePart,
            temperature_c,
            above_reference_k: temperature_c - 23.0,
        },
    }
}

fn happened(label: &str, unit: Unit, load: Load, outcome: Happened) -> Evidence {
    Evidence {
        label: label.into(),
        says: Says::Event {
            unit,
            load,
            outcome,
            times: 1,
        },
    }
}

fn wait(half_s: f64, nineteen_of_twenty_s: f64) -> PartsWait {
    let all = [
        (0.7 * half_s, 0.06),
        (half_s, 0.5),
        (nineteen_of_twenty_s, 0.44),
    ];
    PartsWait::over(&all, WhyNever::StaysWarm)
}

fn point(label: &str, current_a: f64, time_s: f64, held: bool) -> EvidencePoint {
    made!(EvidencePoint {
        label: label.into(),
        current_a,
        current_uncertainty_a: 0.012 * current_a,
        time_s,
        time_relative: 0.06,
        held,
    })
}

fn case(title: &str, equipment: &str, rated_a: f64) -> Case {
    made!(Case {
        title: title.into(),
        equipment: equipment.into(),
        ..Case::of(Nameplate::of_rating(rated_a))
    })
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
        mended: 0,
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
    let bench_at = |current_a| Load::Bench { current_a };
    let after = |after_s| Happened::Tripped { after_s };
    let diagnosis = made!(Diagnosis {
        format: 3,
        version: "0.1.0".into(),
        case: case.title.clone(),
        equipment: case.equipment.clone(),
        seed: 7,
        rated_current_a: 20.0,
        reference_ambient_c: 23.0,
        bench_only: false,
        energise: Energise::Yes,
        verdict: Verdict::ReplaceTheProtector,
        mend: vec![Verdict::ReplaceTheProtector],
        mend_first: Vec::new(),
        also: Vec::new(),
        likely: vec![Verdict::ReplaceTheProtector],
        confidence: 0.972,
        base_rule: made!(BaseRule {
            verdict: Verdict::ReplaceTheProtector,
            current_a: Some(16.8),
        }),
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
        combinations: vec![made!(Combination {
            causes: vec![Cause::WornEarly],
            probability: 0.94,
        })],
        state: made!(State {
            preload_loss: range(0.52, 0.58, 0.64),
            release_force_factor: range(0.97, 1.0, 1.03),
            trip_point_now_a: range(14.8, 15.7, 16.5),
            trip_point_now_over_new: range(0.61, 0.65, 0.69),
            joint_w: range(0.0, 0.1, 0.3),
            air_at_the_part_c: range(21.0, 23.4, 26.0),
            true_current_a: range(16.4, 16.8, 17.2),
        }),
        otherwise: vec![
            made!(Otherwise {
                change: Change::SoundPart,
                trips: 0.01,
            }),
            made!(Otherwise {
                change: Change::RoomAir,
                trips: 0.93,
            }),
        ],
        still_open: vec![StillOpen::LimitsNotKnown],
        not_modelled: Vec::new(),
        evidence: vec![
            read("clamp up to the trip", 16.8, 20.0, Meter::TrueRms),
            air("air at the part", 23.0),
            happened("first trip", Unit::ThisPart, Load::InService, after(720.0)),
            Evidence {
                label: "drop beside the sister pole".into(),
                says: Says::Drop {
                    voltage_v: 0.040,
                    current_a: 16.8,
                    over_sister: Some(0.98),
                },
            },
            happened(
                "label: new, 40 A, 20.4 s",
                Unit::AsNew,
                bench_at(40.0),
                after(20.4),
            ),
            happened(
                "trip 3: 40 A on the bench",
                Unit::ThisPart,
                bench_at(40.0),
                after(7.1),
            ),
        ],
        does_not_fit: Vec::new(),
        contradictions: Vec::new(),
        next: vec![NextMeasurement {
            measurement: Measurement::HoldTest { current_a: 20.0 },
            information_bits: 0.11,
            minutes: 130.0,
            trips_used: 1.0,
            results: vec![
                result(
                    Shows::UpTo { value: 7200.0 },
                    0.97,
                    Verdict::ReplaceTheProtector,
                    0.99,
                ),
                result(
                    Shows::Above { value: 7200.0 },
                    0.03,
                    Verdict::CoolOrReRate,
                    0.6,
                ),
            ],
        }],
        plan: Vec::new(),
        waits: Some(made!(Waits {
            by_own_load: true,
            reset: wait(14.0, 22.0),
            start: wait(14.0, 22.0),
        })),
        characteristic: characteristic(20.0, [70.0, 80.0, 96.0], [31.0, 34.0, 38.0]),
        points: vec![
            point("first trip", 16.8, 720.0, false),
            point("label: new, 40 A, 20.4 s", 40.0, 20.4, false),
            point("trip 3: 40 A on the bench", 40.0, 7.1, false),
        ],
        cannot_tell_apart: vec![Alike::LossOrDrift],
        cautions: vec![
            Caution::FindCause,
            Caution::FaultSigns,
            Caution::StartsByItself,
            Caution::NeverHold,
            Caution::WindingCoolsLonger,
            Caution::DeliberateOverload,
            Caution::NeverRaise,
            Caution::ModelEstimate,
        ],
        assumed: vec![Assumed::NotCompensated],
        computed: made!(Computed {
            designs: 160,
            by_superposition: 40_000,
            by_the_engine: 2000,
            effective: 312.0,
        }),
    });
    (diagnosis, case)
}

/// One reading with a meter that reads low.
pub fn unsure() -> (Diagnosis, Case) {
    let (mut diagnosis, _) = worn();
    let case = case(
        "Pug mill stops",
        "Pug mill with a speed drive, pottery studio (invented)",
        13.0,
    );
    diagnosis.case = case.title.clone();
    diagnosis.equipment = case.equipment.clone();
    diagnosis.rated_current_a = 13.0;
    diagnosis.verdict = Verdict::NotEnoughEvidence;
    diagnosis.mend.clear();
    diagnosis.likely = vec![Verdict::FindTheLoad];
    diagnosis.confidence = 0.55;
    diagnosis.base_rule.current_a = Some(11.3);
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
        read("clamp", 11.3, 13.0, Meter::AverageResponding),
        air("room", 24.0),
        happened(
            "trip after 8.3 min from cold",
            Unit::ThisPart,
            Load::InService,
            Happened::Tripped { after_s: 498.0 },
        ),
    ];
    diagnosis.points = vec![made!(EvidencePoint {
        current_uncertainty_a: 1.4,
        ..point("trip after 8.3 min from cold", 13.6, 498.0, false)
    })];
    diagnosis.characteristic = characteristic(13.0, [64.0, 80.0, 100.0], [38.0, 70.0, 96.0]);
    diagnosis.still_open = vec![StillOpen::MeterMayReadLow];
    diagnosis.otherwise.clear();
    diagnosis.next = vec![NextMeasurement {
        measurement: Measurement::CurrentUpToTheTrip,
        information_bits: 0.74,
        minutes: 12.0,
        trips_used: 1.0,
        results: vec![
            result(
                Shows::UpTo { value: 12.5 },
                0.3,
                Verdict::ReplaceTheProtector,
                0.7,
            ),
            result(Shows::Above { value: 12.5 }, 0.7, Verdict::FindTheLoad, 0.9),
        ],
    }];
    diagnosis.cautions.insert(5, Caution::LiveWork);
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
    let (held, tripped) = (
        "bench: 24 A from cold, no trip in 6 min",
        "trip after 40 s at 24 A",
    );
    case.signs = vec![Sign::Smell];
    case.nameplate.resets_itself = true;
    case.events = vec![bench(
        held,
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
    diagnosis.base_rule = made!(BaseRule {
        verdict: Verdict::NotEnoughEvidence,
        current_a: None,
    });
    diagnosis.causes = vec![
        share(Cause::WornLate, 0.93),
        share(Cause::Overload, 0.71),
        share(Cause::WrongRating, 0.05),
    ];
    diagnosis.state.preload_loss = range(0.0, 0.03, 0.1);
    diagnosis.state.trip_point_now_a = range(21.0, 26.4, 30.0);
    let at_twice = Load::Bench { current_a: 24.0 };
    diagnosis.evidence = vec![
        happened(
            held,
            Unit::ThisPart,
            at_twice,
            Happened::Held { for_s: 360.0 },
        ),
        happened(
            tripped,
            Unit::ThisPart,
            at_twice,
            Happened::Tripped { after_s: 40.0 },
        ),
    ];
    diagnosis.contradictions = vec![made!(Contradiction {
        one: held.into(),
        other: tripped.into(),
        probability: 0.7,
    })];
    diagnosis.does_not_fit = vec![made!(Misfit {
        entry: "clamp meter".into(),
        probability: 0.83,
        expected: Some(Expected::CurrentA(range(21.2, 24.0, 27.1))),
    })];
    diagnosis.points = vec![
        point(held, 24.0, 360.0, true),
        point(tripped, 24.0, 40.0, false),
    ];
    diagnosis.characteristic = characteristic(12.0, [64.0, 80.0, 100.0], [190.0, 320.0, 900.0]);
    diagnosis.otherwise.clear();
    diagnosis.next.clear();
    diagnosis.waits = None;
    (diagnosis, case)
}

/// Two causes, and far more text than fits: nobody's case.
pub fn crowded() -> (Diagnosis, Case) {
    let (mut diagnosis, case) = worn();
    let long = "A sentence that goes on and on, as people write when they have seen a great deal and want to say all of it. ";
    diagnosis.verdict = Verdict::TwoCauses;
    diagnosis.mend = vec![Verdict::CoolOrReRate, Verdict::ReplaceTheProtector];
    diagnosis.combinations.insert(
        0,
        made!(Combination {
            causes: vec![Cause::WornEarly, Cause::HotSurroundings],
            probability: 0.8,
        }),
    );
    for cause in &mut diagnosis.causes {
        cause.probability = 0.3;
    }
    diagnosis.evidence = (0..20).map(|k| air(&format!("{k} {long}"), 23.0)).collect();
    diagnosis.contradictions = (0..4)
        .map(|k| {
            made!(Contradiction {
                one: format!("{k} {long}"),
                other: long.into(),
                probability: 0.6,
            })
        })
        .collect();
    diagnosis.case = long.into();
    diagnosis.equipment = long.repeat(2);
    (diagnosis, case)
}

/// All of them.
pub fn all() -> [(Diagnosis, Case); 4] {
    [worn(), unsure(), late(), crowded()]
}
