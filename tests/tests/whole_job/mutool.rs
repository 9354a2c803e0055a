//! The same marks read by `mutool trace`, where mupdf's tools are installed: a second reader, from outside Rust.

use cornerwise_tests::Flat;

use crate::marks::{Page, Stroke, Text};
use crate::tools;

const MM_PER_POINT: f64 = 25.4 / 72.0;

/// Reads all pages of a file.
pub fn read(file: &str) -> Option<Vec<Page>> {
    let trace = tools::says("mutool", &["trace", file, "1-N"])?;
    Some(trace.split("<page ").skip(1).map(page).collect())
}

/// The value of an attribute of one line of the trace.
fn attribute<'a>(line: &'a str, name: &str) -> Option<&'a str> {
    let from = line.find(&format!(" {name}=\""))? + name.len() + 3;
    line[from..].split('"').next()
}

fn numbers(line: &str, name: &str) -> Vec<f64> {
    let text = attribute(line, name).unwrap_or_default();
    text.split_whitespace().filter_map(|number| number.parse().ok()).collect()
}

fn number(line: &str, name: &str) -> f64 {
    numbers(line, name).first().copied().unwrap_or(f64::NAN)
}

/// mupdf's trace has points, y down already.
fn page(trace: &str) -> Page {
    let mut page = Page::default();
    let (mut stroke, mut flat): (Option<Stroke>, Flat) = (None, Flat::default());
    let mut place = vec![1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    for line in trace.lines() {
        let line = line.trim_start();
        let tag = line.split([' ', '>']).next().unwrap_or_default();
        let at = |x: &str, y: &str| {
            let (x, y) = (number(line, x), number(line, y));
            [
                (place[0] * x + place[2] * y + place[4]) * MM_PER_POINT,
                (place[1] * x + place[3] * y + place[5]) * MM_PER_POINT,
            ]
        };
        match tag {
            "number=\"1\"" => {}
            "<stroke_path" => {
                place = numbers(line, "transform");
                let colour = numbers(line, "color");
                let scale = (place[0] * place[3] - place[1] * place[2]).abs().sqrt();
                flat = Flat::default();
                stroke = Some(Stroke {
                    rgb: [0, 1, 2].map(|i| (colour.get(i).copied().unwrap_or(0.0) * 255.0).round() as u8),
                    width_mm: number(line, "linewidth") * scale * MM_PER_POINT,
                    dashed: attribute(line, "dash").is_some(),
                    runs: Vec::new(),
                });
            }
            "</stroke_path" => {
                if let Some(mut done) = stroke.take() {
                    done.runs = std::mem::take(&mut flat.runs);
                    page.strokes.push(done);
                }
            }
            "<moveto" => flat.move_to(at("x", "y")),
            "<lineto" => flat.line_to(at("x", "y")),
            "<curveto" => flat.curve_to(at("x1", "y1"), at("x2", "y2"), at("x3", "y3")),
            "<closepath/" => flat.close(),
            "<fill_text" => place = numbers(line, "transform"),
            "<span" => page.texts.push(Text { words: String::new(), at: [f64::NAN; 2] }),
            "<g" => {
                let at = at("x", "y");
                if let Some(text) = page.texts.last_mut() {
                    if text.words.is_empty() {
                        text.at = at;
                    }
                    text.words.push_str(attribute(line, "unicode").unwrap_or("\u{fffd}"));
                }
            }
            _ => {}
        }
    }
    let bounds = trace.lines().next().map(|line| numbers(&format!(" {line}"), "mediabox")).unwrap_or_default();
    page.size_mm = [2, 3].map(|i| bounds.get(i).copied().unwrap_or(f64::NAN) * MM_PER_POINT);
    page
}
