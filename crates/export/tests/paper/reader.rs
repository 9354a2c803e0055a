//! Reads a PDF with an interpreter that shares no code with its writer. Lengths are paper millimetres from the page's
//! upper left corner, y down.

use hayro_interpret::font::GlyphRun;
use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::{
    BlendMode, ClipPath, Context, Device, DrawMode, DrawProps, Image, ImageDrawProps, InterpreterCache,
    InterpreterSettings, Paint, SoftMask, TransformExt, hayro_cmap, interpret_page,
};
use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};
use std::collections::BTreeMap;

const MM_PER_POINT: f64 = 25.4 / 72.0;

/// A page as it was read.
pub struct ReadPage {
    pub width_mm: f64,
    pub height_mm: f64,
    pub lines: Vec<ReadLine>,
    pub texts: Vec<ReadText>,
}

/// A stroked path.
pub struct ReadLine {
    pub path: BezPath,
    pub rgb: [u8; 3],
    pub width_mm: f64,
    pub dashed: bool,
}

/// A run of letters set together.
pub struct ReadText {
    pub text: String,
    pub start: Point,
    /// The direction it is read in, and the direction its letters stand up in.
    pub along: Vec2,
    pub up: Vec2,
    pub ends: Point,
}

impl ReadPage {
    /// The same page on paper from a printer that makes 100 mm come out as `measured_mm`, across and up the page.
    pub fn printed(mut self, measured_mm: [f64; 2]) -> ReadPage {
        let scale = Affine::scale_non_uniform(measured_mm[0] / 100.0, measured_mm[1] / 100.0);
        for line in &mut self.lines {
            line.path = scale * &line.path;
        }
        for text in &mut self.texts {
            text.start = scale * text.start;
            text.ends = scale * text.ends;
        }
        self
    }

    /// The straight lines of a pen's width, as end points.
    pub fn straight(&self, width_mm: f64) -> Vec<[Point; 2]> {
        let of_width = self.lines.iter().filter(|line| (line.width_mm - width_mm).abs() < 0.04);
        of_width
            .filter_map(|line| {
                let [only] = line.path.segments().collect::<Vec<_>>()[..] else { return None };
                matches!(only, kurbo::PathSeg::Line(_)).then(|| {
                    use kurbo::ParamCurve;
                    [only.start(), only.end()]
                })
            })
            .collect()
    }

    /// The rings of joining marks: centres of circles 4 mm across.
    pub fn rings(&self) -> Vec<Point> {
        let boxes = self.lines.iter().map(|line| line.path.bounding_box());
        boxes
            .filter(|b: &Rect| (b.width() - 4.0).abs() < 0.02 && (b.height() - 4.0).abs() < 0.02)
            .map(|b| b.center())
            .collect()
    }

    /// The joining marks by number.
    pub fn marks(&self) -> BTreeMap<u32, Point> {
        let mut found = BTreeMap::new();
        for ring in self.rings() {
            let near = self.texts.iter().filter(|text| text.start.distance(ring) < 4.5);
            let number = near.filter_map(|text| text.text.parse().ok()).next();
            assert!(found.insert(number.expect("every mark is numbered"), ring).is_none());
        }
        found
    }

    pub fn says(&self, words: &str) -> bool {
        self.texts.iter().any(|text| text.text.contains(words))
    }
}

/// All pages of a PDF.
pub fn read(bytes: &[u8]) -> Vec<ReadPage> {
    let pdf = Pdf::new(bytes.to_vec()).expect("a PDF that can be read");
    let cache = InterpreterCache::new();
    let pages = pdf.pages().iter().map(|page| {
        let (width, height) = page.render_dimensions();
        let (width, height) = (f64::from(width), f64::from(height));
        let mm_from_page = Affine::scale(MM_PER_POINT) * page.initial_transform(true).to_kurbo();
        let bounds = Rect::new(0.0, 0.0, width, height);
        let mut context = Context::new(mm_from_page, bounds, &cache, page.xref(), InterpreterSettings::default());
        let mut device = Reader { lines: Vec::new(), texts: Vec::new() };
        interpret_page(page, &mut context, &mut device);
        ReadPage {
            width_mm: width * MM_PER_POINT,
            height_mm: height * MM_PER_POINT,
            lines: device.lines,
            texts: device.texts,
        }
    });
    pages.collect()
}

struct Reader {
    lines: Vec<ReadLine>,
    texts: Vec<ReadText>,
}

impl<'a> Device<'a> for Reader {
    fn draw_path(&mut self, path: &BezPath, props: DrawProps<'a>, mode: &DrawMode) {
        if let DrawMode::Stroke(stroke) = mode {
            let Paint::Color(colour) = &props.paint else { panic!("only plain colours on paper") };
            let [r, g, b, _] = colour.to_rgba().to_rgba8();
            self.lines.push(ReadLine {
                path: props.transform * path,
                rgb: [r, g, b],
                width_mm: f64::from(stroke.line_width) * props.transform.determinant().abs().sqrt(),
                dashed: !stroke.dash_array.is_empty(),
            });
        }
    }

    fn draw_glyph_run(&mut self, run: &GlyphRun<'_, 'a>, props: DrawProps<'a>, _: &DrawMode) {
        let mut text = String::new();
        for glyph in run.glyphs() {
            match glyph.as_unicode() {
                Some(hayro_cmap::BfString::Char(c)) => text.push(c),
                Some(hayro_cmap::BfString::String(s)) => text.push_str(&s),
                None => panic!("a letter that cannot be copied from the page"),
            }
        }
        let (Some(first), Some(last)) = (run.glyphs().first(), run.glyphs().last()) else { return };
        let place = props.transform * first.transform();
        let last = props.transform * last.transform();
        let [a, b, c, d, ..] = place.as_coeffs();
        self.texts.push(ReadText {
            text,
            start: place.translation().to_point(),
            along: Vec2::new(a, b).normalize(),
            up: Vec2::new(c, d).normalize(),
            ends: last.translation().to_point(),
        });
    }

    fn push_clip_path(&mut self, _: &ClipPath) {}
    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {}
    fn draw_image(&mut self, _: Image<'a, '_>, _: ImageDrawProps<'a>) {
        panic!("paper has no images");
    }
    fn pop_clip(&mut self) {}
    fn pop_transparency_group(&mut self) {}
}
