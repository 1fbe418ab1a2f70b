//! What fits on one sheet. Texts that are too long are cut there and stand in full on a second sheet.

/// Letters a line across the sheet, with room for wide fonts.
pub(super) const WHOLE: usize = 130;
/// Letters a line in a half of it.
pub(super) const HALF: usize = 66;

/// What was cut, with the heading under which it stands in full.
#[derive(Debug)]
pub(super) struct Rest {
    /// Share of the usual room that texts get.
    share: f64,
    sections: Vec<(String, Vec<String>)>,
}

impl Rest {
    /// Nothing cut yet; texts get this share of their usual room.
    pub(super) fn with_share(share: f64) -> Self {
        Self {
            share,
            sections: Vec::new(),
        }
    }

    /// Lines or letters that are left of the usual ones.
    pub(super) fn room(&self, usual: usize) -> usize {
        ((usual as f64 * self.share).round() as usize).max(1)
    }

    /// The sections that were cut.
    pub(super) fn sections(&self) -> &[(String, Vec<String>)] {
        &self.sections
    }

    /// The items that fit into `lines` lines of `columns` letters. When something is cut, all of them are kept for
    /// the second sheet under `heading`.
    pub(super) fn fit<T: AsRef<str>>(
        &mut self,
        heading: &str,
        items: &[T],
        columns: usize,
        lines: usize,
    ) -> Vec<String> {
        let mut left = self.room(lines);
        let mut kept = Vec::new();
        let mut is_cut = false;
        for item in items.iter().map(AsRef::as_ref) {
            let needs = lines_of(item, columns);
            if needs <= left {
                kept.push(item.to_owned());
                left -= needs;
            } else {
                is_cut = true;
                // A longer item is cut only where it would leave the list empty.
                if kept.is_empty() && left > 0 {
                    kept.push(shortened(item, left * columns));
                }
                break;
            }
        }
        if is_cut {
            self.keep(heading, items);
        }
        kept
    }

    /// Sentences one behind the other, cut to `letters`.
    pub(super) fn joined<T: AsRef<str>>(
        &mut self,
        heading: &str,
        items: &[T],
        between: &str,
        letters: usize,
    ) -> String {
        let all: Vec<&str> = items.iter().map(|i| i.as_ref().trim()).collect();
        let all = all.join(between);
        let letters = self.room(letters);
        if all.chars().count() > letters {
            self.keep(heading, items);
        }
        shortened(&all, letters)
    }

    /// One sentence, cut to `letters`.
    pub(super) fn sentence(&mut self, heading: &str, text: &str, letters: usize) -> String {
        let letters = self.room(letters);
        if text.chars().count() > letters {
            self.keep(heading, &[text]);
        }
        shortened(text, letters)
    }

    /// Keeps the items for the second sheet.
    pub(super) fn keep<T: AsRef<str>>(&mut self, heading: &str, items: &[T]) {
        let items = items.iter().map(|i| i.as_ref().to_owned()).collect();
        self.sections.push((heading.to_owned(), items));
    }
}

/// Lines that a text fills, with a little loss at every line's end.
pub(super) fn lines_of(text: &str, columns: usize) -> usize {
    text.chars().count().div_ceil(columns.max(1)).max(1)
}

/// `text` cut at a word to at most `letters`, with an ellipsis.
pub(super) fn shortened(text: &str, letters: usize) -> String {
    if text.chars().count() <= letters {
        return text.to_owned();
    }
    let kept: String = text.chars().take(letters.saturating_sub(2)).collect();
    let end = kept.rfind(' ').filter(|end| *end > kept.len() / 2);
    format!("{} …", kept[..end.unwrap_or(kept.len())].trim_end())
}

/// `text` with a full stop, where it has no end yet.
pub(super) fn ended(text: &str) -> String {
    if text.ends_with(['.', '…']) {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}

/// About how many lines a section fills on paper, with the space between its blocks: each block at least one line of
/// `columns` letters. Drawings count as nothing.
pub(super) fn lines_on_paper(html: &str, columns: usize) -> f64 {
    let mut lines = 0.0;
    let mut letters = 0;
    for (k, piece) in html.split('<').enumerate() {
        let (tag, text) = match piece.split_once('>') {
            Some((tag, text)) if k > 0 => (tag, text),
            _ => ("", piece),
        };
        let space = match tag {
            "/p" | "/li" => Some(0.15),
            "/tr" => Some(0.35),
            "/h2" => Some(0.75),
            "/figcaption" => Some(0.0),
            _ => None,
        };
        if let Some(space) = space.filter(|_| letters > 0) {
            lines += usize::div_ceil(letters, columns.max(1)) as f64 + space;
            letters = 0;
        }
        letters += text.trim().chars().count();
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_cut_is_kept_in_full() {
        let mut rest = Rest::with_share(1.0);
        assert_eq!(rest.fit("a", &["one", "two"], 10, 2), ["one", "two"]);
        assert!(rest.sections().is_empty());
        assert_eq!(
            rest.fit("b", &["one", "two", "three"], 10, 2),
            ["one", "two"]
        );
        assert_eq!(
            rest.sections(),
            [(
                "b".to_owned(),
                vec!["one".into(), "two".into(), "three".into()]
            )]
        );
    }

    #[test]
    fn blocks_count_as_lines_with_space_between_them() {
        let html = format!(
            "<h2>Head</h2><p>{}</p><svg><path d=\"M0 0\"/></svg>",
            "x".repeat(25)
        );
        assert!((lines_on_paper(&html, 10) - (1.75 + 3.15)).abs() < 1e-12);
        assert_eq!(lines_on_paper("", 10), 0.0);
    }

    #[test]
    fn the_first_item_is_never_lost() {
        let mut rest = Rest::with_share(1.0);
        let long = "word ".repeat(40);
        let kept = rest.fit("a", &[&long], 20, 2);
        assert!(kept[0].ends_with(" …") && kept[0].chars().count() <= 40);
        assert_eq!(shortened(&"ä".repeat(50), 10).chars().count(), 10);
    }
}
