//! The wood of a blank in proportion.

use cornerwise_geometry::Length;

use crate::timber::NARROWEST_RING_MM;
use crate::{Block, Blocks, Column, KNOT_SIZES_MM, Knot, Layer, Layers, Timber, Wood};

impl Wood {
    /// The wood of a blank `factor` times as large, so that it looks the same: layers, blocks and rings that much larger,
    /// the pith that much farther away. Rings do not get narrower than any wood's.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Wood {
        match self {
            Wood::Layers(layers) => Wood::Layers(layers.scaled(factor)),
            Wood::Blocks(blocks) => Wood::Blocks(blocks.scaled(factor)),
            Wood::Timber(timber) => Wood::Timber(timber.scaled(factor)),
            Wood::Photos(photos) => Wood::Photos(photos.scaled(factor)),
        }
    }
}

impl Knot {
    /// The knot of a blank `factor` times as large; a knot does not get smaller or larger than any.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Knot {
        let [least, most] = KNOT_SIZES_MM;
        let within = |length: Length, most: f64| {
            if (least..=most).contains(&length.mm()) { length } else { length.mm().clamp(least, most).into() }
        };
        Knot {
            from_top: self.from_top.scaled(factor),
            from_arris: self.from_arris.scaled(factor),
            size: within(self.size.scaled(factor), most),
            depth: within(self.depth.scaled(factor), 10.0 * most),
            ..self.clone()
        }
    }
}

impl Layers {
    fn scaled(&self, factor: f64) -> Layers {
        let layer = |layer: &Layer| Layer { thickness: layer.thickness.scaled(factor), ..layer.clone() };
        Layers { layers: self.layers.iter().map(layer).collect(), shift: self.shift.scaled(factor), ..self.clone() }
    }
}

impl Blocks {
    fn scaled(&self, factor: f64) -> Blocks {
        let all = |lengths: &[Length]| lengths.iter().map(|length| length.scaled(factor)).collect();
        let block = |block: &Block| Block { height: block.height.scaled(factor), ..block.clone() };
        let column = |column: &Column| Column {
            blocks: column.blocks.iter().map(block).collect(),
            shift: column.shift.scaled(factor),
        };
        Blocks {
            widths: all(&self.widths),
            depths: all(&self.depths),
            shift_across: self.shift_across.scaled(factor),
            shift_deep: self.shift_deep.scaled(factor),
            rise_across: self.rise_across.scaled(factor),
            rise_deep: self.rise_deep.scaled(factor),
            columns: self.columns.iter().map(column).collect(),
        }
    }
}

impl Timber {
    fn scaled(&self, factor: f64) -> Timber {
        let ring_width = self.ring_width.scaled(factor);
        Timber {
            pith_x: self.pith_x.scaled(factor),
            pith_y: self.pith_y.scaled(factor),
            ring_width: if ring_width.mm() < NARROWEST_RING_MM { NARROWEST_RING_MM.into() } else { ring_width },
            sapwood_from: self.sapwood_from.as_ref().map(|from| from.scaled(factor)),
            ..self.clone()
        }
    }
}
