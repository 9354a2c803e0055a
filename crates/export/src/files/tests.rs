//! Tests of reading and writing project files.

#[path = "../../../project/src/tests/any.rs"]
mod any;
#[path = "../../../project/src/tests/any_edit.rs"]
mod any_edit;
mod broken;
mod by_hand;
mod commands;
mod round;
mod saving;
