//! Formulas as MathML, which browsers draw by themselves: no script, no font, no net.

use super::plain::numbers;
use super::symbol::{letter_and_index, number};
use crate::present::html::escape;
use crate::study::by_hand::unit::Unit;
use crate::study::by_hand::{Expression, Function, Quantity, Step};

/// Numbers that take more characters than this are broken, a line a term.
const WIDTH: usize = 66;

#[derive(Clone, Copy)]
enum Leaves<'s> {
    Symbols,
    Numbers(&'s [Quantity]),
}

/// A step as a block of formulas: symbol and formula, numbers put in, result.
pub(super) fn block(step: &Step) -> String {
    let mut rows = Vec::new();
    let symbol = symbol(&step.result.symbol);
    rows.extend(lines(&symbol, &step.formula, Leaves::Symbols));
    rows.extend(lines("", &step.formula, Leaves::Numbers(&step.inputs)));
    let result = value(step.result.value_si, step.result.unit, true);
    rows.push(("".to_owned(), format!("<mo>=</mo>{result}")));
    table(rows)
}

/// The formula alone, with its symbols.
#[cfg(feature = "figures")]
pub(super) fn asked(step: &Step) -> String {
    let symbol = symbol(&step.result.symbol);
    table(lines(&symbol, &step.formula, Leaves::Symbols))
}

fn table(rows: Vec<(String, String)>) -> String {
    let rows: String = rows
        .into_iter()
        .map(|(left, right)| {
            format!(
                "<mtr><mtd><mrow>{left}</mrow></mtd><mtd><mstyle displaystyle=\"true\"><mrow>{right}</mrow></mstyle></mtd></mtr>\n"
            )
        })
        .collect();
    format!("<math xmlns=\"http://www.w3.org/1998/Math/MathML\"><mtable>\n{rows}</mtable></math>")
}

/// `left = expression` in rows: numbers that would be too wide take a row a term.
fn lines(left: &str, e: &Expression, leaves: Leaves<'_>) -> Vec<(String, String)> {
    let whole = vec![(left.to_owned(), format!("<mo>=</mo>{}", math(e, leaves, 0)))];
    let Leaves::Numbers(known) = leaves else {
        return whole;
    };
    if numbers(e, known).chars().count() <= WIDTH {
        return whole;
    }
    // A sum, or a product that ends in one: its terms go below each other.
    let (before, terms) = match e {
        Expression::Sum(terms) => (String::new(), terms),
        Expression::Product(factors) => match factors.split_last() {
            Some((Expression::Sum(terms), before)) => {
                let before: String = before
                    .iter()
                    .map(|f| format!("{}<mo>×</mo>", math(f, leaves, 2)))
                    .collect();
                (format!("{before}<mo stretchy=\"false\">(</mo>"), terms)
            }
            _ => return whole,
        },
        _ => return whole,
    };
    let last = terms.len() - 1;
    let close = if before.is_empty() {
        ""
    } else {
        "<mo stretchy=\"false\">)</mo>"
    };
    terms
        .iter()
        .enumerate()
        .map(|(k, (is_less, term))| {
            let sign = match (k, is_less) {
                (0, false) => "",
                (0, true) => "<mo form=\"prefix\">−</mo>",
                (_, false) => "<mspace width=\"2em\"/><mo form=\"infix\">+</mo>",
                (_, true) => "<mspace width=\"2em\"/><mo form=\"infix\">−</mo>",
            };
            let (head, start) = match k {
                0 => (left, format!("<mo>=</mo>{before}")),
                _ => ("", String::new()),
            };
            let end = if k == last { close } else { "" };
            let term = math(term, leaves, 2);
            (head.to_owned(), format!("{start}{sign}{term}{end}"))
        })
        .collect()
}

/// A symbol.
pub(super) fn symbol(name: &str) -> String {
    let (letter, index) = letter_and_index(name);
    let letter = escape(&letter);
    match index {
        None => format!("<mi>{letter}</mi>"),
        Some(index) => format!(
            "<msub><mi>{letter}</mi><mtext>{}</mtext></msub>",
            escape(&index)
        ),
    }
}

