//! Opening, saving and leaving.

use cornerwise_export::files;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, points, studio, text};

#[test]
fn it_saves_to_a_typed_path_where_there_is_no_dialog_and_opens_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.ron");
    let mut bench = studio(points());
    bench.key_press_modifiers(Modifiers::COMMAND, Key::S);
    bench.run();
    enter_path(&mut bench, "Save the project as", &folder.path().join("leg"));
    assert_eq!(bench.state().file(), Some(path.as_path()), "the ending is added");
    assert_eq!(files::load(&path).unwrap(), **bench.state().project());
    assert!(!bench.state().history().is_dirty());
    // A change, saved to the same file without asking.
    bench.get_by_label("Layers").click();
    bench.run();
    assert!(bench.state().history().is_dirty());
    bench.key_press_modifiers(Modifiers::COMMAND, Key::S);
    bench.run();
    assert!(!bench.state().history().is_dirty());
    assert_eq!(files::load(&path).unwrap(), **bench.state().project());
    let saved = text(bench.state().project());
    bench.key_press_modifiers(Modifiers::COMMAND, Key::N);
    bench.run();
    assert_ne!(saved, text(bench.state().project()));
    bench.key_press_modifiers(Modifiers::COMMAND, Key::O);
    bench.run();
    enter_path(&mut bench, "Open a project file", &path);
    assert_eq!(saved, text(bench.state().project()));
}

pub fn enter_path(bench: &mut Bench, label: &str, path: &std::path::Path) {
    let field = |bench: &Bench| bench.get_by_role_and_label(egui::accesskit::Role::TextInput, label).rect().center();
    let at = field(bench);
    crate::bench::press(bench, at);
    crate::bench::release(bench, at);
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
    bench.run();
    bench.get_by_role_and_label(egui::accesskit::Role::TextInput, label).type_text(&path.display().to_string());
    bench.run();
    bench.key_press(Key::Enter);
    bench.run();
}

#[test]
fn another_file_is_replaced_only_when_that_was_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("theirs.ron");
    std::fs::write(&path, "something else").unwrap();
    let mut bench = studio(points());
    bench.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    bench.run();
    enter_path(&mut bench, "Save the project as", &path);
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "something else");
    bench.get_by_label("Replace the file").click();
    bench.run();
    assert_eq!(files::load(&path).unwrap(), **bench.state().project());
}

#[test]
fn a_broken_file_says_where_and_leaves_everything_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("broken.ron");
    std::fs::write(&path, text(&points()).replace("designs", "desings")).unwrap();
    let mut bench = studio(points());
    let before = bench.state().project().clone();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::O);
    bench.run();
    enter_path(&mut bench, "Open a project file", &path);
    let notice = bench.state().notice().map(|notice| notice.words.clone()).unwrap_or_default();
    assert!(notice.contains("line ") && notice.contains("broken.ron"), "{notice}");
    assert_eq!(before, *bench.state().project());
}

#[derive(Debug)]
pub struct Dropped(pub std::path::PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &std::path::Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        Err("it is opened by its path".to_owned())
    }
}

#[test]
fn a_dropped_file_is_opened() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("dropped.ron");
    let project = cornerwise_studio::start::demo(1).unwrap();
    files::save(&project, &path).unwrap();
    let mut bench = studio(points());
    bench.input_mut().dropped_files.push(std::sync::Arc::new(Dropped(path.clone())));
    bench.run();
    assert_eq!(project, **bench.state().project());
    assert_eq!(bench.state().file(), Some(path.as_path()));
}

#[test]
fn the_paper_is_saved() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.pdf");
    let mut bench = studio(points());
    bench.key_press_modifiers(Modifiers::COMMAND, Key::P);
    bench.run();
    enter_path(&mut bench, "Save the paper as PDF", &path);
    assert!(std::fs::read(&path).unwrap().starts_with(b"%PDF-"));
    assert!(bench.state().notice().is_some_and(|notice| !notice.wrong));
}

#[test]
fn leaving_with_unsaved_changes_asks_first() {
    let mut bench = studio(points());
    bench.get_by_label("Layers").click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    bench.run();
    assert!(!bench.state().has_left());
    bench.get_by_label("Keep working").click();
    bench.run();
    assert!(bench.state().notice().is_none() && bench.state().history().is_dirty());
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    bench.run();
    bench.get_by_label("Don't save").click();
    bench.run();
    assert!(bench.state().has_left());
}

