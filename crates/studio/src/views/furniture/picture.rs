//! The furniture seen: upright and turning, in plan, from the front and from the side; drawn apart by a slider. A click on a
//! leg chooses its place and unfolds its lines, a double click goes to where it is shaped.

use cornerwise_geometry::furniture::{BodyPart, Scene as Solids};
use cornerwise_project::Apart;
use egui::{
    Align2, Button, CursorIcon, Id, Rect, RichText, Role, Sense, Slider, Stroke, StrokeKind, Ui, UiBuilder, WidgetInfo,
    vec2,
};

use super::super::leg as shape_leg;
use super::{Made, legs};
use crate::commands::Command;
use crate::furnished::Furnished;
use crate::furniture_view::Seen;
use crate::paint;
use crate::scene::Ask;
use crate::solid::{self, Room, Screen, facet_at};
use crate::tokens::{self, GAP, Tokens};
use crate::view::View;

/// Room round the furniture, points.
const MARGIN_PX: f32 = 26.0;
/// Height of the controls above and below it, points.
const CONTROLS_PX: f32 = 38.0;
/// How far slabs may stray from the curve, points.
const STRAY_PX: f64 = 0.25;

/// Where and from what it is drawn.
pub(super) struct Picture<'a> {
    pub canvas: Rect,
    pub made: &'a Made<'a>,
    /// Whether the pointer holds something.
    pub held: bool,
}

