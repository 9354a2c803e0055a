//! The points of a saw line as the maker sets them.

use serde::{Deserialize, Serialize};

use crate::Length;

/// Names a point for as long as it exists, whatever its place in the list. 0 stands for "not given" in a file written by
/// hand, and is replaced when the file is read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct PointId(pub u32);

/// One point of a saw line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Point {
    /// Its name, unique in its line.
    #[serde(default)]
    pub id: PointId,
    /// Distance from the finished top.
    pub from_top: Length,
    /// Distance from arris 1 (first cut) or arris 2 (second cut), square to the blank.
    pub offset: Length,
    /// How the line passes.
    pub kind: PointKind,
    /// Whether its two handles are tied: moving one gives the other the same reach. What the line is does not depend on it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub tied: bool,
}

/// How a saw line passes a point. A handle lies `reach` millimetres along the leg before or after the point, in the
/// direction of the slope (offset per length), so the two handles of a smooth point are in line by construction.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum PointKind {
    /// The line goes through without a break in direction.
    Smooth {
        /// Offset per length, at the point.
        slope: f64,
        /// Reach of the handle toward the top, mm along the leg.
        before_mm: f64,
        /// Reach of the handle toward the foot, mm along the leg.
        after_mm: f64,
    },
    /// The line changes direction; the saw comes to it from both ends. At most one in a cut.
    Sharp {
        /// Offset per length, arriving from the top.
        slope_before: f64,
        /// Reach of the handle toward the top, mm along the leg.
        before_mm: f64,
        /// Offset per length, leaving toward the foot.
        slope_after: f64,
        /// Reach of the handle toward the foot, mm along the leg.
        after_mm: f64,
    },
}

impl Point {
    /// A smooth point with free handles, all in mm.
    pub fn smooth(id: u32, from_top_mm: f64, offset_mm: f64, slope: f64, before_mm: f64, after_mm: f64) -> Point {
        Point {
            id: PointId(id),
            from_top: from_top_mm.into(),
            offset: offset_mm.into(),
            kind: PointKind::Smooth { slope, before_mm, after_mm },
            tied: false,
        }
    }

    /// This point mirrored on its face, `across_mm` wide.
    #[must_use]
    pub(crate) fn mirrored_across(&self, across_mm: f64) -> Point {
        let ((slope_before, before_mm), (slope_after, after_mm)) = (self.kind.before(), self.kind.after());
        Point {
            offset: self.offset.changed(across_mm - self.offset.mm()),
            kind: self.kind.with_before(-slope_before, before_mm).with_after(-slope_after, after_mm),
            ..self.clone()
        }
    }

    /// This point of a leg of `length_mm` turned end for end. Its line then runs the other way about.
    #[must_use]
    pub(crate) fn end_for_end(&self, length_mm: f64) -> Point {
        let ((slope_before, before_mm), (slope_after, after_mm)) = (self.kind.before(), self.kind.after());
        Point {
            from_top: self.from_top.changed(length_mm - self.from_top.mm()),
            kind: self.kind.with_before(-slope_after, after_mm).with_after(-slope_before, before_mm),
            ..self.clone()
        }
    }

    /// This point moved along the leg and across it.
    #[must_use]
    pub(crate) fn moved(&self, along_mm: f64, across_mm: f64) -> Point {
        Point {
            from_top: self.from_top.changed(self.from_top.mm() + along_mm),
            offset: self.offset.changed(self.offset.mm() + across_mm),
            ..self.clone()
        }
    }
}

impl PointKind {
    /// Slope arriving from the top and reach toward it.
    pub fn before(self) -> (f64, f64) {
        match self {
            PointKind::Smooth { slope, before_mm, .. } => (slope, before_mm),
            PointKind::Sharp { slope_before, before_mm, .. } => (slope_before, before_mm),
        }
    }

    /// Slope leaving toward the foot and reach toward it.
    pub fn after(self) -> (f64, f64) {
        match self {
            PointKind::Smooth { slope, after_mm, .. } => (slope, after_mm),
            PointKind::Sharp { slope_after, after_mm, .. } => (slope_after, after_mm),
        }
    }

    /// This kind with another slope and reach toward the top. The slope of a smooth point is that of both its handles.
    #[must_use]
    pub fn with_before(self, slope: f64, before_mm: f64) -> PointKind {
        match self {
            PointKind::Smooth { after_mm, .. } => PointKind::Smooth { slope, before_mm, after_mm },
            PointKind::Sharp { slope_after, after_mm, .. } => {
                PointKind::Sharp { slope_before: slope, before_mm, slope_after, after_mm }
            }
        }
    }

    /// This kind with another slope and reach toward the foot. The slope of a smooth point is that of both its handles.
    #[must_use]
    pub fn with_after(self, slope: f64, after_mm: f64) -> PointKind {
        match self {
            PointKind::Smooth { before_mm, .. } => PointKind::Smooth { slope, before_mm, after_mm },
            PointKind::Sharp { slope_before, before_mm, .. } => {
                PointKind::Sharp { slope_before, before_mm, slope_after: slope, after_mm }
            }
        }
    }

    /// Whether the line changes direction here.
    pub fn is_sharp(self) -> bool {
        matches!(self, PointKind::Sharp { .. })
    }

    /// Whether every number is finite.
    pub fn is_finite(self) -> bool {
        let ((slope_before, before), (slope_after, after)) = (self.before(), self.after());
        [slope_before, before, slope_after, after].iter().all(|v| v.is_finite())
    }
}
