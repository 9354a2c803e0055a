//! The wood and the knots of a blank that is rolled a quarter away from the maker or turned end for end: the lines that
//! will be drawn on its faces stay where they are, and the wood goes under them.
//!
//! Rolled, face 2 comes up and becomes face 1: what was (x, y, s) is now (y, W - x, s). End for end, face 1 stays up and
//! faces 2 and 4 change places: what was (x, y, s) is now (W - x, y, L - s).
//!
//! Rings keep their pith, lean and taper. Their small drifts and wobble, which stand for those of any log, are those of
//! the new place.

use cornerwise_geometry::{Face, Length};

use crate::{Blocks, Column, Knot, LayerOrder, Layers, Timber, Wood};

impl Wood {
    /// The wood of a blank of this width, rolled a quarter away from the maker.
    #[must_use]
    pub fn rolled(&self, width_mm: f64) -> Wood {
        match self {
            Wood::Layers(layers) => Wood::Layers(layers.rolled(width_mm)),
            Wood::Blocks(blocks) => Wood::Blocks(blocks.rolled(width_mm)),
            Wood::Timber(timber) => Wood::Timber(timber.rolled(width_mm)),
            Wood::Photos(photos) => Wood::Photos(photos.rolled()),
        }
    }

    /// The wood of a blank of this width and length, turned end for end.
    #[must_use]
    pub fn end_for_end(&self, width_mm: f64, length_mm: f64) -> Wood {
        match self {
            Wood::Layers(layers) => Wood::Layers(layers.end_for_end(width_mm, length_mm)),
            Wood::Blocks(blocks) => Wood::Blocks(blocks.end_for_end(width_mm, length_mm)),
            Wood::Timber(timber) => Wood::Timber(timber.end_for_end(width_mm, length_mm)),
            Wood::Photos(photos) => Wood::Photos(photos.end_for_end(length_mm)),
        }
    }
}

/// `from` less a length.
fn less(from_mm: f64, length: &Length) -> Length {
    Length::from_mm(from_mm - length.mm())
}

impl Timber {
    fn rolled(&self, width_mm: f64) -> Timber {
        Timber {
            pith_x: self.pith_y.clone(),
            pith_y: less(width_mm, &self.pith_x),
            lean_x: self.lean_y,
            lean_y: -self.lean_x,
            ..self.clone()
        }
    }

    fn end_for_end(&self, width_mm: f64, length_mm: f64) -> Timber {
        Timber {
            pith_x: Length::from_mm(width_mm - self.pith_x.mm() - self.lean_x * length_mm),
            pith_y: Length::from_mm(self.pith_y.mm() + self.lean_y * length_mm),
            lean_y: -self.lean_y,
            taper: -self.taper,
            ..self.clone()
        }
    }
}

impl Layers {
    fn rolled(&self, width_mm: f64) -> Layers {
        let [x, _, _] = self.normal();
        let toward_deg = self.toward_deg - 90.0;
        let toward_deg = if toward_deg < -360.0 { toward_deg + 360.0 } else { toward_deg };
        Layers { toward_deg, shift: Length::from_mm(self.shift.mm() - x * width_mm), ..self.clone() }
    }

    fn end_for_end(&self, width_mm: f64, length_mm: f64) -> Layers {
        // Turned, the normal points the other way along the leg; counted backward, it points down again.
        let [x, _, s] = self.normal();
        let mut shift = x * width_mm + s * length_mm - self.shift.mm();
        let mut layers = self.layers.clone();
        match self.order {
            LayerOrder::Repeated => layers.reverse(),
            // There and back reads the same backward, one first layer earlier.
            LayerOrder::Mirrored => shift -= self.layers.first().map_or(0.0, |layer| layer.thickness.mm()),
        }
        Layers { layers, toward_deg: -self.toward_deg, shift: Length::from_mm(shift), ..self.clone() }
    }
}

impl Blocks {
    /// Column (i, j) of the lists.
    fn column(&self, i: usize, j: usize) -> Option<&Column> {
        self.columns.get(i + self.widths.len() * j)
    }

