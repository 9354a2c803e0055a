//! Pure geometry of the blank, the saw lines and the finished leg, in millimetres.
//!
//! The frame of the blank: `s` along it from the finished top, `x` across face 1 from arris 1 toward the maker, `y`
//! across face 2 from arris 2; (x, y, s) is right-handed. The frame of the finished leg: (u, v, s), with the axis, where
//! the four corners of the blank have met, at u = v = 0. Everything drawn is seen from outside.
//!
//! Nothing here reads a file, a clock or a screen.

mod along;
mod batten;
mod blank;
mod board_feet;
mod camera;
mod clean_up;
mod column;
mod facet;
mod facets;
pub mod fit;
pub mod furniture;
mod leg;
mod length;
mod line;
pub mod line_tools;
mod link;
mod load;
mod once;
mod opening;
mod order;
mod out_of_true;
mod parts;
mod passes;
mod point;
mod polynomial;
mod prism;
mod run_out;
mod saw;
mod saw_line;
mod sawn;
mod sawn_facets;
mod scaled;
mod section;
mod shape;
mod solved;
mod square_section;
mod strength;
mod surface;
mod survey;
mod watch_outs;

pub use along::{Along, AlongUnit, CurveOf};
pub use batten::{BATTEN_ACCURACY_MM, Batten, BattenError, Holds, MAX_PINS, MIN_PIN_GAP_MM, Pin};
pub use blank::{Blank, BlankError};
pub use board_feet::board_feet;
pub use camera::Camera;
pub use clean_up::{CleanUp, clean_ups};
pub use column::{Borne, Column, ColumnLoad, ColumnStation};
pub use facet::{Facet, FacetCorner};
pub use facets::Facets;
pub use leg::{Leg, LegError, Station};
pub use length::{BlankSizes, Finest, Length, LengthError, MM_PER_INCH, Unit, Units};
pub use line::Line;
pub use link::{Link, LinkKind};
pub use load::{LOAD_MODEL, Load, LoadError, LoadResult, Strengths};
pub use opening::{Opening, Stage};
pub use order::draw_order;
pub use out_of_true::{OutOfTrue, Untrue};
pub use parts::{Arris, BlankPoint, Cut, End, Face, LegPoint, Piece, Seam, Side};
pub use passes::{Pass, passes, sharp_point_in_wood};
pub use point::{Point, PointId, PointKind};
pub use run_out::{RunOut, run_outs};
pub use saw::{Between, Blade, Saw, SawError, SawKind, kerf_of_test_cut_mm, turn_over_error_deg};
pub use saw_line::{
    Bend, Extent, LineAt, LineMark, MAX_POINTS, MAX_SLOPE, MIN_GAP_MM, MarkKind, Quill, SawLine, SawLineError,
};
pub use sawn::{SawnLeg, SawnStation};
pub use sawn_facets::SawnFacets;
pub use section::Section;
pub use shape::{Parameter, ParameterValue, Shape, ShapeHandle, ShapeKind};
pub use solved::Solved;
pub use strength::{bending_left, compression_left};
pub use surface::Surface;
pub use survey::{Survey, Surveyed};
pub use watch_outs::{Concern, Core, Limit, Limits, LimitsError, Quantity, WatchOut, Weight, watch_outs};
