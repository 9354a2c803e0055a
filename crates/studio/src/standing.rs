//! What stands in the way of a command now, and whether a command that turns something on has turned it on.

use cornerwise_geometry::Blank;
use cornerwise_geometry::furniture::Arrangement;
use cornerwise_project::History;

use crate::commands::{Command, Group};
use crate::keep::preferences::{Look, SCALE};
use crate::view::{Place, View};

/// Why a command would do nothing now, as the maker is told; nothing when it can be done.
pub fn why_not(command: Command, history: &History, view: &View) -> Option<&'static str> {
    let designs = &history.current().designs;
    let shown = view.shown(history.current()).map(|design| design.id);
    let (legs, at) = (designs.len(), designs.iter().position(|design| Some(design.id) == shown).unwrap_or(0));
    match command {
        Command::Undo if history.undo_label().is_none() => Some("nothing has been changed yet"),
        Command::Redo if history.redo_label().is_none() => Some("nothing has been taken back"),
        Command::ShowHistory if history.changes().len() == 0 => Some("nothing has been changed yet"),
        Command::DeleteLeg | Command::NextLeg | Command::PreviousLeg if legs == 1 => {
            Some("this is the project's only leg")
        }
        Command::LegEarlier if at == 0 => Some("this leg is the first in the list"),
        Command::LegLater if at + 1 == legs => Some("this leg is the last in the list"),
        Command::Larger if view.scale_percent >= SCALE[1] => Some("this is as large as it gets"),
        Command::Smaller if view.scale_percent <= SCALE[0] => Some("this is as small as it gets"),
        _ if not_here(command, view).is_some() => not_here(command, view),
        Command::DeletePoint if view.place == Place::Fit => no_notch(view),
        Command::DeleteNotch => no_notch(view),
        Command::SwapHand if view.furniture.place.is_none() => Some("no place is chosen: click a leg first"),
        Command::LeftAndRight | Command::AllAlike if !four_legs(history) => {
            Some("this is for four legs at the corners of a rectangle")
        }
        _ if view.place != Place::Shape && shown_in_shape(command, view) => {
            Some("this shows in the place Shape: go there first")
        }
        Command::DeletePoint | Command::SharpPoint | Command::TieHandles if view.chosen.is_empty() => {
            Some("no point of a saw line is chosen: click one first")
        }
        Command::SharpPoint if view.chosen.one().is_none() => {
            Some("several points are chosen, and one of a cut can be sharp: click one")
        }
        Command::TieHandles if view.chosen.one().is_none() => {
            Some("several points are chosen: click the one whose handles are meant")
        }
        Command::LegAsSawn if history.current().saw.is_none() => Some("no saw is told: tell it below the watch-outs"),
        Command::RollBlank if !view.shown(history.current()).is_some_and(|design| is_square(&design.blank)) => {
            Some("this blank is not square: roll it half round, in the panel of its knots")
        }
        Command::ZoomChosen if view.chosen.is_empty() => Some("no point of a saw line is chosen: click one first"),
        Command::SwapGhost | Command::DropGhost
            if view.shown(history.current()).is_none_or(|design| design.ghost.is_none()) =>
        {
            Some("there is no ghost: pin the present shape first")
        }
        _ => None,
    }
}

fn is_square(blank: &Blank) -> bool {
    (blank.width.mm() - blank.depth.mm()).abs() <= 1e-9
}

fn shown_in_shape(command: Command, view: &View) -> bool {
    // Rows on the ruler are zoomed and stretched wherever they are; the lines of a leg are unfolded beside its furniture.
    let rows = matches!(command.group(), Group::Zoom) || matches!(command, Command::TrueShape | Command::StrongWood);
    let lines = command.group() == Group::Line;
    match view.place {
        Place::Fit if rows || command == Command::DeletePoint => false,
        Place::Furniture if view.furniture.faces && (rows || lines) => false,
        _ => {
            matches!(
                command.group(),
                Group::Line
                    | Group::Ghost
                    | Group::Brought
                    | Group::Panels
                    | Group::Rows
                    | Group::Fair
                    | Group::Wood
                    | Group::Watch
                    | Group::Leg
            ) || command == Command::StartFrom
                // A page of the paper is zoomed too.
                || matches!(command, Command::ZoomChosen | Command::TowardTop | Command::TowardFoot)
        }
    }
}

