//! A table on a terminal: as it is, in groups of columns that fit, or one row below the other.

use super::Table;
use super::table::Column;
use super::terminal::{Lines, Style};
use super::wrap::{width, wrapped};

/// Fewest cases beside the names; with less room they are set below them.
const CASES: usize = 4;
/// Between columns.
const GAP: usize = 2;
/// Narrowest column of words that is wrapped.
const WORDS: usize = 14;

/// Prints `table`; nothing when it has no row.
pub(super) fn print(out: &mut Lines, table: &Table) {
    if table.rows() == 0 {
        return;
    }
    match (table.caption.as_str(), out.indent) {
        ("", _) => {}
        // The question above says it.
        _ if out.is_inside => {}
        (caption, 0) => {
            out.blank();
            out.indented(caption, Style::Bold);
        }
        (caption, _) => out.indented(&format!("{caption}:"), Style::Plain),
    }
    let columns = table.shown();
    if table.is_across {
        across(out, &columns, table.rows());
    } else {
        down(out, &columns, table.rows());
    }
    for note in table.notes() {
        out.indented(&note, Style::Plain);
    }
}

/// One quantity a line, the cases side by side, in as few groups as there is room for.
fn across(out: &mut Lines, columns: &[&Column], rows: usize) {
    let names = columns.iter().map(|c| width(&c.heading)).max().unwrap_or(0);
    let cell = |k: usize| GAP + columns.iter().map(|c| width(at(c, k))).max().unwrap_or(0);
    let all: Vec<usize> = (0..rows).map(cell).collect();
    let fits = |lead: usize| {
        let fit = |each: &usize| {
            let mut groups = all.chunks(*each);
            groups.all(|group| lead + group.iter().sum::<usize>() <= out.room())
        };
        let mut even = (1..=rows).map(|groups| rows.div_ceil(groups));
        even.find(fit).unwrap_or(1)
    };
    let beside = fits(names);
    let is_beside = beside >= rows.min(CASES);
    let each = if is_beside { beside } else { fits(0) };
    for from in (0..rows).step_by(each) {
        if from > 0 {
            out.blank();
        }
        for column in columns {
            let name = if is_beside {
                pad(&column.heading, names, true)
            } else {
                String::new()
            };
            if !is_beside {
                out.indented(&column.heading, Style::Plain);
            }
            let kept = from..rows.min(from + each);
            let cells: Vec<String> = kept.map(|k| pad(at(column, k), all[k], false)).collect();
            row(out, &format!("{name}{}", cells.concat()), Style::Plain);
        }
    }
}

/// One case a line.
fn down(out: &mut Lines, columns: &[&Column], rows: usize) {
    let needs: Vec<usize> = columns.iter().map(|c| needs(c)).collect();
    let [first, rest @ ..] = columns else { return };
    let all = needs.iter().sum::<usize>() + GAP * rest.len();
    let spare = (out.room() + needs[rest.len()]).saturating_sub(all);
    if all <= out.room() {
        lines(out, columns, &needs, rows);
    } else if rest
        .last()
        .is_some_and(|c| c.is_text && longest_word(c).max(WORDS) <= spare)
    {
        let widths = [&needs[..rest.len()], &[spare]].concat();
        lines(out, columns, &widths, rows);
    } else if rest.iter().any(|c| c.is_text)
        || needs[0] + GAP + needs[1..].iter().max().unwrap_or(&0) > out.room()
    {
        for k in 0..rows {
            out.indented(at(first, k), Style::Bold);
            for column in rest.iter().filter(|c| !at(c, k).is_empty()) {
                let lead = " ".repeat(out.indent + 2);
                let text = match column.heading.is_empty() {
                    true => at(column, k).to_owned(),
                    false => format!("{}: {}", column.heading, at(column, k)),
                };
                out.say(&lead, &text, Style::Plain);
            }
        }
    } else {
        let mut from = 1;
        while from < columns.len() {
            let mut room = out.room() - needs[0];
            let fits = needs[from..].iter().take_while(|need| {
                let is_in = GAP + **need <= room;
                room = room.saturating_sub(GAP + **need);
                is_in
            });
            let to = from + fits.count();
            let group = [&[*first], &columns[from..to]].concat();
            lines(out, &group, &[&needs[..1], &needs[from..to]].concat(), rows);
            from = to;
            if from < columns.len() {
                out.blank();
            }
        }
    }
}

/// A row of headings, and the rows; words in the last column are wrapped to its width.
fn lines(out: &mut Lines, columns: &[&Column], widths: &[usize], rows: usize) {
    let cells = |cell: &dyn Fn(&Column) -> String| {
        let cells = columns.iter().zip(widths);
        let cells: Vec<String> = cells.map(|(c, w)| pad(&cell(c), *w, c.is_text)).collect();
        cells.join(&" ".repeat(GAP))
    };
    if columns.iter().any(|c| !c.heading.is_empty()) {
        row(out, &cells(&|c| c.heading.clone()), Style::Bold);
    }
    let (Some(last), Some(room)) = (columns.last(), widths.last()) else {
        return;
    };
    for k in 0..rows {
        let words = wrapped(at(last, k), *room);
        for (n, part) in words.iter().enumerate() {
            let shown = |c: &Column| match (std::ptr::eq(c, *last), n) {
                (true, _) => part.clone(),
                (false, 0) => at(c, k).to_owned(),
                (false, _) => String::new(),
            };
            row(out, &cells(&shown), Style::Plain);
        }
    }
}

fn row(out: &mut Lines, text: &str, style: Style) {
    out.line(&format!("{}{text}", " ".repeat(out.indent)), style);
}

fn at(column: &Column, row: usize) -> &str {
    column.cells.get(row).map_or("", String::as_str)
}

fn longest_word(column: &Column) -> usize {
    let words = column.cells.iter().flat_map(|cell| cell.split_whitespace());
    words.map(width).max().unwrap_or(0)
}

fn needs(column: &Column) -> usize {
    let texts = std::iter::once(&column.heading).chain(&column.cells);
    texts.map(|text| width(text)).max().unwrap_or(0)
}

fn pad(text: &str, columns: usize, is_left: bool) -> String {
    let gap = " ".repeat(columns.saturating_sub(width(text)));
    if is_left {
        format!("{text}{gap}")
    } else {
        format!("{gap}{text}")
    }
}
