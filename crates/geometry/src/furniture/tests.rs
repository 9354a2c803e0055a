use approx::assert_relative_eq;

use super::*;
use crate::fit::{Fit, Notch};
use crate::{Blank, Camera, Leg, Length, Line, Piece, Shape};

fn leg() -> Leg {
    let cyma = Line::Shape(Shape::Cyma { swing: 20.0.into(), turn: 0.55, aside: Length::ZERO });
    let arch = Line::Shape(Shape::Arch { rise: 9.0.into(), crest: 0.4, aside: Length::ZERO });
    Leg::new(&Blank::square(50.0, 700.0), &cyma, &arch).unwrap()
}

fn shelves(inside: Piece) -> Fit {
    Fit { inside, notches: vec![Notch::apron(60.0), Notch::shelf(400.0, 18.0, 0.5)], ..Fit::default() }
}

#[test]
fn bodies_of_a_leg_are_its_wood() {
    let leg = leg();
    for inside in Piece::ALL {
        let fit = shelves(inside);
        let levels = leg_levels(&leg, &fit, 0.05, 20.0);
        assert!(levels.windows(2).all(|pair| pair[1] > pair[0]));
        let standing =
            StandingLeg { leg: &leg, fit: &fit, axis_mm: [300.0, -40.0], turn_deg: 90.0, foot_above_mm: 0.0 };
        let bodies = leg_bodies(&standing, 0, &levels);
        assert_eq!(bodies.len(), 5);
        let whole: f64 = bodies.iter().map(Body::volume_mm3).sum();
        let solved = leg.solve(&levels);
        let thrown: f64 = solved
            .s
            .windows(2)
            .enumerate()
            .filter(|(_, pair)| fit.notch_at(f64::midpoint(pair[0], pair[1])).is_some())
            .map(|(i, _)| {
                let slab = crate::Solved {
                    s: solved.s[i..i + 2].to_vec(),
                    a: solved.a[i..i + 2].to_vec(),
                    b: solved.b[i..i + 2].to_vec(),
                    ..solved.clone()
                };
                slab.piece_volumes_mm3()[inside.index()]
            })
            .sum();
        assert_relative_eq!(whole, leg.volume_mm3() - thrown, max_relative = 1e-12);
        assert!(thrown > 1000.0);
        assert!(bodies.iter().all(|body| body.span_mm()[0] >= -700.0 && body.span_mm()[1] <= 0.0));
    }
}

#[test]
fn the_inside_piece_points_to_the_middle() {
    let leg = leg();
    let rectangle = Arrangement::Rectangle { width: 600.0.into(), depth: 400.0.into() };
    let circle = Arrangement::Circle { radius: 250.0.into() };
    for arrangement in [rectangle, circle] {
        for spot in arrangement.spots() {
            for inside in Piece::ALL {
                let fit = Fit { inside, ..Fit::default() };
                let standing = StandingLeg {
                    leg: &leg,
                    fit: &fit,
                    axis_mm: spot.axis_mm,
                    turn_deg: spot.turn_deg(inside),
                    foot_above_mm: 0.0,
                };
                let bodies = leg_bodies(&standing, 0, &leg_levels(&leg, &fit, 0.5, 50.0));
                let part = BodyPart::Piece { place: 0, piece: inside, length: 0 };
                let body = bodies.iter().find(|body| body.part == part).unwrap();
                // Every corner of it lies in the quarter that looks at the middle.
                let (sin, cos) = spot.inward_deg.to_radians().sin_cos();
                for level in 0..body.levels_mm().len() {
                    for [u, v] in body.outline(level) {
                        let [du, dv] = [u - spot.axis_mm[0], v - spot.axis_mm[1]];
                        let (into, aside) = (cos * du + sin * dv, cos * dv - sin * du);
                        assert!(into >= aside.abs() - 1e-9, "{inside} at {:?}", spot.axis_mm);
                    }
                }
            }
        }
    }
}

