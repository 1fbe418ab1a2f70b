//! Sentences on lines of at most 100 columns, cut where they are told to be, without anything a terminal would obey.

use crate::answer::Place;
use crate::present::cautions::Caution;
use crate::present::text::page::Page;

/// Columns that a sentence may fill.
pub(super) const ROOM: usize = 100;

/// All cautions of these places, one behind the other, never cut.
pub(super) fn together(page: &mut Page, lead: &str, cautions: &[Caution], places: &[Place]) {
    let texts: Vec<&str> = cautions
        .iter()
        .filter(|c| places.contains(&c.place))
        .map(|c| c.text.as_str())
        .collect();
    say(page, lead, &texts.join(" "), usize::MAX);
}

/// A sentence after `lead`, at most `most` lines long.
pub(super) fn say(page: &mut Page, lead: &str, text: &str, most: usize) {
    lines_of(lead, text, most)
        .into_iter()
        .for_each(|line| page.push(line));
}

/// `text` after `lead`, continued under the first column of text, cut after `most` lines; empty for an empty text.
pub(super) fn lines_of(lead: &str, text: &str, most: usize) -> Vec<String> {
    let indent = if lead.chars().count() > 12 {
        3
    } else {
        lead.chars().count()
    };
    let text = tidy(text);
    if text.is_empty() {
        return Vec::new();
    }
    let mut lines = Vec::new();
    let mut line = lead.to_owned();
    let mut is_empty = true;
    for word in text.split(' ').flat_map(pieces) {
        let length = line.chars().count() + usize::from(!is_empty) + word.chars().count();
        if !is_empty && length > ROOM {
            if lines.len() + 1 == most {
                if line.chars().count() > ROOM - 2
                    && let Some(end) = line.rfind(' ')
                {
                    line.truncate(end);
                }
                let room = line.chars().take(ROOM - 2).collect::<String>();
                line = format!("{} …", room.trim_end());
                lines.push(line);
                return lines;
            }
            lines.push(std::mem::replace(&mut line, " ".repeat(indent)));
            is_empty = true;
        }
        if !is_empty {
            line.push(' ');
        }
        line.push_str(&word);
        is_empty = false;
    }
    lines.push(line);
    lines
}

/// `text` after `lead` on one line; what does not fit is cut, behind a comma or a semicolon where one is near.
pub(super) fn one_line(lead: &str, text: &str) -> String {
    let whole = format!("{lead}{}", tidy(text));
    if whole.chars().count() <= ROOM {
        return whole;
    }
    let room: String = whole.chars().take(ROOM - 2).collect();
    let word = room.rfind(' ').unwrap_or(room.len());
    let clause = room.rfind([',', ';']).filter(|at| 4 * at > 3 * room.len());
    let end = clause.unwrap_or(word).max(lead.len());
    format!("{} …", room[..end].trim_end())
}

/// A word in pieces that fit on a line.
fn pieces(word: &str) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    letters
        .chunks(48)
        .map(|piece| piece.iter().collect())
        .collect()
}

/// Text of a case without control characters, which a terminal would obey, and with single spaces.
fn tidy(text: &str) -> String {
    let plain = |c: char| if c.is_control() { ' ' } else { c };
    let text: String = text.chars().map(plain).collect();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sentence_is_wrapped_and_cut_after_its_lines() {
        let lines = lines_of("   * ", &"word ".repeat(200), 2);
        assert_eq!(lines.len(), 2);
        assert!(lines.iter().all(|l| l.chars().count() <= ROOM));
        assert!(lines[1].starts_with("     word") && lines[1].ends_with(" …"));
        assert!(lines_of("   ", " \t ", 3).is_empty());
    }

    #[test]
    fn endless_words_and_control_characters_do_no_harm() {
        let text = format!("{}\u{1b}[2J\u{7}", "x".repeat(400));
        let lines = lines_of("! ", &text, 9);
        assert!(
            lines
                .iter()
                .all(|l| l.chars().count() <= ROOM && !l.contains('\u{1b}'))
        );
    }
}
