//! Edits of points, against the line itself.

use super::any;
use crate::line_edits::Drawn;
use crate::{EDIT_GAP_MM, EditError, Handle};
use approx::relative_eq;
use cornerwise_geometry::{Cut, Length, MAX_SLOPE, Point, PointId, PointKind, SawLine, Unit};
use proptest::prelude::*;

const LENGTH: f64 = 700.0;
const ACROSS: f64 = 50.0;

fn drawn(points: &[Point]) -> Drawn<'_> {
    Drawn { cut: Cut::First, points: points.into(), length_mm: LENGTH, across_mm: ACROSS }
}

fn solved(points: &[Point]) -> SawLine {
    SawLine::from_points(points, LENGTH).expect("a saw line")
}

/// Largest difference of offset, slope and curvature along the leg, spare length included, on both sides of a joint.
fn difference(one: &SawLine, other: &SawLine) -> [f64; 3] {
    let mut most = [0.0_f64; 3];
    for i in -40..=740 {
        let s = f64::from(i) * 1.003;
        for (a, b) in [(one.at(s), other.at(s)), (one.at_after(s), other.at_after(s))] {
            most[0] = most[0].max((a.offset - b.offset).abs());
            most[1] = most[1].max((a.slope - b.slope).abs());
            most[2] = most[2].max((a.curvature - b.curvature).abs() / (1.0 + a.curvature.abs()));
        }
    }
    most
}

