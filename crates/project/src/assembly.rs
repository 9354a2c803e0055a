//! The furniture put together: which leg stands where, and the boards that follow from the notches.

use crate::{Design, DesignId, Furniture, Hand, Project};
use cornerwise_geometry::fit::{AreaProperties, Fit, Mirror, Notch, Takes, WoodLeft, mirror};
use cornerwise_geometry::furniture::{
    Arrangement, Board, BoardKind, Body, BodyPart, Solid, Spot, Stability, StandingLeg, apron_boards, frustum,
    leg_bodies_parted, leg_levels, overhung, regular, shelf_board,
};
use cornerwise_geometry::{Leg, LegError, Length, Piece};
use cornerwise_wood::Wood;
use std::sync::Arc;

/// A leg in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedLeg {
    /// Its design.
    pub design: Arc<Design>,
    /// Its hand.
    pub hand: Hand,
    /// The leg itself, mirrored where it is of the other hand.
    pub leg: Arc<Leg>,
    /// Its fit; the inside piece is that of the leg itself, mirrored with it.
    pub fit: Fit,
    /// Where it stands.
    pub spot: Spot,
    /// How far it is turned, degrees from u toward v.
    pub turn_deg: f64,
}

impl PlacedLeg {
    /// What is written on it: "A", or "A mirrored".
    pub fn label(&self) -> String {
        self.hand.label(self.design.letter)
    }

    /// What is written on a piece of it: "A1", of a mirrored leg "Am1".
    pub fn piece(&self, piece: Piece) -> String {
        self.hand.piece(self.design.letter, piece.number())
    }
}

/// Furniture put together.
#[derive(Clone, Debug, PartialEq)]
pub struct Assembly {
    /// The legs, in the order of their places.
    pub legs: Vec<PlacedLeg>,
    /// The boards, from the top down.
    pub boards: Vec<Board>,
    /// How high every foot stands above the floor, mm: the base's thickness.
    pub foot_above_mm: f64,
    /// What the furniture was put together from.
    pub furniture: Furniture,
}

impl Project {
    /// The design that stands for an id in the furniture: 0, and one that is gone, are the first.
    pub fn standing_design(&self, id: DesignId) -> Option<&Arc<Design>> {
        self.design(id).or_else(|| self.designs.first())
    }

    /// The furniture put together; without any, the first leg by itself.
    ///
    /// # Errors
    /// [`LegError`] where a design makes no leg, which a checked project's never does.
    pub fn assemble(&self) -> Result<Assembly, LegError> {
        self.assemble_with(|design| design.leg().map(Arc::new))
    }

    /// The same, with legs that are solved already.
    ///
    /// # Errors
    /// What `solve` says.
    pub fn assemble_with<E>(&self, mut solve: impl FnMut(&Arc<Design>) -> Result<Arc<Leg>, E>) -> Result<Assembly, E> {
        let furniture = self.furniture.clone().unwrap_or_else(Furniture::column);
        let mut legs = Vec::new();
        for (place, spot) in furniture.arrangement.spots().into_iter().enumerate() {
            let standing = furniture.standing(place);
            let Some(design) = self.standing_design(standing.design) else { continue };
            let drawn = solve(design)?;
            let inside = standing.inside.unwrap_or(design.fit.inside);
            let (leg, inside) = match standing.hand {
                Hand::Drawn => (drawn, inside),
                Hand::Mirrored => (Arc::new(drawn.mirrored()), inside.mirrored()),
            };
            let fit = Fit { inside, ..design.fit.clone() };
            let turn_deg = spot.turn_deg(inside);
            legs.push(PlacedLeg { design: Arc::clone(design), hand: standing.hand, leg, fit, spot, turn_deg });
        }
        Ok(Assembly::of(furniture, legs))
    }
}

