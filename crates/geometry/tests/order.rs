//! The drawing order against a depth test that knows nothing of it: flat numbers, pixel centres, no smoothing, the same
//! rule for which pixels a facet covers. Where the two differ and the facets are not at one depth, a pixel is wrong.

#![expect(clippy::expect_used, reason = "a test may stop")]

use std::io::Write;

use cornerwise_geometry::{Blank, Camera, Facet, Facets, Leg, Line, Opening, Shape, ShapeKind, Solved, draw_order};

const PX_PER_MM: f64 = 0.7;
const SHARES: [f64; 7] = [0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 1.0];
/// Facets this close in depth touch: either may be on top.
const TOUCHING_MM: f64 = 1e-6;

/// Square on and askew, along the axis, steep, and nearly level: only there do pieces of one slab hide one another.
const CAMERAS: [[f64; 2]; 22] = [
    [30.0, 0.0],
    [72.0, 2.0],
    [125.0, -1.5],
    [214.0, 3.0],
    [262.0, -1.0],
    [317.0, 1.0],
    [0.0, 0.0],
    [90.0, 0.0],
    [180.0, 25.0],
    [270.0, -25.0],
    [0.0, 90.0],
    [37.0, 90.0],
    [37.0, -90.0],
    [20.0, 10.0],
    [65.0, 35.0],
    [110.0, 60.0],
    [135.0, 80.0],
    [160.0, -15.0],
    [205.0, -50.0],
    [250.0, 45.0],
    [300.0, -75.0],
    [340.0, 70.0],
];

/// What is seen at each pixel: the number of a facet and its depth toward the viewer.
struct Picture {
    origin: [f64; 2],
    columns: usize,
    rows: usize,
    seen: Vec<Option<(u32, f64)>>,
}

impl Picture {
    fn of(facets: &Facets, camera: &Camera) -> Picture {
        let [least, most] = facets.seen_within(camera).expect("facets");
        let across = |i: usize| ((most[i] - least[i]) * PX_PER_MM).ceil() as usize + 2;
        let (columns, rows) = (across(0), across(1));
        // Pixel centres lie nowhere in particular, so that no edge runs through a row of them.
        let origin = [least[0] - 0.71 + 1e-3 * 2f64.sqrt(), least[1] - 0.71 + 1e-3 * 3f64.sqrt()];
        Picture { origin, columns, rows, seen: vec![None; columns * rows] }
    }

    /// Calls `put` with each pixel that the facet covers, and the facet's depth there.
    fn cover(&mut self, facet: &Facet, camera: &Camera, mut put: impl FnMut(&mut Option<(u32, f64)>, f64)) {
        let corners = facet.corners.map(|corner| camera.view(corner.at));
        let at = corners.map(|[right, up, _]| {
            [(right - self.origin[0]) * PX_PER_MM - 0.5, (up - self.origin[1]) * PX_PER_MM - 0.5]
        });
        let diagonals = [[at[2][0] - at[0][0], at[2][1] - at[0][1]], [at[3][0] - at[1][0], at[3][1] - at[1][1]]];
        let twice_area = diagonals[0][0] * diagonals[1][1] - diagonals[0][1] * diagonals[1][0];
        if twice_area.abs() < 1e-9 {
            return; // seen edge-on
        }
        // The plane through it, from the corner where the parallelogram of the two diagonals stands.
        let rise = [corners[2][2] - corners[0][2], corners[3][2] - corners[1][2]];
        let slope = [
            (rise[0] * diagonals[1][1] - rise[1] * diagonals[0][1]) / twice_area,
            (rise[1] * diagonals[0][0] - rise[0] * diagonals[1][0]) / twice_area,
        ];
        let span = |axis: usize, count: usize| {
            let least = at.iter().fold(f64::INFINITY, |least, corner| least.min(corner[axis])).ceil().max(0.0);
            let most = at.iter().fold(f64::NEG_INFINITY, |most, corner| most.max(corner[axis])).floor();
            least as usize..((most + 1.0).max(0.0) as usize).min(count)
        };
        for row in span(1, self.rows) {
            for column in span(0, self.columns) {
                let (x, y) = (column as f64, row as f64);
                let inside = (0..4).all(|i| {
                    let (from, to) = (at[i], at[(i + 1) % 4]);
                    let left = (to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0]);
                    left * twice_area >= 0.0
                });
                if inside {
                    let depth = corners[0][2] + slope[0] * (x - at[0][0]) + slope[1] * (y - at[0][1]);
                    put(&mut self.seen[row * self.columns + column], depth);
                }
            }
        }
    }

    /// Of all facets, those turned away too, the nearest at each pixel.
    fn by_depth(facets: &Facets, camera: &Camera) -> Picture {
        let mut picture = Picture::of(facets, camera);
        for (number, facet) in facets.iter().enumerate() {
            picture.cover(&facet, camera, |seen, depth| {
                if seen.is_none_or(|(_, nearest)| depth > nearest) {
                    *seen = Some((number as u32, depth));
                }
            });
        }
        picture
    }

    /// Painted one over the other.
    fn in_order(facets: &Facets, camera: &Camera, order: &[u32]) -> Picture {
        let mut picture = Picture::of(facets, camera);
        for &number in order {
            let facet = facets.get(number).expect("a facet");
            picture.cover(&facet, camera, |seen, depth| *seen = Some((number, depth)));
        }
        picture
    }
}

