//! Programs from outside, where they are installed.

use std::io::{self, Write};
use std::process::Command;

/// What a program says, run with these arguments. None, and loudly so, where it is not installed; with
/// CORNERWISE_REQUIRE_TOOLS=1, as in CI, that is a failure.
pub fn says(program: &str, args: &[&str]) -> Option<String> {
    match Command::new(program).args(args).output() {
        Ok(output) => {
            let words = String::from_utf8_lossy(&output.stderr);
            assert!(output.status.success(), "{program} {args:?}: {words}");
            Some(String::from_utf8_lossy(&output.stdout).into_owned())
        }
        Err(error) => {
            let required = std::env::var("CORNERWISE_REQUIRE_TOOLS").is_ok_and(|value| value == "1");
            assert!(!required, "{program} is not installed ({error}), and CORNERWISE_REQUIRE_TOOLS=1 asks for it");
            // Past the test harness, which keeps what a passing test prints to itself.
            let _ = writeln!(io::stderr(), "SKIPPED: {program} is not installed, so it was not asked");
            None
        }
    }
}
