//! A picture under a face: laid, scaled by two points, moved, turned, faded, locked, hidden, removed; undone to the byte.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use cornerwise_export::files;
use cornerwise_geometry::Cut;
use cornerwise_project::{Kept, Trace};
use cornerwise_studio::commands::Command;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, drag, middle, points, press, release, studio, studio_with, text};
use crate::typing::{type_into, undone};

/// A drawing, 400 by 100 pixels, with a white cross at its pixels (100, 50) and (300, 50).
pub fn drawing(folder: &Path) -> PathBuf {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, 400, 100);
    encoder.set_color(png::ColorType::Rgb);
    let mut writer = encoder.write_header().unwrap();
    let white = |x: usize, y: usize| [100, 300].iter().any(|at| x.abs_diff(*at) + y.abs_diff(50) < 6);
    let pixels = (0..100).flat_map(|y| (0..400).map(move |x| (x, y)));
    let data: Vec<u8> = pixels.flat_map(|(x, y)| if white(x, y) { [255; 3] } else { [30, 90, 30] }).collect();
    writer.write_image_data(&data).unwrap();
    drop(writer);
    let path = folder.join("old leg.png");
    fs::write(&path, bytes).unwrap();
    path
}

/// Lets frames go by until something is so.
pub fn wait(bench: &mut Bench, until: impl Fn(&Bench) -> bool) {
    let start = Instant::now();
    while !until(bench) {
        assert!(start.elapsed() < Duration::from_secs(20), "it never came");
        std::thread::sleep(Duration::from_millis(5));
        bench.step();
    }
    bench.run();
}

pub fn dropped(bench: &mut Bench, path: &Path) {
    bench.input_mut().dropped_files.push(std::sync::Arc::new(crate::files::Dropped(path.to_owned())));
    bench.step();
}

fn trace(bench: &Bench, cut: Cut) -> Trace {
    bench.state().project().designs[0].trace(cut).cloned().unwrap()
}

fn click(bench: &mut Bench, label: &str) {
    bench.get_by_label(label).click();
    bench.run();
}

fn laid(folder: &Path) -> (Bench, String) {
    let mut bench = studio(points());
    let before = text(bench.state().project());
    let at = middle(&bench, "faces 1 and 2") - vec2(0.0, 100.0);
    bench.hover_at(at);
    bench.step();
    dropped(&mut bench, &drawing(folder));
    wait(&mut bench, |bench| !bench.state().project().pictures.is_empty());
    (bench, before)
}

#[test]
fn a_traced_picture_is_scaled_by_two_clicked_points_and_a_typed_distance() {
    let folder = tempfile::tempdir().unwrap();
    let (mut bench, first) = laid(folder.path());
    assert_eq!(bench.state().history().undo_label(), Some("Lay a picture under face 1"));
    let before = text(bench.state().project());
    click(&mut bench, "Mark two points");
    let faces = *bench.state().faces_on_screen().unwrap();
    let was = trace(&bench, Cut::First);
    // The picture is as long as the leg: its crosses lie at a quarter and three quarters.
    let crosses = [[0.25, 0.5], [0.75, 0.5]].map(|share| was.face_from_picture(share, [400, 100]));
    for [s, offset] in crosses {
        let at = faces.pos(Cut::First, s, offset);
        press(&mut bench, at);
        release(&mut bench, at);
        bench.run();
        assert!(bench.state().view().tracing.marks[0].is_some(), "marked at {at:?}");
    }
    // They are 2 feet 3 1/2 inches apart in truth.
    type_into(&mut bench, "distance between the marks", "27 1/2\"");
    let is = trace(&bench, Cut::First);
    let [one, other] = [[0.25, 0.5], [0.75, 0.5]].map(|share| is.face_from_picture(share, [400, 100]));
    // A click is true to a pixel, which here is a millimetre.
    assert!(((other[0] - one[0]) - 698.5).abs() < 2.5, "{one:?} {other:?}");
    assert!((one[0] - crosses[0][0]).abs() < 1.5, "the first point stays");
    assert_eq!(bench.state().history().undo_label(), Some("Scale the picture under face 1"));
    undone(&mut bench, &before);
    // The marks hold to the picture, so typing again scales it again.
    type_into(&mut bench, "distance between the marks", "100");
    assert!((trace(&bench, Cut::First).width.mm() - 200.0).abs() < 1.0);
    undone(&mut bench, &before);
    undone(&mut bench, &first);
}

#[test]
fn marks_are_set_by_keys_alone() {
    let folder = tempfile::tempdir().unwrap();
    let (mut bench, _) = laid(folder.path());
    let before = text(bench.state().project());
    click(&mut bench, "Mark its ends");
    type_into(&mut bench, "mark 1, from top", "175");
    type_into(&mut bench, "mark 2, from top", "525");
    type_into(&mut bench, "distance between the marks", "700");
    let is = trace(&bench, Cut::First);
    assert!((is.width.mm() - 1400.0).abs() < 1e-6, "{is:?}");
    let [s, offset] = is.face_from_picture([0.25, 0.5], [400, 100]);
    assert!((s - 175.0).abs() < 1e-6 && (offset - 25.0).abs() < 1e-6);
    undone(&mut bench, &before);
}

