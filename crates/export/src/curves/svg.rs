//! The paths of an SVG drawing, in millimetres.
//!
//! Sizes as SVG 2 and CSS have them: 96 px, 25.4 mm, 72 pt and 6 pc are an inch; the view box is laid into the drawing's
//! width and height as `preserveAspectRatio` says. A drawing without sizes is in px.

use super::transform::transform;
use super::{CurveError, Drawn, MOST_PLACES};
use kurbo::{Affine, BezPath, PathEl};
use roxmltree::{Document, Node, ParsingOptions};

/// A CSS px, mm.
const PX_MM: f64 = 25.4 / 96.0;

/// Reads every path; a path of several parts is several curves. Those that are only one point are left out.
///
/// # Errors
/// [`CurveError`] names the line.
pub fn read_svg(text: &str) -> Result<Vec<Drawn>, CurveError> {
    let options = ParsingOptions { allow_dtd: true, nodes_limit: 2_000_000, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).map_err(|error| CurveError::Xml(error.to_string()))?;
    let root = document.root_element();
    let scale = mm_from_drawing(root)?;
    let mut all = Vec::new();
    let paths = root.descendants().filter(|node| node.is_element() && node.tag_name().name() == "path");
    for (number, node) in paths.filter(|node| is_seen(*node)).enumerate() {
        let Some(data) = node.attribute("d") else { continue };
        let name = node.attribute("id").map_or_else(|| format!("path {}", number + 1), str::to_owned);
        let path = BezPath::from_svg(data.trim()).map_err(|error| CurveError::Path {
            line: line_of(node),
            name: name.clone(),
            why: error.to_string(),
        })?;
        let mm = scale * placed(node)?;
        let parts = parts(&(mm * path));
        for (place, part) in parts.iter().enumerate() {
            let name = if parts.len() > 1 { format!("{name}, part {}", place + 1) } else { name.clone() };
            if part.elements().len() > MOST_PLACES || !part.is_finite() {
                let why = if part.is_finite() { "it has too many pieces" } else { "a number is too large" };
                return Err(CurveError::Path { line: line_of(node), name, why: why.to_owned() });
            }
            let drawn = Drawn::of_path(name, part);
            if drawn.places.len() > MOST_PLACES {
                return Err(CurveError::TooMany);
            }
            if drawn.places.len() > 1 {
                all.push(drawn);
            }
        }
    }
    if all.is_empty() { Err(CurveError::NoPath) } else { Ok(all) }
}

/// What is only defined, clips or is hidden is not drawn.
fn is_seen(node: Node<'_, '_>) -> bool {
    node.ancestors().filter(Node::is_element).all(|above| {
        let name = above.tag_name().name();
        let hidden = above.attribute("display") == Some("none");
        !hidden && !matches!(name, "defs" | "clipPath" | "mask" | "pattern" | "marker" | "symbol")
    })
}

fn line_of(node: Node<'_, '_>) -> usize {
    node.document().text_pos_at(node.range().start).row as usize
}

/// The transforms of an element and of all that it lies in.
fn placed(node: Node<'_, '_>) -> Result<Affine, CurveError> {
    let mut all = Affine::IDENTITY;
    for above in node.ancestors().filter(Node::is_element) {
        if let Some(text) = above.attribute("transform") {
            let here = transform(text).ok_or_else(|| CurveError::Attribute {
                line: line_of(above),
                what: "the transform",
                text: text.to_owned(),
            })?;
            all = here * all;
        }
    }
    Ok(all)
}

