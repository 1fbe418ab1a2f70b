//! A finished SVG as a page of PDF (ISO 32000-1:2008): lines stay lines, and words are words of an
//! embedded font.

use super::figure::PlotError;
use super::pieces::{Form, Pen, Piece, Words, pieces};
use pdf_writer::types::{
    CidFontType, FontFlags, LineJoinStyle, SystemInfo, TextRenderingMode, UnicodeCmap,
};
use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, Str, TextStr};
use std::collections::BTreeMap;
use subsetter::GlyphRemapper;
use ttf_parser::Face;

/// Points in a pixel of 1/96 inch.
const POINTS: f32 = 0.75;
/// Names of the fonts in a page, regular and bold.
const FONTS: [Name<'static>; 2] = [Name(b"R"), Name(b"B")];
const SYSTEM: SystemInfo<'static> = SystemInfo {
    registry: Str(b"Adobe"),
    ordering: Str(b"Identity"),
    supplement: 0,
};
/// Bezier handles of a quarter of a circle.
const QUARTER: f32 = 0.552_284_8;

/// One page, as large as the figure is shown.
pub(super) fn pdf(svg: &str, title: &str, description: &str) -> Result<Vec<u8>, PlotError> {
    let all = pieces(svg)?;
    let size = (POINTS * all.shown.0, POINTS * all.shown.1);
    let mut page = Page {
        content: Content::new(),
        fonts: Default::default(),
        opacities: Vec::new(),
    };
    // The sheet counts downwards.
    let scale = size.0 / all.sheet.0;
    page.content
        .transform([scale, 0.0, 0.0, -scale, 0.0, size.1]);
    page.content.set_line_join(LineJoinStyle::RoundJoin);
    for piece in &all.pieces {
        page.draw(piece);
    }
    page.finished(size, (title, description))
}

/// A page while it is drawn, and what it needs.
struct Page {
    content: Content,
    fonts: [Letters; 2],
    /// Opacities in thousandths.
    opacities: Vec<u16>,
}

/// The letters of a font that are used, by their new numbers, and as which characters.
#[derive(Default)]
struct Letters {
    face: Option<&'static Face<'static>>,
    kept: GlyphRemapper,
    meaning: BTreeMap<u16, char>,
}

fn rgb(colour: [u8; 3]) -> [f32; 3] {
    colour.map(|v| f32::from(v) / 255.0)
}

impl Page {
    fn draw(&mut self, piece: &Piece) {
        if let Form::Words(words) = &piece.form {
            self.write(words, piece.fill.map_or([0; 3], |fill| fill.0));
            return;
        }
        if let Some((colour, opacity)) = piece.fill {
            let [r, g, b] = rgb(colour);
            self.content.save_state().set_fill_rgb(r, g, b);
            let thousandths = (1000.0 * opacity).round() as u16;
            if thousandths < 1000 {
                if !self.opacities.contains(&thousandths) {
                    self.opacities.push(thousandths);
                }
                let name = format!("A{thousandths}");
                self.content.set_parameters(Name(name.as_bytes()));
            }
            self.path(&piece.form);
            self.content.fill_nonzero().restore_state();
        }
        if let Some(Pen {
            colour,
            width,
            dash,
        }) = &piece.stroke
        {
            let [r, g, b] = rgb(*colour);
            self.content.set_stroke_rgb(r, g, b).set_line_width(*width);
            self.content.set_dash_pattern(dash.iter().copied(), 0.0);
            self.path(&piece.form);
            self.content.stroke();
        }
    }

    fn path(&mut self, form: &Form) {
        let content = &mut self.content;
        match form {
            Form::Path(points, is_closed) => {
                for (k, (x, y)) in points.iter().enumerate() {
                    match k {
                        0 => content.move_to(*x, *y),
                        _ => content.line_to(*x, *y),
                    };
                }
                if *is_closed {
                    content.close_path();
                }
            }
            Form::Rectangle([x, y, w, h]) => {
                content.rect(*x, *y, *w, *h);
            }
            Form::Disc((x, y), r) => {
                let (x, y, r, h) = (*x, *y, *r, QUARTER * r);
                content.move_to(x + r, y);
                content.cubic_to(x + r, y + h, x + h, y + r, x, y + r);
                content.cubic_to(x - h, y + r, x - r, y + h, x - r, y);
                content.cubic_to(x - r, y - h, x - h, y - r, x, y - r);
                content.cubic_to(x + h, y - r, x + r, y - h, x + r, y);
                content.close_path();
            }
            Form::Words(_) => {}
        }
    }

