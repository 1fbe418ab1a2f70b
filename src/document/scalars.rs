//! Single values of a table: quantities, texts, flags, whole numbers and words.

use super::bounds_text::{example_within, name_within, out_of_bounds, with_unit};
use super::{Asked, Bounds, Noted, Read, TableReader};
use crate::diagnostic::{Problem, nearest};
use crate::quantity::{Dimension, Quantity};
use std::ops::Range;
use toml::Spanned;
use toml::de::DeValue;

impl TableReader<'_> {
    /// A quantity with its unit, optional.
    pub fn optional(
        &self,
        key: &'static str,
        dimension: Dimension,
        bounds: Bounds,
    ) -> Option<Read<f64>> {
        self.ask(key, || Some(Asked::Quantity(dimension, bounds)));
        let value = self.get(key)?;
        self.quantity_in(&self.path_of(key), value, dimension, 0, bounds)
    }

    /// A quantity with its unit, required.
    pub fn required(
        &self,
        key: &'static str,
        dimension: Dimension,
        bounds: Bounds,
    ) -> Option<Read<f64>> {
        if self.get(key).is_none() {
            let example = example_within(dimension, bounds);
            self.missing(key, &example);
        }
        self.optional(key, dimension, bounds)
    }

    /// A quantity with its unit, or a default where the key is missing; `None` only after a
    /// problem.
    pub fn or(
        &self,
        key: &'static str,
        dimension: Dimension,
        bounds: Bounds,
        default: f64,
    ) -> Option<f64> {
        let read = self.optional(key, dimension, bounds);
        if self.get(key).is_none() {
            return Some(default);
        }
        read.map(|r| r.value)
    }

    /// One value as a quantity (`per_kelvin`: divided by that power of kelvin).
    pub fn quantity_in(
        &self,
        path: &str,
        value: &Spanned<DeValue<'_>>,
        dimension: Dimension,
        per_kelvin: u8,
        bounds: Bounds,
    ) -> Option<Read<f64>> {
        let span = value.span();
        let quantity = match value.get_ref() {
            DeValue::String(text) => match Quantity::read_per_kelvin(text, dimension, per_kelvin) {
                Ok(q) => q,
                Err(e) => {
                    let what = format!("{} belongs here", dimension.name());
                    let place = self.inside(span, text, &e.span);
                    self.report(Problem::new(place, what).label(e.found()).help(e.help()));
                    return None;
                }
            },
            DeValue::Integer(_) | DeValue::Float(_) if dimension == Dimension::Fraction => {
                Quantity {
                    value_si: self.bare_number(value)?,
                    standard_uncertainty_si: None,
                }
            }
            DeValue::Integer(_) | DeValue::Float(_) => {
                let bare = self.document().excerpt(span.clone()).trim().to_owned();
                self.report(
                    Problem::new(span, format!("{} needs a unit", dimension.name()))
                        .label("a bare number")
                        .help(with_unit(&bare, dimension, bounds)),
                );
                return None;
            }
            _ => {
                let example = example_within(dimension, bounds);
                self.wrong_kind(value, name_within(dimension, bounds), &example);
                return None;
            }
        };
        let v = quantity.value_si;
        if !bounds.allows(v) {
            let written = value.get_ref().as_str();
            self.report(out_of_bounds(span, v, written, dimension, bounds));
            return None;
        }
        if let Some(standard_uncertainty_si) = quantity.standard_uncertainty_si {
            self.document().note_tolerance(Noted {
                path: path.to_owned(),
                value_si: v,
                standard_uncertainty_si,
                span: span.clone(),
            });
        }
        Some(Read { value: v, span })
    }

    /// Place of a fault inside a text, where the text stands in the file as it was read.
    pub fn inside(&self, span: Range<usize>, text: &str, fault: &Range<usize>) -> Range<usize> {
        let body = span.start + 1..span.end.saturating_sub(1);
        if self.document().excerpt(body.clone()) == text && !fault.is_empty() {
            body.start + fault.start..body.start + fault.end
        } else {
            span
        }
    }

    fn bare_number(&self, value: &Spanned<DeValue<'_>>) -> Option<f64> {
        let text = self
            .document()
            .excerpt(value.span())
            .trim()
            .replace('_', "");
        match text.parse::<f64>() {
            Ok(v) if v.is_finite() => Some(v),
            _ => {
                self.report(
                    Problem::new(value.span(), "a finite number belongs here")
                        .label(format!("found `{text}`"))
                        .help("write a number such as `0.6`"),
                );
                None
            }
        }
    }

    /// A plain number without unit (or a percentage as text), optional.
    pub fn fraction(&self, key: &'static str, bounds: Bounds) -> Option<Read<f64>> {
        self.optional(key, Dimension::Fraction, bounds)
    }

    /// A text, optional.
    pub fn text(&self, key: &'static str, example: &str) -> Option<Read<String>> {
        self.ask(key, || Some(Asked::Text(example.to_owned())));
        self.text_of(key, example)
    }

    fn text_of(&self, key: &'static str, example: &str) -> Option<Read<String>> {
        let value = self.get(key)?;
        match value.get_ref() {
            DeValue::String(s) => Some(Read {
                value: s.to_string(),
                span: value.span(),
            }),
            _ => {
                self.wrong_kind(value, "a text", example);
                None
            }
        }
    }

    /// A text, required.
    pub fn required_text(&self, key: &'static str, example: &str) -> Option<Read<String>> {
        if self.get(key).is_none() {
            self.missing(key, example);
        }
        self.text(key, example)
    }

    /// True or false, optional.
    pub fn boolean(&self, key: &'static str) -> Option<Read<bool>> {
        self.ask(key, || Some(Asked::Flag));
        let value = self.get(key)?;
        match value.get_ref() {
            DeValue::Boolean(b) => Some(Read {
                value: *b,
                span: value.span(),
            }),
            _ => {
                self.wrong_kind(value, "true or false", "true");
                None
            }
        }
    }

    /// A whole number, optional.
    pub fn whole(&self, key: &'static str, most: u32) -> Option<Read<u32>> {
        self.ask(key, || Some(Asked::Whole(most)));
        let value = self.get(key)?;
        if let DeValue::Integer(i) = value.get_ref()
            && let Ok(v) = u32::from_str_radix(i.as_str(), i.radix())
            && (1..=most).contains(&v)
        {
            return Some(Read {
                value: v,
                span: value.span(),
            });
        }
        self.report(
            Problem::new(
                value.span(),
                format!("a whole number from 1 to {most} belongs here"),
            )
            .label(format!("found `{}`", self.document().excerpt(value.span()))),
        );
        None
    }

    /// One of several words, optional. `None` after a problem or when it is missing.
    pub fn choice<T: Copy>(&self, key: &'static str, choices: &[(&str, T)]) -> Option<Read<T>> {
        let words = || choices.iter().map(|(word, _)| (*word).to_owned()).collect();
        self.ask(key, || Some(Asked::Word(words())));
        let read = self.text_of(key, &format!("\"{}\"", choices.first().map_or("", |c| c.0)))?;
        if let Some((_, value)) = choices
            .iter()
            .find(|(word, _)| word.eq_ignore_ascii_case(read.value.trim()))
        {
            return Some(Read {
                value: *value,
                span: read.span,
            });
        }
        let words: Vec<String> = choices.iter().map(|(w, _)| format!("\"{w}\"")).collect();
        let mut problem = Problem::new(read.span, format!("`{key}` does not know this word"))
            .label("unknown")
            .help(format!("allowed: {}", words.join(", ")));
        if let Some(near) = nearest(&read.value, choices.iter().map(|c| c.0)) {
            problem = problem.help(format!("did you mean \"{near}\"?"));
        }
        self.report(problem);
        None
    }

    /// One of several words, or a default where the key is missing; `None` only after a problem.
    pub fn choice_or<T: Copy>(
        &self,
        key: &'static str,
        choices: &[(&str, T)],
        default: T,
    ) -> Option<T> {
        let read = self.choice(key, choices);
        if self.has(key) {
            read.map(|r| r.value)
        } else {
            Some(default)
        }
    }
}
