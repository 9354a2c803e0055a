//! What an edit does to the fit of a leg.

use crate::{Design, EditError};
use cornerwise_geometry::fit::{Fit, Joint, LEAST_KEPT_MM, Notch, PipeHole};
use cornerwise_geometry::{Cut, Length, Line, Piece};

/// What changes of a leg's fit.
#[derive(Clone, Debug, PartialEq)]
pub enum FitPart {
    /// The pipe hole, or none.
    Pipe(Option<PipeHole>),
    /// The inside piece.
    Inside(Piece),
    /// One notch, exactly as given.
    Notch {
        /// Which one, from 0 at the top.
        index: usize,
        /// What it becomes.
        notch: Notch,
    },
    /// Drag a notch along the leg: it stops short of its neighbours and of the foot.
    MoveNotch {
        /// Which one, from 0 at the top.
        index: usize,
        /// Where its upper end is wanted, from the finished top.
        from_top: Length,
    },
    /// One notch more; it finds its place in the list by its distance from the top.
    AddNotch(Notch),
    /// One notch less.
    DeleteNotch {
        /// Which one, from 0 at the top.
        index: usize,
    },
    /// All notches.
    Notches(Vec<Notch>),
    /// The spacers that are at hand.
    Spacers(Vec<Length>),
    /// What the crosscut blade takes.
    CrosscutKerf(Length),
    /// The straight length at the top.
    Post(Length),
    /// All joints.
    Joints(Vec<Joint>),
    /// Bring both lines to the middle of their faces at the top and at the foot, where a pipe leaves the leg.
    CentreEnds,
}

impl FitPart {
    /// What the change is called in the history.
    pub(crate) fn label(&self) -> String {
        match self {
            FitPart::Pipe(None) => "Take the pipe hole out".to_owned(),
            FitPart::Pipe(Some(_)) => "Change the pipe hole".to_owned(),
            FitPart::Inside(piece) => format!("Turn {piece} inside"),
            FitPart::Notch { index, .. } => format!("Change notch {}", index + 1),
            FitPart::MoveNotch { index, .. } => format!("Move notch {}", index + 1),
            FitPart::AddNotch(_) => "Add a notch".to_owned(),
            FitPart::DeleteNotch { index } => format!("Delete notch {}", index + 1),
            FitPart::Notches(_) => "Change the notches".to_owned(),
            FitPart::Spacers(_) => "Note the spacers".to_owned(),
            FitPart::CrosscutKerf(_) => "Change the crosscut kerf".to_owned(),
            FitPart::Post(_) => "Change the post".to_owned(),
            FitPart::Joints(_) => "Change the joints".to_owned(),
            FitPart::CentreEnds => "Bring the lines' ends to the middle".to_owned(),
        }
    }
}

impl Design {
    /// Changes one thing of the fit.
    pub(crate) fn refit(&mut self, part: &FitPart) -> Result<(), EditError> {
        let (count, length_mm) = (self.fit.notches.len(), self.blank.length.mm());
        let missing = |index: usize| EditError::NoSuchNotch { notch: index.saturating_add(1), count };
        match part {
            FitPart::Pipe(pipe) => self.fit.pipe.clone_from(pipe),
            FitPart::Inside(piece) => self.fit.inside = *piece,
            FitPart::Notch { index, notch } => {
                *self.fit.notches.get_mut(*index).ok_or_else(|| missing(*index))? = notch.clone();
            }
            FitPart::MoveNotch { index, from_top } => {
                let [least, most] = room(&self.fit, *index, length_mm).ok_or_else(|| missing(*index))?;
                if !from_top.mm().is_finite() {
                    return Err(EditError::NotFinite("the notch's distance from the top"));
                }
                let held = from_top.mm().max(least).min(most.max(least));
                let held = if held == from_top.mm() { from_top.clone() } else { held.into() };
                self.fit.notches.get_mut(*index).ok_or_else(|| missing(*index))?.from_top = held;
            }
            FitPart::AddNotch(notch) => {
                let from = notch.from_top.mm();
                let at = self.fit.notches.partition_point(|other| other.from_top.mm() < from);
                self.fit.notches.insert(at, notch.clone());
            }
            FitPart::DeleteNotch { index } => {
                if *index >= count {
                    return Err(missing(*index));
                }
                self.fit.notches.remove(*index);
            }
            FitPart::Notches(notches) => self.fit.notches.clone_from(notches),
            FitPart::Spacers(spacers) => self.fit.spacers.clone_from(spacers),
            FitPart::CrosscutKerf(kerf) => self.fit.crosscut_kerf = kerf.clone(),
            FitPart::Post(post) => self.fit.post = post.clone(),
            FitPart::Joints(joints) => self.fit.joints.clone_from(joints),
            FitPart::CentreEnds => {
                for cut in Cut::ALL {
                    self.centre_ends(cut);
                }
            }
        }
        Ok(())
    }

    /// The first and the last point of a line come to the middle of the face. A live shape becomes points.
    fn centre_ends(&mut self, cut: Cut) {
        let (mut points, middle) = (self.points(cut), self.across_mm(cut) / 2.0);
        let off = |mm: f64| (mm - middle).abs() > 1e-9;
        let last = points.len().saturating_sub(1);
        let mut moved = false;
        for place in [0, last] {
            if let Some(point) = points.get_mut(place)
                && off(point.offset.mm())
            {
                point.offset = middle.into();
                moved = true;
            }
        }
        if moved {
            *self.line_mut(cut) = Line::Points(points);
        }
    }
}

/// Where the upper end of a notch may be, mm from the top: short of its neighbours and of the foot. None where there is no
/// such notch.
fn room(fit: &Fit, index: usize, length_mm: f64) -> Option<[f64; 2]> {
    let height = fit.notches.get(index)?.height_mm();
    let above = index.checked_sub(1).and_then(|i| fit.notches.get(i)).map_or(0.0, |n| n.span_mm()[1] + LEAST_KEPT_MM);
    let below = fit.notches.get(index + 1).map_or(length_mm, |n| n.from_top.mm());
    Some([above, below - LEAST_KEPT_MM - height])
}

/// Notches for boards at heights from the floor to their upper faces, mm, in any order, all alike.
pub fn notches_at_heights(heights_mm: &[f64], like: &Notch, length_mm: f64) -> Vec<Notch> {
    let mut from_top: Vec<f64> = heights_mm.iter().map(|h| length_mm - h - like.clearance.mm()).collect();
    from_top.sort_by(f64::total_cmp);
    from_top.into_iter().map(|from| Notch { from_top: from.into(), ..like.clone() }).collect()
}

/// `count` notches with equal lengths between them, from the first one at `from_top_mm` to the last one's lower end at
/// `to_mm`.
pub fn notches_evenly(count: usize, from_top_mm: f64, to_mm: f64, like: &Notch) -> Vec<Notch> {
    let room = to_mm - from_top_mm - like.height_mm();
    let step = if count > 1 { room / (count - 1) as f64 } else { 0.0 };
    (0..count).map(|i| Notch { from_top: (from_top_mm + step * i as f64).into(), ..like.clone() }).collect()
}
