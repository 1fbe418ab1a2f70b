//! Formulas from one line of text.

use super::expression::{Expression, Function};

impl Expression {
    /// Reads a formula in one line: `+ - / ^`, a space, a parenthesis or `*` for a product, `sqrt
    /// ln exp tanh`, `pi`. All factors left of a stroke are its numerator, the one factor after it
    /// its denominator. A name may go on with points and brackets: `strip.layer[0].thickness[mm]`.
    ///
    /// ```
    /// use relatch::internals::study::by_hand::Expression;
    /// let e = Expression::read("2 a (b - 1)^2 / (c d)").unwrap();
    /// let value = |name: &str| Some(match name { "a" => 3.0, "b" => 4.0, "c" => 2.0, _ => 1.0 });
    /// assert_eq!(e.evaluate(&value), Some(27.0));
    /// assert!(Expression::read("2 (a").is_none());
    /// ```
    pub fn read(text: &str) -> Option<Expression> {
        parse(text).ok()
    }

    /// The same; or the byte from which on it is none.
    pub fn parse(text: &str) -> Result<Expression, usize> {
        parse(text)
    }
}

#[derive(Debug, Clone, PartialEq)]
enum Token {
    Number(f64),
    Name(String),
    Sign(char),
}

/// Tokens, and where each begins; or where there is none.
fn tokens(text: &str) -> Result<Vec<(Token, usize)>, usize> {
    let mut out = Vec::new();
    let mut rest = text.trim_start();
    while let Some(first) = rest.chars().next() {
        let at = text.len() - rest.len();
        let (token, after) = if first.is_ascii_digit() {
            let (number, after) = split(rest, |c| c.is_ascii_digit() || c == '.');
            (Token::Number(number.parse().map_err(|_| at)?), after)
        } else if first.is_ascii_alphabetic() {
            let (name, after) = rest.split_at(name_length(rest));
            (Token::Name(name.to_owned()), after)
        } else if "+-*/^()".contains(first) {
            (Token::Sign(first), &rest[1..])
        } else {
            return Err(at);
        };
        out.push((token, at));
        rest = after.trim_start();
    }
    Ok(out)
}

fn split(text: &str, belongs: impl Fn(char) -> bool) -> (&str, &str) {
    text.split_at(text.find(|c| !belongs(c)).unwrap_or(text.len()))
}

/// Bytes of the name at the beginning of a text, with its points and brackets.
fn name_length(text: &str) -> usize {
    let mut end = 0;
    loop {
        let word = split(&text[end..], |c| c.is_ascii_alphanumeric() || c == '_');
        end += word.0.len();
        while let (true, Some(length)) = (text[end..].starts_with('['), text[end..].find(']')) {
            end += length + 1;
        }
        let goes_on = |c: char| c.is_ascii_alphabetic();
        match text[end..].strip_prefix('.') {
            Some(more) if more.starts_with(goes_on) => end += 1,
            _ => return end,
        }
    }
}

/// The formula, if the whole text is one; else where it ends to be one, in bytes.
pub(super) fn parse(text: &str) -> Result<Expression, usize> {
    let mut reader = Reader {
        tokens: tokens(text)?,
        at: 0,
    };
    let whole = reader.sum();
    match (whole, reader.tokens.get(reader.at)) {
        (Some(whole), None) => Ok(whole),
        // What was taken last does not belong there.
        (None, _) if reader.at > 0 => Err(reader.tokens[reader.at - 1].1),
        (_, token) => Err(token.map_or(text.len(), |token| token.1)),
    }
}

struct Reader {
    tokens: Vec<(Token, usize)>,
    at: usize,
}

impl Reader {
    fn next(&self) -> Option<&Token> {
        self.tokens.get(self.at).map(|(token, _)| token)
    }

    fn takes(&mut self, sign: char) -> bool {
        let is_next = self.next() == Some(&Token::Sign(sign));
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
            } else if self.takes('*') || self.starts_factor() {
                whole.push(self.power()?);
            } else {
                return single(whole, Expression::Product);
            }
        }
    }

    fn starts_factor(&self) -> bool {
        matches!(
            self.next(),
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
        let token = self.next()?.clone();
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
        parse(text).ok()?.evaluate(&names)
    }

    #[test]
    fn reads_what_a_textbook_writes() {
        assert_eq!(value("a b_1 / (a + 4) - 1"), Some(0.0));
        assert_eq!(value("-a^2 + (b_1 - 1)(b_1 + 1)"), Some(4.0));
        assert_eq!(value("2 sqrt(a a) / a b_1"), Some(6.0));
        assert_eq!(value("b_1^(1/2) b_1^(1/2)").map(|v| v.round()), Some(3.0));
        assert_eq!(value("ln(1)"), Some(0.0));
        assert_eq!(value("2 * a b_1 * 2"), Some(24.0));
    }

    #[test]
    fn a_name_goes_on_with_points_and_brackets() {
        let read = parse("2 strip.layer[0].thickness[mm] (film[W/(m2 K)] - 1)").expect("read");
        let names = ["strip.layer[0].thickness[mm]", "film[W/(m2 K)]"];
        assert_eq!(read.symbols(), names);
    }

    #[test]
    fn refuses_what_is_no_formula() {
        for (text, at) in [
            ("", 0),
            ("a +", 2),
            ("(a", 1),
            ("a)", 1),
            ("2 * * a", 4),
            ("sqrt a", 0),
            ("a ^", 2),
            ("/ a", 0),
            ("2 € a", 2),
        ] {
            assert_eq!(parse(text), Err(at), "{text}");
        }
        assert_eq!(value("unknown"), None);
    }
}
