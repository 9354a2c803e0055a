//! Sheets as a PDF file: vector lines at true size, fonts embedded, and the entry that asks for no scaling.

mod print_scaling;

use crate::sheets::{Ink, Mark, Pen, Sheet, Text, Typeface};
use krilla::Document;
use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Transform};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use kurbo::{BezPath, PathEl};
use std::ops::Range;
use thiserror::Error;

/// PDF's unit: points in a millimetre.
const POINTS_PER_MM: f64 = 72.0 / 25.4;
/// Largest page that readers show without a user unit: 200 in (ISO 32000-1, annex C).
pub const MAX_PAGE_MM: f64 = 5080.0;

/// Why there is no PDF.
#[derive(Debug, Error)]
pub enum PdfError {
    /// A PDF has at least one page.
    #[error("there is no sheet to write")]
    NoSheets,
    /// A page that no reader shows at true size.
    #[error("{label} is {width_mm} x {height_mm} mm: a PDF page is at most {MAX_PAGE_MM} mm")]
    PageSize {
        /// The sheet.
        label: String,
        /// Across it, mm.
        width_mm: f64,
        /// Up it, mm.
        height_mm: f64,
    },
    /// A font could not be read or cut down to the letters used.
    #[error("the PDF's fonts cannot be written: {0}")]
    Fonts(String),
    /// The writer refused the document.
    #[error("the PDF cannot be written: {0}")]
    Writer(String),
    /// The finished file does not look as expected, so it cannot be told to print without scaling.
    #[error("the PDF's catalog was not found, so it cannot ask to be printed at 100 %")]
    NoCatalog,
}

/// Writes sheets as a PDF, one page each. The same sheets give the same bytes: there is no date in the file.
///
/// # Errors
/// [`PdfError`] when there are no sheets, or a page is larger than a PDF page can be.
pub fn pdf(sheets: &[Sheet], title: &str) -> Result<Vec<u8>, PdfError> {
    if sheets.is_empty() {
        return Err(PdfError::NoSheets);
    }
    let fonts = Fonts::read()?;
    let mut document = Document::new();
    let mut outline = Outline::new();
    for (page, sheet) in sheets.iter().enumerate() {
        let refused =
            || PdfError::PageSize { label: sheet.label.clone(), width_mm: sheet.width_mm, height_mm: sheet.height_mm };
        let fits = |mm: f64| mm > 0.0 && mm <= MAX_PAGE_MM;
        if !(fits(sheet.width_mm) && fits(sheet.height_mm)) {
            return Err(refused());
        }
        let [width, height] = [sheet.width_mm, sheet.height_mm].map(|mm| (mm * POINTS_PER_MM) as f32);
        let settings = PageSettings::from_wh(width, height).ok_or_else(refused)?;
        let mut page_of_pdf = document.start_page_with(settings);
        let mut surface = page_of_pdf.surface();
        let [across, up] = sheet.scale.map(|scale| (scale * POINTS_PER_MM) as f32);
        surface.push_transform(&Transform::from_scale(across, up));
        for mark in &sheet.marks {
            draw(&mut surface, &fonts, mark);
        }
        surface.pop();
        surface.finish();
        page_of_pdf.finish();
        outline.push_child(OutlineNode::new(sheet.label.clone(), XyzDestination::new(page, Point::from_xy(0.0, 0.0))));
    }
    document.set_outline(outline);
    document.set_metadata(
        Metadata::new().title(title.to_owned()).creator("Cornerwise".to_owned()).language("en".to_owned()),
    );
    let bytes = document.finish().map_err(|error| PdfError::Writer(error.to_string()))?;
    print_scaling::without_scaling(bytes).ok_or(PdfError::NoCatalog)
}

/// The four typefaces as krilla holds them.
struct Fonts([Font; 4]);