impl Assembly {
    pub(crate) fn of(furniture: Furniture, legs: Vec<PlacedLeg>) -> Assembly {
        let column = matches!(furniture.arrangement, Arrangement::Column);
        let foot_above_mm = furniture.base.as_ref().filter(|_| column).map_or(0.0, |base| base.thickness.mm());
        let mut boards = Vec::new();
        if let Some(first) = legs.first() {
            let top_s = -first.leg.length_mm - foot_above_mm;
            if let Some(shade) = furniture.shade.as_ref().filter(|_| column) {
                let lower = top_s - shade.above.mm();
                let across = [shade.across_top.mm(), shade.across_foot.mm()];
                boards.push(frustum(BoardKind::Shade, [lower - shade.height.mm(), lower], across));
            }
            let frame = furniture.arrangement.frame();
            if let Some(top) = &furniture.top {
                let span = [top_s - top.thickness.mm(), top_s];
                let middle = first.spot.axis_mm;
                let round = |p: [f64; 2]| [p[0] + middle[0], p[1] + middle[1]];
                match &frame {
                    Some(frame) => boards.push(overhung(BoardKind::Top, frame, top.overhang.mm(), span)),
                    // Over a single leg the overhang is from its axis.
                    None if column && top.overhang.mm() > 0.0 => {
                        let outline: Vec<[f64; 2]> =
                            regular(4, 2.0 * top.overhang.mm()).into_iter().map(round).collect();
                        boards.push(overhung(BoardKind::Top, &outline, 0.0, span));
                    }
                    None => {}
                }
            }
            for notch in &first.fit.notches {
                let span = notch.board_span_mm().map(|s| s + top_s);
                match (&frame, notch.takes) {
                    (Some(frame), Takes::Shelf) => boards.push(shelf_board(frame, span)),
                    (Some(frame), Takes::Apron) => {
                        let Furniture { aprons, .. } = &furniture;
                        boards.extend(apron_boards(frame, span, aprons.thickness.mm(), aprons.joint));
                    }
                    (None, takes) => boards.extend(row_board(&furniture, &legs, notch, takes, span)),
                }
            }
            if let Some(base) = furniture.base.as_ref().filter(|_| column) {
                let span = [-base.thickness.mm(), 0.0];
                let across = base.across.mm();
                boards.push(if base.round {
                    frustum(BoardKind::Base, span, [across, across])
                } else {
                    overhung(BoardKind::Base, &regular(4, across), 0.0, span)
                });
            }
        }
        Assembly { legs, boards, foot_above_mm, furniture }
    }

