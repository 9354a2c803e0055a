//! What is done to the whole line of a cut: chosen, tried, and seen on the face before it is applied.

use std::sync::Arc;

use cornerwise_geometry::line_tools::{bending_per_mm, greatest_distance};
use cornerwise_geometry::{Cut, Length, SawLine};
use cornerwise_project::{Design, Edit, LineTool, Stretch};
use egui::{Button, Context, Id, RichText, Ui, vec2};

use super::head::row;
use crate::length_field::{Field, plain};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::view::View;

/// How exactly bending is found for the figures shown, as a share of it; and distances, mm.
const ACCURACY: f64 = 1e-6;
const NEAR_MM: f64 = 1e-4;

/// How wide the panel is, points.
const TOOLS_PX: f32 = 320.0;

/// The tools, in the order they are offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Tool {
    Mirror,
    EndForEnd,
    Shift,
    Swing,
    Fairer,
    Fewer,
    Stretch,
    StretchBelow,
}

impl Tool {
    const ALL: [(Tool, &'static str, &'static str); 8] = [
        (Tool::Mirror, "Mirror across", "What lay near one arris lies as near to the other"),
        (Tool::EndForEnd, "Turn end for end", "What was at the top is at the foot"),
        (Tool::Shift, "Shift along", "The whole line toward the foot, or less than 0 toward the top"),
        (Tool::Swing, "Scale the swing", "Its distance from a straight line, so many times"),
        (Tool::Fairer, "Make fairer", "Less bending; no place moves farther than you say, and the ends stay"),
        (Tool::Fewer, "Fewer points", "No place of the line moves farther than you say"),
        (Tool::Stretch, "Stretch the leg", "Both cuts and the blank, to another finished length"),
        (Tool::StretchBelow, "Stretch below the top", "The same, with the top part kept as it is, a post for instance"),
    ];
}

/// What is typed for them.
#[derive(Clone, Debug, PartialEq)]
struct Choice {
    tool: Option<Tool>,
    shift: Length,
    factor: f64,
    about: Length,
    fair: Length,
    few: Length,
    length: Length,
    keep: Length,
}

impl Choice {
    fn id(scene: &Scene<'_>, cut: Cut) -> Id {
        Id::unique(("whole line", scene.design.id.0, cut.index()))
    }

    fn of(ctx: &Context, scene: &Scene<'_>, cut: Cut) -> Choice {
        ctx.data(|data| data.get_temp(Choice::id(scene, cut))).unwrap_or_else(|| Choice {
            tool: None,
            shift: 10.0.into(),
            factor: 1.1,
            about: (scene.leg.across_mm(cut) / 2.0).into(),
            fair: 0.5.into(),
            few: 0.2.into(),
            length: scene.design.blank.length.clone(),
            keep: (scene.leg.length_mm / 4.0).round().into(),
        })
    }

    fn edit(&self, scene: &Scene<'_>, cut: Cut) -> Option<Edit> {
        let design = scene.design.id;
        let stretch = |keep| Edit::StretchLeg { design, length: self.length.clone(), keep };
        let tool = match self.tool? {
            Tool::Mirror => LineTool::MirrorAcross,
            Tool::EndForEnd => LineTool::EndForEnd,
            Tool::Shift => LineTool::Shift { by: self.shift.clone() },
            Tool::Swing => LineTool::ScaleSwing { factor: self.factor, about: self.about.clone() },
            Tool::Fairer => LineTool::MakeFairer { tolerance: self.fair.clone() },
            Tool::Fewer => LineTool::FewerPoints { tolerance: self.few.clone() },
            Tool::Stretch => return Some(stretch(Stretch::Everything)),
            Tool::StretchBelow => return Some(stretch(Stretch::BelowTop { kept: self.keep.clone() })),
        };
        Some(Edit::ReshapeLine { design, cut, tool })
    }
}

/// What a tool would make of the line.
#[derive(Clone)]
struct Tried {
    of: Arc<Design>,
    edit: Edit,
    /// The line, how many points it has, its bending before and after, how far it moves at most and where.
    made: Result<Made, String>,
}

#[derive(Clone)]
struct Made {
    line: Arc<SawLine>,
    points: [usize; 2],
    bending_per_mm: [f64; 2],
    moved: cornerwise_geometry::line_tools::Distance,
}

/// Tries the chosen tool, once for each line and each choice.
fn tried(ctx: &Context, scene: &Scene<'_>, cut: Cut) -> Option<Tried> {
    let edit = Choice::of(ctx, scene, cut).edit(scene, cut)?;
    let kept = Id::unique(("whole line, tried", cut.index()));
    let known = ctx.data(|data| data.get_temp::<Tried>(kept));
    if let Some(known) = known.filter(|known| Arc::ptr_eq(&known.of, scene.design) && known.edit == edit) {
        return Some(known);
    }
    // Not while the hand moves the line: that has its own frame to keep.
    if scene.moving {
        return None;
    }
    let made = make(scene, cut, &edit);
    let tried = Tried { of: Arc::clone(scene.design), edit, made };
    ctx.data_mut(|data| data.insert_temp(kept, tried.clone()));
    Some(tried)
}

