use super::*;
use crate::{Blade, Blank, Length, Line, Point, PointId, PointKind, Shape, Side};
use approx::assert_relative_eq;

fn mm(mm: f64) -> Length {
    mm.into()
}

fn saw(kerf_mm: f64) -> Saw {
    Saw { blade: Blade { kerf: mm(kerf_mm), ..Blade::default() }, ..Saw::default() }
}

/// Straight lines that lean by `slopes`, through the middle of a blank.
fn leaning(width: f64, depth: f64, slopes: [f64; 2]) -> Leg {
    let line = |across: f64, slope: f64| {
        let point = |id, s: f64| Point {
            id: PointId(id),
            from_top: s.into(),
            offset: (across / 2.0 + slope * (s - 50.0)).into(),
            kind: PointKind::Smooth { slope, before_mm: 30.0, after_mm: 30.0 },
            tied: false,
        };
        Line::Points(vec![point(1, 0.0), point(2, 100.0)])
    };
    let blank = Blank { depth: mm(depth), ..Blank::square(width, 100.0) };
    Leg::new(&blank, &line(width, slopes[0]), &line(depth, slopes[1])).unwrap()
}

fn waves() -> Leg {
    let shape = |swing: f64, aside: f64| {
        Line::Shape(Shape::Waves {
            waves: 2,
            swing_top: mm(6.0),
            swing_foot: mm(swing),
            shortening: 0.7,
            aside: mm(aside),
        })
    };
    Leg::new(&Blank::square(50.8, 480.0), &shape(22.0, 1.0), &shape(-18.0, -2.0)).unwrap()
}

/// The kerf k takes k·sqrt(1 + slope²) across: with slopes 0.75 and 1, 1.25 k and 1.414 k.
#[test]
fn the_leg_is_thinner_by_the_kerf_over_the_cosine() {
    let leg = leaning(60.0, 40.0, [0.2, 0.1]);
    let at = SawnLeg::new(&leg, &saw(1.2)).at(50.0);
    assert_relative_eq!(at.size_mm[0], 60.0 - 1.2 * 0.2_f64.hypot(1.0), epsilon = 1e-9);
    assert_relative_eq!(at.size_mm[1], 40.0 - 1.2 * 0.1_f64.hypot(1.0), epsilon = 1e-9);
    assert_relative_eq!(at.thickness_mm[0], 60.0 / 0.2_f64.hypot(1.0) - 1.2, epsilon = 1e-9);
    assert_eq!(at.step_mm, [0.0; 4]);
    let sanded = Saw { sanding: mm(0.3), ..saw(1.2) };
    assert_relative_eq!(
        SawnLeg::new(&leg, &sanded).at(50.0).thickness_mm[0],
        60.0 / 0.2_f64.hypot(1.0) - 1.8,
        epsilon = 1e-9
    );
}

#[test]
fn a_saw_that_takes_nothing_gives_the_drawn_leg() {
    let leg = waves();
    let sawn = SawnLeg::new(&leg, &saw(0.0));
    for s in leg.uniform_stations(97) {
        let (drawn, at) = (leg.section(s), sawn.at(s));
        for (drawn, sawn) in drawn.pieces.as_flattened().iter().zip(at.pieces.as_flattened()) {
            assert!(
                (drawn[0] - sawn[0]).abs() < 1e-9 && (drawn[1] - sawn[1]).abs() < 1e-9,
                "{drawn:?} {sawn:?} at {s}"
            );
        }
    }
    assert_relative_eq!(sawn.volume_mm3(8), leg.volume_mm3(), epsilon = 1e-6);
}

