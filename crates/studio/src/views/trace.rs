//! A picture under a face: how it is painted, taken hold of, and told by figures.

use cornerwise_geometry::{Cut, Length};
use cornerwise_project::{Edit, Kept, Trace};
use egui::epaint::{Mesh, Vertex};
use egui::{
    Align2, Button, Color32, CursorIcon, EventFilter, Id, Key, Painter, Pos2, ProgressBar, Rect, Response, RichText,
    Role, Sense, Stroke, Ui, Vec2, WidgetInfo, pos2, vec2,
};

use super::faces::Canvas;
use super::head::{allowed, row};
use crate::across::ScreenFromFaces;
use crate::darkroom::{For, State};
use crate::length_field::Field;
use crate::paint;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::View;

/// How far from its middle a grip is taken hold of, points.
const TAKE_PX: f32 = 12.0;
/// Where on the picture it is taken hold of to be turned, as shares of its size.
const TURN_AT: [f64; 2] = [0.85, 0.5];

/// The picture's size, which its prints and its places go by.
fn size_px(scene: &Scene<'_>, trace: &Trace) -> [u32; 2] {
    scene.project.picture(trace.picture).map_or([1, 1], |picture| [picture.width_px, picture.height_px])
}

/// The part of the canvas that belongs to the face of a cut.
fn half(rect: Rect, faces: &ScreenFromFaces, cut: Cut) -> Rect {
    match cut {
        Cut::First => rect.with_max_y(faces.arris_2_px.min(rect.bottom())),
        Cut::Second => rect.with_min_y(faces.arris_2_px.max(rect.top())),
    }
}

/// Paints the pictures under the saw lines.
pub fn on_faces(painter: &Painter, rect: Rect, faces: &ScreenFromFaces, scene: &Scene<'_>) {
    for trace in scene.design.traces.iter().filter(|trace| !trace.hidden) {
        let Some(print) = scene.prints.get(trace.picture) else { continue };
        let tint = Color32::WHITE.gamma_multiply(trace.strength as f32);
        let mut mesh = Mesh::with_texture(print.texture.id());
        let corners = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        mesh.vertices.extend(corners.map(|share| {
            let [s, offset] = trace.face_from_picture(share, print.full_px);
            let uv = pos2(share[0] as f32, share[1] as f32);
            Vertex { pos: faces.pos(trace.cut, s, offset), uv, color: tint }
        }));
        mesh.indices.extend([0, 1, 2, 0, 2, 3]);
        painter.with_clip_rect(painter.clip_rect().intersect(half(rect, faces, trace.cut))).add(mesh);
    }
}

/// A place on the face, mm, as shares of the picture.
fn share_of(trace: &Trace, size_px: [u32; 2], [s, offset]: [f64; 2]) -> [f64; 2] {
    let [o, x, y] = [[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]].map(|share| trace.face_from_picture(share, size_px));
    let [x, y, p] = [x, y, [s, offset]].map(|to| [to[0] - o[0], to[1] - o[1]]);
    let whole = x[0] * y[1] - x[1] * y[0];
    [(p[0] * y[1] - p[1] * y[0]) / whole, (x[0] * p[1] - x[1] * p[0]) / whole]
}

/// Its grips and marks, while its panel is open.
pub fn grips(ui: &mut Ui, canvas: &Canvas<'_>, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
    let Some(cut) = view.panels.trace else { return };
    let Some(trace) = scene.design.trace(cut).filter(|trace| !trace.hidden) else { return };
    let (faces, rect) = (canvas.faces, canvas.rect);
    let painter = ui.painter_at(rect);
    let size = size_px(scene, trace);
    if !trace.locked {
        move_grip(ui, &painter, faces, scene, trace, asks);
        turn_grip(ui, &painter, faces, scene, trace, size, asks);
    }
    marks(ui, &painter, faces, trace, size, view);
    if view.tracing.marking {
        let area = ui.interact(half(rect, faces, cut), Id::unique("mark the picture"), Sense::click());
        area.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, format!("mark points on {}", cut.face())));
        if area.clicked()
            && let Some(at) = area.interact_pointer_pos()
        {
            let free = if view.tracing.marks[0].is_none() { 0 } else { 1 };
            view.tracing.marks[free] = Some(share_of(trace, size, faces.place(cut, at)));
            view.tracing.marking = free == 0;
        }
        if ui.input(|i| i.key_pressed(Key::Escape)) {
            view.tracing.marking = false;
        }
        area.on_hover_cursor(CursorIcon::Crosshair);
    }
}

