//! The window and the command line.
//!
//! A frame runs in one direction: keys and the pointer are read first and become edits of the project; what follows from
//! the project is derived, each thing kept by its own inputs; then every view draws the same scene and says what it would
//! like changed, which is done after the frame. Views never change the project.

pub mod across;
pub mod app;
pub mod atlas;
pub mod cli;
pub mod commands;
pub mod darkroom;
pub mod derive;
pub mod desk;
pub mod fairness;
pub mod finder;
pub mod fit_view;
pub mod fonts;
pub mod furnished;
pub mod furniture_view;
pub mod gesture;
pub mod ghost;
pub mod grip;
pub mod keep;
pub mod kept;
pub mod later;
pub mod leg_pictures;
pub mod length_field;
pub mod notch_hand;
pub mod number;
pub mod paint;
pub mod patch;
pub mod planks;
pub mod print;
pub mod readout;
pub mod row_paint;
pub mod ruler;
pub mod run_out;
pub mod scene;
pub mod seam_picture;
pub mod seam_work;
pub mod selection;
pub mod sheet;
pub mod sheet_paint;
pub mod side_by_side;
pub mod snap;
pub mod solid;
pub mod standing;
pub mod start;
pub mod tokens;
pub mod view;
pub mod views;
pub mod window;
