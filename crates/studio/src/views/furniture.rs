//! The place where legs and boards are put together. What stands where is typed at the left; the whole is seen in the
//! middle, with the faces of the chosen leg unfolded below it; how it stands, what to buy and how to glue it at the right.

mod arrangement;
mod boards;
mod faces;
mod legs;
mod picture;
mod standing;
mod told;

use std::sync::Arc;

use cornerwise_project::{Assembly, Project};
use egui::{Rect, ScrollArea, Ui, UiBuilder, pos2, vec2};

use super::{design_choice, head, ruler_strip, shape};
use crate::across::ScreenFromFaces;
use crate::furnished::Furnished;
use crate::gesture::Gesture;
use crate::leg_pictures::LegPictures;
use crate::scene::{Ask, Scene};
use crate::sheet::Sheet;
use crate::tokens::{GAP, Tokens};
use crate::view::View;

/// Room at the left and right of what is typed, points.
const MARGIN: f32 = 12.0;
/// Height of the unfolded faces with their ruler, points.
const FACES_PX: f32 = 236.0;
/// Height of the bar above them, points.
const BAR_PX: f32 = 30.0;

/// What this place keeps from frame to frame.
#[derive(Default)]
pub struct FurniturePlace {
    furnished: Furnished,
    plan: told::Plan,
    /// The lines that the hand could take hold of in the last frame.
    pub sheets: Vec<Sheet>,
    /// How the unfolded faces lay on screen in the last frame.
    pub faces: Option<ScreenFromFaces>,
}

/// What one frame of this place is drawn from.
pub struct Made<'a> {
    /// The project, the design that is chosen, its leg.
    pub scene: &'a Scene<'a>,
    /// The furniture put together.
    pub assembly: &'a Arc<Assembly>,
}

impl FurniturePlace {
    /// Shows the place in all that is left of the window.
    pub fn show(
        &mut self,
        ui: &mut Ui,
        scene: &Scene<'_>,
        view: &mut View,
        pictures: &mut LegPictures,
        held: Option<&Gesture>,
        asks: &mut Vec<Ask>,
    ) {
        let assembly = match self.furnished.assembly(scene.project) {
            Ok(assembly) => assembly,
            // A checked project has sound legs; if one ever has not, its maker should hear why.
            Err(error) => {
                ui.label(error.to_string());
                return;
            }
        };
        view.furniture.place = view.furniture.place.filter(|place| *place < assembly.legs.len());
        let made = Made { scene, assembly: &assembly };
        let t = Tokens::here(ui);
        let whole = ui.available_rect_before_wrap();
        ui.painter().rect_filled(whole, 0.0, t.ground);
        let column = (whole.width() * 0.26).clamp(300.0, 520.0);
        let right = whole.with_min_x((whole.right() - column).max(whole.left()));
        let left = whole.with_max_x((right.left() - 1.0).max(whole.left()));
        ui.painter().vline(right.left() - 0.5, whole.y_range(), egui::Stroke::new(1.0, t.edge));
        let middle = shape::canvas(left);
        let unfolded = if view.furniture.faces { FACES_PX } else { 0.0 };
        let bar_top = (middle.bottom() - unfolded - BAR_PX).max(middle.top());
        let canvas = middle.with_max_y(bar_top);
        let picture = picture::Picture { canvas, made: &made, held: held.is_some() };
        let coarse = picture.show(ui, &mut self.furnished, view, asks);
        shape::again_at_rest(ui, coarse, made.scene.moving);
        let bar = Rect::from_min_max(pos2(middle.left(), bar_top), pos2(middle.right(), bar_top + BAR_PX));
        faces::bar(ui, bar, &made, view);
        self.sheets.clear();
        self.faces = None;
        if view.furniture.faces {
            let area = middle.with_min_y(bar.bottom());
            let patches = self.furnished.face_patches(ui.ctx(), scene.design, scene.leg, scene.moving);
            self.faces = Some(faces::show(ui, area, &patches, &made, view, &mut self.sheets, held, asks));
        }
        self.typed(ui, left, &made, view, pictures, asks);
        self.told(ui, right, &made, view, asks);
    }

    fn typed(
        &mut self,
        ui: &mut Ui,
        left: Rect,
        made: &Made<'_>,
        view: &mut View,
        pictures: &mut LegPictures,
        asks: &mut Vec<Ask>,
    ) {
        let area = shape::head_of(left);
        let choice = area.with_max_y(area.top() + ruler_strip::HEIGHT);
        design_choice::show(ui, choice, made.scene, view, pictures, asks);
        let area = area.with_min_y(choice.bottom());
        let inner = Rect::from_min_max(area.min + vec2(MARGIN, 6.0), area.max - vec2(0.0, 2.0));
        let mut ui = ui.new_child(UiBuilder::new().max_rect(inner).id_salt("furniture"));
        ui.set_clip_rect(area.intersect(ui.clip_rect()));
        ScrollArea::vertical().id_salt("furniture").auto_shrink([false, false]).show(&mut ui, |ui| {
            ui.set_width(head::WIDTH - 2.0 * MARGIN);
            arrangement::show(ui, made, asks);
            ui.add_space(GAP);
            legs::show(ui, made, view, asks);
            ui.add_space(GAP);
            let least_base_mm = self.furnished.least_base_mm(made.assembly, made.scene.moving);
            boards::show(ui, made, least_base_mm, asks);
            ui.add_space(GAP);
        });
    }

    fn told(&mut self, ui: &mut Ui, area: Rect, made: &Made<'_>, view: &mut View, asks: &mut Vec<Ask>) {
        let inner = area.shrink2(vec2(GAP, 6.0));
        let mut ui = ui.new_child(UiBuilder::new().max_rect(inner).id_salt("told of furniture"));
        ui.set_clip_rect(area.intersect(ui.clip_rect()));
        told::tabs(&mut ui, view);
        let id = ("told", view.furniture.told.name());
        ScrollArea::vertical().id_salt(id).auto_shrink([false, false]).show(&mut ui, |ui| {
            ui.set_width(inner.width() - GAP);
            match view.furniture.told {
                crate::furniture_view::Told::Standing => {
                    let stands = self.furnished.stands(made.assembly);
                    standing::show(ui, made, &stands);
                    ui.add_space(GAP);
                    let units = made.scene.units();
                    let found = self.furnished.findings(made.assembly, units, made.scene.moving);
                    super::fit::findings_list(ui, &found, "in the furniture", view, asks);
                }
                crate::furniture_view::Told::Stock => told::stock(ui, made, asks),
                crate::furniture_view::Told::Plan => self.plan.show(ui, made.scene.project),
            }
        });
    }
}

/// Whether the project would take an edit, and if not, why.
fn allowed(project: &Project, edit: &cornerwise_project::Edit) -> Result<(), String> {
    project.apply(edit).map(|_| ()).map_err(|error| error.to_string())
}
