//! The paper as it will print: the pages, and what is chosen about them.

use std::sync::Arc;

use cornerwise_export::page::measured_again;
use cornerwise_export::paper::{PaperError, project_sheets};
use cornerwise_export::sheets::Sheet;
use cornerwise_geometry::{Arris, Length};
use cornerwise_project::{CheckRule, Edit, EditError, PageSize, PaperChoice, PaperExtra, Project, Rule, StripLayout};
use egui::{
    Align2, Button, Checkbox, ComboBox, Id, Panel, Rect, RichText, Role, ScrollArea, Sense, Ui, WidgetInfo, pos2, vec2,
};

use crate::commands::Command;
use crate::kept::Kept;
use crate::length_field::{Field, Reading};
use crate::scene::Ask;
use crate::sheet_paint::{self, ScreenFromSheet};
use crate::tokens::{self, GAP, ROOMY, Tokens};
use crate::view::View;
use crate::views::one_page::{self, PageZoom};

/// Width of the choices, points.
const CHOICES_PX: f32 = 252.0;
/// Width of a page where all are shown, points.
const SMALL_PAGE_PX: f32 = 210.0;

/// The sheets of a project, kept.
pub type Sheets = Kept<Arc<Project>, Result<Arc<Vec<Sheet>>, PaperError>>;

/// The sheets of a project.
pub fn sheets(kept: &mut Sheets, project: &Arc<Project>) -> Result<Arc<Vec<Sheet>>, PaperError> {
    kept.get(Arc::clone(project), |a, b| Arc::ptr_eq(a, b) || a == b, |project| project_sheets(project).map(Arc::new))
}

/// Shows the place.
pub fn show(ui: &mut Ui, project: &Arc<Project>, kept: &mut Sheets, view: &mut View, asks: &mut Vec<Ask>) {
    let sheets = sheets(kept, project);
    let count = sheets.as_ref().map_or(0, |sheets| sheets.len());
    view.page = view.page.min(count.saturating_sub(1));
    Panel::left("paper choices").resizable(false).exact_size(CHOICES_PX).show(ui, |ui| {
        Panel::bottom("paper print")
            .frame(egui::Frame::NONE)
            .resizable(false)
            .show(ui, |ui| print(ui, count, view, asks));
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| choices(ui, project, view, asks));
    });
    egui::CentralPanel::no_frame().show(ui, |ui| {
        let t = Tokens::here(ui);
        ui.painter().rect_filled(ui.max_rect(), 0.0, t.desk);
        match &sheets {
            Ok(sheets) if view.one_page => one_page(ui, sheets, view),
            Ok(sheets) => all_pages(ui, t, sheets, view),
            Err(error) => {
                ui.add_space(ROOMY);
                ui.label(RichText::new(format!("There is no paper yet: {error}")).color(t.wrong));
            }
        }
    });
}

fn ask(asks: &mut Vec<Ask>, paper: PaperChoice) {
    asks.push(Ask::Edit(Edit::SetPaper { paper }));
}

fn allowed(project: &Project, paper: &PaperChoice) -> Result<(), String> {
    let edit = Edit::SetPaper { paper: paper.clone() };
    let next = project.apply(&edit).map_err(|error: EditError| error.to_string())?;
    project_sheets(&next).map(|_| ()).map_err(|error| error.to_string())
}

fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(GAP);
    ui.label(RichText::new(text).font(tokens::bold()));
}

fn choices(ui: &mut Ui, project: &Arc<Project>, view: &View, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let paper = &project.paper;
    let sizes = view.shown(project).map(|design| design.blank.sizes());
    let reading = Reading { units: project.units, sizes };
    heading(ui, "Page");
    page_size(ui, project, reading, asks);
    if !matches!(paper.page, PageSize::Roll { .. }) {
        ui.horizontal(|ui| {
            for (word, landscape) in [("Upright", false), ("On its side", true)] {
                if ui.selectable_label(paper.landscape == landscape, word).clicked() && paper.landscape != landscape {
                    ask(asks, PaperChoice { landscape, ..paper.clone() });
                }
            }
        });
    }
    let field = |caption: &'static str| Field {
        id: Id::unique(("paper", caption)),
        caption,
        name: format!("paper, {}", caption.to_lowercase()),
        width: 108.0,
        hint: "",
    };
    let overlap = field("Overlap").shared_length(ui, &paper.overlap, reading, |overlap| {
        allowed(project, &PaperChoice { overlap: overlap.clone(), ..paper.clone() })
    });
    if let Some(overlap) = overlap {
        ask(asks, PaperChoice { overlap, ..paper.clone() });
    }
    heading(ui, "Layout");
    layout(ui, paper, asks);
    heading(ui, "Beside the lines");
    beside(ui, project, asks);
    heading(ui, "Also");
    also(ui, project, asks);
    if paper.also.contains(&PaperExtra::Gauge) {
        gauge_at(ui, project, reading, asks);
    }
    heading(ui, "Check rule");
    let words = "Print one page, measure its check rule both ways, and type what you measured.";
    ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
    check_rule(ui, project, reading, &field, asks);
}

