//! Pictures with at most 255 colours: small files that lose nothing the eye can see.

use super::PlotError;
use flate2::{Compression, write::ZlibEncoder};
use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};
use std::io::Write;
use tiny_skia::Pixmap;

/// Most colours; one more place in a table of 256 stays free for "as before".
const MOST: usize = 255;

/// The commonest colours of one or more pictures.
pub(crate) struct Palette {
    pub(crate) colours: Vec<Colour>,
    nearest: ByColour<u8>,
}

/// Red, green and blue, the highest first, as they are seen on the opaque paper.
type Colour = u32;

/// A picture as runs of one colour, row after row.
pub(crate) struct Runs(Vec<(Colour, usize)>);

/// A table that a picture asks a hundred thousand times. Nobody chooses colours to make it slow.
type ByColour<T> = HashMap<Colour, T, BuildHasherDefault<Spread>>;

#[derive(Default)]
struct Spread(u64);

impl Hasher for Spread {
    fn finish(&self) -> u64 {
        self.0
    }

    /// The golden ratio in 64 bits (D. E. Knuth, The Art of Computer Programming 3, 6.4).
    fn write_u32(&mut self, colour: u32) {
        self.0 = (self.0 ^ u64::from(colour))
            .wrapping_mul(0x9E37_79B9_7F4A_7C15)
            .rotate_left(32);
    }

    fn write(&mut self, bytes: &[u8]) {
        bytes.iter().for_each(|byte| self.write_u32((*byte).into()));
    }
}

impl Runs {
    pub(crate) fn of(picture: &Pixmap) -> Self {
        let mut points = picture.data().as_chunks::<4>().0;
        let mut runs = Vec::new();
        while let Some(first) = points.first() {
            let [red, green, blue, _] = *first;
            let other = points.iter().position(|point| point != first);
            let length = other.unwrap_or(points.len());
            runs.push((u32::from_be_bytes([0, red, green, blue]), length));
            points = &points[length..];
        }
        Self(runs)
    }
}

impl Palette {
    /// Counts the colours of every picture and keeps the commonest; ties in the order of the
    /// colours.
    pub(crate) fn of(pictures: &[Runs]) -> Self {
        let mut counts = ByColour::<usize>::default();
        for (colour, length) in pictures.iter().flat_map(|p| &p.0) {
            *counts.entry(*colour).or_default() += length;
        }
        let mut list: Vec<(Colour, usize)> = counts.into_iter().collect();
        list.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
        list.truncate(MOST);
        let colours: Vec<Colour> = list.into_iter().map(|(c, _)| c).collect();
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
    fn number(&mut self, colour: Colour) -> u8 {
        if let Some(known) = self.nearest.get(&colour) {
            return *known;
        }
        let distance = |other: &Colour| -> u32 {
            let parts = colour.to_be_bytes().into_iter().zip(other.to_be_bytes());
            parts.map(|(a, b)| u32::from(a.abs_diff(b)).pow(2)).sum()
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
        self.colours
            .iter()
            .flat_map(|c| c.to_be_bytes().into_iter().skip(1))
            .collect()
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

/// How hard rows are packed: the pictures of a run take 1.4 % more room than at the usual 6, and
/// three quarters of the work.
const PACKED: u32 = 4;

/// Rows without a filter (PNG, "Filtering": a byte 0 before each), packed all at once: row by row a
/// buffer is cleared for each.
fn packed(numbers: &[u8], width: usize) -> std::io::Result<Vec<u8>> {
    let rows = numbers.chunks(width.max(1));
    let mut plain = Vec::with_capacity(numbers.len() + rows.len());
    for row in rows {
        plain.push(0);
        plain.extend_from_slice(row);
    }
    let mut packer = ZlibEncoder::new(Vec::new(), Compression::new(PACKED));
    packer.write_all(&plain)?;
    packer.finish()
}
