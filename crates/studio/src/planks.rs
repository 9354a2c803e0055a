//! The wood on boards: one plank of the boards' species, painted once, that every board is cut from in the picture. Its
//! grain runs along the board's length.

use std::sync::Arc;

use cornerwise_geometry::furniture::{Board, BoardKind, BodyFacet};
use cornerwise_geometry::{Blank, BlankPoint, End, Face, Leg, Length, Line, OutOfTrue, Shape, Surface};
use cornerwise_project::{Design, DesignId};
use cornerwise_wood::{Species, Timber, Wood};

/// Sizes of the plank are rounded up to these, so that it is not painted anew while a board grows: length, width,
/// thickness, mm.
const STEPS_MM: [f64; 3] = [300.0, 150.0, 60.0];

/// The widest and the longest blank there may be, mm.
const WIDEST_MM: f64 = 1000.0;
const LONGEST_MM: f64 = 10_000.0;

/// How a board lies: its plank's directions in the furniture, and where the plank begins.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lie {
    along: [f64; 3],
    across: [f64; 3],
    through: [f64; 3],
    from: [f64; 3],
}

impl Lie {
    /// How a board lies; nothing for a shade, which is no wood.
    pub fn of(board: &Board) -> Option<Lie> {
        let outline = &board.solid.upper;
        let [upper, lower] = board.solid.span_mm;
        let level = |way: [f64; 2]| [way[0], way[1], 0.0];
        let (along, across, through) = match board.kind {
            BoardKind::Shade => return None,
            BoardKind::Apron => {
                let (p, q) = (outline.first()?, outline.get(1)?);
                let long = (q[0] - p[0]).hypot(q[1] - p[1]).max(1e-9);
                let way = [(q[0] - p[0]) / long, (q[1] - p[1]) / long];
                (level(way), [0.0, 0.0, 1.0], level([-way[1], way[0]]))
            }
            BoardKind::Shelf | BoardKind::Top | BoardKind::Base => {
                let reach = |i: usize| {
                    let (least, most) = outline
                        .iter()
                        .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), p| (least.min(p[i]), most.max(p[i])));
                    most - least
                };
                let (long, wide) =
                    if reach(0) >= reach(1) { ([1.0, 0.0], [0.0, 1.0]) } else { ([0.0, 1.0], [-1.0, 0.0]) };
                (level(long), level(wide), [0.0, 0.0, 1.0])
            }
        };
        let corners = || outline.iter().chain(&board.solid.lower).flat_map(|[u, v]| [[*u, *v, upper], [*u, *v, lower]]);
        let least = |way: [f64; 3]| corners().map(|at| dot(at, way)).fold(f64::INFINITY, f64::min);
        Some(Lie { along, across, through, from: [least(across), least(through), least(along)] })
    }

    fn in_plank(&self, at: [f64; 3], scale: f64) -> BlankPoint {
        let [x, y, s] = self.from;
        BlankPoint {
            x: scale * (dot(at, self.across) - x),
            y: scale * (dot(at, self.through) - y),
            s: scale * (dot(at, self.along) - s),
        }
    }

    /// The surface of the plank that a facet of the board shows, and its corners on it.
    pub fn shown(&self, facet: &BodyFacet, scale: f64) -> (Surface, [BlankPoint; 4]) {
        let [along, across, through] = [self.along, self.across, self.through].map(|way| dot(facet.outward, way).abs());
        let surface = if through >= across && through >= along {
            Surface::Face(Face::One)
        } else if across >= along {
            Surface::Face(Face::Two)
        } else {
            Surface::End(End::Top)
        };
        (surface, facet.corners.map(|corner| self.in_plank(corner, scale)))
    }
}

/// The plank that boards are cut from.
#[derive(Clone, Debug)]
pub struct Plank {
    /// As a blank, so that it is painted as blanks are.
    pub design: Arc<Design>,
    /// The same, solved.
    pub leg: Arc<Leg>,
    /// A share of a board's sizes on it: less than 1 for boards that are wider than any blank.
    pub scale: f64,
}

