//! What an edit does to the wood.

use crate::{EditError, WoodPart};
use cornerwise_wood::{Layers, Timber, Wood};

/// The wood with one part of it changed.
pub(crate) fn changed(wood: &Wood, part: &WoodPart) -> Result<Wood, EditError> {
    match (wood, part) {
        (Wood::Layers(layers), _) => Ok(Wood::Layers(layers_changed(layers, part)?)),
        (Wood::Blocks(blocks), WoodPart::Block { column, index, block }) => {
            let mut blocks = blocks.clone();
            let listed = blocks.columns.get_mut(*column).and_then(|column| column.blocks.get_mut(*index));
            let no_such = EditError::NoSuchBlock { column: column.saturating_add(1), block: index.saturating_add(1) };
            *listed.ok_or(no_such)? = block.clone();
            Ok(Wood::Blocks(blocks))
        }
        (Wood::Blocks(_), _) => Err(EditError::IsBlocks),
        (_, WoodPart::Block { .. }) => Err(EditError::NotBlocks),
        (Wood::Photos(photos), WoodPart::Species(species)) => {
            let mut photos = photos.clone();
            photos.species = *species;
            Ok(Wood::Photos(photos))
        }
        (Wood::Photos(_), _) => Err(EditError::IsPhotos),
        (Wood::Timber(timber), _) => Ok(Wood::Timber(timber_changed(timber, part)?)),
    }
}

fn layers_changed(layers: &Layers, part: &WoodPart) -> Result<Layers, EditError> {
    let mut layers = layers.clone();
    let count = layers.layers.len();
    match part {
        WoodPart::Lean(deg) => layers.lean_deg = *deg,
        WoodPart::Toward(deg) => layers.toward_deg = *deg,
        WoodPart::Shift(shift) => layers.shift = shift.clone(),
        WoodPart::Layer { index, layer } => match layers.layers.get_mut(*index) {
            Some(slot) => *slot = layer.clone(),
            None => return Err(EditError::NoSuchLayer { layer: index.saturating_add(1), count }),
        },
        WoodPart::AddLayer { index, layer } => layers.layers.insert((*index).min(count), layer.clone()),
        WoodPart::DeleteLayer { index } if *index < count => {
            if count == 1 {
                return Err(EditError::LastLayer);
            }
            layers.layers.remove(*index);
        }
        WoodPart::DeleteLayer { index } => {
            return Err(EditError::NoSuchLayer { layer: index.saturating_add(1), count });
        }
        WoodPart::Species(_) | WoodPart::Pith { .. } | WoodPart::RingWidth(_) => return Err(EditError::NotTimber),
        WoodPart::Block { .. } => return Err(EditError::NotBlocks),
    }
    Ok(layers)
}

fn timber_changed(timber: &Timber, part: &WoodPart) -> Result<Timber, EditError> {
    let mut timber = timber.clone();
    match part {
        WoodPart::Species(species) => timber.species = *species,
        WoodPart::Pith { x, y } => (timber.pith_x, timber.pith_y) = (x.clone(), y.clone()),
        WoodPart::RingWidth(width) => timber.ring_width = width.clone(),
        WoodPart::Block { .. } => return Err(EditError::NotBlocks),
        WoodPart::Lean(_)
        | WoodPart::Toward(_)
        | WoodPart::Shift(_)
        | WoodPart::Layer { .. }
        | WoodPart::AddLayer { .. }
        | WoodPart::DeleteLayer { .. } => return Err(EditError::NotLayers),
    }
    Ok(timber)
}
