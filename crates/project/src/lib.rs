//! The maker's document: plain data, checks, one command per edit, and history.
//!
//! A [`Project`] is plain data: it can be compared, copied and written to a file, and everything else (the solved leg,
//! the paint, the paper) is derived from it by pure functions. Every change is one [`Edit`]; [`Project::apply`] gives
//! the next project and leaves the old one alone, so the [`History`] is a list of named projects. There is no input or
//! output here.

mod apply;
mod assembly;
mod base_size;
mod bend_needs;
mod blades;
mod check;
mod cut_list;
mod design;
mod edit;
mod exploded;
mod fit_edits;
mod fixes;
mod furniture;
mod furniture_check;
mod furniture_findings;
mod ghost;
mod hands;
mod history;
mod knot_edits;
mod leg_list;
mod limits;
mod line_changes;
mod line_edits;
mod line_tool;
mod mock_up;
mod own_woods;
mod paper_choice;
mod photo_edits;
mod picture;
mod picture_edits;
mod pin_edits;
mod pipes;
mod place;
mod point_group;
mod project;
mod said;
mod seam_fixes;
mod stock;
mod stretch;
mod trace;
mod watch_outs;
mod wood_edits;
mod wood_label;

pub use apply::EditError;
pub use assembly::{Assembly, PlacedLeg, density_kg_mm3};
pub use base_size::LAMP_TILT_DEG;
pub use bend_needs::BendNeeds;
pub use blades::{BladeFault, BladeRow, BladeTableError, OwnBlade, blades, read_blades};
pub use check::{Fault, ProjectError};
pub use cornerwise_wood::PictureHash;
pub use cut_list::{BoardRow, CutList, Offcut, STOCK_KERF_MM, cut_list};
pub use design::{Design, DesignId};
pub use edit::{BlankSize, Edit, Handle, Turn, WoodPart};
pub use exploded::Apart;
pub use fit_edits::{FitPart, notches_at_heights, notches_evenly};
pub use fixes::Fix;
pub use furniture::{
    Aprons, Base, Furniture, FurniturePart, Hand, MAX_PLACES, Rough, Shade, Standing, StockBoard, Top,
};
pub use furniture_findings::{
    FitFinding, LEAST_APRON_GLUE_MM2, LEAST_BEARING_MM, LEAST_BESIDE_PIPE_MM, LEAST_LEFT_SHARE, OFF_CENTRE_MM,
    POST_STRAYS_MM,
};
pub use ghost::Ghost;
pub use history::History;
pub use leg_list::LegLine;
pub use limits::{
    CHECK_RULE_SHARE, EDIT_GAP_MM, FORMAT, LEAST_REACH_MM, MAX_DESIGNS, MAX_NAME_CHARS, MAX_PICTURES,
    MAX_POINTS_IN_PROJECT, MOCK_UP_FACTOR, MOST_INSIDE_BYTES, OVERLAP_MM, ROLL_WIDTH_MM,
};
pub use line_tool::LineTool;
pub use own_woods::MAX_OWN_WOODS;
pub use paper_choice::{CheckRule, PageSize, PaperChoice, PaperExtra, Rule, StripLayout};
pub use picture::{Kept, Picture, PictureBytes};
pub use pipes::{PipeFault, PipeRow, PipeTableError, pipes, read_pipes};
pub use place::{PaperPlace, Place};
pub use point_group::PointPlace;
pub use project::Project;
pub use seam_fixes::{Amount, Changeable, OfPairs, Question, SeamFix, SeamFixes, Step, Wanted, seam_fixes};
pub use stock::{BlankLine, BoardCut, BoardLine, blanks_from_board, board_feet, board_feet_by_surface_measure};
pub use stretch::Stretch;
pub use trace::Trace;
pub use watch_outs::{Accepted, Judged, SURVEYED, strengths};

// The generators in tests/any.rs are shared with another crate's tests, where the types have this name.
#[cfg(test)]
extern crate self as cornerwise_project;
#[cfg(test)]
mod tests;
