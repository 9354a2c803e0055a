//! Photos of the blank: one for each face, squared up by its four corners, balanced between them.

use std::cell::Cell;

use cornerwise_geometry::{Face, Length, Surface};
use cornerwise_project::{Edit, Kept};
use cornerwise_wood::{Photo, Photos};
use egui::{
    Align2, Area, Button, Color32, CursorIcon, EventFilter, Frame, Id, Label, Order, Painter, Pos2, Rect, RichText,
    Role, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo, pos2, vec2,
};

use super::head::{allowed, row};
use super::knots::face_mesh;
use super::trace::{arrows, dragged, under_way};
use crate::darkroom::{Exposure, For};
use crate::length_field::Field;
use crate::patch::Painted;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::{View, blank_stretch};

/// How large the photo is shown at most, points.
const SHOWN: Vec2 = vec2(600.0, 330.0);

/// How wide around a corner it is taken hold of, points.
const TAKE_PX: f32 = 22.0;

/// The corners' names, in their order.
const CORNERS: [&str; 4] = ["top end, upper", "foot, upper", "foot, lower", "top end, lower"];

fn put(scene: &Scene<'_>, photos: Photos) -> Edit {
    Edit::SetPhotos { design: scene.design.id, photos: Box::new(photos), pictures: Vec::new() }
}

fn small(ui: &mut Ui, words: &str) {
    let t = Tokens::here(ui);
    ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
}

/// Words and what they are about, on one line.
fn line(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        add(ui);
    });
}

/// The panel, with the photo of one face. `painted` is where the surfaces of the blank are painted.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, face: Face, painted: &Painted, view: &mut View, asks: &mut Vec<Ask>) {
    ui.set_width(SHOWN.x);
    let Some(photos) = scene.design.wood.photos() else {
        small(ui, "This blank is not known by photos. Choose Photos beside Wood, or lay the first photo here.");
        if ui.button("Choose a photo…").clicked() {
            asks.push(Ask::ChoosePicture(For::Photo(scene.design.id, face)));
        }
        under_way(ui, scene, asks);
        return;
    };
    row(ui, |ui| {
        for other in Face::ALL {
            let (before, there) = match photos.of(other) {
                None => ("", ", no photo"),
                Some(photo) if cannot_be_had(scene, photo) => ("▲ ", ""),
                Some(_) => ("", ""),
            };
            let words = format!("{before}Face {}{there}", other.number());
            let button = ui.add(Button::selectable(other == face, words));
            if button.clicked() {
                view.panels.photos = Some(other);
            }
        }
    });
    match photos.of(face) {
        None => {
            small(
                ui,
                "Photograph the face square on, its top end left, the arris of its number up: as it lies when the blank is \
                 rolled away from you, face by face. PNG or JPEG; it can be dropped on the window too.",
            );
            if ui.button("Choose a photo…").clicked() {
                asks.push(Ask::ChoosePicture(For::Photo(scene.design.id, face)));
            }
        }
        Some(photo) => laid(ui, scene, photos, photo, painted, asks),
    }
    ui.separator();
    row(ui, |ui| {
        let ready = photos.photos.iter().filter(|photo| photo.pixels.0.is_some()).count() > 1;
        let button = ui.add_enabled(ready, Button::new("Balance colours"));
        let hint =
            "Neighbouring faces show the same wood along their arris: the light of each photo is changed until they do";
        let button = button.on_hover_text(hint).on_disabled_hover_text("It takes two photos at least");
        if button.clicked() {
            asks.extend(photos.balanced().map(|photos| Ask::Edit(put(scene, photos))));
        }
        if photos.is_balanced() && ui.button("Own colours").on_hover_text("As the camera gave them").clicked() {
            asks.push(Ask::Edit(put(scene, photos.as_photographed())));
        }
    });
    line(ui, |ui| {
        small(ui, "They show");
        for (words, yes, hint) in [
            ("Timber", false, "Ring lines are followed across the faces, and compared as places within a ring"),
            (
                "A glue-up",
                true,
                "The lines between its layers or blocks are looked for, and compared to the tenth of a millimetre",
            ),
        ] {
            let button = ui.add(Button::selectable(photos.glued_up == yes, words)).on_hover_text(hint);
            if button.accessible_name(format!("the photos show {}", words.to_lowercase())).clicked()
                && photos.glued_up != yes
            {
                let mut photos = photos.clone();
                photos.glued_up = yes;
                asks.push(Ask::Edit(put(scene, photos)));
            }
        }
    });
    small(ui, &told(scene, photos));
    under_way(ui, scene, asks);
}

