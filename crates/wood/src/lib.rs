//! What wood lies at a point of the blank, how it looks, and how the seams meet.
//!
//! A [`Wood`] is plain data: laminated [`Layers`], columns of stacked [`Blocks`], plain [`Timber`] or [`Photos`] of a real
//! blank, whose pixels are given to it. [`Wood::at`] is a pure function from a point of the
//! blank and the surface it is seen on to a wood and a colour; a [`Figure`] is the same function made ready to be asked
//! millions of times. [`paint`] fills a rectangle with one surface; [`compare_seams`] compares the two pieces at each seam.

mod answer;
mod balance;
mod block_cells;
mod block_preset;
mod block_seams;
mod blocks;
mod compare;
mod edges;
mod error;
mod figure;
mod finish;
mod grid;
mod knot;
mod knot_ends;
mod layers;
mod noise;
mod outside;
mod own_wood;
mod paint;
mod pattern;
mod photo_edges;
mod photo_pixels;
mod photo_ring_seams;
mod photo_rings;
mod photo_seams;
mod photos;
mod picture_hash;
mod rays;
mod reading;
mod regularity;
mod ring_lines;
mod ring_seams;
mod ring_table;
mod rings;
mod runs;
mod sawn_faces;
mod scaled;
mod shade;
mod species;
mod species_table;
mod squaring;
mod timber;
mod turned;
mod wood;
mod wood_limits;

#[cfg(test)]
mod tests;

pub use answer::{Mismatch, Place, SeamAnswer};
pub use block_cells::Cell;
pub use block_preset::{BlockPreset, SeamFit};
pub use blocks::{Block, Blocks, Column, MOST_BLOCKS, MOST_COLUMNS};
pub use compare::{SeamLimits, compare_and_read, compare_pair, compare_seams, seam_edges, seam_effort};
pub use error::{LimitError, WoodError};
pub use figure::{Figure, Steps, View};
pub use finish::Finish;
pub use knot::{Blemish, FARTHEST_KNOT_MM, KNOT_SIZES_MM, Knot, MOST_KNOTS, STEEPEST_KNOT};
pub use knot_ends::{KnotEnds, KnotShows, in_knot};
pub use layers::{Layer, LayerGrain, LayerOrder, Layers, MOST_LAYERS, THICKEST_LAYER_MM, THINNEST_LAYER_MM};
pub use own_wood::OwnWood;
pub use paint::{MOST_TEXELS, PaintError, Painted, Patch, page_from_blank, paint, paint_patch};
pub use photo_pixels::PhotoPixels;
pub use photos::{Exposed, PHOTO_GAIN, PHOTO_LENGTH_MM, Photo, Photos};
pub use picture_hash::PictureHash;
pub use reading::{Jump, PairReading, Rated, Rating, RatingLimits, colour_difference, read_pair};
pub use regularity::{Regularity, regularity};
pub use sawn_faces::{SAWN_LIMITS_DEG, Sawn};
pub use species::Species;
pub use species_table::{GravityOn, RowError, SpeciesRow};
pub use squaring::Squaring;
pub use timber::{FARTHEST_PITH_MM, NARROWEST_RING_MM, Timber, WIDEST_RING_MM};
pub use wood::{Grain, Wood};
pub use wood_limits::WoodLimits;
