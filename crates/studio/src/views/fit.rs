//! The place where the leg is fitted: pipe hole, inside piece, notches, post and joints. What is typed stands at the left;
//! faces, sides and the four stances on one ruler in the middle; the upright leg and its level section at the right, with
//! what to watch out for below them.

mod ends;
mod findings;
mod inside;
mod joints;
mod leg;
mod notches;
mod pipe;
mod rows;
mod section;
mod several;
mod sides_row;
mod spacers;
mod stances;

use cornerwise_geometry::{Cut, Face, MM_PER_INCH, Surface, Units};
use egui::{Rect, RichText, ScrollArea, Ui, UiBuilder, pos2, vec2};

use super::{design_choice, head, ruler_strip, shape};
use crate::across::ScreenFromFaces;
use crate::derive::Derived;
use crate::leg_pictures::LegPictures;
use crate::notch_hand::NotchHand;
use crate::scene::{Ask, Scene};
use crate::tokens::{self, GAP, Tokens};
use crate::view::{View, blank_stretch};

pub use findings::list as findings_list;

/// Room at the left and right of what is typed, points.
const MARGIN: f32 = 12.0;
/// Shares of the height below the ruler: faces, sides; the stances have the rest.
const SHARES: [f32; 2] = [0.30, 0.37];
/// The share of the right column's height that the leg and its section take.
const LEG_SHARE: f32 = 0.66;

/// What this place keeps from frame to frame.
#[derive(Default)]
pub struct FitPlace {
    /// The hand on notches.
    pub hand: NotchHand,
    /// How the faces lay on screen in the last frame.
    pub faces: Option<ScreenFromFaces>,
    leg: leg::Upright,
    stances: stances::Stances,
    several: several::Drafts,
}

impl FitPlace {
    /// Shows the place in all that is left of the window.
    pub fn show(
        &mut self,
        ui: &mut Ui,
        scene: &Scene<'_>,
        view: &mut View,
        derived: &mut Derived,
        pictures: &mut LegPictures,
        asks: &mut Vec<Ask>,
    ) {
        view.fit.tidy(&scene.design.fit);
        self.hand.begin_frame();
        let t = Tokens::here(ui);
        let whole = ui.available_rect_before_wrap();
        ui.painter().rect_filled(whole, 0.0, t.ground);
        let column = (whole.width() * 0.285).clamp(320.0, 560.0);
        let right = Rect::from_min_max(pos2(whole.right() - column, whole.top()), whole.max);
        let left = whole.with_max_x((right.left() - 1.0).max(whole.left()));
        let ruler = left.with_max_y(left.top() + ruler_strip::HEIGHT);
        let rows = rows_below(ruler, left);
        let axis = view.ruler.axis(shape::canvas(left).x_range(), blank_stretch(scene.design));
        let axis = shape::input(ui, shape::canvas(left), axis, scene, view, None);
        let px_per_mm = axis.px_per_mm.min(2.0) * f64::from(ui.pixels_per_point());
        let coarse = derived.atlas.update(ui.ctx(), scene.design, scene.leg, px_per_mm, scene.moving);
        shape::again_at_rest(ui, matches!(coarse, Ok(true)), scene.moving);
        let patches = Surface::ALL.map(|surface| derived.atlas.patch(surface));
        let page = |surface: Surface| patches[surface.index()];
        ruler_strip::show(ui, shape::canvas(ruler), axis, scene, view);
        rows::on_ruler(ui, shape::canvas(ruler), axis, scene, view, &mut self.hand);
        design_choice::show(ui, shape::head_of(ruler), scene, view, pictures, asks);
        let faces = ScreenFromFaces::new(axis, view.across, shape::canvas(rows[0]), scene.leg, 0.0);
        self.faces = Some(faces);
        let grounds = [[page(Surface::Face(Face::One)), page(Surface::Face(Face::Two))]];
        rows::faces(ui, shape::canvas(rows[0]), &faces, &grounds, scene, view, &mut self.hand);
        let grounds = [[page(Surface::Cut(Cut::First)), page(Surface::Cut(Cut::Second))]];
        sides_row::show(ui, shape::canvas(rows[1]), axis, &grounds, scene, view, &mut self.hand);
        self.stances.show(ui, shape::canvas(rows[2]), &patches, scene, asks);
        self.typed(ui, left.with_min_y(ruler.bottom()), scene, view, asks);
        self.right(ui, right, &patches, scene, view, derived, asks);
    }