fn put(scene: &Scene<'_>, trace: Trace) -> Edit {
    Edit::SetTrace { design: scene.design.id, cut: trace.cut, trace: Some(Box::new(trace)), picture: None }
}

/// A hand on a grip: what frames of a drag come to.
pub(super) fn dragged(ui: &Ui, response: &Response, place: Pos2, to: impl Fn(Pos2) -> Edit, asks: &mut Vec<Ask>) {
    let kept = response.id.with("grab");
    if response.drag_started() {
        let origin = ui.input(|i| i.pointer.press_origin()).unwrap_or(place);
        ui.data_mut(|data| data.insert_temp(kept, place - origin));
    }
    let Some(grab) = ui.data(|data| data.get_temp::<Vec2>(kept)) else { return };
    if ui.input(|i| i.key_pressed(Key::Escape)) {
        ui.ctx().stop_dragging();
        ui.data_mut(|data| data.remove::<Vec2>(kept));
        asks.push(Ask::DragEnds { keep: false });
        return;
    }
    if let Some(at) = response.interact_pointer_pos() {
        asks.push(Ask::Drag(to(at + grab)));
    }
    if !response.dragged() {
        ui.data_mut(|data| data.remove::<Vec2>(kept));
        asks.push(Ask::DragEnds { keep: true });
    }
}

fn grip(ui: &Ui, painter: &Painter, at: Pos2, id: Id, name: String, words: &str) -> Option<Response> {
    let held = ui.ctx().is_being_dragged(id);
    if !painter.clip_rect().expand(TAKE_PX).contains(at) && !held {
        return None;
    }
    let response = ui.interact(Rect::from_center_size(at, Vec2::splat(2.0 * TAKE_PX)), id, Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(Role::GraphicsObject, true, name.clone()));
    if response.clicked() || response.drag_started() {
        response.request_focus();
    }
    if response.has_focus() {
        let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    }
    let t = Tokens::here(ui);
    let lit = response.hovered() || response.dragged() || response.has_focus();
    painter.circle(at, if lit { 9.0 } else { 8.0 }, t.sheet, Stroke::new(if lit { 2.5 } else { 1.5 }, t.ink));
    Some(response.on_hover_text(words.to_owned()))
}

/// What the arrow keys ask for in this frame, to the right and down: steps, fine ones with Shift.
pub(super) fn arrows(ui: &Ui, coarse: f64, fine: f64) -> [f64; 2] {
    ui.input(|i| {
        let step = if i.modifiers.shift { fine } else { coarse };
        let presses = |key| i.num_presses(key) as f64;
        let right = presses(Key::ArrowRight) - presses(Key::ArrowLeft);
        let down = presses(Key::ArrowDown) - presses(Key::ArrowUp);
        [right * step, down * step]
    })
}

