//! From a case to its diagnosis.

use super::advice::Advice;
use super::bands::bands;
use super::base_rule::base_rule;
use super::cooling::waits;
use super::energise::{Energise, too_soon};
use super::hypothesis::mends;
use super::judge::{SURE_ENOUGH, most_probable, of_cause};
use super::latent::{Guess, JOINT, LATE, LOAD, LOSS};
use super::next::{matters, next};
use super::otherwise::{Otherwise, may_start, otherwise};
use super::posterior::Posterior;
use super::readings::labels;
use super::record::{
    Cause, CauseShare, Combination, Diagnosis, EvidenceLine, EvidencePoint, Range, State, Verdict,
};
use super::say::{amperes, celsius, percent, time};
use super::scales::Scales;
use super::sheet::replacement;
use super::words;
use crate::evidence::{Case, Event, Meter, Outcome, Setting, Unit, Waveform};
use crate::family::{Family, FamilyError, Wear};
use crate::predict::parallel;
use crate::statistics::weighted::Weighted;

/// Version of the record's layout.
const FORMAT: u32 = 2;
/// Designs of the family.
const DESIGNS: usize = 160;
/// Parts whose trip points are computed.
const STATES: usize = 100;

/// Diagnose a case. The same seed gives the same bytes.
///
/// # Errors
/// No protector of the family keeps the published limits of the case.
pub fn diagnose(case: &Case, seed: u64) -> Result<Diagnosis, FamilyError> {
    let family = Family::new(&case.nameplate, DESIGNS)?;
    Ok(with_family(case, &family, seed))
}

/// Diagnose a case with a family that is at hand.
pub fn with_family(case: &Case, family: &Family, seed: u64) -> Diagnosis {
    let scales = Scales::new(case, family);
    let posterior = Posterior::of(&scales, seed);
    let (advice, probability) = most_probable(&posterior);
    let late = of_cause(&posterior, Cause::WornLate);
    let joint = of_cause(&posterior, Cause::BadConnection);
    let too_soon = too_soon(case, family);
    let fault = !case.signs.is_empty() || !too_soon.is_empty();
    let (verdict, confidence) = if fault {
        (Verdict::DoNotReEnergise, 1.0)
    } else if probability >= SURE_ENOUGH {
        (advice.verdict(), probability)
    } else {
        (Verdict::NotEnoughEvidence, probability)
    };
    let thought = otherwise(&scales, &posterior, seed);
    let state = state(&scales, &posterior, seed);
    let conflicts = posterior.bests.contradictions(&labels(case));
    let mut assumed = case.assumed.clone();
    assumed.extend(case.nameplate.assumed.iter().map(ToString::to_string));
    let mut causes: Vec<CauseShare> = Cause::ALL
        .iter()
        .map(|c| CauseShare {
            cause: *c,
            probability: of_cause(&posterior, *c),
            sentence: words::cause(*c).into(),
        })
        .collect();
    causes.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    let energise = Energise::by_rule(case, too_soon, verdict, joint, late);
    let energised = energise.lets_measure();
    let mend: Vec<Verdict> = if verdict == advice.verdict() {
        advice.parts().collect()
    } else {
        Vec::new()
    };
    // A late part says all there is to say.
    let also = if mend.is_empty() || verdict == Verdict::DoNotReEnergise {
        Vec::new()
    } else {
        let left = causes.iter().filter(|c| c.probability > 0.5);
        let left = left.filter(|c| !mend.contains(&mends(c.cause)));
        left.map(|c| c.cause).collect()
    };
    let mut combinations: Vec<Combination> = posterior
        .hypotheses
        .iter()
        .zip(&posterior.probability)
        .filter(|(_, p)| **p > 0.005)
        .map(|(h, p)| Combination {
            causes: h.causes.to_vec(),
            probability: *p,
        })
        .collect();
    combinations.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    let effective: f64 = posterior
        .probability
        .iter()
        .zip(&posterior.effective)
        .map(|(p, n)| p * n)
        .sum();
    Diagnosis {
        format: FORMAT,
        version: env!("CARGO_PKG_VERSION").into(),
        case: case.title.clone(),
        equipment: case.equipment.clone(),
        seed,
        rated_current_a: case.nameplate.rated_current_a,
        reference_ambient_c: case.nameplate.reference_ambient_k - 273.15,
        energise,
        verdict,
        confidence,
        sentence: sentence(verdict, advice, probability),
        mend,
        also,
        base_rule: base_rule(case),
        causes,
        combinations,
        counterfactuals: counterfactuals(case, &thought, &state),
        ruled_out: still_open(case),
        evidence: evidence(case),
        contradictions: conflicts,
        next: if fault || !matters(&posterior) {
            Vec::new()
        } else {
            next(&scales, &posterior, energised, seed)
        },
        waits: if fault {
            None
        } else {
            waits(&scales, &posterior, seed)
        },
        characteristic: bands(&scales, &posterior, seed),
        points: points(case, &state),
        would_prove_wrong: words::proved_wrong_by(verdict)
            .iter()
            .map(|s| (*s).into())
            .collect(),
        cannot_tell_apart: cannot_tell_apart(case),
        replacement: replacement(case),
        cautions: Vec::new(),
        assumed,
        computed_with: format!(
            "{} designs of the family, {} guesses looked at by superposition, {} of them simulated by the engine \
             ({effective:.0} carry the answer), seed {seed}; trip times of guesses to 0.1 %",
            family.members().len(),
            posterior.scouted,
            posterior.carriers.len()
        ),
        state,
    }
}