/// Why what is done to a leg's fit or to the furniture cannot be done where the maker is.
fn not_here(command: Command, view: &View) -> Option<&'static str> {
    match command.group() {
        Group::Fit if view.place != Place::Fit => Some("this is done in the place Fit: go there first"),
        Group::Furniture if view.place != Place::Furniture => {
            Some("this is done in the place Furniture: go there first")
        }
        _ => None,
    }
}

fn no_notch(view: &View) -> Option<&'static str> {
    view.fit.notch.is_none().then_some("no notch is chosen: click one first")
}

fn four_legs(history: &History) -> bool {
    let furniture = history.current().furniture.as_ref();
    furniture.is_some_and(|furniture| matches!(furniture.arrangement, Arrangement::Rectangle { .. }))
}

/// Whether what the command turns on and off is on; nothing for a command that does something once.
pub fn is_on(command: Command, view: &View) -> Option<bool> {
    match command {
        Command::PlaceShape => Some(view.place == Place::Shape),
        Command::PlaceFit => Some(view.place == Place::Fit),
        Command::PlaceFurniture => Some(view.place == Place::Furniture),
        Command::PlacePaper => Some(view.place == Place::Paper),
        Command::FoldSides => Some(view.sides.open),
        Command::FoldAlong => Some(view.along.open),
        Command::FairnessComb => Some(view.fairness.comb),
        Command::TightestBend => Some(view.fairness.tightest),
        Command::LineMarks => Some(view.fairness.marks),
        Command::StrongWood => Some(view.strong_wood),
        Command::CleanUp => Some(view.clean_up),
        Command::Photos => Some(view.panels.photos.is_some()),
        Command::Knots => Some(view.panels.knots),
        Command::OwnWoods => Some(view.panels.own_woods),
        Command::WoodLimits => Some(view.panels.wood_limits),
        Command::SeamFixes => Some(view.panels.seam_fixes),
        Command::Snaps => Some(view.snaps.on),
        Command::SnapToGrid => Some(view.snaps.on && view.snaps.grid),
        Command::LookAsDesktop => Some(view.look == Look::AsTheDesktop),
        Command::LookLight => Some(view.look == Look::Light),
        Command::LookDark => Some(view.look == Look::Dark),
        Command::StartFrom => Some(view.panels.starter),
        Command::Gallery => Some(view.panels.gallery.is_some()),
        Command::PointsTable => Some(view.panels.points.is_some()),
        Command::WholeLine => Some(view.panels.whole_line.is_some()),
        Command::MockUp => Some(view.panels.mock_up),
        Command::TrueShape => Some(view.across == crate::across::Across::True),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::Units;
    use cornerwise_project::{Edit, Project};

    #[test]
    fn what_cannot_be_done_says_why_and_only_as_long_as_it_cannot() {
        let mut history = History::new(Project::new());
        let mut view = View::of(history.current());
        let blocked = |history: &History, view: &View| {
            Command::all().filter(|command| why_not(*command, history, view).is_some()).collect::<Vec<_>>()
        };
        assert!(blocked(&history, &view).contains(&Command::Undo));
        assert!(blocked(&history, &view).contains(&Command::DeletePoint));
        let inches = Units::Inches(cornerwise_geometry::Finest::Sixteenth);
        history.apply(&Edit::SetUnits { units: inches }).unwrap();
        assert!(!blocked(&history, &view).contains(&Command::Undo));
        assert!(!blocked(&history, &view).contains(&Command::TrueShape));
        view.place = Place::Paper;
        assert!(blocked(&history, &view).contains(&Command::TrueShape));
        for command in Command::all() {
            if let Some(why) = why_not(command, &history, &view) {
                assert!(why.starts_with(char::is_lowercase) && !why.ends_with('.'), "{why}");
            }
        }
    }
}