    fn write(&mut self, words: &Words, colour: [u8; 3]) {
        let Some(face) = words.face() else { return };
        let number = usize::from(words.is_bold);
        let letters = &mut self.fonts[number];
        letters.face = Some(face);
        let mut codes = Vec::new();
        for (c, glyph, _) in words.glyphs(face) {
            let code = letters.kept.remap(glyph.0);
            letters.meaning.entry(code).or_insert(c);
            codes.extend(code.to_be_bytes());
        }
        let [angle, about_x, about_y] = words.turn.unwrap_or([0.0, words.at.0, words.at.1]);
        let (sin, cos) = angle.to_radians().sin_cos();
        let (dx, dy) = (words.at.0 - about_x, words.at.1 - about_y);
        let at = (about_x + cos * dx - sin * dy, about_y + sin * dx + cos * dy);
        let [r, g, b] = rgb(colour);
        let content = &mut self.content;
        content.begin_text().set_fill_rgb(r, g, b);
        content.set_font(FONTS[number], words.em);
        content.set_text_rendering_mode(TextRenderingMode::Fill);
        content.set_text_matrix([cos, sin, sin, -cos, at.0, at.1]);
        content.show(Str(&codes)).end_text();
    }

    fn finished(
        self,
        (width, height): (f32, f32),
        (title, description): (&str, &str),
    ) -> Result<Vec<u8>, PlotError> {
        let mut pdf = Pdf::new();
        let mut numbers = 0;
        let mut next = || {
            numbers += 1;
            Ref::new(numbers)
        };
        let [catalogue, tree, page, content, about] = [(); 5].map(|()| next());
        pdf.catalog(catalogue).pages(tree).lang(TextStr("en"));
        pdf.pages(tree).kids([page]).count(1);
        let mut info = pdf.document_info(about);
        info.title(TextStr(title)).subject(TextStr(description));
        info.finish();
        let fonts = self.fonts.each_ref().map(|letters| (letters, next()));
        let used = || {
            fonts
                .iter()
                .zip(FONTS)
                .filter(|((l, _), _)| l.face.is_some())
        };
        let mut sheet = pdf.page(page);
        sheet.parent(tree).contents(content);
        sheet.media_box(Rect::new(0.0, 0.0, width, height));
        let mut resources = sheet.resources();
        let mut named = resources.fonts();
        for ((_, font), name) in used() {
            named.pair(name, *font);
        }
        named.finish();
        let mut states = resources.ext_g_states();
        for thousandths in &self.opacities {
            let name = format!("A{thousandths}");
            let mut state = states
                .insert(Name(name.as_bytes()))
                .start::<pdf_writer::writers::ExtGraphicsState<'_>>();
            state.non_stroking_alpha(f32::from(*thousandths) / 1000.0);
        }
        states.finish();
        resources.finish();
        sheet.finish();
        pdf.stream(content, &self.content.finish());
        for ((letters, font), _) in used() {
            letters.embed(&mut pdf, *font, [(); 4].map(|()| next()))?;
        }
        Ok(pdf.finish())
    }
}

impl Letters {
    /// The font with these letters alone.
    fn embed(&self, pdf: &mut Pdf, font: Ref, parts: [Ref; 4]) -> Result<(), PlotError> {
        let Some(face) = self.face else { return Ok(()) };
        let [descendant, descriptor, data, meaning] = parts;
        let subset = subsetter::subset(face.raw_face().data, 0, &self.kept);
        let subset = subset.map_err(PlotError::new)?;
        let name = Name(b"AAAAAA+Figure");
        let per_em = 1000.0 / f32::from(face.units_per_em());
        let of = |v: i16| per_em * f32::from(v);
        let mut whole = pdf.type0_font(font);
        whole
            .base_font(name)
            .encoding_predefined(Name(b"Identity-H"));
        whole.descendant_font(descendant).to_unicode(meaning);
        whole.finish();
        let mut cid = pdf.cid_font(descendant);
        cid.subtype(CidFontType::Type2)
            .base_font(name)
            .system_info(SYSTEM);
        cid.font_descriptor(descriptor).default_width(0.0);
        cid.cid_to_gid_map_predefined(Name(b"Identity"));
        let advance = |glyph: u16| {
            let advance = face.glyph_hor_advance(ttf_parser::GlyphId(glyph));
            per_em * f32::from(advance.unwrap_or(0))
        };
        let mut widths = cid.widths();
        widths.consecutive(0, self.kept.remapped_gids().map(advance));
        widths.finish();
        cid.finish();
        let bounds = face.global_bounding_box();
        let mut about = pdf.font_descriptor(descriptor);
        about.name(name).flags(FontFlags::SYMBOLIC);
        about.bbox(Rect::new(
            of(bounds.x_min),
            of(bounds.y_min),
            of(bounds.x_max),
            of(bounds.y_max),
        ));
        about.italic_angle(0.0).stem_v(80.0);
        about
            .ascent(of(face.ascender()))
            .descent(of(face.descender()));
        about.cap_height(of(face.ascender())).font_file2(data);
        about.finish();
        pdf.stream(data, &subset);
        let mut map = UnicodeCmap::new(Name(b"Figure"), SYSTEM);
        for (code, c) in &self.meaning {
            map.pair(*code, *c);
        }
        pdf.cmap(meaning, &map.finish());
        Ok(())
    }
}
