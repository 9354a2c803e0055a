//! Everything that can be asked of the studio by a menu or a key: one list, which feeds the menus, the keys and the
//! tooltips.

use egui::{Context, Key, KeyboardShortcut, Modifiers};

/// A command.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Command {
    /// A plain new project.
    New,
    /// Open a project file.
    Open,
    /// Save to the project's file.
    Save,
    /// Save to another file.
    SaveAs,
    /// Save the paper as a PDF.
    SavePaper,
    /// Leave.
    Quit,
    /// Take back the last change.
    Undo,
    /// Make it again.
    Redo,
    /// Go to the place where the leg is shaped.
    PlaceShape,
    /// Go to the place where the paper is.
    PlacePaper,
    /// Fold the sides and seams away, or out.
    FoldSides,
    /// Fold the graphs along the leg away, or out.
    FoldAlong,
    /// Wood under the lines strong or faint.
    StrongWood,
    /// Rows in true shape, or stretched to fill.
    TrueShape,
    /// The whole blank.
    ZoomWhole,
    /// Closer.
    ZoomIn,
    /// Farther.
    ZoomOut,
    /// Delete the chosen point.
    DeletePoint,
    /// Make the chosen point sharp, or smooth.
    SharpPoint,
    /// The leg again as it was when the studio opened.
    LegUpright,
}

const COMMAND: Modifiers = Modifiers::COMMAND;
const COMMAND_SHIFT: Modifiers = Modifiers::COMMAND.plus(Modifiers::SHIFT);

impl Command {
    /// All of them.
    pub const ALL: [Command; 20] = [
        Command::New,
        Command::Open,
        Command::Save,
        Command::SaveAs,
        Command::SavePaper,
        Command::Quit,
        Command::Undo,
        Command::Redo,
        Command::PlaceShape,
        Command::PlacePaper,
        Command::FoldSides,
        Command::FoldAlong,
        Command::StrongWood,
        Command::TrueShape,
        Command::ZoomWhole,
        Command::ZoomIn,
        Command::ZoomOut,
        Command::DeletePoint,
        Command::SharpPoint,
        Command::LegUpright,
    ];

    /// What it is called; ends with … where more is asked before anything happens.
    pub fn label(self) -> &'static str {
        match self {
            Command::New => "New",
            Command::Open => "Open…",
            Command::Save => "Save",
            Command::SaveAs => "Save as…",
            Command::SavePaper => "Save paper as PDF…",
            Command::Quit => "Quit",
            Command::Undo => "Undo",
            Command::Redo => "Redo",
            Command::PlaceShape => "Shape",
            Command::PlacePaper => "Paper",
            Command::FoldSides => "Sides and seams",
            Command::FoldAlong => "Along the leg",
            Command::StrongWood => "Strong wood",
            Command::TrueShape => "True shape",
            Command::ZoomWhole => "Whole blank",
            Command::ZoomIn => "Zoom in",
            Command::ZoomOut => "Zoom out",
            Command::DeletePoint => "Delete point",
            Command::SharpPoint => "Sharp point",
            Command::LegUpright => "Leg upright",
        }
    }

    /// Its keys, the first of them shown in menus.
    pub fn shortcuts(self) -> &'static [KeyboardShortcut] {
        const fn keys<const N: usize>(list: [(Modifiers, Key); N]) -> [KeyboardShortcut; N] {
            let mut out = [KeyboardShortcut::new(Modifiers::NONE, Key::A); N];
            let mut i = 0;
            while i < N {
                out[i] = KeyboardShortcut::new(list[i].0, list[i].1);
                i += 1;
            }
            out
        }
        const NONE: Modifiers = Modifiers::NONE;
        match self {
            Command::New => const { &keys([(COMMAND, Key::N)]) },
            Command::Open => const { &keys([(COMMAND, Key::O)]) },
            Command::Save => const { &keys([(COMMAND, Key::S)]) },
            Command::SaveAs => const { &keys([(COMMAND_SHIFT, Key::S)]) },
            Command::SavePaper => const { &keys([(COMMAND, Key::P)]) },
            Command::Quit => const { &keys([(COMMAND, Key::Q)]) },
            Command::Undo => const { &keys([(COMMAND, Key::Z)]) },
            Command::Redo => const { &keys([(COMMAND_SHIFT, Key::Z), (COMMAND, Key::Y)]) },
            Command::PlaceShape => const { &keys([(NONE, Key::F1)]) },
            Command::PlacePaper => const { &keys([(NONE, Key::F2)]) },
            Command::FoldSides => const { &keys([(NONE, Key::F3)]) },
            Command::FoldAlong => const { &keys([(NONE, Key::F4)]) },
            Command::StrongWood => const { &keys([(NONE, Key::W)]) },
            Command::TrueShape => const { &keys([(NONE, Key::T)]) },
            Command::ZoomWhole => const { &keys([(NONE, Key::Home)]) },
            Command::ZoomIn => const { &keys([(NONE, Key::Plus), (NONE, Key::Equals)]) },
            Command::ZoomOut => const { &keys([(NONE, Key::Minus)]) },
            Command::DeletePoint => const { &keys([(NONE, Key::Delete), (NONE, Key::Backspace)]) },
            Command::SharpPoint => const { &keys([(NONE, Key::K)]) },
            Command::LegUpright => const { &keys([(NONE, Key::U)]) },
        }
    }

    /// Whether it works while text is being typed: its key does nothing in a text field.
    fn while_typing(self) -> bool {
        self.shortcuts().iter().all(|keys| !keys.modifiers.is_none() || is_function_key(keys.logical_key))
            && !matches!(self, Command::Undo | Command::Redo)
    }

    /// Whether what is being typed in a field is taken before it is done.
    pub fn settles_fields(self) -> bool {
        match self {
            Command::New
            | Command::Open
            | Command::Save
            | Command::SaveAs
            | Command::SavePaper
            | Command::Quit
            | Command::Undo
            | Command::Redo
            | Command::PlaceShape
            | Command::PlacePaper => true,
            Command::FoldSides
            | Command::FoldAlong
            | Command::StrongWood
            | Command::TrueShape
            | Command::ZoomWhole
            | Command::ZoomIn
            | Command::ZoomOut
            | Command::DeletePoint
            | Command::SharpPoint
            | Command::LegUpright => false,
        }
    }

    /// Its label with its keys, for a tooltip.
    pub fn tooltip(self, ctx: &Context) -> String {
        match self.shortcuts().first() {
            Some(keys) => format!("{} ({})", self.label().trim_end_matches('…'), ctx.format_shortcut(keys)),
            None => self.label().to_owned(),
        }
    }

    /// The commands whose keys were pressed. Keys with more modifiers are looked for first, because egui takes a plain
    /// key's shortcut for pressed when Shift is held too.
    pub fn pressed(ctx: &Context) -> Vec<Command> {
        let typing = ctx.text_edit_focused();
        let mut all: Vec<(KeyboardShortcut, Command)> = Command::ALL
            .iter()
            .filter(|command| !typing || command.while_typing())
            .flat_map(|command| command.shortcuts().iter().map(|keys| (*keys, *command)))
            .collect();
        all.sort_by_key(|(keys, _)| std::cmp::Reverse(count(keys.modifiers)));
        ctx.input_mut(|input| {
            all.into_iter().filter(|(keys, _)| input.consume_shortcut(keys)).map(|(_, command)| command).collect()
        })
    }
}

