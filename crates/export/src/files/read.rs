use super::nesting::{self, Trouble};
use super::{MAX_FILE_BYTES, MAX_WITH_PICTURES, bytes_of_pictures, dialect};
use crate::pictures::with_whole_pictures;
use cornerwise_project::{FORMAT, MAX_DESIGNS, MAX_POINTS_IN_PROJECT, Project, ProjectError};
use ron::error::{Error, Position, SpannedError};
use serde::Deserialize;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use thiserror::Error as ThisError;

/// Why a project file was not opened. Nothing else is changed by the attempt.
#[derive(Debug, ThisError)]
pub enum LoadError {
    /// The file is not there or cannot be read.
    #[error("the file cannot be read ({}): {path}", why(source))]
    Read {
        /// Which file.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// The path is a folder.
    #[error("this is a folder, not a project file: {path}")]
    Folder {
        /// Which one.
        path: PathBuf,
    },
    /// The path is a device, a pipe or a socket, which might never end.
    #[error("this is a device or a pipe, not a file: save what comes from it as a file and open that: {path}")]
    NotAFile {
        /// Which one.
        path: PathBuf,
    },
    /// What is in the file is not a project.
    #[error("{fault}: {path}")]
    File {
        /// Which file.
        path: PathBuf,
        /// What is wrong with it.
        fault: LoadFault,
    },
}

/// What is wrong with the text of a project file. Lines and columns count from 1; columns count characters.
#[derive(Clone, Debug, PartialEq, ThisError)]
pub enum LoadFault {
    /// Far larger than any project.
    #[error("the file has more than {} million bytes, and no project needs as many", MAX_FILE_BYTES / 1_000_000)]
    TooBig,
    /// The file is not UTF-8.
    #[error("line {line}, column {column}: this is not UTF-8 text (save the file as plain UTF-8 text)")]
    NotUtf8 {
        /// The line.
        line: usize,
        /// The column.
        column: usize,
    },
    /// The file starts with a byte-order mark.
    #[error("line 1, column 1: the file starts with a byte-order mark ({0}): save it as UTF-8 without one")]
    ByteOrderMark(&'static str),
    /// A newer version of this program wrote the file.
    #[error(
        "the file was made by a newer Cornerwise (its format is {format}, this one reads format {FORMAT}): open it with \
         that one"
    )]
    Newer {
        /// The file's format.
        format: u32,
    },
    /// There never was such a format.
    #[error("the file says format: {format}, and there is no such format: this Cornerwise reads format {FORMAT}")]
    NoSuchFormat {
        /// The file's format.
        format: u32,
    },
    /// The file does not say its format.
    #[error("the file does not say which format it is: a project file starts with (format: {FORMAT}, …")]
    NoFormat,
    /// The text is not a project at one place.
    #[error("line {line}, column {column}: {what}")]
    Text {
        /// The line.
        line: usize,
        /// The column.
        column: usize,
        /// What was expected there, or is not understood.
        what: String,
    },
    /// The text is a project, but one that cannot be.
    #[error(transparent)]
    Project(#[from] ProjectError),
}

/// What a system's error means to a maker.
fn why(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file".to_owned(),
        io::ErrorKind::PermissionDenied => "you may not read it: ask whoever it belongs to".to_owned(),
        io::ErrorKind::NotADirectory => "its folder is no folder".to_owned(),
        _ => {
            // What the system says, without its number.
            let words = error.to_string();
            words.split_once(" (os error").map_or(words.clone(), |(words, _)| words.to_lowercase())
        }
    }
}

/// Opens a project file.
///
/// # Errors
/// [`LoadError`] names the file, and the line and column or the part of the project.
pub fn load(path: &Path) -> Result<Project, LoadError> {
    let fails = |source| LoadError::Read { path: path.to_owned(), source };
    // Looked at before it is opened: opening a pipe waits for somebody to write into it.
    let kind = fs::metadata(path).map_err(fails)?.file_type();
    if kind.is_dir() {
        return Err(LoadError::Folder { path: path.to_owned() });
    }
    if !kind.is_file() {
        return Err(LoadError::NotAFile { path: path.to_owned() });
    }
    let mut bytes = Vec::new();
    // One byte more than is taken tells "too big" apart, whatever a growing file would still give.
    let most = MAX_WITH_PICTURES as u64 + 1;
    File::open(path).map_err(fails)?.take(most).read_to_end(&mut bytes).map_err(fails)?;
    let project = read_bytes(&bytes).map_err(|fault| LoadError::File { path: path.to_owned(), fault })?;
    Ok(if project.pictures.is_empty() { project } else { with_whole_pictures(&project, path) })
}

/// Reads a project from the bytes of a file.
///
/// # Errors
/// [`LoadFault`] names the line and column or the part of the project.
pub fn read_bytes(bytes: &[u8]) -> Result<Project, LoadFault> {
    if bytes.len() > MAX_WITH_PICTURES {
        return Err(LoadFault::TooBig);
    }
    for (mark, name) in [(&b"\xef\xbb\xbf"[..], "UTF-8"), (b"\xff\xfe", "UTF-16"), (b"\xfe\xff", "UTF-16")] {
        if bytes.starts_with(mark) {
            return Err(LoadFault::ByteOrderMark(name));
        }
    }
    match str::from_utf8(bytes) {
        Ok(text) => read_text(text),
        Err(error) => {
            let good = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
            let line = 1 + good.matches('\n').count();
            let column = 1 + good.chars().rev().take_while(|c| *c != '\n').count();
            Err(LoadFault::NotUtf8 { line, column })
        }
    }
}

