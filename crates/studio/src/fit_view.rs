//! What is looked at in the place Fit.

use cornerwise_geometry::fit::Fit;

/// The view of a leg's fit: nothing of it is the project.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct FitView {
    /// The notch that keys and fields work on, from 0 at the top.
    pub notch: Option<usize>,
    /// The joint that fields work on, from 0.
    pub joint: Option<usize>,
    /// The form for several notches that is unfolded.
    pub several: Option<Several>,
}

/// A way to make several notches at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Several {
    /// Equal lengths between them.
    Evenly,
    /// By a list of heights from the floor.
    Heights,
}

impl FitView {
    /// Lets go of what is no longer there.
    pub fn tidy(&mut self, fit: &Fit) {
        self.notch = self.notch.filter(|notch| *notch < fit.notches.len());
        self.joint = self.joint.filter(|joint| *joint < fit.joints.len());
    }
}
