//! `[latch]` or `[snap_blade]`.

use super::rows::{Fields, latch, snap_blade, table};
use super::{Mechanism, Scenario};
use crate::diagnostic::Problem;
use crate::document::TableReader;

/// Read whichever mechanism the file has.
pub(super) fn release(root: &TableReader<'_>, s: &mut Scenario) -> bool {
    match (root.table("latch"), root.table("snap_blade")) {
        (Some(t), None) => read(&t, latch::UNREAD, s),
        (None, Some(t)) => {
            let expands = t.has("frame_expansion");
            read(&t, snap_blade::unread(expands), s)
        }
        (Some(_), Some(t)) => {
            root.report(
                Problem::new(
                    t.span(),
                    "a protector has [latch] or [snap_blade], not both",
                )
                .label("remove one of the two"),
            );
            false
        }
        (None, None) => {
            if !root.has("latch") && !root.has("snap_blade") {
                root.lacks(
                    &["latch", "snap_blade"],
                    Problem::new(
                        root.span(),
                        "the file lacks its release: [latch] or [snap_blade]",
                    )
                    .label("needed")
                    .help("`relatch new latch` and `relatch new snap-blade` print starter files"),
                );
            }
            false
        }
    }
}

fn read(t: &TableReader<'_>, unread: Mechanism, s: &mut Scenario) -> bool {
    s.release.mechanism = unread;
    let well = Fields::new(t, table(t.path())).read(s);
    t.finish();
    well
}