#[derive(Default)]
struct Tally {
    pictures: usize,
    compared: usize,
    wrong: usize,
    touching: usize,
}

impl Tally {
    /// Compares the pixels that either picture covers.
    fn add(&mut self, by_depth: &Picture, painted: &Picture) {
        self.pictures += 1;
        for pair in by_depth.seen.iter().zip(&painted.seen) {
            match pair {
                (None, None) => continue,
                (Some((nearest, _)), Some((number, _))) if nearest == number => {}
                (Some((_, nearest)), Some((_, depth))) if (nearest - depth).abs() < TOUCHING_MM => self.touching += 1,
                _ => self.wrong += 1,
            }
            self.compared += 1;
        }
    }

    fn and(&self, other: &Tally) -> Tally {
        Tally {
            pictures: self.pictures + other.pictures,
            compared: self.compared + other.compared,
            wrong: self.wrong + other.wrong,
            touching: self.touching + other.touching,
        }
    }

    fn report(&self, what: &str) {
        let Tally { pictures, compared, wrong, touching } = self;
        let share = 100.0 * *wrong as f64 / (*compared).max(1) as f64;
        let _ = writeln!(
            std::io::stderr(),
            "{what}: {compared} pixels of {pictures} pictures compared, {wrong} wrong ({share:.4} %), \
             {touching} where facets touch"
        );
    }
}

fn sampled(width_mm: f64, depth_mm: f64, a: impl Fn(f64) -> f64, b: impl Fn(f64) -> f64) -> Solved {
    let s: Vec<f64> = (0..=40).map(|i| 240.0 * f64::from(i) / 40.0).collect();
    let a = s.iter().map(|&s| a(s).clamp(0.0, width_mm)).collect();
    let b = s.iter().map(|&s| b(s).clamp(0.0, depth_mm)).collect();
    Solved { width_mm, depth_mm, s, a, b }
}

fn compare(solved: &Solved, cameras: &[[f64; 2]], shares: &[f64]) -> Tally {
    let mut tally = Tally::default();
    for &share in shares {
        let facets = Facets::new(solved, &Opening::new(solved, share));
        for &[turn_deg, tilt_deg] in cameras {
            let camera = Camera::new(turn_deg, tilt_deg);
            let wrong_before = tally.wrong;
            let painted = Picture::in_order(&facets, &camera, &draw_order(&facets, &camera));
            tally.add(&Picture::by_depth(&facets, &camera), &painted);
            if tally.wrong > wrong_before {
                let count = tally.wrong - wrong_before;
                let _ =
                    writeln!(std::io::stderr(), "  {count} wrong at share {share}, turn {turn_deg}, tilt {tilt_deg}");
            }
        }
    }
    tally
}

#[track_caller]
fn none_wrong(what: &str, solved: &Solved) {
    let tally = compare(solved, &CAMERAS, &SHARES);
    tally.report(what);
    assert_eq!(tally.pictures, CAMERAS.len() * SHARES.len());
    assert!(tally.compared > 5_000 * tally.pictures, "only {} pixels compared", tally.compared);
    assert!(tally.touching * 1000 < tally.compared, "{} undecided", tally.touching);
    assert_eq!(tally.wrong, 0);
}

#[test]
fn square_swinging_both_ways() {
    none_wrong("square", &sampled(50.0, 50.0, |s| 25.0 + 20.0 * (s / 30.0).sin(), |s| 25.0 - 18.0 * (s / 42.0).cos()));
}