/// Reads a project from the text of a file: the size first, then the format, the text, and every limit.
///
/// # Errors
/// [`LoadFault`] names the line and column or the part of the project.
pub fn read_text(text: &str) -> Result<Project, LoadFault> {
    if text.len() > MAX_FILE_BYTES
        && (text.len() > MAX_WITH_PICTURES || text.len() - bytes_of_pictures(text) > MAX_FILE_BYTES)
    {
        return Err(LoadFault::TooBig);
    }
    if let Some((place, trouble)) = nesting::trouble(text) {
        let what = match trouble {
            Trouble::TooDeep => in_words(&Error::ExceededRecursionLimit),
            Trouble::TooMany => format!(
                "more brackets than a project needs ({MAX_POINTS_IN_PROJECT} points and {MAX_DESIGNS} designs at most)"
            ),
        };
        return Err(LoadFault::Text { line: place.line, column: place.column, what });
    }
    // A newer file has fields that are unknown here, so its format is read without looking at anything else. A text
    // that is broken for that is broken for the project too, and there the message is better.
    if let Ok(FormatOnly { format }) = dialect().from_str(text) {
        match format {
            Some(FORMAT) => {}
            Some(format) if format > FORMAT => return Err(LoadFault::Newer { format }),
            Some(format) => return Err(LoadFault::NoSuchFormat { format }),
            None => return Err(LoadFault::NoFormat),
        }
    }
    let mut project: Project = dialect().from_str(text).map_err(|error| fault_in_text(text, &error))?;
    project.number();
    project.check()?;
    Ok(project)
}

/// All that is read of a file of another format.
#[derive(Deserialize)]
#[serde(rename = "Project")]
struct FormatOnly {
    #[serde(default)]
    format: Option<u32>,
}

fn fault_in_text(text: &str, error: &SpannedError) -> LoadFault {
    let Position { mut line, col: mut column } = error.span.start;
    // The parser points at the end of what it understood; what it stumbled over comes after the spaces.
    let rest = text.lines().nth(line.saturating_sub(1)).map_or("", |line| after(line, column.saturating_sub(1)));
    let spaces = rest.chars().take_while(|c| c.is_whitespace()).count();
    column += spaces;
    if rest.chars().count() == spaces {
        // Nothing is left on this line: the next one with something on it.
        let below = text.lines().enumerate().skip(line).find(|(_, line)| !line.trim().is_empty());
        if let Some((number, below)) = below {
            (line, column) = (number + 1, 1 + below.chars().take_while(|c| c.is_whitespace()).count());
        }
    }
    LoadFault::Text { line, column, what: in_words(&error.code) }
}

/// The text after its first `count` characters.
fn after(text: &str, count: usize) -> &str {
    text.char_indices().nth(count).map_or("", |(at, _)| &text[at..])
}

/// The parser's complaint without the words of a programmer.
fn in_words(error: &Error) -> String {
    let inside = |outer: &Option<String>| outer.as_ref().map_or_else(String::new, |outer| format!(" in {outer}"));
    match error {
        Error::Message(text) => text.clone(),
        Error::Eof => "the file ends here, in the middle of the project".to_owned(),
        Error::ExpectedNamedStructLike(name) if !name.is_empty() => format!("expected ( to open a {name}"),
        Error::ExpectedComma => "expected a comma or a closing bracket".to_owned(),
        Error::ExpectedStructLikeEnd => "expected ) or a comma".to_owned(),
        Error::ExpectedArray => "expected [ to open a list".to_owned(),
        Error::ExpectedArrayEnd => "expected ] or a comma".to_owned(),
        Error::ExpectedInteger => "expected a whole number".to_owned(),
        Error::ExpectedFloat => "expected a number".to_owned(),
        Error::ExpectedString => "expected a text in double quotes".to_owned(),
        Error::ExpectedStringEnd => "expected the double quote that ends this text".to_owned(),
        Error::ExpectedMapColon => "expected a colon".to_owned(),
        Error::ExpectedUnit => "expected ()".to_owned(),
        Error::TrailingCharacters => "there is something left over after the project's last )".to_owned(),
        Error::ExceededRecursionLimit => "brackets lie too deep in one another for a project".to_owned(),
        Error::InvalidValueForType { expected, found } => format!("expected {expected}, found {found}"),
        Error::NoSuchStructField { expected, found, outer } => {
            format!("{found} is not known{}, only {}", inside(outer), listed(expected))
        }
        Error::MissingStructField { field, outer } => format!("{field} is missing{}", inside(outer)),
        Error::DuplicateStructField { field, outer } => format!("{field} is there twice{}", inside(outer)),
        Error::NoSuchEnumVariant { expected, found, .. } => {
            format!("{found} is not one of {}", listed(expected))
        }
        other => {
            let text = other.to_string();
            let mut chars = text.chars();
            chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
        }
    }
}

fn listed(names: &[&str]) -> String {
    names.join(", ")
}
