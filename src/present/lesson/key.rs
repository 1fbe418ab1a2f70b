//! The teacher's key.

use super::{bench, figure, words};
use crate::answer::Place;
use crate::present::block::{Block, Table};
use crate::present::explain::symbol::in_a_line;
use crate::present::explain::{percent_apart, taught, value, written};
use crate::present::number::significant;
use crate::study::by_hand::CAUTIONS;
use crate::study::lesson::{Lesson, Sheet, Task};

/// Every answer in a table, then every sheet.
pub(super) fn blocks(lesson: &Lesson, source: &str) -> Vec<Block> {
    let say = words::lesson::of(lesson.plan.level);
    let mut list = vec![
        Block::title(
            words::lesson::key_title(say.title),
            words::lesson::below(&lesson.title, lesson.plan.minutes),
        ),
        Block::cautions(Place::Top, CAUTIONS.map(taught)),
        Block::sentence(&lesson.shows),
        Block::sentence(words::lesson::how_to_mark(lesson.plan.seed)),
        Block::heading(words::lesson::all_answers()),
        all(lesson).into(),
        Block::heading(words::lesson::to_talk()),
        Block::list(say.teaches.iter().copied()),
    ];
    for sheet in &lesson.sheets {
        list.push(Block::NewSheet);
        list.push(Block::heading(words::lesson::sheet_name(sheet.number)));
        list.push(Block::note(words::lesson::again(source, &sheet.settings)));
        list.extend(of_sheet(sheet));
    }
    list
}

/// A row a sheet, a column a step.
fn all(lesson: &Lesson) -> Table {
    let sheets = &lesson.sheets;
    let numbers = sheets.iter().map(|s| s.number.to_string());
    let table = Table::new(words::lesson::answers()).text(word!("sheet"), numbers);
    let Some(first) = sheets.first() else {
        return table;
    };
    first.tasks.iter().fold(table, |table, task| {
        let result = &task.step.result;
        let heading = match result.unit.symbol {
            "" => in_a_line(&result.symbol),
            unit => format!("{}, {unit}", in_a_line(&result.symbol)),
        };
        let of = |sheet: &Sheet| {
            let own = |t: &&Task| t.step.result.symbol == result.symbol;
            let own = sheet.tasks.iter().find(own).map(|t| &t.step.result);
            own.map_or(String::new(), |q| significant(q.unit.shown(q.value_si), 4))
        };
        table.numbers(heading, sheets.iter().map(of))
    })
}

/// Every step of a sheet, its plot, and the full model beside both.
pub(crate) fn of_sheet(sheet: &Sheet) -> Vec<Block> {
    let mut list = Vec::new();
    for task in &sheet.tasks {
        list.extend(written(&sheet.explanation, &task.step));
        let moved = significant(100.0 * task.by_rounding, 1);
        list.push(Block::note(words::lesson::by_rounding(&moved)));
    }
    list.push(Block::subheading(words::lesson::plot(sheet)));
    if let Some(point) = sheet.graph.points.last() {
        list.extend(written(&sheet.explanation, &point.step).split_off(1));
    }
    list.push(points(sheet).into());
    if let Some(bench) = &sheet.bench {
        list.extend(bench::expected(bench));
    }
    let (svg, caption) = figure::solved(sheet);
    list.push(Block::Figure(svg, caption));
    list
}

/// The points by hand, and the full model there.
fn points(sheet: &Sheet) -> Table {
    let graph = &sheet.graph;
    let [x, y] = figure::titles(graph);
    let shown = |si: f64| significant(graph.y_unit.shown(si), 4);
    let by_hand = |p: &crate::study::lesson::Point| p.step.result.value_si;
    let full: Vec<Option<f64>> = graph.points.iter().map(|p| graph.full_at(p.x_si)).collect();
    let at = graph.points.iter();
    Table::new("")
        .text(x, at.clone().map(|p| value(p.x_si, graph.x_unit, false)))
        .numbers(
            format!("{y}, {}", words::lesson::by_hand()),
            at.clone().map(|p| shown(by_hand(p))),
        )
        .numbers(
            words::lesson::full_model(),
            full.iter().map(|f| f.map_or(String::new(), shown)),
        )
        .numbers(
            word!("difference"),
            at.zip(&full).map(|(p, f)| match f {
                Some(f) => percent_apart(100.0 * (by_hand(p) - f) / f),
                None => String::new(),
            }),
        )
}
