//! Formulas from one line of text.

use super::expression::{Expression, Function};

impl Expression {
    /// Reads a formula in one line: `+ - / ^`, a space or a parenthesis for a product, `sqrt ln
    /// tanh`, `pi`. All factors left of a stroke are its numerator, the one factor after it its
    /// denominator.
    ///
    /// ```
    /// use relatch::internals::study::by_hand::Expression;
    /// let e = Expression::read("2 a (b - 1)^2 / (c d)").unwrap();
    /// let value = |name: &str| Some(match name { "a" => 3.0, "b" => 4.0, "c" => 2.0, _ => 1.0 });
    /// assert_eq!(e.evaluate(&value), Some(27.0));
    /// assert!(Expression::read("2 (a").is_none());
    /// ```
    pub fn read(text: &str) -> Option<Expression> {
        parse(text)
    }
}

#[derive(Debug, Clone, PartialEq)]
enum Token {
    Number(f64),
    Name(String),
    Sign(char),
}

fn tokens(text: &str) -> Option<Vec<Token>> {
    let mut out = Vec::new();
    let mut rest = text.trim_start();
    while let Some(first) = rest.chars().next() {
        let part = |belongs: fn(char) -> bool| {
            let end = rest.find(|c| !belongs(c)).unwrap_or(rest.len());
            rest.split_at(end)
        };
        if first.is_ascii_digit() {
            let (number, after) = part(|c| c.is_ascii_digit() || c == '.');
            out.push(Token::Number(number.parse().ok()?));
            rest = after;
        } else if first.is_ascii_alphabetic() {
            let (name, after) = part(|c| c.is_ascii_alphanumeric() || c == '_');
            out.push(Token::Name(name.to_owned()));
            rest = after;
        } else if "+-/^()".contains(first) {
            out.push(Token::Sign(first));
            rest = &rest[1..];
        } else {
            return None;
        }
        rest = rest.trim_start();
    }
    Some(out)
}

/// The formula, if the whole text is one.
pub(super) fn parse(text: &str) -> Option<Expression> {
    let mut reader = Reader {
        tokens: tokens(text)?,
        at: 0,
    };
    let whole = reader.sum()?;
    (reader.at == reader.tokens.len()).then_some(whole)
}

struct Reader {
    tokens: Vec<Token>,
    at: usize,
}

impl Reader {
    fn takes(&mut self, sign: char) -> bool {
        let is_next = self.tokens.get(self.at) == Some(&Token::Sign(sign));
        self.at += usize::from(is_next);
        is_next
    }

    fn sum(&mut self) -> Option<Expression> {
        let is_less = self.takes('-');
        let mut terms = vec![(is_less, self.product()?)];
        loop {
            if self.takes('+') {
                terms.push((false, self.product()?));
            } else if self.takes('-') {
                terms.push((true, self.product()?));
            } else {
                break;
            }
        }
        Some(match (terms.len(), terms.pop()?) {
            (1, (false, only)) => only,
            (_, last) => {
                terms.push(last);
                Expression::Sum(terms)
            }
        })
    }

    fn product(&mut self) -> Option<Expression> {
        let mut whole = vec![self.power()?];
        loop {
            if self.takes('/') {
                let below = self.power()?;
                let above = single(whole, Expression::Product)?;
                whole = vec![Expression::Quotient(Box::new(above), Box::new(below))];
            } else if self.starts_factor() {
                whole.push(self.power()?);
            } else {
                return single(whole, Expression::Product);
            }
        }
    }

    fn starts_factor(&self) -> bool {
        matches!(
            self.tokens.get(self.at),
            Some(Token::Number(_) | Token::Name(_) | Token::Sign('('))
        )
    }

    fn power(&mut self) -> Option<Expression> {
        let base = self.primary()?;
        if self.takes('^') {
            let exponent = self.primary()?;
            return Some(Expression::Power(Box::new(base), Box::new(exponent)));
        }
        Some(base)
    }

    fn primary(&mut self) -> Option<Expression> {
        let token = self.tokens.get(self.at)?.clone();
        self.at += 1;
        match token {
            Token::Number(v) => Some(Expression::Number(v)),
            Token::Sign('(') => self.closed(),
            Token::Sign(_) => None,
            Token::Name(name) => match Function::called(&name) {
                Some(function) if self.takes('(') => {
                    let argument = self.closed()?;
                    Some(Expression::Call(function, Box::new(argument)))
                }
                Some(_) => None,
                None => Some(Expression::Symbol(name)),
            },
        }
    }

    fn closed(&mut self) -> Option<Expression> {
        let inner = self.sum()?;
        self.takes(')').then_some(inner)
    }
}

fn single(
    mut list: Vec<Expression>,
    many: fn(Vec<Expression>) -> Expression,
) -> Option<Expression> {
    if list.len() == 1 {
        list.pop()
    } else {
        Some(many(list))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str) -> Option<f64> {
        let names = |name: &str| {
            Some(match name {
                "a" => 2.0,
                "b_1" => 3.0,
                _ => return None,
            })
        };
        parse(text)?.evaluate(&names)
    }

    #[test]
    fn reads_what_a_textbook_writes() {
        assert_eq!(value("a b_1 / (a + 4) - 1"), Some(0.0));
        assert_eq!(value("-a^2 + (b_1 - 1)(b_1 + 1)"), Some(4.0));
        assert_eq!(value("2 sqrt(a a) / a b_1"), Some(6.0));
        assert_eq!(value("b_1^(1/2) b_1^(1/2)").map(|v| v.round()), Some(3.0));
        assert_eq!(value("ln(1)"), Some(0.0));
    }

    #[test]
    fn refuses_what_is_no_formula() {
        for text in ["", "a +", "(a", "a)", "2 * a", "sqrt a", "a ^", "/ a"] {
            assert_eq!(parse(text), None, "{text}");
        }
        assert_eq!(value("unknown"), None);
    }
}
