//! In which language people are spoken to. English stands in the code, where a sentence is made; what
//! stands in its place in another language is looked up by it, in one table a language.
//!
//! Words of a record, keys of JSON, columns of tables and what a file says stay English everywhere.

/// Words without numbers, in the language that is spoken.
macro_rules! word {
    ($text:literal) => {
        $crate::present::language::worded($text)
    };
}

/// Words that a table holds: looked up where they are shown ([`worded`]).
macro_rules! noted {
    ($text:literal) => {
        $text
    };
}

/// A sentence with holes, in the language that is spoken: those without a name first, in order, and
/// after a semicolon those that have one.
macro_rules! say {
    ($text:literal $(, $hole:expr)* $(; $($name:ident),+)? $(,)?) => {
        match $crate::present::language::sentence($text) {
            None => format!($text $(, $hole)*),
            Some(sentence) => $crate::present::language::filled(
                sentence,
                &[
                    $(("", &$hole as &dyn std::fmt::Display),)*
                    $($((stringify!($name), &$name as &dyn std::fmt::Display)),+)?
                ],
            ),
        }
    };
}

mod catalogue;
mod locale;
mod template;

pub use locale::{Language, Locale};

use std::cell::Cell;
#[cfg(feature = "page")]
use std::collections::HashMap;
use std::fmt::Display;

thread_local! {
    static SPOKEN: Cell<Locale> = const { Cell::new(Locale::ENGLISH) };
}

/// What `f` makes is said in this language; afterwards all is as before.
pub fn speaking<T>(locale: Locale, f: impl FnOnce() -> T) -> T {
    struct Back(Locale);
    impl Drop for Back {
        fn drop(&mut self) {
            SPOKEN.set(self.0);
        }
    }
    let _back = Back(SPOKEN.replace(locale));
    f()
}

/// The language that is spoken on this thread.
pub fn spoken() -> Locale {
    SPOKEN.get()
}

/// Every English text and what stands in its place; nothing for English.
#[cfg(feature = "page")]
pub(crate) fn table(language: Language) -> HashMap<&'static str, &'static str> {
    catalogue::all(language)
}

/// What a file or another program reads: in English, whatever is spoken.
pub(crate) fn recorded<T>(f: impl FnOnce() -> T) -> T {
    speaking(Locale::ENGLISH, f)
}

/// A text of the program that has no numbers in it; any other as it is.
pub(crate) fn worded(english: &str) -> &str {
    match spoken().language {
        Language::English => english,
        other => catalogue::find(other, english).unwrap_or(english),
    }
}

/// What stands behind cautions that are not as they were reviewed.
pub(crate) fn translated() -> &'static str {
    match spoken().language {
        Language::English => "",
        _ => worded(noted!(" (translated)")),
    }
}

/// The same for a sentence with holes, in English `None`: it is a format then.
pub(crate) fn sentence(english: &'static str) -> Option<&'static str> {
    (spoken() != Locale::ENGLISH).then(|| worded(english))
}

/// The sentence with its holes filled, in order or by name.
pub(crate) fn filled(sentence: &str, holes: &[(&str, &dyn Display)]) -> String {
    template::filled(sentence, holes)
}

/// A number with the mark that the language sets before its decimals.
pub(crate) fn marked(number: String) -> String {
    if spoken().has_decimal_comma {
        number.replace('.', ",")
    } else {
        number
    }
}