/// Half a degree over a depth of 50.8 mm is a step of 50.8·tan 0.5° = 0.4433 mm square to the surface, at seams 2 and 4
/// by the first cut and at 1 and 3 by the second. A table tilted by 0.5 degrees leaves a visible step: common practice, no
/// source.
#[test]
fn a_table_half_a_degree_out_leaves_its_step_at_every_seam_it_makes() {
    let leg = waves();
    let tilted = Saw { tilt_first_deg: 0.5, tilt_second_deg: 0.5, between: Between::Packed(mm(1.0)), ..saw(1.0) };
    let sawn = SawnLeg::new(&leg, &tilted);
    for s in leg.uniform_stations(61) {
        let at = sawn.at(s);
        for (seam, side) in Side::ALL.into_iter().enumerate() {
            // Where the line bends, the surface is not a plane, and the step across differs a little from that over a
            // plane of the slope at s.
            assert!((at.step_mm[seam].abs() - 0.4433).abs() < 0.004, "{side}: {at:?}");
        }
    }
    let crest = leg.first.crests()[0];
    assert_relative_eq!(sawn.at(crest).step_mm[1].abs(), 50.8 * 0.5_f64.to_radians().tan(), epsilon = 1e-6);
}

#[test]
fn halves_that_slipped_leave_a_step_of_the_slip_times_the_slope() {
    let leg = leaning(50.0, 50.0, [0.1, 0.25]);
    let at = SawnLeg::new(&leg, &Saw { slip: mm(2.0), ..saw(1.0) }).at(50.0);
    let across = 2.0 * 0.25;
    assert_relative_eq!(at.step_mm[0].abs(), across / 0.25_f64.hypot(1.0), epsilon = 1e-9);
    assert_relative_eq!(at.step_mm[2].abs(), across / 0.25_f64.hypot(1.0), epsilon = 1e-9);
    assert_eq!([at.step_mm[1], at.step_mm[3]], [0.0; 2]);
}

/// Where the slope is 0 the halves touch; elsewhere the slot was wider than the kerf and a gap is left.
#[test]
fn closed_up_halves_touch_at_the_crests_and_gape_where_it_is_steep() {
    let leg = waves();
    let sawn = SawnLeg::new(&leg, &saw(1.6));
    assert_relative_eq!(sawn.closing_mm(), 1.6, epsilon = 1e-6);
    let steepest = leg
        .uniform_stations(481)
        .into_iter()
        .map(|s| leg.station(s))
        .max_by(|a, b| a.a_slope.abs().total_cmp(&b.a_slope.abs()));
    let steepest = steepest.unwrap();
    let gap = sawn.at(steepest.s_mm).gap_mm;
    assert!((gap - 1.6 * (steepest.a_slope.hypot(1.0) - 1.0)).abs() < 2e-3, "{gap} {steepest:?}");
    assert!(sawn.at(leg.first.crests()[1]).gap_mm < 1e-6);
    // Packed out by the kerf, the blank is its own size again.
    assert_relative_eq!(
        SawnLeg::new(&leg, &Saw { between: Between::Packed(mm(1.6)), ..saw(1.6) }).closing_mm(),
        0.0,
        epsilon = 1e-6
    );
}

/// What is lost is the slot: both slots, less where they cross. On straight lines all of it is known.
#[test]
fn the_wood_that_is_lost_is_the_slots() {
    let leg = leaning(60.0, 40.0, [0.2, 0.1]);
    let (a, b) = (1.2 * 0.2_f64.hypot(1.0), 1.2 * 0.1_f64.hypot(1.0));
    let sawn = SawnLeg::new(&leg, &saw(1.2)).volume_mm3(4);
    assert_relative_eq!(sawn, (60.0 - a) * (40.0 - b) * 100.0, epsilon = 1e-6);
}

