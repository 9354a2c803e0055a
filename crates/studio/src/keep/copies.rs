//! Recovery copies: what a studio that ended without saving left behind.
//!
//! A copy is a project file like any other, with one more comment that says where it belongs. Each running studio has one
//! at most, and holds a lock beside it; a copy whose lock is free was left by a studio that is gone.

use std::fs::{self, File};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::io::Read;
use std::path::{Path, PathBuf};

use cornerwise_export::files::{self, MAX_FILE_BYTES};
use cornerwise_export::{picture, pictures};
use cornerwise_geometry::Camera;
use cornerwise_project::Project;
use egui::ColorImage;
use serde::{Deserialize, Serialize};

use super::{Folders, ago};
use crate::view::{START_TILT_DEG, START_TURN_DEG};

/// The size of pictures in lists, pixels.
pub const PICTURE: [u32; 2] = [72, 168];

/// Where a copy belongs.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct About {
    /// The project's file; nothing where it was never saved.
    pub file: Option<PathBuf>,
    /// What was in that file when it was opened or saved last.
    pub stamp: Option<u64>,
    /// When the copy was kept, seconds since 1970.
    pub kept: u64,
}

/// What the project's file is now, beside the copy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Beside {
    /// The project was never saved.
    NeverSaved,
    /// The file has gone, or cannot be opened.
    Gone(PathBuf),
    /// The file is as it was: the copy is newer. Which legs differ, by their letters, where it is the legs that do.
    Older(PathBuf, String),
    /// The file was changed after the copy's project was opened: both hold work.
    Changed(PathBuf, String),
}

/// A copy that a studio left behind. As long as this is held, no other studio offers it.
pub struct Crashed {
    /// Its name among the copies.
    pub name: String,
    /// What it holds, or why that cannot be read.
    pub found: Result<Project, String>,
    /// Where it belongs.
    pub about: About,
    /// The file it belongs to.
    pub beside: Beside,
    /// Its first leg.
    pub picture: Option<ColorImage>,
    /// Where it lies.
    pub path: PathBuf,
    _lock: File,
}

impl Crashed {
    /// What it holds, when it was kept, and how its file stands to it, a line each.
    pub fn words(&self, now: u64) -> [String; 2] {
        let kept = ago(self.about.kept, now);
        let what = match &self.found {
            Ok(project) => {
                let legs = project.designs.len();
                format!("{}, {legs} leg{}, kept {kept}", project.name, if legs == 1 { "" } else { "s" })
            }
            Err(error) => format!("A copy that cannot be read ({error})"),
        };
        let name = |path: &Path| path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
        let differs = |letters: &str| match letters.chars().count() {
            0 => String::new(),
            1 => format!(" Leg {letters} differs."),
            _ => format!(" Legs {} differ.", letters.chars().map(String::from).collect::<Vec<_>>().join(", ")),
        };
        let beside = match &self.beside {
            Beside::NeverSaved => "It was never saved to a file.".to_owned(),
            Beside::Gone(path) => format!("Its file {} is no longer there.", name(path)),
            Beside::Older(path, letters) => format!("Newer than its file {}.{}", name(path), differs(letters)),
            Beside::Changed(path, letters) => format!(
                "Its file {} was changed after this was opened: both hold work.{}",
                name(path),
                differs(letters)
            ),
        };
        [what, beside]
    }

    /// Takes the copy away for good.
    pub fn discard(self, folders: &Folders) {
        // What cannot be taken away is offered again, which is the safe side.
        let _ = fs::remove_file(&self.path);
        let _ = fs::remove_file(folders.recovery().join(lock_name(&self.name)));
    }
}

/// The file of a copy.
pub fn file_name(name: &str) -> String {
    format!("{name}.ron")
}

/// The lock of a copy.
pub fn lock_name(name: &str) -> String {
    format!("{name}.lock")
}

const ABOUT: &str = "// about: ";

/// A copy as its file.
pub fn text(project: &Project, about: &About) -> Result<String, String> {
    let plain = ron::ser::to_string(about).map_err(|error| error.to_string())?;
    let project = files::write_text(project).map_err(|error| error.to_string())?;
    Ok(format!("// Kept in case the studio ends before its work is saved.\n{ABOUT}{plain}\n{project}"))
}

