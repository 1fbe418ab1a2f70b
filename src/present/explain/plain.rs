//! A formula in lines of text, with symbols or with numbers.

use super::symbol::{in_a_line, raised, value};
use crate::study::by_hand::{Expression, Function, Quantity, Step};

/// Longest line of a formula.
const WIDTH: usize = 92;

/// What stands for a symbol.
#[derive(Clone, Copy)]
enum Leaves<'s> {
    Symbols,
    Numbers(&'s [Quantity]),
}

/// A step as lines: symbol and formula, numbers put in, result.
pub(super) fn lines(step: &Step) -> Vec<String> {
    let symbol = in_a_line(&step.result.symbol);
    let margin = " ".repeat(symbol.chars().count());
    let mut out = asked(step);
    let numbers = numbers(&step.formula, &step.inputs);
    wrap(&mut out, &margin, &margin, &numbers);
    let result = value(step.result.value_si, step.result.unit, true);
    if result != numbers {
        wrap(&mut out, &margin, &margin, &result);
    }
    out
}

/// The formula alone, with its symbols.
pub(super) fn asked(step: &Step) -> Vec<String> {
    let symbol = in_a_line(&step.result.symbol);
    let margin = " ".repeat(symbol.chars().count());
    let mut out = Vec::new();
    let formula = text(&step.formula, Leaves::Symbols, 0);
    wrap(&mut out, &symbol, &margin, &formula);
    out
}

/// A formula in one line with its numbers.
pub(super) fn numbers(e: &Expression, known: &[Quantity]) -> String {
    text(e, Leaves::Numbers(known), 0)
}

/// `head = body`, broken before a sign or a times where it gets too long.
fn wrap(out: &mut Vec<String>, head: &str, margin: &str, body: &str) {
    let mut line = format!("{head} =");
    let mut is_empty = true;
    let words: Vec<&str> = body.split(' ').collect();
    let mut k = 0;
    while k < words.len() {
        // An operator stays with what follows it, a unit with its number.
        let mut end = k + 1;
        while end < words.len() && !matches!(words[end], "+" | "−" | "×" | "/") {
            end += 1;
        }
        let piece = words[k..end].join(" ");
        let length = line.chars().count() + 1 + piece.chars().count();
        if !is_empty && length > WIDTH {
            out.push(std::mem::replace(&mut line, format!("{margin}    ")));
        }
        line.push(' ');
        line.push_str(&piece);
        is_empty = false;
        k = end;
    }
    out.push(line);
}

/// What a denominator needs of its parts.
const BELOW: u8 = 3;

/// How tightly a node binds: sum, product, power.
fn rank(e: &Expression) -> u8 {
    match e {
        Expression::Sum(_) => 1,
        Expression::Product(_) | Expression::Quotient(..) => 2,
        Expression::Power(..) => 3,
        Expression::Number(_) | Expression::Symbol(_) | Expression::Call(..) => 4,
    }
}

fn text(e: &Expression, leaves: Leaves<'_>, needs: u8) -> String {
    let at = |e: &Expression, needs: u8| text(e, leaves, needs);
    let out = match e {
        Expression::Number(v) => v.to_string(),
        Expression::Symbol(name) => leaf(name, leaves, needs),
        Expression::Sum(terms) => {
            let mut out = String::new();
            for (k, (is_less, term)) in terms.iter().enumerate() {
                out += match (k, is_less) {
                    (0, false) => "",
                    (0, true) => "−",
                    (_, false) => " + ",
                    (_, true) => " − ",
                };
                out += &at(term, 2);
            }
            out
        }
        Expression::Product(factors) => {
            let parts: Vec<String> = factors.iter().map(|f| at(f, 2)).collect();
            let times = match leaves {
                Leaves::Symbols => " ",
                Leaves::Numbers(_) => " × ",
            };
            parts.join(times)
        }
        Expression::Quotient(a, b) => format!("{} / {}", at(a, 2), at(b, BELOW)),
        Expression::Power(base, exponent) => match exponent.as_ref() {
            Expression::Number(n) if n.fract() == 0.0 => {
                format!("{}{}", at(base, 4), raised(&n.to_string()))
            }
            other => format!("{}^{}", at(base, 4), at(other, 4).replace(" / ", "/")),
        },
        Expression::Call(function, argument) => {
            let name = match function {
                Function::Sqrt => "√",
                other => other.name(),
            };
            format!("{name}({})", at(argument, 0))
        }
    };
    if rank(e) < needs {
        format!("({out})")
    } else {
        out
    }
}

fn leaf(name: &str, leaves: Leaves<'_>, needs: u8) -> String {
    let Leaves::Numbers(known) = leaves else {
        return in_a_line(name);
    };
    let Some(quantity) = known.iter().find(|q| q.symbol == name) else {
        return in_a_line(name);
    };
    let text = value(quantity.value_si, quantity.unit, false);
    let is_composed = match needs {
        BELOW => text.contains('/') || text.contains('·'),
        needs => needs > BELOW && (text.contains(' ') || text.contains('·')),
    };
    if text.starts_with('−') || is_composed {
        format!("({text})")
    } else {
        text
    }
}
