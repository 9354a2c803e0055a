//! Pictures of a project: their files read, looked at and developed, that is decoded and made as small as what is shown
//! needs. PNG and JPEG; colours are taken as sRGB, turned upright as the camera says.
//!
//! All of it takes a while, so it is done off the thread that draws: a [`Watch`] is told how far it is and may stop it.

mod develop;
mod photos;
mod places;

pub use develop::{Developed, develop};
pub use photos::{photo_pixels, with_photos};
pub use places::{with_relative_pictures, with_whole_pictures};

use cornerwise_project::{Kept, MAX_NAME_CHARS, Picture, PictureBytes, PictureHash};
use image::ImageFormat;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use thiserror::Error;

use crate::files::{SaveError, save_bytes};

/// Most pixels of a picture that is taken, 100 million: as a whole it takes up to four bytes a pixel for the moment in which
/// it is decoded.
pub const MOST_PIXELS: u64 = 100_000_000;
/// Most bytes of a picture's file.
pub const MOST_BYTES: u64 = 80_000_000;
/// Pictures of up to so many bytes are kept inside the project unless the maker says otherwise.
pub const INSIDE_BYTES: usize = 3_000_000;

/// Is told what is being done and which share of it is done; says whether to go on.
pub type Watch<'a> = &'a dyn Fn(&'static str, f32) -> bool;

/// Why there is no picture. Nothing else is changed by it.
#[derive(Debug, Error)]
pub enum PictureError {
    /// The file is not where it was.
    #[error("the picture {name} is not there: put it back, or choose where it is now: {path}")]
    Missing {
        /// The picture's name.
        name: String,
        /// Where it was looked for.
        path: String,
    },
    /// The file cannot be read.
    #[error("the picture cannot be read ({source}): {path}")]
    Read {
        /// Which file.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// The file has other bytes than when it was laid in the project.
    #[error(
        "the picture {name} has changed since it was put in this project: put the old file back, or take it as it is now: {path}"
    )]
    Changed {
        /// The picture's name.
        name: String,
        /// Where it is.
        path: String,
    },
    /// The bytes inside the project are not those that were kept.
    #[error("the picture {name} is damaged inside the project's file: put it in again")]
    DamagedInside {
        /// The picture's name.
        name: String,
    },
    /// Neither PNG nor JPEG.
    #[error("the picture {name} is neither a PNG nor a JPEG: save it as one of these")]
    Kind {
        /// The picture's name.
        name: String,
    },
    /// The picture's data end early or make no sense.
    #[error("the picture {name} is damaged ({why}): copy it again from where it came")]
    Damaged {
        /// The picture's name.
        name: String,
        /// What is wrong with it.
        why: String,
    },
    /// More pixels than are taken.
    #[error(
        "the picture {name} has {width} by {height} pixels, and at most {} million are taken: make it smaller",
        MOST_PIXELS / 1_000_000
    )]
    TooLarge {
        /// The picture's name.
        name: String,
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
    /// More bytes than are taken.
    #[error("the picture's file has more than {} million bytes: make it smaller: {path}", MOST_BYTES / 1_000_000)]
    TooBig {
        /// Which file.
        path: PathBuf,
    },
    /// The picture cannot be put beside the project.
    #[error("the picture was not put beside the project: {0}")]
    Save(#[from] SaveError),
    /// There is another file of that name beside the project.
    #[error("another file of this name lies beside the project: rename that one first: {0}")]
    NameTaken(PathBuf),
    /// The maker stopped it.
    #[error("stopped")]
    Stopped,
}

/// A picture as it is taken from a file: what the project keeps of it, and its bytes.
pub struct Taken {
    /// What the project keeps: inside when it is small, beside otherwise.
    pub picture: Picture,
    /// The bytes of its file.
    pub bytes: PictureBytes,
}

/// Takes a picture from a file.
///
/// # Errors
/// [`PictureError`] where it is none, is too large or cannot be read.
pub fn take(path: &Path, watch: Watch<'_>) -> Result<Taken, PictureError> {
    let bytes = read(path, watch)?;
    let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
    let printable =
        |c: &char| !c.is_control() && !('\u{2028}'..='\u{202e}').contains(c) && !('\u{2066}'..='\u{2069}').contains(c);
    let name: String = name.chars().filter(printable).take(MAX_NAME_CHARS).collect();
    let [width_px, height_px] = develop::size_px(&bytes, &name)?;
    let bytes = PictureBytes(bytes.into());
    let kept = if bytes.0.len() <= INSIDE_BYTES {
        Kept::Inside(bytes.clone())
    } else {
        Kept::Beside(std::path::absolute(path).unwrap_or_else(|_| path.to_owned()).to_string_lossy().into_owned())
    };
    let picture = Picture { hash: PictureHash::of(&bytes.0), name, width_px, height_px, kept };
    Ok(Taken { picture, bytes })
}

/// The bytes of a picture of the project, from wherever it is kept, checked against its hash.
///
/// # Errors
/// [`PictureError`] where the file is missing or changed, or the bytes inside are damaged.
pub fn bytes(picture: &Picture, watch: Watch<'_>) -> Result<PictureBytes, PictureError> {
    let name = picture.name.clone();
    match &picture.kept {
        Kept::Inside(bytes) if PictureHash::of(&bytes.0) == picture.hash => Ok(bytes.clone()),
        Kept::Inside(_) => Err(PictureError::DamagedInside { name }),
        Kept::Beside(path) => {
            let bytes = match read(Path::new(path), watch) {
                Err(PictureError::Read { source, .. }) if source.kind() == io::ErrorKind::NotFound => {
                    return Err(PictureError::Missing { name, path: path.clone() });
                }
                read => read?,
            };
            if PictureHash::of(&bytes) == picture.hash {
                Ok(PictureBytes(bytes.into()))
            } else {
                Err(PictureError::Changed { name, path: path.clone() })
            }
        }
    }
}

/// The picture kept inside the project from now on.
///
/// # Errors
/// [`PictureError`] where its bytes cannot be had.
pub fn moved_inside(picture: &Picture, watch: Watch<'_>) -> Result<Picture, PictureError> {
    Ok(Picture { kept: Kept::Inside(bytes(picture, watch)?), ..picture.clone() })
}

/// The picture kept in a file in this folder from now on. The file is written, all or nothing, unless it is there already.
///
/// # Errors
/// [`PictureError`] where its bytes cannot be had, or another file of its name is there.
pub fn moved_beside(picture: &Picture, folder: &Path, watch: Watch<'_>) -> Result<Picture, PictureError> {
    let bytes = bytes(picture, watch)?;
    // A name from a project file is not let out of the folder.
    let plain = Path::new(&picture.name).file_name().map_or_else(|| "picture".into(), |name| name.to_os_string());
    let path = folder.join(plain);
    match fs::metadata(&path) {
        Ok(_) if read(&path, watch).is_ok_and(|there| PictureHash::of(&there) == picture.hash) => {}
        Ok(_) => return Err(PictureError::NameTaken(path)),
        Err(_) => save_bytes(&path, &bytes.0)?,
    }
    let path = std::path::absolute(&path).unwrap_or(path);
    Ok(Picture { kept: Kept::Beside(path.to_string_lossy().into_owned()), ..picture.clone() })
}

/// Reads a file, told as it goes.
fn read(path: &Path, watch: Watch<'_>) -> Result<Vec<u8>, PictureError> {
    let fails = |source| PictureError::Read { path: path.to_owned(), source };
    // Looked at before it is opened: opening a pipe waits for somebody to write into it.
    let about = fs::metadata(path).map_err(fails)?;
    if !about.is_file() {
        return Err(fails(io::Error::new(io::ErrorKind::InvalidInput, "it is not a file")));
    }
    if about.len() > MOST_BYTES {
        return Err(PictureError::TooBig { path: path.to_owned() });
    }
    const CHUNK: u64 = 1 << 20;
    let mut file = File::open(path).map_err(fails)?;
    let mut bytes = Vec::with_capacity(about.len() as usize);
    loop {
        if !watch("Reading", bytes.len() as f32 / about.len().max(1) as f32) {
            return Err(PictureError::Stopped);
        }
        if (&mut file).take(CHUNK).read_to_end(&mut bytes).map_err(fails)? == 0 {
            return Ok(bytes);
        }
        if bytes.len() as u64 > MOST_BYTES {
            return Err(PictureError::TooBig { path: path.to_owned() }); // it grows under our hands
        }
    }
}

/// What kind of picture bytes are, by how they begin.
fn kind(bytes: &[u8]) -> Option<ImageFormat> {
    if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        Some(ImageFormat::Png)
    } else if bytes.starts_with(b"\xff\xd8\xff") {
        Some(ImageFormat::Jpeg)
    } else {
        None
    }
}

#[cfg(test)]
mod photo_tests;
#[cfg(test)]
mod tests;
