//! The sawn leg: the sides of the kerf against a general-purpose polyline offset (`cavalier_contours`), its volume against
//! the integral of the gap worked out apart, and a leaning blade against solid bodies (`boolmesh`).

use cavalier_contours::polyline::{PlineSource, PlineSourceMut, Polyline};
use cornerwise_geometry::{Between, Blade, Core, Length, Saw, SawnLeg, Side, Survey};
use cornerwise_tests::PlainLine;

use crate::cases::{self, Case};
use crate::sawn::{pieces_with_kerf, slice_corners};

/// The line given to the library is divided into chords that stay within this of it, mm. Offsets of chords are then as
/// near to the offset of the line.
const FLAT_MM: f64 = 5e-4;

/// How near the sides of the kerf must come, mm.
const SIDE_MM: f64 = 0.01;

fn saw(kerf_mm: f64) -> Saw {
    Saw { blade: Blade { kerf: kerf_mm.into(), ..Blade::default() }, ..Saw::default() }
}

/// The same on a small and crowded face: radii of a few millimetres.
fn tight() -> Case {
    let waves = |swing: f64| cornerwise_geometry::Shape::Waves {
        waves: 6,
        swing_top: swing.into(),
        swing_foot: (0.5 * swing).into(),
        shortening: 1.4,
        aside: Length::ZERO,
    };
    Case::new("tight", [30.0, 30.0, 150.0], waves(9.0), waves(5.0))
}

#[test]
fn the_sides_of_the_kerf_are_those_of_a_polyline_offset() {
    let mut curves = 0;
    let cases = [cases::cyma(), cases::waves(), cases::post(), cases::arch(), cases::fierce(), tight()];
    for case in &cases {
        for (line, plain) in [(&case.leg.first, &case.first), (&case.leg.second, &case.second)] {
            let mut drawn = Polyline::new();
            for s in line.stations(FLAT_MM) {
                drawn.add(s, plain.offset(s), 0.0);
            }
            curves += 1;
            let mut worst = 0.0_f64;
            for distance in [-1.6, -0.5, 0.5, 1.6] {
                // Above 0 is to the left of the way the line runs, toward growing offsets.
                let made = drawn.parallel_offset(distance);
                let mut reached = [f64::INFINITY, f64::NEG_INFINITY];
                for (from, to) in made.iter().flat_map(|part| part.iter_segments()) {
                    reached = [reached[0].min(from.x.min(to.x)), reached[1].max(from.x.max(to.x))];
                    let middle = [(from.x + to.x) / 2.0, (from.y + to.y) / 2.0];
                    // Arcs stand where the line bends outward; their ends are on them, their chords' middles are not.
                    let places = [[from.x, from.y], middle];
                    for [s, offset] in places.into_iter().take(if from.bulge == 0.0 { 2 } else { 1 }) {
                        // Beyond its ends the library has nothing where our line is carried on.
                        if (2.0..=case.leg.length_mm - 2.0).contains(&s) {
                            worst = worst.max((line.parallel(s, distance).offset - offset).abs());
                        }
                    }
                }
                assert!(reached[0] < 2.0 && reached[1] > case.leg.length_mm - 2.0, "{reached:?}");
            }
            eprintln!("{}: {worst:.1e} mm", case.name);
            assert!(worst < SIDE_MM, "{}: {worst} mm", case.name);
        }
    }
    assert!(curves >= 6);
}

/// The slot at a level, by its meaning: everything nearer to the line than half a kerf, found by looking.
fn gap_by_looking(line: &PlainLine, s: f64, half_mm: f64) -> f64 {
    let edge = |side: f64| {
        let out = |base: f64| side * line.offset(base) + (half_mm * half_mm - (s - base) * (s - base)).max(0.0).sqrt();
        let best = (0..=80)
            .map(|i| s - half_mm + half_mm * f64::from(i) / 40.0)
            .fold(s, |best, base| if out(base) > out(best) { base } else { best });
        let (mut lo, mut hi) = (best - half_mm / 40.0, best + half_mm / 40.0);
        for _ in 0..50 {
            let (one, two) = (lo + (hi - lo) / 3.0, hi - (hi - lo) / 3.0);
            if out(one) < out(two) { lo = one } else { hi = two }
        }
        side * out((lo + hi) / 2.0)
    };
    edge(1.0) - edge(-1.0)
}

