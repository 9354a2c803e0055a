//! What must hold for any saw line, however it is drawn.

use cornerwise_export::files::{read_text, write_text};
use cornerwise_geometry::{Blank, Leg, LegError, Line, MAX_SLOPE, Point, PointId, PointKind, SawLine, SawLineError};
use cornerwise_project::{Design, DesignId, Project};
use cornerwise_wood::{Layer, Layers, SeamLimits, Species, Timber, Wood, compare_seams};
use proptest::prelude::*;

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

/// One to ten points that a maker could set: in order, handles from nothing to far too long, at most one of them sharp,
/// offsets from well outside the blank on one side to well outside on the other.
fn drawable(length: f64, across: f64) -> impl Strategy<Value = Vec<Point>> {
    let reach = prop_oneof![4 => 0.0..0.5_f64, 1 => 0.5..50.0_f64];
    let one = (0.05..1.0_f64, -0.4..1.4_f64, -1.5..1.5_f64, reach.clone(), reach);
    (prop::collection::vec(one, 2..10), prop::option::of((0..10usize, -1.5..1.5_f64)), -0.1..0.1_f64).prop_map(
        move |(steps, sharp, start)| {
            let total: f64 = steps.iter().map(|step| step.0).sum();
            let mut at = start * length;
            let mut points = Vec::new();
            for (i, (step, offset, slope, before, after)) in steps.into_iter().enumerate() {
                let (before_mm, after_mm) = (before * length, after * length);
                let kind = match sharp {
                    Some((index, slope_after)) if index == i => {
                        PointKind::Sharp { slope_before: slope, before_mm, slope_after, after_mm }
                    }
                    _ => PointKind::Smooth { slope, before_mm, after_mm },
                };
                points.push(Point { kind, ..Point::smooth(i as u32 + 7, at, offset * across, 0.0, 0.0, 0.0) });
                at += step / total * length * 1.1;
            }
            points
        },
    )
}

/// Any number that fits in a field, sound or not.
fn anything() -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => -100.0..1000.0_f64,
        1 => prop::num::f64::ANY,
        1 => Just(0.0),
        1 => prop_oneof![Just(f64::MAX), Just(f64::MIN_POSITIVE), Just(1e200), Just(-1e20), Just(19_999.9)],
    ]
}

/// Points nobody would set.
fn undrawable() -> impl Strategy<Value = Vec<Point>> {
    let numbers = prop::array::uniform6(anything());
    let one = (numbers, 0..6u32, prop::bool::weighted(0.2));
    prop::collection::vec(one, 0..8).prop_map(|points| {
        let point =
            |(i, ([s, offset, slope, before_mm, slope_after, after_mm], id, sharp)): (usize, ([f64; 6], u32, bool))| {
                let kind = if sharp {
                    PointKind::Sharp { slope_before: slope, before_mm, slope_after, after_mm }
                } else {
                    PointKind::Smooth { slope: slope % 8.0, before_mm, after_mm }
                };
                // Mostly in order and mostly with an id of its own, so that more than the first two checks are reached.
                let s = if s.abs() < 1000.0 { (s.abs() * 1e5).round() / 1e6 + 120.0 * i as f64 } else { s };
                let id = if id == 0 { 3 } else { 100 + i as u32 };
                Point { kind, ..Point::smooth(id, s, offset, 0.0, 0.0, 0.0) }
            };
        points.into_iter().enumerate().map(point).collect()
    })
}

/// The points that an error names.
fn named(error: &SawLineError) -> Vec<PointId> {
    match error {
        SawLineError::TooFew(_) | SawLineError::TooMany(_) | SawLineError::Linked => Vec::new(),
        SawLineError::Batten(error) => error.pin().into_iter().collect(),
        SawLineError::NotSound { point, .. }
        | SawLineError::RunsBack { point, .. }
        | SawLineError::TooSteep { point, .. }
        | SawLineError::SameId(point) => vec![*point],
        SawLineError::TwoSharp { first, second } => vec![*first, *second],
    }
}

/// An error names points that are there, by number, in words.
fn names_a_point(error: &SawLineError, points: &[Point]) -> Result<(), TestCaseError> {
    let named = named(error);
    prop_assert!(!named.is_empty() || points.len() < 2, "{error}");
    for id in named {
        prop_assert!(points.iter().any(|point| point.id == id), "{error}");
        prop_assert!(error.to_string().contains(&id.0.to_string()), "{error}");
    }
    Ok(())
}

