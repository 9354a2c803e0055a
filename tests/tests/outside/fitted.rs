//! Notched legs, pipe holes and a stand of shelves, made by a general-purpose solid library from the crosscut list and the
//! placement alone.

use std::collections::BTreeMap;
use std::sync::Arc;

use cornerwise_geometry::fit::{Fit, Notch, PipeHole};
use cornerwise_geometry::furniture::{Arrangement, BoardKind, Body, BodyPart, leg_levels};
use cornerwise_geometry::{Length, Line, Piece, Shape};
use cornerwise_project::{Assembly, Design, DesignId, Edit, FurniturePart, Hand, Project, Standing};

use crate::sawn::{Solid, pieces_of};

/// Volumes agree within this share.
const VOLUME_SHARE: f64 = 1e-9;
/// The most two bodies may have in common, mm³.
const SHARED_MM3: f64 = 1e-6;
/// Gaps agree within this, mm.
const GAP_MM: f64 = 1e-6;

fn design(first: Shape, second: Shape, side: f64, length: f64, fit: Fit) -> Design {
    let design = Design::new(DesignId(1), 'A');
    let blank = cornerwise_geometry::Blank::square(side, length);
    Design { blank, first: Line::Shape(first), second: Line::Shape(second), fit, ..design }
}

fn cyma(swing: f64) -> Shape {
    Shape::Cyma { swing: swing.into(), turn: 0.5, aside: Length::ZERO }
}

fn arch(rise: f64) -> Shape {
    Shape::Arch { rise: rise.into(), crest: 0.4, aside: Length::ZERO }
}

fn project(design: Design, arrangement: Arrangement) -> Project {
    let project = Project { designs: vec![Arc::new(design)], ..Project::new() };
    project.apply(&Edit::SetFurniture { part: FurniturePart::Arrangement(arrangement) }).unwrap()
}

/// A mark is squared round, and what lies between two of them is kept or thrown away: a slice of a piece, endless across.
fn slice(from: f64, to: f64) -> Solid {
    Solid::bar([-500.0, -500.0, from], [500.0, 500.0, to])
}

/// Every kept part of every leg, by place, piece and number from the top, where it stands.
fn legs(made: &Assembly, tolerance_mm: f64) -> BTreeMap<BodyPart, Solid> {
    let mut solids = BTreeMap::new();
    for (place, placed) in made.legs.iter().enumerate() {
        let leg = &placed.leg;
        let size = [leg.width_mm, leg.depth_mm, leg.length_mm];
        let levels = leg_levels(leg, &placed.fit, tolerance_mm, 40.0);
        let drawn =
            [&leg.first, &leg.second].map(|line| levels.iter().map(|s| [*s, line.offset(*s)]).collect::<Vec<_>>());
        // The four arrises are chamfered before anything is sawn.
        let mut blank = Solid::blank(size);
        let c = placed.fit.pipe.as_ref().map_or(0.0, |pipe| pipe.fit(leg).chamfer_leg_mm);
        if c > 0.0 {
            let (w, d) = (leg.width_mm, leg.depth_mm);
            for corner in [
                [[-9.0, -9.0], [c + 9.0, -9.0], [-9.0, c + 9.0]],
                [[w + 9.0, -9.0], [w + 9.0, c + 9.0], [w - c - 9.0, -9.0]],
                [[w + 9.0, d + 9.0], [w - c - 9.0, d + 9.0], [w + 9.0, d - c - 9.0]],
                [[-9.0, d + 9.0], [-9.0, d - c - 9.0], [c + 9.0, d + 9.0]],
            ] {
                blank = blank.without(&Solid::column(&corner, [-5.0, leg.length_mm + 5.0]));
            }
        }
        let made = pieces_of(&blank, size, &drawn[0], &drawn[1]);
        // Turned about its axis, stood on the floor in its place.
        let (sin, cos) = placed.turn_deg.to_radians().sin_cos();
        let [u0, v0] = placed.spot.axis_mm;
        let stand = |[u, v, s]: [f64; 3]| [u0 + cos * u - sin * v, v0 + sin * u + cos * v, s - leg.length_mm];
        for (piece, solid) in Piece::ALL.into_iter().zip(made) {
            if piece == placed.fit.inside {
                let kept = placed.fit.crosscut(leg).parts.into_iter().filter(|part| part.kept);
                for (length, part) in kept.enumerate() {
                    let [from, to] = part.span_mm;
                    let cut = solid.shared_with(&slice(from, to));
                    solids.insert(BodyPart::Piece { place, piece, length }, cut.moved(stand));
                }
            } else {
                solids.insert(BodyPart::Piece { place, piece, length: 0 }, solid.moved(stand));
            }
        }
    }
    solids
}

