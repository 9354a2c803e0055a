//! The limits of a project: generous for any leg a maker can saw, and small enough that nothing hangs. The limits of a
//! blank and of a saw line are geometry's own.

/// The version of the project file's format that this program writes and reads.
pub const FORMAT: u32 = 1;
/// Most designs in one project.
pub const MAX_DESIGNS: usize = 200;
/// Most points in one project, all saw lines together: keeps its file under the size that is read back.
pub const MAX_POINTS_IN_PROJECT: usize = 50_000;
/// Most pictures in one project.
pub const MAX_PICTURES: usize = 64;
/// Most bytes of pictures that a project's own file holds, all together: as text they are a third more. Larger ones are kept
/// beside it.
pub const MOST_INSIDE_BYTES: usize = 48_000_000;
/// Most characters in a name.
pub const MAX_NAME_CHARS: usize = 200;
/// Least distance along the leg between two points that an edit leaves, mm: enough to take hold of either.
pub const EDIT_GAP_MM: f64 = 0.5;
/// Shortest reach that a dragged handle keeps, mm, where its neighbour leaves that much room.
pub const LEAST_REACH_MM: f64 = 1.0;
/// Narrowest and widest roll of paper, mm: below the first there is no room for the check rules on every page.
pub const ROLL_WIDTH_MM: [f64; 2] = [200.0, 2_000.0];
/// Least and most that joined pages overlap, mm.
pub const OVERLAP_MM: [f64; 2] = [5.0, 60.0];
/// Least and most that a printed check rule may measure, as a share of its true length.
///
/// Common practice, no source: printers shrink by up to a tenth when they fit a page; beyond that the page was scaled
/// on purpose, and printing it again at 100 % is better than correcting it.
pub const CHECK_RULE_SHARE: [f64; 2] = [0.85, 1.15];
/// Smallest and largest scale of a mock-up, as a share of the full size. Common practice, no source: 1:2 to 1:5; the limits
/// only keep a slip of the hand from making a leg of dust.
pub const MOCK_UP_FACTOR: [f64; 2] = [0.02, 50.0];