/// Everything that is asked of a line is finite, in order and in step with everything else.
fn is_sound(line: &SawLine, length: f64) -> Result<(), TestCaseError> {
    for segment in line.segments() {
        let [s0, s1, s2, s3] = [segment.p0.x, segment.p1.x, segment.p2.x, segment.p3.x];
        prop_assert!(s0 <= s1 && s1 <= s2 + 1e-9 && s2 <= s3, "runs back: {segment:?}");
    }
    let extent = line.extent();
    let bend = line.tightest();
    prop_assert!(extent.least.is_finite() && extent.most >= extent.least);
    let mut tightest = 0.0_f64;
    for i in 0..=400 {
        let s = length * f64::from(i) / 400.0;
        for at in [line.at(s), line.at_after(s)] {
            prop_assert!(at.offset.is_finite() && at.slope.is_finite() && at.curvature.is_finite(), "{at:?} at {s}");
            prop_assert!(at.slope.abs() <= MAX_SLOPE * (1.0 + 1e-6), "{at:?} at {s}");
            prop_assert!(at.offset >= extent.least - 1e-9 && at.offset <= extent.most + 1e-9, "{at:?} in {extent:?}");
            tightest = tightest.max(at.curvature.abs());
        }
        prop_assert_eq!(line.offset(s), line.at(s).offset);
    }
    if tightest > 1e-8 {
        let bend = bend.expect("a line that bends has a tightest bend");
        prop_assert!(1.0 / bend.radius_mm >= tightest * (1.0 - 1e-6), "{bend:?}, yet a curvature of {tightest}");
        prop_assert!((0.0..=length).contains(&bend.s_mm), "{bend:?}");
    }
    // Never shorter than the straight way, never longer than the steepest allowed.
    let arc = line.arc_length(1e-3);
    prop_assert!(arc >= length * (1.0 - 1e-9) && arc <= length * MAX_SLOPE.hypot(1.0), "{arc} for {length}");
    Ok(())
}

proptest! {
    #![proptest_config(config(400))]

    #[test]
    fn any_drawable_line_is_sound_or_names_its_point((length, points) in
        (60.0..3000.0_f64).prop_flat_map(|length| (Just(length), drawable(length, length / 12.0))))
    {
        match SawLine::from_points(&points, length) {
            Ok(line) => is_sound(&line, length)?,
            Err(error) => names_a_point(&error, &points)?,
        }
    }

    #[test]
    fn any_two_lines_keep_every_section_and_the_volume((width, depth, length, first, second) in
        (20.0..120.0_f64, 20.0..120.0_f64, 100.0..2500.0_f64).prop_flat_map(|(w, d, l)|
            (Just(w), Just(d), Just(l), drawable(l, w), drawable(l, d))))
    {
        let blank = Blank { depth: depth.into(), ..Blank::square(width, length) };
        let (points, lines) = ([&first, &second], [Line::Points(first.clone()), Line::Points(second.clone())]);
        let leg = match Leg::new(&blank, &lines[0], &lines[1]) {
            Ok(leg) => leg,
            Err(LegError::Line { cut, source }) => {
                names_a_point(&source, points[cut.index()])?;
                return Ok(());
            }
            Err(other) => return Err(TestCaseError::fail(other.to_string())),
        };
        let near = |value: f64, wanted: f64| (value - wanted).abs() <= 1e-9 * wanted.abs().max(1.0);
        for stations in [leg.uniform_stations(41), leg.stations_within(0.2)] {
            prop_assert!(stations.windows(2).all(|pair| pair[0] < pair[1]), "{stations:?}");
            prop_assert_eq!((stations[0], stations[stations.len() - 1]), (0.0, length));
            let solved = leg.solve(&stations);
            prop_assert!(near(solved.volume_mm3(), width * depth * length));
            for (i, s) in stations.iter().copied().enumerate() {
                let pieces = solved.section(i).pieces;
                let mut areas = 0.0;
                let (mut least, mut most) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
                for piece in pieces {
                    for corner in 0..4 {
                        let ([u, v], [next_u, next_v]) = (piece[corner], piece[(corner + 1) % 4]);
                        areas += 0.5 * (u * next_v - next_u * v);
                        least = [least[0].min(u), least[1].min(v)];
                        most = [most[0].max(u), most[1].max(v)];
                    }
                }
                prop_assert!(near(areas, width * depth), "{areas} at {s}");
                prop_assert!(near(most[0] - least[0], width) && near(most[1] - least[1], depth), "{least:?} {most:?}");
                let at = leg.station(s);
                prop_assert!((0.0..=90.0).contains(&at.edge_angle_deg), "{at:?}");
                prop_assert!(at.thickness_mm[0] > 0.0 && at.thickness_mm[0] <= width, "{at:?}");
                prop_assert!(at.thickness_mm[1] > 0.0 && at.thickness_mm[1] <= depth, "{at:?}");
            }
        }
        prop_assert!(near(leg.volume_mm3(), width * depth * length));
        let [u, v, s] = leg.centre_of_mass_mm();
        prop_assert!(u.abs() <= width / 2.0 + 1e-9 && v.abs() <= depth / 2.0 + 1e-9 && near(s, length / 2.0));
        let [wide, deep] = leg.core_mm();
        prop_assert!((0.0..=width).contains(&wide) && (0.0..=depth).contains(&deep), "{wide} by {deep}");
    }
}

