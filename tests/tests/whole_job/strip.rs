//! The strip as the maker puts it together: pages laid so that crosses of the same number fall on each other, then read
//! from the finished top and from the arrises.

use cornerwise_geometry::Cut;

use crate::marks::Page;

/// Joining crosses have arms of this length, mm.
const CROSS_MM: f64 = 6.4;

/// A turn and a shift of the plane; as complex numbers p -> turn * p + shift.
#[derive(Clone, Copy, Debug)]
struct Laid {
    turn: [f64; 2],
    shift: [f64; 2],
}

impl Laid {
    const AS_IT_IS: Laid = Laid { turn: [1.0, 0.0], shift: [0.0, 0.0] };

    fn at(&self, p: [f64; 2]) -> [f64; 2] {
        let q = times(self.turn, p);
        [q[0] + self.shift[0], q[1] + self.shift[1]]
    }
}

fn times(p: [f64; 2], q: [f64; 2]) -> [f64; 2] {
    [p[0] * q[0] - p[1] * q[1], p[0] * q[1] + p[1] * q[0]]
}

fn minus(p: [f64; 2], q: [f64; 2]) -> [f64; 2] {
    [p[0] - q[0], p[1] - q[1]]
}

fn dot(p: [f64; 2], q: [f64; 2]) -> f64 {
    p[0] * q[0] + p[1] * q[1]
}

fn size(p: [f64; 2]) -> f64 {
    p[0].hypot(p[1])
}

fn middle([p, q]: [[f64; 2]; 2]) -> [f64; 2] {
    [(p[0] + q[0]) / 2.0, (p[1] + q[1]) / 2.0]
}

/// What is drawn on one face of the joined strip: mm from the finished top along it, and from its first arris across it.
#[derive(Debug, Default)]
pub struct FaceOnPaper {
    /// How wide the face is at the finished top and at the finished foot.
    pub across_mm: Vec<f64>,
    /// From the finished top to the finished foot.
    pub length_mm: f64,
    /// The saw line, part by part.
    pub line: Vec<Vec<[f64; 2]>>,
    /// Whether all of it is dashed, or none.
    pub dashed: Vec<bool>,
}

/// Both faces, and how well the crosses fall on each other.
#[derive(Debug, Default)]
pub struct Joined {
    pub faces: [FaceOnPaper; 2],
    pub pages: usize,
    pub crosses_off_mm: f64,
}

/// The middle of every joining cross of a page, with its number.
fn crosses(page: &Page) -> Vec<(u32, [f64; 2])> {
    let arms: Vec<[[f64; 2]; 2]> = page
        .straight()
        .filter(|(_, [p, q])| (size(minus(*q, *p)) - CROSS_MM).abs() < 0.02)
        .map(|(_, line)| line)
        .collect();
    let mut found = Vec::new();
    for (i, one) in arms.iter().enumerate() {
        for other in &arms[i + 1..] {
            let square = dot(minus(one[1], one[0]), minus(other[1], other[0])).abs() < 0.02;
            if !square || size(minus(middle(*one), middle(*other))) > 0.02 {
                continue;
            }
            let at = middle(*one);
            let numbers = page.texts.iter().filter_map(|text| Some((text.words.parse().ok()?, text.at)));
            let nearest = numbers.min_by(|p, q| size(minus(p.1, at)).total_cmp(&size(minus(q.1, at))));
            let (number, place) = nearest.expect("a number beside the cross");
            assert!(size(minus(place, at)) < 6.0, "a cross without a number at {at:?}");
            found.push((number, at));
        }
    }
    found
}

/// How a page has to be laid so that its crosses fall on those of the same number that lie already, and how far off they
/// then are at worst.
fn lay(page: &[(u32, [f64; 2])], lying: &[(u32, [f64; 2])]) -> Option<(Laid, f64)> {
    let shared: Vec<([f64; 2], [f64; 2])> = page
        .iter()
        .filter_map(|(number, at)| Some((*at, lying.iter().find(|(other, _)| other == number)?.1)))
        .collect();
    let ((from, onto), (last_from, last_onto)) = (*shared.first()?, *shared.last().filter(|_| shared.len() > 1)?);
    let (was, is) = (minus(last_from, from), minus(last_onto, onto));
    let square = dot(was, was);
    // is / was, as complex numbers; paper turns, it does not stretch.
    let turn = times(is, [was[0] / square, -was[1] / square]);
    let turn = turn.map(|part| part / size(turn));
    let shift = minus(onto, times(turn, from));
    let laid = Laid { turn, shift };
    let off = shared.iter().map(|(from, onto)| size(minus(laid.at(*from), *onto))).fold(0.0, f64::max);
    Some((laid, off))
}

