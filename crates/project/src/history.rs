use crate::photo_edits::Exposure;
use crate::{Edit, EditError, PictureHash, Project};
use cornerwise_wood::PhotoPixels;
use std::collections::VecDeque;
use std::sync::Arc;

/// How many steps can be taken back.
const MOST_STEPS: usize = 500;

/// The projects the maker has had, each with the name of the change that made it; undo and redo walk along them.
///
/// Neighbours share the designs that did not change. Selection, zoom and everything else that is not the project stays
/// out of it.
#[derive(Clone, Debug)]
pub struct History {
    /// Oldest first, never empty.
    steps: VecDeque<Step>,
    /// Where the maker is, an index into `steps`.
    at: usize,
    /// The gesture under way.
    drag: Option<Drag>,
    /// What the file holds; nothing where there is no file that holds any of it.
    saved: Option<Arc<Project>>,
    revision: u64,
}

#[derive(Clone, Debug)]
struct Step {
    /// The change that led here; nothing for the oldest.
    label: String,
    project: Arc<Project>,
}

#[derive(Clone, Debug)]
struct Drag {
    label: String,
    project: Arc<Project>,
}

impl History {
    /// Starts with a project just opened or new, which counts as saved.
    pub fn new(project: Project) -> History {
        let project = Arc::new(project);
        let first = Step { label: String::new(), project: Arc::clone(&project) };
        History { steps: VecDeque::from([first]), at: 0, drag: None, saved: Some(project), revision: 0 }
    }

    /// The project as it is now, a gesture under way included.
    pub fn current(&self) -> &Arc<Project> {
        match &self.drag {
            Some(drag) => &drag.project,
            None => self.at_rest(),
        }
    }

    /// The project as it was before the gesture under way; the current one when there is none.
    pub fn at_rest(&self) -> &Arc<Project> {
        // `at` is an index into `steps` by construction; index panics cannot happen
        &self.steps[self.at].project
    }

    /// Counts up each time [`History::current`] becomes another project.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Makes one change, as one step. A change that changes nothing adds no step.
    ///
    /// A gesture under way is committed first.
    ///
    /// # Errors
    /// [`EditError`] when the change is not possible; nothing is changed then.
    pub fn apply(&mut self, edit: &Edit) -> Result<bool, EditError> {
        self.commit_drag();
        let next = self.at_rest().apply(edit)?;
        if next == **self.at_rest() {
            return Ok(false);
        }
        let label = edit.label(self.at_rest());
        self.push(label, Arc::new(next));
        self.revision += 1;
        Ok(true)
    }

    /// Begins a gesture that ends as one step. A gesture already under way is committed first.
    pub fn begin_drag(&mut self) {
        self.commit_drag();
        self.drag = Some(Drag { label: String::new(), project: Arc::clone(self.at_rest()) });
    }

    /// Whether a gesture is under way.
    pub fn is_dragging(&self) -> bool {
        self.drag.is_some()
    }

    /// Shows the gesture's present end: `edit` done to the project at the gesture's start, in place of what the gesture
    /// showed before. Begins a gesture when none is under way.
    ///
    /// # Errors
    /// [`EditError`] when the change is not possible; the gesture keeps what it showed before.
    pub fn replace_drag(&mut self, edit: &Edit) -> Result<(), EditError> {
        if self.drag.is_none() {
            self.begin_drag();
        }
        let next = self.at_rest().apply(edit)?;
        if next != **self.current() {
            self.revision += 1;
            self.drag = Some(Drag { label: edit.label(self.at_rest()), project: Arc::new(next) });
        }
        Ok(())
    }

    /// Ends the gesture and keeps it as one step. Returns whether there was a change to keep.
    pub fn commit_drag(&mut self) -> bool {
        match self.drag.take() {
            Some(drag) if drag.project != *self.at_rest() => {
                self.push(drag.label, drag.project);
                true
            }
            Some(_) | None => false,
        }
    }