/// Making the paper, and how its pages are looked at: always in sight.
fn print(ui: &mut Ui, count: usize, view: &mut View, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    heading(ui, "Print");
    let words = match count {
        1 => "1 page. Print at 100 %, not fitted to the page.".to_owned(),
        n => format!("{n} pages. Print at 100 %, not fitted to the page."),
    };
    ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
    let save = ui.add_enabled(count > 0, Button::new(Command::SavePaper.label()).min_size(vec2(160.0, 30.0)));
    if save.on_hover_text(Command::SavePaper.tooltip(ui.ctx())).clicked() {
        asks.push(Ask::Command(Command::SavePaper));
    }
    heading(ui, "View");
    ui.horizontal(|ui| {
        for (word, one) in [("All pages", false), ("One page", true)] {
            if ui.selectable_label(view.one_page == one, word).clicked() {
                view.one_page = one;
            }
        }
    });
    ui.add_space(GAP);
}

fn page_size(ui: &mut Ui, project: &Arc<Project>, reading: Reading, asks: &mut Vec<Ask>) {
    let paper = &project.paper;
    let name = |page: &PageSize| match page {
        PageSize::Roll { .. } => "Roll".to_owned(),
        page => page.name().to_owned(),
    };
    let roll = PageSize::Roll { width: 610.0.into() };
    let choice = ComboBox::from_id_salt("page size").width(108.0).selected_text(name(&paper.page)).show_ui(ui, |ui| {
        for page in [PageSize::A4, PageSize::A3, PageSize::Letter, PageSize::Tabloid, roll] {
            let same = name(&page) == name(&paper.page);
            if ui.selectable_label(same, name(&page)).clicked() && !same {
                ask(asks, PaperChoice { page, ..paper.clone() });
            }
        }
    });
    choice.response.accessible_name("page size");
    if let PageSize::Roll { width } = &paper.page {
        let name = "roll width".to_owned();
        let field = Field { id: Id::unique("roll width"), caption: "Roll width", name, width: 108.0, hint: "" };
        let with = |width: &Length| PaperChoice { page: PageSize::Roll { width: width.clone() }, ..paper.clone() };
        if let Some(width) = field.shared_length(ui, width, reading, |width| allowed(project, &with(width))) {
            ask(asks, with(&width));
        }
    }
}

fn layout(ui: &mut Ui, paper: &PaperChoice, asks: &mut Vec<Ask>) {
    let per_face = matches!(paper.layout, StripLayout::PerFace { .. });
    for (word, is_per_face) in [("One strip, folded at arris 2", false), ("A strip for each face", true)] {
        if ui.radio(per_face == is_per_face, word).clicked() && per_face != is_per_face {
            let layout = if is_per_face {
                StripLayout::PerFace { face_1_by: Arris::Two, face_2_by: Arris::Two }
            } else {
                StripLayout::Wrapped
            };
            ask(asks, PaperChoice { layout, ..paper.clone() });
        }
    }
    if let StripLayout::PerFace { face_1_by, face_2_by } = paper.layout {
        for (face, now, choices) in
            [(1, face_1_by, [Arris::One, Arris::Two]), (2, face_2_by, [Arris::Two, Arris::Three])]
        {
            ui.horizontal(|ui| {
                ui.label(format!("Face {face} by"));
                for arris in choices {
                    if ui.selectable_label(now == arris, arris.to_string()).clicked() && now != arris {
                        let layout = match face {
                            1 => StripLayout::PerFace { face_1_by: arris, face_2_by },
                            _ => StripLayout::PerFace { face_1_by, face_2_by: arris },
                        };
                        ask(asks, PaperChoice { layout, ..paper.clone() });
                    }
                }
            });
        }
    }
}

/// What else is printed: which way the sides are cleaned up, and, where a saw is told, the edges of its kerf.
fn beside(ui: &mut Ui, project: &Arc<Project>, asks: &mut Vec<Ask>) {
    let paper = &project.paper;
    let mut next = paper.clone();
    let hint = "Which way to scrape or shave each stretch of each side, with the grain";
    ui.checkbox(&mut next.clean_up, "Clean-up arrows").on_hover_text(hint);
    if project.saw.is_some() {
        let hint = "Fine lines beside the saw line: what the saw and the sanding take up";
        ui.checkbox(&mut next.kerf_edges, "Edges of the kerf").on_hover_text(hint);
    }
    if next != *paper {
        ask(asks, next);
    }
}

