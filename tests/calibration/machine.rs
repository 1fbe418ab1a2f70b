//! A machine with something wrong (or nothing), and what a technician would note of it.

use super::dice::Dice;
use relatch::internals::diagnose::{Advice, Cause, HYPOTHESES, Hypothesis, Verdict};
use relatch::internals::evidence::{
    Air, AirPlace, Before, Case, Drop, Event, Measured, Meter, Outcome, Reading, Setting,
    StartSeen, Taken, Terminals, Unit, Waveform,
};
use relatch::internals::family::{Carries, Family, Part, Wear};
use relatch::internals::load::{Programme, Repeat};
use relatch::internals::statistics::stream::{Purpose, Stream};

/// A case and its truth.
pub struct Truth {
    pub case: Case,
    pub causes: &'static [Cause],
    /// What mends it: sets of things to do, all of them needed by nothing that is sound, after
    /// which the machine runs.
    pub mended_by: Vec<Vec<Verdict>>,
    pub loss: f64,
}

impl Truth {
    /// Whether an advice mends the machine and nothing that is sound.
    pub fn is_right(&self, advice: Advice) -> bool {
        let mut named: Vec<Verdict> = [Some(advice.first), advice.second]
            .into_iter()
            .flatten()
            .collect();
        named.sort_by_key(|v| format!("{v:?}"));
        self.mended_by.contains(&named)
    }
}

/// Trips of one unit scatter by 6 % in time and 1 % in current.
const REPEATS: f64 = 0.06;
const THRESHOLD: f64 = 0.01;
/// A trip brings a case when it comes within half a day.
const WITHIN_S: f64 = 12.0 * 3600.0;

/// A part is late when its way to release is so much longer.
const LATE_TRAVEL: f64 = 1.15;
/// Somebody stands by for so long, s.
const ATTENDED_S: f64 = 4.0 * 3600.0;

/// Everything true of one machine.
struct World<'a> {
    family: &'a Family,
    hypothesis: Hypothesis,
    drawn: relatch::internals::family::Drawn,
    /// Logarithms: running current over rating, plate current over rating, start over running
    /// current, seconds.
    load: f64,
    plate: f64,
    peak: f64,
    start: f64,
    place_k: f64,
    room_k: f64,
    /// Logarithm of the joint's heat over that of a sound part.
    joint: f64,
    loss: f64,
    late: f64,
    /// Logarithms: what a meter for averages shows, and what the trip draws beyond other times.
    form: f64,
    burst: f64,
    has_start: bool,
}