    /// Ends the gesture and forgets it: the project is again what it was at the gesture's start.
    pub fn drop_drag(&mut self) {
        if let Some(drag) = self.drag.take()
            && drag.project != *self.at_rest()
        {
            self.revision += 1;
        }
    }

    /// Goes back one step; while a gesture is under way, drops it instead. Returns whether anything was taken back.
    pub fn undo(&mut self) -> bool {
        if self.is_dragging() {
            self.drop_drag();
            return true;
        }
        if self.at == 0 {
            return false;
        }
        self.at -= 1;
        self.revision += 1;
        true
    }

    /// Goes forward one step that was taken back. Not possible while a gesture is under way.
    pub fn redo(&mut self) -> bool {
        if self.is_dragging() || self.at + 1 >= self.steps.len() {
            return false;
        }
        self.at += 1;
        self.revision += 1;
        true
    }

    /// Gives the photos of every project that is kept their pixels, as `pixels` has them by the pictures' names, and takes
    /// those away that it has not. That is no change: pixels follow from the pictures.
    pub fn expose(&mut self, pixels: &dyn Fn(PictureHash) -> Option<Arc<PhotoPixels>>) {
        let mut known = Exposure::default();
        let drag = self.drag.iter_mut().map(|drag| &mut drag.project);
        let kept = self.steps.iter_mut().map(|step| &mut step.project).chain(drag).chain(&mut self.saved);
        for project in kept {
            *project = known.of(project, pixels);
        }
    }

    /// The name of the change that [`History::undo`] takes back.
    pub fn undo_label(&self) -> Option<&str> {
        match &self.drag {
            Some(drag) if !drag.label.is_empty() => Some(&drag.label),
            Some(_) => None,
            None if self.at > 0 => Some(&self.steps[self.at].label),
            None => None,
        }
    }

    /// The name of the change that [`History::redo`] makes again.
    pub fn redo_label(&self) -> Option<&str> {
        if self.is_dragging() {
            return None;
        }
        self.steps.get(self.at + 1).map(|step| step.label.as_str())
    }

    /// The changes that are kept, oldest first, those that were taken back included: where [`History::step`] stands after
    /// each of them, and its name.
    pub fn changes(&self) -> impl DoubleEndedIterator<Item = (usize, &str)> + ExactSizeIterator {
        self.steps.iter().enumerate().skip(1).map(|(step, kept)| (step, kept.label.as_str()))
    }

    /// How many of the changes are done now: 0 at the oldest project that is kept.
    pub fn step(&self) -> usize {
        self.at
    }

    /// Goes to where so many of the changes are done. A gesture under way is committed first. Returns whether there is
    /// such a step and it is another one.
    pub fn go_to(&mut self, step: usize) -> bool {
        self.commit_drag();
        if step >= self.steps.len() || step == self.at {
            return false;
        }
        self.at = step;
        self.revision += 1;
        true
    }

    /// Remembers that `project` is what the file now holds. Saving takes a while, so say which project was saved.
    pub fn mark_saved(&mut self, project: Arc<Project>) {
        self.saved = Some(project);
    }

    /// Remembers that no file holds the project: it is dirty until it is saved.
    pub fn mark_unsaved(&mut self) {
        self.saved = None;
    }

    /// Whether the project differs from what was last saved or opened. Undoing back to the saved project clears it.
    pub fn is_dirty(&self) -> bool {
        match &self.saved {
            Some(saved) => !Arc::ptr_eq(self.current(), saved) && **self.current() != **saved,
            None => true,
        }
    }

    fn push(&mut self, label: String, project: Arc<Project>) {
        self.steps.truncate(self.at + 1);
        self.steps.push_back(Step { label, project });
        if self.steps.len() > MOST_STEPS + 1 {
            self.steps.pop_front();
        }
        self.at = self.steps.len() - 1;
    }
}
