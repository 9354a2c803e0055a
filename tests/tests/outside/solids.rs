//! Sections and volumes against boolean cuts and rotations of solid bodies (`boolmesh`, a general-purpose library).

use cornerwise_geometry::Section;

use crate::cases::{self, Case};
use crate::sawn::{Solid, pieces};

/// Sections agree within this, mm.
const SECTION_MM: f64 = 1e-6;

/// Volumes agree within this share.
const VOLUME_SHARE: f64 = 1e-9;

fn drawn(case: &Case, stations: &[f64]) -> [Vec<[f64; 2]>; 2] {
    [&case.first, &case.second].map(|line| stations.iter().map(|s| [*s, line.offset(*s)]).collect())
}

/// Everything the solid library says of a leg, against [`cornerwise_geometry::Solved`].
fn check(case: &Case, stations: &[f64]) {
    let Case { name, leg, .. } = case;
    let [width, depth, length] = case.size_mm();
    let solved = leg.solve(stations);
    let [first, second] = drawn(case, stations);
    let made = pieces(case.size_mm(), &first, &second);

    let blank = width * depth * length;
    let mut off_volume = (solved.volume_mm3() - blank).abs().max((leg.volume_mm3() - blank).abs());
    for (piece, volume) in made.iter().zip(solved.piece_volumes_mm3()) {
        off_volume = off_volume.max((piece.volume() - volume).abs());
    }
    // Glued up: no two pieces share wood, and together they are as much wood as the blank was.
    let halves = [made[0].and(&made[1]), made[2].and(&made[3])];
    let whole = halves[0].and(&halves[1]);
    off_volume = off_volume.max((whole.volume() - blank).abs());
    assert!(off_volume / blank < VOLUME_SHARE, "{name}: volumes differ by {off_volume} mm³ of {blank}");

    let mut off_section = 0.0_f64;
    let mut off_area = 0.0_f64;
    let mut compare = |s: f64, a: f64, b: f64, section: &Section| {
        for (piece, corners) in made.iter().zip(section.pieces) {
            let (least, most) = bounds(&corners);
            let area = (most[0] - least[0]) * (most[1] - least[1]);
            let outline = piece.section(s);
            off_area = off_area.max((outline.area() - area).abs());
            if area > 1e-6 {
                off_section = off_section.max(outline.off_rectangle(least, most));
            }
        }
        let outline = whole.section(s);
        off_area = off_area.max((outline.area() - width * depth).abs());
        // Where the glued faces meet, the library may leave folds that hold no wood; so the outline is the rectangle if
        // it reaches as far and holds as much.
        let (least, most) = outline.bounds();
        for (made, wanted) in [(least[0], -a), (least[1], -b), (most[0], width - a), (most[1], depth - b)] {
            off_section = off_section.max((made - wanted).abs());
        }
    };
    for i in 0..stations.len() {
        compare(solved.s[i], solved.a[i], solved.b[i], &solved.section(i));
        compare(solved.s[i], leg.a(stations[i]), leg.b(stations[i]), &leg.section(stations[i]));
        if i > 0 {
            for share in [0.25, 0.618] {
                let between = |of: &[f64]| of[i - 1] + share * (of[i] - of[i - 1]);
                let (s, a, b) = (between(&solved.s), between(&solved.a), between(&solved.b));
                compare(s, a, b, &Section::new(width, depth, a, b));
            }
        }
    }
    eprintln!("{name}: {} stations, sections {off_section:.1e} mm, volumes {:.1e}", stations.len(), off_volume / blank);
    assert!(off_section < SECTION_MM, "{name}: sections differ by {off_section} mm");
    assert!(off_area < SECTION_MM, "{name}: areas of sections differ by {off_area} mm²");
}

