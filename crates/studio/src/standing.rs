//! What stands in the way of a command now, and whether a command that turns something on has turned it on.

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
        _ if view.place != Place::Shape && shown_in_shape(command) => {
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
        Command::ZoomChosen if view.chosen.is_empty() => Some("no point of a saw line is chosen: click one first"),
        Command::SwapGhost | Command::DropGhost
            if view.shown(history.current()).is_none_or(|design| design.ghost.is_none()) =>
        {
            Some("there is no ghost: pin the present shape first")
        }
        _ => None,
    }
}

fn shown_in_shape(command: Command) -> bool {
    match command.group() {
        Group::Line | Group::Panels | Group::Ghost | Group::Rows | Group::Fair | Group::Leg => true,
        // A page of the paper is zoomed too.
        Group::Zoom => matches!(command, Command::ZoomChosen | Command::TowardTop | Command::TowardFoot),
        _ => command == Command::StartFrom,
    }
}

/// Whether what the command turns on and off is on; nothing for a command that does something once.
pub fn is_on(command: Command, view: &View) -> Option<bool> {
    match command {
        Command::PlaceShape => Some(view.place == Place::Shape),
        Command::PlacePaper => Some(view.place == Place::Paper),
        Command::FoldSides => Some(view.sides.open),
        Command::FoldAlong => Some(view.along.open),
        Command::FairnessComb => Some(view.fairness.comb),
        Command::TightestBend => Some(view.fairness.tightest),
        Command::LineMarks => Some(view.fairness.marks),
        Command::StrongWood => Some(view.strong_wood),
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
