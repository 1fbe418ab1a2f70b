//! A screenful of text: the three answers first, then why, then how sure.

mod ageing;
mod answers;
mod curve;
mod diagnosis;
mod fit;
mod page;
mod reasons;
mod tables;
mod vary;
mod wait;
mod watch;

pub use ageing::age_text;
pub use curve::characteristic_text;
pub use diagnosis::{diagnosis_screen, diagnosis_text};
pub use fit::fit_text;
pub use vary::{single_text, vary_text};
pub use wait::wait_text;
pub use watch::{watch_head, watch_line, watch_status};

use crate::answer::Place;
use crate::predict::Outcome;
use crate::present::cautions::{Caution, cautions};
use crate::present::number::plain;
use crate::present::words;
use page::Page;

/// What a person reads after a run, at most 100 columns wide. Times and currents carry as many
/// digits as their error leaves standing; where there is no number the reason stands instead.
pub fn text(outcome: &Outcome) -> String {
    let cautions = cautions(outcome);
    let mut page = Page::default();
    head(&mut page, outcome);
    page.blank();
    cautions_at(&mut page, &cautions, Place::Top);
    answers::trip(&mut page, outcome);
    answers::waits(&mut page, outcome, &cautions);
    answers::preload(&mut page, outcome);
    reasons::why(&mut page, outcome);
    tables::events(&mut page, outcome);
    tables::states(&mut page, outcome);
    tables::ambient(&mut page, outcome);
    reasons::sure(&mut page, outcome);
    end(&mut page, outcome, &cautions);
    page.finish()
}

fn head(page: &mut Page, outcome: &Outcome) {
    let part = &outcome.part;
    page.wrap("", &outcome.scenario);
    page.wrap(
        "",
        &format!(
            "{} A {}, {} | air {} °C, rating stated for {} °C | relatch {}",
            plain(part.rated_current_a),
            words::mechanism(part.mechanism),
            words::resets(part.reset),
            plain(part.ambient_c),
            plain(part.reference_ambient_c),
            outcome.version
        ),
    );
}

fn cautions_at(page: &mut Page, cautions: &[Caution], place: Place) {
    for caution in cautions.iter().filter(|c| c.place == place) {
        page.wrap("! ", &caution.text);
    }
}

fn end(page: &mut Page, outcome: &Outcome, cautions: &[Caution]) {
    if !outcome.warnings.is_empty() {
        page.heading("Warnings");
        for warning in &outcome.warnings {
            page.wrap("  * ", &words::warning(warning));
        }
    }
    page.heading("Cautions");
    for caution in cautions
        .iter()
        .filter(|c| matches!(c.place, Place::Measuring | Place::End))
    {
        page.wrap("  ! ", &caution.text);
    }
}
