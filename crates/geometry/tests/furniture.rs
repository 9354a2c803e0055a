//! The drawing order of furniture against a depth test that knows nothing of it. The depth test takes its triangles from the
//! bodies' outlines alone, not from the facets that are painted.

#![expect(clippy::expect_used, reason = "a test may stop")]

mod pixels;

use std::io::Write;

use cornerwise_geometry::fit::{Fit, Notch, PipeHole};
use cornerwise_geometry::furniture::{
    ApronJoint, Arrangement, Board, BoardKind, Body, BodyPart, Scene, StandingLeg, apron_boards, frustum, leg_bodies,
    leg_levels, overhung, regular, shelf_board,
};
use cornerwise_geometry::{Blank, Camera, Leg, Length, Line, Piece, Shape, ShapeKind};
use pixels::{Picture, Tally};

const PX_PER_MM: f64 = 0.45;

const CAMERAS: [[f64; 2]; 16] = [
    [33.0, 12.0],
    [80.0, 2.0],
    [125.0, -4.0],
    [214.0, 30.0],
    [262.0, -25.0],
    [317.0, 55.0],
    [0.0, 0.0],
    [90.0, 0.0],
    [180.0, 20.0],
    [45.0, 0.0],
    [0.0, 90.0],
    [37.0, -90.0],
    [20.0, 75.0],
    [151.0, -60.0],
    [300.0, 5.0],
    [238.0, 1.0],
];

type Vector = [f64; 3];

fn empty(scene: &Scene, camera: &Camera) -> Picture {
    Picture::new(scene.seen_within(camera).expect("bodies"), PX_PER_MM)
}

/// Of all the bodies' surfaces, those turned away too, the nearest at each pixel.
fn by_depth(bodies: &[Body], scene: &Scene, camera: &Camera) -> Picture {
    let mut picture = empty(scene, camera);
    for (number, body) in bodies.iter().enumerate() {
        for triangle in triangles(body) {
            picture.nearest(number as u32, triangle, camera);
        }
    }
    picture
}

/// Painted one over the other.
fn in_order(scene: &Scene, camera: &Camera, order: &[u32]) -> Picture {
    let mut picture = empty(scene, camera);
    for &number in order {
        let facet = scene.get(number).expect("a facet");
        let [p, q, r, t] = facet.corners;
        for triangle in [[p, q, r], [p, r, t]] {
            picture.over(facet.body as u32, triangle, camera);
        }
    }
    picture
}

/// The whole surface of a body from its outlines.
fn triangles(body: &Body) -> Vec<[Vector; 3]> {
    let levels = body.levels_mm();
    let ring = |i: usize| body.outline(i).iter().map(|[u, v]| [*u, *v, levels[i]]).collect::<Vec<Vector>>();
    let mut found = Vec::new();
    for i in 1..levels.len() {
        let (upper, lower) = (ring(i - 1), ring(i));
        for j in 0..upper.len() {
            let k = (j + 1) % upper.len();
            found.extend([[upper[j], upper[k], lower[k]], [upper[j], lower[k], lower[j]]]);
        }
    }
    for end in [ring(0), ring(levels.len() - 1)] {
        found.extend((1..end.len() - 1).map(|j| [end[0], end[j], end[j + 1]]));
    }
    found
}

fn leg(first: ShapeKind, second: ShapeKind, size_mm: [f64; 3]) -> Leg {
    let [width, depth, length] = size_mm;
    let blank = Blank { depth: depth.into(), ..Blank::square(width, length) };
    let line = |kind, across| Line::Shape(Shape::start(kind, length, across));
    Leg::new(&blank, &line(first, width), &line(second, depth)).expect("a leg")
}

fn bodies_of(legs: &[(&Leg, Fit)], arrangement: &Arrangement, above: f64) -> Vec<Body> {
    let mut bodies = Vec::new();
    for (place, (spot, (leg, fit))) in arrangement.spots().into_iter().zip(legs.iter().cycle()).enumerate() {
        let standing =
            StandingLeg { leg, fit, axis_mm: spot.axis_mm, turn_deg: spot.turn_deg(fit.inside), foot_above_mm: above };
        bodies.extend(leg_bodies(&standing, place, &leg_levels(leg, fit, 0.4, 30.0)));
    }
    bodies
}