#[test]
fn a_bend_tighter_than_half_a_kerf_is_told_and_does_no_harm() {
    let shape = |swing: f64| {
        Line::Shape(Shape::Waves {
            waves: 8,
            swing_top: mm(swing),
            swing_foot: mm(swing),
            shortening: 1.0,
            aside: mm(0.0),
        })
    };
    let leg = Leg::new(&Blank::square(20.0, 60.0), &shape(6.0), &shape(1.0)).unwrap();
    let sawn = SawnLeg::new(&leg, &saw(2.0));
    assert!(!sawn.broken(Cut::First).is_empty());
    for s in leg.uniform_stations(400) {
        let at = sawn.at(s);
        assert!(at.pieces.as_flattened().as_flattened().iter().all(|v| v.is_finite()), "{at:?}");
        assert!(at.size_mm[0] <= 20.0 && at.size_mm[0] >= 0.0);
    }
    assert!(SawnLeg::new(&leg, &saw(0.1)).broken(Cut::Second).is_empty());
}

/// A blade that bows enters and leaves true: no step at any seam, and across the depth it is off by a parabola, so that a side is
/// hollow by 4 (b / D)(1 - b / D) of the bow where its outer edge is.
#[test]
fn a_bowed_blade_leaves_a_hollow_without_a_step() {
    let blank = Blank::square(50.0, 400.0);
    let line = |aside: f64| Line::Shape(Shape::Straight { aside: aside.into() });
    let leg = Leg::new(&blank, &line(0.0), &line(-10.0)).unwrap();
    let bowed = Saw { bow_first: 0.6.into(), ..Saw::default() };
    let (at, plain) = (SawnLeg::new(&leg, &bowed).at(200.0), SawnLeg::new(&leg, &Saw::default()).at(200.0));
    assert!(at.step_mm.iter().all(|step| step.abs() < 1e-9), "{at:?}");
    // The second cut is at 15 of 50 mm.
    let hollow = 0.6 * 4.0 * 0.3 * 0.7;
    let half_kerf = Saw::default().blade.kerf.mm() / 2.0;
    assert!((at.hollow_mm[0] - hollow).abs() < 0.02, "{:?} {hollow}", at.hollow_mm);
    // Piece 2's outer edge is nearer to the axis, piece 1's farther out, at the middle of the kerf of the second cut.
    let out = |at: &SawnStation, piece: usize| at.pieces[piece][2][0].abs();
    for (piece, way) in [(0, 1.0), (1, -1.0), (2, -1.0), (3, 1.0)] {
        let moved = out(&at, piece) - out(&plain, piece);
        assert!((moved - way * hollow).abs() < 0.03 * half_kerf + 0.02, "{piece}: {moved}");
    }
    assert!((at.area_mm2() - plain.area_mm2()).abs() < 0.3, "what one side loses the other keeps");
}