/// The plank that boards of a species are cut from, as large as the largest of them; nothing where there is no board.
pub fn plank(boards: &[Board], species: Species) -> Option<Plank> {
    let wooden = boards.iter().filter(|board| board.kind != BoardKind::Shade);
    let most = wooden.map(|board| board.size_mm).reduce(|a, b| [0, 1, 2].map(|i| a[i].max(b[i])))?;
    let [long, wide, thick] = [0, 1, 2].map(|i| (most[i] / STEPS_MM[i]).ceil().max(1.0) * STEPS_MM[i]);
    let scale = (WIDEST_MM / wide.max(thick)).min(LONGEST_MM / long).min(1.0);
    let [long, wide, thick] = [long, wide, thick].map(|mm| mm * scale);
    let straight = Line::Shape(Shape::Straight { aside: Length::ZERO });
    let blank = Blank {
        width: wide.into(),
        depth: thick.into(),
        length: long.into(),
        spare_top: Length::ZERO,
        spare_foot: Length::ZERO,
        out_of_true: OutOfTrue::default(),
    };
    // Flat sawn, the pith well below: the middle of the face shows the rings as long tongues.
    let timber = Timber::new(species, (wide * 0.45).into(), (-90.0).into(), 3.2.into());
    let design = Design {
        blank,
        first: straight.clone(),
        second: straight,
        wood: Wood::Timber(timber),
        ..Design::new(DesignId(0), 'A')
    };
    let leg = design.leg().ok()?;
    Some(Plank { design: Arc::new(design), leg: Arc::new(leg), scale })
}

fn dot(p: [f64; 3], q: [f64; 3]) -> f64 {
    p[0] * q[0] + p[1] * q[1] + p[2] * q[2]
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::furniture::{ApronJoint, Body, BodyPart, Scene, apron_boards, shelf_board};

    #[test]
    fn every_board_lies_within_its_plank_grain_along_its_length() {
        let frame = [[-300.0, -200.0], [300.0, -200.0], [300.0, 200.0], [-300.0, 200.0]];
        let mut boards = apron_boards(&frame, [-700.0, -640.0], 20.0, ApronJoint::Butted);
        boards.push(shelf_board(&frame, [-300.0, -282.0]));
        let Plank { design, scale, .. } = plank(&boards, Species::Oak).unwrap();
        assert_eq!(scale, 1.0);
        let (wide, deep, long) = (design.blank.width.mm(), design.blank.depth.mm(), design.blank.length.mm());
        for board in &boards {
            let lie = Lie::of(board).unwrap();
            let body = Body::prism(BodyPart::Board(0), board.solid.span_mm, &board.solid.upper, &board.solid.lower);
            let scene = Scene::new(vec![body.unwrap()]);
            let mut most = [0.0_f64; 3];
            for number in 0..scene.len() as u32 {
                let (surface, corners) = lie.shown(&scene.get(number).unwrap(), scale);
                let flat = |of: fn(&BlankPoint) -> f64| corners.iter().all(|p| (of(p) - of(&corners[0])).abs() < 1e-9);
                assert!(match surface {
                    Surface::Face(Face::One) => flat(|p| p.y),
                    Surface::Face(Face::Two) => flat(|p| p.x),
                    _ => flat(|p| p.s),
                });
                for p in corners {
                    assert!(
                        p.x >= -1e-9
                            && p.x <= wide + 1e-9
                            && p.y >= -1e-9
                            && p.y <= deep
                            && p.s >= -1e-9
                            && p.s <= long
                    );
                    most = [most[0].max(p.s), most[1].max(p.x), most[2].max(p.y)];
                }
            }
            for (found, size) in most.iter().zip(board.size_mm) {
                assert!((found - size).abs() < 1e-9, "{:?}: {most:?}", board.kind);
            }
        }
    }
}