fn move_grip(
    ui: &Ui,
    painter: &Painter,
    faces: &ScreenFromFaces,
    scene: &Scene<'_>,
    trace: &Trace,
    asks: &mut Vec<Ask>,
) {
    let t = Tokens::here(ui);
    let at = faces.pos(trace.cut, trace.from_top.mm(), trace.offset.mm());
    let id = Id::unique(("move a picture", scene.design.id.0, trace.cut.index()));
    let name = format!("picture under {}, grip to move", trace.cut.face());
    let Some(response) = grip(ui, painter, at, id, name, "Drag the picture, or move it by the arrow keys") else {
        return;
    };
    for way in [vec2(4.5, 0.0), vec2(0.0, 4.5)] {
        painter.line_segment([at - way, at + way], Stroke::new(1.5, t.ink));
    }
    let moved = |s: f64, offset: f64| {
        let tenth = |mm: f64| Length::from_mm((mm * 10.0).round() / 10.0);
        put(scene, Trace { from_top: tenth(s), offset: tenth(offset), ..trace.clone() })
    };
    let to = |at: Pos2| {
        let [s, offset] = faces.place(trace.cut, at);
        moved(s, offset)
    };
    dragged(ui, &response, at, to, asks);
    if response.has_focus() {
        let by = arrows(ui, 1.0, 0.1);
        if by != [0.0, 0.0] {
            let edit = moved(trace.from_top.mm() + by[0], trace.offset.mm() + by[1]);
            asks.push(Ask::Edit(edit));
        }
    }
    response.on_hover_and_drag_cursor(CursorIcon::Move);
}

fn turn_grip(
    ui: &Ui,
    painter: &Painter,
    faces: &ScreenFromFaces,
    scene: &Scene<'_>,
    trace: &Trace,
    size: [u32; 2],
    asks: &mut Vec<Ask>,
) {
    let t = Tokens::here(ui);
    let [s, offset] = trace.face_from_picture(TURN_AT, size);
    let at = faces.pos(trace.cut, s, offset);
    let id = Id::unique(("turn a picture", scene.design.id.0, trace.cut.index()));
    let name = format!("picture under {}, grip to turn", trace.cut.face());
    let words = "Drag to turn the picture about its middle, or turn it by the arrow keys";
    let Some(response) = grip(ui, painter, at, id, name, words) else { return };
    let arc: Vec<Pos2> = (0..=8)
        .map(|i| {
            let angle = -2.4 + 3.6 * i as f32 / 8.0;
            at + 4.5 * vec2(angle.cos(), angle.sin())
        })
        .collect();
    painter.arrow(arc[7], arc[8] - arc[7], Stroke::new(1.5, t.ink));
    painter.add(egui::Shape::line(arc, Stroke::new(1.5, t.ink)));
    let middle = [trace.from_top.mm(), trace.offset.mm()];
    let angle = |[s, offset]: [f64; 2]| (offset - middle[1]).atan2(s - middle[0]).to_degrees();
    let turned = |deg: f64| {
        let deg = (deg * 10.0).round() / 10.0;
        let deg = if deg > 180.0 {
            deg - 360.0
        } else if deg <= -180.0 {
            deg + 360.0
        } else {
            deg
        };
        put(scene, Trace { turn_deg: deg, ..trace.clone() })
    };
    // The grip lies on the picture's own axis to the right.
    let to = |at: Pos2| turned(angle(faces.place(trace.cut, at)));
    dragged(ui, &response, at, to, asks);
    if response.has_focus() {
        let by = ui.input(|i| {
            let presses = |key| i.num_presses(key) as f64;
            let more = presses(Key::ArrowRight) + presses(Key::ArrowDown);
            (more - presses(Key::ArrowLeft) - presses(Key::ArrowUp)) * if i.modifiers.shift { 0.1 } else { 1.0 }
        });
        if by != 0.0 {
            asks.push(Ask::Edit(turned(trace.turn_deg + by)));
        }
    }
    response.on_hover_and_drag_cursor(CursorIcon::Grab);
}

