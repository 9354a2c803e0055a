//! Everything that can be asked of the studio by a menu, a key or the command finder: one list, which feeds them all.
//!
//! A new command is one row below and one arm in `app/act.rs`; `standing.rs` says when it cannot be done and why, if
//! ever. The row brings it into its menu, gives it its keys and its tooltip, and lets the finder find it.

use egui::{Context, Key, KeyboardShortcut, Modifiers};

/// Makes the commands and their rows from one list. The words that say what a command does are its documentation too.
macro_rules! commands {
    ($($group:ident { $($name:ident $label:literal [$($held:ident $key:ident),*] $settles:ident $does:literal)* })*) => {
        /// A command.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Command {
            $($(#[doc = $does] $name,)*)*
        }

        /// One row for each command, in the order of the enum.
        const ROWS: &[Row] = &[$($(Row {
            command: Command::$name,
            group: Group::$group,
            label: $label,
            keys: &[$(KeyboardShortcut::new($held, Key::$key)),*],
            settles_fields: $settles,
            does: $does,
        },)*)*];
    };
}

/// Nothing, Shift, Ctrl (Cmd on a Mac), or both are held with the key.
const PLAIN: Modifiers = Modifiers::NONE;
const SHIFT: Modifiers = Modifiers::SHIFT;
const CTRL: Modifiers = Modifiers::COMMAND;
const CTRL_SHIFT: Modifiers = Modifiers::COMMAND.plus(Modifiers::SHIFT);

/// What is being typed in a field is taken before the command is done, so that it is not lost; or the field goes on.
const SETTLES: bool = true;
const GOES_ON: bool = false;

// group { command, label, [keys, the first of them shown], whether fields settle, what it does }
commands! {
    File {
        New         "New"                [CTRL N]                  SETTLES "Start a plain new project."
        StartFrom   "Begin from a shape…" [CTRL_SHIFT N]           GOES_ON "Begin the leg that is shown from the size of its blank and a starting shape."
        Open        "Open…"              [CTRL O]                  SETTLES "Open a project file."
        Save        "Save"               [CTRL S]                  SETTLES "Save to the project's file."
        SaveAs      "Save as…"           [CTRL_SHIFT S]            SETTLES "Save to another file."
    }
    Print {
        SavePaper   "Save paper as PDF…" [CTRL P]                  SETTLES "Save the true-size paper that goes on the blank."
        SaveGraphs  "Save graphs as table…" []                     SETTLES "Save every quantity along the leg as a table for other programs, as drawn and as sawn."
    }
    Leave {
        Quit        "Quit"               [CTRL Q]                  SETTLES "Leave the studio; asks first when something is not saved."
    }
    Steps {
        Undo        "Undo"               [CTRL Z]                  SETTLES "Take back the last change."
        Redo        "Redo"               [CTRL_SHIFT Z, CTRL Y]    SETTLES "Make the change again that was taken back."
        ShowHistory "History…"           [CTRL H]                  GOES_ON "List every change, and go to any of them."
    }
    Legs {
        NewLeg      "New leg"            [CTRL L]                  SETTLES "Add another leg to the project."
        DuplicateLeg "Duplicate leg"     [CTRL D]                  SETTLES "Add a copy of the leg that is shown, with a letter of its own."
        DeleteLeg   "Delete leg"         []                        SETTLES "Take the leg that is shown out of the project."
        LegEarlier  "Move leg up the list" []                      SETTLES "Put the leg that is shown before the one ahead of it."
        LegLater    "Move leg down the list" []                    SETTLES "Put the leg that is shown after the one behind it."
        PreviousLeg "Previous leg"       [CTRL PageUp]             SETTLES "Show the leg before this one in the list."
        NextLeg     "Next leg"           [CTRL PageDown]           SETTLES "Show the leg after this one in the list."
    }
    Line {
        ChooseAll   "All points"         [CTRL A]                  GOES_ON "Choose all points of the cut that is being worked on; given again, of both."
        NextPoint   "Next point"         [PLAIN Period]            GOES_ON "Choose the next point of the saw lines, toward the foot."
        PreviousPoint "Previous point"   [PLAIN Comma]             GOES_ON "Choose the point of the saw lines before this one, toward the top."
        DeletePoint "Delete points"      [PLAIN Delete, PLAIN Backspace] GOES_ON "Delete the chosen points of the saw lines."
        SharpPoint  "Sharp point"        [PLAIN K]                 GOES_ON "Make the chosen point sharp, or smooth again."
        Snaps       "Snaps"              [PLAIN S]                 GOES_ON "Let a dragged point be caught by lines and points near it, or not."
        SnapToGrid  "Snap to grid"       [SHIFT S]                 GOES_ON "Let a dragged point be caught by a grid too, or not."
        TieHandles  "Tied handles"       [PLAIN H]                 GOES_ON "Tie the two handles of the chosen point, so that both reach as far, or free them."
    }
    Panels {
        Gallery     "Starting shapes…"   [PLAIN E]                 GOES_ON "Show the starting shapes of the cut that is being worked on, as the legs they give."
        PointsTable "Table of points"    [PLAIN P]                 GOES_ON "Open the table of the points of the cut that is being worked on, or close it."
        WholeLine   "Whole line"         [PLAIN L]                 GOES_ON "Mirror, shift, stretch or make fairer the whole line that is being worked on."
        MockUp      "Mock-up"            [SHIFT M]                 GOES_ON "Make a small leg in proportion for a scrap blank."
    }
    Ghost {
        PinGhost    "Pin as ghost"       [PLAIN G]                 GOES_ON "Keep the present shape as a ghost to compare with, and draw on."
        SwapGhost   "Swap with ghost"    [SHIFT G]                 GOES_ON "Take the ghost's shape, and make the present one the ghost."
        DropGhost   "Drop ghost"         []                        GOES_ON "Stop comparing: the ghost is kept no longer."
    }
    Brought {
        TracePicture "Trace a picture…"  [SHIFT P]                 GOES_ON "Lay a photo or a drawing under a saw line, to scale."
        ImportCurve "Import a curve…"    [SHIFT I]                 SETTLES "Read a saw line from an SVG drawing or a CSV table of points."
    }
    Fit {
        AddShelf    "Add a notch for a shelf" [PLAIN N]            GOES_ON "Leave out a length of the inside piece at the cursor, for a shelf."
        AddApron    "Add a notch for an apron" [SHIFT N]           GOES_ON "Leave out the top of the inside piece, for an apron."
        DeleteNotch "Delete notch"       []                        GOES_ON "Take the chosen notch away: the inside piece is whole there again."
        NextInside  "Next piece inside"  [PLAIN I]                 GOES_ON "Turn the leg so that its next piece faces the middle."
    }
    Furniture {
        StandColumn "One leg by itself"  []                        GOES_ON "Let the leg stand by itself: a column, or a lamp."
        StandRectangle "Four legs at the corners of a rectangle" [] GOES_ON "Stand four legs together, their inside pieces toward the middle."
        StandCircle "Three legs round a circle" []                 GOES_ON "Stand three legs together, evenly round a circle."
        StandRow    "Legs in a row"      []                        GOES_ON "Stand legs side by side."
        SwapHand    "Swap the hand"      [PLAIN X]                 GOES_ON "Make the chosen leg from mirrored saw lines, or as it is drawn again."
        LeftAndRight "Left and right legs" []                      GOES_ON "Make the four legs mirror one another across the middle, after the first of them."
        AllAlike    "All legs alike"     []                        GOES_ON "Stand the first leg at every corner, turned."
    }
    Watch {
        NextWatchOut "Next watch-out"    [PLAIN V]                 GOES_ON "Go to the next watch-out of the leg, and unfold it."
        TellSaw     "Tell the saw"       []                        GOES_ON "Say which blade and table the leg goes through, to see what they will really give."
        TellLoad    "Tell a load"        []                        GOES_ON "Say what the leg is to bear, to compare shapes; it certifies nothing."
        WatchLimits "Limits of watch-outs" []                      GOES_ON "Set how thin, sharp or steep is too much."
    }
    Find {
        FindCommand "Find a command…"    [CTRL K]                  GOES_ON "Find any command by its words, and do it."
    }
    Place {
        PlaceShape  "Shape"              [PLAIN F1]                SETTLES "Go to the place where the leg is shaped."
        PlaceFit    "Fit"                [PLAIN F2]                SETTLES "Go to the place for the pipe hole, the inside piece and its notches."
        PlaceFurniture "Furniture"       [PLAIN F3]                SETTLES "Go to the place where legs and boards are put together."
        PlacePaper  "Paper"              [PLAIN F4]                SETTLES "Go to the place where the paper is."
    }
    Rows {
        FoldSides   "Sides and seams"    [PLAIN F5]                GOES_ON "Fold the four finished sides out, or away."
        FoldAlong   "Along the leg"      [PLAIN F6]                GOES_ON "Fold the graphs along the leg out, or away."
        LegAsSawn   "Drawn, sawn or both" [PLAIN A]                GOES_ON "Show the leg as drawn, as the saw gives it, or both, where a saw is told."
        CleanUp     "Clean-up arrows"    []                        GOES_ON "Show which way to scrape or shave each stretch of the sides, with the grain."
        StrongWood  "Strong wood"        [PLAIN W]                 GOES_ON "Show the wood under the lines as strong as on the leg."
        TrueShape   "True shape"         [PLAIN T]                 GOES_ON "Show the rows in true shape, or stretched to fill."
    }
    Fair {
        FairnessComb "Fairness comb"     [PLAIN C]                 GOES_ON "Show how sharply the lines bend as quills square to them."
        TightestBend "Tightest bend"     [PLAIN B]                 GOES_ON "Mark where each line bends most, with its radius."
        LineMarks   "Crests, flats and inflections" [PLAIN M]      GOES_ON "Mark them on the lines with their distance from the top."
    }
    Wood {
        Photos      "Photos of the blank" [SHIFT B]                GOES_ON "Lay photos of a real blank on its faces and square them up; or put them away."
        Knots       "Knots"              [SHIFT K]                 GOES_ON "Mark knots on the blank, and see where each ends up; or put the list away."
        OwnWoods    "Own woods"          [SHIFT W]                 GOES_ON "Add and change woods of your own; or put the list away."
        SeamFixes   "Make seams meet…"   [SHIFT F]                 GOES_ON "Look for the smallest changes that make seams meet; or put the search away."
        WoodLimits  "Limits of seams and faces" [SHIFT L]          GOES_ON "Set where meeting ends and good begins, and what faces are called."
        RollBlank   "Roll the blank a quarter" []                  SETTLES "Lay the blank on the table with face 2 up: its wood and knots go under the same lines."
        TurnBlank   "Turn the blank end for end" []                SETTLES "Lay the blank on the table the other way round: its wood and knots go under the same lines."
    }
    Zoom {
        ZoomWhole   "Whole blank"        [PLAIN Home]              GOES_ON "Show the whole blank, spare length included."
        ZoomIn      "Zoom in"            [PLAIN Plus, PLAIN Equals] GOES_ON "Go closer, to the cursor."
        ZoomOut     "Zoom out"           [PLAIN Minus]             GOES_ON "Go farther away."
        ZoomChosen  "Zoom to chosen points" [PLAIN Z]              GOES_ON "Show the stretch of the chosen points as large as it fits."
        TrueSize    "True size on this screen" [PLAIN Num1]        GOES_ON "Show the leg, or a page of the paper, as large as it will be."
        MeasureScreen "Measure this screen…" []                    GOES_ON "Measure the screen with a bank card or a ruler, so that true size is true."
        TowardTop   "Scroll toward the top" [PLAIN PageUp]         GOES_ON "Move along the leg toward its top, as Shift and the wheel do."
        TowardFoot  "Scroll toward the foot" [PLAIN PageDown]      GOES_ON "Move along the leg toward its foot, as Shift and the wheel do."
    }
    Look {
        LookAsDesktop "Light or dark as the desktop" []            GOES_ON "Look light or dark, whichever the desktop is."
        LookLight   "Light"              []                        GOES_ON "Look light: ink on paper."
        LookDark    "Dark"               []                        GOES_ON "Look dark: chalk on slate."
        Larger      "Larger text and controls" []                  GOES_ON "Show everything a tenth larger, up to twice the usual size."
        Smaller     "Smaller text and controls" []                 GOES_ON "Show everything a tenth smaller, down to 80 %."
    }
    Leg {
        LegSquareOn "Leg square on"      [PLAIN Q]                 GOES_ON "Turn the leg square to the next side, where its outline can be dragged."
        LegUpright  "Leg upright"        [PLAIN U]                 GOES_ON "Turn and close the leg again as it was at first."
    }
}

/// What a command is about: commands of one group stand together in a menu.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// Project files.
    File,
    /// The paper.
    Print,
    /// Leaving.
    Leave,
    /// Steps of the history.
    Steps,
    /// The legs of the project.
    Legs,
    /// The saw lines.
    Line,
    /// Small windows that work on a line.
    Panels,
    /// The shape to compare with.
    Ghost,
    /// What is brought in from elsewhere.
    Brought,
    /// Pipe hole, inside piece, notches.
    Fit,
    /// Legs and boards together.
    Furniture,
    /// Watch-outs, and the saw and the load they are judged by.
    Watch,
    /// Finding commands.
    Find,
    /// Places in the order of the work.
    Place,
    /// What the rows show.
    Rows,
    /// What an eye for fairness asks to see.
    Fair,
    /// What the blank is made of, and what is wrong with it.
    Wood,
    /// Which stretch the rows show.
    Zoom,
    /// Light, dark, large and small.
    Look,
    /// The upright leg.
    Leg,
}