impl World<'_> {
    fn rated_a(&self) -> f64 {
        self.family.nameplate().rated_current_a
    }

    fn sound_w(&self) -> f64 {
        self.family.members()[self.drawn.member].power_w / self.drawn.placing.trip_multiple.powi(2)
    }

    fn wear(&self) -> Wear {
        Wear {
            loss: self.loss,
            force_factor: self.late.exp(),
            joint_w: self.sound_w() * self.joint.exp(),
            ..Wear::NONE
        }
    }

    fn part(&self, wear: Wear) -> Part {
        Part::new(
            &self.family.members()[self.drawn.member],
            self.drawn.placing,
            wear,
            self.rated_a(),
            0.3,
        )
    }

    fn run_a(&self) -> f64 {
        self.rated_a() * self.load.exp()
    }

    fn duty(&self, factor: f64) -> Programme {
        let run_a = factor * self.run_a();
        if !self.has_start {
            return Programme::constant(run_a);
        }
        let start = (self.start.exp(), run_a * self.peak.exp());
        Programme::steps([start, (f64::INFINITY, run_a)], Repeat::Once)
    }

    /// What the machine does in its place, and the difference of the terminals then.
    fn in_service(&self, factor: f64) -> (Option<Carries>, f64) {
        let part = self.part(self.wear());
        let air = [(0.0, self.room_k + self.place_k)];
        let mut run = part.cold(&air);
        let carries = run.carry(&self.duty(factor), 1e6);
        let [clamped, fixed, _] = run.temperatures_k();
        (carries, clamped - fixed)
    }

    /// Whether it trips within half a day.
    fn trips(&self) -> bool {
        matches!(self.in_service(1.0).0, Some(Carries::Trips(t)) if t < WITHIN_S)
    }

    /// With a cause put right.
    fn without(&self, cause: Cause) -> Self {
        let mut cured = self.clone();
        match cause {
            Cause::Overload => cured.load = cured.load.min(-0.05),
            Cause::StartOrStall => cured.start = -1.2,
            Cause::HotSurroundings => cured.place_k = 0.0,
            Cause::BadConnection => cured.joint = -3.2,
            Cause::WornEarly => cured.loss = 0.0,
            _ => {}
        }
        cured
    }

    /// What mends it; empty when the machine trips with everything put right.
    fn mended_by(&self) -> Vec<Vec<Verdict>> {
        let causes = self.hypothesis.causes;
        if self.hypothesis.has(Cause::WornLate) {
            return vec![vec![Verdict::DoNotReEnergise]];
        }
        if let [one @ (Cause::WrongRating | Cause::NothingWrong)] = causes {
            return vec![vec![remedy(*one)]];
        }
        let mut sets = Vec::new();
        for chosen in 1..1u32 << causes.len() {
            let taken = |k: &usize| chosen & (1 << k) != 0;
            let mut cured = self.clone();
            let mut named = Vec::new();
            for k in (0..causes.len()).filter(taken) {
                cured = cured.without(causes[k]);
                named.push(remedy(causes[k]));
            }
            if !cured.trips() {
                named.sort_by_key(|v| format!("{v:?}"));
                named.dedup();
                sets.push(named);
            }
        }
        sets
    }

    /// With a sound twin of the same lot in its place.
    fn with_twin(&self, dice: &Dice<'_>) -> Self {
        let mut swapped = self.clone();
        let (low, high) = self.family.trip_multiples();
        let placing = &mut swapped.drawn.placing;
        placing.trip_multiple =
            (placing.trip_multiple * (1.0 + 0.03 * dice.normal())).clamp(low, high);
        placing.pace *= (0.1 * dice.normal()).exp();
        swapped.loss = 0.0;
        swapped.late = 0.0;
        swapped
    }

    /// On a bench.
    fn bench(&self, dice: &Dice<'_>, wear: Wear, current_a: f64) -> Option<f64> {
        let part = self.part(Wear {
            joint_w: 0.0,
            ..wear
        });
        let air = [(0.0, self.room_k)];
        let true_a = current_a * (1.0 + 0.02 * dice.normal()) * (1.0 + THRESHOLD * dice.normal());
        match part.cold(&air).carry(&Programme::constant(true_a), 1e6) {
            Some(Carries::Trips(t)) => Some(t),
            _ => None,
        }
    }
}

/// What is done about a cause.
fn remedy(cause: Cause) -> Verdict {
    match cause {
        Cause::Overload | Cause::StartOrStall => Verdict::FindTheLoad,
        Cause::HotSurroundings | Cause::WrongRating => Verdict::CoolOrReRate,
        Cause::BadConnection => Verdict::ReMakeTheConnection,
        Cause::WornEarly => Verdict::ReplaceTheProtector,
        Cause::WornLate => Verdict::DoNotReEnergise,
        Cause::NothingWrong => Verdict::NothingToMend,
        other => panic!("no case is made of {other:?}"),
    }
}

impl Clone for World<'_> {
    fn clone(&self) -> Self {
        World { ..*self }
    }
}

