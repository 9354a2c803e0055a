//! The native window.

use std::path::PathBuf;

use cornerwise_project::Project;
use eframe::{NativeOptions, Renderer};
use egui::{IconData, ViewportBuilder, pos2, vec2};

use crate::app::Studio;
use crate::keep::preferences::Preferences;
use crate::keep::{self, Folders};

/// Why there is no window.
#[derive(Debug, thiserror::Error)]
pub enum WindowError {
    /// There is no screen to show it on.
    #[error("there is no display here")]
    NoDisplay,
    /// There is a screen, but no window came up on it.
    #[error("no window could be opened ({0})")]
    NoWindow(String),
}

/// Opens the studio on a project and comes back when the maker leaves. `said` is why another file was not opened.
///
/// # Errors
/// [`WindowError`] where no window can be shown.
pub fn open(project: Project, file: Option<PathBuf>, said: Option<String>) -> Result<(), WindowError> {
    if !has_display() {
        return Err(WindowError::NoDisplay);
    }
    let folders = Folders::of_the_user();
    let place = folders.as_ref().and_then(|folders| Preferences::glance(folders).window);
    let (width, height) = place.map_or((1280.0, 800.0), |place| place.size);
    let mut viewport = ViewportBuilder::default()
        .with_title("Cornerwise")
        .with_app_id("cornerwise")
        .with_inner_size(vec2(width, height))
        .with_min_inner_size(vec2(900.0, 600.0))
        .with_icon(icon())
        .with_maximized(place.is_some_and(|place| place.maximized))
        .with_drag_and_drop(true);
    if let Some((left, top)) = place.and_then(|place| place.corner) {
        viewport = viewport.with_position(pos2(left, top));
    }
    let options = NativeOptions {
        viewport,
        renderer: Renderer::Glow,
        system_font_fallback: false,
        persist_window: false,
        ..NativeOptions::default()
    };
    let opened = eframe::run_native(
        "cornerwise",
        options,
        Box::new(move |creation| {
            let mut studio = Studio::new(&creation.egui_ctx, project, file);
            if let Some(folders) = folders {
                studio.keep_in(&creation.egui_ctx, folders, keep::REST);
            }
            if let Some(said) = said {
                studio.said_at_start(&said);
            }
            Ok(Box::new(studio))
        }),
    );
    opened.map_err(|error| match error {
        eframe::Error::WinitEventLoop(_) => WindowError::NoDisplay,
        other => WindowError::NoWindow(other.to_string()),
    })
}

/// Whether there is a display to show a window on.
///
/// On Linux, winit waits long and says little when neither display server is there.
pub fn has_display() -> bool {
    if !cfg!(target_os = "linux") {
        return true;
    }
    ["DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET"]
        .iter()
        .any(|name| std::env::var_os(name).is_some_and(|v| !v.is_empty()))
}

/// The level section of a finished leg: four pieces about the point where the blank's corners met.
fn icon() -> IconData {
    const SIDE: u32 = 64;
    let wood = [[0xC8, 0x98, 0x5E], [0x9A, 0x68, 0x3A], [0xB4, 0x83, 0x4C], [0x7E, 0x52, 0x2E]];
    let mut rgba = Vec::with_capacity((SIDE * SIDE * 4) as usize);
    for y in 0..SIDE {
        for x in 0..SIDE {
            let within = (6..58).contains(&x) && (6..58).contains(&y);
            let on_line = x.abs_diff(26) < 2 || y.abs_diff(36) < 2;
            let [r, g, b] = match (within, on_line) {
                (true, true) => [0x2A, 0x24, 0x1E],
                _ => wood[usize::from(x > 26) + 2 * usize::from(y > 36)],
            };
            rgba.extend([r, g, b, if within { 255 } else { 0 }]);
        }
    }
    IconData { rgba, width: SIDE, height: SIDE }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_icon_has_a_colour_for_every_pixel() {
        let icon = icon();
        assert_eq!(icon.rgba.len() as u32, icon.width * icon.height * 4);
        assert!(icon.rgba.chunks(4).any(|pixel| pixel[3] == 255) && icon.rgba.chunks(4).any(|pixel| pixel[3] == 0));
    }
}
