//! What is shown of a material.

use relatch::internals::material::library;
use relatch::internals::present::block::{Screen, terminal};
use relatch::internals::present::{material_blocks, materials_blocks, materials_readme};

fn shown(name: &str) -> String {
    terminal(&material_blocks(name).expect("a material"), Screen::PLAIN)
}

/// Written anew with `RELATCH_BLESS=1`.
#[test]
fn the_readme_of_the_folder_is_the_generated_one() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/materials/README.md");
    if std::env::var_os("RELATCH_BLESS").is_some() {
        std::fs::write(path, materials_readme()).expect("written");
    }
    assert_eq!(
        std::fs::read_to_string(path).expect("a README"),
        materials_readme()
    );
}

#[test]
fn the_tables_name_every_material() {
    let text = terminal(&materials_blocks(), Screen::PLAIN);
    for r in library::all() {
        assert!(text.contains(&r.sheet.name), "{}", r.sheet.name);
    }
}

#[test]
fn a_description_shows_values_ranges_sources_and_what_is_from_memory() {
    let text = shown("fe-36ni");
    for part in [
        "Fe-36Ni (strip alloy)",
        "-60 to 350",
        "given as mean from 20 °C",
        "sheet-fe36ni: A metal stockist",
        "Poisson ratio*",
        "* value from memory",
        "highest recommended",
        "350 °C (source 5)",
    ] {
        assert!(text.contains(part), "{part} is missing in\n{text}");
    }
}

#[test]
fn copper_is_both_a_layer_and_a_contact() {
    let text = shown("copper");
    assert!(text.contains("copper (strip alloy)") && text.contains("copper (contact metal)"));
    assert!(material_blocks("unobtainium").is_none());
}
