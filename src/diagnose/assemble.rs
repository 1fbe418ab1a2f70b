//! From a case to its diagnosis.

use super::advice::Advice;
use super::bands::bands;
use super::base_rule::base_rule;
use super::cooling::waits;
use super::energise::{ByEntries, Energise, First, WhyNot};
use super::judge::{causes, is_sure, most_probable, of_cause};
use super::latent::{JOINT, LATE, LOAD, Particle};
use super::looks::Look;
use super::measurement::{Measurement, NextMeasurement};
use super::mended::{is_done, joint_now};
use super::misfit::doubted;
use super::next::{Tried, matters, next};
use super::otherwise::otherwise;
use super::plan::{Action, Step, plan, tests, watch_min};
use super::posterior::Posterior;
use super::record::{Cause, CauseShare, Combination, Computed, Diagnosis, State, Verdict};
use super::scales::Scales;
use super::seen::{evidence, happened, points};
use super::still_open::{cannot_tell_apart, may_read_low, still_open};
use crate::answer::Caution;
use crate::evidence::{Case, Mend};
use crate::family::{Assumed, Family, FamilyError, Spread, Wear};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::predict::parallel;
use crate::statistics::weighted::Weighted;

/// Version of the record's layout.
const FORMAT: u32 = 3;
/// Designs of the family.
const DESIGNS: usize = 160;
/// Parts whose trip points are computed.
const STATES: usize = 100;
/// Probability of a cause from which it is mended although others are open.
const CERTAIN: f64 = 0.9;
/// Least probability of a combination that is told.
const TOLD: f64 = 0.005;

/// Diagnose a case. The same seed gives the same bytes.
///
/// # Errors
/// No protector of the family keeps the published limits of the case.
///
/// ```
/// use relatch::internals::diagnose::{Energise, diagnose};
/// use relatch::internals::evidence::{Case, Event, Reading};
/// use relatch::internals::family::Nameplate;
///
/// let case = Case::of(Nameplate::of_rating(10.0))
///     .with_reading(Reading::true_rms("clamp", 7.0))
///     .with_event(Event::trip_from_cold("first trip", 0.02));
/// let diagnosis = diagnose(&case, 1)?;
/// // No heated strip releases so soon at 7 A.
/// assert!(matches!(diagnosis.energise, Energise::No { .. }));
/// # Ok::<(), relatch::internals::family::FamilyError>(())
/// ```
pub fn diagnose(case: &Case, seed: u64) -> Result<Diagnosis, FamilyError> {
    let family = Family::new(&case.nameplate, DESIGNS)?;
    Ok(with_family(case, &family, seed))
}

