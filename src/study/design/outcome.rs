//! What came of the search.

use super::want::Want;
use crate::answer::{Caution, MetalData};
use crate::statistics::rates::Rate;
use serde::{Deserialize, Serialize};

/// The part that was found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct DesignOutcome {
    /// Layout of the record.
    pub format: u32,
    /// Version of the program.
    pub version: String,
    /// What the task is called.
    pub title: String,
    /// Whether every want is met.
    pub met: bool,
    /// What was free, in the order of the file.
    pub free: Vec<FoundFree>,
    /// What was wanted, in the order of the file.
    pub wants: Vec<FoundWant>,
    /// Published limits that were to be met, in the order of the file.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub documents: Vec<FoundDocument>,
    /// What the cost was reckoned by.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cost_formula: Option<String>,
    /// How the wants answer to the free numbers, where that was computed.
    pub slopes: Vec<Slope>,
    /// Largest difference between a slope and the same from two whole predictions, over the largest
    /// slope of its want.
    pub slopes_differ: Option<f64>,
    /// Wants that pull against each other; empty where every want is met.
    pub fights: Vec<Fight>,
    /// Scenarios that were predicted.
    pub predicted: u64,
    /// Units with their tolerances, when asked for.
    pub in_lot: Option<InLot>,
    /// Where over two free numbers the wants are met, when asked for.
    pub map: Option<Map>,
    /// What one want costs another, when asked for.
    pub trade: Option<Trade>,
    /// What is known of the metals of the part, under the load of its scenario.
    pub metal_data: Option<MetalData>,
    /// The part as a scenario.
    pub scenario_text: String,
    /// Cautions for whoever reads it.
    pub cautions: Vec<Caution>,
}

/// A free thing as it was found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct FoundFree {
    /// Path in the scenario.
    pub path: String,
    /// What it became.
    pub value: String,
    /// Whether it lies at an end of what it may be.
    pub at_end: Option<End>,
}

/// An end of what a number may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum End {
    /// The least.
    Least,
    /// The most.
    Most,
}

/// A want as it came out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct FoundWant {
    /// What was wanted, SI.
    pub want: Want,
    /// The answer, SI; `None` where there is none, and see `never`.
    pub value: Option<f64>,
    /// Whether it never comes.
    pub never: bool,
    /// Whether it is inside its window.
    pub met: bool,
}

/// A document as it came out; what the part does at each of its rows stands among the wants.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct FoundDocument {
    /// Its name.
    pub name: String,
    /// The document, and how it was seen.
    pub source: String,
    /// Share of the units of a lot that were to meet it.
    pub share_wanted: Option<f64>,
    /// Units that meet every row of it, with the confidence limits of their share (95 %), when a
    /// lot was asked for.
    pub inside: Option<Rate>,
    /// Whether the part meets every row of it, and as large a share of the units as was wanted.
    pub met: bool,
}

/// How one want answers to one free number at the part that was found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Slope {
    /// Number of the want, from 0.
    pub want: usize,
    /// Path of the free number.
    pub path: String,
    /// Percent of the answer (temperatures: kelvins; shares: points) per percent of the number.
    pub per_percent: f64,
}

/// Two wants that pull against each other.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Fight {
    /// Numbers of the wants, from 0.
    pub wants: [usize; 2],
    /// Cosine between the ways towards each, over the free numbers that can still move: -1 is
    /// straight against.
    pub cosine: f64,
}

/// Units with their tolerances.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct InLot {
    /// Units inside every window, with the confidence limits of their share (95 %).
    pub inside: Rate,
    /// Those inside each window, in the order of the wants.
    pub inside_each: Vec<u64>,
    /// Those that meet each document.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub inside_documents: Vec<Rate>,
}

/// Where the wants are met over two free numbers, all others as found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Map {
    /// Paths, across and up.
    pub paths: [String; 2],
    /// Values of each as a scenario has them.
    pub values: [Vec<String>; 2],
    /// Where the part lies, in steps from the first value of each.
    pub at: [f64; 2],
    /// Cells, the first path moving fastest.
    pub cells: Vec<MapCell>,
}

/// One cell of a map.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "cell", rename_all = "snake_case")]
#[non_exhaustive]
pub enum MapCell {
    /// Every want is met.
    Met,
    /// The want that is missed most.
    Misses {
        /// Its number, from 0.
        want: usize,
    },
    /// There is no such part, or no prediction.
    NoPart,
}

/// The best of one answer for each of another, all other wants kept where that can be.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Trade {
    /// Numbers of the wants, from 0: the one that is given, and the one that is then brought as far
    /// as it goes.
    pub wants: [usize; 2],
    /// From the least of the first to its most.
    pub points: Vec<TradePoint>,
}

/// A part on the curve.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct TradePoint {
    /// Both answers, SI.
    pub values: [f64; 2],
    /// Whether all other wants are met.
    pub others_met: bool,
    /// What the free things are there, in their order.
    pub free: Vec<String>,
}