fn sentence(verdict: Verdict, advice: Advice, probability: f64) -> String {
    if verdict == Verdict::NotEnoughEvidence {
        return format!(
            "{} So far the most likely: {} ({}).",
            words::verdict(verdict),
            words::in_short(advice),
            percent(probability)
        );
    }
    match advice.second {
        Some(second) if verdict == Verdict::TwoCauses => words::two(advice.first, second),
        _ => words::verdict(verdict).into(),
    }
}

fn state(scales: &Scales<'_>, posterior: &Posterior, seed: u64) -> State {
    let over = |f: &dyn Fn(&Guess) -> f64| {
        let all = posterior.carriers.iter().map(|c| (f(&c.guess), c.weight));
        Range::of(&Weighted::new(all)).unwrap_or_default()
    };
    let rated = scales.case.nameplate.rated_current_a;
    let reference_k = scales.case.nameplate.reference_ambient_k;
    let chosen = posterior.sample(STATES, seed ^ 0x05);
    let now: Vec<(f64, f64)> = parallel::map(
        &chosen,
        |carrier| {
            let guess = &carrier.guess;
            let wear = Wear {
                joint_w: 0.0,
                ..guess.wear(scales.sound_w(guess))
            };
            let a = scales
                .part(guess, wear)
                .trip_point_a(reference_k)
                .unwrap_or(f64::NAN);
            (a, a / (rated * guess.drawn.placing.trip_multiple))
        },
        &mut |_| {},
    );
    let of = |f: &dyn Fn(&(f64, f64)) -> f64| {
        Range::of(&Weighted::equal(now.iter().map(f))).unwrap_or_default()
    };
    State {
        preload_loss: over(&|g| g.x[LOSS]),
        release_force_factor: over(&|g| g.x[LATE].exp()),
        trip_point_now_a: of(&|n| n.0),
        trip_point_now_over_new: of(&|n| n.1),
        joint_w: over(&|g| scales.sound_w(g) * g.x[JOINT].exp()),
        air_at_the_part_c: over(&|g| scales.air_k(g) - 273.15),
        true_current_a: over(&|g| rated * g.x[LOAD].exp()),
    }
}

fn counterfactuals(case: &Case, thought: &Otherwise, state: &State) -> Vec<String> {
    let trips_in_service = case
        .events
        .iter()
        .any(|e| e.unit == Unit::ThisPart && !matches!(e.setting, Setting::Bench { .. }));
    if !trips_in_service {
        return Vec::new();
    }
    let mut out = vec![format!(
        "A sound part carrying the same {} in the same place would trip within half a day with probability {}.",
        amperes(state.true_current_a.median),
        percent(thought.sound_part)
    )];
    out.push(format!(
        "This part, with no more than its rated current, would trip with probability {}.",
        percent(thought.load_cured)
    ));
    if !case.nameplate.compensated {
        out.push(format!(
            "With the air of the room at the part (instead of about {:.0} °C) it would trip with probability {}.",
            state.air_at_the_part_c.median,
            percent(thought.place_cured)
        ));
    }
    out.push(format!(
        "Without the heat of a joint it would trip with probability {}.",
        percent(thought.joint_cured)
    ));
    if may_start(case) {
        out.push(format!(
            "Without the surge of a start it would trip with probability {}.",
            percent(thought.start_cured)
        ));
    }
    out
}

fn still_open(case: &Case) -> Vec<String> {
    let mut out = Vec::new();
    if !case.readings.is_empty()
        && case.waveform != Waveform::Sine
        && case.readings.iter().all(|r| r.meter != Meter::TrueRms)
    {
        out.push("The meter may read low on this waveform; only a true-RMS meter decides.".into());
    }
    if case.nameplate.windows.is_empty() {
        out.push("The published limits of this part are not known.".into());
    }
    out
}