/// Diagnose a case with a family that is at hand.
pub fn with_family(case: &Case, family: &Family, seed: u64) -> Diagnosis {
    let scales = Scales::new(case, family);
    let posterior = Posterior::of(&scales, seed);
    let (advice, probability) = most_probable(&posterior);
    let is_replaced = case.has_mended(Mend::Protector);
    // A late part that was replaced is out of service.
    let advice = match advice.verdict() {
        Verdict::DoNotReEnergise if is_replaced => Advice::one(Verdict::ReplaceTheProtector),
        _ => advice,
    };
    let entries = ByEntries::of(&scales);
    let bench_only = case.is_bench_only();
    let nothing_is_told = case.events.is_empty() && case.signs.is_empty() && case.hums.is_none();
    let assumes_a_trip = if nothing_is_told {
        &[Assumed::ItTrips][..]
    } else {
        &[]
    };
    let is_fault = !entries.why.is_empty();
    // What burns is re-made, whatever else is open.
    let is_hot = |w: &WhyNot| matches!(w, WhyNot::HotTerminal { .. });
    let burns = is_fault && entries.why.iter().all(is_hot);
    let is_of_the_part = matches!(
        advice.verdict(),
        Verdict::ReplaceTheProtector | Verdict::DoNotReEnergise
    );
    let certain = certain(case, &entries);
    let denies = !certain.is_empty() && advice == Advice::one(Verdict::NothingToMend);
    let (verdict, confidence) = if is_fault && !burns {
        (Verdict::DoNotReEnergise, 1.0)
    } else if is_sure(advice, probability) && (is_of_the_part || !entries.may_be_late()) && !denies
    {
        (advice.verdict(), probability)
    } else if burns {
        let joint = of_cause(&posterior, Cause::BadConnection);
        (Verdict::ReMakeTheConnection, joint)
    } else {
        (Verdict::NotEnoughEvidence, probability)
    };
    let causes = causes(&posterior);
    let joint = joint_now(case, of_cause(&posterior, Cause::BadConnection));
    let late = match is_replaced {
        true => 0.0,
        false => of_cause(&posterior, Cause::WornLate),
    };
    let energise = Energise::by_rule(case, &entries, verdict, joint, late);
    let mend: Vec<Verdict> = if verdict == advice.verdict() {
        advice.parts().collect()
    } else if burns {
        vec![Verdict::ReMakeTheConnection]
    } else {
        Vec::new()
    };
    let state = state(&scales, &posterior, seed);
    let mut doubted = doubted(&scales, &posterior, seed);
    let misfits = &mut doubted.misfits;
    misfits.retain(|m| !entries.stands_on(&m.entry));
    let since = case.since_mended();
    let holds = since.is_some_and(|e| !e.is_trip());
    let is_done = |mend: &[Verdict]| {
        holds && !mend.is_empty() && mend.iter().all(|v| is_done(&case.mended, *v))
    };
    let is_mended = is_done(&mend);
    // Where a measurement can change nothing, none is tried.
    // What costs nothing comes first, and the plan is for where it shows nothing.
    let looks = match (verdict, &energise) {
        (_, Energise::No { .. }) => Vec::new(),
        (Verdict::NotEnoughEvidence, _) if !bench_only && !entries.may_be_late() => {
            Look::open(case)
        }
        _ => Vec::new(),
    };
    let (mut next, mut plan) =
        if is_fault || is_mended || !matters(&posterior) && !entries.may_be_late() {
            (Vec::new(), Vec::new())
        } else {
            let mut tried = Tried::of(&scales, &posterior, energise.lets_measure(), seed);
            let next = next(&posterior, &tried);
            let is_looked = |m: Measurement| looks.iter().any(|look| look.shows(m));
            tried.shown.retain(|shown| !is_looked(shown.measurement));
            let plan = match verdict {
                Verdict::NotEnoughEvidence if bench_only => tests(&next),
                // Late, or misread: what else is wrong stands on the same entries.
                _ if entries.may_be_late() => Vec::new(),
                Verdict::NotEnoughEvidence => {
                    let read_low = may_read_low(case);
                    plan(
                        &tried.rights,
                        &tried.shown,
                        &energise,
                        read_low,
                        watch_min(case),
                    )
                }
                _ => Vec::new(),
            };
            (next, plan)
        };
    // Where it is known what to do, no trips of the part are spent on more.
    next.retain(|n| verdict == Verdict::NotEnoughEvidence || n.trips_used == 0.0);
    // Where nothing has tripped no mend can be seen to help.
    let nothing_tripped = case.is_told_without_a_trip() && !bench_only;
    plan.retain(|step| match &step.action {
        Action::Mend { mend } => !nothing_tripped && !is_done(mend),
        Action::Measure { .. } => true,
    });
    Diagnosis {
        format: FORMAT,
        version: env!("CARGO_PKG_VERSION").into(),
        case: case.title.clone(),
        equipment: case.equipment.clone(),
        seed,
        rated_current_a: case.nameplate.rated_current_a,
        reference_ambient_c: case.nameplate.reference_ambient_k - ZERO_CELSIUS_K,
        bench_only,
        nothing_tripped,
        verdict,
        confidence,
        mend_first: mend_first(verdict, certain, &causes),
        also: match is_mended {
            true => Vec::new(),
            false => also(verdict, &mend, &causes),
        },
        mended: case.mended.iter().map(|m| m.what).collect(),
        since_mended: since.map(happened),
        is_mended,
        mend,
        likely: advice.parts().collect(),
        base_rule: base_rule(case),
        combinations: combinations(&posterior),
        otherwise: otherwise(&scales, &posterior, seed),
        still_open: still_open(case),
        not_modelled: case.not_modelled(),
        evidence: evidence(case),
        does_not_fit: doubted.misfits,
        contradictions: doubted.contradictions,
        waits: if is_fault {
            None
        } else {
            waits(&scales, &posterior, seed)
        },
        characteristic: bands(&scales, &posterior, seed),
        points: points(case, &state),
        cannot_tell_apart: cannot_tell_apart(case),
        cautions: cautions(verdict, &energise, nothing_tripped, &next, &plan),
        assumed: [&case.assumed[..], &case.nameplate.assumed, assumes_a_trip].concat(),
        computed: computed(family, &posterior),
        causes,
        energise,
        next,
        looks,
        plan,
        state,
    }
}

