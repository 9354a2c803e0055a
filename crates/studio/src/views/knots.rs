//! Knots: marked on any of the blank's four faces, dragged until they are out of sight, and told where they end up.

use cornerwise_geometry::{Cut, Face, Length, Surface};
use cornerwise_project::{Edit, Turn};
use cornerwise_wood::{Blemish, Knot};
use egui::{
    Align2, Button, Color32, ComboBox, EventFilter, Id, Key, Mesh, Painter, Pos2, Rect, Response, RichText, Role,
    Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use super::head::{allowed, row};
use super::hold::{self, Moved};
use crate::across::ScreenFromFaces;
use crate::length_field::Field;
use crate::patch::{Painted, TexturePatch};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::blank_stretch;

/// Width of the panel, points.
const WIDTH: f32 = 460.0;
/// Height of a face on its map, points.
const FACE_PX: f32 = 30.0;
/// How far an arrow key moves a knot, mm; with Shift a tenth of it.
const STEP_MM: f64 = 1.0;
/// How large a grip is at the least, points.
const LEAST_PX: f32 = 5.0;

/// Which knot is chosen.
fn chosen_id(scene: &Scene<'_>) -> Id {
    Id::unique(("chosen knot", scene.design.id.0))
}

fn chosen(ui: &Ui, scene: &Scene<'_>) -> usize {
    ui.data(|data| data.get_temp::<usize>(chosen_id(scene))).unwrap_or(0)
}

fn choose(ui: &Ui, scene: &Scene<'_>, index: usize) {
    ui.data_mut(|data| data.insert_temp(chosen_id(scene), index));
}

/// Shows the panel's contents. `painted` is where the surfaces of the blank are painted.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, painted: &Painted, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    ui.set_width(WIDTH);
    let small = |words: &str| RichText::new(words).font(tokens::small()).color(t.soft);
    ui.label(small(
        "The blank's four faces as they lie when it is rolled away from you, top end left. Click one to mark a knot; drag \
         knots until they are out of sight.",
    ));
    map(ui, scene, painted, asks);
    ui.horizontal(|ui| {
        for turn in Turn::ALL {
            let edit = Edit::TurnBlank { design: scene.design.id, turn };
            let why_not = allowed(scene, &edit);
            let words = match turn {
                Turn::Quarter => "Roll a quarter",
                Turn::Half => "Roll half round",
                Turn::EndForEnd => "End for end",
            };
            let button = ui.add_enabled(why_not.is_ok(), Button::new(words)).accessible_name(turn.label());
            let button = button.on_hover_text(format!("{}: its wood and knots go under the same lines", turn.label()));
            if button.on_disabled_hover_text(why_not.err().unwrap_or_default()).clicked() {
                asks.push(Ask::Edit(edit));
            }
        }
    });
    let now = chosen(ui, scene);
    for (index, knot) in scene.design.knots.iter().enumerate() {
        ui.horizontal(|ui| {
            let place = format!(
                "{}, {} on face {}, {} from the top",
                index + 1,
                knot.kind.name(),
                knot.face.number(),
                scene.units().show_with_unit(knot.from_top.mm())
            );
            if ui.selectable_label(now == index, &place).clicked() {
                choose(ui, scene, index);
            }
            let delete = ui.add(Button::new("×")).on_hover_text("Take this knot off the list");
            if delete.accessible_name(format!("knot {}, delete", index + 1)).clicked() {
                asks.push(Ask::Edit(Edit::DeleteKnot { design: scene.design.id, index }));
            }
        });
        let ends = knot.ends(scene.leg);
        ui.label(RichText::new(format!("    {}", ends.in_words())).font(tokens::small()).color(t.ink));
    }
    if let Some(knot) = scene.design.knots.get(now) {
        ui.separator();
        fields(ui, scene, now, knot, asks);
    }
}

fn set(scene: &Scene<'_>, index: usize, knot: Knot) -> Edit {
    Edit::SetKnot { design: scene.design.id, index, knot }
}

