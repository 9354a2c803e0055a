//! Where pictures beside a project lie: a whole path while it is open, one from the project's own folder in its file, so that
//! both can be moved together.

use cornerwise_project::{Kept, Picture, Project};
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

/// The project with the pictures beside it named from the folder of its file.
pub fn with_relative_pictures(project: &Project, file: &Path) -> Project {
    let Some(folder) = folder_of(file) else { return project.clone() };
    with_paths(project, |path| relative(path, &folder))
}

/// The project with the pictures beside it named by their whole paths.
pub fn with_whole_pictures(project: &Project, file: &Path) -> Project {
    let Some(folder) = folder_of(file) else { return project.clone() };
    with_paths(project, |path| path.is_relative().then(|| plain(&folder.join(path))))
}

fn folder_of(file: &Path) -> Option<PathBuf> {
    std::path::absolute(file).ok()?.parent().map(Path::to_owned)
}

fn with_paths(project: &Project, change: impl Fn(&Path) -> Option<PathBuf>) -> Project {
    let mut project = project.clone();
    for picture in &mut project.pictures {
        if let Kept::Beside(path) = &picture.kept
            && let Some(path) = change(Path::new(path))
        {
            // With strokes as everywhere, so that a project is the same on every system.
            let path = path.to_string_lossy().replace(std::path::MAIN_SEPARATOR, "/");
            *picture = Arc::new(Picture { kept: Kept::Beside(path), ..Picture::clone(picture) });
        }
    }
    project
}

/// The way from a folder to a file; nothing where there is none, as between two drives.
fn relative(path: &Path, folder: &Path) -> Option<PathBuf> {
    if path.is_relative() {
        return None;
    }
    let (to, from): (Vec<Component<'_>>, Vec<Component<'_>>) =
        (path.components().collect(), folder.components().collect());
    let shared = to.iter().zip(&from).take_while(|(a, b)| a == b).count();
    // Only the root, or not even that: they have nothing to do with each other.
    if shared < 2 {
        return None;
    }
    let up = from[shared..].iter().map(|_| Component::ParentDir);
    Some(up.chain(to[shared..].iter().copied()).collect())
}

/// A path without `..` where what it takes back is there to be taken.
fn plain(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in path.components() {
        match part {
            Component::ParentDir if matches!(plain.components().next_back(), Some(Component::Normal(_))) => {
                plain.pop();
            }
            Component::CurDir => {}
            part => plain.push(part),
        }
    }
    plain
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;

    #[test]
    fn the_way_there_and_back_is_the_same_path() {
        for (path, folder, way) in [
            ("/home/maker/legs/photo.jpg", "/home/maker/legs", "photo.jpg"),
            ("/home/maker/photos/a b.png", "/home/maker/legs/oak", "../../photos/a b.png"),
            ("/home/maker/legs/in/deep.png", "/home/maker/legs", "in/deep.png"),
        ] {
            assert_eq!(relative(Path::new(path), Path::new(folder)), Some(PathBuf::from(way)));
            assert_eq!(plain(&Path::new(folder).join(way)), PathBuf::from(path));
        }
        assert_eq!(relative(Path::new("/mnt/stick/photo.jpg"), Path::new("/home/maker")), None);
    }
}