/// A leaning blank worked out apart, by cutting its parallelogram with straight lines square to the face that was drawn on, and
/// rotating what is left half round about its own corner.
#[test]
fn a_leaning_blank_closes_and_its_seams_step_as_cut_from_a_parallelogram() {
    let clip = |polygon: &[[f64; 2]], normal: [f64; 2], reach: f64| -> Vec<[f64; 2]> {
        let out = |p: [f64; 2]| p[0] * normal[0] + p[1] * normal[1] - reach;
        let mut kept = Vec::new();
        for i in 0..polygon.len() {
            let (p, q) = (polygon[i], polygon[(i + 1) % polygon.len()]);
            if out(p) <= 0.0 {
                kept.push(p);
            }
            if (out(p) < 0.0) != (out(q) < 0.0) {
                let share = out(p) / (out(p) - out(q));
                kept.push([p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])]);
            }
        }
        kept
    };
    let line = |aside: f64| Line::Shape(Shape::Straight { aside: aside.into() });
    for degrees in [2.0_f64, -1.2] {
        let t = degrees.to_radians();
        let (a, b, w, d) = (21.0, 28.0, 50.0, 46.0);
        let out_of_true = crate::OutOfTrue { corner_deg: degrees, ..crate::OutOfTrue::default() };
        let blank = Blank { depth: d.into(), out_of_true, ..Blank::square(w, 300.0) };
        let leg = Leg::new(&blank, &line(a - w / 2.0), &line(b - d / 2.0)).unwrap();
        let no_kerf = Saw { blade: Blade { kerf: 0.0.into(), ..Blade::default() }, ..Saw::default() };
        let sawn = SawnLeg::new(&leg, &no_kerf).at(150.0);
        // The blank's section: face 1 along x, face 2 leaning so that the corner between them, at arris 2, is 90 + t.
        let down = [t.sin(), t.cos()];
        let corners = [[0.0, 0.0], [w, 0.0], [w + d * down[0], d * down[1]], [d * down[0], d * down[1]]];
        let into = [-t.cos(), t.sin()]; // square to face 2, into the blank
        assert!((into[0] * down[0] + into[1] * down[1]).abs() < 1e-12);
        // Along face 2 from arris 2, whatever the depth below it.
        let b_line = (w + b * down[0]) * down[0] + b * down[1] * down[1];
        for (piece, side) in [[1.0, 1.0], [-1.0, 1.0], [-1.0, -1.0], [1.0, -1.0]].into_iter().enumerate() {
            let first = clip(&corners, [side[0], 0.0], side[0] * a);
            let left = clip(&first, [side[1] * down[0], side[1] * down[1]], side[1] * b_line);
            let corner = corners[piece];
            let mut rotated: Vec<[f64; 2]> = left.iter().map(|p| [corner[0] - p[0], corner[1] - p[1]]).collect();
            rotated.sort_by(|p, q| (p[0] + 3.1 * p[1]).total_cmp(&(q[0] + 3.1 * q[1])));
            let mut ours = sawn.pieces[piece].to_vec();
            ours.sort_by(|p, q| (p[0] + 3.1 * p[1]).total_cmp(&(q[0] + 3.1 * q[1])));
            assert_eq!(rotated.len(), 4);
            for (p, q) in rotated.iter().zip(&ours) {
                assert!(
                    (p[0] - q[0]).abs() < 1e-9 && (p[1] - q[1]).abs() < 1e-9,
                    "{degrees}: piece {piece} {p:?} {q:?}"
                );
            }
        }
        // Half of what the lean takes over the depth, on either side; the other way in the second cut.
        assert!((sawn.step_mm[1].abs() - d * t.sin().abs()).abs() < 1e-9, "{:?}", sawn.step_mm);
        assert!((sawn.step_mm[0].abs() - w * t.sin().abs()).abs() < 1e-9, "{:?}", sawn.step_mm);
        // A table tilted to the blank takes the steps away, and the whole parallelogram is there again.
        let tilted = Saw { tilt_first_deg: degrees, tilt_second_deg: -degrees, ..no_kerf };
        let at = SawnLeg::new(&leg, &tilted).at(150.0);
        assert!(at.step_mm.iter().all(|step| step.abs() < 1e-9), "{:?}", at.step_mm);
        assert!((at.area_mm2() - w * d * t.cos()).abs() < 1e-6, "{}", at.area_mm2());
    }
}

#[test]
fn a_blank_that_tapers_gives_a_leg_that_is_thinner_at_its_foot() {
    let line = Line::Shape(Shape::Straight { aside: 0.0.into() });
    let out_of_true = crate::OutOfTrue { taper_width: 2.0.into(), ..crate::OutOfTrue::default() };
    let blank = Blank { out_of_true, ..Blank::square(50.0, 400.0) };
    let sawn = SawnLeg::new(&Leg::new(&blank, &line, &line).unwrap(), &Saw::default());
    let kerf = Saw::default().blade.kerf.mm();
    for (s, width) in [(0.0, 50.0), (200.0, 49.0), (400.0, 48.0)] {
        let size = sawn.at(s).size_mm;
        assert!((size[0] - (width - kerf)).abs() < 1e-9 && (size[1] - (50.0 - kerf)).abs() < 1e-9, "{s}: {size:?}");
    }
}
