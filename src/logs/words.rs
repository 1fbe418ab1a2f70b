//! The words that headers use, in the languages of common instruments.

/// Which statistic of an interval a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Statistic {
    /// Not said.
    Unsaid,
    /// Root mean square.
    Rms,
    /// Arithmetic mean.
    Average,
    /// Least.
    Minimum,
    /// Largest.
    Maximum,
}

/// What a word of a header is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Subject {
    /// Time.
    Time,
    /// Date.
    Date,
    /// Current.
    Current,
    /// Temperature of the air.
    Ambient,
    /// Some temperature.
    Temperature,
    /// Unit of another column.
    Unit,
    /// Number of the row.
    Counter,
    /// Something that is no current although its unit might look so.
    Other,
}

/// Words set apart by blanks.
const SUBJECTS: &[(Subject, &str)] = &[
    (
        Subject::Time,
        "time times timestamp datetime elapsed clock t sec secs seconds zeit zeitstempel \
         uhrzeit laufzeit dauer sekunden temps heure horodatage tiempo hora tempo ora tijd \
         tijdstip tid tidpunkt klokkeslett czas godzina aika cas čas",
    ),
    (
        Subject::Date,
        "date datum fecha data dato day tag päivämäärä",
    ),
    (
        Subject::Current,
        "current curr amps amp ampere amperes amperage i il i1 i2 i3 il1 il2 il3 ia ib ic strom \
         stromstärke phasenstrom courant intensité intensite corriente corrente stroom ström \
         strøm prąd prad proud virta clamp",
    ),
    (
        Subject::Ambient,
        "ambient amb tamb air room umgebung umgebungstemperatur luft lufttemperatur raum \
         raumtemperatur ambiante ambiance ambiente omgeving omgivning otoczenie",
    ),
    (
        Subject::Temperature,
        "temperature temp temperatur temperatura température temperatuur teplota lämpötila",
    ),
    (
        Subject::Unit,
        "unit units einheit unité unidad eenheid enhet",
    ),
    (
        Subject::Counter,
        "sample samples index row record nr no n lfd point messung reading count scan id",
    ),
    (
        Subject::Other,
        "voltage volts spannung tension voltaje power leistung frequency frequenz neutral \
         humidity feuchte comment note notes bemerkung remark status",
    ),
];

const STATISTICS: &[(Statistic, &str)] = &[
    (
        Statistic::Rms,
        "rms trms eff effektiv effektivwert efficace eficaz",
    ),
    (
        Statistic::Average,
        "avg average mean mittel mittelwert moyenne moyen moy media promedio gemiddelde medel \
         mw ø ⌀",
    ),
    (Statistic::Minimum, "min minimum mínimo minimo kleinst"),
    (
        Statistic::Maximum,
        "max maximum peak spitze spitzenwert máximo massimo höchst",
    ),
];

/// Words of a header cell, in small letters: cut at blanks and marks, and where `Irms` or `Imax` or
/// `Tamb` puts two together.
pub(super) fn words(text: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for piece in text.split(|c: char| !c.is_alphanumeric() && c != '\u{2300}') {
        if piece.is_empty() {
            continue;
        }
        let lower = piece.to_lowercase();
        if subject_of(&lower).is_some() || statistic_of(&lower).is_some() {
            found.push(lower);
            continue;
        }
        let first = lower.chars().next().map_or(0, char::len_utf8);
        let (head, tail) = lower.split_at(first);
        let digits = lower.trim_end_matches(|c: char| c.is_ascii_digit());
        if matches!(head, "i" | "t") && (statistic_of(tail).is_some() || subject_of(tail).is_some())
        {
            found.extend([head.to_owned(), tail.to_owned()]);
        } else if subject_of(digits).is_some() {
            found.push(digits.to_owned());
        } else {
            found.push(lower);
        }
    }
    found
}

/// What a word is about, if it is known.
pub(super) fn subject_of(word: &str) -> Option<Subject> {
    find(SUBJECTS, word)
}

/// Which statistic a word means, if any.
pub(super) fn statistic_of(word: &str) -> Option<Statistic> {
    find(STATISTICS, word)
}

/// What the table says of a word.
fn find<T: Copy>(table: &[(T, &str)], word: &str) -> Option<T> {
    let row = table
        .iter()
        .find(|(_, words)| words.split(' ').any(|w| w == word));
    row.map(|(meaning, _)| *meaning)
}
