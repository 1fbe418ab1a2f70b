//! Pictures with at most 255 colours: small files that lose nothing the eye can see.

use super::PlotError;
use flate2::{Compression, write::ZlibEncoder};
use std::collections::HashMap;
use std::io::Write;
use tiny_skia::Pixmap;

/// Most colours; one more place in a table of 256 stays free for "as before".
const MOST: usize = 255;

/// The commonest colours of one or more pictures.
pub(crate) struct Palette {
    pub(crate) colours: Vec<[u8; 3]>,
    nearest: HashMap<[u8; 3], u8>,
}

/// A picture as runs of one colour, row after row: colours as they are seen on the opaque paper.
pub(crate) struct Runs(Vec<([u8; 3], usize)>);

impl Runs {
    pub(crate) fn of(picture: &Pixmap) -> Self {
        let mut runs: Vec<([u8; 3], usize)> = Vec::new();
        for point in picture.data().chunks_exact(4) {
            let colour = [point[0], point[1], point[2]];
            match runs.last_mut() {
                Some((last, length)) if *last == colour => *length += 1,
                _ => runs.push((colour, 1)),
            }
        }
        Self(runs)
    }
}

impl Palette {
    /// Counts the colours of every picture and keeps the commonest; ties in the order of the
    /// colours.
    pub(crate) fn of(pictures: &[Runs]) -> Self {
        let mut counts: HashMap<[u8; 3], usize> = HashMap::new();
        for (colour, length) in pictures.iter().flat_map(|p| &p.0) {
            *counts.entry(*colour).or_default() += length;
        }
        let mut list: Vec<([u8; 3], usize)> = counts.into_iter().collect();
        list.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
        list.truncate(MOST);
        let colours: Vec<[u8; 3]> = list.into_iter().map(|(c, _)| c).collect();
        let exact = colours.iter().enumerate().map(|(k, c)| (*c, k as u8));
        Self {
            nearest: exact.collect(),
            colours,
        }
    }

    /// A picture in numbers of colours, row after row.
    pub(crate) fn numbers(&mut self, picture: &Runs) -> Vec<u8> {
        let mut numbers = Vec::new();
        for (colour, length) in &picture.0 {
            let number = self.number(*colour);
            numbers.resize(numbers.len() + length, number);
        }
        numbers
    }

    /// Number of the nearest colour.
    fn number(&mut self, colour: [u8; 3]) -> u8 {
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
    pub(crate) fn table(&self) -> Vec<u8> {
        self.colours.iter().flatten().copied().collect()
    }
}

/// A picture as PNG with a table of its own colours.
pub(crate) fn png(picture: &Pixmap) -> Result<Vec<u8>, PlotError> {
    let runs = [Runs::of(picture)];
    let mut palette = Palette::of(&runs);
    let numbers = palette.numbers(&runs[0]);
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, picture.width(), picture.height());
    encoder.set_color(png::ColorType::Indexed);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_palette(palette.table());
    let rows = packed(&numbers, picture.width() as usize).map_err(PlotError::new)?;
    let mut writer = encoder.write_header().map_err(PlotError::new)?;
    (writer.write_chunk(png::chunk::IDAT, &rows)).map_err(PlotError::new)?;
    writer.finish().map_err(PlotError::new)?;
    Ok(out)
}

/// Rows without a filter (PNG, "Filtering": a byte 0 before each), packed all at once: row by row a
/// buffer is cleared for each.
fn packed(numbers: &[u8], width: usize) -> std::io::Result<Vec<u8>> {
    let rows = numbers.chunks(width.max(1));
    let mut plain = Vec::with_capacity(numbers.len() + rows.len());
    for row in rows {
        plain.push(0);
        plain.extend_from_slice(row);
    }
    let mut packer = ZlibEncoder::new(Vec::new(), Compression::default());
    packer.write_all(&plain)?;
    packer.finish()
}
