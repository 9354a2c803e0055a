//! Nothing is ever a mirror: what is drawn is what an eye outside the wood sees, only turned.

use cornerwise_geometry::{
    BlankPoint, Camera, Cut, End, Face, Facet, Facets, Opening, Piece, Solved, Surface, draw_order,
};

use crate::cases;

type Vector = [f64; 3];

fn minus(p: Vector, q: Vector) -> Vector {
    [p[0] - q[0], p[1] - q[1], p[2] - q[2]]
}

fn dot(p: Vector, q: Vector) -> f64 {
    p[0] * q[0] + p[1] * q[1] + p[2] * q[2]
}

fn cross(p: Vector, q: Vector) -> Vector {
    [p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]]
}

fn solved() -> Solved {
    let leg = cases::waves().leg;
    leg.solve(&leg.uniform_stations(25))
}

/// Out of the wood of a piece through one of its surfaces, roughly, in the blank: from design.md's frame alone.
fn out_of_the_wood(piece: Piece, surface: Surface) -> Vector {
    let right_of_first = matches!(piece, Piece::Two | Piece::Three);
    let below_second = matches!(piece, Piece::Three | Piece::Four);
    match surface {
        Surface::Face(Face::One) => [0.0, -1.0, 0.0],
        Surface::Face(Face::Two) => [1.0, 0.0, 0.0],
        Surface::Face(Face::Three) => [0.0, 1.0, 0.0],
        Surface::Face(Face::Four) => [-1.0, 0.0, 0.0],
        Surface::Cut(Cut::First) => [if right_of_first { -1.0 } else { 1.0 }, 0.0, 0.0],
        Surface::Cut(Cut::Second) => [0.0, if below_second { -1.0 } else { 1.0 }, 0.0],
        Surface::End(End::Top) => [0.0, 0.0, -1.0],
        Surface::End(End::Foot) => [0.0, 0.0, 1.0],
    }
}

fn in_blank(p: BlankPoint) -> Vector {
    [p.x, p.y, p.s]
}

/// Twice the area that the corners of a facet enclose, each taken somewhere in a plane.
fn turning(facet: &Facet, place: impl Fn(usize) -> [f64; 2]) -> f64 {
    let [p, q, r, t] = [place(0), place(1), place(2), place(3)];
    let (e, f) = ([r[0] - p[0], r[1] - p[1]], [t[0] - q[0], t[1] - q[1]]);
    debug_assert_eq!(facet.corners.len(), 4);
    e[0] * f[1] - e[1] * f[0]
}

/// Sawing and rotating move wood; they cannot mirror it. Every piece, at every share of the opening, is the piece as it
/// was in the blank, turned and shifted.
#[test]
fn every_piece_is_turned_and_never_mirrored() {
    let solved = solved();
    let origin = BlankPoint { x: 3.0, y: 4.0, s: 5.0 };
    let along = [BlankPoint { x: 4.0, ..origin }, BlankPoint { y: 5.0, ..origin }, BlankPoint { s: 6.0, ..origin }];
    for share in [0.0, 0.1, 0.35, 0.5, 0.62, 0.9, 1.0] {
        let opening = Opening::new(&solved, share);
        for piece in Piece::ALL {
            let [x, y, s] = along.map(|p| minus(opening.place(piece, p), opening.place(piece, origin)));
            assert!((dot(cross(x, y), s) - 1.0).abs() < 1e-12, "{piece} at {share}");
            for (p, q) in [(x, y), (y, s), (s, x)] {
                assert!(dot(p, q).abs() < 1e-12, "{piece} at {share}");
            }
        }
    }
}

