//! Commands about watch-outs, the saw and the load.

use cornerwise_geometry::Load;
use cornerwise_project::{Edit, SURVEYED};

use super::Studio;
use crate::commands::Command;
use crate::view::WatchPart;

impl Studio {
    /// The watch-out after the one that is unfolded, the first after the last: unfolded, with the cursor there.
    pub(super) fn next_watch_out(&mut self) {
        let project = self.history.current();
        let Some(design) = self.view.shown(project) else { return };
        let Ok(leg) = design.leg() else { return };
        let judged = project.judge(design, &project.survey(design, &leg, SURVEYED));
        let now = judged.iter().position(|one| Some(one.watch_out.concern) == self.view.watched);
        let next = now.map_or(0, |now| (now + 1) % judged.len());
        let Some(next) = judged.get(next) else { return };
        self.view.cursor_mm = next.watch_out.at_mm;
        self.view.watched = Some(next.watch_out.concern);
    }

    /// The saw or the load, told as it usually is where it is not told yet, or the limits: unfolded and brought into sight.
    pub(super) fn unfold_watch(&mut self, command: Command) {
        let project = self.history.current();
        let Some(design) = self.view.shown(project) else { return };
        let (part, edit) = match command {
            Command::TellSaw => {
                let usual = || Box::new(self.view.usual_saw.saw.clone().unwrap_or_default());
                (WatchPart::Saw, project.saw.is_none().then(|| Edit::SetSaw { saw: Some(usual()) }))
            }
            Command::TellLoad => {
                let tell = || Edit::SetLoad { design: design.id, load: Some(Load::default()) };
                (WatchPart::Load, design.load.is_none().then(tell))
            }
            _ => (WatchPart::Limits, None),
        };
        if let Some(edit) = edit {
            self.edit_and_choose(&edit);
        }
        self.view.unfold = Some(part);
    }
}
