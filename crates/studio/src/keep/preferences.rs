//! How the maker likes the studio: kept for the next start, no part of any project.

use std::fs;

use cornerwise_export::files::{self, SaveError};
use cornerwise_geometry::Saw;
use cornerwise_project::OwnBlade;
use egui::ThemePreference;
use serde::{Deserialize, Serialize};

use super::Folders;
use crate::view::Fold;

/// The largest file of preferences that is read, bytes.
const MOST_BYTES: u64 = 100_000;
/// Text and controls, percent of their usual size: the least, and the most.
pub const SCALE: [u32; 2] = [80, 200];

/// What screens have, pixels to a millimetre.
pub const SCREENS: [f64; 2] = [0.5, 60.0];

/// Light and dark.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Look {
    /// As the desktop says.
    #[default]
    AsTheDesktop,
    /// Light.
    Light,
    /// Dark.
    Dark,
}

impl Look {
    /// The same for egui.
    pub fn theme(self) -> ThemePreference {
        match self {
            Look::AsTheDesktop => ThemePreference::System,
            Look::Light => ThemePreference::Light,
            Look::Dark => ThemePreference::Dark,
        }
    }
}

/// Where the window was, in points of a scale of 100 %.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct WindowPlace {
    /// Width and height of what is inside.
    pub size: (f32, f32),
    /// Its upper left corner, where the desktop says.
    pub corner: Option<(f32, f32)>,
    /// Whether it filled the screen.
    pub maximized: bool,
}

/// A row: whether it was unfolded, and how high.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Row {
    /// Whether it is unfolded.
    pub open: bool,
    /// How high it is then, points.
    pub height: f32,
}

impl From<Fold> for Row {
    fn from(fold: Fold) -> Row {
        Row { open: fold.open, height: fold.height_px }
    }
}

impl From<Row> for Fold {
    fn from(row: Row) -> Fold {
        Fold { open: row.open, height_px: if row.height.is_finite() { row.height.clamp(60.0, 4000.0) } else { 280.0 } }
    }
}

/// All of them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Preferences {
    /// Light and dark.
    pub look: Look,
    /// Text and controls, percent.
    pub scale_percent: u32,
    /// The window.
    pub window: Option<WindowPlace>,
    /// The row of sides and seams.
    pub sides: Option<Row>,
    /// The row of graphs.
    pub along: Option<Row>,
    /// Whether the wood under the lines is strong.
    pub strong_wood: bool,
    /// Pixels of the screen per millimetre, once they have been measured.
    pub screen_px_per_mm: Option<f64>,
    /// The saw that the maker usually works with.
    pub saw: Option<Box<Saw>>,
    /// The blades that the maker usually works with.
    pub blades: Vec<OwnBlade>,
    /// Whether the hints of the first start were shown.
    pub hints_shown: bool,
}

impl Default for Preferences {
    fn default() -> Preferences {
        Preferences {
            look: Look::default(),
            scale_percent: 100,
            window: None,
            sides: None,
            along: None,
            strong_wood: false,
            screen_px_per_mm: None,
            saw: None,
            blades: Vec::new(),
            hints_shown: false,
        }
    }
}

impl Preferences {
    /// Those that were kept, or the usual ones; and a word where there were some that cannot be read. Those are put
    /// aside, not lost.
    pub fn load(folders: &Folders) -> (Preferences, Option<String>) {
        let path = folders.preferences();
        let Ok(file) = fs::metadata(&path) else { return (Preferences::default(), None) };
        let read = match file.len() {
            0..MOST_BYTES => fs::read_to_string(&path).map_err(|error| error.to_string()),
            _ => Err("it is too large".to_owned()),
        };
        let read = read.and_then(|text| ron::from_str::<Preferences>(&text).map_err(|error| error.to_string()));
        match read {
            Ok(read) => (read.sound(), None),
            Err(error) => {
                let aside = path.with_file_name("preferences-broken.ron");
                let _ = fs::rename(&path, &aside);
                let word = format!(
                    "your preferences could not be read ({error}), so the usual ones are used; the file was put aside: {}",
                    aside.display()
                );
                (Preferences::default(), Some(word))
            }
        }
    }

