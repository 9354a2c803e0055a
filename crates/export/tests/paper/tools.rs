//! The PDF by programs that share nothing with us. Without them the tests say loudly that they were skipped; with
//! `CORNERWISE_REQUIRE_TOOLS=1`, as on the build machine, a missing program is a failure.

use crate::legs::{lamp_column, on, pdf_of};
use cornerwise_project::PageSize;
use std::io::Write;
use std::process::Command;

/// What a program says about a file, or `None` when there is no such program.
fn ask(program: &str, arguments: &[&str]) -> Option<String> {
    let Ok(output) = Command::new(program).args(arguments).output() else {
        assert!(
            std::env::var_os("CORNERWISE_REQUIRE_TOOLS").is_none(),
            "{program} is required here and is not installed"
        );
        // Straight to stderr: what a passing test prints is not shown.
        let mut seen = std::io::stderr();
        writeln!(seen, "SKIPPED: {program} is not installed, so the PDF was not checked with it").unwrap();
        return None;
    };
    let text = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{program}: {text}");
    Some(text)
}

fn file(folder: &tempfile::TempDir) -> String {
    let path = folder.path().join("paper.pdf");
    std::fs::write(&path, pdf_of(&lamp_column(), &on(PageSize::A4))).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn qpdf_finds_nothing_wrong_with_the_file() {
    let folder = tempfile::tempdir().unwrap();
    if let Some(text) = ask("qpdf", &["--check", &file(&folder)]) {
        assert!(text.contains("No syntax or stream encoding errors found"), "{text}");
    }
}

#[test]
fn mutool_reads_the_entry_against_scaling() {
    let folder = tempfile::tempdir().unwrap();
    if let Some(text) = ask("mutool", &["show", &file(&folder), "trailer/Root/ViewerPreferences/PrintScaling"]) {
        assert_eq!(text.trim(), "/None");
    }
}

#[test]
fn poppler_reads_pages_and_words() {
    let folder = tempfile::tempdir().unwrap();
    let path = file(&folder);
    if let Some(text) = ask("pdfinfo", &[&path]) {
        assert!(text.contains("(A4)") && text.contains("Lamp column"), "{text}");
    }
    if let Some(text) = ask("pdftotext", &["-layout", &path, "-"]) {
        assert!(text.contains("How it is made") && text.contains("page 5 of 5"), "{text}");
    }
}