/// Whether a photo is missing or damaged.
fn cannot_be_had(scene: &Scene<'_>, photo: &Photo) -> bool {
    matches!(scene.prints.exposure(photo.picture), Some(Exposure::Failed(_)))
}

/// What is known and what is not: of a photo that cannot be had nothing is.
pub(super) fn told(scene: &Scene<'_>, photos: &Photos) -> String {
    let cannot = |face: Face| photos.of(face).is_some_and(|photo| cannot_be_had(scene, photo));
    let failed: Vec<Face> = Face::ALL.into_iter().filter(|face| cannot(*face)).collect();
    known_told(&photos.missing(), &failed)
}

/// [`told`] of faces without a photo, and of those whose photo is missing or damaged.
fn known_told(missing: &[Face], failed: &[Face]) -> String {
    let guess = "What lies inside is only a guess, and is drawn hatched.";
    let faces = |faces: &[Face]| {
        let numbers: Vec<String> = faces.iter().map(|face| face.number().to_string()).collect();
        match &numbers[..] {
            [.., _] if numbers.len() > 1 => format!("faces {}", numbers.join(" and ")),
            _ => format!("face {}", numbers.join("")),
        }
    };
    let none = missing.len() == Face::ALL.len();
    let mut told = Vec::new();
    if !failed.is_empty() {
        let numbers: Vec<String> = failed.iter().map(|face| face.number().to_string()).collect();
        told.push(format!("▲ Missing or damaged: the photo of face {}.", numbers.join(", ")));
    }
    let lacks = |face: &Face| missing.contains(face) || failed.contains(face);
    if none {
        told.push("No photos yet.".to_owned());
    }
    for (seams, of) in [("Seams 1 and 3", [Face::Two, Face::Four]), ("Seams 2 and 4", [Face::One, Face::Three])] {
        let lacking: Vec<Face> = of.into_iter().filter(lacks).collect();
        told.push(if lacking.is_empty() {
            format!("{seams} are known from {}.", faces(&of))
        } else {
            let photos = if lacking.len() == 1 { "the photo" } else { "the photos" };
            format!("{seams} are not known: they need {photos} of {}.", faces(&lacking))
        });
    }
    if missing.is_empty() && failed.is_empty() {
        told = vec!["All four seams are known.".to_owned()];
    }
    if !none {
        told.push(guess.to_owned());
    }
    told.join(" ")
}

fn laid(ui: &mut Ui, scene: &Scene<'_>, photos: &Photos, photo: &Photo, painted: &Painted, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let Some(picture) = scene.project.picture(photo.picture) else { return };
    ui.add(Label::new(RichText::new(&picture.name).color(t.ink)).truncate());
    match scene.prints.exposure(photo.picture) {
        Some(Exposure::Failed(why)) => {
            ui.label(RichText::new(format!("▲ {why}")).font(tokens::small()).color(t.wrong));
        }
        _ => {
            picture_and_corners(ui, scene, photos, photo, [picture.width_px, picture.height_px], asks);
            face_as_it_comes_out(ui, scene, photo.face, painted);
        }
    }
    let field = |caption: &'static str, hint: &'static str| Field {
        id: Id::unique(("photo", scene.design.id.0, photo.face.index(), caption)),
        caption,
        name: format!("photo of {}, {}", photo.face, caption.to_lowercase()),
        width: 110.0,
        hint,
    };
    let with = |photo: Photo| put(scene, photos.with(photo));
    row(ui, |ui| {
        let from = |from_top: &Length| with(Photo { from_top: from_top.clone(), ..photo.clone() });
        let told =
            field("Corners begin", "Where the corners at the top end lie, from the finished top; below 0 in the spare");
        let taken = told.length(ui, &photo.from_top, scene.reading(), |length| allowed(scene, &from(length)));
        asks.extend(taken.map(|length| Ask::Edit(from(&length))));
        let long = |length: &Length| with(Photo { length: length.clone(), ..photo.clone() });
        let told = field("Length between", "How much of the blank lies between the corners");
        let taken = told.length(ui, &photo.length, scene.reading(), |length| allowed(scene, &long(length)));
        asks.extend(taken.map(|length| Ask::Edit(long(&length))));
        ui.vertical(|ui| {
            small(ui, "Names of the corners");
            row(ui, |ui| {
                let hint =
                    "Which way the face lies in the photo: the corners keep their places, and their names go round";
                if ui.button("A quarter on").on_hover_text(hint).clicked() {
                    let [a, b, c, d] = photo.corners;
                    asks.push(Ask::Edit(with(Photo { corners: [b, c, d, a], ..photo.clone() })));
                }
            });
        });
    });
    line(ui, |ui| {
        let inside = matches!(picture.kept, Kept::Inside(_));
        small(ui, "Kept");
        for (words, yes) in [("Inside", true), ("Beside", false)] {
            let button = ui.add(Button::selectable(inside == yes, words));
            if button.accessible_name(format!("keep the photo {}", words.to_lowercase())).clicked() && inside != yes {
                asks.push(Ask::KeepPicture { hash: picture.hash, inside: yes });
            }
        }
        if cannot_be_had(scene, photo) && ui.button("Try again").clicked() {
            asks.push(Ask::DevelopAgain(picture.hash));
        }
        if ui.button("Change…").on_hover_text("Another photo, or where this one is now").clicked() {
            asks.push(Ask::ChoosePicture(For::InPlaceOf(picture.hash)));
        }
        if ui.button("Remove").clicked() {
            asks.push(Ask::Edit(put(scene, photos.without(photo.face))));
        }
    });
}