    /// Those that were kept, or the usual ones, with no word about a file that cannot be read.
    pub fn glance(folders: &Folders) -> Preferences {
        let path = folders.preferences();
        let small = fs::metadata(&path).is_ok_and(|file| file.len() < MOST_BYTES);
        let text = if small { fs::read_to_string(path).ok() } else { None };
        text.and_then(|text| ron::from_str::<Preferences>(&text).ok()).map(Preferences::sound).unwrap_or_default()
    }

    /// Keeps them, all or nothing.
    ///
    /// # Errors
    /// [`SaveError`] where they cannot be written.
    pub fn save(&self, folders: &Folders) -> Result<(), SaveError> {
        let pretty = ron::ser::PrettyConfig::new().new_line("\n");
        let text = ron::ser::to_string_pretty(self, pretty).map_err(|error| SaveError::Text(error.to_string()))?;
        // If the folder cannot be made, the save says so.
        let _ = fs::create_dir_all(&folders.config);
        files::save_bytes(&folders.preferences(), text.as_bytes())
    }

    /// Figures that no window has become the usual ones.
    fn sound(self) -> Preferences {
        let within = |x: f32, least: f32, most: f32| x.is_finite() && (least..=most).contains(&x);
        let window =
            self.window.filter(|place| within(place.size.0, 200.0, 20_000.0) && within(place.size.1, 150.0, 20_000.0));
        let window = window.map(|place| {
            let corner =
                place.corner.filter(|(x, y)| within(*x, -20_000.0, 20_000.0) && within(*y, -20_000.0, 20_000.0));
            WindowPlace { corner, ..place }
        });
        let measured = self.screen_px_per_mm.filter(|px| (SCREENS[0]..=SCREENS[1]).contains(px));
        Preferences {
            scale_percent: self.scale_percent.clamp(SCALE[0], SCALE[1]),
            window,
            screen_px_per_mm: measured,
            ..self
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn they_come_back_as_they_were_kept() {
        let folder = tempfile::tempdir().unwrap();
        let folders = Folders::within(folder.path());
        assert_eq!(Preferences::load(&folders), (Preferences::default(), None));
        let mine = Preferences {
            look: Look::Dark,
            scale_percent: 130,
            window: Some(WindowPlace { size: (1500.5, 900.0), corner: Some((-20.0, 0.0)), maximized: true }),
            sides: Some(Row { open: true, height: 222.0 }),
            screen_px_per_mm: Some(3.78),
            ..Preferences::default()
        };
        mine.save(&folders).unwrap();
        assert_eq!(Preferences::load(&folders), (mine, None));
    }

    #[test]
    fn a_broken_file_is_the_usual_ones_and_a_word_and_is_not_lost() {
        let folder = tempfile::tempdir().unwrap();
        let folders = Folders::within(folder.path());
        fs::create_dir_all(&folders.config).unwrap();
        fs::write(folders.preferences(), "(look: Purple)").unwrap();
        let (read, word) = Preferences::load(&folders);
        assert_eq!(read, Preferences::default());
        assert!(word.unwrap().contains("preferences-broken.ron"));
        assert_eq!(fs::read_to_string(folders.config.join("preferences-broken.ron")).unwrap(), "(look: Purple)");
        assert_eq!(Preferences::load(&folders).1, None, "told once");
    }

    #[test]
    fn figures_no_window_has_are_not_taken_and_what_is_missing_is_usual() {
        let text = "(scale_percent: 9000, window: Some((size: (0, inf), corner: None, maximized: false)), \
                    screen_px_per_mm: Some(NaN), something_newer: 3)";
        let read = ron::from_str::<Preferences>(text).unwrap().sound();
        assert_eq!(read, Preferences { scale_percent: 200, ..Preferences::default() });
    }
}
