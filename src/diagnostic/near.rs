//! The known word that is most like an unknown one.

/// The candidate most like `word`, if one is near enough to have been meant.
///
/// ```
/// use relatch::internals::diagnostic::nearest;
/// assert_eq!(nearest("lenght", ["length", "width"]), Some("length"));
/// assert_eq!(nearest("colour", ["length", "width"]), None);
/// ```
pub fn nearest<'c>(word: &str, candidates: impl IntoIterator<Item = &'c str>) -> Option<&'c str> {
    let plain = |s: &str| s.to_lowercase().replace(['-', '_', ' ', '/'], "");
    let wanted = plain(word);
    candidates
        .into_iter()
        .map(|c| (strsim::damerau_levenshtein(&wanted, &plain(c)), c))
        .filter(|(distance, c)| {
            let longest = plain(c).chars().count().max(wanted.chars().count());
            let begun = wanted.chars().count() >= 4
                && (plain(c).starts_with(&wanted) || wanted.starts_with(&plain(c)));
            *distance <= longest / 3 || begun
        })
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, c)| c)
}