/// The photo with its corners, each to be dragged, and below it the face as it comes out.
fn picture_and_corners(
    ui: &mut Ui,
    scene: &Scene<'_>,
    photos: &Photos,
    photo: &Photo,
    size_px: [u32; 2],
    asks: &mut Vec<Ask>,
) {
    let t = Tokens::here(ui);
    let full = vec2(size_px[0].max(1) as f32, size_px[1].max(1) as f32);
    let scale = (SHOWN.x / full.x).min(SHOWN.y / full.y);
    let (rect, _) = ui.allocate_exact_size(full * scale, Sense::hover());
    let painter = ui.painter().clone();
    let texture =
        scene.prints.photo.as_ref().filter(|(hash, _)| *hash == photo.picture).map(|(_, texture)| texture.id());
    match texture {
        Some(texture) => {
            let whole = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
            painter.image(texture, rect, whole, Color32::WHITE);
        }
        None => {
            painter.rect_filled(rect, 0.0, t.sheet);
            painter.text(rect.center(), Align2::CENTER_CENTER, "Developing…", tokens::small(), t.soft);
        }
    }
    let at = |[x, y]: [f64; 2]| rect.min + vec2(x as f32 * rect.width(), y as f32 * rect.height());
    let corners = photo.corners.map(at);
    for (width, colour) in [(3.5, t.halo), (1.5, t.ink)] {
        painter.add(Shape::closed_line(corners.to_vec(), Stroke::new(width, colour)));
    }
    for (number, name) in CORNERS.into_iter().enumerate() {
        corner(ui, &painter, scene, photos, photo, (number, name), rect, asks);
    }
}

/// The whole face squared up, trimmed to the blank and balanced, as every view shows it.
fn face_as_it_comes_out(ui: &mut Ui, scene: &Scene<'_>, face: Face, painted: &Painted) {
    let t = Tokens::here(ui);
    ui.add_space(4.0);
    let high = SHOWN.x as f64 * scene.leg.face_mm(face) / blank_stretch(scene.design).length_mm().max(1e-6);
    let (strip, response) = ui.allocate_exact_size(vec2(SHOWN.x, high.clamp(16.0, 60.0) as f32), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, format!("{face} squared up")));
    if let Some(patch) = &painted[Surface::Face(face).index()] {
        ui.painter().add(Shape::mesh(face_mesh(face, strip, patch)));
    }
    ui.painter().rect_stroke(strip, 0.0, Stroke::new(1.0, t.edge), egui::StrokeKind::Outside);
    let arris = face.number();
    response.on_hover_text(format!("The whole face as it comes out, top end left, arris {arris} up"));
}

