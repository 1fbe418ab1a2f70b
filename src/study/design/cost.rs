//! What a part costs: a formula over numbers of its scenario, each in the unit that stands in
//! brackets behind its path, as `0.2 + 0.03 strip.width[mm] * strip.length[mm]`.

use crate::diagnostic::Problem;
use crate::quantity::{Dimension, Quantity};
use crate::scenario::{kind_at, value_at};
use crate::study::by_hand::Expression;
use std::ops::Range;

/// A formula of numbers of a scenario.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Cost {
    /// As it was written.
    pub text: String,
    formula: Expression,
    numbers: Vec<Number>,
}

/// A number of a scenario in a unit.
#[derive(Debug, Clone, PartialEq)]
struct Number {
    /// As it stands in the formula.
    symbol: String,
    path: String,
    dimension: Dimension,
    /// SI value of nothing of the unit, and of one of it.
    zero_and_one_si: [f64; 2],
}

impl Cost {
    /// Reads a formula; every problem spans its place in the text.
    pub(super) fn read(text: &str) -> Result<Cost, Vec<Problem>> {
        let formula = Expression::parse(text).map_err(|at| {
            let end = text[at..].chars().next().map_or(at, |c| at + c.len_utf8());
            let what = "this is no formula";
            let problem = Problem::new(at..end, what).label("it cannot be read from here on");
            vec![problem.help(
                "signs are + - * / ^ and parentheses, functions sqrt, ln, exp and tanh; numbers of the \
                 scenario stand with their unit, as in `0.2 + 0.03 strip.width[mm] * strip.length[mm]`",
            )]
        })?;
        let (mut numbers, mut problems) = (Vec::new(), Vec::new());
        for symbol in formula.symbols() {
            match Number::read(symbol) {
                Ok(number) => numbers.push(number),
                Err(problem) => {
                    let at = text.find(symbol).unwrap_or(0);
                    let span = at + problem.span.start..at + problem.span.end;
                    problems.push(Problem { span, ..*problem });
                }
            }
        }
        match problems.is_empty() {
            true => Ok(Cost {
                text: text.to_owned(),
                formula,
                numbers,
            }),
            false => Err(problems),
        }
    }

    /// The first of its numbers that the text of a scenario lacks, and where in the formula.
    pub(super) fn lacks(&self, scenario: &str) -> Option<(&str, Range<usize>)> {
        let is_missing = |n: &&Number| n.value_si(scenario).is_none();
        let missing = self.numbers.iter().find(is_missing)?;
        let at = self.text.find(&missing.symbol).unwrap_or(0);
        Some((&missing.path, at..at + missing.symbol.len()))
    }

    /// What it says of the text of a scenario; not a number where that is not above zero.
    pub(super) fn value(&self, scenario: &str) -> f64 {
        let of = |symbol: &str| self.number(symbol)?.value(scenario);
        let value = self.formula.evaluate(&of).unwrap_or(f64::NAN);
        if value.is_finite() && value > 0.0 {
            value
        } else {
            f64::NAN
        }
    }

    /// How it moves with the number at a path, per SI unit of it.
    pub(super) fn slope(&self, scenario: &str, path: &str) -> Option<f64> {
        let of = |symbol: &str| {
            let number = self.number(symbol)?;
            let [zero_si, one_si] = number.zero_and_one_si;
            let moves = if number.path == path { 1.0 } else { 0.0 };
            Some([number.value(scenario)?, moves / (one_si - zero_si)])
        };
        self.formula.with_slope(&of).map(|[_, slope]| slope)
    }

    fn number(&self, symbol: &str) -> Option<&Number> {
        self.numbers.iter().find(|number| number.symbol == symbol)
    }
}

impl Number {
    /// A path and, for what is no plain number, its unit in brackets.
    fn read(symbol: &str) -> Result<Number, Box<Problem>> {
        let bracket = symbol.strip_suffix(']').and_then(|s| s.rfind('['));
        let unit = bracket.map(|at| (at, symbol[at + 1..symbol.len() - 1].trim()));
        // The number of an entry of a list is no unit.
        let unit = unit.filter(|(_, unit)| unit.parse::<usize>().is_err());
        let path = &symbol[..unit.map_or(symbol.len(), |(at, _)| at)];
        let Some(dimension) = kind_at(path)? else {
            let what = format!("`{path}` is a word");
            return Err(Box::new(
                Problem::new(0..symbol.len(), what).label("a number belongs here"),
            ));
        };
        let Some((at, unit)) = unit else {
            if dimension == Dimension::Fraction {
                return Ok(Number::of(symbol, path, dimension, [0.0, 1.0]));
            }
            let example = dimension
                .example()
                .split_once(' ')
                .map_or("", |(_, unit)| unit);
            let what = format!("in which unit does `{path}` count?");
            return Err(Box::new(
                Problem::new(0..symbol.len(), what)
                    .label("the unit is missing")
                    .help(format!("write `{path}[{example}]`")),
            ));
        };
        let si = |count: u8| Quantity::read(&format!("{count} {unit}"), dimension);
        match (si(0), si(1)) {
            (Ok(zero), Ok(one)) => Ok(Number::of(
                symbol,
                path,
                dimension,
                [zero.value_si, one.value_si],
            )),
            (Err(e), _) | (_, Err(e)) => Err(Box::new(
                Problem::new(
                    at..symbol.len(),
                    format!("{} belongs here", dimension.name()),
                )
                .label(e.found())
                .help(e.help()),
            )),
        }
    }

    fn of(symbol: &str, path: &str, dimension: Dimension, zero_and_one_si: [f64; 2]) -> Number {
        Number {
            symbol: symbol.to_owned(),
            path: path.to_owned(),
            dimension,
            zero_and_one_si,
        }
    }

    fn value_si(&self, scenario: &str) -> Option<f64> {
        let written = value_at(scenario, &self.path)?;
        let read = Quantity::read(&written, self.dimension).ok()?;
        Some(read.value_si)
    }

    fn value(&self, scenario: &str) -> Option<f64> {
        let [zero_si, one_si] = self.zero_and_one_si;
        Some((self.value_si(scenario)? - zero_si) / (one_si - zero_si))
    }
}
