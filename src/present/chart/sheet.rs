//! The sheet of a figure: its size in units, and what a unit is on paper or on a screen.

use super::style::{BODY, SHEET};

/// What a figure is made for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Size {
    /// A page or a screen: 254 mm wide (720 points), 8:5.
    #[default]
    Page,
    /// A slide of 16:9, 339 mm wide (960 points).
    Slide,
    /// A slide of 4:3, 254 mm wide (720 points).
    OldSlide,
    /// A column of print, 85 mm wide (241 points), as high as it has to be.
    Column,
}

impl Size {
    /// Width and height, and text of the axes unless another is asked for; points.
    fn points(self) -> ((f64, f64), f64) {
        match self {
            Self::Page => ((720.0, 450.0), 9.3),
            Self::Slide => ((960.0, 540.0), 16.0),
            Self::OldSlide => ((720.0, 540.0), 14.0),
            Self::Column => ((241.0, 190.0), 8.0),
        }
    }

    /// Width of the picture, pixels.
    pub(crate) fn picture_px(self) -> u32 {
        match self {
            Self::Page | Self::OldSlide => 1600,
            Self::Slide => 1920,
            Self::Column => 2008,
        }
    }
}

/// A sheet that a figure is laid out on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Sheet {
    /// Width and height, units.
    pub(crate) units: (i32, i32),
    /// Width as shown, pixels of 1/96 inch.
    pub(crate) shown_px: f64,
    pub(crate) grows: Grows,
}

/// What gives way where there is no room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Grows {
    Nothing,
    /// More units on the same paper: the text is smaller than asked for.
    Units,
    /// More paper, downwards.
    Height,
}

/// Growth from one try to the next.
const STEP: f64 = 1.06;
/// Most units across: where words lie over each other still, they do so on any sheet.
const WIDEST: i32 = 2 * SHEET.0;
/// Most height of a column against its width: that of a page. From there on text gives way.
const HIGHEST: f64 = 2.8;

impl Sheet {
    /// The sheet on which figures are laid out unless they are asked for otherwise.
    pub(crate) const USUAL: Self = Self {
        units: SHEET,
        shown_px: 960.0,
        grows: Grows::Nothing,
    };

    /// Just these units, as large as on the usual sheet.
    pub(crate) fn of_units(units: (i32, i32)) -> Self {
        Self {
            units,
            shown_px: Self::USUAL.shown_px * f64::from(units.0) / f64::from(SHEET.0),
            grows: Grows::Nothing,
        }
    }

    /// The sheet of a size with text of the axes so high, points.
    pub(crate) fn of(size: Size, text_pt: Option<f64>) -> Self {
        let ((width, height), usual_pt) = size.points();
        if (size, text_pt) == (Size::Page, None) {
            return Self::USUAL;
        }
        let per_point = BODY / text_pt.unwrap_or(usual_pt);
        let units = |points: f64| (points * per_point).round() as i32;
        Self {
            units: (units(width), units(height)),
            shown_px: width / 0.75,
            grows: match size {
                Size::Column => Grows::Height,
                _ => Grows::Units,
            },
        }
    }

    /// The first sheet, grown step by step, that has room.
    pub(crate) fn with_room(self, has_room: impl Fn((i32, i32)) -> Room) -> Self {
        let mut sheet = self;
        if self.grows == Grows::Nothing {
            return sheet;
        }
        let grown = |v: i32| (f64::from(v) * STEP).ceil() as i32;
        while sheet.units.0 < WIDEST {
            let (width, height) = sheet.units;
            let is_page = f64::from(height) > HIGHEST * f64::from(width);
            sheet.units = match (has_room(sheet.units), self.grows) {
                (Room::Enough, _) => break,
                (Room::TooLow, Grows::Height) if !is_page => (width, grown(height)),
                _ => (grown(width), grown(height)),
            };
        }
        sheet
    }

    /// Height of the text of the axes, points.
    pub(crate) fn text_pt(self) -> f64 {
        0.75 * self.shown_px / f64::from(self.units.0) * BODY
    }
}

/// Whether what is drawn has room on a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Room {
    Enough,
    TooLow,
    TooNarrow,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_as_high_as_asked_for_where_it_has_room() {
        for size in [Size::Page, Size::Slide, Size::OldSlide, Size::Column] {
            let sheet = Sheet::of(size, Some(12.0));
            assert!((sheet.text_pt() - 12.0).abs() < 0.02, "{size:?}");
        }
    }

    #[test]
    fn a_slide_keeps_its_shape_and_a_column_its_width() {
        let low = |units: (i32, i32)| match units.1 < 1500 {
            true => Room::TooLow,
            false => Room::Enough,
        };
        let slide = Sheet::of(Size::Slide, None).with_room(low);
        let shape = f64::from(slide.units.0) / f64::from(slide.units.1);
        assert!((shape - 16.0 / 9.0).abs() < 0.01, "{shape}");
        let column = Sheet::of(Size::Column, None);
        assert_eq!(column.with_room(low).units.0, column.units.0);
        assert!(column.with_room(low).units.1 >= 1500);
        assert_eq!(Sheet::USUAL.with_room(low), Sheet::USUAL);
    }
}