#[test]
fn leaving_a_saved_project_asks_nothing() {
    let mut bench = studio(points());
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    bench.run();
    assert!(bench.state().has_left());
}

#[test]
fn new_chooses_among_the_demos() {
    let mut bench = studio(points());
    bench.get_by_label("file menu").click();
    bench.run();
    bench.get_by_label_contains("New from a demo").hover();
    bench.run();
    let title = cornerwise_studio::start::demo_titles()[2].clone();
    bench.get_by_label(&title).click();
    bench.run();
    assert_eq!(cornerwise_studio::start::demo(2).unwrap(), **bench.state().project());
}

#[test]
fn a_change_made_while_a_file_is_asked_for_is_not_thrown_away() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("other.ron");
    files::save(&cornerwise_studio::start::demo(1).unwrap(), &path).unwrap();
    let mut bench = studio(points());
    bench.key_press_modifiers(Modifiers::COMMAND, Key::O);
    bench.run();
    bench.get_by_label("Layers").click();
    bench.run();
    let changed = bench.state().project().clone();
    enter_path(&mut bench, "Open a project file", &path);
    assert_eq!(changed, *bench.state().project());
    bench.get_by_label("Don't save").click();
    bench.run();
    assert_eq!(bench.state().file(), Some(path.as_path()));
}

#[test]
fn what_was_agreed_to_leave_unsaved_is_not_asked_about_twice() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("other.ron");
    files::save(&cornerwise_studio::start::demo(1).unwrap(), &path).unwrap();
    let mut bench = studio(points());
    bench.get_by_label("Layers").click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::O);
    bench.run();
    bench.get_by_label("Don't save").click();
    bench.run();
    enter_path(&mut bench, "Open a project file", &path);
    assert_eq!(bench.state().file(), Some(path.as_path()));
}

#[test]
fn a_project_put_on_the_bench_does_not_follow_the_hand_that_held_the_last_one() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("other.ron");
    let other = points().apply(&cornerwise_project::Edit::AddDesign).unwrap();
    files::save(&other, &path).unwrap();
    let mut bench = studio(points());
    let at = crate::bench::middle(&bench, "first cut, point 2");
    crate::bench::press(&mut bench, at);
    bench.hover_at(at + egui::vec2(8.0, 0.0));
    bench.step();
    bench.hover_at(at);
    bench.step();
    bench.input_mut().dropped_files.push(std::sync::Arc::new(Dropped(path.clone())));
    bench.step();
    crate::bench::drag(&mut bench, at, egui::vec2(30.0, 30.0), 3, |_| {});
    if bench.state().file().is_none() {
        bench.get_by_label("Don't save").click();
        bench.run();
    }
    assert_eq!(other, **bench.state().project());
}

#[test]
fn a_save_that_was_called_off_does_not_leave_later() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = studio(points());
    bench.get_by_label("Layers").click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    bench.run();
    bench.get_by_label("Save").click();
    bench.run();
    bench.get_by_label("Cancel").click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::S);
    bench.run();
    enter_path(&mut bench, "Save the project as", &folder.path().join("leg"));
    assert!(!bench.state().history().is_dirty() && !bench.state().has_left());
}

#[test]
fn saving_in_answer_to_the_question_leaves() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = studio(points());
    bench.get_by_label("Layers").click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    bench.run();
    bench.get_by_label("Save").click();
    bench.run();
    enter_path(&mut bench, "Save the project as", &folder.path().join("leg"));
    assert!(bench.state().has_left());
}

#[test]
fn the_paper_is_never_saved_over_its_project() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.ron");
    files::save(&points(), &path).unwrap();
    let before = std::fs::read(&path).unwrap();
    let mut bench = studio(points());
    bench.input_mut().dropped_files.push(std::sync::Arc::new(Dropped(path.clone())));
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::P);
    bench.run();
    enter_path(&mut bench, "Save the paper as PDF", &path);
    if bench.query_by_label("Replace the file").is_some() {
        bench.get_by_label("Replace the file").click();
        bench.run();
    }
    assert_eq!(before, std::fs::read(&path).unwrap());
    assert!(bench.state().notice().is_some_and(|notice| notice.wrong));
}
