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
        let at = |e: &Expression| e.evaluate(value_of);
        Some(match self {
            Expression::Number(v) => *v,
            Expression::Symbol(name) if name == "pi" => std::f64::consts::PI,
            Expression::Symbol(name) => value_of(name)?,
            Expression::Sum(terms) => {
                let mut sum = 0.0;
                for (is_less, term) in terms {
                    let v = at(term)?;
                    sum += if *is_less { -v } else { v };
                }
                sum
            }
            Expression::Product(factors) => {
                let mut product = 1.0;
                for factor in factors {
                    product *= at(factor)?;
                }
                product
            }
            Expression::Quotient(a, b) => at(a)? / at(b)?,
            Expression::Power(base, exponent) => at(base)?.powf(at(exponent)?),
            Expression::Call(function, argument) => {
                let v = at(argument)?;
                match function {
                    Function::Sqrt => v.sqrt(),
                    Function::Ln => v.ln(),
                    Function::Exp => v.exp(),
                    Function::Tanh => v.tanh(),
                }
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
