//! Light and dark. Everything is drawn in the roles of the light palette; a finished figure is put
//! into another theme by giving every role its other colour. Drawing code knows no theme.

use super::style::{CLAY, Colour, EMBER, GRID, INK, LAKE, MOSS, PAPER, PLUM, QUIET};

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
pub(crate) const ROLES: [(Colour, Colour); 9] = [
    (PAPER, Colour(22, 25, 30)),
    (INK, Colour(232, 234, 237)),
    (QUIET, Colour(160, 167, 176)),
    (GRID, Colour(52, 57, 64)),
    (EMBER, Colour(255, 146, 84)),
    (LAKE, Colour(106, 172, 238)),
    (MOSS, Colour(72, 200, 158)),
    (PLUM, Colour(226, 132, 194)),
    (CLAY, Colour(206, 178, 128)),
];

/// A finished SVG with every colour of a role replaced; colours without a role stay.
pub(crate) fn recoloured(svg: &str, theme: Theme) -> String {
    if theme == Theme::Light {
        return svg.to_owned();
    }
    let mut pieces = svg.split("\"#");
    let mut out = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let (hex, rest) = piece.split_once('"').unwrap_or((piece, ""));
        let is_role = |(light, _): &&(Colour, Colour)| light.to_string()[1..] == *hex;
        match ROLES.iter().find(is_role) {
            Some((_, dark)) => out += &format!("\"{dark}\"{rest}"),
            None => out += &format!("\"#{piece}"),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance and contrast ratio of WCAG 2.1 (W3C 2018, section 1.4.3).
    fn luminance(c: Colour) -> f64 {
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

    fn contrast(a: Colour, b: Colour) -> f64 {
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
