//! What is drawn on the pages of a PDF, read by `hayro-interpret`: a reader that shares nothing with the writer.

use cornerwise_geometry::Cut;
use cornerwise_tests::Flat;
use hayro_interpret::font::GlyphRun;
use hayro_interpret::hayro_cmap::BfString;
use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::kurbo::{Affine, BezPath, PathEl, Point, Rect};
use hayro_interpret::{
    BlendMode, ClipPath, Context, Device, DrawMode, DrawProps, Image, ImageDrawProps, InterpreterCache,
    InterpreterSettings, Paint, SoftMask, interpret_page,
};

const MM_PER_POINT: f64 = 25.4 / 72.0;

/// One page; mm from its upper left corner, y down.
#[derive(Clone, Debug, Default)]
pub struct Page {
    pub size_mm: [f64; 2],
    pub strokes: Vec<Stroke>,
    pub texts: Vec<Text>,
}

/// One stroked path.
#[derive(Clone, Debug)]
pub struct Stroke {
    pub rgb: [u8; 3],
    pub width_mm: f64,
    pub dashed: bool,
    /// Each subpath flattened, [x, y].
    pub runs: Vec<Vec<[f64; 2]>>,
}

impl Stroke {
    /// The cut that its colour stands for.
    pub fn cut(&self) -> Option<Cut> {
        let [r, g, b] = self.rgb.map(i32::from);
        match () {
            () if b > r + 40 && b > g + 40 => Some(Cut::First),
            () if r > b + 40 && r > g + 40 => Some(Cut::Second),
            () => None,
        }
    }
}

/// One line of text and where it begins.
#[derive(Clone, Debug)]
pub struct Text {
    pub words: String,
    pub at: [f64; 2],
}

impl Page {
    /// The straight strokes: one run of two points.
    pub fn straight(&self) -> impl Iterator<Item = (&Stroke, [[f64; 2]; 2])> {
        self.strokes.iter().filter_map(|stroke| match &stroke.runs[..] {
            [run] if run.len() == 2 => Some((stroke, [run[0], run[1]])),
            _ => None,
        })
    }

    /// Where the first text that begins so begins.
    pub fn text_at(&self, begins: &str) -> Option<[f64; 2]> {
        self.texts.iter().find(|text| text.words.starts_with(begins)).map(|text| text.at)
    }
}

/// Reads all pages.
pub fn read(pdf: &[u8]) -> Vec<Page> {
    let pdf = Pdf::new(pdf.to_vec()).unwrap_or_else(|e| panic!("{e:?}"));
    let cache = InterpreterCache::new();
    pdf.pages()
        .iter()
        .map(|page| {
            let (width, height) = page.base_dimensions();
            let [width, height] = [width, height].map(f64::from);
            // From points, y up, to mm, y down.
            let place = Affine::new([MM_PER_POINT, 0.0, 0.0, -MM_PER_POINT, 0.0, height * MM_PER_POINT]);
            let bounds = Rect::new(0.0, 0.0, width, height);
            let settings = InterpreterSettings::default();
            let mut context = Context::new(Affine::IDENTITY, bounds, &cache, pdf.xref(), settings);
            let size_mm = [width, height].map(|points| points * MM_PER_POINT);
            let mut reader = Reader { place, page: Page { size_mm, ..Page::default() } };
            interpret_page(page, &mut context, &mut reader);
            reader.page
        })
        .collect()
}

struct Reader {
    place: Affine,
    page: Page,
}

impl Device<'_> for Reader {
    fn draw_path(&mut self, path: &BezPath, props: DrawProps<'_>, mode: &DrawMode) {
        let (DrawMode::Stroke(stroke) | DrawMode::FillAndStroke(_, stroke), Paint::Color(colour)) =
            (mode, &props.paint)
        else {
            return;
        };
        let place = self.place * props.transform;
        let [r, g, b, _] = colour.to_rgba().to_rgba8();
        let mut flat = Flat::default();
        for element in (place * path).elements() {
            let at = |p: &Point| [p.x, p.y];
            match element {
                PathEl::MoveTo(p) => flat.move_to(at(p)),
                PathEl::LineTo(p) => flat.line_to(at(p)),
                PathEl::QuadTo(p, q) => flat.quad_to(at(p), at(q)),
                PathEl::CurveTo(p, q, r) => flat.curve_to(at(p), at(q), at(r)),
                PathEl::ClosePath => flat.close(),
            }
        }
        self.page.strokes.push(Stroke {
            rgb: [r, g, b],
            width_mm: f64::from(stroke.line_width) * place.determinant().abs().sqrt(),
            dashed: !stroke.dash_array.is_empty(),
            runs: flat.runs,
        });
    }

    fn draw_glyph_run(&mut self, run: &GlyphRun<'_, '_>, props: DrawProps<'_>, _: &DrawMode) {
        let mut text = Text { words: String::new(), at: [f64::NAN; 2] };
        for glyph in run.glyphs() {
            if text.words.is_empty() {
                let at = self.place * props.transform * glyph.transform() * Point::ZERO;
                text.at = [at.x, at.y];
            }
            match glyph.as_unicode() {
                Some(BfString::Char(letter)) => text.words.push(letter),
                Some(BfString::String(letters)) => text.words.push_str(&letters),
                None => text.words.push('\u{fffd}'),
            }
        }
        self.page.texts.push(text);
    }

    fn push_clip_path(&mut self, _: &ClipPath) {}
    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'_>>, _: BlendMode) {}
    fn draw_image(&mut self, _: Image<'_, '_>, _: ImageDrawProps<'_>) {}
    fn pop_clip(&mut self) {}
    fn pop_transparency_group(&mut self) {}
}