/// Anything painted on the wood reads the same way round in the picture as to an eye outside the wood: for every facet
/// that is drawn, at every opening and camera, the corners go round the same way in the picture as they did on the
/// piece in the blank, seen from outside it.
#[test]
fn what_is_painted_on_the_wood_reads_the_same_way_round_in_the_picture() {
    let solved = solved();
    let mut drawn = 0;
    for share in [0.0, 0.2, 0.5, 0.8, 1.0] {
        let opening = Opening::new(&solved, share);
        let facets = Facets::new(&solved, &opening);
        for (turn, tilt) in [(0.0, 0.0), (35.0, 20.0), (128.0, -35.0), (200.0, 60.0), (305.0, 5.0)] {
            let camera = Camera::new(turn, tilt);
            for number in draw_order(&facets, &camera) {
                let facet = facets.get(number).unwrap();
                let picture = turning(&facet, |i| {
                    let [right, up, _] = camera.view(facet.corners[i].at);
                    [right, up]
                });
                // An eye outside: its right and up, with the way out of the wood toward it.
                let toward = out_of_the_wood(facet.piece, facet.surface);
                let right = if toward[2] == 0.0 { [0.0, 0.0, 1.0] } else { [1.0, 0.0, 0.0] };
                let up = cross(toward, right);
                let outside = turning(&facet, |i| {
                    let p = in_blank(facet.corners[i].blank);
                    [dot(p, right), dot(p, up)]
                });
                // One that is seen edge-on may be drawn: rounding decides, and it covers nothing.
                assert!(picture > -1e-9 && outside > 0.0, "{facet:?}: {picture} in the picture, {outside} outside");
                drawn += u32::from(picture > 1e-9);
            }
        }
    }
    assert!(drawn > 1000, "{drawn}");
}

/// Of a closed blank and of a finished leg, the camera that looks squarely at face or side 1 to 4 sees the window's row
/// of that number on end: rotated a quarter, top up, and not mirrored. In the rows, top end left, seen from outside,
/// faces 1 to 4 run down along +x, +y, -x, -y (by design.md: face 1 above face 2, and they share arris 2).
#[test]
fn the_upright_picture_is_the_rows_on_end() {
    let solved = solved();
    let [width, depth] = [solved.width_mm, solved.depth_mm];
    let foot = solved.s[solved.s.len() - 1];
    // In the row: right is +s, down is the face's own direction. On end: up is -s, and what was down is left.
    let rows: [(Face, Vector); 4] = [
        (Face::One, [1.0, 0.0, 0.0]),
        (Face::Two, [0.0, 1.0, 0.0]),
        (Face::Three, [-1.0, 0.0, 0.0]),
        (Face::Four, [0.0, -1.0, 0.0]),
    ];
    let blank = Facets::new(&solved, &Opening::new(&solved, 0.0));
    for (number, (face, down)) in rows.into_iter().enumerate() {
        let camera = Camera::new(90.0 * number as f64, 0.0);
        let mut seen = 0;
        for facet in draw_order(&blank, &camera).into_iter().filter_map(|number| blank.get(number)) {
            if facet.surface != Surface::Face(face) {
                continue;
            }
            seen += 1;
            for corner in facet.corners {
                let p = in_blank(corner.blank);
                let [right, up, _] = camera.view(corner.at);
                let middle = [width / 2.0, depth / 2.0, 0.0];
                assert!((right + dot(minus(p, middle), down)).abs() < 1e-9, "{face}: {corner:?}");
                assert!((up + p[2]).abs() < 1e-9 && p[2] <= foot, "{face}: {corner:?}");
            }
        }
        assert!(seen > 10, "{face} is hidden from its own camera");
    }
    // The four arrises go round the picture in order, each shared by neighbours: the lower edge of face 1's row is the
    // upper edge of face 2's.
    let arrises = [[0.0, 0.0], [width, 0.0], [width, depth], [0.0, depth]];
    for (number, (_, down)) in rows.into_iter().enumerate() {
        let at = |arris: [f64; 2]| dot([arris[0], arris[1], 0.0], down);
        assert!(at(arrises[(number + 1) % 4]) > at(arrises[number]), "face {}", number + 1);
    }
}
