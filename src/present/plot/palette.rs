//! Pictures with at most 255 colours: small files that lose nothing the eye can see.

use super::PlotError;
use resvg::tiny_skia::Pixmap;
use std::collections::HashMap;

/// Most colours; one more place in a table of 256 stays free for "as before".
const MOST: usize = 255;

/// The commonest colours of one or more pictures.
pub(super) struct Palette {
    pub(super) colours: Vec<[u8; 3]>,
    nearest: HashMap<[u8; 3], u8>,
}

/// Colours as they are seen on the opaque paper.
pub(super) fn pixels(picture: &Pixmap) -> impl Iterator<Item = [u8; 3]> + '_ {
    picture.data().chunks_exact(4).map(|p| [p[0], p[1], p[2]])
}

impl Palette {
    /// Counts the colours of every picture and keeps the commonest; ties in the order of the colours.
    pub(super) fn of<'p>(pictures: impl Iterator<Item = &'p Pixmap>) -> Self {
        let mut counts: HashMap<[u8; 3], u64> = HashMap::new();
        for picture in pictures {
            let (mut run, mut length) = ([0; 3], 0_u64);
            for colour in pixels(picture) {
                if colour == run {
                    length += 1;
                    continue;
                }
                if length > 0 {
                    *counts.entry(run).or_default() += length;
                }
                (run, length) = (colour, 1);
            }
            *counts.entry(run).or_default() += length;
        }
        let mut list: Vec<([u8; 3], u64)> = counts.into_iter().collect();
        list.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
        list.truncate(MOST);
        let colours: Vec<[u8; 3]> = list.into_iter().map(|(c, _)| c).collect();
        let exact = colours.iter().enumerate().map(|(k, c)| (*c, k as u8));
        Self {
            nearest: exact.collect(),
            colours,
        }
    }

    /// Number of the nearest colour.
    pub(super) fn number(&mut self, colour: [u8; 3]) -> u8 {
        if let Some(known) = self.nearest.get(&colour) {
            return *known;
        }
        let distance = |other: &[u8; 3]| -> i32 {
            let part = |k: usize| i32::from(colour[k]) - i32::from(other[k]);
            (0..3).map(|k| part(k).pow(2)).sum()
        };
        let all = self.colours.iter().enumerate();
        let best = all
            .min_by_key(|(_, c)| distance(c))
            .map_or(0, |(k, _)| k as u8);
        self.nearest.insert(colour, best);
        best
    }

    /// The table: red, green, blue of each colour in turn.
    pub(super) fn table(&self) -> Vec<u8> {
        self.colours.iter().flatten().copied().collect()
    }
}

/// A picture as PNG with a table of its own colours.
pub(super) fn png(picture: &Pixmap) -> Result<Vec<u8>, PlotError> {
    let mut palette = Palette::of(std::iter::once(picture));
    let (mut last, mut number) = (None, 0);
    let numbers: Vec<u8> = pixels(picture)
        .map(|colour| {
            if last != Some(colour) {
                (last, number) = (Some(colour), palette.number(colour));
            }
            number
        })
        .collect();
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, picture.width(), picture.height());
    encoder.set_color(png::ColorType::Indexed);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_palette(palette.table());
    encoder.set_filter(png::FilterType::NoFilter);
    encoder.set_compression(png::Compression::Default);
    let mut writer = encoder.write_header().map_err(PlotError::new)?;
    writer.write_image_data(&numbers).map_err(PlotError::new)?;
    writer.finish().map_err(PlotError::new)?;
    Ok(out)
}