impl Group {
    /// The word that stands beside its commands in the finder.
    pub fn word(self) -> &'static str {
        match self {
            Group::File | Group::Leave => "file",
            Group::Print => "paper",
            Group::Steps => "history",
            Group::Legs => "legs of the project",
            Group::Line => "saw line",
            Group::Panels => "saw line",
            Group::Ghost => "ghost",
            Group::Brought => "pictures and curves",
            Group::Fit => "fit",
            Group::Furniture => "furniture",
            Group::Watch => "watch-outs, saw, load",
            Group::Fair => "fairness",
            Group::Wood => "wood, knots, seams",
            Group::Find => "commands",
            Group::Place => "place",
            Group::Rows => "rows",
            Group::Zoom => "zoom",
            Group::Look => "size of text, theme, preferences",
            Group::Leg => "leg",
        }
    }

    /// Its commands.
    pub fn commands(self) -> impl Iterator<Item = Command> {
        ROWS.iter().filter(move |row| row.group == self).map(|row| row.command)
    }
}

/// The menus of the bar, from left to right: what each is called, and its groups from top to bottom.
pub const MENUS: &[(&str, &[Group])] = &[
    ("File", &[Group::File, Group::Print, Group::Leave]),
    ("Edit", &[Group::Steps, Group::Legs, Group::Wood, Group::Fit, Group::Furniture, Group::Watch, Group::Find]),
    ("Draw", &[Group::Line, Group::Panels, Group::Ghost, Group::Brought, Group::Fair]),
    ("View", &[Group::Place, Group::Rows, Group::Zoom, Group::Leg, Group::Look]),
];