    fn typed(&mut self, ui: &mut Ui, left: Rect, scene: &Scene<'_>, view: &mut View, asks: &mut Vec<Ask>) {
        let area = shape::head_of(left);
        let inner = Rect::from_min_max(area.min + vec2(MARGIN, 6.0), area.max - vec2(0.0, 2.0));
        let mut ui = ui.new_child(UiBuilder::new().max_rect(inner).id_salt("fit"));
        ui.set_clip_rect(area.intersect(ui.clip_rect()));
        ScrollArea::vertical().id_salt("fit").auto_shrink([false, false]).show(&mut ui, |ui| {
            ui.set_width(head::WIDTH - 2.0 * MARGIN);
            inside::show(ui, scene, asks);
            ui.add_space(GAP);
            notches::show(ui, scene, view, &mut self.several, asks);
            ui.add_space(GAP);
            pipe::show(ui, scene, view, asks);
            ui.add_space(GAP);
            joints::show(ui, scene, view, asks);
            ui.add_space(GAP);
            ends::show(ui, scene, asks);
            ui.add_space(GAP);
        });
    }

    #[allow(clippy::too_many_arguments, reason = "what a column is drawn from and what it changes")]
    fn right(
        &mut self,
        ui: &mut Ui,
        area: Rect,
        patches: &crate::furnished::Patches,
        scene: &Scene<'_>,
        view: &mut View,
        derived: &mut Derived,
        asks: &mut Vec<Ask>,
    ) {
        let t = Tokens::here(ui);
        let parting = (area.top() + area.height() * LEG_SHARE).floor();
        let middle = (area.left() + area.width() * 0.5).floor();
        let upper = area.with_max_y(parting);
        self.leg.show(ui, upper.with_max_x(middle), patches, scene, view, &mut self.hand, asks);
        section::show(ui, upper.with_min_x(middle), scene, view, asks);
        let line = egui::Stroke::new(1.0, t.hair);
        ui.painter().vline(middle - 0.5, upper.y_range(), line);
        ui.painter().vline(area.left() - 0.5, area.y_range(), egui::Stroke::new(1.0, t.edge));
        ui.painter().hline(area.x_range(), parting + 0.5, line);
        let found = derived.fit_findings(scene);
        let inner = area.with_min_y(parting).shrink2(vec2(GAP, 6.0));
        let mut ui = ui.new_child(UiBuilder::new().max_rect(inner).id_salt("fit findings"));
        ui.set_clip_rect(area.with_min_y(parting).intersect(ui.clip_rect()));
        ScrollArea::vertical().id_salt("fit findings").auto_shrink([false, false]).show(&mut ui, |ui| {
            ui.set_width(inner.width());
            findings::list(ui, &found, "in the fit", view, asks);
        });
    }
}

/// Faces, sides and stances below the ruler.
fn rows_below(ruler: Rect, left: Rect) -> [Rect; 3] {
    let room = left.bottom() - ruler.bottom();
    let first = (ruler.bottom() + room * SHARES[0]).floor();
    let second = (first + room * SHARES[1]).floor();
    let row = |top: f32, bottom: f32| Rect::from_min_max(pos2(left.left(), top), pos2(left.right(), bottom));
    [row(ruler.bottom(), first), row(first, second), row(second, left.bottom())]
}

/// Small text that tells something.
pub(super) fn told(ui: &mut Ui, words: impl Into<String>) {
    let t = Tokens::here(ui);
    ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
}

/// Small text that tells a figure.
pub(super) fn figure(ui: &mut Ui, words: impl Into<String>) {
    let t = Tokens::here(ui);
    ui.label(RichText::new(words).font(tokens::small()).color(t.ink));
}

/// An area in the project's units.
pub(super) fn area(units: Units, mm2: f64) -> String {
    match units {
        Units::Millimetres => format!("{mm2:.0} mm²"),
        Units::Inches(_) => format!("{:.2} in²", mm2 / (MM_PER_INCH * MM_PER_INCH)),
    }
}
