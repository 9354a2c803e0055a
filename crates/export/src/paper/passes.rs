//! The runs of the saw, as the paper numbers them.

pub(crate) use cornerwise_geometry::{Pass, passes, sharp_point_in_wood as sharp_point};
