//! One material in full: values, ranges, sources, remarks.

use super::library::{self, Record};
use super::sheet::Sheet;
use super::show::{SHOWN_K, columns, mean_expansion, range, significant, value_at};
use super::{ExpansionKind, PropertyKind, source_keys};

/// A material of the library in full, as plain text; `None` if no material goes by this name.
///
/// A name that stands for two uses (copper as a layer and as a contact) gives both.
pub fn describe(name: &str) -> Option<String> {
    let texts: Vec<String> = library::all()
        .iter()
        .filter(|r| r.is_called(name))
        .map(record)
        .collect();
    (!texts.is_empty()).then(|| texts.join("\n"))
}

fn record(record: &Record) -> String {
    let sheet = &record.sheet;
    let mut text = format!("{} ({})\n", sheet.name, sheet.kind.label());
    if !sheet.aliases.is_empty() {
        text.push_str(&format!("also called {}\n", sheet.aliases.join(", ")));
    }
    text.push_str(&format!("{}.\n\n", sheet.summary));
    text.push_str(&columns(&rows(sheet)));
    text.push_str(&singles(sheet));
    if sheet.properties.iter().any(|(_, p)| p.from_memory) || singles(sheet).contains('*') {
        text.push_str("* from memory, not compared with the source\n");
    }
    text.push_str(&notes(sheet));
    text.push_str("\nsources\n");
    for key in sheet.sources() {
        let citation = library::citation(key).unwrap_or("unknown");
        text.push_str(&format!("  {key}: {citation}\n"));
    }
    text
}

fn rows(sheet: &Sheet) -> Vec<Vec<String>> {
    let header = [
        "",
        "20 degC",
        "100 degC",
        "unit",
        "valid, degC",
        "uncertainty",
        "source",
    ];
    let mut rows = vec![header.map(str::to_owned).to_vec()];
    for (kind, p) in &sheet.properties {
        let values = if *kind == PropertyKind::Expansion {
            expansion_values(sheet)
        } else {
            SHOWN_K.map(|t| value_at(*kind, p, t))
        };
        let [at_20, at_100] = values;
        let star = if p.from_memory { "*" } else { "" };
        rows.push(vec![
            format!("{}{star}", kind.label()),
            at_20,
            at_100,
            kind.shown_unit().0.to_owned(),
            range(p),
            format!("{} %", significant(p.relative_uncertainty * 100.0, 2)),
            source_keys(&p.source).collect::<Vec<_>>().join(", "),
        ]);
        if *kind == PropertyKind::Expansion {
            rows.extend(expansion_rows(sheet));
        }
    }
    rows
}

/// The row of the expansion itself shows the instantaneous coefficient.
fn expansion_values(sheet: &Sheet) -> [String; 2] {
    let slope = |t_k| match sheet.expansion() {
        Some(e) if e.property.within(t_k) => significant(e.strain_with_slope(t_k, t_k).1 * 1e6, 4),
        _ => "-".to_owned(),
    };
    SHOWN_K.map(slope)
}

fn expansion_rows(sheet: &Sheet) -> Vec<Vec<String>> {
    let Some(e) = sheet.expansion() else {
        return Vec::new();
    };
    let given = match e.kind {
        ExpansionKind::Mean { reference_k } => {
            format!(
                "given as mean from {} degC",
                significant(reference_k - 273.15, 4)
            )
        }
        ExpansionKind::Instantaneous => "given as instantaneous".to_owned(),
    };
    let row = |label: &str, value: String, source: String| {
        vec![
            label.to_owned(),
            String::new(),
            value,
            "1e-6/K".to_owned(),
            String::new(),
            String::new(),
            source,
        ]
    };
    vec![row(
        "  mean, 20 to 100 degC",
        mean_expansion(&e, SHOWN_K[0], SHOWN_K[1]),
        given,
    )]
}

fn singles(sheet: &Sheet) -> String {
    let mut text = String::new();
    let mut line = |label: &str, value: String, source: &str, from_memory: bool| {
        let star = if from_memory { "*" } else { "" };
        text.push_str(&format!("{label}{star}: {value} ({source})\n"));
    };
    if let Some(h) = &sheet.highest_recommended {
        let value = format!("{:.0} degC", h.value_si - 273.15);
        line(
            "highest recommended temperature",
            value,
            &h.source,
            h.from_memory,
        );
    }
    if let Some(s) = &sheet.softening_voltage {
        let value = format!("{} V", significant(s.value_si, 3));
        line("softening voltage", value, &s.source, s.from_memory);
    }
    if let Some(m) = &sheet.melting_voltage {
        let value = format!("{} V", significant(m.value_si, 3));
        line("melting voltage", value, &m.source, m.from_memory);
    }
    if let Some(w) = &sheet.wire_strength {
        let at_1_mm = significant(w.at_1_mm_pa / 1e6, 4);
        let value = format!("{at_1_mm} MPa (1 mm / d)^{}", w.exponent);
        line("tensile strength of wire", value, &w.source, w.from_memory);
    }
    if let Some(r) = &sheet.relaxation
        && let Some(loss) = r.first_loading_loss
    {
        let value = format!("{} % of the stress", significant(loss * 100.0, 2));
        line("loss on first loading", value, &r.source, false);
    }
    text
}

fn notes(sheet: &Sheet) -> String {
    if sheet.notes.is_empty() {
        return String::new();
    }
    let mut text = "\nremarks\n".to_owned();
    for note in &sheet.notes {
        text.push_str(&format!(
            "  {}: {}\n",
            note.key.replace('_', " "),
            note.text
        ));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_description_shows_values_ranges_sources_and_what_is_from_memory() {
        let text = describe("fe-36ni").unwrap();
        for part in [
            "Fe-36Ni (strip alloy)",
            "-60 to 350",
            "given as mean from 20 degC",
            "sheet-fe36ni: A metal stockist",
            "Poisson ratio*",
            "* from memory",
            "highest recommended temperature: 350 degC",
        ] {
            assert!(text.contains(part), "{part} is missing in\n{text}");
        }
    }

    #[test]
    fn copper_is_both_a_layer_and_a_contact() {
        let text = describe("copper").unwrap();
        assert!(text.contains("copper (strip alloy)") && text.contains("copper (contact metal)"));
        assert_eq!(describe("unobtainium"), None);
    }
}