fn is_function_key(key: Key) -> bool {
    matches!(key, Key::F1 | Key::F2 | Key::F3 | Key::F4 | Key::F5 | Key::F6 | Key::F7 | Key::F8)
}

fn count(modifiers: Modifiers) -> u32 {
    [modifiers.alt, modifiers.shift, modifiers.ctrl || modifiers.command].into_iter().map(u32::from).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn no_two_commands_share_a_key_or_a_label() {
        let mut labels = BTreeSet::new();
        let mut keys = BTreeSet::new();
        for command in Command::ALL {
            assert!(labels.insert(command.label()), "two commands are called {}", command.label());
            for shortcut in command.shortcuts() {
                let m = shortcut.modifiers;
                let key = (m.alt, m.shift, m.command || m.ctrl, shortcut.logical_key);
                assert!(keys.insert(key), "{command:?} shares {key:?}");
            }
        }
    }

    #[test]
    fn labels_are_in_sentence_case_without_a_colon() {
        for command in Command::ALL {
            let label = command.label();
            let rest: String = label.chars().skip(1).collect::<String>().replace("PDF", "pdf");
            assert!(label.starts_with(char::is_uppercase) && rest.to_lowercase() == rest, "{label}");
            assert!(!label.contains(':'));
        }
    }

    #[test]
    fn the_list_holds_every_command_once() {
        assert_eq!(Command::ALL.iter().collect::<BTreeSet<_>>().len(), Command::ALL.len());
        assert_eq!(Command::ALL.len(), Command::LegUpright as usize + 1);
    }

    #[test]
    fn shift_chords_come_before_plain_ones() {
        let ctx = Context::default();
        let press = |modifiers: Modifiers, key| {
            let mut pressed = Vec::new();
            let event = egui::Event::Key { key, physical_key: None, pressed: true, repeat: false, modifiers };
            let input = egui::RawInput { events: vec![event], ..Default::default() };
            ctx.run_ui(input, |ui| pressed = Command::pressed(ui.ctx())).drop_without_applying_deltas();
            pressed
        };
        assert_eq!(press(COMMAND, Key::Z), [Command::Undo]);
        assert_eq!(press(COMMAND_SHIFT, Key::Z), [Command::Redo]);
        assert_eq!(press(COMMAND_SHIFT, Key::S), [Command::SaveAs]);
        assert_eq!(press(Modifiers::NONE, Key::T), [Command::TrueShape]);
    }
}