/// The two marks, each dragged to where it is meant.
fn marks(ui: &Ui, painter: &Painter, faces: &ScreenFromFaces, trace: &Trace, size: [u32; 2], view: &mut View) {
    let t = Tokens::here(ui);
    let at = view.tracing.marks.map(|mark| {
        mark.map(|share| {
            let [s, offset] = trace.face_from_picture(share, size);
            faces.pos(trace.cut, s, offset)
        })
    });
    if let [Some(one), Some(other)] = at {
        for (width, colour) in [(3.5, t.halo), (1.0, t.ink)] {
            painter.line_segment([one, other], Stroke::new(width, colour));
        }
    }
    for (number, at) in at.into_iter().enumerate() {
        let Some(at) = at else { continue };
        for (width, colour) in [(4.0, t.halo), (1.5, t.ink)] {
            for way in [vec2(9.0, 0.0), vec2(0.0, 9.0)] {
                painter.line_segment([at - way, at + way], Stroke::new(width, colour));
            }
        }
        let words = format!("{}", number + 1);
        paint::label(painter, t, at + vec2(6.0, -6.0), Align2::LEFT_BOTTOM, &words, tokens::bold(), t.ink);
        let id = Id::unique(("mark of a picture", trace.cut.index(), number));
        let response = ui.interact(Rect::from_center_size(at, Vec2::splat(2.0 * TAKE_PX)), id, Sense::drag());
        response.widget_info(|| WidgetInfo::labeled(Role::GraphicsObject, true, format!("mark {}", number + 1)));
        if response.dragged()
            && let Some(hand) = response.interact_pointer_pos()
        {
            view.tracing.marks[number] = Some(share_of(trace, size, faces.place(trace.cut, hand)));
        }
        response.on_hover_and_drag_cursor(CursorIcon::Crosshair);
    }
}

/// The panel of the picture under one face.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, cut: Cut, view: &mut View, asks: &mut Vec<Ask>) {
    ui.set_width(300.0);
    row(ui, |ui| {
        for other in Cut::ALL {
            let words = format!("Face {}", other.face().number());
            if ui.add(Button::selectable(other == cut, words)).clicked() {
                view.panels.trace = Some(other);
                view.tracing = crate::view::Tracing::default();
            }
        }
    });
    match scene.design.trace(cut) {
        None => none_yet(ui, scene, cut, asks),
        Some(trace) => laid(ui, scene, trace, view, asks),
    }
    under_way(ui, scene, asks);
}

fn small(ui: &mut Ui, words: &str) {
    let t = Tokens::here(ui);
    ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
}

fn none_yet(ui: &mut Ui, scene: &Scene<'_>, cut: Cut, asks: &mut Vec<Ask>) {
    small(ui, "A photo or a drawing under the saw line, to be traced: PNG or JPEG. It can be dropped on the face too.");
    let choose =
        ui.button("Choose a picture…").on_hover_text("It is scaled by two points and the distance between them");
    if choose.clicked() {
        asks.push(Ask::ChoosePicture(For::Trace(scene.design.id, cut)));
    }
}

/// How far a picture is that is being read.
pub(super) fn under_way(ui: &mut Ui, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    let Some(progress) = &scene.prints.progress else { return };
    ui.separator();
    small(ui, &format!("{}: {}", progress.what, progress.name));
    ui.horizontal(|ui| {
        ui.add(ProgressBar::new(progress.share).desired_width(210.0).desired_height(14.0));
        if ui.button("Stop").clicked() {
            asks.push(Ask::StopPictures);
        }
    });
}