struct Row {
    command: Command,
    group: Group,
    label: &'static str,
    keys: &'static [KeyboardShortcut],
    settles_fields: bool,
    does: &'static str,
}

impl Command {
    /// All of them.
    pub fn all() -> impl Iterator<Item = Command> {
        ROWS.iter().map(|row| row.command)
    }

    fn row(self) -> &'static Row {
        &ROWS[self as usize] // enum and rows are made of one list
    }

    /// What it is called; ends with … where more is asked before anything happens.
    pub fn label(self) -> &'static str {
        self.row().label
    }

    /// What it does, a sentence.
    pub fn does(self) -> &'static str {
        self.row().does
    }

    /// What it is about.
    pub fn group(self) -> Group {
        self.row().group
    }

    /// Its keys, the first of them shown in menus.
    pub fn shortcuts(self) -> &'static [KeyboardShortcut] {
        self.row().keys
    }

    /// Whether what is being typed in a field is taken before it is done.
    pub fn settles_fields(self) -> bool {
        self.row().settles_fields
    }

    /// Its first keys as they are written, or nothing.
    pub fn keys_in_words(self, ctx: &Context) -> String {
        self.shortcuts().first().map_or_else(String::new, |keys| ctx.format_shortcut(keys))
    }

    /// Whether it works while text is being typed: its key does nothing in a text field.
    fn while_typing(self) -> bool {
        // A key with Shift alone is a capital letter.
        let types = |keys: &KeyboardShortcut| !(keys.modifiers.command || keys.modifiers.alt);
        self.shortcuts().iter().all(|keys| !types(keys) || is_function_key(keys.logical_key))
            && !matches!(self, Command::Undo | Command::Redo | Command::ChooseAll)
    }

    /// Its label with its keys, and what it does, for a tooltip.
    pub fn tooltip(self, ctx: &Context) -> String {
        let label = self.label().trim_end_matches('…');
        let keys = self.keys_in_words(ctx);
        let keys = if keys.is_empty() { keys } else { format!(" ({keys})") };
        format!("{label}{keys}\n{}", self.does())
    }

    /// The commands whose keys were pressed. Keys with more modifiers are looked for first, because egui takes a plain
    /// key's shortcut for pressed when Shift is held too.
    pub fn pressed(ctx: &Context) -> Vec<Command> {
        let typing = ctx.text_edit_focused();
        let mut all: Vec<(KeyboardShortcut, Command)> = Command::all()
            .filter(|command| !typing || command.while_typing())
            .flat_map(|command| command.shortcuts().iter().map(move |keys| (*keys, command)))
            .collect();
        all.sort_by_key(|(keys, _)| std::cmp::Reverse(count(keys.modifiers)));
        ctx.input_mut(|input| {
            all.into_iter().filter(|(keys, _)| input.consume_shortcut(keys)).map(|(_, command)| command).collect()
        })
    }
}