impl Picture<'_> {
    /// Shows it. The answer is whether it is coarse, and should be shown again at rest.
    pub(super) fn show(&self, ui: &mut Ui, furnished: &mut Furnished, view: &mut View, asks: &mut Vec<Ask>) -> bool {
        let t = Tokens::here(ui);
        let (canvas, assembly) = (self.canvas, self.made.assembly);
        let painter = ui.painter_at(canvas);
        painter.rect_filled(canvas, 0.0, t.sheet);
        let response = ui.interact(canvas, Id::unique("furniture"), Sense::click_and_drag());
        response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "furniture"));
        self.turn(ui, &response, view);
        let apart = assembly.apart(view.furniture.apart);
        let room = canvas.shrink2(vec2(MARGIN_PX, MARGIN_PX + CONTROLS_PX));
        let space = furnished.room(assembly, apart, view.furniture.without_top);
        let camera = view.furniture.camera();
        let screen = Screen::fitted(room, camera, &space);
        let tolerance = stepped(STRAY_PX / screen.px_per_mm);
        let (shown, solids) = furnished.scene(assembly, tolerance, apart, view.furniture.without_top);
        let order = furnished.order(&solids, view.furniture.angles_deg());
        let px_per_mm = screen.px_per_mm * f64::from(ui.pixels_per_point());
        let coarse = furnished.paint(ui.ctx(), assembly, px_per_mm, self.made.scene.moving);
        let skins = furnished.skins(assembly, &shown, t);
        floor(&painter, t, &screen, &space);
        // Numbers lie on the floor: what stands before them hides them, but not that of the chosen place.
        solid::paint(&painter, &solids, &order, &screen, ui.pixels_per_point(), |facet| skins.of(facet));
        self.places(&painter, t, &screen, &apart, view);
        self.click(ui, &response, (&solids, &order), &screen, view, asks);
        if response.has_focus() {
            painter.rect_stroke(canvas.shrink(1.0), 0.0, Stroke::new(1.0, t.edge), StrokeKind::Inside);
        }
        response.on_hover_and_drag_cursor(CursorIcon::Grab);
        self.above(ui, view);
        self.below(ui, view);
        coarse
    }

    fn turn(&self, ui: &Ui, response: &egui::Response, view: &mut View) {
        // Begun to be turned, a fixed view goes over into the turning one from where it is.
        let arrows = [egui::Key::ArrowLeft, egui::Key::ArrowRight, egui::Key::ArrowUp, egui::Key::ArrowDown];
        let by_keys = response.has_focus() && ui.input(|i| arrows.iter().any(|key| i.num_presses(*key) > 0));
        let seen = &mut view.furniture;
        if (response.dragged() || by_keys) && seen.seen != Seen::Turning {
            [seen.turn_deg, seen.tilt_deg] = seen.angles_deg();
            seen.seen = Seen::Turning;
        }
        shape_leg::turn(ui, response, &mut seen.turn_deg, &mut seen.tilt_deg);
    }

    /// The number of each place at the foot of its leg, over everything; of two that would lie on each other, the chosen or
    /// the first.
    fn places(&self, painter: &egui::Painter, t: &Tokens, screen: &Screen, apart: &Apart, view: &View) {
        let standing = self.made.assembly.standing(apart.legs_mm);
        if standing.len() < 2 {
            return;
        }
        let mut legs: Vec<_> = standing.iter().zip(&self.made.assembly.legs).enumerate().collect();
        legs.sort_by_key(|(place, _)| view.furniture.place != Some(*place));
        let mut taken: Vec<Rect> = Vec::new();
        for (place, (leg, placed)) in legs {
            let (sin, cos) = placed.spot.inward_deg.to_radians().sin_cos();
            // Outside the foot, so that the number does not lie on the leg.
            let out = placed.leg.width_mm.max(placed.leg.depth_mm) * 1.3;
            let foot = screen.pos([leg.axis_mm[0] - out * cos, leg.axis_mm[1] - out * sin, 0.0]) + vec2(0.0, 10.0);
            let chosen = view.furniture.place == Some(place);
            let words = format!("{}  {}", place + 1, placed.label());
            let font = if chosen { tokens::bold() } else { tokens::small() };
            let colour = if chosen { t.ink } else { t.soft };
            let size = painter.layout_no_wrap(words.clone(), font.clone(), colour).size();
            let room = Rect::from_center_size(foot, size).expand2(vec2(4.0, 1.0));
            if taken.iter().any(|other| other.intersects(room)) {
                continue;
            }
            taken.push(room);
            paint::label(painter, t, foot, Align2::CENTER_CENTER, &words, font, colour);
            if chosen {
                painter.rect_stroke(room, 3.0, Stroke::new(1.5, t.ink), StrokeKind::Outside);
            }
        }
    }

    fn click(
        &self,
        ui: &Ui,
        response: &egui::Response,
        (solids, order): (&Solids, &[u32]),
        screen: &Screen,
        view: &mut View,
        asks: &mut Vec<Ask>,
    ) {
        let still = !ui.input(|i| i.pointer.any_down()) && !self.held;
        let Some(at) = response.hover_pos().filter(|_| still || response.clicked()) else { return };
        let Some(facet) = facet_at(solids, order, screen, at) else {
            if response.clicked() {
                view.furniture.place = None;
            }
            return;
        };
        match facet.part {
            BodyPart::Piece { place, piece, .. } => {
                let Some(placed) = self.made.assembly.legs.get(place) else { return };
                let words = format!(
                    "Place {}, leg {}, piece {}. Click for its lines, twice to shape it",
                    place + 1,
                    placed.label(),
                    placed.piece(piece)
                );
                response.clone().on_hover_text_at_pointer(words);
                if response.clicked() {
                    legs::choose(view, place, placed);
                    view.furniture.faces = true;
                }
                if response.double_clicked() {
                    asks.push(Ask::Command(Command::PlaceShape));
                }
            }
            BodyPart::Board(number) => {
                let boards = &self.made.assembly.boards;
                // Without its top the list is one shorter; the kind is told by what is left.
                let hidden = usize::from(
                    view.furniture.without_top
                        && boards.first().is_some_and(|b| b.kind == cornerwise_geometry::furniture::BoardKind::Top),
                );
                let Some(board) = boards.get(number + hidden) else { return };
                let units = self.made.scene.units();
                let [long, wide, thick] = board.size_mm;
                let name = board.kind.name();
                let words =
                    format!("{name}, {} × {} × {}", units.show(long), units.show(wide), units.show_with_unit(thick));
                response.clone().on_hover_text_at_pointer(words);
            }
        }
    }

    /// From where it is looked at.
    fn above(&self, ui: &mut Ui, view: &mut View) {
        let bar = self.canvas.with_max_y(self.canvas.top() + CONTROLS_PX).shrink2(vec2(GAP, 6.0));
        let mut ui = ui.new_child(UiBuilder::new().max_rect(bar).id_salt("seen from"));
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 4.0;
            for seen in Seen::ALL {
                let chosen = view.furniture.seen == seen;
                if ui.add(Button::selectable(chosen, seen.name())).clicked() {
                    view.furniture.seen = seen;
                }
            }
            if self.made.assembly.furniture.top.is_some() {
                ui.add_space(GAP);
                ui.checkbox(&mut view.furniture.without_top, "Without the top");
            }
        });
    }

    /// How far it is drawn apart, and its size.
    fn below(&self, ui: &mut Ui, view: &mut View) {
        let t = Tokens::here(ui);
        let bar = self.canvas.with_min_y(self.canvas.bottom() - CONTROLS_PX).shrink2(vec2(GAP, 6.0));
        let mut ui = ui.new_child(UiBuilder::new().max_rect(bar).id_salt("apart"));
        ui.horizontal(|ui| {
            ui.label(RichText::new("together").font(tokens::small()).color(t.soft));
            ui.spacing_mut().slider_width = 150.0;
            let slider = ui.add(Slider::new(&mut view.furniture.apart, 0.0..=1.0).show_value(false));
            slider.accessible_name("drawn apart along the order of assembly").on_hover_text(
                "In plan, against the order of assembly: the legs leave the boards, then part into halves, then into pieces",
            );
            ui.label(RichText::new("apart").font(tokens::small()).color(t.soft));
            ui.add_space(GAP);
            let units = self.made.scene.units();
            let words = format!("{} high, true shape", units.show_with_unit(self.made.assembly.height_mm()));
            ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
        });
    }
}

/// A tolerance in steps, so that a little more or less room makes no new bodies.
fn stepped(mm: f64) -> f64 {
    2.0_f64.powf(mm.max(1e-3).log2().floor())
}

/// The floor line, where the furniture is seen level.
fn floor(painter: &egui::Painter, t: &Tokens, screen: &Screen, room: &Room) {
    if screen.camera.toward()[2] == 0.0 {
        let y = screen.pos([0.0, 0.0, room.span_mm[1]]).y;
        let half = (room.radius_mm * screen.px_per_mm) as f32 + 12.0;
        painter.hline((screen.middle.x - half)..=(screen.middle.x + half), y, Stroke::new(1.0, t.edge));
    }
}