/// Lays the pages of one leg's strip together and reads both faces.
pub fn join(pages: &[Page]) -> Joined {
    // Words about a strip may begin a line of the cover too.
    let of_strip = |words: &str| words == "strip" || words.starts_with("strip, part ");
    let pages: Vec<&Page> = pages.iter().filter(|page| page.texts.iter().any(|text| of_strip(&text.words))).collect();
    let mut joined = Joined { pages: pages.len(), ..Joined::default() };
    let mut lying: Vec<(u32, [f64; 2])> = Vec::new();
    let mut places = Vec::new();
    for (i, page) in pages.iter().enumerate() {
        let crosses = crosses(page);
        let laid = if i == 0 {
            Laid::AS_IT_IS
        } else {
            let (laid, off) = lay(&crosses, &lying).expect("two crosses of the pages before");
            joined.crosses_off_mm = joined.crosses_off_mm.max(off);
            laid
        };
        for (number, at) in crosses {
            if lying.iter().all(|(other, _)| *other != number) {
                lying.push((number, laid.at(at)));
            }
        }
        places.push(laid);
    }
    let all = || pages.iter().zip(&places);

    // The finished ends are the heavy lines; the faces' own words tell which face is which and which way the top is.
    let mut ends: Vec<[[f64; 2]; 2]> = Vec::new();
    for (page, laid) in all() {
        for (stroke, line) in page.straight() {
            let line = line.map(|p| laid.at(p));
            let drawn = ends.iter().any(|end| size(minus(middle(*end), middle(line))) < 1.0);
            if (stroke.width_mm - 0.5).abs() < 0.02 && size(minus(line[1], line[0])) > 20.0 && !drawn {
                ends.push(line);
            }
        }
    }
    let words = |begins: &str| {
        let found = all().find_map(|(page, laid)| page.text_at(begins).map(|at| laid.at(at)));
        found.unwrap_or_else(|| panic!("the paper does not say {begins}"))
    };
    let one_to_two = minus(words("FACE 2"), words("FACE 1"));
    let along_end = minus(ends[0][1], ends[0][0]).map(|part| part / size(minus(ends[0][1], ends[0][0])));
    let across = if dot(along_end, one_to_two) > 0.0 { along_end } else { along_end.map(|part| -part) };
    // Square to it; seen from outside with the top end left and face 1 above, across is down and along is right. On a
    // page, y down, that is along = across turned back by a quarter: a turn of the paper keeps it, a mirror does not.
    let along = times(across, [0.0, -1.0]);
    let lowest = ends.iter().map(|end| dot(middle(*end), along)).fold(f64::INFINITY, f64::min);
    let [mut top, mut foot] = [Vec::new(), Vec::new()];
    for end in ends {
        if dot(middle(end), along) - lowest < 1.0 { top.push(end) } else { foot.push(end) }
    }
    let [from_top, from_foot] = ["◀ TOP", "FOOT"].map(|begins| dot(words(begins), along));
    assert!(from_top < from_foot, "the paper's TOP is at its foot: it is a mirror");
    for group in [&mut top, &mut foot] {
        group.sort_by(|p, q| dot(middle(*p), across).total_cmp(&dot(middle(*q), across)));
        assert_eq!(group.len(), 2, "a finished end for each face: {group:?}");
    }
    for (cut, face) in Cut::ALL.into_iter().zip(&mut joined.faces) {
        let number = cut.index();
        let first_arris = |end: [[f64; 2]; 2]| end.map(|p| dot(p, across)).into_iter().fold(f64::INFINITY, f64::min);
        let origin = [dot(middle(top[number]), along), first_arris(top[number])];
        face.across_mm = [top[number], foot[number]].map(|end| size(minus(end[1], end[0]))).to_vec();
        face.length_mm = dot(middle(foot[number]), along) - origin[0];
        for (page, laid) in all() {
            for stroke in page.strokes.iter().filter(|stroke| stroke.cut() == Some(cut)) {
                if (stroke.width_mm - 0.35).abs() > 0.02 {
                    continue;
                }
                face.dashed.push(stroke.dashed);
                for run in &stroke.runs {
                    let read = run.iter().map(|p| laid.at(*p));
                    face.line.push(read.map(|p| [dot(p, along) - origin[0], dot(p, across) - origin[1]]).collect());
                }
            }
        }
    }
    joined
}
