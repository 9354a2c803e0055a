//! The program from a shell: exit codes and what it says.

use std::process::{Command, Output, Stdio};

use cornerwise_studio::cli;

fn cornerwise(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .args(args)
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        .output()
        .unwrap()
}

fn says(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[test]
#[cfg(target_os = "linux")]
fn without_a_display_it_ends_with_2_and_names_the_way_to_the_paper() {
    for args in [&[][..], &["lamp-column"]] {
        let output = cornerwise(args);
        assert_eq!(output.status.code(), Some(2));
        let words = says(&output);
        assert!(
            words.contains("display") && words.contains("cornerwise paper FILE --size a4 --out FILE.pdf"),
            "{words}"
        );
        assert_eq!(words.trim().lines().count(), 1, "one clear sentence");
    }
}

#[test]
fn help_and_version_are_for_makers() {
    for args in [&["--help"][..], &["-h"], &["paper", "--help"]] {
        let output = cornerwise(args);
        assert_eq!(output.status.code(), Some(0));
        let words = String::from_utf8(output.stdout).unwrap();
        assert!(words.contains("lamp-column") && words.contains("100 %"));
        assert!(words.lines().all(|line| line.chars().count() <= 100), "too wide for a shell");
    }
    let version = cornerwise(&["--version"]);
    assert_eq!(String::from_utf8(version.stdout).unwrap().trim(), format!("cornerwise {}", env!("CARGO_PKG_VERSION")));
}

#[test]
fn what_is_not_understood_ends_with_2() {
    for args in [
        &["paper"][..],
        &["paper", "lamp-column"],
        &["paper", "lamp-column", "--out", "x.pdf", "--size", "foolscap"],
        &["paper", "lamp-column", "--out", "x.pdf", "--layout", "spiral"],
        &["paper", "lamp-column", "--out", "x.pdf", "--design", "Q"],
        &["report", "lamp-column", "--stations", "many"],
        &["report", "lamp-column", "--stations", "1"],
        &["picture", "lamp-column", "--out", "x.png", "--size", "big"],
        &["picture", "lamp-column", "--out", "x.png", "--size", "1x1"],
        &["--frobnicate"],
        &["a.ron", "b.ron"],
    ] {
        let output = cornerwise(args);
        assert_eq!(output.status.code(), Some(2), "{args:?}: {}", says(&output));
        assert!(output.stdout.is_empty() && says(&output).starts_with("cornerwise: "), "{args:?}");
    }
}

#[test]
fn a_bad_file_ends_with_1_and_says_where() {
    let folder = tempfile::tempdir().unwrap();
    let broken = folder.path().join("broken.ron");
    std::fs::write(&broken, "(format: 1, designs: [").unwrap();
    for (file, word) in [(broken.to_str().unwrap(), "line 1"), ("no-such-file.ron", "no-such-file.ron")] {
        for command in [&["report"][..], &["paper", "--out", "x.pdf"], &[]] {
            let args: Vec<&str> = command.iter().copied().chain([file]).collect();
            let output = cornerwise(&args);
            assert_eq!(output.status.code(), Some(1), "{args:?}: {}", says(&output));
            assert!(says(&output).contains(word), "{}", says(&output));
        }
    }
}

#[test]
fn paper_report_and_picture_need_no_window() {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let pdf = file("leg.pdf");
    assert_eq!(cornerwise(&["paper", "bench-leg", "--size", "a4", "--out", &pdf]).status.code(), Some(0));
    assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF-"));
    let again = file("again.pdf");
    cornerwise(&["paper", "bench-leg", "--size", "a4", "--out", &again]);
    assert_eq!(std::fs::read(&pdf).unwrap(), std::fs::read(&again).unwrap(), "the same bytes");
    let png = file("leg.png");
    assert_eq!(cornerwise(&["picture", "lamp-column", "--out", &png, "--size", "90x200"]).status.code(), Some(0));
    assert!(std::fs::read(&png).unwrap().starts_with(b"\x89PNG"));
    let report = cornerwise(&["report", "lamp-column", "--json", "--stations", "5"]);
    let value: serde_json::Value = serde_json::from_slice(&report.stdout).unwrap();
    assert_eq!(value["schema"], 1);
    assert_eq!(value["designs"][0]["stations"].as_array().map(Vec::len), Some(5));
    let words = cornerwise(&["report", "lamp-column"]);
    assert!(words.status.success() && !words.stdout.is_empty());
}

#[test]
fn a_reader_that_goes_away_is_no_error() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .args(["report", "lamp-column", "--json", "--stations", "2000"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", says(&output));
    assert!(says(&output).is_empty());
}

#[test]
fn the_command_line_is_a_function_too() {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = cli::run(["--version".into()], &mut out, &mut err);
    assert_eq!((code, err.len()), (cli::DONE, 0));
    assert!(out.starts_with(b"cornerwise "));
    assert_eq!(cli::run(["--no".into()], &mut out, &mut err), cli::BAD_USE);
}

#[test]
fn paper_and_picture_are_never_written_over_their_project() {
    let folder = tempfile::tempdir().unwrap();
    let project = folder.path().join("leg.ron");
    cornerwise_export::files::save(&crate::bench::points(), &project).unwrap();
    let before = std::fs::read(&project).unwrap();
    let link = folder.path().join("link.pdf");
    std::fs::hard_link(&project, &link).unwrap();
    for command in ["paper", "picture"] {
        for out in [&project, &folder.path().join(".").join("leg.ron"), &link] {
            let output = cornerwise(&[command, project.to_str().unwrap(), "--out", out.to_str().unwrap()]);
            assert_eq!(output.status.code(), Some(1), "{}", says(&output));
            assert!(says(&output).contains("project's own file"), "{}", says(&output));
            assert_eq!(before, std::fs::read(&project).unwrap());
        }
    }
}