fn bounds(corners: &[[f64; 2]; 4]) -> ([f64; 2], [f64; 2]) {
    let of = |i: usize, pick: fn(f64, f64) -> f64, start: f64| corners.iter().map(|c| c[i]).fold(start, pick);
    (
        [of(0, f64::min, f64::INFINITY), of(1, f64::min, f64::INFINITY)],
        [of(0, f64::max, f64::NEG_INFINITY), of(1, f64::max, f64::NEG_INFINITY)],
    )
}

#[test]
fn a_cyma_on_both_faces_of_a_square_blank() {
    let case = cases::cyma();
    check(&case, &case.leg.uniform_stations(200));
}

#[test]
fn waves_and_an_arch_on_a_rectangular_blank() {
    let case = cases::waves();
    check(&case, &case.leg.stations_within(0.02));
}

#[test]
fn a_post_and_knee_with_its_sharp_point() {
    let case = cases::post();
    check(&case, &case.leg.stations_within(0.05));
}

#[test]
fn a_line_that_is_straight_on_one_face() {
    let case = cases::arch();
    check(&case, &case.leg.uniform_stations(90));
}

#[test]
fn a_line_that_leaves_the_blank_through_both_faces() {
    let case = cases::leaving();
    let [width, ..] = case.size_mm();
    let extent = case.leg.first.extent();
    assert!(extent.least < -5.0 && extent.most > width + 5.0, "{extent:?}");
    let case_depth = case.leg.depth_mm;
    assert!(case.leg.second.extent().most > case_depth + 1.0, "{:?}", case.leg.second.extent());
    check(&case, &case.leg.stations_within(0.1));
}

/// The core is wood from top to foot in the leg that the solid library makes, and a column a hundredth of a millimetre
/// larger on any side is not.
#[test]
fn the_core_is_the_thickest_straight_column_within_the_leg() {
    for case in [cases::cyma(), cases::waves(), cases::post(), cases::arch(), cases::clipped()] {
        let Case { name, leg, .. } = &case;
        let [width, depth, length] = case.size_mm();
        let stations = leg.stations_within(0.2);
        let [first, second] = drawn(&case, &stations);
        let [one, two, three, four] = pieces(case.size_mm(), &first, &second);
        let whole = one.and(&two).and(&three.and(&four));
        let [wide, deep] = leg.core_mm();
        // At every level the leg reaches from -a to W - a, so the column's near sides are set by the least offsets.
        let held = |line: &[[f64; 2]], across: f64| line.iter().map(|p| p[1].clamp(0.0, across)).fold(across, f64::min);
        let least = [-held(&first, width), -held(&second, depth)];
        let column = |out: [f64; 4]| {
            Solid::bar(
                [least[0] - out[0], least[1] - out[1], 0.0],
                [least[0] + wide + out[2], least[1] + deep + out[3], length],
            )
        };
        let missing = |out: [f64; 4]| column(out).volume() - column(out).shared_with(&whole).volume();
        let hair = 1e-7;
        assert!(missing([-hair; 4]).abs() < 1e-6, "{name}: {} mm³ of the core are not wood", missing([-hair; 4]));
        for side in 0..4 {
            let mut out = [-hair; 4];
            out[side] = 0.01;
            let straight = [wide, deep][side % 2] == [width, depth][side % 2];
            assert!(missing(out) > if straight { 0.1 } else { 1e-4 }, "{name}: side {side}, {} mm³", missing(out));
        }
    }
}