    fn rolled(&self, width_mm: f64) -> Blocks {
        // Across is what was deep; deep is what was across, counted from the other face.
        let (across, deep) = (self.depths.len(), self.widths.len());
        let columns = (0..across * deep).filter_map(|k| self.column(deep - 1 - k / across, k % across));
        let columns =
            columns.map(|column| Column { shift: less(column.shift.mm(), &self.rise_across), ..column.clone() });
        Blocks {
            widths: self.depths.clone(),
            depths: self.widths.iter().rev().cloned().collect(),
            shift_across: self.shift_deep.clone(),
            shift_deep: less(width_mm, &self.shift_across),
            rise_across: self.rise_deep.clone(),
            rise_deep: less(0.0, &self.rise_across),
            columns: columns.collect(),
        }
    }

    fn end_for_end(&self, width_mm: f64, length_mm: f64) -> Blocks {
        let (across, deep) = (self.widths.len(), self.depths.len());
        let columns = (0..across * deep).filter_map(|k| self.column(across - 1 - k % across, k / across));
        let columns = columns.map(|column| Column {
            blocks: column.blocks.iter().rev().cloned().collect(),
            shift: Length::from_mm(length_mm - column.shift.mm() + self.rise_across.mm()),
        });
        Blocks {
            widths: self.widths.iter().rev().cloned().collect(),
            depths: self.depths.clone(),
            shift_across: less(width_mm, &self.shift_across),
            shift_deep: self.shift_deep.clone(),
            rise_across: self.rise_across.clone(),
            rise_deep: less(0.0, &self.rise_deep),
            columns: columns.collect(),
        }
    }
}

impl Knot {
    /// The knot of a blank that is rolled a quarter away from the maker.
    #[must_use]
    pub fn rolled(&self) -> Knot {
        let face = match self.face {
            Face::One => Face::Four,
            Face::Two => Face::One,
            Face::Three => Face::Two,
            Face::Four => Face::Three,
        };
        Knot { face, ..self.clone() }
    }