fn is_function_key(key: Key) -> bool {
    let name = key.name();
    name.len() > 1 && name.starts_with('F') && name[1..].bytes().all(|b| b.is_ascii_digit())
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
        for command in Command::all() {
            assert!(labels.insert(command.label()), "two commands are called {}", command.label());
            for shortcut in command.shortcuts() {
                let m = shortcut.modifiers;
                let key = (m.alt, m.shift, m.command || m.ctrl, shortcut.logical_key);
                assert!(keys.insert(key), "{command:?} shares {key:?}");
            }
        }
    }

    #[test]
    fn no_key_that_types_a_letter_is_a_command_while_text_is_typed() {
        for command in Command::all().filter(|command| command.while_typing()) {
            for keys in command.shortcuts() {
                assert!(keys.modifiers.command || is_function_key(keys.logical_key), "{command:?}");
            }
        }
        assert!(!Command::SnapToGrid.while_typing() && !Command::SwapGhost.while_typing());
    }

    #[test]
    fn labels_are_in_sentence_case_without_a_colon() {
        for command in Command::all() {
            let label = command.label();
            let rest: String = label.chars().skip(1).collect::<String>().replace("PDF", "pdf");
            assert!(label.starts_with(char::is_uppercase) && rest.to_lowercase() == rest, "{label}");
            assert!(!label.contains(':'));
        }
    }

    #[test]
    fn every_command_says_what_it_does_in_a_sentence_of_its_own() {
        let mut said = BTreeSet::new();
        for command in Command::all() {
            let does = command.does();
            assert!(
                does.starts_with(char::is_uppercase) && does.ends_with('.') && does.len() > 12,
                "{command:?}: {does}"
            );
            assert_ne!(does.trim_end_matches('.'), command.label(), "{command:?} only says its name again");
            assert!(said.insert(does), "{command:?} says what another one says");
        }
    }

    #[test]
    fn every_command_has_its_row_and_stands_in_one_menu() {
        for (place, row) in ROWS.iter().enumerate() {
            assert_eq!(row.command as usize, place);
            let menus = MENUS.iter().filter(|(_, groups)| groups.contains(&row.group)).count();
            assert_eq!(menus, 1, "{:?}", row.command);
        }
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
        assert_eq!(press(CTRL, Key::Z), [Command::Undo]);
        assert_eq!(press(CTRL_SHIFT, Key::Z), [Command::Redo]);
        assert_eq!(press(CTRL_SHIFT, Key::S), [Command::SaveAs]);
        assert_eq!(press(PLAIN, Key::T), [Command::TrueShape]);
        assert_eq!(press(CTRL, Key::K), [Command::FindCommand]);
        assert_eq!(press(PLAIN, Key::K), [Command::SharpPoint]);
    }

    #[test]
    fn only_function_keys_are_function_keys() {
        assert!([Key::F1, Key::F9, Key::F12].into_iter().all(is_function_key));
        assert!(![Key::F, Key::Delete, Key::Num1].into_iter().any(is_function_key));
    }
}
