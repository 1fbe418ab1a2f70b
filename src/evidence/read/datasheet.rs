//! The whole datasheet: what a maker prints of one protector.

use super::{kind_and_format, protector};
use crate::diagnostic::Problem;
use crate::document::TableReader;
use crate::evidence::Datasheet;

/// Read everything; `None` only after a problem.
pub(in crate::evidence) fn datasheet(root: &TableReader<'_>) -> Option<Datasheet> {
    if !root.has("kind") && root.has("strip") {
        root.report(
            Problem::new(root.span_of("strip"), "this is a scenario, not a datasheet")
                .label("a datasheet has no strip")
                .help("`relatch run` reads scenarios; `relatch new datasheet` prints a starter for a datasheet"),
        );
        return None;
    }
    kind_and_format(root, "datasheet", "datasheets");
    let title = root.required_text("title", "\"10 A part of the proofing cabinet\"");
    let shows = root.text("shows", "\"where the numbers were read\"");
    if !root.has("protector") {
        root.lacks(
            &["protector"],
            Problem::new(root.span(), "the file lacks the table [protector]")
                .label("needed")
                .help(
                    "add `[protector]` with `rating = \"13 A\"`; `relatch new datasheet` prints \
                       a whole starter file",
                ),
        );
    }
    let table = root.table("protector");
    let printed = table.as_ref().and_then(protector::protector);
    root.finish();
    if let Some(table) = &table
        && !["limits", "window", "point"].iter().any(|k| table.has(k))
        && !root.document().has_problems()
    {
        root.report(
            Problem::new(
                root.span_of("protector"),
                "nothing is published here that a part could be fitted to",
            )
            .help(
                "add points of the characteristic as [[protector.point]], windows as \
                   [[protector.window]], or `limits`",
            ),
        );
        return None;
    }
    Some(Datasheet {
        title: title?.value.trim().to_owned(),
        shows: shows.map(|s| s.value.trim().to_owned()).unwrap_or_default(),
        nameplate: printed?.nameplate,
    })
}
