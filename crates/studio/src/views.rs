//! The views: each draws the scene it is given and asks for what it would like changed.

pub mod along;
pub mod design_choice;
pub mod face_menus;
pub mod faces;
pub mod fairness;
pub mod finder;
pub mod ghost;
pub mod grips;
pub mod head;
pub mod history_list;
pub mod leg;
pub mod mock_up;
pub mod notice;
pub mod panels;
pub mod paper;
pub mod picking;
pub mod points_table;
pub mod ruler_strip;
pub mod seam_fixes;
pub mod section;
pub mod shape;
pub mod sides;
pub mod snaps;
pub mod top_bar;
pub mod whole_line;