fn drawn_world<'a>(
    family: &'a Family,
    dice: &Dice<'_>,
    hypothesis: Hypothesis,
    has_start: bool,
    distorted: bool,
) -> Option<World<'a>> {
    let has = |c: Cause| hypothesis.has(c);
    let (plate, load) = if has(Cause::WrongRating) {
        let plate = (0.26 + 0.22 * dice.normal()).clamp(0.03, 1.2);
        // Within a tenth of its plate: beyond that the machine draws too much as well.
        (plate, plate + dice.cut(0.0, 0.06, -0.1, 0.1))
    } else {
        let plate = (-0.26 + 0.22 * dice.normal()).clamp(-1.5, 0.02);
        let load = if has(Cause::Overload) {
            let least = (plate + 0.1).max(0.03);
            let mean = least.max(0.34);
            dice.cut(mean, 0.3, least, mean + 1.5)
        } else {
            (plate - 0.03 + 0.08 * dice.normal()).min(0.02)
        };
        (plate, load)
    };
    let or = |cause: Cause, faulty: [f64; 4], healthy: [f64; 4]| {
        let [mean, deviation, low, high] = if has(cause) { faulty } else { healthy };
        dice.cut(mean, deviation, low, high)
    };
    Some(World {
        family,
        hypothesis,
        load,
        plate,
        place_k: or(
            Cause::HotSurroundings,
            [30.0, 12.0, 10.0, 75.0],
            [3.0, 4.0, -3.0, 12.0],
        ),
        joint: or(
            Cause::BadConnection,
            [0.2, 0.7, -1.2, 2.3],
            [-3.2, 0.7, -6.0, -1.4],
        ),
        loss: if has(Cause::WornEarly) {
            0.15 + 0.78 * dice.uniform()
        } else {
            dice.cut(0.0, 0.04, 0.0, 0.14)
        },
        late: or(
            Cause::WornLate,
            [0.9, 0.6, 0.15, 3.5],
            [0.0, 0.03, 0.0, 0.5],
        ),
        peak: dice.cut(1.6, 0.25, 0.7, 2.4),
        start: or(
            Cause::StartOrStall,
            [1.6, 0.8, 0.2, 4.1],
            [-1.2, 0.6, -4.0, 0.2],
        ),
        form: if distorted {
            -0.55 + 0.52 * dice.uniform()
        } else {
            0.015 * dice.normal()
        },
        burst: if dice.flip(if has(Cause::Overload) { 0.5 } else { 0.2 }) {
            dice.cut(0.35, 0.3, 0.0, 1.5)
        } else {
            dice.cut(0.0, 0.04, 0.0, 1.0)
        },
        room_k: 295.65 + 5.0 * dice.normal(),
        drawn: family.draw(&Stream::new(
            555,
            Purpose::other(91),
            dice.stream.bits(7) ^ dice.stream.bits(dice.drawn()),
        ))?,
        has_start,
    })
}

/// A case, or `None` when no machine of this kind trips in four hundred tries.
pub fn case(family: &Family, stream: &Stream, strong: bool) -> Option<Truth> {
    let dice = Dice::new(stream);
    // Machines on one phase.
    let met = || HYPOTHESES.iter().filter(|h| !h.has(Cause::LostPhase));
    let total: f64 = met().map(|h| h.weight).sum();
    let mut left = dice.uniform() * total;
    let mut hypothesis = HYPOTHESES[0];
    for h in met() {
        if left < h.weight {
            hypothesis = *h;
            break;
        }
        left -= h.weight;
    }
    let has_start = hypothesis.has(Cause::StartOrStall) || dice.flip(0.5);
    let waveform = match (dice.uniform() * 3.0) as usize {
        0 => Waveform::Sine,
        1 => Waveform::Distorted,
        _ => Waveform::Unknown,
    };
    let distorted = match waveform {
        Waveform::Sine => false,
        Waveform::Distorted => true,
        Waveform::Unknown => dice.flip(0.35),
    };
    for _ in 0..400 {
        let world = drawn_world(family, &dice, hypothesis, has_start, distorted)?;
        if let Some(truth) = noted(&world, &dice, waveform, strong) {
            return Some(truth);
        }
    }
    None
}

fn event(label: &str, unit: Unit, setting: Setting, outcome: Outcome) -> Event {
    Event {
        label: label.into(),
        unit,
        setting,
        before: Before::Cold,
        air_k: None,
        outcome,
        times: 1,
        reset_between_s: None,
        mended: 0,
    }
}

