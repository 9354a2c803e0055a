//! After a crash: the work that was not saved, each piece with its picture, what it holds, and how its file stands to it.
//! Nothing is lost by a wrong choice: a copy stays until its work is saved or the list is closed with it discarded.

use cornerwise_project::Project;
use egui::{
    Align, Button, Color32, Context, Frame, Image, Layout, Margin, Panel, RichText, ScrollArea, TextureHandle,
    TextureOptions, Ui, vec2,
};

use crate::keep::copies::{About, Beside, Crashed};
use crate::keep::{Folders, now};
use crate::scene::Ask;
use crate::tokens::{self, GAP, TIGHT, Tokens};

/// The picture of a copy, points, and the height of its row.
const PICTURE: egui::Vec2 = vec2(30.0, 70.0);
const ROW: f32 = 80.0;
/// How many copies are shown before the list scrolls; the half says that there are more.
const ROWS_SHOWN: f32 = 2.5;

/// The copies that are offered.
#[derive(Default)]
pub struct Copies {
    folders: Option<Folders>,
    all: Vec<Copy>,
    closed: bool,
    /// The copy whose project is on the bench.
    pub on_bench: Option<String>,
    /// The copy that a file is being asked for.
    pub to_save: Option<String>,
}

struct Copy {
    found: Crashed,
    words: [String; 2],
    texture: Option<TextureHandle>,
    discarded: bool,
}

impl Copies {
    /// None so far.
    pub fn new(folders: Folders) -> Copies {
        Copies { folders: Some(folders), ..Copies::default() }
    }

    /// These were found.
    pub fn found(&mut self, ctx: &Context, all: Vec<Crashed>) {
        let now = now();
        self.all.extend(all.into_iter().map(|mut found| {
            let picture = found.picture.take();
            let texture = picture.map(|picture| ctx.load_texture("recovered leg", picture, TextureOptions::LINEAR));
            Copy { words: found.words(now), found, texture, discarded: false }
        }));
    }

    /// The project of a copy, and where it belongs.
    pub fn project(&self, name: &str) -> Option<(Project, About)> {
        let copy = self.all.iter().find(|copy| copy.found.name == name)?;
        Some((copy.found.found.as_ref().ok()?.clone(), copy.found.about.clone()))
    }

    /// Discards a copy, or keeps it after all. Nothing is taken away before the list is closed.
    pub fn mark_discarded(&mut self, name: &str, discarded: bool) {
        for copy in self.all.iter_mut().filter(|copy| copy.found.name == name) {
            copy.discarded = discarded;
        }
    }

    /// Takes a copy away whose work is in a file.
    pub fn take_away(&mut self, name: &str) {
        self.discard_where(|copy| copy.found.name == name);
    }

    /// Takes away what was discarded, and shows the rest no more until the next start.
    pub fn close(&mut self) {
        self.discard_where(|copy| copy.discarded);
        self.closed = true;
    }

    fn discard_where(&mut self, gone: impl Fn(&Copy) -> bool) {
        let Some(folders) = &self.folders else { return };
        let (discarded, kept) = std::mem::take(&mut self.all).into_iter().partition(|copy| gone(copy));
        self.all = kept;
        let discarded: Vec<Copy> = discarded;
        discarded.into_iter().for_each(|copy| copy.found.discard(folders));
    }

    /// What each of them holds, and how its file stands to it.
    pub fn words(&self) -> Vec<[String; 2]> {
        self.all.iter().map(|copy| copy.words.clone()).collect()
    }

    /// How the file of one of them stands to it.
    pub fn beside(&self, place: usize) -> Option<&Beside> {
        self.all.get(place).map(|copy| &copy.found.beside)
    }
}

/// Shows them below the bar.
pub fn show(ui: &mut Ui, copies: &Copies, asks: &mut Vec<Ask>) {
    if copies.closed || copies.all.is_empty() {
        return;
    }
    let t = Tokens::here(ui);
    let frame = Frame::new().fill(t.notice).inner_margin(Margin::symmetric(12, 8));
    Panel::top("recovered work").resizable(false).frame(frame).show(ui, |ui| {
        ui.horizontal(|ui| {
            ui.label(RichText::new("Work that was not saved when the studio ended").font(tokens::bold()));
            ui.add_space(GAP);
            let discarded = copies.all.iter().any(|copy| copy.discarded);
            let word = if discarded { "Close and discard what is marked" } else { "Later" };
            if ui
                .button(word)
                .on_hover_text("Close this list; what is kept is offered again at the next start")
                .clicked()
            {
                asks.push(Ask::CloseCopies);
            }
        });
        // Told how high it is, because a strip that has just come up has no height to go by.
        let height = ROW * ROWS_SHOWN.min(copies.all.len() as f32);
        let list = ScrollArea::vertical().min_scrolled_height(height).max_height(height);
        list.auto_shrink([false, false]).show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = TIGHT;
            for copy in &copies.all {
                row(ui, copy, copies.on_bench.as_ref() == Some(&copy.found.name), asks);
            }
        });
    });
}

fn row(ui: &mut Ui, copy: &Copy, on_bench: bool, asks: &mut Vec<Ask>) {
    let t = Tokens::here(ui);
    let name = &copy.found.name;
    ui.allocate_ui_with_layout(vec2(ui.available_width(), ROW - TIGHT), Layout::left_to_right(Align::Min), |ui| {
        ui.set_min_height(ROW - TIGHT);
        if let Some(texture) = &copy.texture {
            let tint = if copy.discarded { Color32::from_gray(150) } else { Color32::WHITE };
            ui.add(Image::from_texture((texture.id(), PICTURE)).tint(tint).alt_text("the first leg of the copy"));
        }
        ui.add_space(GAP);
        ui.vertical(|ui| {
            let [what, beside] = &copy.words;
            let mark = if copy.discarded { "Will be discarded: " } else { "" };
            ui.label(RichText::new(format!("{mark}{what}")).color(t.ink));
            ui.label(RichText::new(beside).font(tokens::small()).color(t.ink));
            ui.horizontal(|ui| {
                if copy.discarded {
                    if ui.button("Keep after all").clicked() {
                        asks.push(Ask::KeepCopy(name.clone()));
                    }
                    return;
                }
                let readable = copy.found.found.is_ok();
                let open = if on_bench { "Open again" } else { "Open" };
                for (word, can, ask) in [
                    (open, readable, Ask::OpenCopy(name.clone())),
                    ("Save elsewhere…", readable, Ask::SaveCopy(name.clone())),
                    ("Discard", true, Ask::DiscardCopy(name.clone())),
                ] {
                    let button = ui.add_enabled(can, Button::new(word));
                    let named = format!("{word}, {}", copy.words[0]);
                    if button.accessible_name(named).clicked() {
                        asks.push(ask);
                    }
                }
                if on_bench {
                    ui.label(RichText::new("on the bench now; kept here until it is saved").font(tokens::small()));
                }
            });
        });
    });
}
