//! Where things are kept.

use std::path::PathBuf;

/// The environment variable that names one folder for everything, in place of the desktop's own: for tests, for a
/// workshop computer that others use too, for a stick.
pub const VARIABLE: &str = "CORNERWISE_FOLDER";

/// The two folders. They are made when something is first kept in them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Folders {
    /// For preferences.
    pub config: PathBuf,
    /// For recovery copies and recent projects.
    pub data: PathBuf,
}

impl Folders {
    /// Both in one folder.
    pub fn within(folder: impl Into<PathBuf>) -> Folders {
        let folder = folder.into();
        Folders { config: folder.join("config"), data: folder.join("data") }
    }

    /// Those of the user who runs the studio, or of [`VARIABLE`]; nothing where there is no home.
    pub fn of_the_user() -> Option<Folders> {
        if let Some(folder) = std::env::var_os(VARIABLE).filter(|folder| !folder.is_empty()) {
            return Some(Folders::within(PathBuf::from(folder)));
        }
        let own = directories::ProjectDirs::from("", "", "cornerwise")?;
        Some(Folders { config: own.config_dir().to_owned(), data: own.data_local_dir().to_owned() })
    }

    /// The preferences.
    pub fn preferences(&self) -> PathBuf {
        self.config.join("preferences.ron")
    }

    /// The folder of recovery copies.
    pub fn recovery(&self) -> PathBuf {
        self.data.join("recovery")
    }

    /// The list of recent projects.
    pub fn recent(&self) -> PathBuf {
        self.data.join("recent.ron")
    }

    /// The folder of their pictures.
    pub fn pictures(&self) -> PathBuf {
        self.data.join("pictures")
    }
}