/// Edges where two sides meet and thickness square to the curve, from the planes of the solid's own triangles.
#[test]
fn edge_angles_and_thickness_are_those_of_the_solids_planes() {
    let mut sharpest = 90.0_f64;
    for case in [cases::waves(), cases::post(), cases::clipped(), cases::fierce()] {
        let Case { name, leg, .. } = &case;
        let [width, _, length] = case.size_mm();
        // Where two cubics meet the curvature jumps: with a station there, a slab's slope is its middle's to the second
        // order of its length everywhere.
        let mut stations = [leg.uniform_stations(1201), case.first.joints(), case.second.joints()].concat();
        stations.sort_by(f64::total_cmp);
        stations.dedup_by(|next, kept| *next - *kept < 0.01);
        let [first, second] = drawn(&case, &stations);
        let [one, two, three, _] = pieces(case.size_mm(), &first, &second);
        for i in (3..1200).step_by(17) {
            let s = (stations[i - 1] + stations[i]) / 2.0;
            // A slab beside a sharp point or a crossing is not the smooth leg's.
            let kinks = leg.first.sharp_point().into_iter().chain(leg.first.crossings(width));
            if kinks.into_iter().any(|kink| (kink - s).abs() < length / 1200.0) {
                continue;
            }
            let at = leg.station(s);
            // Out of the wood of side 1 (piece 1), 2 (piece 2), 3 and 4; and how far out each plane lies.
            let sides = [
                plane(&one, s, [0.0, -1.0]),
                plane(&two, s, [1.0, 0.0]),
                plane(&three, s, [0.0, 1.0]),
                plane(&one, s, [-1.0, 0.0]),
            ];
            let [Some(side_1), Some(side_2), Some(side_3), Some(side_4)] = sides else {
                assert_eq!(at.edge_angle_deg, 90.0, "{name}: a side is missing at {s}");
                continue;
            };
            let dot = |p: [f64; 3], q: [f64; 3]| p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
            let interior = |p: [f64; 3], q: [f64; 3]| 180.0 - dot(p, q).acos().to_degrees();
            let angles = [
                interior(side_4.0, side_1.0),
                interior(side_1.0, side_2.0),
                interior(side_2.0, side_3.0),
                interior(side_3.0, side_4.0),
            ];
            let smaller = angles.into_iter().fold(180.0, f64::min);
            assert!((smaller - at.edge_angle_deg).abs() < 2e-3, "{name}: {angles:?} for {} at {s}", at.edge_angle_deg);
            // By design.md the four are two and two, the larger what is left to 180 degrees.
            let mut sorted = angles;
            sorted.sort_by(f64::total_cmp);
            assert!((sorted[0] - sorted[1]).abs() < 1e-6 && (sorted[2] + sorted[0] - 180.0).abs() < 1e-6, "{angles:?}");
            let thick = [side_2.1 + side_4.1, side_1.1 + side_3.1];
            for (made, told) in thick.into_iter().zip(at.thickness_mm) {
                assert!((made - told).abs() < 5e-4, "{name}: {thick:?} for {at:?}");
            }
            sharpest = sharpest.min(at.edge_angle_deg);
        }
    }
    assert!(sharpest < 65.0, "no edge to speak of: {sharpest}");
}

/// The plane of the triangles of a solid at a level that look roughly along `toward` (u, v): its unit normal, and how
/// far out along it the plane lies. None where there is no such triangle.
fn plane(solid: &Solid, level: f64, toward: [f64; 2]) -> Option<([f64; 3], f64)> {
    let mut found: Option<([f64; 3], f64)> = None;
    for [p, q, r] in solid.triangles() {
        let crosses = [p, q, r].iter().any(|c| c[2] < level) && [p, q, r].iter().any(|c| c[2] > level);
        let (e, f) = ([q[0] - p[0], q[1] - p[1], q[2] - p[2]], [r[0] - p[0], r[1] - p[1], r[2] - p[2]]);
        let normal = [e[1] * f[2] - e[2] * f[1], e[2] * f[0] - e[0] * f[2], e[0] * f[1] - e[1] * f[0]];
        let size = normal.iter().map(|c| c * c).sum::<f64>().sqrt();
        let normal = normal.map(|c| c / size);
        // The other sides at this level look at least a right angle away.
        if crosses && size > 1e-6 && normal[0] * toward[0] + normal[1] * toward[1] > 0.3 {
            found = Some((normal, normal[0] * p[0] + normal[1] * p[1] + normal[2] * p[2]));
        }
    }
    found
}