fn fields(ui: &mut Ui, scene: &Scene<'_>, index: usize, knot: &Knot, asks: &mut Vec<Ask>) {
    type Put = fn(&Knot, Length) -> Knot;
    let group = format!("knot {}", index + 1);
    let field = |caption: &'static str, hint: &'static str| Field {
        id: Id::unique(("knot", scene.design.id.0, index, caption)),
        caption,
        name: format!("{group}, {}", caption.to_lowercase()),
        width: (WIDTH - 3.0 * 6.0) / 4.0,
        hint,
    };
    row(ui, |ui| {
        ComboBox::from_id_salt(("knot kind", index))
            .width(90.0)
            .selected_text(knot.kind.name())
            .show_ui(ui, |ui| {
                for kind in Blemish::ALL {
                    if ui.selectable_label(kind == knot.kind, kind.name()).clicked() && kind != knot.kind {
                        asks.push(Ask::Edit(set(scene, index, Knot { kind, ..knot.clone() })));
                    }
                }
            })
            .response
            .accessible_name(format!("{group}, kind"));
        ComboBox::from_id_salt(("knot face", index))
            .width(90.0)
            .selected_text(knot.face.to_string())
            .show_ui(ui, |ui| {
                for face in Face::ALL {
                    if ui.selectable_label(face == knot.face, face.to_string()).clicked() && face != knot.face {
                        asks.push(Ask::Edit(set(scene, index, Knot { face, ..knot.clone() })));
                    }
                }
            })
            .response
            .accessible_name(format!("{group}, face"));
    });
    let lengths: [(&str, &str, &Length, Put); 4] = [
        ("From top", "Its middle, from the finished top", &knot.from_top, |k, mm| Knot { from_top: mm, ..k.clone() }),
        (
            "From arris",
            "Its middle, from the arris of the face's number: the upper one as the face lies here",
            &knot.from_arris,
            |k, mm| Knot { from_arris: mm, ..k.clone() },
        ),
        ("Size", "How wide it is", &knot.size, |k, mm| Knot { size: mm, ..k.clone() }),
        ("Depth", "How deep it goes, square to its face", &knot.depth, |k, mm| Knot { depth: mm, ..k.clone() }),
    ];
    row(ui, |ui| {
        for (caption, hint, value, put) in lengths {
            let check = |mm: &Length| allowed(scene, &set(scene, index, put(knot, mm.clone())));
            if let Some(mm) = field(caption, hint).length(ui, value, scene.reading(), check) {
                asks.push(Ask::Edit(set(scene, index, put(knot, mm))));
            }
        }
    });
    type PutNumber = fn(&Knot, f64) -> Knot;
    let numbers: [(&str, &str, f64, PutNumber); 2] = [
        ("Slope along", "How far it moves toward the foot for each length inward", knot.slope_along, |k, v| Knot {
            slope_along: v,
            ..k.clone()
        }),
        ("Slope across", "How far it moves away from that arris for each length inward", knot.slope_across, |k, v| {
            Knot { slope_across: v, ..k.clone() }
        }),
    ];
    row(ui, |ui| {
        for (caption, hint, value, put) in numbers {
            let check = |v| allowed(scene, &set(scene, index, put(knot, v)));
            if let Some(v) = field(caption, hint).number(ui, value, "", check) {
                asks.push(Ask::Edit(set(scene, index, put(knot, v))));
            }
        }
    });
}

/// Where the points of a face lie on screen: distance from the top and from its upper arris, mm.
struct FaceOnScreen {
    face: Face,
    rect: Rect,
    from_mm: f64,
    px_per_mm: [f64; 2],
}

impl FaceOnScreen {
    fn pos(&self, s: f64, from_arris: f64) -> Pos2 {
        let [along, down] = self.px_per_mm;
        self.rect.min + vec2(((s - self.from_mm) * along) as f32, (from_arris * down) as f32)
    }

    /// The place at a point, to a tenth of a millimetre.
    fn mm(&self, at: Pos2) -> [Length; 2] {
        let by = at - self.rect.min;
        let tenth = |mm: f64| Length::from_mm((mm * 10.0).round() / 10.0);
        let [along, down] = self.px_per_mm;
        [tenth(self.from_mm + f64::from(by.x) / along), tenth(f64::from(by.y) / down)]
    }
}