fn volumes_agree(what: &str, solids: &BTreeMap<BodyPart, Solid>, bodies: &[Body]) {
    let of_legs = bodies.iter().filter(|body| matches!(body.part, BodyPart::Piece { .. }));
    let mut worst = 0.0_f64;
    let mut count = 0;
    for body in of_legs {
        let solid = solids.get(&body.part).unwrap_or_else(|| panic!("{what}: no {:?}", body.part));
        let (made, told) = (solid.volume(), body.volume_mm3());
        worst = worst.max((made - told).abs() / made);
        let (least, most) = solid.extent();
        assert!((least[2] - body.span_mm()[0]).abs() < GAP_MM && (most[2] - body.span_mm()[1]).abs() < GAP_MM);
        count += 1;
    }
    assert_eq!(count, solids.len(), "{what}");
    eprintln!("{what}: {count} parts, volumes within {worst:.1e}");
    assert!(worst < VOLUME_SHARE, "{what}: volumes differ by {worst}");
}

fn apart(what: &str, solids: &[(String, Solid)]) {
    let (mut pairs, mut worst) = (0, 0.0_f64);
    for i in 0..solids.len() {
        for j in i + 1..solids.len() {
            let ((p_name, p), (q_name, q)) = (&solids[i], &solids[j]);
            let ((p_least, p_most), (q_least, q_most)) = (p.extent(), q.extent());
            if (0..3).any(|k| p_least[k] > q_most[k] + 1e-6 || q_least[k] > p_most[k] + 1e-6) {
                continue;
            }
            pairs += 1;
            let shared = p.volume_shared_with(q).abs();
            worst = worst.max(shared);
            assert!(shared <= SHARED_MM3, "{what}: {p_name} and {q_name} share {shared} mm³");
        }
    }
    eprintln!("{what}: {pairs} pairs that come close share at most {worst:.1e} mm³");
    assert!(pairs > 20, "{what}: only {pairs} pairs");
}

#[test]
fn a_notched_leg_from_its_crosscut_list() {
    for inside in Piece::ALL {
        let fit = Fit {
            inside,
            notches: vec![Notch::apron(60.0), Notch::shelf(250.0, 18.0, 0.4), Notch::shelf(480.0, 22.0, 0.0)],
            ..Fit::default()
        };
        let made = project(design(cyma(18.0), arch(9.0), 48.0, 700.0, fit), Arrangement::Column).assemble().unwrap();
        let solids = legs(&made, 0.1);
        volumes_agree(&format!("notched leg, {inside} inside"), &solids, &made.bodies(0.1, 40.0, 0.0));
        assert_eq!(solids.len(), 3 + 3);
    }
}

/// Four legs of both hands and five shelves: nothing in one place, and every gap what was asked for.
#[test]
fn a_stand_of_five_shelves() {
    let shelves = (0..5).map(|i| Notch::shelf(40.0 + 150.0 * f64::from(i), 18.0, 0.4)).collect();
    let fit = Fit { inside: Piece::Two, notches: shelves, ..Fit::default() };
    let arrangement = Arrangement::Rectangle { width: 340.0.into(), depth: 260.0.into() };
    let mut project = project(design(cyma(14.0), arch(-7.0), 46.0, 760.0, fit), arrangement);
    for place in [1, 3] {
        let standing = Standing { hand: Hand::Mirrored, ..Standing::default() };
        project = project.apply(&Edit::SetFurniture { part: FurniturePart::Leg { place, standing } }).unwrap();
    }
    let made = project.assemble().unwrap();
    assert_eq!(made.mirrored_across(), Some([true, true]));
    let solids = legs(&made, 0.5);
    volumes_agree("stand", &solids, &made.bodies(0.5, 40.0, 0.0));
    let mut all: Vec<(String, Solid)> =
        solids.iter().map(|(part, solid)| (format!("{part:?}"), solid.clone())).collect();
    // A shelf is a rectangle from axis to axis; from the notches alone.
    let (u, v) = (170.0, 130.0);
    let mut shelves = Vec::new();
    for i in 0..5 {
        let lower = 40.0 + 150.0 * f64::from(i) + 18.4 - 760.0;
        let shelf = Solid::bar([-u, -v, lower - 18.0], [u, v, lower]);
        let told = made.boards.iter().filter(|board| board.kind == BoardKind::Shelf).nth(i as usize).unwrap();
        let told: f64 = told.size_mm.iter().product();
        assert!((told - shelf.volume()).abs() / told < VOLUME_SHARE);
        shelves.push(shelf.clone());
        all.push((format!("shelf {i}"), shelf));
    }
    apart("stand", &all);
    // Gaps: a shelf stands on the part below it, and the clearance is above it.
    for place in 0..4 {
        let inside = made.legs[place].fit.inside;
        let part = |length: usize| solids[&BodyPart::Piece { place, piece: inside, length }].extent();
        for (i, shelf) in shelves.iter().enumerate() {
            let (shelf_least, shelf_most) = shelf.extent();
            let (above, below) = (part(i).1[2], part(i + 1).0[2]);
            assert!((below - shelf_most[2]).abs() < GAP_MM, "shelf {i} at place {place} hangs");
            assert!((shelf_least[2] - above - 0.4).abs() < GAP_MM, "shelf {i}: {}", shelf_least[2] - above);
        }
    }
    // A shelf half a millimetre too thick does run into the legs: the check can fail.
    let (least, most) = shelves[2].extent();
    let thick = Solid::bar([least[0], least[1], least[2] - 0.5], most);
    let into: f64 = solids.values().map(|solid| solid.volume_shared_with(&thick)).sum();
    assert!(into > 4.0 * 0.09 * 100.0, "{into} mm³");
}

