//! Knots and other blemishes of a blank, as the maker marks them on its faces.

use cornerwise_geometry::{BlankPoint, Face, Length};
use serde::{Deserialize, Serialize};

use crate::{WoodError, error};

/// The most knots that one blank has.
pub const MOST_KNOTS: usize = 60;

/// The smallest and the largest knot, mm across; and how deep one goes at most.
pub const KNOT_SIZES_MM: [f64; 2] = [0.5, 300.0];

/// The farthest that a knot's place is from the blank's corner, mm.
pub const FARTHEST_KNOT_MM: f64 = 20_000.0;

/// The steepest that a knot runs, as a slope against square to its face.
pub const STEEPEST_KNOT: f64 = 3.0;

/// What kind of blemish it is: only its look depends on it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Blemish {
    /// Grown in, darker, with rings of its own.
    #[default]
    Knot,
    /// A hole: a loose knot that fell out, a worm's, a nail's.
    Hole,
    /// A stain: mineral streak, blue stain.
    Stain,
}

impl Blemish {
    /// All three.
    pub const ALL: [Blemish; 3] = [Blemish::Knot, Blemish::Hole, Blemish::Stain];

    /// Its name as it stands in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Blemish::Knot => "knot",
            Blemish::Hole => "hole",
            Blemish::Stain => "stain",
        }
    }
}

/// A knot: round on the face it was found on, and as wide all along its way in, which may slope.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "KnotOnFile")]
pub struct Knot {
    /// What it is.
    pub kind: Blemish,
    /// The face it is marked on.
    pub face: Face,
    /// Its middle, from the finished top.
    pub from_top: Length,
    /// Its middle across the face, from the arris of the face's own number: the upper one as the face lies before the maker,
    /// its top end left ([`Face::across`]).
    pub from_arris: Length,
    /// How wide it is.
    pub size: Length,
    /// How deep it goes, square to the face.
    pub depth: Length,
    /// How far it moves toward the foot for each length inward.
    #[serde(skip_serializing_if = "is_none")]
    pub slope_along: f64,
    /// How far it moves across, away from the arris that `from_arris` counts from, for each length inward.
    #[serde(skip_serializing_if = "is_none")]
    pub slope_across: f64,
}

fn is_none(value: &f64) -> bool {
    *value == 0.0
}

/// A knot as files have it. Files were once written with `across`, which was the same on faces 1 and 2 and counted from the
/// other arris on faces 3 and 4.
#[derive(Deserialize)]
#[serde(rename = "Knot", deny_unknown_fields)]
struct KnotOnFile {
    #[serde(default)]
    kind: Blemish,
    face: Face,
    from_top: Length,
    from_arris: Option<Length>,
    across: Option<Length>,
    size: Length,
    depth: Length,
    #[serde(default)]
    slope_along: f64,
    #[serde(default)]
    slope_across: f64,
}

impl TryFrom<KnotOnFile> for Knot {
    type Error = String;

    fn try_from(file: KnotOnFile) -> Result<Knot, String> {
        let KnotOnFile { kind, face, from_top, size, depth, slope_along, slope_across, .. } = file;
        let arris = face.number();
        let from_arris = match (file.from_arris, file.across, face) {
            (Some(from_arris), None, _) | (None, Some(from_arris), Face::One | Face::Two) => from_arris,
            (None, Some(_), Face::Three | Face::Four) => {
                return Err(format!(
                    "a knot on {face} says `across`, which counted from the far arris: say `from_arris`, how far its middle is \
                     from arris {arris}, and turn the sign of `slope_across`"
                ));
            }
            (Some(_), Some(_), _) => {
                return Err(format!("a knot on {face} says both `from_arris` and `across`: leave one"));
            }
            (None, None, _) => {
                return Err(format!("a knot on {face} lacks `from_arris`, how far it is from arris {arris}"));
            }
        };
        Ok(Knot { kind, face, from_top, from_arris, size, depth, slope_along, slope_across })
    }
}