/// All four faces below one another, in their own wood.
fn map(ui: &mut Ui, scene: &Scene<'_>, painted: &Painted, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let blank = blank_stretch(scene.design);
    for face in Face::ALL {
        let (strip, ground) = ui.allocate_exact_size(vec2(WIDTH, FACE_PX), Sense::click());
        let rect = strip.with_min_x(strip.left() + 44.0);
        let across = scene.leg.face_mm(face);
        let px_per_mm =
            [f64::from(rect.width()) / blank.length_mm().max(1e-6), f64::from(rect.height()) / across.max(1e-6)];
        let on = FaceOnScreen { face, rect, from_mm: blank.from_mm, px_per_mm };
        ground.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("mark a knot on {face}")));
        let painter = ui.painter_at(strip);
        if let Some(patch) = &painted[Surface::Face(face).index()] {
            painter.add(Shape::mesh(face_mesh(face, rect, patch)));
        }
        painter.rect_stroke(rect, 2.0, Stroke::new(1.0, t.edge), StrokeKind::Inside);
        for s in [0.0, scene.leg.length_mm] {
            let x = on.pos(s, 0.0).x;
            painter.vline(x, rect.y_range(), Stroke::new(3.0, t.halo));
            painter.vline(x, rect.y_range(), Stroke::new(1.0, t.ink));
        }
        saw_line(&painter, t, scene, &on);
        painter.text(strip.left_center(), Align2::LEFT_CENTER, face.to_string(), tokens::small(), t.soft);
        if ground.clicked() {
            let place = ground.interact_pointer_pos().filter(|at| rect.contains(*at));
            let [from_top, from_arris] = place.map_or_else(
                || [Length::from_mm(scene.leg.length_mm / 2.0), Length::from_mm(across / 2.0)],
                |at| on.mm(at),
            );
            let deep = 0.3 * scene.leg.width_mm.min(scene.leg.depth_mm);
            let knot = Knot::new(face, from_top, from_arris, Length::from_mm(deep.round().max(1.0)));
            choose(ui, scene, scene.design.knots.len());
            asks.push(Ask::Edit(Edit::AddKnot { design: scene.design.id, knot }));
        }
        grips(ui, &painter, scene, &on, "map", asks);
    }
}

/// The wood of a whole face as it lies before the maker, top end left and the arris of its number up, on a rectangle.
pub(super) fn face_mesh(face: Face, rect: Rect, patch: &TexturePatch) -> Mesh {
    let ([left, top], [right, bottom]) = (patch.from_uv.map(|v| v as f32), patch.to_uv.map(|v| v as f32));
    // Painted rows go by x and y.
    let [top, bottom] = if face.runs_back() { [bottom, top] } else { [top, bottom] };
    let mut mesh = Mesh::with_texture(patch.texture);
    mesh.add_rect_with_uv(rect, Rect::from_min_max(pos2(left, top), pos2(right, bottom)), Color32::WHITE);
    mesh
}

/// The line that is drawn on a face, where there is one: knots between it and the arrises stay in one piece.
fn saw_line(painter: &Painter, t: &Tokens, scene: &Scene<'_>, on: &FaceOnScreen) {
    let (cut, far) = match on.face {
        Face::One => (Cut::First, false),
        Face::Two => (Cut::Second, false),
        Face::Three => (Cut::First, true),
        Face::Four => (Cut::Second, true),
    };
    let length = scene.leg.length_mm;
    let points = (0..=60).map(|i| {
        let s = length * f64::from(i) / 60.0;
        let from_arris = if cut == Cut::First { scene.leg.a(s) } else { scene.leg.b(s) };
        on.pos(s, if far { scene.leg.face_mm(on.face) - from_arris } else { from_arris })
    });
    let points: Vec<Pos2> = points.collect();
    if far {
        // On faces 3 and 4 the saw comes out: nothing is drawn there by hand.
        painter.add(Shape::line(points.clone(), Stroke::new(3.0, t.halo)));
        painter.add(Shape::line(points, Stroke::new(0.8, t.cut(cut))));
    } else {
        crate::paint::saw_line(painter, t, cut, points);
    }
}

