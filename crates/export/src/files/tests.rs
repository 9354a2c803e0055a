//! Tests of reading and writing project files.

#[path = "../../../project/src/tests/any.rs"]
mod any;
mod broken;
mod by_hand;
mod round;
mod saving;
