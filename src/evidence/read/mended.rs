//! `[[mended]]`: what was mended; what stands below it in the file is of the mended machine.

use super::common::line;
use super::event::Placed;
use crate::diagnostic::Problem;
use crate::document::TableReader;
use crate::evidence::Mended;
use crate::evidence::mend::{ANOTHER, Mend};

pub(super) fn mended(t: &TableReader<'_>) -> Option<Placed<Mended>> {
    if !t.has("what") {
        t.missing("what", "\"load\"");
    }
    let what = t.choice("what", &Mend::NAMES);
    let label = format!("mended (line {})", line(t));
    t.finish();
    let what = what?;
    let Some(mend) = what.value else {
        t.report(Problem::new(what.span, "that is no mend of this case").help(ANOTHER));
        return None;
    };
    Some(Placed {
        span: t.span(),
        what: Mended { label, what: mend },
    })
}