fn evidence(case: &Case) -> Vec<EvidenceLine> {
    let rated = case.nameplate.rated_current_a;
    let mut out = Vec::new();
    let mut line = |label: &str, sentence: String| {
        out.push(EvidenceLine {
            label: label.into(),
            sentence,
        });
    };
    for r in &case.readings {
        let meter = match (r.meter, case.waveform) {
            (Meter::TrueRms, _) => "true RMS",
            (_, Waveform::Sine) => "right on a sine",
            (Meter::AverageResponding, _) => "average-responding: may read low",
            (Meter::Unknown, _) => "kind of meter not known: may read low",
        };
        line(
            &r.label,
            format!(
                "{} ± {}, {:.0} % of the rating; {meter}",
                amperes(r.current_a.value),
                amperes(2.0 * r.current_a.standard_uncertainty),
                100.0 * r.current_a.value / rated
            ),
        );
    }
    for a in &case.air {
        line(
            &a.label,
            format!(
                "{}, {:+.0} K from the reference air",
                celsius(a.temperature_k.value),
                a.temperature_k.value - case.nameplate.reference_ambient_k
            ),
        );
    }
    if let Some(s) = &case.start {
        line(
            &s.label,
            format!(
                "{} for {}",
                amperes(s.peak_a.value),
                time(s.duration_s.value)
            ),
        );
    }
    for d in &case.drops {
        let own = d.voltage_v.value / d.current_a.value;
        let beside = match d.sister_v {
            Some(s) => format!(
                ", {:.1} times that of the sister",
                d.voltage_v.value / s.value
            ),
            None => String::new(),
        };
        line(
            &d.label,
            format!(
                "{:.0} mV at {}: {:.1} mohm{beside}",
                1e3 * d.voltage_v.value,
                amperes(d.current_a.value),
                1e3 * own
            ),
        );
    }
    if let Some(t) = &case.terminals {
        line(
            &t.label,
            format!(
                "{} and {}: {:.0} K apart",
                celsius(t.hotter_k.value),
                celsius(t.other_k.value),
                t.hotter_k.value - t.other_k.value
            ),
        );
    }
    for e in &case.events {
        line(&e.label, said(e));
    }
    out
}

/// An event in words.
fn said(event: &Event) -> String {
    let who = match event.unit {
        Unit::ThisPart => "",
        Unit::AsNew => "as new: ",
        Unit::Twin => "a sound twin: ",
    };
    let load = match &event.setting {
        Setting::Bench { current_a } => format!(" at {} on a bench", amperes(current_a.value)),
        Setting::Recorded(_) => " under the recorded current".into(),
        Setting::InService { .. } => " on the machine".into(),
    };
    let what = match event.outcome {
        Outcome::Tripped { after_s } => format!("tripped after {}", time(after_s.value)),
        Outcome::TrippedWithin { from_s, to_s } => {
            format!("tripped between {} and {}", time(from_s), time(to_s))
        }
        Outcome::Held { for_s } => format!("held for {}", time(for_s)),
    };
    let often = if event.times > 1 {
        format!(", {} times", event.times)
    } else {
        String::new()
    };
    format!("{who}{what}{load}{often}")
}

fn cannot_tell_apart(case: &Case) -> Vec<String> {
    let mut out = vec![words::LOSS_OR_DRIFT.to_owned()];
    if !case.events.iter().any(|e| e.unit != Unit::ThisPart) {
        out.push(words::NO_BASELINE.into());
    }
    if case.equipment_rated_a.is_none() {
        out.push(words::LOAD_OR_RATING.into());
    }
    out
}

fn points(case: &Case, state: &State) -> Vec<EvidencePoint> {
    case.events
        .iter()
        .filter(|e| e.unit == Unit::ThisPart)
        .filter_map(|e| {
            let (current_a, u) = match &e.setting {
                Setting::Bench { current_a } => (current_a.value, current_a.standard_uncertainty),
                Setting::InService { .. } => {
                    let r = state.true_current_a;
                    (r.median, (r.high - r.low) / 3.3)
                }
                Setting::Recorded(_) => return None,
            };
            let (time_s, relative, held) = match e.outcome {
                Outcome::Tripped { after_s } => (after_s.value, after_s.relative(), false),
                Outcome::TrippedWithin { from_s, to_s } => {
                    let low = from_s.max(1e-2 * to_s);
                    ((low * to_s).sqrt(), 0.5 * (to_s / low).ln(), false)
                }
                Outcome::Held { for_s } => (for_s, 0.0, true),
            };
            time_s.is_finite().then(|| EvidencePoint {
                label: e.label.clone(),
                current_a,
                current_uncertainty_a: u,
                time_s,
                time_relative: relative,
                held,
            })
        })
        .collect()
}