impl Fonts {
    fn read() -> Result<Fonts, PdfError> {
        let font = |typeface: Typeface| {
            Font::new(typeface.bytes().into(), 0).ok_or_else(|| PdfError::Fonts(format!("{typeface:?}")))
        };
        let [a, b, c, d] = Typeface::ALL;
        Ok(Fonts([font(a)?, font(b)?, font(c)?, font(d)?]))
    }

    fn get(&self, typeface: Typeface) -> Font {
        self.0[typeface.index()].clone()
    }
}

fn draw(surface: &mut Surface<'_>, fonts: &Fonts, mark: &Mark) {
    match mark {
        Mark::Line { path, pen } => {
            if let Some(path) = krilla_path(path) {
                surface.set_fill(None);
                surface.set_stroke(Some(stroke(*pen)));
                surface.draw_path(&path);
            }
        }
        Mark::Fill { path, ink } => {
            if let Some(path) = krilla_path(path) {
                surface.set_stroke(None);
                surface.set_fill(Some(fill(*ink)));
                surface.draw_path(&path);
            }
        }
        Mark::Text(text) => write(surface, fonts, text),
    }
}

/// Sets one line of text at the widths that [`Typeface`] measures.
fn write(surface: &mut Surface<'_>, fonts: &Fonts, text: &Text) {
    // One form of each character, so that the glyphs' ranges and the text that can be copied from the page agree.
    let printed: String = text.text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let glyphs: Vec<KrillaGlyph> = printed
        .char_indices()
        .map(|(at, c)| {
            let letter = text.typeface.letter(c);
            let range: Range<usize> = at..at + c.len_utf8();
            let glyph = GlyphId::new(u32::from(letter.glyph));
            KrillaGlyph::new(glyph, letter.advance as f32, 0.0, 0.0, 0.0, range, None)
        })
        .collect();
    let start = text.start();
    let (start, turned) = if text.turn_deg.abs() < 1e-9 {
        (point(start), false)
    } else {
        surface.push_transform(&Transform::from_translate(start.x as f32, start.y as f32));
        surface.push_transform(&Transform::from_rotate(text.turn_deg as f32));
        (Point::from_xy(0.0, 0.0), true)
    };
    surface.set_stroke(None);
    surface.set_fill(Some(fill(text.ink)));
    let size = text.typeface.size_mm(text.cap_mm) as f32;
    surface.draw_glyphs(start, &glyphs, fonts.get(text.typeface), &printed, size, false);
    if turned {
        surface.pop();
        surface.pop();
    }
}

fn stroke(pen: Pen) -> Stroke {
    let style = pen.style();
    let dash = (!style.dash_mm.is_empty())
        .then(|| StrokeDash { array: style.dash_mm.iter().map(|mm| *mm as f32).collect(), offset: 0.0 });
    Stroke { paint: colour(style.ink).into(), width: style.width_mm as f32, dash, ..Stroke::default() }
}

fn fill(ink: Ink) -> Fill {
    Fill { paint: colour(ink).into(), ..Fill::default() }
}

fn colour(ink: Ink) -> rgb::Color {
    let [red, green, blue] = ink.rgb();
    rgb::Color::new(red, green, blue)
}

fn point(p: kurbo::Point) -> Point {
    Point::from_xy(p.x as f32, p.y as f32)
}

fn krilla_path(path: &BezPath) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for element in path.elements() {
        let p = |p: kurbo::Point| (p.x as f32, p.y as f32);
        match *element {
            PathEl::MoveTo(to) => builder.move_to(p(to).0, p(to).1),
            PathEl::LineTo(to) => builder.line_to(p(to).0, p(to).1),
            PathEl::QuadTo(a, to) => builder.quad_to(p(a).0, p(a).1, p(to).0, p(to).1),
            PathEl::CurveTo(a, b, to) => builder.cubic_to(p(a).0, p(a).1, p(b).0, p(b).1, p(to).0, p(to).1),
            PathEl::ClosePath => builder.close(),
        }
    }
    builder.finish()
}
