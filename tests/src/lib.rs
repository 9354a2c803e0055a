//! Whole-job checks against things outside the project.
