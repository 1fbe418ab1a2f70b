//! Light and dark. Everything is drawn in the roles of the light palette; a finished figure is put into
//! another theme by giving every role its other colour. Drawing code knows no theme.

use super::style::{CLAY, EMBER, GRID, INK, LAKE, MOSS, PAPER, PLUM, QUIET};
use plotters::style::RGBColor;

/// How a figure is coloured.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Theme {
    /// Dark ink on white paper: for print.
    #[default]
    Light,
    /// Light ink on dark paper: for screens in dark rooms.
    Dark,
}

/// Every role, light and dark. Each dark ink stands out from its paper as clearly as the light one.
pub(crate) const ROLES: [(RGBColor, RGBColor); 9] = [
    (PAPER, RGBColor(22, 25, 30)),
    (INK, RGBColor(232, 234, 237)),
    (QUIET, RGBColor(160, 167, 176)),
    (GRID, RGBColor(52, 57, 64)),
    (EMBER, RGBColor(255, 146, 84)),
    (LAKE, RGBColor(106, 172, 238)),
    (MOSS, RGBColor(72, 200, 158)),
    (PLUM, RGBColor(226, 132, 194)),
    (CLAY, RGBColor(206, 178, 128)),
];

/// A finished SVG with every colour of a role replaced; colours without a role stay.
pub(crate) fn recoloured(svg: &str, theme: Theme) -> String {
    if theme == Theme::Light {
        return svg.to_owned();
    }
    let mut out = String::with_capacity(svg.len());
    let mut rest = svg;
    while let Some(start) = rest.find("\"#") {
        let (before, from) = rest.split_at(start);
        out.push_str(before);
        let known = from.get(2..8).zip(from.get(8..9)).and_then(|(hex, end)| {
            let dark = ROLES
                .iter()
                .find(|(light, _)| end == "\"" && hex_of(*light) == hex)?
                .1;
            Some(dark)
        });
        match known {
            Some(dark) => {
                out.push_str(&format!("\"#{}\"", hex_of(dark)));
                rest = &from[9..];
            }
            None => {
                out.push_str("\"#");
                rest = &from[2..];
            }
        }
    }
    out.push_str(rest);
    out
}

pub(crate) fn hex_of(colour: RGBColor) -> String {
    format!("{:02x}{:02x}{:02x}", colour.0, colour.1, colour.2)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance and contrast ratio of WCAG 2.1 (W3C 2018, section 1.4.3).
    fn luminance(c: RGBColor) -> f64 {
        let linear = |v: u8| {
            let v = f64::from(v) / 255.0;
            if v <= 0.03928 {
                v / 12.92
            } else {
                ((v + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * linear(c.0) + 0.7152 * linear(c.1) + 0.0722 * linear(c.2)
    }

    fn contrast(a: RGBColor, b: RGBColor) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn every_ink_stands_out_from_its_paper() {
        let (paper, inks) = (ROLES[0], &ROLES[1..]);
        for (light, dark) in inks.iter().filter(|(light, _)| *light != GRID) {
            assert!(contrast(*light, paper.0) >= 4.5, "{light:?}");
            assert!(contrast(*dark, paper.1) >= 4.5, "{dark:?}");
        }
    }

    #[test]
    fn every_role_is_replaced_and_nothing_else() {
        for (k, (light, _)) in ROLES.iter().enumerate() {
            for (other, _) in &ROLES[k + 1..] {
                assert_ne!(light, other);
            }
        }
        let svg = "<path fill=\"#20242a\" stroke=\"#123456\"/><use href=\"#a\"/>";
        let dark = "<path fill=\"#e8eaed\" stroke=\"#123456\"/><use href=\"#a\"/>";
        assert_eq!(recoloured(svg, Theme::Dark), dark);
        assert_eq!(recoloured(svg, Theme::Light), svg);
    }
}
