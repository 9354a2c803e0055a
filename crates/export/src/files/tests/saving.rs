//! Saving: all or nothing, permissions and symlinks kept, errors that say what to do.

use crate::files::{LoadError, LoadFault, MAX_FILE_BYTES, SaveError, load, save, save_bytes, write::in_words};
use cornerwise_project::{Edit, Project};
use std::fs;
use std::io::{self, ErrorKind, Write};
use std::path::Path;
use tempfile::tempdir;

fn named(name: &str) -> Project {
    Project::new().apply(&Edit::RenameProject { name: name.to_owned() }).expect("an edit")
}

/// What lies in a folder: a failed save must leave no scraps.
fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .expect("a folder")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

#[test]
fn a_project_is_saved_saved_again_and_opened() {
    let folder = tempdir().expect("a folder");
    let path = folder.path().join("Bänk leg.ron");
    save(&named("one"), &path).expect("saved");
    assert_eq!(load(&path).expect("loaded"), named("one"));
    save(&named("two"), &path).expect("saved");
    assert_eq!(load(&path).expect("loaded"), named("two"));
    assert_eq!(names(folder.path()), ["Bänk leg.ron"]);
}

#[cfg(unix)]
#[test]
fn a_file_keeps_its_permissions() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempdir().expect("a folder");
    let path = folder.path().join("leg.ron");
    save(&named("one"), &path).expect("saved");
    for mode in [0o640, 0o606, 0o600] {
        fs::set_permissions(&path, fs::Permissions::from_mode(mode)).expect("chmod");
        save(&named("two"), &path).expect("saved");
        assert_eq!(fs::metadata(&path).expect("there").permissions().mode() & 0o777, mode);
    }
}

#[cfg(unix)]
#[test]
fn a_symlink_stays_one_and_the_file_behind_it_is_saved() {
    use std::os::unix::fs::symlink;
    let folder = tempdir().expect("a folder");
    let (shelf, desk) = (folder.path().join("shelf"), folder.path().join("desk"));
    fs::create_dir(&shelf).expect("made");
    fs::create_dir(&desk).expect("made");
    save(&named("one"), &shelf.join("leg.ron")).expect("saved");
    symlink("../shelf/leg.ron", desk.join("near.ron")).expect("linked");
    symlink("near.ron", desk.join("far.ron")).expect("linked");
    symlink("../shelf/new.ron", desk.join("dangling.ron")).expect("linked");
    symlink("loop.ron", desk.join("loop.ron")).expect("linked");
    save(&named("two"), &desk.join("far.ron")).expect("saved");
    save(&named("new"), &desk.join("dangling.ron")).expect("saved");
    for link in ["near.ron", "far.ron", "dangling.ron"] {
        assert!(fs::symlink_metadata(desk.join(link)).expect("there").is_symlink(), "{link}");
    }
    assert_eq!(load(&shelf.join("leg.ron")).expect("loaded"), named("two"));
    assert_eq!(load(&shelf.join("new.ron")).expect("loaded"), named("new"));
    assert!(matches!(save(&named("x"), &desk.join("loop.ron")), Err(SaveError::Other { .. })));
}

#[test]
fn a_folder_or_a_missing_folder_is_said_with_the_path_last() {
    let folder = tempdir().expect("a folder");
    let error = save(&named("x"), folder.path()).expect_err("a folder");
    assert_eq!(error.to_string(), format!("this is a folder: add a file name to it: {}", folder.path().display()));
    let missing = folder.path().join("nowhere").join("leg.ron");
    let error = save(&named("x"), &missing).expect_err("no folder");
    assert!(matches!(&error, SaveError::NoFolder(path) if *path == missing), "{error}");
    assert!(error.to_string().ends_with(&missing.display().to_string()), "{error}");
    save(&named("x"), &folder.path().join("leg.ron")).expect("saved");
    let inside_a_file = folder.path().join("leg.ron").join("leg.ron");
    assert!(matches!(save(&named("x"), &inside_a_file), Err(SaveError::NoFolder(_))));
    assert!(matches!(save(&named("x"), Path::new("/")), Err(SaveError::Folder(_))));
    assert!(matches!(save(&named("x"), Path::new("")), Err(SaveError::Folder(_))));
    assert_eq!(names(folder.path()), ["leg.ron"]);
}

#[cfg(unix)]
#[test]
fn a_file_that_is_protected_from_writing_is_not_replaced() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempdir().expect("a folder");
    let path = folder.path().join("leg.ron");
    save(&named("one"), &path).expect("saved");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).expect("chmod");
    let error = save(&named("two"), &path).expect_err("protected");
    assert!(matches!(error, SaveError::Protected(_)), "{error}");
    assert_eq!(load(&path).expect("loaded"), named("one"));
}