#[test]
fn a_picture_is_moved_turned_faded_locked_hidden_and_removed() {
    let folder = tempfile::tempdir().unwrap();
    let (mut bench, first) = laid(folder.path());
    let before = text(bench.state().project());
    let at = middle(&bench, "picture under face 1, grip to move");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(40.0, 20.0), 4, |_| {});
    release(&mut bench, at + vec2(40.0, 20.0));
    bench.run();
    let moved = trace(&bench, Cut::First);
    assert!(moved.from_top.mm() > 360.0 && moved.offset.mm() > 25.0);
    assert_eq!(bench.state().history().undo_label(), Some("Move the picture under face 1"));
    undone(&mut bench, &before);
    bench.get_by_label("picture under face 1, grip to move").focus();
    bench.run();
    bench.key_press(Key::ArrowRight);
    bench.run();
    assert_eq!(trace(&bench, Cut::First).from_top.mm(), 351.0);
    undone(&mut bench, &before);
    for (field, typed, label) in [
        ("picture under face 1, turn", "12.5°", "Turn the picture under face 1"),
        ("picture under face 1, width", "W*10", "Scale the picture under face 1"),
        ("picture under face 1, offset", "1 1/4\"", "Move the picture under face 1"),
    ] {
        type_into(&mut bench, field, typed);
        assert_eq!(bench.state().history().undo_label(), Some(label));
        undone(&mut bench, &before);
    }
    click(&mut bench, "Hidden");
    assert!(trace(&bench, Cut::First).hidden);
    undone(&mut bench, &before);
    click(&mut bench, "Locked");
    assert!(bench.query_by_label("picture under face 1, grip to move").is_none());
    undone(&mut bench, &before);
    click(&mut bench, "Remove");
    assert!(bench.state().project().pictures.is_empty());
    undone(&mut bench, &before);
    undone(&mut bench, &first);
}

#[test]
fn a_missing_picture_says_so_and_comes_back_when_its_file_does() {
    let folder = tempfile::tempdir().unwrap();
    let (mut bench, _) = laid(folder.path());
    // Without a file of its own, a project has no beside.
    click(&mut bench, "keep the picture beside");
    assert!(bench.state().notice().is_some_and(|notice| notice.words.contains("save the project first")));
    let project = (**bench.state().project()).clone();
    let file = folder.path().join("leg.ron");
    files::save(&project, &file).unwrap();
    let mut bench = studio_with(project, Some(file.clone()), |_, _| {});
    bench.state_mut().view_mut().panels.trace = Some(Cut::First);
    bench.run();
    click(&mut bench, "keep the picture beside");
    wait(&mut bench, |bench| matches!(bench.state().project().pictures[0].kept, Kept::Beside(_)));
    let project = (**bench.state().project()).clone();
    let there = folder.path().join("old leg.png");
    let bytes = fs::read(&there).unwrap();
    fs::remove_file(&there).unwrap();
    let mut bench = studio_with(project, Some(file), |_, _| {});
    bench.state_mut().view_mut().panels.trace = Some(Cut::First);
    let before = text(bench.state().project());
    wait(&mut bench, |bench| bench.query_by_label_contains("old leg.png is not there").is_some());
    assert_eq!(before, text(bench.state().project()));
    fs::write(&there, bytes).unwrap();
    click(&mut bench, "Try again");
    wait(&mut bench, |bench| bench.query_by_label_contains("old leg.png is not there").is_none());
    click(&mut bench, "keep the picture inside");
    wait(&mut bench, |bench| matches!(bench.state().project().pictures[0].kept, Kept::Inside(_)));
    undone(&mut bench, &before);
}

#[test]
fn the_panel_opens_by_its_command_and_takes_a_typed_path() {
    let folder = tempfile::tempdir().unwrap();
    let path = drawing(folder.path());
    let mut bench = studio(points());
    let before = text(bench.state().project());
    assert_eq!(Command::TracePicture.label(), "Trace a picture…");
    bench.key_press_modifiers(Modifiers::SHIFT, Key::P);
    bench.run();
    click(&mut bench, "Face 2");
    click(&mut bench, "Choose a picture…");
    crate::files::enter_path(&mut bench, "Choose a picture, PNG or JPEG", &path);
    wait(&mut bench, |bench| bench.state().project().designs[0].trace(Cut::Second).is_some());
    undone(&mut bench, &before);
    // What is none says so, by its name.
    let bad = folder.path().join("bad.jpg");
    fs::write(&bad, "\u{0}not a picture").unwrap();
    dropped(&mut bench, &bad);
    wait(&mut bench, |bench| {
        bench.state().notice().is_some_and(|n| n.words.contains("bad.jpg is neither a PNG nor a JPEG"))
    });
    assert_eq!(before, text(bench.state().project()));
}

#[test]
fn esc_drops_the_marking_first_and_closes_the_panel_with_the_next() {
    let folder = tempfile::tempdir().unwrap();
    let (mut bench, _) = laid(folder.path());
    click(&mut bench, "Mark two points");
    assert!(bench.state().view().tracing.marking);
    bench.key_press(Key::Escape);
    bench.run();
    assert!(!bench.state().view().tracing.marking && bench.state().view().panels.trace.is_some());
    click(&mut bench, "Mark its ends");
    assert!(bench.state().view().tracing.marks[1].is_some());
    bench.key_press(Key::Escape);
    bench.run();
    // Opened again, nothing of it is left over.
    assert!(bench.state().view().panels.trace.is_none() && bench.state().view().tracing.marks == [None, None]);
}
