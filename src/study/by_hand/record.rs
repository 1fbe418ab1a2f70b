//! What an explanation holds; words and rendering are elsewhere.

use super::expression::Expression;
use super::unit::Unit;
use crate::answer::Caution;
use crate::scenario::{SectionKind, SnapModel};

/// A computation by hand, beside the full model.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Explanation {
    /// Title of the scenario.
    pub title: String,
    /// Its story.
    pub shows: String,
    /// What was set in it since it was written.
    pub changed: Vec<String>,
    /// How the strip is held across its width.
    pub section: SectionKind,
    /// Round temperature at which values of the layers are taken, K; no number where nothing is
    /// computed.
    pub round_k: f64,
    /// Whether the full model releases under the load.
    pub releases: bool,
    /// Chapters in the order of the computation.
    pub chapters: Vec<Chapter>,
    /// Sources of the material data used.
    pub sources: Vec<String>,
    /// Cautions for whoever takes it into a class room.
    pub cautions: Vec<Caution>,
}

/// What a chapter is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Subject {
    /// Layers and their values.
    Layers,
    /// Curvature, stiffness, deflection.
    Bending,
    /// What frees a latch.
    Latch,
    /// When a blade snaps.
    Blade,
    /// Heat of the current.
    Heating,
    /// Heat given off.
    Losses,
    /// The trip point.
    TripPoint,
    /// The trip under the load.
    TripTime,
    /// The wait for the reset.
    Wait,
    /// A load that comes and goes.
    Duty,
    /// What wear and air do to the trip point.
    Shifts,
}

/// One subject.
#[derive(Debug, Clone, PartialEq)]
pub struct Chapter {
    /// What it is about.
    pub subject: Subject,
    /// Remarks, tables and steps in order.
    pub blocks: Vec<Block>,
}

/// Something that stands in a chapter.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A paragraph.
    Remark(Remark),
    /// A table of values taken from elsewhere.
    Values(Values),
    /// A step of the computation.
    Step(Step),
}

/// What is said between the steps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Remark {
    /// The layers do not bend towards the release.
    NeverBends,
    /// The strip, m, and the temperatures at which it is flat and at which values are taken, K.
    Strip {
        /// Length.
        length_m: f64,
        /// Width.
        width_m: f64,
        /// Thickness.
        thickness_m: f64,
        /// Flat at.
        flat_k: f64,
        /// Values at.
        round_k: f64,
    },
    /// Two layers go by one formula.
    TwoLayers,
    /// More layers go by sums.
    ManyLayers,
    /// The air alone releases.
    AirReleases,
    /// What a snap blade is.
    Arch,
    /// A blade without folds.
    Creeps,
    /// What one term leaves out.
    OneTerm {
        /// How much more warming it takes, as a part, where it is known.
        late: Option<f64>,
        /// What the full model carries.
        model: SnapModel,
        /// Whether the frame expands by itself.
        frame_expands: bool,
    },
    /// A load that changes, and the one current taken for it, A.
    OneCurrent(f64),
    /// The scenario gives the coefficient of convection.
    GivenCoefficient,
    /// Heat through the ends lies between two limits.
    Ends,
    /// Share of the heat that leaves through the faces at the trip point, %.
    ThroughFaces(f64),
    /// What flowed for long before the load, A.
    Earlier(f64),
    /// With insulated ends the earlier current has released it already.
    ReleasedBefore,
    /// With insulated ends it never trips.
    NeverInsulated,
    /// With cold ends it never trips.
    NeverCold,
    /// So violent an overload that cold ends make no difference.
    Violent,
    /// With cold ends it is at release almost at once.
    AlmostAtOnce,
    /// The full model does not trip.
    NoTrip,
    /// It never cools to the relatch temperature.
    NeverCools,
}

/// The table of layer values.
#[derive(Debug, Clone, PartialEq)]
pub struct Values {
    /// Temperature at which they are taken, K.
    pub at_k: f64,
    /// Symbols of the columns.
    pub columns: Vec<&'static str>,
    /// Rows: name and SI values.
    pub rows: Vec<(String, Vec<f64>)>,
}

/// A quantity with its symbol and the unit in which it is written.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// Symbol, e.g. `kappa_0`.
    pub symbol: String,
    /// Value, SI.
    pub value_si: f64,
    /// Unit in which it is written.
    pub unit: Unit,
}

/// One step: a formula, the numbers put in, the result. What it is goes by the symbol of the
/// result.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// The formula.
    pub formula: Expression,
    /// The quantities in it.
    pub inputs: Vec<Quantity>,
    /// The result.
    pub result: Quantity,
    /// Where the formula comes from.
    pub source: String,
    /// The same quantity in the full model.
    pub beside: Option<Beside>,
}

/// The full model's number beside a step; what it is and why the two differ goes by the step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beside {
    /// Value, SI.
    pub value_si: f64,
    /// SI value from which the difference counts (a temperature counts from that of the flat
    /// strip).
    pub from_si: f64,
}

impl Step {
    /// By hand minus full model over full model, %; `None` without a finite number on both sides.
    pub fn difference_percent(&self) -> Option<f64> {
        let beside = self.beside?;
        let whole = beside.value_si - beside.from_si;
        let percent = 100.0 * (self.result.value_si - beside.value_si) / whole;
        percent.is_finite().then_some(percent)
    }

    /// Whether a quantity is among its inputs.
    pub fn uses(&self, symbol: &str) -> bool {
        self.inputs.iter().any(|q| q.symbol == symbol)
    }
}

impl Explanation {
    /// Every step in order.
    pub fn steps(&self) -> impl Iterator<Item = &Step> {
        self.chapters
            .iter()
            .flat_map(|c| &c.blocks)
            .filter_map(|b| match b {
                Block::Step(step) => Some(step),
                Block::Remark(_) | Block::Values(_) => None,
            })
    }

    /// Every quantity with a symbol: given, or computed by a step.
    pub fn quantities(&self) -> Vec<&Quantity> {
        let mut known: Vec<&Quantity> = Vec::new();
        for step in self.steps() {
            for quantity in step.inputs.iter().chain([&step.result]) {
                if !known.iter().any(|k| k.symbol == quantity.symbol) {
                    known.push(quantity);
                }
            }
        }
        known
    }

    /// The step whose result has this symbol.
    pub fn step(&self, symbol: &str) -> Option<&Step> {
        self.steps().find(|s| s.result.symbol == symbol)
    }
}
