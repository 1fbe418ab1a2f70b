//! `[ageing]`: constants of relaxation, friction and contact wear.

use super::Scenario;
use super::ageing::SpringNode;
use super::check::Whole;
use super::read_duty::duty;
use super::rows::{Fields, table};
use super::unread;
use crate::diagnostic::Problem;
use crate::document::TableReader;

/// Read `[ageing]` and `[duty]`: both or neither. False only after a problem.
pub(super) fn ageing(root: &TableReader<'_>, whole: &Whole, s: &mut Scenario) -> bool {
    let (has_ageing, has_duty) = (root.has("ageing"), root.has("duty"));
    if !has_ageing && !has_duty {
        return true;
    }
    // Where one is missing, the other's own problems are told all the same.
    s.ageing = Some(unread::ageing());
    let mut well = true;
    if let Some(t) = root.table("duty") {
        well &= duty(&t, s);
    }
    if let Some(t) = root.table("ageing") {
        well &= constants(&t, whole, s);
    }
    if has_ageing && has_duty {
        return well;
    }
    let (there, lacks, what) = if has_ageing {
        ("ageing", "duty", "what the part has to do")
    } else {
        ("duty", "ageing", "the constants of its wear")
    };
    root.report(
        Problem::new(
            root.span_of(there),
            format!("[{there}] stands without [{lacks}]"),
        )
        .label(format!("needs [{lacks}]: {what}"))
        .help(format!("add [{lacks}], or remove [{there}]")),
    );
    false
}

fn constants(t: &TableReader<'_>, whole: &Whole, s: &mut Scenario) -> bool {
    let f = Fields::new(t, table("ageing"));
    let source = f.text("source");
    let mut well = f.read(s);
    if whole.release && t.has("friction") && s.release.mechanism.latch().is_none() {
        t.report(
            Problem::new(
                t.span_of("friction"),
                "a snap blade has no latch that sticks",
            )
            .label("friction belongs to a latch")
            .help("remove [ageing.friction]"),
        );
    }
    let relaxation = t.required_table("relaxation");
    well &= relaxation.is_some_and(|t| relaxed(&Fields::new(&t, table("ageing.relaxation")), s));
    for (key, path) in [("test", "ageing.test"), ("friction", "ageing.friction")] {
        if !t.has(key) {
            continue;
        }
        well &= t.table(key).is_some_and(|t| {
            if let Some(ageing) = &mut s.ageing {
                match key {
                    "test" => ageing.tested = Some(unread::TESTED),
                    _ => ageing.friction = Some(unread::FRICTION),
                }
            }
            let well = Fields::new(&t, table(path)).read(s);
            t.finish();
            well
        });
    }
    t.finish();
    let (Some(ageing), Some(source)) = (&mut s.ageing, source) else {
        return false;
    };
    ageing.source = source.value;
    if ageing.spring.node == SpringNode::HousingAir && whole.housing && s.housing.is_none() {
        t.report(
            Problem::new(
                t.span_of("spring_beside"),
                "the spring is to be as warm as the air of the housing, but there is no [housing]",
            )
            .help("add [housing], or name another node"),
        );
        return false;
    }
    well
}

fn relaxed(f: &Fields<'_, '_>, s: &mut Scenario) -> bool {
    let well = if f.read_key("law", s) {
        f.read(s)
    } else {
        // Without a law every key may be right.
        f.ask_all();
        false
    };
    f.t.finish();
    well
}