fn make(scene: &Scene<'_>, cut: Cut, edit: &Edit) -> Result<Made, String> {
    let project = scene.project.apply(edit).map_err(|error| super::head::told(scene, &error))?;
    let design = project.design(scene.design.id).ok_or("the leg is gone")?;
    let leg = design.leg().map_err(|error| error.to_string())?;
    let (was, is) = (scene.leg.line(cut), leg.line(cut));
    Ok(Made {
        points: [scene.design.points(cut).len(), design.points(cut).len()],
        bending_per_mm: [was, is].map(|line| bending_per_mm(line, ACCURACY)),
        moved: greatest_distance(was, is, NEAR_MM),
        line: Arc::new(is.clone()),
    })
}

/// The line as the open tool would make it, to be shown beside the one there is.
pub fn preview(ctx: &Context, scene: &Scene<'_>, view: &View, cut: Cut) -> Option<Arc<SawLine>> {
    view.panels.whole_line.filter(|open| *open == cut)?;
    tried(ctx, scene, cut)?.made.ok().map(|made| made.line)
}

/// Shows the tools of one cut.
pub fn show(ui: &mut Ui, scene: &Scene<'_>, cut: Cut, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let before = Choice::of(ui.ctx(), scene, cut);
    let mut choice = before.clone();
    ui.set_width(TOOLS_PX);
    egui::Grid::new(("whole line tools", cut.index())).spacing(vec2(6.0, 3.0)).show(ui, |ui| {
        for (i, (tool, name, does)) in Tool::ALL.into_iter().enumerate() {
            let button =
                Button::selectable(choice.tool == Some(tool), name).min_size(vec2((TOOLS_PX - 6.0) / 2.0, 24.0));
            if ui.add(button).on_hover_text(does).clicked() {
                choice.tool = Some(tool);
            }
            if i % 2 == 1 {
                ui.end_row();
            }
        }
    });
    ui.separator();
    fields(ui, scene, cut, &mut choice);
    if choice != before {
        ui.data_mut(|data| data.insert_temp(Choice::id(scene, cut), choice));
    }
    match tried(ui.ctx(), scene, cut) {
        None => {
            ui.label(RichText::new("Choose what to do. It is shown on the face first.").color(t.soft));
        }
        Some(Tried { made: Err(why), .. }) => {
            ui.label(RichText::new(format!("Not possible: {why}")).color(t.wrong));
        }
        Some(Tried { made: Ok(made), edit, .. }) => {
            for words in figures(&made, scene) {
                ui.label(RichText::new(words).font(tokens::small()).color(t.ink));
            }
            let apply = ui.add(Button::new("Apply").min_size(vec2(90.0, 26.0)));
            if apply.accessible_name(format!("{cut}, whole line, apply")).clicked() {
                asks.push(Ask::Edit(edit));
                let done = Choice { tool: None, ..Choice::of(ui.ctx(), scene, cut) };
                ui.data_mut(|data| data.insert_temp(Choice::id(scene, cut), done));
            }
        }
    }
}

/// Before and after, in words.
fn figures(made: &Made, scene: &Scene<'_>) -> [String; 3] {
    let [was, is] = made.bending_per_mm.map(|bending| bending * 1000.0);
    let share = if was > 0.0 { format!(" ({} %)", plain((is / was * 1000.0).round() / 10.0)) } else { String::new() };
    let units = scene.units();
    [
        format!("Bending {was:.4} to {is:.4} per m{share}"),
        format!(
            "Moves at most {}, {} from the top",
            units.show_exactly(made.moved.mm),
            units.show_with_unit(made.moved.s_mm)
        ),
        format!("Points {} to {}", made.points[0], made.points[1]),
    ]
}

/// What the chosen tool is told.
fn fields(ui: &mut Ui, scene: &Scene<'_>, cut: Cut, choice: &mut Choice) {
    let field = |caption: &'static str| Field {
        id: Id::unique(("whole line", scene.design.id.0, cut.index(), caption)),
        caption,
        name: format!("{cut}, whole line, {}", caption.to_lowercase()),
        width: 110.0,
        hint: "",
    };
    let length = |ui: &mut Ui, caption: &'static str, value: &mut Length| {
        if let Some(taken) = field(caption).length(ui, value, scene.reading(), |_| Ok(())) {
            *value = taken;
        }
    };
    row(ui, |ui| match choice.tool {
        Some(Tool::Shift) => length(ui, "Shift by", &mut choice.shift),
        Some(Tool::Swing) => {
            choice.factor = field("Times").number(ui, choice.factor, "", |_| Ok(())).unwrap_or(choice.factor);
            length(ui, "About the line at", &mut choice.about);
        }
        Some(Tool::Fairer) => length(ui, "Moves at most", &mut choice.fair),
        Some(Tool::Fewer) => length(ui, "Strays at most", &mut choice.few),
        Some(Tool::Stretch) => length(ui, "New length", &mut choice.length),
        Some(Tool::StretchBelow) => {
            length(ui, "New length", &mut choice.length);
            length(ui, "Kept at the top", &mut choice.keep);
        }
        Some(Tool::Mirror | Tool::EndForEnd) | None => {}
    });
}