#[expect(clippy::too_many_arguments, reason = "one corner of one photo on one picture")]
fn corner(
    ui: &Ui,
    painter: &Painter,
    scene: &Scene<'_>,
    photos: &Photos,
    photo: &Photo,
    (number, name): (usize, &str),
    rect: Rect,
    asks: &mut Vec<Ask>,
) {
    let t = Tokens::here(ui);
    let [x, y] = photo.corners[number];
    let at = rect.min + vec2(x as f32 * rect.width(), y as f32 * rect.height());
    let id = Id::unique(("corner of a photo", scene.design.id.0, photo.face.index(), number));
    let response = ui.interact(Rect::from_center_size(at, Vec2::splat(TAKE_PX)), id, Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(Role::GraphicsObject, true, format!("corner at the {name}")));
    if response.clicked() || response.drag_started() {
        response.request_focus();
    }
    let lit = response.hovered() || response.dragged() || response.has_focus();
    // Open in the middle, so that the blank's corner can be seen in it.
    for (width, colour) in [(4.0, t.halo), (if lit { 2.5 } else { 1.5 }, t.ink)] {
        painter.circle_stroke(at, 8.0, Stroke::new(width, colour));
    }
    if number == 0 {
        painter.circle_filled(at, 2.5, t.ink);
    }
    // A corner that would fold the face in stops where it is, and says so while it is held there.
    let stopped = Cell::new(None);
    let moved = |[x, y]: [f64; 2]| {
        let mut corners = photo.corners;
        let fine = |v: f64| (v.clamp(0.0, 1.0) * 1e5).round() / 1e5;
        corners[number] = [fine(x), fine(y)];
        let next = Photo { corners, ..photo.clone() };
        stopped.set(Some(next.squaring().is_none()));
        put(scene, photos.with(if next.squaring().is_some() { next } else { photo.clone() }))
    };
    let share = |p: Pos2| {
        let v = p - rect.min;
        [f64::from(v.x / rect.width()), f64::from(v.y / rect.height())]
    };
    dragged(ui, &response, at, |p| moved(share(p)), asks);
    if response.has_focus() {
        let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        let by = arrows(ui, 0.002, 0.0002);
        if by != [0.0, 0.0] {
            asks.push(Ask::Edit(moved([x + by[0], y + by[1]])));
        }
    }
    // What was last tried with this corner, by hand or by key.
    let tried = id.with("stopped");
    if let Some(stopped) = stopped.get() {
        ui.data_mut(|data| data.insert_temp(tried, stopped));
    }
    let held = response.dragged() || response.has_focus() && !ui.input(|i| i.pointer.any_released());
    let stands = ui.data(|data| data.get_temp(tried)).unwrap_or(false);
    if stands && !held {
        ui.data_mut(|data| data.remove::<bool>(tried));
    }
    if stands && held {
        stopped_told(ui, id, at, rect);
    }
    let words = format!("The {name} corner: drag it, or move it by the arrow keys, finer with Shift");
    response.on_hover_text(words).on_hover_and_drag_cursor(CursorIcon::Crosshair);
}

/// Why a corner goes no farther, beside it. It takes no clicks.
fn stopped_told(ui: &Ui, id: Id, at: Pos2, picture: Rect) {
    let t = Tokens::here(ui);
    // Toward the middle of the picture, where there is room.
    let left = at.x < picture.center().x;
    let (align, by) = if left { (Align2::LEFT_CENTER, 16.0) } else { (Align2::RIGHT_CENTER, -16.0) };
    Area::new(id.with("why"))
        .order(Order::Foreground)
        .interactable(false)
        .pivot(align)
        .fixed_pos(at + vec2(by, 0.0))
        .show(ui.ctx(), |ui| {
            Frame::popup(ui.style()).show(ui, |ui| {
                ui.set_max_width(240.0);
                let words = "It stops here: farther on it would cross the others, and they would make no face";
                ui.add(Label::new(RichText::new(words).font(tokens::small()).color(t.wrong)).selectable(false));
            });
        });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_pair_of_seams_is_known_by_its_own_two_photos() {
        let guess = "What lies inside is only a guess, and is drawn hatched.";
        assert_eq!(known_told(&[], &[]), format!("All four seams are known. {guess}"));
        let known = "Seams 1 and 3 are known from faces 2 and 4.";
        let damaged = known_told(&[], &[Face::One]);
        let needs = "Seams 2 and 4 are not known: they need the photo of face 1.";
        assert_eq!(damaged, format!("▲ Missing or damaged: the photo of face 1. {known} {needs} {guess}"));
        assert_eq!(known_told(&[Face::One], &[]), format!("{known} {needs} {guess}"));
        let none = known_told(&Face::ALL, &[]);
        assert!(!none.contains("are known") && none.contains("need the photos of faces 2 and 4"), "{none}");
        let both = known_told(&[Face::Two], &[Face::Three]);
        assert!(both.contains("1 and 3 are not known: they need the photo of face 2"), "{both}");
        assert!(both.contains("2 and 4 are not known: they need the photo of face 3"), "{both}");
    }
}