#[cfg(unix)]
#[test]
fn a_folder_that_may_not_be_written_to_leaves_the_old_file_as_it_was() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempdir().expect("a folder");
    let path = folder.path().join("leg.ron");
    save(&named("one"), &path).expect("saved");
    fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o555)).expect("chmod");
    let root_writes_anywhere = fs::write(folder.path().join("probe"), b"").is_ok();
    let result = save(&named("two"), &path);
    fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o755)).expect("chmod");
    if root_writes_anywhere {
        let said =
            writeln!(io::stderr(), "SKIPPED: this user writes into read-only folders (root?), so nothing to see");
        said.expect("stderr");
        return;
    }
    assert!(matches!(result, Err(SaveError::Denied(_))), "{result:?}");
    assert_eq!(load(&path).expect("loaded"), named("one"));
    assert_eq!(names(folder.path()), ["leg.ron"]);
}

#[test]
fn what_the_system_says_becomes_what_to_do() {
    let cases = [
        (ErrorKind::StorageFull, "the disk is full: make room"),
        (ErrorKind::QuotaExceeded, "the disk is full: make room"),
        (ErrorKind::ReadOnlyFilesystem, "the file is protected from writing"),
        (ErrorKind::PermissionDenied, "you may not write in this folder"),
        (ErrorKind::TimedOut, "the file was not saved (timed out)"),
    ];
    for (kind, start) in cases {
        let said = in_words(io::Error::from(kind), Path::new("shop/leg.ron")).to_string();
        assert!(said.starts_with(start) && said.ends_with(": shop/leg.ron"), "{said}");
    }
}

#[test]
fn a_project_that_would_not_open_again_is_not_saved() {
    let folder = tempdir().expect("a folder");
    let path = folder.path().join("leg.ron");
    save(&named("one"), &path).expect("saved");
    let mut broken = named("two");
    broken.paper.overlap = f64::NAN.into();
    let error = save(&broken, &path).expect_err("not sound");
    assert!(error.to_string().contains("paper, overlap"), "{error}");
    assert_eq!(load(&path).expect("loaded"), named("one"));
}

#[test]
fn a_file_that_is_not_there_a_folder_and_a_broken_file_are_told_apart() {
    let folder = tempdir().expect("a folder");
    let missing = folder.path().join("leg.ron");
    let error = load(&missing).expect_err("not there");
    assert!(matches!(error, LoadError::Read { .. }) && error.to_string().ends_with("leg.ron"), "{error}");
    assert!(matches!(load(folder.path()), Err(LoadError::Folder { .. })));
    fs::write(&missing, "(format: 1,\n oops").expect("written");
    let error = load(&missing).expect_err("broken").to_string();
    assert!(error.starts_with("line 2, column ") && error.ends_with("leg.ron"), "{error}");
    let big = fs::File::create(&missing).expect("made");
    big.set_len(MAX_FILE_BYTES as u64 * 50).expect("sparse");
    assert!(matches!(load(&missing), Err(LoadError::File { fault: LoadFault::TooBig, .. })));
}

#[cfg(unix)]
#[test]
fn a_pdf_or_picture_is_saved_as_safely_as_a_project() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = tempdir().expect("a folder");
    let (path, link) = (folder.path().join("leg.pdf"), folder.path().join("link.pdf"));
    save_bytes(&path, b"one").expect("saved");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).expect("chmod");
    symlink("leg.pdf", &link).expect("linked");
    save_bytes(&link, b"two").expect("saved");
    assert_eq!(fs::read(&path).expect("read"), b"two");
    assert_eq!(fs::metadata(&path).expect("there").permissions().mode() & 0o777, 0o640);
    assert!(fs::symlink_metadata(&link).expect("there").is_symlink());
    assert!(matches!(save_bytes(folder.path(), b"x"), Err(SaveError::Folder(_))));
    let missing = folder.path().join("nowhere").join("leg.pdf");
    let said = save_bytes(&missing, b"x").expect_err("no folder").to_string();
    assert!(said.contains("make it first") && said.ends_with(&missing.display().to_string()), "{said}");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).expect("chmod");
    assert!(matches!(save_bytes(&path, b"three"), Err(SaveError::Protected(_))));
    assert_eq!(fs::read(&path).expect("read"), b"two");
    assert_eq!(names(folder.path()), ["leg.pdf", "link.pdf"]);
}

#[test]
fn a_folder_is_not_opened_as_a_project() {
    let folder = tempdir().expect("a folder");
    assert!(matches!(load(folder.path()), Err(LoadError::Folder { .. })));
}

#[cfg(unix)]
#[test]
fn a_pipe_is_an_error_at_once_and_is_not_waited_for_nor_replaced() {
    use std::os::unix::fs::FileTypeExt;
    use std::process::Command;
    let folder = tempdir().expect("a folder");
    let pipe = folder.path().join("leg.ron");
    if !Command::new("mkfifo").arg(&pipe).status().is_ok_and(|status| status.success()) {
        writeln!(io::stderr(), "SKIPPED: there is no mkfifo here, so no pipe to open").expect("stderr");
        return;
    }
    let said = load(&pipe).expect_err("a pipe");
    assert!(matches!(said, LoadError::NotAFile { .. }), "{said}");
    assert!(said.to_string().ends_with(&pipe.display().to_string()), "{said}");
    assert!(matches!(save(&named("x"), &pipe), Err(SaveError::NotAFile(_))));
    assert!(fs::metadata(&pipe).expect("there").file_type().is_fifo());
}
