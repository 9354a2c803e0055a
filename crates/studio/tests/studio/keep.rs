//! What is kept between one start and the next: recovery copies, recent projects, preferences. Always in a folder of the
//! test's own.

use std::path::Path;
use std::time::{Duration, Instant};

use cornerwise_export::{files, picture, pictures};
use cornerwise_geometry::Camera;
use cornerwise_project::Project;
use cornerwise_studio::keep::Folders;
use cornerwise_studio::keep::copies::{Beside, PICTURE};
use cornerwise_studio::view::{START_TILT_DEG, START_TURN_DEG};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, points, rest, studio_with, text};

const REST: Duration = Duration::from_millis(30);

/// A studio that keeps what it keeps in `folder`.
fn studio(project: Project, file: Option<&Path>, folder: &Path) -> Bench {
    let folders = Folders::within(folder);
    studio_with(project, file.map(Path::to_owned), |studio, ctx| studio.keep_in(ctx, folders, REST))
}

/// Frames until something is so, or half a minute.
fn until(bench: &mut Bench, what: impl Fn(&Bench) -> bool) {
    let begun = Instant::now();
    while !what(bench) {
        assert!(begun.elapsed() < Duration::from_secs(30), "it never came to that");
        std::thread::sleep(Duration::from_millis(5));
        bench.step();
    }
    bench.run();
}

fn copies(folder: &Path) -> usize {
    let entries = std::fs::read_dir(Folders::within(folder).recovery());
    let is_copy = |name: String| name.ends_with(".ron") && !name.starts_with('.');
    entries.map_or(0, |all| {
        all.filter(|one| is_copy(one.as_ref().unwrap().file_name().to_string_lossy().into_owned())).count()
    })
}

fn change(bench: &mut Bench) {
    bench.get_by_label("Layers").click();
    bench.run();
}

#[test]
fn work_that_was_not_saved_is_offered_after_a_crash_and_comes_back_to_the_byte() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.ron");
    files::save(&points(), &path).unwrap();
    let mut bench = studio(points(), Some(&path), folder.path());
    change(&mut bench);
    let work = text(bench.state().project());
    until(&mut bench, |_| copies(folder.path()) == 1);
    // Another studio that starts meanwhile is not offered what this one works at.
    let mut other = studio(points(), None, folder.path());
    std::thread::sleep(Duration::from_millis(100));
    other.run();
    assert!(other.state().offered_copies().is_empty());
    drop(other);
    drop(bench); // it ends without leaving
    let mut bench = studio(Project::new(), None, folder.path());
    until(&mut bench, |bench| bench.state().offered_copies().len() == 1);
    let [what, beside] = bench.state().offered_copies().remove(0);
    assert!(what.contains("New project, 1 leg, kept just now"), "{what}");
    assert_eq!(beside, "Newer than its file leg.ron. Leg A differs.");
    bench.get_by_label_contains("Open, New project").click();
    bench.run();
    assert_eq!(work, text(bench.state().project()));
    assert!(bench.state().history().is_dirty() && bench.state().file() == Some(path.as_path()));
    // It may be left again without saving: the copy is still there.
    drop(bench);
    let mut bench = studio(Project::new(), None, folder.path());
    until(&mut bench, |bench| !bench.state().offered_copies().is_empty());
    bench.get_all_by_label_contains("Open, New project").next().unwrap().click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::S);
    bench.run();
    assert_eq!(work, text(&files::load(&path).unwrap()));
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    bench.run();
    drop(bench);
    let mut bench = studio(Project::new(), None, folder.path());
    std::thread::sleep(Duration::from_millis(100));
    bench.run();
    assert!(bench.state().offered_copies().is_empty(), "its work is in the file");
}