#[test]
fn the_sawn_volume_is_the_blank_less_the_integral_of_the_gaps() {
    for case in [cases::cyma(), cases::waves(), cases::fierce()] {
        let kerf = 1.4;
        let sawn = SawnLeg::new(&case.leg, &saw(kerf)).volume_mm3(24);
        let [width, depth, length] = case.size_mm();
        // Simpson's rule over 3000 levels.
        let area = |s: f64| {
            (width - gap_by_looking(&case.first, s, kerf / 2.0)) * (depth - gap_by_looking(&case.second, s, kerf / 2.0))
        };
        let h = length / 1500.0;
        let volume: f64 = (0..1500)
            .map(|i| f64::from(i) * h)
            .map(|s| h / 6.0 * (area(s) + 4.0 * area(s + h / 2.0) + area(s + h)))
            .sum();
        let off = (sawn - volume).abs() / volume;
        eprintln!("{}: {off:.1e} of {volume:.0} mm³", case.name);
        assert!(off < 2e-6, "{}: {sawn} for {volume} mm³", case.name);
        assert!(sawn < 0.97 * width * depth * length, "the kerf is not lost in the noise");
    }
}

/// Walls of a cut at a depth: points of the plain line moved square to it.
fn wall(line: &PlainLine, length_mm: f64, distance_mm: f64) -> Vec<[f64; 2]> {
    // Chords of 1 to 1.6 mm: on the tightest bend here they sag by 5 µm.
    let count = 450_u16;
    (0..=count + 16)
        .map(|i| length_mm * (f64::from(i) - 8.0) / f64::from(count))
        .map(|s| {
            let (offset, slope) = (line.offset(s), line.slope(s));
            let root = slope.hypot(1.0);
            [s - distance_mm * slope / root, offset + distance_mm / root]
        })
        .collect()
}

#[test]
fn a_leaning_blade_leaves_the_pieces_that_solid_bodies_leave() {
    for case in [cases::cyma(), cases::waves()] {
        let [width, depth, length] = case.size_mm();
        let (kerf, tilts) = (1.2, [0.5_f64, -0.8]);
        let lean = tilts.map(|deg| deg.to_radians().tan());
        let setup = Saw {
            tilt_first_deg: tilts[0],
            tilt_second_deg: tilts[1],
            between: Between::Packed(0.4.into()),
            ..saw(kerf)
        };
        let sawn = SawnLeg::new(&case.leg, &setup);
        let side = |wall: usize| if wall == 0 { -kerf / 2.0 } else { kerf / 2.0 };
        let made = pieces_with_kerf(
            case.size_mm(),
            |which, y| wall(&case.first, length, side(which) + y * lean[0]),
            |which, y| wall(&case.second, length, side(which) + y * lean[1]),
            sawn.closing_mm(),
        );
        let volume: f64 = made.iter().map(crate::sawn::Solid::volume).sum();
        let ours = sawn.volume_mm3(16);
        assert!((ours - volume).abs() < 2e-5 * volume, "{}: {ours} for {volume} mm³", case.name);
        let mut worst = 0.0_f64;
        for i in 1..40 {
            let s = length * f64::from(i) / 40.0;
            let at = sawn.at(s);
            for (solid, corners) in made.iter().zip(&at.pieces) {
                let outline = slice_corners(solid, s);
                for corner in corners {
                    let nearest = outline
                        .iter()
                        .map(|p| (p[0] - corner[0]).hypot(p[1] - corner[1]))
                        .fold(f64::INFINITY, f64::min);
                    worst = worst.max(nearest);
                }
            }
        }
        eprintln!("{}: corners within {worst:.1e} mm", case.name);
        assert!(worst < SIDE_MM, "{}: a corner is {worst} mm off", case.name);
        assert!(width > 0.0 && depth > 0.0);
    }
}

