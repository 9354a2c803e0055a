//! The drawing order of a leg against a depth test that knows nothing of it. Both pictures are made of the same facets, so
//! a pixel that only one of them covers is wrong too.

#![expect(clippy::expect_used, reason = "a test may stop")]

mod pixels;

use std::io::Write;

use cornerwise_geometry::{Blank, Camera, Facets, Leg, Line, Opening, Shape, ShapeKind, Solved, draw_order};
use pixels::{Picture, Tally};

const PX_PER_MM: f64 = 0.7;
const SHARES: [f64; 7] = [0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 1.0];

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

fn empty(facets: &Facets, camera: &Camera) -> Picture {
    Picture::new(facets.seen_within(camera).expect("facets"), PX_PER_MM)
}

/// Of all facets, those turned away too, the nearest at each pixel.
fn by_depth(facets: &Facets, camera: &Camera) -> Picture {
    let mut picture = empty(facets, camera);
    for (number, facet) in facets.iter().enumerate() {
        picture.nearest(number as u32, facet.corners.map(|corner| corner.at), camera);
    }
    picture
}

/// Painted one over the other.
fn in_order(facets: &Facets, camera: &Camera, order: &[u32]) -> Picture {
    let mut picture = empty(facets, camera);
    for &number in order {
        let facet = facets.get(number).expect("a facet");
        picture.over(number, facet.corners.map(|corner| corner.at), camera);
    }
    picture
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
            let painted = in_order(&facets, &camera, &draw_order(&facets, &camera));
            tally.add(&by_depth(&facets, &camera), &painted);
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
    assert_eq!(tally.wrong + tally.silhouette, 0);
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
        tally = Tally {
            pictures: tally.pictures + one.pictures,
            compared: tally.compared + one.compared,
            wrong: tally.wrong + one.wrong,
            touching: tally.touching + one.touching,
            silhouette: tally.silhouette + one.silhouette,
        };
    }
    tally.report("any leg");
    assert!(tally.compared > 2_000_000 && tally.touching * 1000 < tally.compared);
    assert_eq!(tally.wrong + tally.silhouette, 0);
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
            let nearest = by_depth(&facets, &camera);
            let order = draw_order(&facets, &camera);
            let slab = |number: &u32| i64::from(facets.get(*number).expect("a facet").slab);
            let downward = if tilt_deg > 0.0 { -1 } else { 1 };
            let mut other = order.clone();
            other.sort_by_key(|number| (downward * slab(number), *number));
            pieces_by_number.add(&nearest, &in_order(&facets, &camera, &other));
            let mut other = order;
            other.sort_by_key(|number| -downward * slab(number)); // stable: within a slab as it was
            slabs_turned_round.add(&nearest, &in_order(&facets, &camera, &other));
        }
    }
    for (what, tally) in [("pieces by number", &pieces_by_number), ("slabs turned round", &slabs_turned_round)] {
        tally.report(what);
        assert!(tally.wrong * 100 > tally.compared, "{what} would pass");
    }
}
