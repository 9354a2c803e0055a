//! The paper, read back from the PDF by another reader and measured, and the sheets before they are written.

#![expect(clippy::expect_used, clippy::panic, clippy::unwrap_used, reason = "a test stops where it fails")]

mod again;
mod caps;
mod choices;
mod fitted;
mod layout;
mod legs;
mod narrow;
mod notes;
mod pages;
mod reader;
mod strips;
mod tools;