/// A step of 50.8 · tan 0.5° = 0.443 mm, measured between the two pieces that meet at a seam of the solid bodies, square to
/// the surface; D counts for the first cut and W for the second.
#[test]
fn half_a_degree_over_two_inches_is_a_step_of_0_443_mm_on_the_solid_bodies() {
    let straight = || cornerwise_geometry::Shape::Straight { aside: Length::ZERO };
    let case = Case::new("straight", [50.8, 50.8, 120.0], straight(), straight());
    let lean = 0.5_f64.to_radians().tan();
    let made = pieces_with_kerf(
        case.size_mm(),
        |which, y| wall(&case.first, 120.0, if which == 0 { -0.5 } else { 0.5 } + y * lean),
        |which, y| wall(&case.second, 120.0, if which == 0 { -0.5 } else { 0.5 } + y * lean),
        0.0,
    );
    // On each side's seam (u = 0 on sides 1 and 3, v = 0 on 2 and 4) how far out the two pieces reach.
    let out = |piece: usize, along_u: bool| {
        slice_corners(&made[piece], 60.0)
            .into_iter()
            .filter(|p| p[usize::from(!along_u)].abs() < 1e-6)
            .map(|p| p[usize::from(along_u)].abs())
            .fold(0.0, f64::max)
    };
    let setup = Saw { tilt_first_deg: 0.5, tilt_second_deg: 0.5, between: Between::Packed(1.0.into()), ..saw(1.0) };
    let at = SawnLeg::new(&case.leg, &setup).at(60.0);
    for side in Side::ALL {
        let [one, other] = side.pieces();
        let along_v = matches!(side, Side::One | Side::Three);
        let step = out(other.index(), along_v) - out(one.index(), along_v);
        assert!((step.abs() - 0.443).abs() < 5e-4, "{side}: {step} mm");
        assert!((at.step_mm[side.index()] - step).abs() < 1e-6, "{side}: {} for {step} mm", at.step_mm[side.index()]);
    }
}

/// The core as sawn is wood of the four solid bodies from top to foot: what lies in every level section of all of them. Chords
/// of the bodies' walls sag by some micrometres, so it is tried a hundredth of a millimetre smaller and larger.
#[test]
fn the_core_as_sawn_is_what_every_section_of_the_solid_bodies_shares() {
    let kerf = 1.2;
    for case in [cases::cyma(), cases::waves()] {
        let [_, _, length] = case.size_mm();
        let side = |wall: usize| if wall == 0 { -kerf / 2.0 } else { kerf / 2.0 };
        let made = pieces_with_kerf(
            case.size_mm(),
            |which, _| wall(&case.first, length, side(which)),
            |which, _| wall(&case.second, length, side(which)),
            SawnLeg::new(&case.leg, &saw(kerf)).closing_mm(),
        );
        // How far every body reaches from the axis either way at its least, over its levels.
        let mut least = [f64::INFINITY; 4];
        for i in 0..=600 {
            let s = (length * f64::from(i) / 600.0).clamp(0.01, length - 0.01);
            for body in &made {
                let corners = slice_corners(body, s);
                for axis in 0..2 {
                    let far =
                        corners.iter().map(|p| p[axis]).fold(0.0, |a: f64, b| if b.abs() > a.abs() { b } else { a });
                    let way = 2 * axis + usize::from(far > 0.0);
                    least[way] = least[way].min(far.abs());
                }
            }
        }
        let [wide, deep] = Core::sawn(&Survey::new(&case.leg, Some(&saw(kerf)), 513)).unwrap().size_mm;
        assert!((wide - least[0] - least[1]).abs() < 0.01, "{}: {wide} {least:?}", case.name);
        assert!((deep - least[2] - least[3]).abs() < 0.01, "{}: {deep} {least:?}", case.name);
        let column = |out: f64| {
            let low = [-least[0] - out, -least[2] - out, 0.5];
            crate::sawn::Solid::bar(low, [wide - least[0] + out, deep - least[2] + out, length - 0.5])
        };
        let missing = |out: f64| {
            let column = column(out);
            column.volume() - made.iter().map(|body| column.volume_shared_with(body)).sum::<f64>()
        };
        assert!(missing(-0.01).abs() < 1e-6 * length, "{}: {} mm³ are not wood", case.name, missing(-0.01));
        assert!(missing(0.01) > 1e-3, "{}: {} mm³", case.name, missing(0.01));
    }
}