/// What entries alone say is to be mended: a joint that was measured to be bad or shows marks, air that
/// was measured to be hot, a load that is held and exceeds its plate.
fn certain(case: &Case, entries: &ByEntries) -> Vec<Verdict> {
    // A reading that is in doubt itself shows nothing.
    let is_overload =
        case.is_told_without_a_trip() && case.draws_more_than_its_plate() && !entries.may_be_late();
    let seen = [
        (entries.burns, Verdict::ReMakeTheConnection),
        (case.is_in_hot_air(), Verdict::CoolOrReRate),
        (is_overload, Verdict::FindTheLoad),
    ];
    let mends = seen.into_iter().filter(|(is_seen, _)| *is_seen);
    mends.map(|(_, mend)| mend).collect()
}

/// What is certain and can be mended safely while the whole answer is open.
fn mend_first(verdict: Verdict, seen: Vec<Verdict>, causes: &[CauseShare]) -> Vec<Verdict> {
    if verdict != Verdict::NotEnoughEvidence {
        return Vec::new();
    }
    let mut first = seen;
    for cause in causes.iter().filter(|c| c.probability >= CERTAIN) {
        let mend = cause.cause.mended_by();
        let is_safe = !matches!(mend, Verdict::DoNotReEnergise | Verdict::NothingToMend);
        if is_safe && !first.contains(&mend) {
            first.push(mend);
        }
    }
    first
}

/// Causes that are more probable than not and not mended. A late part says all there is to say.
fn also(verdict: Verdict, mend: &[Verdict], causes: &[CauseShare]) -> Vec<Cause> {
    if mend.is_empty() || verdict == Verdict::DoNotReEnergise {
        return Vec::new();
    }
    let left = causes
        .iter()
        .filter(|c| c.probability > 0.5 && c.cause != Cause::NothingWrong);
    let left = left.filter(|c| !mend.contains(&c.cause.mended_by()));
    left.map(|c| c.cause).collect()
}

fn combinations(posterior: &Posterior) -> Vec<Combination> {
    let all = posterior.hypotheses.iter().zip(&posterior.probability);
    let mut told: Vec<Combination> = all
        .filter(|(_, p)| **p > TOLD)
        .map(|(h, p)| Combination {
            causes: h.causes.to_vec(),
            probability: *p,
        })
        .collect();
    told.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    told
}

fn computed(family: &Family, posterior: &Posterior) -> Computed {
    let shares = posterior.probability.iter().zip(&posterior.effective);
    Computed {
        designs: family.members().len(),
        by_superposition: posterior.scouted,
        by_the_engine: posterior.carriers.len(),
        effective: shares.map(|(p, n)| p * n).sum(),
    }
}