fn about(text: &str) -> About {
    let line = text.lines().take(4).find_map(|line| line.strip_prefix(ABOUT));
    line.and_then(|line| ron::from_str(line).ok()).unwrap_or_default()
}

/// What is in a file, as a number that is another one when it has changed; nothing where it cannot be read.
pub fn stamp(path: &Path) -> Option<u64> {
    let mut bytes = Vec::new();
    File::open(path).ok()?.take(MAX_FILE_BYTES as u64 + 1).read_to_end(&mut bytes).ok()?;
    let mut hasher = DefaultHasher::new();
    bytes.hash(&mut hasher);
    Some(hasher.finish())
}

/// All copies that studios which are gone left behind, the newest first. One that is just what its file holds is taken
/// away: nothing is lost with it.
pub fn crashed(folders: &Folders) -> Vec<Crashed> {
    let folder = folders.recovery();
    let Ok(entries) = fs::read_dir(&folder) else { return Vec::new() };
    let mut all = Vec::new();
    for path in entries.filter_map(|entry| Some(entry.ok()?.path())) {
        let Some(name) = path.file_name().and_then(|name| name.to_str()) else { continue };
        let Some(name) = name.strip_suffix(".ron").filter(|name| !name.starts_with('.')) else { continue };
        let Ok(lock) = File::create(folder.join(lock_name(name))) else { continue };
        if lock.try_lock().is_err() {
            continue; // its studio still runs
        }
        if let Some(one) = Crashed::read(name.to_owned(), path, lock) {
            all.push(one);
        }
    }
    all.sort_by(|a, b| (b.about.kept, &b.name).cmp(&(a.about.kept, &a.name)));
    all
}

impl Crashed {
    fn read(name: String, path: PathBuf, lock: File) -> Option<Crashed> {
        let about = fs::read_to_string(&path).map(|text| about(&text)).unwrap_or_default();
        let found = files::load(&path).map_err(|error| error.to_string());
        let beside = match (&about.file, &found) {
            (None, _) => Beside::NeverSaved,
            (Some(file), Ok(project)) => match files::load(file) {
                Ok(saved) if saved == *project => {
                    let _ = fs::remove_file(&path);
                    if let Some(folder) = path.parent() {
                        let _ = fs::remove_file(folder.join(lock_name(&name)));
                    }
                    return None;
                }
                Ok(saved) if stamp(file) == about.stamp => Beside::Older(file.clone(), differing(&saved, project)),
                Ok(saved) => Beside::Changed(file.clone(), differing(&saved, project)),
                Err(_) => Beside::Gone(file.clone()),
            },
            (Some(file), Err(_)) => Beside::Gone(file.clone()),
        };
        let picture = found.as_ref().ok().and_then(first_leg);
        Some(Crashed { name, found, about, beside, picture, path, _lock: lock })
    }
}

/// The letters of the legs that are not the same in both.
fn differing(saved: &Project, copy: &Project) -> String {
    copy.designs.iter().filter(|design| saved.design(design.id) != Some(*design)).map(|design| design.letter).collect()
}

fn first_leg(project: &Project) -> Option<ColorImage> {
    // In its own wood, even where that is known by photos; one that cannot be had is told once the copy is opened.
    let (project, _) = pictures::with_photos(project.clone(), &|_, _| true);
    let design = project.designs.first()?;
    let camera = Camera::new(START_TURN_DEG, START_TILT_DEG);
    let rgb = picture::pixels_of(&design.leg().ok()?, &design.figure(), &camera, 1.0, PICTURE).ok()?;
    Some(ColorImage::from_rgb(PICTURE.map(|side| side as usize), &rgb))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_copy_is_a_project_file_that_says_where_it_belongs() {
        let project = Project::new();
        let about_it = About { file: Some("a b/\"leg\".ron".into()), stamp: Some(u64::MAX), kept: 12 };
        let text = text(&project, &about_it).unwrap();
        assert_eq!(files::read_text(&text), Ok(project));
        assert_eq!(about(&text), about_it);
        assert_eq!(about("(format: 1)"), About::default());
    }

    #[test]
    fn a_stamp_changes_with_a_byte() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        assert_eq!(stamp(&path), None);
        fs::write(&path, "one").unwrap();
        let one = stamp(&path);
        fs::write(&path, "two").unwrap();
        assert!(one.is_some() && stamp(&path).is_some() && one != stamp(&path));
    }
}