/// Paper beside the strip and the caps.
fn also(ui: &mut Ui, project: &Arc<Project>, asks: &mut Vec<Ask>) {
    let paper = &project.paper;
    for extra in PaperExtra::ALL {
        // With furniture the plan is printed anyway.
        let always = extra == PaperExtra::Plan && project.furniture.is_some();
        let mut wanted = always || paper.also.contains(&extra);
        if ui.add_enabled(!always, Checkbox::new(&mut wanted, extra.name())).clicked() {
            let mut also: Vec<PaperExtra> = paper.also.iter().copied().filter(|other| *other != extra).collect();
            if wanted {
                also.push(extra);
                also.sort_unstable();
            }
            ask(asks, PaperChoice { also, ..paper.clone() });
        }
    }
}

/// Where the gauge shows the level section.
fn gauge_at(ui: &mut Ui, project: &Arc<Project>, reading: Reading, asks: &mut Vec<Ask>) {
    let paper = &project.paper;
    let shown: Vec<String> = paper.gauge_at.iter().map(|at| reading.show(at)).collect();
    let field = Field {
        id: Id::unique("gauge heights"),
        caption: "Gauge, from the top",
        name: "paper, heights of the gauge from the top".to_owned(),
        width: 222.0,
        hint: "ends, quarters, notches",
    };
    let with = |text: &str| -> Result<PaperChoice, String> {
        let gauge_at: Vec<Length> = length_list(text, &reading)?;
        Ok(PaperChoice { gauge_at, ..paper.clone() })
    };
    let check = |text: &str| with(text).and_then(|paper| allowed(project, &paper));
    if let Some(Ok(next)) = field.text(ui, &shown.join("; "), check).map(|text| with(&text))
        && next != *paper
    {
        ask(asks, next);
    }
    let t = Tokens::here(ui);
    let words = "Parted by ; as in 50; 300; 512. Empty for ends, quarters and notches.";
    ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
}

/// Lengths parted by semicolons, in order.
fn length_list(text: &str, reading: &Reading) -> Result<Vec<Length>, String> {
    let parts = text.split(';').map(str::trim).filter(|part| !part.is_empty());
    let mut lengths = parts.map(|part| reading.parse(part)).collect::<Result<Vec<Length>, String>>()?;
    lengths.sort_by(|a, b| a.mm().total_cmp(&b.mm()));
    Ok(lengths)
}

