//! Photos of blanks.

use super::{PictureError, Watch, bytes, develop};
use cornerwise_project::{PictureHash, Project};
use cornerwise_wood::PhotoPixels;
use std::collections::BTreeMap;
use std::sync::Arc;

/// So many pixels of a photo are looked at where there is no window.
const MOST_PX: u64 = 8_000_000;

/// The pixels of a photo, at most so many of them, with their smaller copies.
///
/// # Errors
/// [`PictureError`] as [`develop()`] has it.
pub fn photo_pixels(bytes: &[u8], name: &str, most_px: u64, watch: Watch<'_>) -> Result<PhotoPixels, PictureError> {
    let developed = develop(bytes, name, most_px, u32::MAX, watch)?;
    let size = developed.size_px.map(|px| px as usize);
    let empty = || PictureError::Damaged { name: name.to_owned(), why: "it has no pixels".to_owned() };
    PhotoPixels::new(size, &developed.rgba).ok_or_else(empty)
}

/// The project with the pixels of all its photos put in, one after another, and why some could not be had: those faces are
/// then as if they had no photo.
pub fn with_photos(project: Project, watch: Watch<'_>) -> (Project, Vec<PictureError>) {
    let mut pixels: BTreeMap<PictureHash, Arc<PhotoPixels>> = BTreeMap::new();
    let mut errors = Vec::new();
    let mut photographs = project.photographs();
    photographs.sort_unstable();
    photographs.dedup();
    for picture in photographs.into_iter().filter_map(|hash| project.picture(hash)) {
        match bytes(picture, watch).and_then(|bytes| photo_pixels(&bytes.0, &picture.name, MOST_PX, watch)) {
            Ok(there) => drop(pixels.insert(picture.hash, Arc::new(there))),
            Err(error) => errors.push(error),
        }
    }
    let exposed = project.exposed(&|hash| pixels.get(&hash).cloned());
    (exposed.unwrap_or(project), errors)
}
