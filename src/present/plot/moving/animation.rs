//! Frames as GIF and as an SVG with a clockwork of its own.

use super::super::palette::{Palette, Runs};
use super::super::raster::raster;
use super::super::vector::{head, root};
use super::super::{PlotError, side_by_side};
use super::compose::Drawn;
use gif::{DisposalMethod, Encoder, Frame, Repeat};
use std::borrow::Cow;
use std::fmt::Write;
use std::ops::Range;

/// Who asks for less motion sees the moment of release: a rule that is important beats the
/// clockwork.
const STILL: &str = "@media (prefers-reduced-motion: reduce){\
    .still{display:inline!important}.moves{display:none!important}}";

/// How long each frame is shown, and which one stands for all.
pub(in crate::present::plot) struct Times {
    /// Hundredths of a second.
    pub(in crate::present::plot) for_cs: Vec<u32>,
    pub(in crate::present::plot) still: usize,
    /// Whether it has a button and a style of its own; a page brings both.
    pub(in crate::present::plot) is_alone: bool,
}

impl Times {
    /// When the frame that stands for all begins, s.
    #[cfg(feature = "page")]
    pub(in crate::present::plot) fn still_s(&self) -> f64 {
        0.01 * f64::from(self.for_cs.iter().take(self.still).sum::<u32>())
    }

    /// Length of the film, s.
    pub(in crate::present::plot) fn duration_s(&self) -> f64 {
        0.01 * f64::from(self.for_cs.iter().sum::<u32>())
    }
}

/// A button that stops the clockwork and lets it go on, where the picture is opened by itself; a
/// page that shows it has a button of its own.
fn pause((width, _): (i32, i32)) -> String {
    let left = width - 110;
    format!(
        "<g role=\"button\" tabindex=\"0\" aria-label=\"Stop or go on\" cursor=\"pointer\" onclick=\"{TURN}\" \
         onkeydown=\"if(event.key==='Enter'||event.key===' '){{{TURN}}}\"><rect x=\"{left}\" y=\"24\" \
         width=\"80\" height=\"80\" rx=\"14\" fill=\"#626870\"/><rect x=\"{}\" y=\"44\" width=\"14\" height=\"40\" \
         fill=\"#ffffff\"/><rect x=\"{}\" y=\"44\" width=\"14\" height=\"40\" fill=\"#ffffff\"/></g>",
        left + 20,
        left + 46
    )
}

/// Stops the clockwork, or lets it go on.
const TURN: &str =
    "var s=this.ownerSVGElement;s.animationsPaused()?s.unpauseAnimations():s.pauseAnimations()";

/// Every part is a group that is shown while it stays the same; without a clockwork the moment of
/// release stands.
pub(in crate::present::plot) fn svg(
    drawn: &Drawn,
    times: &Times,
    (title, description): (&str, &str),
) -> String {
    let mut begins = vec![0];
    for for_cs in &times.for_cs {
        begins.push(begins.last().copied().unwrap_or(0) + for_cs);
    }
    let clock = Clock {
        still: times.still,
        begins,
    };
    let head = head(title, description);
    let head = match times.is_alone {
        true => format!("{head}<style>{STILL}</style>"),
        false => head,
    };
    let mut body = drawn.below.clone();
    let count = drawn.frames.len();
    for (n, added) in drawn.steps.iter().enumerate() {
        clock.group(&mut body, added, n..count);
    }
    let parts = drawn.frames.first().map_or(0, Vec::len);
    for part in 0..parts {
        let mut from = 0;
        while from < count {
            let is_same = |n: &usize| drawn.frames[*n][part] == drawn.frames[from][part];
            let last = (from..count).take_while(is_same).last();
            let to = last.map_or(from + 1, |n| n + 1);
            clock.group(&mut body, &drawn.frames[from][part], from..to);
            from = to;
        }
    }
    if times.is_alone {
        body += &pause(drawn.size);
    }
    root(&head, &body, drawn.size)
}

/// When each frame begins, hundredths of a second; the last entry is the end.
struct Clock {
    begins: Vec<u32>,
    still: usize,
}

