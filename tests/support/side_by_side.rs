//! Many trips at once: units of one design, currents, ambients, side by side in the lanes of a
//! register and on all threads.
//!
//! A unit's answer does not depend on its neighbours, on the number of threads or on where in the
//! list it stands. What cannot be marched side by side (slow units, units that hold, units that
//! leave the range) is answered by `alone`.

use pulp::Simd;
use relatch::internals::device::{Beside, LaneLoad, Sheet, Unit};
use relatch::internals::solve::wide::{MOST_LANES, Row, dispatch};
use relatch::internals::solve::{LaneEnd, Lanes};

/// One question: a unit from a uniform temperature under a current.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Question {
    /// The unit.
    pub unit: Unit,
    /// Current, A.
    pub current_a: f64,
    /// Ambient, K.
    pub ambient_k: f64,
}

/// Its answer. Contacts are taken to open at the release, without an opening time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SideAnswer {
    /// Trip time, s; `None`: to be asked alone.
    pub trip_time_s: Option<f64>,
    /// Wait from open contacts (at once after the release) to relatch, s; `None`: not asked for, or
    /// to be asked alone.
    pub relatch_wait_s: Option<f64>,
}

/// Trip times from cold (and the waits to relatch, when `cool`) of `count` questions, in order.
pub fn side_by_side(
    sheet: &Sheet,
    count: usize,
    question: impl Fn(usize) -> Question + Sync,
    tolerance: f64,
    cool: bool,
) -> Vec<SideAnswer> {
    let threads = std::thread::available_parallelism().map_or(1, |n| n.get());
    let share = count.div_ceil(threads).next_multiple_of(MOST_LANES);
    let asked = &question;
    std::thread::scope(|scope| {
        let threads: Vec<_> = (0..count)
            .step_by(share)
            .map(|start| {
                scope.spawn(move || {
                    let mut answers = Vec::with_capacity(share);
                    dispatch(Chunk {
                        sheet,
                        range: (start, (start + share).min(count)),
                        question: asked,
                        tolerance,
                        cool,
                        answers: &mut answers,
                    });
                    answers
                })
            })
            .collect();
        let answers = threads
            .into_iter()
            .flat_map(|t| t.join().expect("a thread"));
        answers.collect()
    })
}

struct Chunk<'a, Q> {
    sheet: &'a Sheet,
    range: (usize, usize),
    question: &'a Q,
    tolerance: f64,
    cool: bool,
    answers: &'a mut Vec<SideAnswer>,
}

impl<Q: Fn(usize) -> Question> pulp::WithSimd for Chunk<'_, Q> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        let width = S::F64_LANES;
        let unknowns = self.sheet.unknowns();
        let mut marcher = Lanes::new(unknowns * width);
        let mut y = Row::zeros(unknowns * width);
        let mut units = Vec::with_capacity(width);
        let mut loads = Vec::with_capacity(width);
        let (start, end) = self.range;
        let mut at = start;
        while at < end {
            let count = width.min(end - at);
            units.clear();
            loads.clear();
            for k in at..at + count {
                let q = (self.question)(k);
                units.push(q.unit);
                loads.push(LaneLoad {
                    current_a: Some(q.current_a),
                    ambient_k: q.ambient_k,
                });
            }
            let mut beside = Beside::new(simd, self.sheet, &units);
            beside.load(&loads, 0.0);
            for lane in 0..width {
                let ambient = loads.get(lane).unwrap_or(&loads[0]).ambient_k;
                for i in 0..unknowns {
                    y[i * width + lane] = ambient;
                }
            }
            let mut asked = [false; MOST_LANES];
            asked[..count].fill(true);
            let trips = marcher.run(simd, &mut beside, &mut y, &asked, self.tolerance);
            let mut waits = None;
            if self.cool {
                for load in &mut loads {
                    load.current_a = None;
                }
                beside.load(&loads, 0.0);
                waits = Some(marcher.run(simd, &mut beside, &mut y, &asked, self.tolerance));
            }
            for lane in 0..count {
                let fits = self.sheet.serves(&units[lane]);
                let tripped = fits && trips[lane].end == LaneEnd::Event;
                let cooled = waits.filter(|w| tripped && w[lane].end == LaneEnd::Event);
                self.answers.push(SideAnswer {
                    trip_time_s: tripped.then_some(trips[lane].t),
                    relatch_wait_s: cooled.map(|w| w[lane].t),
                });
            }
            at += count;
        }
    }
}
