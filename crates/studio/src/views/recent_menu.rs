//! The projects opened or saved last, with pictures, in the File menu.

use std::path::{Path, PathBuf};

use egui::{
    Align2, Color32, Context, Id, Rect, RichText, Role, ScrollArea, Sense, TextWrapMode, TextureHandle, TextureOptions,
    Ui, WidgetInfo, WidgetText, pos2, vec2,
};

use crate::keep::recent::Recent;
use crate::scene::Ask;
use crate::tokens::{self, Tokens};

/// The picture of a project, points.
const PICTURE: egui::Vec2 = vec2(24.0, 56.0);
const ROW: egui::Vec2 = vec2(340.0, 64.0);

/// One of them, with its picture on the graphics card.
pub struct Shown {
    path: PathBuf,
    name: String,
    there: bool,
    texture: Option<TextureHandle>,
}

impl Shown {
    /// All of them.
    pub fn all(ctx: &Context, all: Vec<Recent>) -> Vec<Shown> {
        let shown = |recent: Recent| {
            let picture = recent.picture;
            let texture = picture.map(|picture| ctx.load_texture("recent leg", picture, TextureOptions::LINEAR));
            Shown { path: recent.path, name: recent.name, there: recent.there, texture }
        };
        all.into_iter().map(shown).collect()
    }
}

/// Shows the entry of the menu, and the list where it is open.
pub fn show(ui: &mut Ui, recent: &[Shown], asks: &mut Vec<Ask>) {
    // Asked for when the list was not there in the last frame, however it was closed.
    let (seen, now) = (Id::unique("recent projects were open"), ui.ctx().cumulative_frame_nr());
    if ui.menu_button("Recent projects", |ui| list(ui, recent, asks)).inner.is_some() {
        let last = ui.data(|data| data.get_temp::<u64>(seen));
        if last.is_none_or(|last| last + 1 < now) {
            asks.push(Ask::LookForRecent);
        }
        ui.data_mut(|data| data.insert_temp(seen, now));
    }
}

fn list(ui: &mut Ui, recent: &[Shown], asks: &mut Vec<Ask>) {
    ui.set_min_width(ROW.x + 48.0); // the row, and the button beside it
    if recent.is_empty() {
        ui.label(RichText::new("What you open or save stands here.").color(Tokens::here(ui).soft));
    }
    // The list arrives a frame after the menu has taken its size from an empty one.
    let most = 6.5 * ROW.y;
    ScrollArea::vertical().max_height(most).min_scrolled_height(most).show(ui, |ui| {
        for one in recent {
            ui.horizontal(|ui| {
                if row(ui, one).clicked() && one.there {
                    asks.push(Ask::OpenFile(one.path.clone()));
                    ui.close();
                }
                let remove = ui.button("×").on_hover_text("Take it off this list. The file stays.");
                if remove.accessible_name(format!("take {} off the list", one.name)).clicked() {
                    asks.push(Ask::ForgetRecent(one.path.clone()));
                }
            });
        }
    });
}

fn row(ui: &mut Ui, one: &Shown) -> egui::Response {
    let t = Tokens::here(ui);
    let (rect, response) = ui.allocate_exact_size(ROW, Sense::click());
    let folder = one.path.parent().unwrap_or(Path::new("")).display();
    let file = one.path.file_name().unwrap_or(one.path.as_os_str()).to_string_lossy();
    let below = if one.there { format!("{file}, {folder}") } else { format!("not there any more: {file}, {folder}") };
    let name = format!("recent project {}, {below}", one.name);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, one.there, &name));
    if one.there && (response.hovered() || response.has_focus()) {
        ui.painter().rect_filled(rect, 4.0, t.raised_more);
        ui.painter().rect_stroke(rect, 4.0, egui::Stroke::new(1.0, t.edge), egui::StrokeKind::Inside);
    }
    let picture = Rect::from_center_size(pos2(rect.left() + 8.0 + PICTURE.x / 2.0, rect.center().y), PICTURE);
    if let Some(texture) = &one.texture {
        let tint = if one.there { Color32::WHITE } else { Color32::from_white_alpha(90) };
        ui.painter().image(texture.id(), picture, Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0)), tint);
    }
    let left = picture.right() + 10.0;
    let lines = [
        (one.name.as_str(), tokens::body(), if one.there { t.ink } else { t.soft }, -11.0),
        (below.as_str(), tokens::small(), t.soft, 10.0),
    ];
    for (words, font, colour, down) in lines {
        let room = rect.right() - left - 6.0;
        let galley = WidgetText::from(words).into_galley(ui, Some(TextWrapMode::Truncate), room, font);
        let at = Align2::LEFT_CENTER.anchor_size(pos2(left, rect.center().y + down), galley.size());
        ui.painter().galley(at.min, galley, colour);
    }
    response.on_hover_text(one.path.display().to_string())
}