    /// The legs as they stand, each drawn out along the way its outside looks by `apart_mm`.
    pub fn standing(&self, apart_mm: f64) -> Vec<StandingLeg<'_>> {
        let shift = |spot: &Spot| {
            let way = if self.legs.len() > 1 { apart_mm } else { 0.0 };
            let (sin, cos) = spot.inward_deg.to_radians().sin_cos();
            [spot.axis_mm[0] - way * cos, spot.axis_mm[1] - way * sin]
        };
        self.legs
            .iter()
            .map(|placed| StandingLeg {
                leg: &placed.leg,
                fit: &placed.fit,
                axis_mm: shift(&placed.spot),
                turn_deg: placed.turn_deg,
                foot_above_mm: self.foot_above_mm,
            })
            .collect()
    }

    /// All bodies: legs within `tolerance_mm` of their lines, in slabs no longer than `longest_mm`, drawn `apart_mm` out of
    /// the boards.
    pub fn bodies(&self, tolerance_mm: f64, longest_mm: f64, apart_mm: f64) -> Vec<Body> {
        self.bodies_parted(tolerance_mm, longest_mm, apart_mm, [0.0, 0.0])
    }

    /// The same, with the pieces of every leg drawn out of its axis, by so much along u and along v of the leg, mm.
    pub(crate) fn bodies_parted(
        &self,
        tolerance_mm: f64,
        longest_mm: f64,
        apart_mm: f64,
        parted_mm: [f64; 2],
    ) -> Vec<Body> {
        let mut bodies = Vec::new();
        let mut known: Vec<(&Arc<Leg>, &Fit, Vec<f64>)> = Vec::new();
        for (place, (standing, placed)) in self.standing(apart_mm).iter().zip(&self.legs).enumerate() {
            let at = known
                .iter()
                .position(|(leg, fit, _)| Arc::ptr_eq(leg, &placed.leg) && fit.notches == placed.fit.notches);
            let at = at.unwrap_or_else(|| {
                let levels = leg_levels(&placed.leg, &placed.fit, tolerance_mm, longest_mm);
                known.push((&placed.leg, &placed.fit, levels));
                known.len() - 1
            });
            bodies.extend(leg_bodies_parted(standing, place, &known[at].2, parted_mm));
        }
        bodies.extend(self.board_bodies());
        bodies
    }

    /// The boards as bodies.
    pub fn board_bodies(&self) -> impl Iterator<Item = Body> + '_ {
        self.boards.iter().enumerate().filter_map(|(i, board)| {
            let solid = &board.solid;
            Body::prism(BodyPart::Board(i), solid.span_mm, &solid.upper, &solid.lower)
        })
    }

    /// How high it all is above the floor, mm.
    pub fn height_mm(&self) -> f64 {
        let boards = self.boards.iter().map(|board| -board.solid.span_mm[0]);
        let legs = self.legs.iter().map(|placed| placed.leg.length_mm + self.foot_above_mm);
        boards.chain(legs).fold(0.0, f64::max)
    }

    /// Weight, kg, at 12 % moisture, and the centre of mass (u, v, height above the floor), mm. A shade weighs nothing
    /// here: it is paper or cloth on wire.
    pub fn weight(&self) -> (f64, [f64; 3]) {
        let (mut kg, mut moment) = (0.0, [0.0; 3]);
        let mut add = |mass: f64, centre: [f64; 3]| {
            kg += mass;
            for i in 0..3 {
                moment[i] += mass * centre[i];
            }
        };
        for (placed, standing) in self.legs.iter().zip(self.standing(0.0)) {
            let density = density_kg_mm3(&placed.design.wood);
            let (sin, cos) = placed.turn_deg.to_radians().sin_cos();
            // Slabs by the midpoint rule; a leg's middle wanders slowly.
            let slabs = 256;
            let high = placed.leg.length_mm / f64::from(slabs);
            for i in 0..slabs {
                let s = high * (f64::from(i) + 0.5);
                let section: AreaProperties = WoodLeft::at(&placed.leg, &placed.fit, s).properties();
                let [u, v] = section.centroid_mm;
                let at = [standing.axis_mm[0] + cos * u - sin * v, standing.axis_mm[1] + sin * u + cos * v];
                let height = placed.leg.length_mm - s + self.foot_above_mm;
                add(section.area_mm2 * high * density, [at[0], at[1], height]);
            }
        }
        let density = self.furniture.boards.row().density_kg_m3() * 1e-9;
        for (board, body) in self.boards.iter().zip(self.board_bodies()) {
            if board.kind == BoardKind::Shade {
                continue;
            }
            let outline = AreaProperties::of_polygons([board.solid.upper.as_slice()]);
            let [u, v] = outline.centroid_mm;
            let height = -f64::midpoint(board.solid.span_mm[0], board.solid.span_mm[1]);
            add(body.volume_mm3() * density, [u, v, height]);
        }
        (kg, if kg > 0.0 { moment.map(|along| along / kg) } else { [0.0; 3] })
    }

    /// How it stands. None without legs.
    pub fn stability(&self) -> Option<Stability> {
        let (_, centre) = self.weight();
        let base = self.boards.iter().find(|board| board.kind == BoardKind::Base);
        let feet: Vec<[f64; 2]> = match base {
            Some(base) => base.solid.lower.clone(),
            None => self
                .legs
                .iter()
                .flat_map(|placed| {
                    let (sin, cos) = placed.turn_deg.to_radians().sin_cos();
                    let axis = placed.spot.axis_mm;
                    let foot = WoodLeft::at(&placed.leg, &placed.fit, placed.leg.length_mm);
                    let corners: Vec<[f64; 2]> = foot.pieces.into_iter().flat_map(|(_, outline)| outline).collect();
                    corners.into_iter().map(move |[u, v]| [axis[0] + cos * u - sin * v, axis[1] + sin * u + cos * v])
                })
                .collect(),
        };
        Stability::new(&feet, centre)
    }

    /// What the mirror of the leg in a place is.
    pub fn mirror(&self, place: usize) -> Option<Mirror> {
        self.legs.get(place).map(|placed| mirror(&placed.leg, placed.fit.inside))
    }

    /// What the four legs of a rectangle make together: whether each pair across the middle of u, and across the middle of
    /// v, mirror one another. None for another arrangement.
    pub fn mirrored_across(&self) -> Option<[bool; 2]> {
        if !matches!(self.furniture.arrangement, Arrangement::Rectangle { .. }) || self.legs.len() != 4 {
            return None;
        }
        let pair = |i: usize, j: usize| are_mirrored(&self.legs[i], &self.legs[j]);
        Some([pair(0, 1) && pair(3, 2), pair(0, 3) && pair(1, 2)])
    }
}