fn laid(ui: &mut Ui, scene: &Scene<'_>, trace: &Trace, view: &mut View, asks: &mut Vec<Ask>) {
    let Some(picture) = scene.project.picture(trace.picture) else { return };
    let t = Tokens::here(ui);
    let mut set = |trace: Trace| asks.push(Ask::Edit(put(scene, trace)));
    ui.add(egui::Label::new(RichText::new(&picture.name).color(t.ink)).truncate());
    if let Some(State::Failed(why)) = scene.prints.state(trace.picture) {
        ui.label(RichText::new(format!("▲ {why}")).font(tokens::small()).color(t.wrong));
    }
    let free = !trace.locked;
    ui.add_enabled_ui(free, |ui| {
        let field = |caption: &'static str| Field {
            id: Id::unique(("trace", scene.design.id.0, trace.cut.index(), caption)),
            caption,
            name: format!("picture under {}, {}", trace.cut.face(), caption.to_lowercase()),
            width: 93.0,
            hint: match caption {
                "From top" => "Where the middle of the picture lies",
                "Offset" => "From the arris to the middle of the picture",
                "Turn" => "Clockwise, about its middle",
                _ => "",
            },
        };
        let check = |trace: Trace| allowed(scene, &put(scene, trace));
        row(ui, |ui| {
            let from_top = |length: &Length| Trace { from_top: length.clone(), ..trace.clone() };
            let taken =
                field("From top").length(ui, &trace.from_top, scene.reading(), |length| check(from_top(length)));
            taken.iter().for_each(|length| set(from_top(length)));
            let offset = |length: &Length| Trace { offset: length.clone(), ..trace.clone() };
            let taken = field("Offset").length(ui, &trace.offset, scene.reading(), |length| check(offset(length)));
            taken.iter().for_each(|length| set(offset(length)));
            let width = |length: &Length| Trace { width: length.clone(), ..trace.clone() };
            let taken = field("Width").length(ui, &trace.width, scene.reading(), |length| check(width(length)));
            taken.iter().for_each(|length| set(width(length)));
        });
        row(ui, |ui| {
            let turned = |turn_deg: f64| Trace { turn_deg, ..trace.clone() };
            let taken = field("Turn").number(ui, trace.turn_deg, "°", |deg| check(turned(deg)));
            taken.into_iter().for_each(|deg| set(turned(deg)));
            ui.vertical(|ui| {
                small(ui, "Quarter turns");
                row(ui, |ui| {
                    for (words, by) in [("↺", -90.0), ("↻", 90.0)] {
                        let name = if by < 0.0 { "turn the picture left" } else { "turn the picture right" };
                        let button = ui.add(Button::new(words).min_size(vec2(42.0, 24.0)));
                        if button.accessible_name(name).clicked() {
                            let deg = trace.turn_deg + by;
                            set(turned(if deg.abs() > 180.0 { deg - by.signum() * 360.0 } else { deg }));
                        }
                    }
                });
            });
        });
    });
    row(ui, |ui| {
        ui.vertical(|ui| {
            small(ui, "Strength");
            strength(ui, scene, trace, asks);
        });
    });
    row(ui, |ui| {
        let toggles = [("Locked", trace.locked), ("Hidden", trace.hidden)];
        for (words, on) in toggles {
            if ui.add(Button::selectable(on, words)).clicked() {
                let trace = if words == "Locked" {
                    Trace { locked: !on, ..trace.clone() }
                } else {
                    Trace { hidden: !on, ..trace.clone() }
                };
                asks.push(Ask::Edit(put(scene, trace)));
            }
        }
        if ui.button("Remove").clicked() {
            let (design, cut) = (scene.design.id, trace.cut);
            asks.push(Ask::Edit(Edit::SetTrace { design, cut, trace: None, picture: None }));
        }
    });
    ui.separator();
    scale(ui, scene, trace, view, asks);
    ui.separator();
    row(ui, |ui| {
        let inside = matches!(picture.kept, Kept::Inside(_));
        small(ui, "Kept");
        for (words, yes, does) in [
            ("Inside", true, "In the project's own file: one file holds it all"),
            ("Beside", false, "In a file of its own beside the project: smaller to save, and to be kept with it"),
        ] {
            let button = ui.add(Button::selectable(inside == yes, words)).on_hover_text(does);
            if button.accessible_name(format!("keep the picture {}", words.to_lowercase())).clicked() && inside != yes {
                asks.push(Ask::KeepPicture { hash: picture.hash, inside: yes });
            }
        }
        if matches!(scene.prints.state(trace.picture), Some(State::Failed(_))) && ui.button("Try again").clicked() {
            asks.push(Ask::DevelopAgain(picture.hash));
        }
        if ui.button("Change…").on_hover_text("Another picture, or where this one is now").clicked() {
            asks.push(Ask::ChoosePicture(For::InPlaceOf(picture.hash)));
        }
    });
}