fn value(value_si: f64, unit: Unit, keeps_zeros: bool) -> String {
    let (mantissa, exponent) = number(unit.shown(value_si), keeps_zeros);
    let mut out = String::from("<mrow>");
    match mantissa.strip_prefix('−') {
        Some(size) => out += &format!("<mo form=\"prefix\">−</mo><mn>{size}</mn>"),
        None => out += &format!("<mn>{mantissa}</mn>"),
    }
    if let Some(exponent) = exponent {
        out += &format!(
            "<mo>·</mo><msup><mn>10</mn><mn>{}</mn></msup>",
            exponent.replace('-', "−")
        );
    }
    if !unit.symbol.is_empty() {
        // A power of ten belongs to the number.
        out += if unit.symbol.starts_with("10") {
            "<mo>·</mo>"
        } else {
            "<mspace width=\"0.2em\"/>"
        };
        out += &format!("<mtext>{}</mtext>", escape(unit.symbol));
    }
    out + "</mrow>"
}

fn rank(e: &Expression) -> u8 {
    match e {
        Expression::Sum(_) => 1,
        Expression::Product(_) => 2,
        Expression::Power(..) => 3,
        // A fraction bar, a root and a name hold together by themselves, except under an exponent.
        Expression::Quotient(..) => 3,
        Expression::Number(_) | Expression::Symbol(_) | Expression::Call(..) => 4,
    }
}

fn fenced(inner: &str) -> String {
    format!("<mrow><mo>(</mo>{inner}<mo>)</mo></mrow>")
}

fn math(e: &Expression, leaves: Leaves<'_>, needs: u8) -> String {
    let at = |e: &Expression, needs: u8| math(e, leaves, needs);
    let out = match e {
        Expression::Number(v) => format!("<mn>{v}</mn>"),
        Expression::Symbol(name) => return leaf(name, leaves, needs),
        Expression::Sum(terms) => {
            let mut out = String::new();
            for (k, (is_less, term)) in terms.iter().enumerate() {
                out += match (k, is_less) {
                    (0, false) => "",
                    (0, true) => "<mo form=\"prefix\">−</mo>",
                    (_, false) => "<mo>+</mo>",
                    (_, true) => "<mo>−</mo>",
                };
                out += &at(term, 2);
            }
            format!("<mrow>{out}</mrow>")
        }
        Expression::Product(factors) => {
            let times = match leaves {
                Leaves::Symbols => "<mo>&#x2062;</mo><mspace width=\"0.15em\"/>",
                Leaves::Numbers(_) => "<mo>×</mo>",
            };
            let parts: Vec<String> = factors.iter().map(|f| at(f, 2)).collect();
            format!("<mrow>{}</mrow>", parts.join(times))
        }
        Expression::Quotient(a, b) => format!("<mfrac>{}{}</mfrac>", at(a, 0), at(b, 0)),
        Expression::Power(base, exponent) => {
            format!("<msup>{}{}</msup>", at(base, 4), small(exponent, leaves))
        }
        Expression::Call(Function::Sqrt, argument) => {
            format!("<msqrt>{}</msqrt>", at(argument, 0))
        }
        Expression::Call(function, argument) => format!(
            "<mrow><mi>{}</mi><mo>&#x2061;</mo>{}</mrow>",
            function.name(),
            fenced(&at(argument, 0))
        ),
    };
    if rank(e) < needs { fenced(&out) } else { out }
}

/// An exponent: a fraction stands on one line there.
fn small(e: &Expression, leaves: Leaves<'_>) -> String {
    match e {
        Expression::Quotient(a, b) => format!(
            "<mrow>{}<mo>/</mo>{}</mrow>",
            math(a, leaves, 2),
            math(b, leaves, 3)
        ),
        other => math(other, leaves, 0),
    }
}

fn leaf(name: &str, leaves: Leaves<'_>, needs: u8) -> String {
    let known = match leaves {
        Leaves::Symbols => None,
        Leaves::Numbers(known) => known.iter().find(|q| q.symbol == name),
    };
    let Some(quantity) = known else {
        return symbol(name);
    };
    let out = value(quantity.value_si, quantity.unit, false);
    let shown = quantity.unit.shown(quantity.value_si);
    let is_composed = !quantity.unit.symbol.is_empty();
    if shown < 0.0 || needs >= 4 && is_composed {
        fenced(&out)
    } else {
        out
    }
}
