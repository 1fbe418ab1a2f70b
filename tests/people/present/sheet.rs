//! What holds for the sheet of every figure.

use relatch::internals::present::plot::{Figure, Theme};
use std::collections::BTreeSet;

/// Colours of a finished SVG.
fn colours(svg: &str) -> BTreeSet<String> {
    svg.match_indices("\"#")
        .filter_map(|(k, _)| svg.get(k + 2..k + 8))
        .map(str::to_owned)
        .collect()
}

/// A colour without a role would stay as it is in the dark, where nobody could see it.
pub fn assert_every_colour_has_a_dark_one(figure: &Figure) {
    let light = colours(&figure.svg);
    let dark = colours(&figure.clone().in_theme(Theme::Dark).svg);
    assert_eq!(light.len(), dark.len(), "{}", figure.stem);
    assert!(
        light.is_disjoint(&dark),
        "{}: {light:?} {dark:?}",
        figure.stem
    );
}

/// Nothing is cut: the outermost ring of the sheet is bare paper.
pub fn assert_nothing_reaches_the_edge(figure: &Figure) {
    for theme in [Theme::Light, Theme::Dark] {
        let png = figure.clone().in_theme(theme).png_of_width(800).unwrap();
        let picture = resvg::tiny_skia::Pixmap::decode_png(&png).unwrap();
        let (w, h) = (picture.width(), picture.height());
        let paper = picture.pixel(0, 0).unwrap();
        let edge = (0..w)
            .flat_map(|x| [(x, 0), (x, 1), (x, h - 2), (x, h - 1)])
            .chain((0..h).flat_map(|y| [(0, y), (1, y), (w - 2, y), (w - 1, y)]));
        for (x, y) in edge {
            assert_eq!(
                picture.pixel(x, y),
                Some(paper),
                "{} {theme:?} {x} {y}",
                figure.stem
            );
        }
    }
}