#[test]
fn several_copies_are_listed_and_none_is_lost_before_it_is_discarded() {
    let folder = tempfile::tempdir().unwrap();
    for _ in 0..2 {
        let before = copies(folder.path());
        let mut bench = studio(points(), None, folder.path());
        change(&mut bench);
        until(&mut bench, |_| copies(folder.path()) == before + 1);
    }
    let mut bench = studio(Project::new(), None, folder.path());
    until(&mut bench, |bench| bench.state().offered_copies().len() == 2);
    assert_eq!(bench.state().copy_beside(0), Some(&Beside::NeverSaved));
    bench.get_all_by_label_contains("Discard, New project").next().unwrap().click();
    bench.run();
    assert_eq!(copies(folder.path()), 2, "marked, not gone");
    bench.get_by_label("Keep after all").click();
    bench.run();
    bench.get_all_by_label_contains("Discard, New project").next().unwrap().click();
    bench.run();
    bench.get_by_label("Close and discard what is marked").click();
    bench.run();
    assert_eq!(copies(folder.path()), 1);
    drop(bench);
    let mut bench = studio(Project::new(), None, folder.path());
    until(&mut bench, |bench| bench.state().offered_copies().len() == 1);
}

#[test]
fn a_copy_is_saved_elsewhere_without_touching_the_bench() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = studio(points(), None, folder.path());
    change(&mut bench);
    let work = text(bench.state().project());
    until(&mut bench, |_| copies(folder.path()) == 1);
    drop(bench);
    let mut bench = studio(Project::new(), None, folder.path());
    let mine = text(bench.state().project());
    until(&mut bench, |bench| bench.state().offered_copies().len() == 1);
    bench.get_by_label_contains("Save elsewhere").click();
    bench.run();
    let path = folder.path().join("saved.ron");
    crate::files::enter_path(&mut bench, "Save the recovered copy as", &path);
    assert_eq!(work, text(&files::load(&path).unwrap()));
    assert_eq!(mine, text(bench.state().project()));
    assert!(bench.state().offered_copies().is_empty() && copies(folder.path()) == 0);
}

#[test]
fn saving_or_leaving_on_purpose_leaves_no_copy() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.ron");
    files::save(&points(), &path).unwrap();
    let mut bench = studio(points(), Some(&path), folder.path());
    change(&mut bench);
    until(&mut bench, |_| copies(folder.path()) == 1);
    bench.key_press_modifiers(Modifiers::COMMAND, Key::S);
    bench.run();
    until(&mut bench, |_| copies(folder.path()) == 0);
    bench.key_press_modifiers(Modifiers::COMMAND, Key::D);
    bench.run();
    until(&mut bench, |_| copies(folder.path()) == 1);
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    bench.run();
    bench.get_by_label("Don't save").click();
    bench.run();
    drop(bench);
    assert_eq!(copies(folder.path()), 0);
}

#[test]
fn a_file_changed_by_another_program_is_not_overwritten_without_a_word() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.ron");
    files::save(&points(), &path).unwrap();
    let mut bench = studio(points(), Some(&path), folder.path());
    change(&mut bench);
    std::fs::write(&path, "theirs").unwrap();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::S);
    bench.run();
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "theirs");
    assert!(bench.state().notice().is_some_and(|notice| notice.words.contains("changed by another program")));
    bench.get_by_label("Keep working").click();
    bench.run();
    assert!(bench.state().history().is_dirty());
    bench.key_press_modifiers(Modifiers::COMMAND, Key::S);
    bench.run();
    bench.get_by_label("Replace the file").click();
    bench.run();
    assert_eq!(files::load(&path).unwrap(), **bench.state().project());
}

#[test]
fn where_no_copy_can_be_kept_that_is_told_once_and_nothing_else_changes() {
    let folder = tempfile::tempdir().unwrap();
    // A file where the folder should be stands for a disk that takes nothing.
    std::fs::write(folder.path().join("data"), "").unwrap();
    let mut bench = studio(points(), None, folder.path());
    change(&mut bench);
    until(&mut bench, |bench| {
        bench.state().notice().is_some_and(|notice| !notice.wrong && notice.words.contains("in case of a crash"))
    });
    bench.get_by_label("OK").click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::D);
    bench.run();
    std::thread::sleep(4 * REST);
    bench.run();
    assert!(bench.state().notice().is_none(), "once");
}

