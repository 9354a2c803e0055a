//! Battens in the row head: turning a line into one and back, and the figures of the chosen pin.

use cornerwise_geometry::{Cut, Length, Line, MM_PER_INCH, PointId, Units};
use cornerwise_project::Edit;
use egui::{Button, RichText, Ui};

use super::{allowed, field, row};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::{Chosen, View};

/// How far a line may move when it becomes a batten, and when a batten becomes points: what is lost in sanding.
fn tolerances(units: Units) -> [Length; 2] {
    match units {
        Units::Millimetres => [0.5.into(), 0.05.into()],
        Units::Inches(_) => [(MM_PER_INCH / 64.0).into(), (MM_PER_INCH / 512.0).into()],
    }
}

/// What a line can be besides a starting shape, in the choice of shapes.
pub(super) fn choices(ui: &mut Ui, scene: &Scene<'_>, cut: Cut, asks: &mut Vec<Ask>) {
    let design = scene.design.id;
    let line = scene.design.line(cut);
    let [near, nearer] = tolerances(scene.units());
    let is_batten = matches!(line, Line::Batten(_));
    let said = scene.units().show_with_unit(near.mm());
    let batten = ui.selectable_label(is_batten, "batten").on_hover_text(format!(
        "A thin strip along pins: the fairest curve through them. Laid along the line as it is, within {said}"
    ));
    if batten.clicked() && !is_batten {
        asks.push(Ask::Edit(Edit::MakeBatten { design, cut, tolerance: near }));
    }
    let is_points = matches!(line, Line::Points(_));
    let points = ui.selectable_label(is_points, "points").on_hover_text(match line {
        Line::Batten(_) => format!("The batten as points, within {}", scene.units().show_with_unit(nearer.mm())),
        _ => "The line as it is, as points".to_owned(),
    });
    if points.clicked() {
        match line {
            Line::Points(_) => {}
            Line::Shape(_) => asks.push(Ask::Edit(Edit::ShapeToPoints { design, cut })),
            Line::Batten(_) => asks.push(Ask::Edit(Edit::BattenToPoints { design, cut, tolerance: nearer })),
            Line::Linked(_) => asks.push(Ask::Edit(Edit::BreakLink { design })),
        }
    }
}

/// Holding a pin's direction as it is, or letting it turn.
pub(in crate::views) fn hold_choice(ui: &mut Ui, scene: &Scene<'_>, cut: Cut, pin: PointId, asks: &mut Vec<Ask>) {
    let design = scene.design.id;
    let holds = scene.design.has_handles(cut, pin);
    let mut wanted = holds;
    ui.checkbox(&mut wanted, "Hold direction")
        .on_hover_text("As two pins side by side would, in the direction it has now");
    if wanted != holds {
        let at = scene.design.points(cut).into_iter().find(|point| point.id == pin).map(|point| point.from_top.mm());
        let slope = at.filter(|_| wanted).map(|at| scene.leg.line(cut).at(at).slope);
        asks.push(Ask::Edit(Edit::HoldPin { design, cut, pin, slope }));
    }
}

/// The chosen pin's figures.
pub(super) fn pin(ui: &mut Ui, scene: &Scene<'_>, cut: Cut, group: &str, view: &View, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let design = scene.design.id;
    let all = scene.design.points(cut);
    let chosen = view.chosen.one().filter(|chosen| chosen.cut == cut);
    let Some((number, pin)) =
        chosen.and_then(|Chosen { point, .. }| all.iter().enumerate().find(|(_, pin)| pin.id == point))
    else {
        let words = format!("{} pins. Click one to see its figures; double-click the line to add one.", all.len());
        ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
        return;
    };
    let group = format!("{group}, pin {}", number + 1);
    let holds = scene.design.has_handles(cut, pin.id);
    row(ui, |ui| {
        let place = |from_top: &Length, offset: &Length| Edit::PlacePoint {
            design,
            cut,
            point: pin.id,
            from_top: from_top.clone(),
            offset: offset.clone(),
        };
        let from_top = field(scene, "From top", &group, 3)
            .length(ui, &pin.from_top, scene.reading(), |length| allowed(scene, &place(length, &pin.offset)));
        let offset = field(scene, "Offset", &group, 3)
            .length(ui, &pin.offset, scene.reading(), |length| allowed(scene, &place(&pin.from_top, length)));
        let slope = if holds {
            let hold = |slope: f64| Edit::HoldPin { design, cut, pin: pin.id, slope: Some(slope) };
            let field = field(scene, "Slope", &group, 3);
            field.number(ui, pin.kind.after().0, "", |slope| allowed(scene, &hold(slope))).map(hold)
        } else {
            None
        };
        let placed = from_top.map(|from_top| place(&from_top, &pin.offset));
        let edit = placed.or(offset.map(|offset| place(&pin.from_top, &offset))).or(slope);
        asks.extend(edit.map(Ask::Edit));
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        ui.label(RichText::new(format!("Pin {}", number + 1)).font(tokens::small()).color(t.soft));
        hold_choice(ui, scene, cut, pin.id, asks);
        if ui.add_enabled(all.len() > 2, Button::new("Delete")).clicked() {
            asks.push(Ask::Edit(Edit::DeletePoint { design, cut, point: pin.id }));
        }
    });
}