/// The cautions that concern the answer, most urgent first. Those about measuring stand only where
/// something is measured, or timed when it is replaced.
fn cautions(
    verdict: Verdict,
    energise: &Energise,
    nothing_tripped: bool,
    next: &[NextMeasurement],
    plan: &[Step],
) -> Vec<Caution> {
    // Where there is a plan, what it says is done; else the best measurement.
    let planned: Vec<Measurement> = match plan {
        [] => next.iter().take(1).map(|n| n.measurement).collect(),
        plan => plan.iter().filter_map(Step::measured).collect(),
    };
    let is_of_a_joint = |first: &First| matches!(first, First::ReMakeTheConnection { .. });
    let mends = plan.iter().any(|step| step.measured().is_none())
        || energise.first().iter().any(is_of_a_joint);
    let times_a_trip = verdict == Verdict::ReplaceTheProtector
        || planned.iter().any(|m| m.is_dead() && m.effort().1 > 0.0)
        || (energise.first().iter()).any(|first| matches!(first, First::TimeATrip { .. }));
    let is_live = mends || planned.iter().any(|m| m.is_live());
    let all = [
        (!nothing_tripped, Caution::FindCause),
        (
            !matches!(energise, Energise::No { .. }),
            Caution::FaultSigns,
        ),
        (true, Caution::StartsByItself),
        (true, Caution::NeverHold),
        (true, Caution::WindingCoolsLonger),
        (
            is_live || verdict == Verdict::FindTheLoad || verdict == Verdict::ReMakeTheConnection,
            Caution::LiveWork,
        ),
        (times_a_trip, Caution::DeliberateOverload),
        (true, Caution::NeverRaise),
        (true, Caution::ModelEstimate),
    ];
    all.into_iter()
        .filter_map(|(concerns, caution)| concerns.then_some(caution))
        .collect()
}

fn state(scales: &Scales<'_>, posterior: &Posterior, seed: u64) -> State {
    let over = |f: &dyn Fn(&Particle) -> f64| {
        let all = posterior
            .carriers
            .iter()
            .map(|c| (f(&c.particle), c.weight));
        Spread::of(&Weighted::new(all)).unwrap_or_default()
    };
    // Numbers that are nothing in a sound part: no end of what is possible is left out.
    let from_nothing = |f: &dyn Fn(&Particle) -> f64| {
        let all = posterior
            .carriers
            .iter()
            .map(|c| (f(&c.particle), c.weight));
        Spread::shortest(&Weighted::new(all)).unwrap_or_default()
    };
    let rated = scales.case.nameplate.rated_current_a;
    let reference_k = scales.case.nameplate.reference_ambient_k;
    let chosen = posterior.sample(STATES, seed ^ 0x05);
    let now: Vec<(f64, f64)> = parallel::map(
        &chosen,
        |carrier| {
            let particle = &carrier.particle;
            let wear = Wear {
                joint_w: 0.0,
                ..scales.wear(particle)
            };
            let a = scales
                .part(particle, wear)
                .trip_point_a(reference_k)
                .unwrap_or(f64::NAN);
            (a, a / (rated * particle.drawn.placing.trip_multiple))
        },
        &mut |_| {},
    );
    let of = |f: &dyn Fn(&(f64, f64)) -> f64| {
        Spread::of(&Weighted::equal(now.iter().map(f))).unwrap_or_default()
    };
    State {
        preload_loss: from_nothing(&Particle::lost),
        release_force_factor: from_nothing(&|g| g.x[LATE].exp()),
        trip_point_now_a: of(&|n| n.0),
        trip_point_now_over_new: of(&|n| n.1),
        joint_w: from_nothing(&|g| scales.sound_w(g) * g.x[JOINT].exp()),
        air_at_the_part_c: over(&|g| scales.air_k(g) - ZERO_CELSIUS_K),
        true_current_a: over(&|g| rated * g.x[LOAD].exp()),
    }
}