impl Clock {
    /// A group that is shown from the first frame of a range to its last.
    fn group(&self, out: &mut String, content: &str, frames: Range<usize>) {
        if content.trim().is_empty() {
            return;
        }
        let whole = self.begins.last().copied().unwrap_or(0).max(1);
        let at = |n: usize| self.begins.get(n).copied().unwrap_or(whole);
        let (from, to) = (at(frames.start), at(frames.end));
        let share = |cs: u32| format!("{:.5}", f64::from(cs) / f64::from(whole));
        let (values, times) = match (from == 0, to >= whole) {
            (true, true) => ("inline".to_owned(), "0".to_owned()),
            (true, false) => ("inline;none".to_owned(), format!("0;{}", share(to))),
            (false, true) => ("none;inline".to_owned(), format!("0;{}", share(from))),
            (false, false) => (
                "none;inline;none".to_owned(),
                format!("0;{};{}", share(from), share(to)),
            ),
        };
        let (still, class) = if frames.contains(&self.still) {
            ("inline", "still")
        } else {
            ("none", "moves")
        };
        // Writing to a string does not fail.
        let _ = write!(
            out,
            "<g class=\"{class}\" display=\"{still}\"><animate attributeName=\"display\" values=\"{values}\" \
             keyTimes=\"{times}\" dur=\"{:.2}s\" calcMode=\"discrete\" \
             repeatCount=\"indefinite\"/>{content}</g>",
            0.01 * f64::from(whole)
        );
    }
}

/// Only the box that changed is stored of each frame, unchanged points in it as "as before".
pub(in crate::present::plot) fn gif(
    drawn: &Drawn,
    times: &Times,
    width: u32,
) -> Result<Vec<u8>, PlotError> {
    let below = raster(&root("", &drawn.below, drawn.size), width, None)?;
    let picture = |n: &usize| -> Result<Runs, PlotError> {
        let picture = raster(&root("", &drawn.over(*n), drawn.size), width, Some(&below))?;
        Ok(Runs::of(&picture))
    };
    let numbers: Vec<usize> = (0..drawn.frames.len()).collect();
    let pictures = side_by_side(&numbers, picture).into_iter();
    let pictures = pictures.collect::<Result<Vec<Runs>, PlotError>>()?;
    let mut palette = Palette::of(&pictures);
    let (w, h) = (below.width() as usize, below.height() as usize);
    let as_before = palette.colours.len() as u8;
    let mut table = palette.table();
    table.extend([0, 0, 0]);
    let side = |n: usize| u16::try_from(n).map_err(PlotError::new);
    let mut out = Vec::new();
    {
        let mut encoder =
            Encoder::new(&mut out, side(w)?, side(h)?, &table).map_err(PlotError::new)?;
        encoder
            .set_repeat(Repeat::Infinite)
            .map_err(PlotError::new)?;
        let mut before: Vec<u8> = Vec::new();
        for (picture, for_cs) in pictures.iter().zip(&times.for_cs) {
            let now = palette.numbers(picture);
            let (left, top, right, bottom) = changed(&before, &now, w, h);
            let mut buffer = Vec::with_capacity((right - left) * (bottom - top));
            for y in top..bottom {
                for x in left..right {
                    let k = y * w + x;
                    let is_same = before.get(k) == Some(&now[k]);
                    buffer.push(if is_same { as_before } else { now[k] });
                }
            }
            let frame = Frame {
                delay: u16::try_from(*for_cs).unwrap_or(u16::MAX),
                dispose: DisposalMethod::Keep,
                transparent: Some(as_before),
                left: side(left)?,
                top: side(top)?,
                width: side(right - left)?,
                height: side(bottom - top)?,
                buffer: Cow::Owned(buffer),
                ..Frame::default()
            };
            encoder.write_frame(&frame).map_err(PlotError::new)?;
            before = now;
        }
    }
    Ok(out)
}

/// The smallest box that holds every change: left, top, right, bottom; one point when nothing did.
fn changed(before: &[u8], now: &[u8], w: usize, h: usize) -> (usize, usize, usize, usize) {
    if before.len() != now.len() {
        return (0, 0, w, h);
    }
    let (mut left, mut top, mut right, mut bottom) = (w, h, 0, 0);
    for y in 0..h {
        for x in 0..w {
            if before[y * w + x] != now[y * w + x] {
                left = left.min(x);
                right = right.max(x + 1);
                top = top.min(y);
                bottom = bottom.max(y + 1);
            }
        }
    }
    if right == 0 {
        (0, 0, 1, 1)
    } else {
        (left, top, right, bottom)
    }
}

#[cfg(test)]
mod tests {
    use super::changed;

    #[test]
    fn the_box_holds_every_change_and_no_more() {
        let before = vec![0; 20];
        assert_eq!(changed(&[], &before, 5, 4), (0, 0, 5, 4));
        assert_eq!(changed(&before, &before, 5, 4), (0, 0, 1, 1));
        let mut now = before.clone();
        (now[7], now[14]) = (1, 2);
        assert_eq!(changed(&before, &now, 5, 4), (2, 1, 5, 3));
    }
}