fn check_rule(
    ui: &mut Ui,
    project: &Arc<Project>,
    reading: Reading,
    field: &dyn Fn(&'static str) -> Field<'static>,
    asks: &mut Vec<Ask>,
) {
    let paper = &project.paper;
    let measured = &paper.measured;
    ui.horizontal(|ui| {
        for (word, rule) in [("100 mm rule", Rule::HundredMillimetres), ("4 in rule", Rule::FourInches)] {
            if ui.selectable_label(measured.rule == rule, word).clicked() && measured.rule != rule {
                ask(asks, PaperChoice { measured: CheckRule::exact(rule), ..paper.clone() });
            }
        }
    });
    ui.horizontal_top(|ui| {
        let with_across =
            |across: Length| PaperChoice { measured: CheckRule { across, ..measured.clone() }, ..paper.clone() };
        let with_along =
            |along: Length| PaperChoice { measured: CheckRule { along, ..measured.clone() }, ..paper.clone() };
        let check = |with: &dyn Fn(Length) -> PaperChoice, length: &Length| allowed(project, &with(length.clone()));
        let across =
            field("Short edge").shared_length(ui, &measured.across, reading, |length| check(&with_across, length));
        let along = field("Long edge").shared_length(ui, &measured.along, reading, |length| check(&with_along, length));
        if let Some(across) = across {
            ask(asks, with_across(across));
        }
        if let Some(along) = along {
            ask(asks, with_along(along));
        }
    });
    let [across, along] = measured.correction();
    if [across, along] != [1.0, 1.0] {
        let t = Tokens::here(ui);
        let words = format!("Corrected by {:+.2} % and {:+.2} %.", (across - 1.0) * 100.0, (along - 1.0) * 100.0);
        ui.label(RichText::new(words).font(tokens::small()).color(t.ink));
        measured_once_more(ui, project, reading, field, asks);
    }
}

/// A page that was printed with the correction is measured: what its rule says is counted in.
fn measured_once_more(
    ui: &mut Ui,
    project: &Arc<Project>,
    reading: Reading,
    field: &dyn Fn(&'static str) -> Field<'static>,
    asks: &mut Vec<Ask>,
) {
    let paper = &project.paper;
    let measured = &paper.measured;
    let nominal = Length::from_mm(measured.rule.mm());
    let t = Tokens::here(ui);
    let words = "Is a page with this correction still off? Type what its rule measures now.";
    ui.label(RichText::new(words).font(tokens::small()).color(t.soft));
    ui.horizontal_top(|ui| {
        let again =
            |in_force: &Length, now: &Length| Length::from_mm(measured_again(in_force.mm(), now.mm(), nominal.mm()));
        let across = |now: &Length| PaperChoice {
            measured: CheckRule { across: again(&measured.across, now), ..measured.clone() },
            ..paper.clone()
        };
        let along = |now: &Length| PaperChoice {
            measured: CheckRule { along: again(&measured.along, now), ..measured.clone() },
            ..paper.clone()
        };
        type With<'a> = &'a dyn Fn(&Length) -> PaperChoice;
        for (caption, with) in [("Short edge now", &across as With<'_>), ("Long edge now", &along)] {
            let check = |now: &Length| allowed(project, &with(now));
            if let Some(now) = field(caption).shared_length(ui, &nominal, reading, check) {
                ask(asks, with(&now));
            }
        }
    });
}

fn all_pages(ui: &mut Ui, t: &Tokens, sheets: &[Sheet], view: &mut View) {
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        let room = (ui.available_width() - 2.0 * ROOMY).max(1.0);
        let columns = ((room + ROOMY) / (SMALL_PAGE_PX + ROOMY)).floor().max(1.0) as usize;
        let width = ((room + ROOMY) / columns as f32 - ROOMY).clamp(1.0, 1.5 * SMALL_PAGE_PX);
        ui.add_space(ROOMY);
        for (row, pages) in sheets.chunks(columns).enumerate() {
            let height = pages.iter().map(|sheet| page_height(sheet, width)).fold(0.0, f32::max);
            let (area, _) = ui.allocate_exact_size(vec2(ui.available_width().max(0.0), height + 34.0), Sense::hover());
            if !ui.is_rect_visible(area) {
                continue;
            }
            for (column, sheet) in pages.iter().enumerate() {
                let number = row * columns + column;
                let left = area.left() + ROOMY + column as f32 * (width + ROOMY);
                let px_per_mm = f64::from(width) / sheet.width_mm;
                let place = ScreenFromSheet::new(sheet, pos2(left, area.top()), px_per_mm);
                let response = ui.interact(place.paper, Id::unique(("page", number)), Sense::click());
                let label = page_label(sheet);
                response.widget_info(|| WidgetInfo::labeled(Role::Button, true, label));
                sheet_paint::paint(ui.painter(), t, sheet, &place);
                let below = pos2(place.paper.center().x, place.paper.bottom() + 6.0);
                ui.painter().text(below, Align2::CENTER_TOP, label, tokens::small(), t.soft);
                if response.on_hover_text(format!("{}. Click to show it large", sheet.label)).clicked() {
                    view.page = number;
                    view.one_page = true;
                }
            }
        }
    });
}

fn one_page(ui: &mut Ui, sheets: &[Sheet], view: &mut View) {
    let whole = ui.available_rect_before_wrap();
    let bar = Rect::from_min_max(pos2(whole.left(), whole.bottom() - 40.0), whole.max);
    let room = Rect::from_min_max(whole.min, pos2(whole.right(), bar.top()));
    if let Some(sheet) = sheets.get(view.page) {
        one_page::show(ui, room, sheet, page_label(sheet), &mut view.page_zoom);
    }
    let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(bar.shrink2(vec2(ROOMY, 6.0))).id_salt("pages"));
    ui.horizontal(|ui| {
        if ui.add_enabled(view.page > 0, Button::new("Page before")).clicked() {
            view.page -= 1;
        }
        if ui.add_enabled(view.page + 1 < sheets.len(), Button::new("Page after")).clicked() {
            view.page += 1;
        }
        if ui.add_enabled(view.page_zoom != PageZoom::Whole, Button::new("Whole page")).clicked() {
            view.page_zoom = PageZoom::Whole;
        }
        ui.label(sheets.get(view.page).map_or("", |sheet| sheet.label.as_str()));
    });
}

fn page_height(sheet: &Sheet, width: f32) -> f32 {
    width * (sheet.height_mm / sheet.width_mm) as f32
}

/// Which leg and page it is, as the page itself says.
fn page_label(sheet: &Sheet) -> &str {
    sheet.label.split_once(':').map_or(sheet.label.as_str(), |(page, _)| page)
}