    /// The knot of a blank of this width, depth and length, turned end for end.
    #[must_use]
    pub fn end_for_end(&self, size_mm: [f64; 2], length_mm: f64) -> Knot {
        let face = match self.face {
            Face::Two => Face::Four,
            Face::Four => Face::Two,
            stays => stays,
        };
        Knot {
            face,
            from_top: less(length_mm, &self.from_top),
            from_arris: less(size_mm[self.face.index() % 2], &self.from_arris),
            slope_along: -self.slope_along,
            slope_across: -self.slope_across,
            ..self.clone()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grid::Grid;
    use crate::knot::KnotBody;
    use crate::pattern::Pattern;
    use crate::rings::Rings;
    use crate::{Block, Layer, Species};
    use cornerwise_geometry::BlankPoint;

    const W: f64 = 50.0;
    const D: f64 = 40.0;
    const L: f64 = 300.0;

    fn points() -> impl Iterator<Item = BlankPoint> {
        (0..3000).map(|i| {
            let i = f64::from(i);
            BlankPoint { x: (i * 0.731_234_5) % W, y: (i * 0.377_543_2) % D, s: (i * 1.931_357) % L }
        })
    }

    fn rolled(p: BlankPoint) -> BlankPoint {
        BlankPoint { x: p.y, y: W - p.x, s: p.s }
    }

    fn end_for_end(p: BlankPoint) -> BlankPoint {
        BlankPoint { x: W - p.x, y: p.y, s: L - p.s }
    }

    #[test]
    fn layers_go_with_the_blank() {
        let layer = |species, mm: f64| Layer { species, thickness: mm.into() };
        let list = vec![layer(Species::Maple, 7.3), layer(Species::Cherry, 4.1), layer(Species::Walnut, 2.9)];
        for order in [LayerOrder::Repeated, LayerOrder::Mirrored] {
            for (lean, toward) in [(0.0, 0.0), (90.0, 0.0), (37.0, 21.0), (-62.0, 201.0)] {
                let layers = Layers { order, ..Layers::new(list.clone(), lean, toward, 3.7.into()) };
                let wood = |layers: &Layers, p| {
                    let pattern = Pattern::new(layers);
                    pattern.species(pattern.layer(pattern.position(p)))
                };
                let (by_roll, by_end) = (layers.rolled(W), layers.end_for_end(W, L));
                let mut off = 0;
                for p in points() {
                    off += usize::from(wood(&layers, p) != wood(&by_roll, rolled(p)));
                    off += usize::from(wood(&layers, p) != wood(&by_end, end_for_end(p)));
                }
                // A point in the very line between two layers may round either way.
                assert!(off < 4, "{order:?} {lean} {toward}: {off}");
            }
        }
    }

    #[test]
    fn blocks_go_with_the_blank() {
        let block = |species, mm: f64| Block { species, height: mm.into() };
        let stacks = [
            vec![block(Species::Maple, 11.3), block(Species::Walnut, 5.9), block(Species::Ash, 3.1)],
            vec![block(Species::Cherry, 8.7), block(Species::Oak, 9.2)],
            vec![block(Species::Pine, 30.0)],
        ];
        let columns =
            (0..6).map(|i| Column { blocks: stacks[i % 3].clone(), shift: (i as f64 * 1.7).into() }).collect();
        let blocks = Blocks {
            shift_across: 2.3.into(),
            shift_deep: (-4.1).into(),
            rise_across: 1.9.into(),
            rise_deep: (-0.7).into(),
            ..Blocks::new(vec![9.0.into(), 7.0.into(), 13.0.into()], vec![8.0.into(), 11.0.into()], columns)
        };
        let (by_roll, by_end) = (blocks.rolled(W), blocks.end_for_end(W, L));
        by_roll.check().unwrap();
        by_end.check().unwrap();
        let grids = [&blocks, &by_roll, &by_end].map(Grid::new);
        let off: usize = points()
            .map(|p| {
                let was = grids[0].find(p).species;
                let [rolled, ended] = [grids[1].find(rolled(p)), grids[2].find(end_for_end(p))].map(|at| at.species);
                usize::from(was != rolled) + usize::from(was != ended)
            })
            .sum();
        assert!(off < 4, "{off}");
    }

    #[test]
    fn the_pith_goes_with_the_blank() {
        let timber =
            Timber { lean_x: 0.03, lean_y: -0.02, ..Timber::new(Species::Oak, 12.0.into(), 70.0.into(), 3.0.into()) };
        let [was, by_roll, by_end] = [&timber, &timber.rolled(W), &timber.end_for_end(W, L)].map(Rings::new);
        for p in points() {
            assert!((was.out_mm(p) - by_roll.out_mm(rolled(p))).abs() < 1e-9);
            assert!((was.out_mm(p) - by_end.out_mm(end_for_end(p))).abs() < 1e-9);
        }
    }

    #[test]
    fn knots_go_with_the_blank_and_four_rolls_of_a_square_one_bring_them_back() {
        for face in Face::ALL {
            let knot = Knot {
                slope_along: 0.4,
                slope_across: -0.6,
                ..Knot::new(face, 120.0.into(), 17.0.into(), 30.0.into())
            };
            let body = |knot: &Knot, size| KnotBody::new(knot, size);
            let was = body(&knot, [W, D]);
            let (by_roll, by_end) = (body(&knot.rolled(), [D, W]), body(&knot.end_for_end([W, D], L), [W, D]));
            for p in points() {
                let share = was.share(p);
                assert!((share.min(9.0) - by_roll.share(rolled(p)).min(9.0)).abs() < 1e-9, "{face} {p:?}");
                assert!((share.min(9.0) - by_end.share(end_for_end(p)).min(9.0)).abs() < 1e-9, "{face} {p:?}");
            }
            let back = (0..4).fold(knot.clone(), |knot, _| knot.rolled());
            assert_eq!(back, knot);
        }
    }
}
