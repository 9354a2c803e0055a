//! The projects opened or saved last, each with a picture of its first leg.

use std::fs::{self, File};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::io::BufReader;
use std::path::{Path, PathBuf};

use cornerwise_export::files::{self, SaveError};
use cornerwise_export::picture::picture_of;
use cornerwise_geometry::Camera;
use cornerwise_project::Project;
use egui::ColorImage;
use serde::{Deserialize, Serialize};

use super::copies::PICTURE;
use super::{Folders, now};
use crate::view::{START_TILT_DEG, START_TURN_DEG};

/// How many are kept.
const MOST: usize = 12;
/// The longest list that is read, bytes.
const MOST_BYTES: u64 = 200_000;

/// One of them, as it is shown.
#[derive(Clone, Debug)]
pub struct Recent {
    /// Its file.
    pub path: PathBuf,
    /// The project's name.
    pub name: String,
    /// Whether the file is there.
    pub there: bool,
    /// Its first leg.
    pub picture: Option<ColorImage>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
struct Entry {
    path: PathBuf,
    name: String,
    opened: u64,
}

/// The list, the newest first, with pictures.
pub fn list(folders: &Folders) -> Vec<Recent> {
    let shown = |entry: Entry| {
        let picture = read_png(&picture_path(folders, &entry.path));
        Recent { there: entry.path.is_file(), picture, path: entry.path, name: entry.name }
    };
    read(folders).into_iter().map(shown).collect()
}

/// Puts a project at the head of the list.
///
/// # Errors
/// Where the list or the picture cannot be written.
pub fn opened(folders: &Folders, path: &Path, project: &Project) -> Result<(), SaveError> {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    let mut entries = read(folders);
    entries.retain(|entry| entry.path != path);
    entries.insert(0, Entry { path: path.clone(), name: project.name.clone(), opened: now() });
    write(folders, entries)?;
    if let Some(png) = first_leg(project) {
        // The folder may not be there yet; if it cannot be made, the save says so.
        let _ = fs::create_dir_all(folders.pictures());
        files::save_bytes(&picture_path(folders, &path), &png)?;
    }
    Ok(())
}

/// Takes a file off the list.
///
/// # Errors
/// Where the list cannot be written.
pub fn forget(folders: &Folders, path: &Path) -> Result<(), SaveError> {
    let mut entries = read(folders);
    entries.retain(|entry| entry.path != path);
    let _ = fs::remove_file(picture_path(folders, path));
    write(folders, entries)
}

/// A list that cannot be read is an empty one.
fn read(folders: &Folders) -> Vec<Entry> {
    let path = folders.recent();
    if fs::metadata(&path).map_or(true, |file| file.len() > MOST_BYTES) {
        return Vec::new();
    }
    fs::read_to_string(path).ok().and_then(|text| ron::from_str(&text).ok()).unwrap_or_default()
}

fn write(folders: &Folders, mut entries: Vec<Entry>) -> Result<(), SaveError> {
    for gone in entries.drain(MOST.min(entries.len())..) {
        let _ = fs::remove_file(picture_path(folders, &gone.path));
    }
    let pretty = ron::ser::PrettyConfig::new().new_line("\n");
    let text = ron::ser::to_string_pretty(&entries, pretty).map_err(|error| SaveError::Text(error.to_string()))?;
    let _ = fs::create_dir_all(&folders.data);
    files::save_bytes(&folders.recent(), text.as_bytes())
}

fn picture_path(folders: &Folders, path: &Path) -> PathBuf {
    let mut hasher = DefaultHasher::new();
    path.hash(&mut hasher);
    folders.pictures().join(format!("{:016x}.png", hasher.finish()))
}

fn first_leg(project: &Project) -> Option<Vec<u8>> {
    let design = project.designs.first()?;
    let camera = Camera::new(START_TURN_DEG, START_TILT_DEG);
    picture_of(&design.leg().ok()?, &design.figure(), &camera, 1.0, PICTURE).ok()
}

/// One of our own pictures; nothing where it is not there or is not one of ours.
fn read_png(path: &Path) -> Option<ColorImage> {
    let mut reader = png::Decoder::new(BufReader::new(File::open(path).ok()?)).read_info().ok()?;
    let info = reader.info();
    let ours = [info.width, info.height] == PICTURE && info.color_type == png::ColorType::Rgb;
    let mut rgb = vec![0; 3 * (PICTURE[0] * PICTURE[1]) as usize];
    (ours && reader.output_buffer_size() == Some(rgb.len())).then_some(())?;
    reader.next_frame(&mut rgb).ok()?;
    Some(ColorImage::from_rgb(PICTURE.map(|side| side as usize), &rgb))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_opened_comes_first_once_and_a_missing_file_is_known_to_be_missing() {
        let folder = tempfile::tempdir().unwrap();
        let folders = Folders::within(folder.path());
        assert!(list(&folders).is_empty());
        let file = |name: &str| folder.path().join(name);
        fs::write(file("a.ron"), "").unwrap();
        for name in ["a.ron", "b.ron", "a.ron"] {
            opened(&folders, &file(name), &Project::new()).unwrap();
        }
        let all = list(&folders);
        assert_eq!(
            all.iter().map(|one| (one.path.clone(), one.there)).collect::<Vec<_>>(),
            [(file("a.ron"), true), (file("b.ron"), false)]
        );
        assert!(all.iter().all(|one| one.picture.as_ref().is_some_and(|picture| picture.size == [72, 168])));
        forget(&folders, &file("b.ron")).unwrap();
        assert_eq!(list(&folders).len(), 1);
        for i in 0..20 {
            opened(&folders, &file(&format!("{i}.ron")), &Project::new()).unwrap();
        }
        assert_eq!(list(&folders).len(), MOST);
        assert_eq!(fs::read_dir(folders.pictures()).unwrap().count(), MOST, "pictures nobody needs go too");
        fs::write(folders.recent(), "no list").unwrap();
        assert!(list(&folders).is_empty(), "a broken list is an empty one");
    }
}
