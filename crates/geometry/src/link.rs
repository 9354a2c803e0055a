//! A second cut that follows from the first.

use std::borrow::Cow;
use std::fmt;

use serde::{Deserialize, Serialize};

use crate::{Batten, Blank, Length, Line};

/// How the second cut follows from the first. Whatever the blank's width and depth, the line keeps its distance from the
/// middle of its face: what lies 5 mm beyond the middle of face 1 lies 5 mm beyond the middle of face 2.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Link {
    /// The same line.
    Same,
    /// Its mirror across the blank: what lies near arris 1 lies as near to arris 3.
    Mirrored,
    /// The same line turned end for end: what is at the top is at the foot.
    EndForEnd,
    /// The same line further along the leg, carried straight on where it no longer reaches an end.
    Shifted {
        /// How far, toward the foot where positive.
        by: Length,
    },
}

/// The links by kind, in the order they are offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkKind {
    /// [`Link::Same`]
    Same,
    /// [`Link::Mirrored`]
    Mirrored,
    /// [`Link::EndForEnd`]
    EndForEnd,
    /// [`Link::Shifted`]
    Shifted,
}

impl LinkKind {
    /// All of them, as offered.
    pub const ALL: [LinkKind; 4] = [LinkKind::Same, LinkKind::Mirrored, LinkKind::EndForEnd, LinkKind::Shifted];

    /// What the second cut is of the first.
    pub fn name(self) -> &'static str {
        match self {
            LinkKind::Same => "same as face 1",
            LinkKind::Mirrored => "mirror of face 1",
            LinkKind::EndForEnd => "face 1 end for end",
            LinkKind::Shifted => "face 1 shifted along",
        }
    }

    /// A link of this kind to begin with: a shift of a tenth of the length, in whole millimetres.
    pub fn start(self, length_mm: f64) -> Link {
        match self {
            LinkKind::Same => Link::Same,
            LinkKind::Mirrored => Link::Mirrored,
            LinkKind::EndForEnd => Link::EndForEnd,
            LinkKind::Shifted => Link::Shifted { by: Length::from_mm((0.1 * length_mm).round()) },
        }
    }
}

impl fmt::Display for LinkKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl Link {
    /// Its kind.
    pub fn kind(&self) -> LinkKind {
        match self {
            Link::Same => LinkKind::Same,
            Link::Mirrored => LinkKind::Mirrored,
            Link::EndForEnd => LinkKind::EndForEnd,
            Link::Shifted { .. } => LinkKind::Shifted,
        }
    }

    /// The line that follows from `first`. A live shape that stays the same stays live; points keep their ids.
    pub(crate) fn of(&self, first: &Line, blank: &Blank) -> Line {
        let (length_mm, width_mm, depth_mm) = (blank.length.mm(), blank.width.mm(), blank.depth.mm());
        let aside_mm = (depth_mm - width_mm) / 2.0;
        match (self, first) {
            // A link of a link leads nowhere; solving it says so.
            (_, Line::Linked(link)) => Line::Linked(link.clone()),
            (Link::Same, Line::Shape(shape)) => Line::Shape(shape.clone()),
            (_, Line::Points(_) | Line::Shape(_)) => {
                let mut points = first.points(length_mm, width_mm);
                for point in &mut points {
                    *point = match self {
                        Link::Same => point.moved(0.0, aside_mm),
                        Link::Mirrored => point.moved(0.0, aside_mm).mirrored_across(depth_mm),
                        Link::EndForEnd => point.moved(0.0, aside_mm).end_for_end(length_mm),
                        Link::Shifted { by } => point.moved(by.mm(), aside_mm),
                    };
                }
                if *self == Link::EndForEnd {
                    points.reverse();
                }
                Line::Points(points)
            }
            (_, Line::Batten(batten)) => {
                let moved = batten.moved(0.0, aside_mm);
                Line::Batten(match self {
                    Link::Same => moved,
                    Link::Mirrored => moved.mirrored_across(depth_mm),
                    Link::EndForEnd => moved.end_for_end(length_mm),
                    Link::Shifted { by } => Batten::moved(&moved, by.mm(), 0.0),
                })
            }
        }
    }
}

impl Line {
    /// The line itself, or, where it is a link, the line that follows from `first`, the first cut of the same blank.
    pub fn own<'a>(&'a self, first: &Line, blank: &Blank) -> Cow<'a, Line> {
        match self {
            Line::Linked(link) => Cow::Owned(link.of(first, blank)),
            own => Cow::Borrowed(own),
        }
    }
}
