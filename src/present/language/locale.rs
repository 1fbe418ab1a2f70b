//! Languages and their numbers.

/// A language that screens, work orders, reports and figures can be had in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub enum Language {
    /// English, in which the program is written.
    #[default]
    English,
    /// German.
    German,
    /// Spanish.
    Spanish,
    /// French.
    French,
}

impl Language {
    /// All of them.
    pub const ALL: [Language; 4] = [
        Language::English,
        Language::German,
        Language::Spanish,
        Language::French,
    ];

    /// Its two letters (ISO 639-1).
    pub fn code(self) -> &'static str {
        match self {
            Language::English => "en",
            Language::German => "de",
            Language::Spanish => "es",
            Language::French => "fr",
        }
    }

    /// Its name, in itself.
    pub fn name(self) -> &'static str {
        match self {
            Language::English => "English",
            Language::German => "Deutsch",
            Language::Spanish => "español",
            Language::French => "français",
        }
    }
}

/// A language as it is written somewhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Locale {
    /// The language.
    pub language: Language,
    /// Whether decimals stand behind a comma.
    pub has_decimal_comma: bool,
}

/// Where Spanish or German is spoken and decimals stand behind a point, by ISO 3166-1 (from memory, of the
/// Unicode locale data).
const WITH_A_POINT: [&str; 11] = [
    "ch", "do", "gt", "hn", "li", "mx", "ni", "pa", "pe", "pr", "sv",
];

impl Locale {
    /// English, with a decimal point.
    pub const ENGLISH: Locale = Locale {
        language: Language::English,
        has_decimal_comma: false,
    };

    /// The locale of a name as systems have them (`de_AT.UTF-8`, `es-MX`, `fr`) or of a language
    /// named in itself; `None` for another language.
    ///
    /// ```
    /// use relatch::{Language, Locale};
    /// let there = Locale::of("de_AT.UTF-8").expect("German");
    /// assert_eq!((there.language, there.has_decimal_comma), (Language::German, true));
    /// assert!(!Locale::of("es-MX").expect("Spanish").has_decimal_comma);
    /// assert_eq!(Locale::of("tlh"), None);
    /// ```
    pub fn of(name: &str) -> Option<Locale> {
        let name = name
            .split(['.', '@'])
            .next()
            .unwrap_or_default()
            .to_lowercase();
        if matches!(name.as_str(), "c" | "posix") {
            return Some(Locale::ENGLISH);
        }
        let mut parts = name.split(['_', '-']);
        let (tongue, place) = (parts.next().unwrap_or_default(), parts.next_back());
        let language = Language::ALL
            .into_iter()
            .find(|l| tongue == l.code() || name == l.name().to_lowercase())?;
        let has_point = language == Language::English
            || language != Language::French && place.is_some_and(|p| WITH_A_POINT.contains(&p));
        Some(Locale {
            language,
            has_decimal_comma: !has_point,
        })
    }
}

impl From<Language> for Locale {
    fn from(language: Language) -> Locale {
        Locale {
            language,
            has_decimal_comma: language != Language::English,
        }
    }
}