/// The furniture that is built in: every part as told, and nothing in one place with anything else, boards and all.
#[test]
fn the_built_in_furniture() {
    for file in ["apron-table.ron", "shelf-stand.ron", "desk-lamp.ron"] {
        let demo = cornerwise_export::demo::DEMOS.iter().find(|demo| demo.file_name == file).unwrap();
        let made = demo.project().unwrap().assemble().unwrap();
        let mut solids = legs(&made, 0.5);
        // A base lifts the leg.
        let lift = |[u, v, s]: [f64; 3]| [u, v, s - made.foot_above_mm];
        solids = solids.into_iter().map(|(part, solid)| (part, solid.moved(lift))).collect();
        volumes_agree(file, &solids, &made.bodies(0.5, 40.0, 0.0));
        let mut all: Vec<(String, Solid)> =
            solids.iter().map(|(part, solid)| (format!("{part:?}"), solid.clone())).collect();
        for board in made.boards.iter().filter(|board| board.kind != BoardKind::Shade) {
            let solid = Solid::column(&board.solid.upper, board.solid.span_mm);
            if board.kind != BoardKind::Base {
                let told: f64 = board.size_mm.iter().product();
                // A mitred apron is ordered at its full length.
                let mitres =
                    if board.kind == BoardKind::Apron { board.size_mm[2].powi(2) * board.size_mm[1] } else { 0.0 };
                assert!((told - mitres - solid.volume()).abs() / told < VOLUME_SHARE, "{file}: {:?}", board.kind);
            }
            all.push((format!("{:?}", board.kind), solid));
        }
        if made.legs.len() > 1 {
            apart(file, &all);
        }
    }
}

/// The inscribed circle of the cavity is the pipe and its clearance: 1/8 IP, outside diameter 0.405 in (pipe nipple tables
/// to ASME B1.20.1; sizes.com, lampFit), in the 7/16 in hole it is sold with.
#[test]
fn the_pipe_passes_and_nothing_wider_does() {
    for (outside, clearance) in [(0.405 * 25.4, 0.0325 * 25.4), (10.0, 0.5), (16.0, 0.0)] {
        let pipe = PipeHole {
            name: "1/8 IP".to_owned(),
            outside: outside.into(),
            clearance: clearance.into(),
            above: Length::ZERO,
            below: Length::ZERO,
            recess: Length::ZERO,
        };
        let fit = Fit { pipe: Some(pipe), ..Fit::default() };
        let made = project(design(cyma(12.0), arch(5.0), 55.0, 420.0, fit), Arrangement::Column).assemble().unwrap();
        let solids = legs(&made, 0.1);
        volumes_agree("lamp", &solids, &made.bodies(0.1, 40.0, 0.0));
        let [one, two, three, four]: [&Solid; 4] =
            solids.values().collect::<Vec<_>>().try_into().unwrap_or_else(|_| panic!());
        let whole = one.and(two).and(&three.and(four));
        let radius = (outside + clearance) / 2.0;
        for i in 1..20 {
            let outline = whole.section(-420.0 * f64::from(i) / 20.0);
            let nearest = outline.edges.iter().map(distance).fold(f64::INFINITY, f64::min);
            assert!((nearest - radius).abs() < 1e-6, "{nearest} for {radius}");
        }
        // What the saw and the chamfer left is what is told, and the pipe takes none of it.
        let rod: Vec<[f64; 2]> = (0..64)
            .map(|i| {
                let (sin, cos) = (std::f64::consts::TAU * (f64::from(i) + 0.5) / 64.0).sin_cos();
                [(radius - 1e-4) * cos, (radius - 1e-4) * sin]
            })
            .collect();
        let taken = whole.volume_shared_with(&Solid::column(&rod, [-430.0, 10.0]));
        assert!(taken.abs() < SHARED_MM3, "{taken} mm³");
    }
}

/// How far an edge is from the axis.
fn distance([p, q]: &[[f64; 2]; 2]) -> f64 {
    let along = [q[0] - p[0], q[1] - p[1]];
    let long = along[0] * along[0] + along[1] * along[1];
    let share = if long > 0.0 { (-(p[0] * along[0] + p[1] * along[1]) / long).clamp(0.0, 1.0) } else { 0.0 };
    (p[0] + share * along[0]).hypot(p[1] + share * along[1])
}
