//! What a person reads of a diagnosis, and that it reads well.

use relatch::internals::diagnose::Diagnosis;
use relatch::internals::evidence::Case;
use relatch::internals::present::block::{Screen, html_part, terminal};
use relatch::internals::present::{
    diagnosis_blocks, diagnosis_full_blocks, verdict_words, work_order,
};

/// Lines and words of the screen at 80 columns.
pub const LINES: usize = 32;
pub const WORDS: usize = 250;

/// What a person reads of a page: no markup, no drawing, no style; entities of quotes resolved.
pub fn read(html: &str) -> String {
    let mut html = html.to_owned();
    for tag in ["style", "svg"] {
        while let (Some(start), Some(end)) = (
            html.find(&format!("<{tag}")),
            html.find(&format!("</{tag}>")),
        ) {
            html.replace_range(start..end + tag.len() + 3, " ");
        }
    }
    let mut text = String::new();
    let mut is_tag = false;
    for c in html.chars() {
        match c {
            '<' => is_tag = true,
            '>' => {
                is_tag = false;
                text.push(' ');
            }
            c if !is_tag => text.push(c),
            _ => {}
        }
    }
    let text = text.replace("&#39;", "'").replace("&quot;", "\"");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

pub fn has_no_number_that_is_none(text: &str) -> bool {
    let words = text.split(|c: char| !c.is_alphanumeric());
    !words
        .map(str::to_lowercase)
        .any(|w| w == "nan" || w == "inf" || w == "infinity")
}

/// Across the ends of lines.
pub fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

pub fn screen_of(columns: usize, diagnosis: &Diagnosis, case: &Case) -> String {
    terminal(
        &diagnosis_blocks(diagnosis, case),
        Screen::new(columns, false),
    )
}

/// What is read on the screen, in full, and on the work order.
pub fn surfaces(diagnosis: &Diagnosis, case: &Case) -> [String; 3] {
    let full = terminal(&diagnosis_full_blocks(diagnosis, case), Screen::PLAIN);
    [
        one_line(&screen_of(80, diagnosis, case)),
        one_line(&full),
        read(&work_order(diagnosis, case)),
    ]
}

/// A screen that fits and shows the strongest piece of evidence; on every surface the same verdict
/// and no number that is none; on pages no word of the command line. Gives the screen.
pub fn assert_reads_well(diagnosis: &Diagnosis, case: &Case) -> String {
    let screen = screen_of(80, diagnosis, case);
    let (lines, words) = (screen.lines().count(), screen.split_whitespace().count());
    assert!(
        lines <= LINES && words <= WORDS,
        "{lines}, {words}\n{screen}"
    );
    assert!(screen.lines().all(|l| l.chars().count() <= 80), "{screen}");
    let has_evidence = diagnosis.evidence.is_empty() || !screen.contains("(0 of ");
    assert!(has_evidence, "{screen}");
    for page in [
        html_part(&diagnosis_blocks(diagnosis, case)),
        html_part(&diagnosis_full_blocks(diagnosis, case)),
        work_order(diagnosis, case),
    ] {
        let page = read(&page);
        assert!(!page.contains("--"), "{page}");
    }
    for text in surfaces(diagnosis, case) {
        let suits_not = text.contains("DOES NOT SUIT THE MACHINE");
        let verdict = verdict_words(diagnosis.verdict).to_uppercase();
        assert!(suits_not || text.contains(&verdict), "{text}");
        assert!(has_no_number_that_is_none(&text), "{text}");
    }
    screen
}