fn with_boards(mut bodies: Vec<Body>, boards: &[Board]) -> Vec<Body> {
    let prism = |(i, board): (usize, &Board)| {
        Body::prism(BodyPart::Board(i), board.solid.span_mm, &board.solid.upper, &board.solid.lower)
    };
    bodies.extend(boards.iter().enumerate().filter_map(prism));
    bodies
}

fn rectangle(width: f64, depth: f64) -> Arrangement {
    Arrangement::Rectangle { width: width.into(), depth: depth.into() }
}

fn notched(inside: Piece, notches: Vec<Notch>) -> Fit {
    Fit { inside, notches, ..Fit::default() }
}

fn boards_in(fit: &Fit, leg: &Leg, frame: &[[f64; 2]], joint: ApronJoint) -> Vec<Board> {
    let mut boards = Vec::new();
    for notch in &fit.notches {
        let span = notch.board_span_mm().map(|s| s - leg.length_mm);
        match notch.takes {
            cornerwise_geometry::fit::Takes::Apron => boards.extend(apron_boards(frame, span, 18.0, joint)),
            cornerwise_geometry::fit::Takes::Shelf => boards.push(shelf_board(frame, span)),
        }
    }
    boards
}

/// The pieces of furniture that are looked at.
fn furniture() -> Vec<(&'static str, Vec<Body>)> {
    let cyma = leg(ShapeKind::Cyma, ShapeKind::Cyma, [50.0, 50.0, 700.0]);
    let knee = leg(ShapeKind::PostAndKnee, ShapeKind::Arch, [50.0, 44.0, 700.0]);
    let waves = leg(ShapeKind::Waves, ShapeKind::Cyma, [46.0, 46.0, 700.0]);
    let mut made = Vec::new();

    let apron = |inside| notched(inside, vec![Notch::apron(70.0)]);
    let four = [
        (&cyma, apron(Piece::One)),
        (&knee, apron(Piece::Two)),
        (&waves, apron(Piece::Three)),
        (&cyma, apron(Piece::Four)),
    ];
    let frame = rectangle(520.0, 360.0).frame().expect("a frame");
    let mut boards = boards_in(&four[0].1, &cyma, &frame, ApronJoint::Butted);
    boards.push(overhung(BoardKind::Top, &frame, 40.0, [-720.0, -700.0]));
    made.push((
        "table with four different legs",
        with_boards(bodies_of(&four, &rectangle(520.0, 360.0), 0.0), &boards),
    ));

    let shelves: Vec<Notch> = (0..5).map(|i| Notch::shelf(60.0 + 130.0 * f64::from(i), 18.0, 0.4)).collect();
    let stand = [(&waves, notched(Piece::Two, shelves.clone()))];
    let frame = rectangle(330.0, 260.0).frame().expect("a frame");
    let boards = boards_in(&stand[0].1, &waves, &frame, ApronJoint::Butted);
    made.push(("stand of five shelves", with_boards(bodies_of(&stand, &rectangle(330.0, 260.0), 0.0), &boards)));

    let pipe = PipeHole {
        name: String::new(),
        outside: 10.0.into(),
        clearance: 0.5.into(),
        above: Length::ZERO,
        below: Length::ZERO,
        recess: Length::ZERO,
    };
    let lamp = [(&knee, Fit { pipe: Some(pipe), ..Fit::default() })];
    let boards = [
        overhung(BoardKind::Base, &regular(4, 150.0), 10.0, [-25.0, 0.0]),
        frustum(BoardKind::Shade, [-1000.0, -780.0], [120.0, 320.0]),
    ];
    made.push(("lamp", with_boards(bodies_of(&lamp, &Arrangement::Column, 25.0), &boards)));

    let circle = Arrangement::Circle { radius: 190.0.into() };
    let stool = [(&cyma, notched(Piece::Three, vec![Notch::apron(55.0), Notch::shelf(480.0, 16.0, 0.0)]))];
    let frame = circle.frame().expect("a frame");
    let mut boards = boards_in(&stool[0].1, &cyma, &frame, ApronJoint::Mitred);
    boards.push(frustum(BoardKind::Top, [-725.0, -700.0], [460.0, 440.0]));
    made.push(("stool on three legs", with_boards(bodies_of(&stool, &circle, 0.0), &boards)));

    // Legs so close that one leans over where its neighbour stands: runs must be split.
    let nested = (0..4).flat_map(|place| {
        let fit = if place % 2 == 0 { Fit::default() } else { apron(Piece::Two) };
        let standing = StandingLeg {
            leg: &cyma,
            fit: &fit,
            axis_mm: [54.0 * place as f64, 0.0],
            turn_deg: 0.0,
            foot_above_mm: 0.0,
        };
        leg_bodies(&standing, place, &leg_levels(&cyma, &fit, 0.4, 30.0))
    });
    made.push(("row of legs nested into one another", nested.collect()));

    // Exploded in plan: the same stand, its legs drawn out along their diagonals.
    let wide = rectangle(330.0 + 160.0, 260.0 + 160.0);
    let frame = rectangle(330.0, 260.0).frame().expect("a frame");
    let boards = boards_in(&stand[0].1, &waves, &frame, ApronJoint::Butted);
    made.push(("stand drawn apart", with_boards(bodies_of(&stand, &wide, 0.0), &boards)));
    made
}

