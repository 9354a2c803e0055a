//! The wood of a blank.

use cornerwise_geometry::{BlankPoint, Surface};
use serde::{Deserialize, Serialize};

use crate::{Blocks, Figure, Layers, Photos, Species, Steps, Timber, WoodError};

/// What a blank is made of.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Wood {
    /// Laminated stock.
    Layers(Layers),
    /// Columns of stacked blocks.
    Blocks(Blocks),
    /// Plain timber.
    Timber(Timber),
    /// A real blank, photographed.
    Photos(Photos),
}

/// What shows at one point of the blank.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Grain {
    /// Which wood.
    pub species: Species,
    /// The number of its layer, counted along the layers' normal from the start of the list, or of its ring, counted
    /// outward from the pith; of blocks a number for each block; of photos 0. The lines between numbers are the lines that are painted and that arrive at the seams.
    pub line: i64,
    /// Its colour, sRGB.
    pub colour: [u8; 3],
}

impl Wood {
    /// Checks every number of the wood.
    ///
    /// # Errors
    /// [`WoodError`] names the first one that does not fit, NaN and infinities included.
    pub fn check(&self) -> Result<(), WoodError> {
        match self {
            Wood::Layers(layers) => layers.check(),
            Wood::Blocks(blocks) => blocks.check(),
            Wood::Timber(timber) => timber.check(),
            Wood::Photos(photos) => photos.check(),
        }
    }

    /// The woods in it, each once, in the order of its list.
    pub fn species(&self) -> Vec<Species> {
        let all: Vec<Species> = match self {
            Wood::Layers(layers) => layers.layers.iter().map(|layer| layer.species).collect(),
            Wood::Blocks(blocks) => blocks.columns.iter().flat_map(|c| &c.blocks).map(|block| block.species).collect(),
            Wood::Timber(timber) => vec![timber.species],
            Wood::Photos(photos) => vec![photos.species],
        };
        let first = |(i, species): (usize, &Species)| (!all[..i].contains(species)).then_some(*species);
        all.iter().enumerate().filter_map(first).collect()
    }

    /// The same with other woods in place of its own.
    #[must_use]
    pub fn with_species(&self, to: &impl Fn(Species) -> Species) -> Wood {
        let mut changed = self.clone();
        match &mut changed {
            Wood::Layers(layers) => layers.layers.iter_mut().for_each(|layer| layer.species = to(layer.species)),
            Wood::Blocks(blocks) => {
                let all = blocks.columns.iter_mut().flat_map(|column| &mut column.blocks);
                all.for_each(|block| block.species = to(block.species));
            }
            Wood::Timber(timber) => timber.species = to(timber.species),
            Wood::Photos(photos) => photos.species = to(photos.species),
        }
        changed
    }

    /// The photos it is, if it is.
    pub fn photos(&self) -> Option<&Photos> {
        match self {
            Wood::Photos(photos) => Some(photos),
            Wood::Layers(_) | Wood::Blocks(_) | Wood::Timber(_) => None,
        }
    }

    /// What shows at a point of the blank, mm, on one of its surfaces.
    ///
    /// A point on a line belongs to the later layer, block or ring; on a planed face or an end, what shows is the wood just
    /// inside. For many points ask a [`Figure`]. Numbers that [`Wood::check`] would refuse are taken at their limits.
    pub fn at(&self, p: BlankPoint, surface: Surface) -> Grain {
        let figure = Figure::new(self);
        figure.at(&figure.view(surface), p, &Steps::POINT)
    }
}