impl Knot {
    /// A knot on a face, 10 mm wide and as deep as given, square to it.
    pub fn new(face: Face, from_top: Length, from_arris: Length, depth: Length) -> Knot {
        let size = Length::from_mm(10.0);
        Knot { kind: Blemish::Knot, face, from_top, from_arris, size, depth, slope_along: 0.0, slope_across: 0.0 }
    }

    /// Checks every number.
    ///
    /// # Errors
    /// [`WoodError`] names the first number that does not fit, NaN and infinities included.
    pub fn check(&self) -> Result<(), WoodError> {
        let [least, most] = KNOT_SIZES_MM;
        error::size("the knot's size", self.size.mm(), least, most)?;
        error::size("the knot's depth", self.depth.mm(), least, 10.0 * most)?;
        error::size("the knot's distance from the top", self.from_top.mm(), -FARTHEST_KNOT_MM, FARTHEST_KNOT_MM)?;
        error::size("the knot's distance from its arris", self.from_arris.mm(), -most, FARTHEST_KNOT_MM)?;
        error::share("the knot's slope along", self.slope_along, -STEEPEST_KNOT, STEEPEST_KNOT)?;
        error::share("the knot's slope across", self.slope_across, -STEEPEST_KNOT, STEEPEST_KNOT)
    }
}

/// A knot as a body in a blank of a known size: a round bar, cut off square to its face at both ends, that may slope.
#[derive(Clone, Copy, Debug)]
pub(crate) struct KnotBody {
    /// Index of the coordinate across its face (0 is x, 1 is y); the other one runs inward.
    pub across: usize,
    /// Where its face lies along the inward coordinate, and which way inward is, 1 or -1.
    face_mm: f64,
    inward: f64,
    /// Its middle on the face: across and from the top.
    middle: [f64; 2],
    slope: [f64; 2],
    pub radius_mm: f64,
    /// How deep it goes, no deeper than the blank.
    pub depth_mm: f64,
}

impl KnotBody {
    /// Numbers that [`Knot::check`] would refuse are taken at the nearest limit.
    pub fn new(knot: &Knot, [width_mm, depth_mm]: [f64; 2]) -> KnotBody {
        let (across, through, from_far) = match knot.face {
            Face::One => (0, depth_mm, false),
            Face::Two => (1, width_mm, true),
            Face::Three => (0, depth_mm, true),
            Face::Four => (1, width_mm, false),
        };
        let [least, most] = KNOT_SIZES_MM;
        let far = |mm: f64| if mm.is_finite() { mm.clamp(-FARTHEST_KNOT_MM, FARTHEST_KNOT_MM) } else { 0.0 };
        let slope = |v: f64| if v.is_finite() { v.clamp(-STEEPEST_KNOT, STEEPEST_KNOT) } else { 0.0 };
        let size_mm = [width_mm, depth_mm];
        let middle = knot.face.point(far(knot.from_top.mm()), far(knot.from_arris.mm()), size_mm);
        let grows = if knot.face.runs_back() { -1.0 } else { 1.0 };
        KnotBody {
            across,
            face_mm: if from_far { through } else { 0.0 },
            inward: if from_far { -1.0 } else { 1.0 },
            middle: [[middle.x, middle.y][across], middle.s],
            slope: [grows * slope(knot.slope_across), slope(knot.slope_along)],
            radius_mm: 0.5 * error::held(knot.size.mm(), least, most),
            depth_mm: error::held(knot.depth.mm(), least, 10.0 * most).min(through),
        }
    }

    /// A point as (across, inward from the face, from the top), mm.
    #[inline]
    fn own(&self, p: BlankPoint) -> [f64; 3] {
        let at = [p.x, p.y];
        [at[self.across], (at[1 - self.across] - self.face_mm) * self.inward, p.s]
    }