/// What is noted of a machine; `None` when nobody would ask.
fn noted(world: &World<'_>, dice: &Dice<'_>, waveform: Waveform, strong: bool) -> Option<Truth> {
    let rated = world.rated_a();
    let has = |c: Cause| world.hypothesis.has(c);
    let watched = |t: f64, relative: f64| {
        let t = t * (REPEATS * dice.normal()).exp() * (relative * dice.normal()).exp();
        let t = (t + 0.25 * dice.normal()).max(0.1);
        Outcome::Tripped {
            after_s: Measured::new(t, 0.25 + relative * t),
        }
    };
    let mut events = Vec::new();
    let service = Setting::InService { with_start: true };
    let (carries, mut terminals_k) = world.in_service(1.0 + THRESHOLD * dice.normal());
    let trips = matches!(carries, Some(Carries::Trips(t)) if t < WITHIN_S);
    if has(Cause::NothingWrong) {
        if trips {
            return None;
        }
        let t = 60.0 * 180f64.powf(dice.uniform());
        events.push(event(
            "the trip",
            Unit::ThisPart,
            service.clone(),
            watched(t, 0.05),
        ));
    } else if !has(Cause::WornLate) {
        let Some(Carries::Trips(t)) = carries else {
            return None;
        };
        if !trips {
            return None;
        }
        let about = if dice.flip(0.3) { 0.2 } else { 0.0 };
        events.push(event(
            "the trip",
            Unit::ThisPart,
            service.clone(),
            watched(t, about),
        ));
    }
    let member = &world.family.members()[world.drawn.member];
    if has(Cause::WornLate) && 1.0 + member.preload_share * world.late.exp_m1() < LATE_TRAVEL {
        return None;
    }
    let mended_by = world.mended_by();
    if mended_by.is_empty() {
        // It trips with everything put right: something else is wrong than what this machine is to
        // show.
        return None;
    }
    if strong && !has(Cause::WornLate) {
        let attended = |carries: Option<Carries>| match carries {
            Some(Carries::Trips(t)) if t < ATTENDED_S => watched(t, 0.0),
            _ => Outcome::Held { for_s: ATTENDED_S },
        };
        let again = if has(Cause::NothingWrong) {
            Outcome::Held { for_s: ATTENDED_S }
        } else {
            attended(world.in_service(1.0 + THRESHOLD * dice.normal()).0)
        };
        events.push(event(
            "again, attended",
            Unit::ThisPart,
            service.clone(),
            again,
        ));
        let twin = world.with_twin(dice);
        let swapped = attended(twin.in_service(1.0 + THRESHOLD * dice.normal()).0);
        events.push(event("a twin in its place", Unit::Twin, service, swapped));
    }

    let meter = if strong || dice.flip(0.6) {
        Meter::TrueRms
    } else if dice.flip(0.6) {
        Meter::AverageResponding
    } else {
        Meter::Unknown
    };
    let shows = match meter {
        Meter::TrueRms => 0.0,
        Meter::AverageResponding => world.form,
        _ => {
            if dice.flip(0.5) {
                world.form
            } else {
                0.0
            }
        }
    };
    let taken = if has(Cause::WornLate) {
        Taken::WhileRunning
    } else if strong || dice.flip(0.5) {
        Taken::UpToTheTrip
    } else {
        Taken::AfterReset
    };
    let at_other_times = if taken == Taken::UpToTheTrip {
        0.0
    } else {
        -world.burst
    };
    let shown = world.run_a()
        * (at_other_times + shows).exp()
        * (1.0 + 0.02 * dice.normal())
        * (1.0 + 0.015 * dice.normal());
    let mut reading = Reading::true_rms("the reading", shown);
    reading.current_a = Measured::new(shown, 0.02 * shown);
    (reading.meter, reading.taken) = (meter, taken);
    let readings = vec![reading];
    let mut air = Vec::new();
    let mut thermometer = |label: &str, place, truth: f64| {
        let temperature_k = Measured::new(truth + 1.5 * dice.normal(), 1.5);
        air.push(Air::measured(label, place, temperature_k));
    };
    if strong || dice.flip(0.7) {
        thermometer("air in the room", AirPlace::InTheRoom, world.room_k);
    }
    if strong || dice.flip(0.3) {
        let truth = world.room_k + world.place_k;
        thermometer("air at the part", AirPlace::AtThePart, truth);
    }

    let on_bench = |current_a: f64| Setting::Bench {
        current_a: Measured::new(current_a, 0.02 * current_a),
    };
    // With little measured at most one timed trip; else two at 200 % and one at 150 %, with rests
    // between.
    let timed: &[f64] = if strong {
        &[2.0, 2.0, 1.5]
    } else if has(Cause::WornLate) || dice.flip(0.2) {
        &[2.0]
    } else {
        &[]
    };
    for multiple in timed {
        let current_a = multiple * rated;
        let outcome = match world.bench(dice, world.wear(), current_a) {
            Some(t) if t < 900.0 => watched(t, 0.0),
            _ => Outcome::Held { for_s: 900.0 },
        };
        events.push(event("timed", Unit::ThisPart, on_bench(current_a), outcome));
    }
    if strong && let Some(t) = world.bench(dice, Wear::NONE, 2.0 * rated) {
        events.push(event(
            "as new",
            Unit::AsNew,
            on_bench(2.0 * rated),
            watched(t, 0.0),
        ));
    }
    if strong {
        let outcome = match world.bench(dice, world.wear(), rated) {
            Some(t) if t < 7200.0 => watched(t, 0.0),
            _ => Outcome::Held { for_s: 7200.0 },
        };
        events.push(event("hold test", Unit::ThisPart, on_bench(rated), outcome));
    }

    let own = member.trip_point_a / (world.drawn.placing.trip_multiple * rated);
    let part_ohm = member.drop_v / member.trip_point_a * own * own;
    let joint_ohm = world.wear().joint_w / (rated * rated);
    let mut drops = Vec::new();
    if strong || dice.flip(0.2) {
        let i = world.run_a();
        let v = i * (part_ohm + joint_ohm) * (1.0 + 0.01 * dice.normal());
        let sister = i * part_ohm * (1.0 + 0.1 * dice.normal());
        drops.push(Drop {
            label: "the drop".into(),
            voltage_v: Measured::new(v, 0.01 * v),
            current_a: Measured::new(i, 0.02 * i),
            sister_v: Some(Measured::new(sister, 0.01 * sister)),
            mended: 0,
        });
    }
    if events.is_empty() {
        terminals_k = world.in_service(1.0).1;
    }
    let terminals = (strong || dice.flip(0.2)).then(|| Terminals {
        label: "the terminals".into(),
        hotter_k: Measured::new(310.0 + (terminals_k + 3.0 * dice.normal()).abs(), 1.5),
        other_k: Measured::new(310.0 + 1.5 * dice.normal(), 1.5),
        mended: 0,
    });
    let start = (world.has_start && (strong || dice.flip(0.2))).then(|| {
        let peak = world.run_a() * world.peak.exp();
        StartSeen {
            label: "the start".into(),
            peak_a: Measured::new(peak * (1.0 + 0.05 * dice.normal()), 0.05 * peak),
            duration_s: Measured::new(
                world.start.exp() * (1.0 + 0.1 * dice.normal()),
                0.1 * world.start.exp(),
            ),
        }
    });
    let plate = (strong || dice.flip(0.3)).then(|| rated * world.plate.exp());
    let mut case = Case::of(world.family.nameplate().clone());
    (case.title, case.equipment) = ("made".into(), "machine".into());
    (case.equipment_rated_a, case.waveform) = (plate, waveform);
    (case.has_start, case.start) = (Some(world.has_start), start);
    (case.readings, case.air, case.events) = (readings, air, events);
    (case.drops, case.terminals) = (drops, terminals);
    case.marking_agrees = strong.then(|| !has(Cause::WrongRating));
    Some(Truth {
        case,
        causes: world.hypothesis.causes,
        mended_by,
        loss: world.loss,
    })
}
