//! The transforms of SVG (CSS Transforms 1, section 8: the syntax of the SVG attribute).

use kurbo::{Affine, Vec2};

/// What a list of transforms does, the last of them first; nothing where it is not understood.
pub(super) fn transform(text: &str) -> Option<Affine> {
    let mut all = Affine::IDENTITY;
    let mut rest = text.trim();
    while !rest.is_empty() {
        let (name, after) = rest.split_once('(')?;
        let (inside, after) = after.split_once(')')?;
        let numbers: Option<Vec<f64>> = inside
            .split(|c: char| c == ',' || c.is_whitespace())
            .filter(|word| !word.is_empty())
            .map(|word| word.parse().ok().filter(|value: &f64| value.is_finite()))
            .collect();
        all *= match (name.trim(), numbers?.as_slice()) {
            ("matrix", [a, b, c, d, e, f]) => Affine::new([*a, *b, *c, *d, *e, *f]),
            ("translate", [x]) => Affine::translate((*x, 0.0)),
            ("translate", [x, y]) => Affine::translate((*x, *y)),
            ("scale", [both]) => Affine::scale(*both),
            ("scale", [x, y]) => Affine::scale_non_uniform(*x, *y),
            ("rotate", [deg]) => Affine::rotate(deg.to_radians()),
            ("rotate", [deg, x, y]) => Affine::rotate_about(deg.to_radians(), kurbo::Point::ZERO + Vec2::new(*x, *y)),
            ("skewX", [deg]) => Affine::skew(deg.to_radians().tan(), 0.0),
            ("skewY", [deg]) => Affine::skew(0.0, deg.to_radians().tan()),
            _ => return None,
        };
        rest = after.trim_start_matches(|c: char| c == ',' || c.is_whitespace());
    }
    Some(all)
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Point;

    #[test]
    fn transforms_are_done_from_the_last_to_the_first() {
        let at = |text: &str| transform(text).unwrap() * Point::new(1.0, 2.0);
        assert_eq!(at("translate(10,20) scale(2)"), Point::new(12.0, 24.0));
        assert_eq!(at("scale(2),translate(10 20)"), Point::new(22.0, 44.0));
        assert_eq!(at("matrix(1 0 0 -1 5 0)"), Point::new(6.0, -2.0));
        let turned = at("rotate(90)");
        assert!((turned - Point::new(-2.0, 1.0)).hypot() < 1e-12);
        let about = at("rotate(180, 1, 0)");
        assert!((about - Point::new(1.0, -2.0)).hypot() < 1e-12);
        assert!((at("skewX(45)") - Point::new(3.0, 2.0)).hypot() < 1e-12);
        for bad in ["rotate", "rotate(", "rotate(a)", "turn(3)", "scale(1,2,3)", "matrix(1 2 3)"] {
            assert_eq!(transform(bad), None, "{bad}");
        }
    }
}