/// A point a hair below the top gave a stretch so short that its curvature came out as no number.
#[test]
fn a_first_point_a_hair_below_the_top_is_no_special_case() {
    let point = |id, s| Point::smooth(id, s, 25.0, 0.1, 5.0, 5.0);
    let line = SawLine::from_points(&[point(1, 1e-200), point(2, 90.0)], 100.0).unwrap();
    is_sound(&line, 100.0).unwrap();
}

fn any_wood() -> impl Strategy<Value = Wood> {
    let species = || prop::sample::select(Species::ALL.to_vec());
    let layer = (species(), 0.2..60.0_f64).prop_map(|(species, mm)| Layer { species, thickness: mm.into() });
    let layers = (prop::collection::vec(layer, 1..5), -90.0..=90.0_f64, -360.0..=360.0_f64, -80.0..80.0_f64);
    prop_oneof![
        layers.prop_map(|(layers, lean_deg, toward_deg, shift)| {
            Wood::Layers(Layers::new(layers, lean_deg, toward_deg, shift.into()))
        }),
        (species(), -300.0..300.0_f64, -300.0..300.0_f64, 0.2..20.0_f64)
            .prop_map(|(species, x, y, ring)| { Wood::Timber(Timber::new(species, x.into(), y.into(), ring.into())) }),
    ]
}

proptest! {
    #![proptest_config(config(200))]

    /// A project of any size, lines and wood, saved and loaded, is the same project; and its seams' answers are shares.
    #[test]
    fn save_then_load_is_the_same_project((width, depth, length, first, second, wood) in
        (20.0..120.0_f64, 20.0..120.0_f64, 100.0..2500.0_f64).prop_flat_map(|(w, d, l)|
            (Just(w), Just(d), Just(l), drawable(l, w), drawable(l, d), any_wood())))
    {
        let blank = Blank { depth: depth.into(), ..Blank::square(width, length) };
        let mut design = Design::new(DesignId(1), 'A');
        (design.blank, design.first, design.second, design.wood) = (blank, Line::Points(first), Line::Points(second), wood);
        let Ok(leg) = design.leg() else { return Ok(()) };
        for seam in compare_seams(&leg, &design.wood, &SeamLimits::default()) {
            for share in [seam.lines_meet, seam.same_wood, seam.pattern_carries_on] {
                prop_assert!((-1e-12..=1.0 + 1e-12).contains(&share), "{seam:?}");
            }
            prop_assert!(seam.pattern_carries_on <= seam.lines_meet + 1e-12, "{seam:?}");
        }
        let project = Project { designs: vec![design.into()], ..Project::new() };
        match write_text(&project) {
            Ok(text) => prop_assert_eq!(read_text(&text).map_err(|e| TestCaseError::fail(e.to_string()))?, project),
            Err(error) => prop_assert!(project.check().is_err(), "{error}"),
        }
    }
}

proptest! {
    #![proptest_config(config(4000))]

    #[test]
    fn any_numbers_give_a_line_or_name_a_point(points in undrawable(), length in 10.0..10_000.0_f64) {
        match SawLine::from_points(&points, length) {
            Ok(line) => is_sound(&line, length)?,
            Err(error) => names_a_point(&error, &points)?,
        }
    }
}