/// The board between the two legs of a row whose inside pieces face one another; none in another arrangement, and none
/// between the others, which face the middle one and all. An apron's outer face runs from axis to axis, and a shelf is as
/// deep as the legs bear it.
fn row_board(
    furniture: &Furniture,
    legs: &[PlacedLeg],
    notch: &Notch,
    takes: Takes,
    span_mm: [f64; 2],
) -> Option<Board> {
    if !matches!(furniture.arrangement, Arrangement::Row { .. }) {
        return None;
    }
    let pair = legs.windows(2).find(|pair| pair[0].spot.inward_deg != pair[1].spot.inward_deg)?;
    let [from, to] = [&pair[0], &pair[1]].map(|placed| placed.spot.axis_mm);
    let deep = match takes {
        Takes::Apron => furniture.aprons.thickness.mm(),
        Takes::Shelf => pair
            .iter()
            .map(|placed| {
                let [u, v] = placed.fit.inside.reach(
                    placed.leg.width_mm,
                    placed.leg.depth_mm,
                    placed.leg.a(notch.span_mm()[1]),
                    placed.leg.b(notch.span_mm()[1]),
                );
                // Across the row is v for a leg that stands as it is drawn, and u after a quarter round.
                let quarters = (placed.turn_deg / 90.0).round() as i64;
                if quarters.rem_euclid(2) == 0 { v.abs() } else { u.abs() }
            })
            .fold(f64::INFINITY, f64::min),
    };
    let outline = vec![from, to, [to[0], to[1] + deep], [from[0], from[1] + deep]];
    let (long, high) = (to[0] - from[0], span_mm[1] - span_mm[0]);
    let (kind, size_mm) = match takes {
        Takes::Apron => (BoardKind::Apron, [long, high, deep]),
        Takes::Shelf => (BoardKind::Shelf, [long, deep, high]),
    };
    Some(Board { kind, solid: Solid { span_mm, lower: outline.clone(), upper: outline }, size_mm })
}

/// Whether two legs, each with its inside piece toward the same middle, are one another's mirror.
pub(crate) fn are_mirrored(one: &PlacedLeg, other: &PlacedLeg) -> bool {
    if (one.leg.length_mm - other.leg.length_mm).abs() > cornerwise_geometry::fit::SAME_LINE_MM {
        return false;
    }
    // Reach from the axis toward the middle and away from it, along the two edges of the inside corner.
    let reach = |placed: &PlacedLeg, s: f64| {
        let [u, v] = placed.fit.inside.quadrant();
        let (leg, (a, b)) = (&placed.leg, (placed.leg.a(s), placed.leg.b(s)));
        let along =
            |sign: f64, low: f64, across: f64| if sign < 0.0 { [low, across - low] } else { [across - low, low] };
        let (along_u, along_v) = (along(u, a, leg.width_mm), along(v, b, leg.depth_mm));
        // From u toward v is the same way round as from the first edge of the corner to the second where the signs agree.
        if u * v > 0.0 { [along_u, along_v] } else { [along_v, along_u] }
    };
    one.leg.uniform_stations(129).into_iter().all(|s| {
        let (p, [q0, q1]) = (reach(one, s), reach(other, s));
        let swapped = [q1, q0];
        p.iter().flatten().zip(swapped.iter().flatten()).all(|(x, y)| (x - y).abs() <= 0.01)
    })
}

/// Density of a blank at 12 % moisture, kg/mm³; of layers the mean by thickness, of blocks by volume.
pub fn density_kg_mm3(wood: &Wood) -> f64 {
    let mut weighed = Vec::new();
    match wood {
        Wood::Timber(timber) => weighed.push((timber.species, 1.0)),
        Wood::Photos(photos) => weighed.push((photos.species, 1.0)),
        Wood::Layers(layers) => weighed.extend(layers.layers.iter().map(|layer| (layer.species, layer.thickness.mm()))),
        Wood::Blocks(blocks) => {
            let wide = blocks.widths.len().max(1);
            for (i, column) in blocks.columns.iter().enumerate() {
                let side = |list: &[Length], i: usize| list.get(i % list.len().max(1)).map_or(1.0, Length::mm);
                let area = side(&blocks.widths, i) * side(&blocks.depths, i / wide);
                let high: f64 = column.blocks.iter().map(|block| block.height.mm()).sum();
                let share = |mm: f64| if high > 0.0 { area * mm / high } else { 0.0 };
                weighed.extend(column.blocks.iter().map(|block| (block.species, share(block.height.mm()))));
            }
        }
    }
    let whole: f64 = weighed.iter().map(|(_, share)| share).sum();
    let sum: f64 = weighed.iter().map(|(species, share)| species.row().density_kg_m3() * share).sum();
    if whole > 0.0 { sum / whole * 1e-9 } else { 0.0 }
}
