//! A formula as a tree: the same tree is shown with symbols, shown with numbers, and evaluated, so
//! that what is printed is what was computed.

/// A formula.
#[derive(Debug, Clone, PartialEq)]
pub enum Expression {
    /// A plain number.
    Number(f64),
    /// A quantity by its symbol, e.g. `kappa_0`.
    Symbol(String),
    /// Terms; `true`: subtracted.
    Sum(Vec<(bool, Expression)>),
    /// Factors.
    Product(Vec<Expression>),
    /// Numerator and denominator.
    Quotient(Box<Expression>, Box<Expression>),
    /// Base and exponent.
    Power(Box<Expression>, Box<Expression>),
    /// A function of one argument.
    Call(Function, Box<Expression>),
}

/// A function of one argument.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Function {
    /// Square root.
    Sqrt,
    /// Natural logarithm.
    Ln,
    /// Exponential function.
    Exp,
    /// Hyperbolic tangent.
    Tanh,
}

impl Function {
    /// The function of this name.
    pub fn called(name: &str) -> Option<Function> {
        match name {
            "sqrt" => Some(Function::Sqrt),
            "ln" => Some(Function::Ln),
            "exp" => Some(Function::Exp),
            "tanh" => Some(Function::Tanh),
            _ => None,
        }
    }

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Function::Sqrt => "sqrt",
            Function::Ln => "ln",
            Function::Exp => "exp",
            Function::Tanh => "tanh",
        }
    }
}

impl Expression {
    /// Its value; `None` when a symbol has none.
    pub fn evaluate(&self, value_of: &dyn Fn(&str) -> Option<f64>) -> Option<f64> {
        let plain = |name: &str| value_of(name).map(|v| [v, 0.0]);
        self.with_slope(&plain).map(|[value, _]| value)
    }

    /// Its value and its exact slope, from those of its symbols.
    pub fn with_slope(&self, of: &dyn Fn(&str) -> Option<[f64; 2]>) -> Option<[f64; 2]> {
        let at = |e: &Expression| e.with_slope(of);
        Some(match self {
            Expression::Number(v) => [*v, 0.0],
            Expression::Symbol(name) if name == "pi" => [std::f64::consts::PI, 0.0],
            Expression::Symbol(name) => of(name)?,
            Expression::Sum(terms) => {
                let mut sum = [0.0; 2];
                for (is_less, term) in terms {
                    let v = at(term)?.map(|v| if *is_less { -v } else { v });
                    sum = [sum[0] + v[0], sum[1] + v[1]];
                }
                sum
            }
            Expression::Product(factors) => {
                let mut product = [1.0, 0.0];
                for factor in factors {
                    let [v, slope] = at(factor)?;
                    product = [product[0] * v, product[1] * v + product[0] * slope];
                }
                product
            }
            Expression::Quotient(a, b) => {
                let ([a, a_slope], [b, b_slope]) = (at(a)?, at(b)?);
                [a / b, (a_slope - a / b * b_slope) / b]
            }
            Expression::Power(base, exponent) => {
                let ([b, b_slope], [e, e_slope]) = (at(base)?, at(exponent)?);
                let value = b.powf(e);
                // A constant exponent asks for no logarithm of what may be negative.
                let by_exponent = if e_slope == 0.0 {
                    0.0
                } else {
                    b.ln() * e_slope
                };
                [value, e * b.powf(e - 1.0) * b_slope + value * by_exponent]
            }
            Expression::Call(function, argument) => {
                let [v, slope] = at(argument)?;
                let [value, per_argument] = match function {
                    Function::Sqrt => [v.sqrt(), 0.5 / v.sqrt()],
                    Function::Ln => [v.ln(), 1.0 / v],
                    Function::Exp => [v.exp(), v.exp()],
                    Function::Tanh => [v.tanh(), 1.0 - v.tanh().powi(2)],
                };
                [value, per_argument * slope]
            }
        })
    }

    /// The same formula with other symbols: (from, to).
    #[must_use]
    pub fn renamed(&self, names: &[(&str, &str)]) -> Expression {
        let of = |e: &Expression| e.renamed(names);
        let boxed = |e: &Expression| Box::new(e.renamed(names));
        match self {
            Expression::Number(v) => Expression::Number(*v),
            Expression::Symbol(name) => {
                let new = names.iter().find(|(from, _)| from == name);
                Expression::Symbol(new.map_or(name.as_str(), |(_, to)| to).to_owned())
            }
            Expression::Sum(terms) => {
                Expression::Sum(terms.iter().map(|(less, t)| (*less, of(t))).collect())
            }
            Expression::Product(factors) => Expression::Product(factors.iter().map(of).collect()),
            Expression::Quotient(a, b) => Expression::Quotient(boxed(a), boxed(b)),
            Expression::Power(a, b) => Expression::Power(boxed(a), boxed(b)),
            Expression::Call(f, a) => Expression::Call(*f, boxed(a)),
        }
    }

    /// Symbols in the order in which they appear, once each, without `pi`.
    pub fn symbols(&self) -> Vec<&str> {
        let mut found = Vec::new();
        self.collect(&mut found);
        found
    }

    fn collect<'e>(&'e self, found: &mut Vec<&'e str>) {
        match self {
            Expression::Number(_) => {}
            Expression::Symbol(name) => {
                if name != "pi" && !found.contains(&name.as_str()) {
                    found.push(name);
                }
            }
            Expression::Sum(terms) => terms.iter().for_each(|(_, t)| t.collect(found)),
            Expression::Product(factors) => factors.iter().for_each(|f| f.collect(found)),
            Expression::Quotient(a, b) | Expression::Power(a, b) => {
                a.collect(found);
                b.collect(found);
            }
            Expression::Call(_, a) => a.collect(found),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Expression;

    #[test]
    fn slopes_are_those_of_small_steps() {
        let text = "3 - x^2 / (1 + x) + 2^x sqrt(x) ln(x + 2) + exp(-x) tanh(x)";
        let e = Expression::read(text).expect("a formula");
        let value = |x: f64| e.evaluate(&|_| Some(x)).expect("a value");
        let [at, slope] = e.with_slope(&|_| Some([0.7, 2.0])).expect("a slope");
        let by_steps = (value(0.7 + 1e-5) - value(0.7 - 1e-5)) / 1e-5;
        assert_eq!(at, value(0.7));
        assert!((slope / by_steps - 1.0).abs() < 1e-8, "{slope} {by_steps}");
    }
}