/// The knots of one face, to be dragged.
fn grips(ui: &Ui, painter: &Painter, scene: &Scene<'_>, on: &FaceOnScreen, where_: &str, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let now = chosen(ui, scene);
    let of_face = scene.design.knots.iter().enumerate().filter(|(_, knot)| knot.face == on.face);
    for (index, knot) in of_face {
        let place = on.pos(knot.from_top.mm(), knot.from_arris.mm());
        let radius = on.px_per_mm.map(|px| ((0.5 * knot.size.mm() * px) as f32).max(LEAST_PX));
        let area = Rect::from_center_size(place, 2.0 * vec2(radius[0], radius[1])).intersect(painter.clip_rect());
        if !area.is_positive() {
            continue;
        }
        let id = Id::unique(("knot", where_, scene.design.id.0, index));
        let response = ui.interact(area, id, Sense::click_and_drag());
        let words = knot.ends(scene.leg).in_words();
        let name = format!("{} {} on {}", knot.kind.name(), index + 1, on.face);
        response.widget_info(|| WidgetInfo::labeled(Role::GraphicsObject, true, &name));
        if response.clicked() || response.drag_started() {
            choose(ui, scene, index);
            response.request_focus();
        }
        let put = |at: Pos2| {
            let [from_top, from_arris] = on.mm(at);
            set(scene, index, Knot { from_top, from_arris, ..knot.clone() })
        };
        match hold::drag(ui, &response, id, place, 0.0) {
            Some(Moved::To(at)) => asks.push(Ask::Drag(put(at))),
            Some(Moved::LetGo(at)) => asks.extend([Ask::Drag(put(at)), Ask::DragEnds { keep: true }]),
            Some(Moved::Dropped) => asks.push(Ask::DragEnds { keep: false }),
            None => {}
        }
        asks.extend(by_keys(ui, &response, scene, index, knot).map(Ask::Edit));
        let lit = response.hovered() || response.dragged() || response.has_focus() || now == index;
        let ring = egui::epaint::EllipseShape::stroke(
            place,
            vec2(radius[0], radius[1]),
            Stroke::new(if lit { 2.2 } else { 1.4 }, t.ink),
        );
        let halo = egui::epaint::EllipseShape::stroke(place, vec2(radius[0], radius[1]), Stroke::new(4.0, t.halo));
        painter.add(halo);
        painter.add(ring);
        painter.circle_filled(place, 7.0, t.halo);
        painter.text(place, Align2::CENTER_CENTER, (index + 1).to_string(), tokens::small(), t.ink);
        response.on_hover_text(format!("{name}: {words}"));
    }
}

/// Arrow keys move the knot that has the focus; Delete takes it off the list.
fn by_keys(ui: &Ui, response: &Response, scene: &Scene<'_>, index: usize, knot: &Knot) -> Option<Edit> {
    if !response.has_focus() {
        return None;
    }
    let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    let (right, down, fine, delete) = ui.input(|i| {
        let presses = |key| i.num_presses(key) as f64;
        let right = presses(Key::ArrowRight) - presses(Key::ArrowLeft);
        let down = presses(Key::ArrowDown) - presses(Key::ArrowUp);
        (right, down, i.modifiers.shift, i.key_pressed(Key::Delete))
    });
    if delete {
        return Some(Edit::DeleteKnot { design: scene.design.id, index });
    }
    if (right, down) == (0.0, 0.0) {
        return None;
    }
    let step = if fine { 0.1 * STEP_MM } else { STEP_MM };
    let moved = Knot {
        from_top: Length::from_mm(knot.from_top.mm() + step * right),
        from_arris: Length::from_mm(knot.from_arris.mm() + step * down),
        ..knot.clone()
    };
    Some(set(scene, index, moved))
}

/// The knots on the two faces that lines are drawn on.
pub(super) fn on_faces(ui: &Ui, painter: &Painter, faces: &ScreenFromFaces, scene: &Scene<'_>, asks: &mut Vec<Ask>) {
    for cut in Cut::ALL {
        let (top, px) = (faces.pos(cut, 0.0, 0.0), faces.axis.px_per_mm);
        let on = FaceOnScreen {
            face: cut.face(),
            rect: Rect::from_min_size(pos2(top.x, top.y), vec2(1.0, 1.0)),
            from_mm: 0.0,
            px_per_mm: [px, faces.px_per_mm],
        };
        grips(ui, painter, scene, &on, "faces", asks);
    }
}
