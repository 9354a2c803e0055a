//! The rows across a face that labels are tried in.

/// Where a label lies across the face.
#[derive(Clone, Copy)]
pub(crate) enum Row {
    /// Above the saw line, clear of it by this many mm.
    AboveLine(f64),
    /// Below the saw line.
    BelowLine(f64),
    /// Half-way between the first edge and the line.
    MiddleAbove,
    /// Half-way between the line and the last edge.
    MiddleBelow,
    /// Inside the ticks of the first edge.
    FirstEdge,
    /// Inside the ticks of the last edge.
    LastEdge,
    /// This many mm farther in than the row along the first edge.
    InFromFirst(f64),
    /// This many mm farther in than the row along the last edge.
    InFromLast(f64),
}

/// Close to the saw line, whichever side has room.
pub(crate) const AT_LINE: [Row; 6] = [
    Row::BelowLine(1.1),
    Row::AboveLine(1.1),
    Row::BelowLine(2.2),
    Row::AboveLine(2.2),
    Row::BelowLine(4.0),
    Row::AboveLine(4.0),
];
/// Anywhere, clear of the line first.
pub(crate) const ANYWHERE: [Row; 6] =
    [Row::MiddleBelow, Row::MiddleAbove, Row::BelowLine(1.2), Row::AboveLine(1.2), Row::FirstEdge, Row::LastEdge];
