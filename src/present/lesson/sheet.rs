//! A pupil's sheet: what is given, what is asked with room to work, a plot to complete.

use super::{bench, fact, figure, words};
use crate::answer::Place;
use crate::present::block::{Block, Field, Table};
use crate::present::explain::symbol::in_a_line;
use crate::present::explain::{asked, value};
use crate::study::by_hand::Quantity;
use crate::study::lesson::{Lesson, Sheet, Task};

/// Lines to work on below a formula.
const ROOM: u8 = 2;
/// Lines for what is said in words.
const WORDS: u8 = 3;

/// The sheet.
pub(crate) fn blocks(lesson: &Lesson, sheet: &Sheet) -> Vec<Block> {
    let say = words::lesson::of(lesson.plan.level);
    let count = lesson.sheets.len();
    let mut list = vec![
        Block::title(
            words::lesson::sheet_title(say.title, sheet.number, count),
            words::lesson::below(&lesson.title, lesson.plan.minutes),
        ),
        Block::lines(words::lesson::pupil()),
        Block::cautions(Place::Top, say.cautions.iter().copied()),
        Block::sentence(say.task),
        Block::subheading(words::lesson::given_heading()),
    ];
    list.push(given(sheet));
    if let Some(bench) = &sheet.bench {
        list.extend(bench::to_measure(bench));
    }
    for (task, number) in sheet.tasks.iter().zip(1..) {
        list.extend(to_do(sheet, task, number));
    }
    list.extend(plot(sheet, sheet.tasks.len() + 1));
    for (question, letter) in say.questions.iter().zip('a'..) {
        list.push(Block::sentence(format!("{letter})  {question}")));
        list.push(Block::Room(WORDS));
    }
    list
}

/// What is given, in two columns.
fn given(sheet: &Sheet) -> Block {
    let facts: Vec<_> = sheet.given.iter().map(|q| fact(sheet, q)).collect();
    let (left, right) = facts.split_at(facts.len().div_ceil(2));
    let column = |facts: &[(String, String)]| vec![Block::facts(facts.to_vec())];
    Block::Pair(column(left), column(right))
}

fn to_do(sheet: &Sheet, task: &Task, number: usize) -> [Block; 4] {
    let step = &task.step;
    let what = words::by_hand::step(&sheet.explanation, step);
    [
        Block::subheading(format!("{number}  {what}")),
        asked(step),
        Block::Room(ROOM),
        Block::Form(vec![result(&step.result)]),
    ]
}

/// `κ_T in 1/m =` and a line.
fn result(quantity: &Quantity) -> Field {
    let symbol = in_a_line(&quantity.symbol);
    let name = match quantity.unit.symbol {
        "" => format!("{symbol} ="),
        unit => say!("{symbol} in {unit} ="; symbol, unit),
    };
    Field {
        name,
        value: String::new(),
        rule: String::new(),
    }
}

/// The table and the axes to complete.
fn plot(sheet: &Sheet, number: usize) -> Vec<Block> {
    let graph = &sheet.graph;
    let mut list = vec![
        Block::subheading(format!("{number}  {}", words::lesson::plot(sheet))),
        Block::sentence(words::lesson::to_plot(sheet)),
    ];
    if let Some(point) = graph.points.first() {
        list.push(asked(&point.step));
    }
    let [x, y] = figure::titles(graph);
    let at = graph.points.iter();
    let at = at.map(|p| value(p.x_si, graph.x_unit, false));
    let table = Table::new("").to_fill_in().text(x, at);
    let empty = || graph.points.iter().map(|_| "");
    let table = match &sheet.bench {
        None => table.text(y, empty()),
        Some(_) => table.text(say!("{y}, by hand"; y), empty()),
    };
    list.push(table.into());
    let (svg, caption) = figure::empty(sheet);
    list.push(Block::Figure(svg, caption));
    list
}