fn strength(ui: &mut Ui, scene: &Scene<'_>, trace: &Trace, asks: &mut Vec<Ask>) {
    let mut percent = (trace.strength * 100.0).round();
    ui.spacing_mut().slider_width = 170.0;
    let slider = ui.add(egui::Slider::new(&mut percent, 0.0..=100.0).suffix(" %").step_by(1.0));
    let slider = slider.accessible_name("strength of the picture");
    let edit = put(scene, Trace { strength: percent / 100.0, ..trace.clone() });
    if slider.dragged() {
        asks.push(Ask::Drag(edit));
    } else if slider.drag_stopped() {
        asks.extend([Ask::Drag(edit), Ask::DragEnds { keep: true }]);
    } else if slider.changed() {
        asks.push(Ask::Edit(edit));
    }
}

/// Two points marked on the picture, and how far apart they are in truth.
fn scale(ui: &mut Ui, scene: &Scene<'_>, trace: &Trace, view: &mut View, asks: &mut Vec<Ask>) {
    let size = size_px(scene, trace);
    let marked = view.tracing.marks.map(|mark| mark.map(|share| trace.face_from_picture(share, size)));
    let words = match (view.tracing.marking, marked) {
        (true, [None, _]) => "Click the first point on the picture.",
        (true, _) => "Click the second point.",
        (false, [Some(_), Some(_)]) => "Type how far apart the two points are in truth.",
        (false, _) => "Scale it by two points and the distance between them.",
    };
    small(ui, words);
    row(ui, |ui| {
        let button = ui.add_enabled(!trace.locked, Button::selectable(view.tracing.marking, "Mark two points"));
        if button.clicked() {
            view.tracing.marking = !view.tracing.marking;
            view.tracing.marks = [None, None];
        }
        if ui
            .add_enabled(!trace.locked, Button::new("Mark its ends"))
            .on_hover_text("Without a pointer: then type where they are")
            .clicked()
        {
            view.tracing.marks = [Some([0.0, 0.5]), Some([1.0, 0.5])];
            view.tracing.marking = false;
        }
    });
    for (number, place) in marked.into_iter().enumerate() {
        let Some(place) = place else { continue };
        row(ui, |ui| {
            for (i, caption) in ["from top", "offset"].into_iter().enumerate() {
                let field = Field {
                    id: Id::unique(("mark", trace.cut.index(), number, i)),
                    caption: if i == 0 { ["Point 1, from top", "Point 2, from top"][number] } else { "Offset" },
                    name: format!("mark {}, {caption}", number + 1),
                    width: 110.0,
                    hint: "",
                };
                let shown = Length::from_mm((place[i] * 100.0).round() / 100.0);
                if let Some(length) = field.length(ui, &shown, scene.reading(), |_| Ok(())) {
                    let mut place = place;
                    place[i] = length.mm();
                    view.tracing.marks[number] = Some(share_of(trace, size, place));
                }
            }
        });
    }
    let [Some(one), Some(other)] = marked else { return };
    let apart = (other[0] - one[0]).hypot(other[1] - one[1]);
    let field = Field {
        id: Id::unique(("apart", scene.design.id.0, trace.cut.index())),
        caption: "Distance between them",
        name: "distance between the marks".to_owned(),
        width: 140.0,
        hint: "The picture is scaled about point 1",
    };
    row(ui, |ui| {
        ui.add_enabled_ui(!trace.locked, |ui| {
            let shown = Length::from_mm((apart * 1000.0).round() / 1000.0);
            let scaled = |length: &Length| trace.scaled([one, other], length);
            let taken = field.length(ui, &shown, scene.reading(), |length| match scaled(length) {
                Some(trace) => allowed(scene, &put(scene, trace)),
                None => Err("the two points must be apart, and so must they be in truth".to_owned()),
            });
            asks.extend(taken.and_then(|length| scaled(&length)).map(|trace| Ask::Edit(put(scene, trace))));
            ui.vertical(|ui| {
                small(ui, " ");
                let along = trace.laid_along([one, other]);
                let button = ui.add_enabled(along.is_some(), Button::new("Lay along the leg"));
                if button.on_hover_text("Turn the picture about point 1 until point 2 is level with it").clicked() {
                    asks.extend(along.map(|trace| Ask::Edit(put(scene, trace))));
                }
            });
        });
    });
}