#[test]
fn recent_projects_are_opened_from_the_menu_and_a_missing_one_is_taken_off() {
    let folder = tempfile::tempdir().unwrap();
    let demo = |number| cornerwise_studio::start::demo(number).unwrap();
    let paths = ["one.ron", "two.ron"].map(|name| folder.path().join(name));
    for (number, path) in paths.iter().enumerate() {
        files::save(&demo(number), path).unwrap();
        drop(studio(demo(number), Some(path), folder.path()));
    }
    std::fs::remove_file(&paths[1]).unwrap();
    let mut bench = studio(Project::new(), None, folder.path());
    bench.get_by_label("file menu").click();
    bench.run();
    bench.get_by_label_contains("Recent projects").click();
    until(&mut bench, |bench| bench.query_all_by_label_contains("recent project ").count() == 2);
    assert!(bench.query_by_label_contains("not there any more: two.ron").is_some());
    let at = bench.get_by_label_contains(&format!("take {} off", demo(1).name)).rect().center();
    crate::bench::press(&mut bench, at);
    crate::bench::release(&mut bench, at);
    bench.run();
    bench.get_by_label("file menu").click();
    bench.run();
    if bench.query_by_label_contains("recent project ").is_none() {
        bench.get_by_label_contains("Recent projects").hover();
    }
    until(&mut bench, |bench| bench.query_all_by_label_contains("recent project ").count() == 1);
    bench.get_by_label_contains("recent project ").click();
    bench.run();
    assert_eq!(bench.state().file(), Some(paths[0].as_path()));
    assert_eq!(**bench.state().project(), demo(0));
}

/// Its photos are developed after a project is opened: the list shows that wood all the same, and so does what is offered
/// after a crash.
#[test]
fn a_photographed_blank_is_pictured_in_its_own_wood() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("ash.ron");
    let demo = cornerwise_studio::start::demo_named("photographed-ash").unwrap();
    files::save(&demo, &path).unwrap();
    let pictured = |project: &Project| {
        let (design, camera) = (&project.designs[0], Camera::new(START_TURN_DEG, START_TILT_DEG));
        picture::picture_of(&design.leg().unwrap(), &design.figure(), &camera, 1.0, PICTURE).unwrap()
    };
    let (developed, errors) = pictures::with_photos(demo.clone(), &|_, _| true);
    assert!(errors.is_empty() && pictured(&developed) != pictured(&demo));
    let wanted = pictured(&developed);
    let mut bench = studio(demo, Some(&path), folder.path());
    let kept = Folders::within(folder.path()).pictures();
    until(&mut bench, |_| {
        let entries = std::fs::read_dir(&kept).into_iter().flatten();
        entries.flatten().any(|entry| std::fs::read(entry.path()).is_ok_and(|png| png == wanted))
    });
    assert!(!bench.state().history().is_dirty());
}

#[test]
fn preferences_are_there_at_the_next_start_and_broken_ones_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = studio(points(), None, folder.path());
    bench.key_press(Key::F5);
    bench.run();
    for words in ["dark", "larger", "larger", "strong wood"] {
        bench.key_press_modifiers(Modifiers::COMMAND, Key::K);
        bench.run();
        bench.get_by_role_and_label(egui::accesskit::Role::TextInput, "find a command").type_text(words);
        bench.run();
        bench.key_press(Key::Enter);
        bench.run();
    }
    assert_eq!(bench.ctx.zoom_factor(), 1.2);
    assert!(bench.state().history().changes().len() == 0, "none of it is the project");
    drop(bench);
    let bench = studio(points(), None, folder.path());
    assert_eq!(bench.ctx.zoom_factor(), 1.2);
    assert!(bench.state().view().sides.open && bench.state().view().strong_wood);
    assert_eq!(bench.state().view().look, cornerwise_studio::keep::preferences::Look::Dark);
    drop(bench);
    std::fs::write(Folders::within(folder.path()).preferences(), "(scale").unwrap();
    let bench = studio(points(), None, folder.path());
    assert!(bench.state().notice().is_some_and(|notice| notice.words.contains("preferences could not be read")));
    assert!(!bench.state().view().sides.open);
}

#[test]
fn the_window_comes_to_rest_while_copies_and_preferences_are_kept() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = studio(points(), None, folder.path());
    change(&mut bench);
    bench.key_press(Key::F5);
    bench.run();
    until(&mut bench, |_| copies(folder.path()) == 1);
    rest(&mut bench);
}
