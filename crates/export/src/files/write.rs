use super::{MAX_FILE_BYTES, bytes_of_pictures, dialect};
use crate::pictures::with_relative_pictures;
use atomic_write_file::AtomicWriteFile;
use cornerwise_project::{Project, ProjectError};
use ron::ser::PrettyConfig;
use std::ffi::OsString;
use std::fs;
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use thiserror::Error;

/// At the top of every saved file, for whoever opens it with an editor.
const HEADER: &str = "\
// A Cornerwise project. A bare number is millimetres; text carries its unit: \"2 3/4 in\", \"70 mm\".
// Points are listed from the top; a handle's reach is measured along the leg.
";

/// How far lines are broken and indented: a point, a layer and a shape keep to one line each.
const BROKEN_TO: usize = 4;

/// Why a project or another file was not saved. A file that was there before is untouched.
#[derive(Debug, Error)]
pub enum SaveError {
    /// The project is not sound, and would not open again.
    #[error("this project cannot be saved, because it would not open again: {0}")]
    Project(#[from] ProjectError),
    /// The project is larger than what is read back.
    #[error("this project has {0} bytes as a file, more than would be read back: split it in two")]
    TooBig(usize),
    /// The text could not be made.
    #[error("this project cannot be written as text: {0}")]
    Text(String),
    /// The path is a folder, or has no file name.
    #[error("this is a folder: add a file name to it: {0}")]
    Folder(PathBuf),
    /// The path is a device, a pipe or a socket.
    #[error("this is a device or a pipe, not a file: save under another name: {0}")]
    NotAFile(PathBuf),
    /// The folder is not there.
    #[error("there is no such folder: make it first, or save in another one: {0}")]
    NoFolder(PathBuf),
    /// The file or its whole disk is protected from writing.
    #[error("the file is protected from writing: lift that, or save under another name: {0}")]
    Protected(PathBuf),
    /// The folder may not be written to.
    #[error("you may not write in this folder: save in another one: {0}")]
    Denied(PathBuf),
    /// The disk, or this user's share of it, is full.
    #[error("the disk is full: make room, or save on another one: {0}")]
    Full(PathBuf),
    /// Something else went wrong.
    #[error("the file was not saved ({source}); save it in another folder: {path}")]
    Other {
        /// Which file.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
}

/// The text of a project file. The same project gives the same text, byte for byte.
///
/// # Errors
/// [`SaveError`] when the project is not sound, so that no file is written that does not open again.
pub fn write_text(project: &Project) -> Result<String, SaveError> {
    project.check()?;
    let pretty = PrettyConfig::new().new_line("\n").depth_limit(BROKEN_TO).struct_names(false);
    let body = dialect().to_string_pretty(project, pretty).map_err(|error| SaveError::Text(error.to_string()))?;
    let text = format!("{HEADER}{body}\n");
    let too_big = text.len() > MAX_FILE_BYTES && text.len() - bytes_of_pictures(&text) > MAX_FILE_BYTES;
    if too_big { Err(SaveError::TooBig(text.len())) } else { Ok(text) }
}

/// Saves a project, all or nothing: the text is written beside the file and then put in its place, so that a crash or
/// a full disk leaves the file as it was. The file keeps its permissions; a symlink stays one.
///
/// # Errors
/// [`SaveError`] names the path and what to do.
pub fn save(project: &Project, path: &Path) -> Result<(), SaveError> {
    // Pictures beside it are named from its own folder, so that both can go elsewhere together.
    let text = if project.pictures.is_empty() {
        write_text(project)?
    } else {
        write_text(&with_relative_pictures(project, path))?
    };
    save_bytes(path, text.as_bytes())
}

/// Saves any file, a PDF or a picture, all or nothing, as [`save`] does a project.
///
/// # Errors
/// [`SaveError`] names the path and what to do.
pub fn save_bytes(path: &Path, bytes: &[u8]) -> Result<(), SaveError> {
    let target = real_path(path).map_err(|error| in_words(error, path))?;
    match fs::metadata(&target) {
        Ok(there) if there.is_dir() => return Err(SaveError::Folder(path.to_owned())),
        // A new file would take the device's place.
        Ok(there) if !there.is_file() => return Err(SaveError::NotAFile(path.to_owned())),
        // Putting a new file in its place would pass over the protection.
        Ok(there) if there.permissions().readonly() => return Err(SaveError::Protected(path.to_owned())),
        Ok(_) | Err(_) => {}
    }
    write_atomically(bytes, &target).map_err(|error| in_words(error, path))
}

fn write_atomically(bytes: &[u8], target: &Path) -> io::Result<()> {
    let mut file = AtomicWriteFile::open(target)?;
    file.write_all(bytes)?;
    file.commit()
}

/// Where the file really lies: with every symlink followed, because an atomic write replaces the name it is given. The
/// file itself need not exist yet, also when a symlink points to it.
fn real_path(path: &Path) -> io::Result<PathBuf> {
    const MOST_LINKS: usize = 40; // what Linux follows itself
    let mut path = path.to_owned();
    for _ in 0..MOST_LINKS {
        match path.canonicalize() {
            Err(error) if error.kind() == ErrorKind::NotFound => {}
            found_or_failed => return found_or_failed,
        }
        let name: OsString = path.file_name().ok_or(ErrorKind::IsADirectory)?.to_owned();
        let folder = match path.parent() {
            Some(parent) if !parent.as_os_str().is_empty() => parent,
            Some(_) | None => Path::new("."),
        };
        let folder = folder.canonicalize()?;
        let here = folder.join(name);
        match fs::read_link(&here) {
            Ok(to) => path = folder.join(to),
            Err(_) => return Ok(here),
        }
    }
    Err(io::Error::other("too many symlinks"))
}

pub(super) fn in_words(error: io::Error, path: &Path) -> SaveError {
    let path = path.to_owned();
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => SaveError::NoFolder(path),
        ErrorKind::IsADirectory => SaveError::Folder(path),
        ErrorKind::PermissionDenied => SaveError::Denied(path),
        ErrorKind::ReadOnlyFilesystem => SaveError::Protected(path),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => SaveError::Full(path),
        _ => SaveError::Other { path, source: error },
    }
}