fn three() -> Vec<Point> {
    vec![
        Point::smooth(1, 0.0, 20.0, 0.0, 100.0, 100.0),
        Point::smooth(2, 300.0, 35.0, 0.05, 100.0, 100.0),
        Point::smooth(3, 700.0, 20.0, 0.0, 100.0, 100.0),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn a_point_added_leaves_the_line_as_it_is(points in any::points(LENGTH, ACROSS), s in 0.0..LENGTH) {
        prop_assume!(SawLine::from_points(&points, LENGTH).is_ok());
        match drawn(&points).added(s) {
            Err(EditError::NoRoom { near_mm, .. }) => prop_assert!((near_mm - s).abs() < EDIT_GAP_MM),
            Err(other) => prop_assert!(false, "{other}"),
            Ok(more) => {
                prop_assert_eq!(more.len(), points.len() + 1);
                prop_assert!(more.iter().any(|point| point.from_top.mm() == s));
                let [offset, slope, curvature] = difference(&solved(&points), &solved(&more));
                prop_assert!(offset < 1e-10 && slope < 1e-9 && curvature < 1e-7, "{offset} {slope} {curvature}");
            }
        }
    }

    #[test]
    fn a_point_added_and_deleted_again_leaves_the_points_as_they_were(
        points in any::points(LENGTH, ACROSS),
        s in 0.0..LENGTH,
    ) {
        prop_assume!(SawLine::from_points(&points, LENGTH).is_ok());
        let (first, last) = (points[0].from_top.mm(), points[points.len() - 1].from_top.mm());
        prop_assume!(first < s && s < last);
        if let Ok(more) = drawn(&points).added(s) {
            let new = more.iter().find(|point| point.from_top.mm() == s).expect("the new point").id;
            let again = drawn(&more).deleted(new).expect("deleted");
            for (was, is) in points.iter().zip(&again) {
                prop_assert_eq!((was.id, &was.from_top, &was.offset), (is.id, &is.from_top, &is.offset));
                // Handles that overlapped are back at what the saw follows, so it is the line that is compared.
                let same = |a: (f64, f64), b: (f64, f64)| a.0 == b.0 && (a.1 - b.1).abs() < 1e-3;
                let [offset, _, _] = difference(&solved(&points), &solved(&again));
                prop_assert!(offset < 1e-9 || same(was.kind.before(), is.kind.before()));
            }
        }
    }

    #[test]
    fn a_dragged_point_stays_between_its_neighbours_and_the_saw_can_follow(
        points in any::points(LENGTH, ACROSS),
        place in 0..9_usize,
        s in -900.0..1600.0,
        offset in -500.0..500.0,
    ) {
        prop_assume!(SawLine::from_points(&points, LENGTH).is_ok());
        let place = place % points.len();
        let moved = drawn(&points).moved(points[place].id, &Length::from_mm(s), &Length::from_mm(offset)).expect("moved");
        prop_assert!(SawLine::from_points(&moved, LENGTH).is_ok());
        for (at, (was, is)) in points.iter().zip(&moved).enumerate() {
            prop_assert!(at == place || was == is, "only the dragged point moves");
        }
        let kind_was = points[place].kind;
        prop_assert_eq!(kind_was, moved[place].kind);
        for pair in moved.windows(2) {
            prop_assert!(pair[1].from_top.mm() - pair[0].from_top.mm() >= EDIT_GAP_MM - 1e-9);
        }
    }

    #[test]
    fn a_dragged_handle_never_makes_a_line_that_the_saw_cannot_follow(
        points in any::points(LENGTH, ACROSS),
        place in 0..9_usize,
        before in any::<bool>(),
        slope in prop_oneof![-0.5..0.5, -50.0..50.0],
        reach in -50.0..2000.0,
    ) {
        prop_assume!(SawLine::from_points(&points, LENGTH).is_ok());
        let place = place % points.len();
        let handle = if before { Handle::Before } else { Handle::After };
        let moved = drawn(&points).handle_moved(points[place].id, handle, slope, reach, false).expect("moved");
        prop_assert!(SawLine::from_points(&moved, LENGTH).is_ok());
        let (was, is) = (points[place].kind, moved[place].kind);
        if was.is_sharp() {
            let untouched = if before { (was.after(), is.after()) } else { (was.before(), is.before()) };
            prop_assert_eq!(untouched.0, untouched.1, "the other handle of a sharp point stays");
        } else {
            prop_assert_eq!(is.before().0, is.after().0, "the two handles of a smooth point keep in line");
        }
    }
}

#[test]
fn a_length_that_fits_is_kept_as_it_was_typed() {
    let points = three();
    let typed = Length::parse("12 1/2\"", Unit::Inch).expect("a length");
    let offset = Length::parse("1 1/8", Unit::Inch).expect("a length");
    let moved = drawn(&points).moved(PointId(2), &typed, &offset).expect("moved");
    assert_eq!((moved[1].from_top.typed(), moved[1].offset.typed()), (Some("12 1/2\""), Some("1 1/8\"")));
    let far = Length::parse("90 in", Unit::Inch).expect("a length");
    let moved = drawn(&points).moved(PointId(2), &far, &20.0.into()).expect("moved");
    assert_eq!(moved[1].from_top, Length::from_mm(699.5), "held before its neighbour, so no longer what was typed");
}

#[test]
fn a_point_dragged_where_the_line_would_be_too_steep_stops_on_the_way() {
    let points = vec![
        Point::smooth(1, 0.0, 25.0, 0.0, 2.0, 2.0),
        Point::smooth(2, 5.0, 25.0, 0.0, 2.0, 2.0),
        Point::smooth(3, 700.0, 25.0, 0.0, 100.0, 100.0),
    ];
    let moved = drawn(&points).moved(PointId(2), &5.0.into(), &100.0.into()).expect("moved");
    let line = solved(&moved);
    let steepest = (0..500).map(|i| line.at(f64::from(i) * 0.01).slope.abs()).fold(0.0, f64::max);
    assert!(moved[1].offset.mm() > 25.0 + 5.0, "it moves, as far as it can: {:?}", moved[1]);
    assert!(relative_eq!(steepest, MAX_SLOPE, max_relative = 1e-3), "{steepest}");
}

#[test]
fn a_point_in_a_crowd_closer_than_the_gap_can_still_be_dragged_across() {
    let points = vec![
        Point::smooth(1, 100.0, 25.0, 0.0, 0.1, 0.1),
        Point::smooth(2, 100.2, 25.0, 0.0, 0.1, 0.1),
        Point::smooth(3, 100.4, 25.0, 0.0, 0.1, 0.1),
    ];
    let moved = drawn(&points).moved(PointId(2), &300.0.into(), &25.1.into()).expect("moved");
    assert_eq!(moved[1].from_top.mm(), 100.2);
    assert!(moved[1].offset.mm() > 25.0);
}

#[test]
fn a_second_sharp_point_is_refused_with_the_reason() {
    let points = three();
    let one = drawn(&points).made(PointId(2), true).expect("sharp");
    assert_eq!(difference(&solved(&points), &solved(&one)), [0.0; 3], "the line is the same until a handle is moved");
    let error = drawn(&one).made(PointId(3), true).expect_err("refused");
    assert_eq!(error, EditError::SharpAlready { cut: Cut::First, point: 2, at_mm: 300.0 });
    assert!(error.to_string().contains("only from the two ends"), "{error}");
    assert_eq!(drawn(&one).made(PointId(2), true), Ok(one.clone()), "once sharp, sharp");
    assert_eq!(drawn(&one).made(PointId(2), false), Ok(points), "and back");
}

#[test]
fn a_sharp_point_made_smooth_goes_halfway_between_its_two_directions() {
    let mut points = three();
    points[1].kind = PointKind::Sharp { slope_before: 1.0, before_mm: 30.0, slope_after: -1.0, after_mm: 40.0 };
    let smooth = drawn(&points).made(PointId(2), false).expect("smooth");
    match smooth[1].kind {
        PointKind::Smooth { slope, before_mm, after_mm } => {
            assert!(slope.abs() < 1e-15);
            assert_eq!((before_mm, after_mm), (30.0, 40.0));
        }
        PointKind::Sharp { .. } => panic!("smooth"),
    }
}

#[test]
fn only_one_handle_of_a_sharp_point_moves_and_both_of_a_smooth_one_turn() {
    let points = three();
    let turned = drawn(&points).handle_moved(PointId(2), Handle::After, 0.2, 60.0, false).expect("moved");
    assert_eq!(turned[1].kind, PointKind::Smooth { slope: 0.2, before_mm: 100.0, after_mm: 60.0 });
    let sharp = drawn(&points).made(PointId(2), true).expect("sharp");
    let turned = drawn(&sharp).handle_moved(PointId(2), Handle::Before, -0.1, 60.0, false).expect("moved");
    let kind = PointKind::Sharp { slope_before: -0.1, before_mm: 60.0, slope_after: 0.05, after_mm: 100.0 };
    assert_eq!(turned[1].kind, kind);
    let short = drawn(&points).handle_moved(PointId(2), Handle::After, 0.0, -5.0, false).expect("moved");
    assert_eq!(short[1].kind, PointKind::Smooth { slope: 0.0, before_mm: 100.0, after_mm: 1.0 });
}

#[test]
fn points_that_are_not_there_and_numbers_that_are_not_sound_are_refused() {
    let points = three();
    let d = drawn(&points);
    let gone = EditError::NoSuchPoint { cut: Cut::First, point: PointId(9) };
    assert_eq!(d.moved(PointId(9), &1.0.into(), &1.0.into()), Err(gone.clone()));
    assert_eq!(d.deleted(PointId(9)), Err(gone.clone()));
    assert_eq!(d.made(PointId(9), true), Err(gone.clone()));
    assert_eq!(d.handle_moved(PointId(9), Handle::After, 0.0, 9.0, false), Err(gone));
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert!(matches!(d.moved(PointId(2), &bad.into(), &1.0.into()), Err(EditError::NotFinite(_))));
        assert!(matches!(d.moved(PointId(2), &1.0.into(), &bad.into()), Err(EditError::NotFinite(_))));
        assert!(matches!(d.handle_moved(PointId(2), Handle::After, bad, 1.0, false), Err(EditError::NotFinite(_))));
        assert!(matches!(d.handle_moved(PointId(2), Handle::After, 1.0, bad, false), Err(EditError::NotFinite(_))));
        assert!(matches!(d.added(bad), Err(EditError::NotFinite(_))));
    }
    let two = &points[..2];
    assert_eq!(drawn(two).deleted(PointId(1)), Err(EditError::TooFewPoints { cut: Cut::First }));
}

#[test]
fn the_last_id_in_the_numbers_is_not_a_dead_end() {
    let mut points = three();
    points[2].id = PointId(u32::MAX);
    let more = drawn(&points).added(500.0).expect("added");
    assert_eq!(more[2].id, PointId(3));
}