#[test]
fn rectangular_with_a_steep_line() {
    none_wrong("rectangular", &sampled(70.0, 30.0, |s| 35.0 + 33.0 * (s / 24.0).cos(), |s| 6.0 + s * 18.0 / 240.0));
}

#[test]
fn leaving_the_blank_through_its_faces() {
    none_wrong("clamped", &sampled(50.0, 40.0, |s| 25.0 - 34.0 * (s / 40.0).sin(), |s| 18.0 + 30.0 * (s / 60.0).cos()));
}

#[test]
fn straight_and_bent_once() {
    none_wrong("straight", &sampled(50.0, 50.0, |_| 25.0, |s| 10.0 + (s - 120.0).abs() / 4.0));
}

/// As the maker's shapes give them, at the stations that follow their curves.
#[test]
fn starting_shapes_solved_as_they_are_shown() {
    let blank = Blank { depth: 35.0.into(), ..Blank::square(50.0, 240.0) };
    let line = |kind, across_mm| Line::Shape(Shape::start(kind, 240.0, across_mm));
    for (first, second) in [(ShapeKind::Cyma, ShapeKind::Waves), (ShapeKind::PostAndKnee, ShapeKind::Arch)] {
        let leg = Leg::new(&blank, &line(first, 50.0), &line(second, 35.0)).expect("a leg");
        none_wrong(&format!("{first:?} and {second:?}"), &leg.solve(&leg.stations_within(0.2)));
    }
}

/// Lines that no saw could follow, running out of the blank and back, from directions picked blindly.
#[test]
fn any_leg_from_anywhere() {
    let mut state = 0x9e37_79b9_7f4a_7c15_u64;
    let mut random = move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    let mut tally = Tally::default();
    for _ in 0..40 {
        let (width_mm, depth_mm) = (20.0 + 60.0 * random(), 20.0 + 60.0 * random());
        let mut solved = sampled(width_mm, depth_mm, |_| 0.0, |_| 0.0);
        for station in 0..solved.s.len() {
            solved.a[station] = (width_mm * (1.4 * random() - 0.2)).clamp(0.0, width_mm);
            solved.b[station] = (depth_mm * (1.4 * random() - 0.2)).clamp(0.0, depth_mm);
        }
        let cameras = [[360.0 * random(), 180.0 * random() - 90.0], [360.0 * random(), 16.0 * random() - 8.0]];
        let one = compare(&solved, &cameras, &[0.0, 0.02, 0.29, random(), 0.99, 1.0]);
        tally = tally.and(&one);
    }
    tally.report("any leg");
    assert!(tally.compared > 2_000_000 && tally.touching * 1000 < tally.compared);
    assert_eq!(tally.wrong, 0);
}

/// The comparison must be able to fail: orders that are nearly right are caught.
#[test]
fn other_orders_are_wrong() {
    let solved = sampled(50.0, 50.0, |s| 25.0 + 20.0 * (s / 30.0).sin(), |s| 25.0 - 18.0 * (s / 42.0).cos());
    let (mut pieces_by_number, mut slabs_turned_round) = (Tally::default(), Tally::default());
    for share in SHARES {
        let facets = Facets::new(&solved, &Opening::new(&solved, share));
        for [turn_deg, tilt_deg] in [[20.0, 1.0], [110.0, 60.0], [214.0, -2.0], [340.0, 70.0]] {
            let camera = Camera::new(turn_deg, tilt_deg);
            let by_depth = Picture::by_depth(&facets, &camera);
            let order = draw_order(&facets, &camera);
            let slab = |number: &u32| i64::from(facets.get(*number).expect("a facet").slab);
            let downward = if tilt_deg > 0.0 { -1 } else { 1 };
            let mut other = order.clone();
            other.sort_by_key(|number| (downward * slab(number), *number));
            pieces_by_number.add(&by_depth, &Picture::in_order(&facets, &camera, &other));
            let mut other = order;
            other.sort_by_key(|number| -downward * slab(number)); // stable: within a slab as it was
            slabs_turned_round.add(&by_depth, &Picture::in_order(&facets, &camera, &other));
        }
    }
    for (what, tally) in [("pieces by number", &pieces_by_number), ("slabs turned round", &slabs_turned_round)] {
        tally.report(what);
        assert!(tally.wrong * 100 > tally.compared, "{what} would pass");
    }
}