    /// How far a point is from the middle of the knot, as a share of its radius: up to 1 inside. Infinite before and
    /// beyond its ends.
    #[inline]
    pub fn share(&self, p: BlankPoint) -> f64 {
        let [across, deep, s] = self.own(p);
        if !(-1e-9..=self.depth_mm + 1e-9).contains(&deep) {
            return f64::INFINITY;
        }
        let (dx, ds) = (across - self.middle[0] - self.slope[0] * deep, s - self.middle[1] - self.slope[1] * deep);
        (dx * dx + ds * ds).sqrt() / self.radius_mm
    }

    /// From and to, mm from the top, whatever lies outside the leg included.
    pub fn reach_s(&self) -> [f64; 2] {
        let ends = [self.middle[1], self.middle[1] + self.slope[1] * self.depth_mm];
        [ends[0].min(ends[1]) - self.radius_mm, ends[0].max(ends[1]) + self.radius_mm]
    }

    /// From and to along x and y, mm, whatever lies outside the blank included.
    pub fn reach(&self) -> [[f64; 2]; 2] {
        let ends = [self.middle[0], self.middle[0] + self.slope[0] * self.depth_mm];
        let across = [ends[0].min(ends[1]) - self.radius_mm, ends[0].max(ends[1]) + self.radius_mm];
        let deep = [self.face_mm, self.face_mm + self.inward * self.depth_mm];
        let inward = [deep[0].min(deep[1]), deep[0].max(deep[1])];
        if self.across == 0 { [across, inward] } else { [inward, across] }
    }