/// Millimetres from the drawing's own units.
fn mm_from_drawing(root: Node<'_, '_>) -> Result<Affine, CurveError> {
    let wrong = |what, text: &str| CurveError::Attribute { line: line_of(root), what, text: text.to_owned() };
    let size = |name: &'static str| match root.attribute(name) {
        Some(text) => length_mm(text).map_err(|()| wrong(name, text)),
        None => Ok(None),
    };
    let (width, height) = (size("width")?, size("height")?);
    let Some(text) = root.attribute("viewBox") else { return Ok(Affine::scale(PX_MM)) };
    let numbers: Option<Vec<f64>> =
        text.split([' ', ',', '\t', '\n']).filter(|word| !word.is_empty()).map(|word| word.parse().ok()).collect();
    let [x, y, w, h] = *numbers.as_deref().unwrap_or_default() else { return Err(wrong("viewBox", text)) };
    if !(w > 0.0 && h > 0.0 && [x, y, w, h].iter().all(|v| v.is_finite())) {
        return Err(wrong("viewBox", text));
    }
    let both = [width.map(|mm| mm / w), height.map(|mm| mm / h)];
    let [across, down] = match both {
        [Some(across), Some(down)] => {
            let aspect = root.attribute("preserveAspectRatio").unwrap_or("xMidYMid meet");
            match (aspect.trim(), aspect.trim().ends_with("slice")) {
                ("none", _) => [across, down],
                (_, true) => [across.max(down); 2],
                _ => [across.min(down); 2],
            }
        }
        [Some(one), None] | [None, Some(one)] => [one; 2],
        [None, None] => [PX_MM; 2],
    };
    Ok(Affine::scale_non_uniform(across, down) * Affine::translate((-x, -y)))
}

/// A length of CSS in mm; nothing where it is a share of what is not known.
fn length_mm(text: &str) -> Result<Option<f64>, ()> {
    let text = text.trim();
    let end = text.find(|c: char| c.is_alphabetic() && !matches!(c, 'e' | 'E')).or_else(|| text.find('%'));
    // An exponent's e is followed by figures; a unit's, as in em, is not.
    let end = end.unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let (number, unit) = match number.strip_suffix(['e', 'E']) {
        Some(number) => (number, "em"),
        None => (number, unit),
    };
    let value: f64 = number.trim().parse().map_err(|_| ())?;
    let mm = match unit.trim() {
        "" | "px" => PX_MM,
        "mm" => 1.0,
        "cm" => 10.0,
        "q" | "Q" => 0.25,
        "in" => 25.4,
        "pt" => 25.4 / 72.0,
        "pc" => 25.4 / 6.0,
        "%" | "em" | "rem" | "ex" | "vw" | "vh" => return Ok(None),
        _ => return Err(()),
    };
    if value > 0.0 && value.is_finite() { Ok(Some(value * mm)) } else { Err(()) }
}

/// A path's parts, each begun by a move.
fn parts(path: &BezPath) -> Vec<BezPath> {
    let mut parts: Vec<BezPath> = Vec::new();
    for element in path.elements() {
        match (element, parts.last_mut()) {
            (PathEl::MoveTo(_), _) | (_, None) => parts.push(BezPath::from_vec(vec![*element])),
            (_, Some(part)) => part.push(*element),
        }
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::length_mm;

    /// CSS Values and Units 3, 6.2: 1in = 2.54cm = 96px, 1cm = 10mm, 1pt = 1/72in, 1pc = 1/6in, 1Q = 1/40cm.
    #[test]
    fn sizes_are_those_of_css() {
        let is = |text: &str, mm: f64| {
            let got = length_mm(text).unwrap().unwrap();
            assert!((got - mm).abs() < 1e-9, "{text}: {got}");
        };
        is("1in", 25.4);
        is("96px", 25.4);
        is("96", 25.4);
        is("72 pt", 25.4);
        is("6pc", 25.4);
        is("2.54cm", 25.4);
        is("40Q", 10.0);
        is("1e2mm", 100.0);
        assert_eq!(length_mm("100%"), Ok(None));
        assert_eq!(length_mm("10em"), Ok(None));
        for bad in ["", "wide", "-3mm", "0", "3 furlongs", "nanmm"] {
            assert_eq!(length_mm(bad), Err(()), "{bad}");
        }
    }
}