#[test]
fn aprons_fill_the_frame_and_do_not_overlap() {
    let frame = Arrangement::Rectangle { width: 600.0.into(), depth: 400.0.into() }.frame().unwrap();
    let volume = |boards: &[Board]| -> f64 {
        boards
            .iter()
            .map(|b| {
                Body::prism(BodyPart::Board(0), b.solid.span_mm, &b.solid.upper, &b.solid.lower).unwrap().volume_mm3()
            })
            .sum()
    };
    for joint in [ApronJoint::Butted, ApronJoint::Mitred] {
        let boards = apron_boards(&frame, [-700.0, -640.0], 20.0, joint);
        assert_relative_eq!(volume(&boards), 60.0 * (600.0 * 400.0 - 560.0 * 360.0), max_relative = 1e-12);
        let bodies: Vec<Body> = boards
            .iter()
            .enumerate()
            .filter_map(|(i, b)| Body::prism(BodyPart::Board(i), b.solid.span_mm, &b.solid.upper, &b.solid.lower))
            .collect();
        let scene = Scene::new(bodies);
        assert!(scene.overlaps().is_empty() && scene.runs() == 1);
    }
    let butted = apron_boards(&frame, [-700.0, -640.0], 20.0, ApronJoint::Butted);
    assert_eq!(butted[0].size_mm, [600.0, 60.0, 20.0]);
    assert_eq!(butted[1].size_mm, [360.0, 60.0, 20.0]);
    let triangle = Arrangement::Circle { radius: 200.0.into() }.frame().unwrap();
    let mitred = apron_boards(&triangle, [-700.0, -640.0], 20.0, ApronJoint::Butted);
    let side = 200.0 * 3f64.sqrt();
    let inner = side - 2.0 * 20.0 * 3f64.sqrt();
    let area = |side: f64| side * side * 3f64.sqrt() / 4.0;
    assert_relative_eq!(volume(&mitred), 60.0 * (area(side) - area(inner)), max_relative = 1e-9);
    let top = overhung(BoardKind::Top, &frame, 30.0, [-720.0, -700.0]);
    assert_eq!(top.size_mm, [660.0, 460.0, 20.0]);
}

/// A statics exercise, from memory of the sort, worked by hand: a table weighs 200 N and stands on feet 0.6 m apart with its
/// top 0.2 m over them on every side. About the feet: 200 N · 0.3 m = P · 0.2 m, so 300 N tip it at the edge's middle.
#[test]
fn tipping_as_in_a_statics_exercise() {
    let feet = [[-300.0, -300.0], [300.0, -300.0], [300.0, 300.0], [-300.0, 300.0], [0.0, 0.0]];
    let stands = Stability::new(&feet, [0.0, 0.0, 600.0]).unwrap();
    assert_relative_eq!(stands.tipping_share([500.0, 0.0]).unwrap() * 200.0, 300.0, max_relative = 1e-12);
    assert_eq!(stands.tipping_share([299.0, -299.0]), None);
    // Off its middle it tips the sooner on that side: 0.2 m from the edge, 200 N.
    let off = Stability::new(&feet, [100.0, 0.0, 600.0]).unwrap();
    assert_relative_eq!(off.tipping_share([500.0, 0.0]).unwrap() * 200.0, 200.0, max_relative = 1e-12);
    let edges = stands.tipping_edges(&[[-500.0, -200.0], [500.0, -200.0], [500.0, 200.0], [-500.0, 200.0]]);
    assert_eq!(edges.iter().map(|edge| edge.load_share.is_some()).collect::<Vec<_>>(), [false, true, false, true]);
}

/// The height of the centre of mass over the distance to the tipping edge is 9.51 at 6 degrees, 7.12 at 8 and 3.73 at 15:
/// cotangents.
#[test]
fn the_tilt_a_lamp_bears() {
    for (deg, ratio) in [(6.0, 9.51), (8.0, 7.12), (15.0, 3.73)] {
        let foot = regular(4, 160.0);
        let stands = Stability::new(&foot, [0.0, 0.0, ratio * 80.0]).unwrap();
        assert!((stands.tilt_deg - deg).abs() < 0.02, "{} for {deg}", stands.tilt_deg);
    }
    let falls = Stability::new(&regular(4, 160.0), [90.0, 0.0, 300.0]).unwrap();
    assert!(falls.margin_mm < 0.0 && falls.tilt_deg < 0.0);
}

#[test]
fn bodies_in_one_place_are_told() {
    let bar = |i: usize, from: f64| {
        Body::prism(
            BodyPart::Board(i),
            [-100.0, 0.0],
            &[[from, 0.0], [from + 20.0, 0.0], [from + 20.0, 10.0], [from, 10.0]],
            &[[from, 0.0], [from + 20.0, 0.0], [from + 20.0, 10.0], [from, 10.0]],
        )
        .unwrap()
    };
    assert_eq!(Scene::new(vec![bar(0, 0.0), bar(1, 20.0)]).overlaps(), []);
    let scene = Scene::new(vec![bar(0, 0.0), bar(1, 19.0)]);
    assert_eq!(scene.overlaps()[0].parts, [BodyPart::Board(0), BodyPart::Board(1)]);
    assert!(!scene.draw_order(&Camera::new(20.0, 10.0)).is_empty());
    // Legs that lean into one another are told once for each pair of pieces and place, not slab by slab.
    let leg = leg();
    let fit = Fit::default();
    let levels = leg_levels(&leg, &fit, 0.1, 10.0);
    let bodies = [0.0, 30.0].iter().enumerate().flat_map(|(place, u)| {
        let standing = StandingLeg { leg: &leg, fit: &fit, axis_mm: [*u, 0.0], turn_deg: 0.0, foot_above_mm: 0.0 };
        leg_bodies(&standing, place, &levels)
    });
    let scene = Scene::new(bodies.collect());
    assert!((1..=12).contains(&scene.overlaps().len()), "{:?}", scene.overlaps());
}
