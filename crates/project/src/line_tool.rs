use crate::EditError;
use crate::line_edits::Drawn;
use cornerwise_geometry::line_tools::{
    LineToolError, end_for_end, fairer, mirrored_across, shifted, simplified, swing_scaled,
};
use cornerwise_geometry::{Batten, Cut, Length, Point};

/// Something done to the whole line of a cut.
#[derive(Clone, Debug, PartialEq)]
pub enum LineTool {
    /// Mirror it on its face: what lay near one arris lies as near to the other.
    MirrorAcross,
    /// Turn it end for end: what was at the top is at the foot.
    EndForEnd,
    /// Shift it along the leg.
    Shift {
        /// How far, toward the foot where positive.
        by: Length,
    },
    /// Make it swing more or less.
    ScaleSwing {
        /// How many times its distance from the middle line.
        factor: f64,
        /// The middle line's distance from arris 1 or 2.
        about: Length,
    },
    /// Make it bend less.
    MakeFairer {
        /// How far any place of it may move, across the blank.
        tolerance: Length,
    },
    /// Take out the points that it does not need.
    FewerPoints {
        /// How far any place of it may move, across the blank.
        tolerance: Length,
    },
}

impl LineTool {
    /// What using it on a cut is called.
    pub(crate) fn label(&self, cut: Cut) -> String {
        match self {
            LineTool::MirrorAcross => format!("Mirror the {cut} across"),
            LineTool::EndForEnd => format!("Turn the {cut} end for end"),
            LineTool::Shift { .. } => format!("Shift the {cut} along the leg"),
            LineTool::ScaleSwing { factor, .. } if *factor < 1.0 => format!("Make the {cut} swing less"),
            LineTool::ScaleSwing { .. } => format!("Make the {cut} swing more"),
            LineTool::MakeFairer { .. } => format!("Make the {cut} fairer"),
            LineTool::FewerPoints { .. } => format!("Give the {cut} fewer points"),
        }
    }
}

impl LineTool {
    /// Whether a batten stays one: its pins are moved. Otherwise it becomes points.
    pub(crate) fn keeps_battens(&self) -> bool {
        match self {
            LineTool::MirrorAcross | LineTool::EndForEnd | LineTool::Shift { .. } | LineTool::ScaleSwing { .. } => true,
            LineTool::MakeFairer { .. } | LineTool::FewerPoints { .. } => false,
        }
    }

    /// The batten after a tool that keeps it; None for another one.
    pub(crate) fn used_on(&self, batten: &Batten, length_mm: f64, across_mm: f64) -> Option<Batten> {
        match self {
            LineTool::MirrorAcross => Some(batten.mirrored_across(across_mm)),
            LineTool::EndForEnd => Some(batten.end_for_end(length_mm)),
            LineTool::Shift { by } => Some(batten.moved(by.mm(), 0.0)),
            LineTool::ScaleSwing { factor, about } => Some(batten.swing_scaled(*factor, about.mm())),
            LineTool::MakeFairer { .. } | LineTool::FewerPoints { .. } => None,
        }
    }
}

impl Drawn<'_> {
    /// The points after a tool was used on them.
    pub fn reshaped(&self, tool: &LineTool) -> Result<Vec<Point>, EditError> {
        let (points, length_mm) = (&*self.points, self.length_mm);
        let done: Result<Vec<Point>, LineToolError> = match tool {
            LineTool::MirrorAcross => mirrored_across(points, self.across_mm),
            LineTool::EndForEnd => end_for_end(points, length_mm),
            LineTool::Shift { by } => shifted(points, by.mm()),
            LineTool::ScaleSwing { factor, about } => swing_scaled(points, *factor, about.mm()),
            LineTool::MakeFairer { tolerance } => fairer(points, length_mm, tolerance.mm()).map(|fairer| fairer.points),
            LineTool::FewerPoints { tolerance } => simplified(points, tolerance.mm()),
        };
        done.map_err(|error| EditError::tool(self.cut, error))
    }
}
