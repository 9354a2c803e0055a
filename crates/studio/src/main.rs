//! The studio's program.
fn main() {}