    /// The part of the line through the blank at level `s_mm` along the coordinate `axis` (0 x, 1 y), the other one being
    /// `at`, that lies in the knot: from and to, mm.
    pub fn chord(&self, axis: usize, at: f64, s_mm: f64) -> Option<[f64; 2]> {
        let r2 = self.radius_mm * self.radius_mm;
        if axis == self.across {
            let deep = (at - self.face_mm) * self.inward;
            if !(0.0..=self.depth_mm).contains(&deep) {
                return None;
            }
            let ds = s_mm - self.middle[1] - self.slope[1] * deep;
            let half = r2 - ds * ds;
            let middle = self.middle[0] + self.slope[0] * deep;
            return (half >= 0.0).then(|| [middle - half.sqrt(), middle + half.sqrt()]);
        }
        // Along the way in: where the sloping bar's axis is no farther than its radius.
        let (c, s) = (at - self.middle[0], s_mm - self.middle[1]);
        let a = self.slope[0] * self.slope[0] + self.slope[1] * self.slope[1];
        let b = self.slope[0] * c + self.slope[1] * s;
        let free = c * c + s * s - r2;
        let [from, to] = if a < 1e-18 {
            if free > 0.0 {
                return None;
            }
            [0.0, self.depth_mm]
        } else {
            let root = b * b - a * free;
            if root < 0.0 {
                return None;
            }
            [(b - root.sqrt()) / a, (b + root.sqrt()) / a]
        };
        let (from, to) = (from.max(0.0), to.min(self.depth_mm));
        let ends = [from, to].map(|deep| self.face_mm + self.inward * deep);
        (from <= to).then(|| [ends[0].min(ends[1]), ends[0].max(ends[1])])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn knot(face: Face) -> Knot {
        Knot { slope_along: 0.7, slope_across: -0.3, ..Knot::new(face, 100.0.into(), 20.0.into(), 25.0.into()) }
    }

    #[test]
    fn bad_numbers_are_named() {
        assert_eq!(knot(Face::One).check(), Ok(()));
        let says = |knot: Knot| knot.check().unwrap_err().to_string();
        assert_eq!(
            says(Knot { size: 0.0.into(), ..knot(Face::One) }),
            "the knot's size is 0 mm: it must be 0.5 mm to 300 mm"
        );
        assert!(says(Knot { depth: f64::NAN.into(), ..knot(Face::One) }).contains("depth"));
        assert!(says(Knot { slope_along: 9.0, ..knot(Face::One) }).contains("slope along"));
        assert!(says(Knot { from_top: f64::INFINITY.into(), ..knot(Face::One) }).contains("from the top"));
    }

    /// Told as the face is seen: so far from the top and from the arris of its number, and sloping away from both.
    #[test]
    fn a_knot_lies_where_the_maker_sees_it_on_its_face() {
        let size = [50.0, 40.0];
        for face in Face::ALL {
            let body = KnotBody::new(&knot(face), size);
            let inward = |p: BlankPoint, deep: f64| match face {
                Face::One => BlankPoint { y: p.y + deep, ..p },
                Face::Two => BlankPoint { x: p.x - deep, ..p },
                Face::Three => BlankPoint { y: p.y - deep, ..p },
                Face::Four => BlankPoint { x: p.x + deep, ..p },
            };
            for deep in [0.0, 10.0, 20.0] {
                let middle = inward(face.point(100.0 + 0.7 * deep, 20.0 - 0.3 * deep, size), deep);
                assert!(body.share(middle) < 1e-9, "{face}, {deep} mm deep: {}", body.share(middle));
            }
        }
    }

    /// What was written before knots were told by the face's own arris opens where it means the same, and says what to do
    /// where it does not.
    #[test]
    fn knots_of_older_files_are_the_same_or_refused_in_words() {
        let dialect = ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
        let read = |text: &str| dialect.from_str::<Knot>(text).map_err(|error| error.to_string());
        let of = |face: &str, across: &str| read(&format!("(face:{face},from_top:100,{across}size:10,depth:25)"));
        let plain = |face| Knot::new(face, 100.0.into(), 20.0.into(), 25.0.into());
        for face in Face::ALL {
            let text = ron::to_string(&knot(face)).unwrap();
            assert!(text.contains("from_arris:20") && read(&text) == Ok(knot(face)), "{text}");
        }
        assert_eq!(of("Three", "from_arris:20,"), Ok(plain(Face::Three)));
        assert_eq!(of("Two", "across:20,"), Ok(plain(Face::Two)));
        let says = |face, across| of(face, across).unwrap_err();
        assert!(says("Four", "across:20,").contains("say `from_arris`, how far its middle is from arris 4"));
        assert!(says("One", "across:20,from_arris:20,").contains("leave one"));
        assert!(says("One", "").contains("lacks `from_arris`"));
    }

    /// The chord of a line is where its points are inside, for lines both ways and all four faces.
    #[test]
    fn a_chord_ends_where_the_knot_does() {
        for face in Face::ALL {
            let body = KnotBody::new(&knot(face), [50.0, 40.0]);
            let mut seen = 0;
            for i in 0..6000 {
                let (at, s) = (f64::from(i % 50) * 0.83, 70.0 + f64::from(i / 50) * 0.61);
                for axis in [0, 1] {
                    let point = |v: f64| match axis {
                        0 => BlankPoint { x: v, y: at, s },
                        _ => BlankPoint { x: at, y: v, s },
                    };
                    let inside = |v: f64| body.share(point(v)) <= 1.0;
                    match body.chord(axis, at, s) {
                        Some([from, to]) => {
                            seen += 1;
                            let middle = 0.5 * (from + to);
                            assert!(inside(middle) || to - from < 1e-6, "{face} {axis} {at} {s}");
                            assert!(!inside(from - 1e-6) && !inside(to + 1e-6), "{face} {axis} {at} {s}");
                            assert!(to - from < 1e-5 || inside(from + 1e-6) && inside(to - 1e-6));
                        }
                        None => assert!((-20..80).all(|v| !inside(f64::from(v))), "{face} {axis} {at} {s}"),
                    }
                }
            }
            assert!(seen > 300, "{face}: {seen}");
        }
    }
}