#[test]
fn furniture_is_painted_in_the_exact_order() {
    for (what, bodies) in furniture() {
        let scene = Scene::new(bodies.clone());
        assert_eq!(scene.overlaps(), [], "{what}");
        assert!(scene.runs() < 60, "{what}: {} runs", scene.runs());
        assert!(!what.starts_with("row") || scene.runs() > 3, "no run was split");
        let mut tally = Tally::default();
        for [turn_deg, tilt_deg] in CAMERAS {
            let camera = Camera::new(turn_deg, tilt_deg);
            let painted = in_order(&scene, &camera, &scene.draw_order(&camera));
            let before = tally.wrong;
            tally.add(&by_depth(&bodies, &scene, &camera), &painted);
            if tally.wrong > before {
                let _ = writeln!(std::io::stderr(), "  {} wrong at {turn_deg}, {tilt_deg}", tally.wrong - before);
            }
        }
        tally.report(what);
        assert!(tally.compared > 3_000 * tally.pictures, "{what}: only {} pixels", tally.compared);
        assert!(tally.touching * 500 < tally.compared, "{what}: {} undecided", tally.touching);
        assert!(tally.silhouette * 10_000 < tally.compared, "{what}: {} on a silhouette", tally.silhouette);
        assert_eq!(tally.wrong, 0, "{what}");
    }
}

/// The comparison must be able to fail: whole bodies by their distance, the usual way, are wrong.
#[test]
fn bodies_by_distance_are_wrong() {
    let mut tally = Tally::default();
    for (_, bodies) in furniture().into_iter().take(2) {
        let scene = Scene::new(bodies.clone());
        for [turn_deg, tilt_deg] in [[33.0, 12.0], [214.0, 30.0]] {
            let camera = Camera::new(turn_deg, tilt_deg);
            let middle = |number: u32| {
                let body = &bodies[scene.get(number).expect("a facet").body];
                let ends = [0, body.levels_mm().len() - 1].map(|i| {
                    let outline = body.outline(i);
                    let sum = outline.iter().fold([0.0, 0.0], |sum, p| [sum[0] + p[0], sum[1] + p[1]]);
                    let [u, v] = sum.map(|along| along / outline.len() as f64);
                    camera.view([u, v, body.levels_mm()[i]])[2]
                });
                f64::midpoint(ends[0], ends[1])
            };
            let mut order = scene.draw_order(&camera);
            order.sort_by(|p, q| middle(*p).total_cmp(&middle(*q)));
            let painted = in_order(&scene, &camera, &order);
            tally.add(&by_depth(&bodies, &scene, &camera), &painted);
        }
    }
    tally.report("by distance");
    assert!(tally.wrong * 200 > tally.compared, "by distance would pass");
}
