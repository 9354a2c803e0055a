//! Photos of a real blank: four laid, a corner dragged, colours balanced, a damaged one told; undone to the byte.

use std::fs;
use std::path::{Path, PathBuf};

use cornerwise_geometry::Face;
use cornerwise_project::{Kept, Picture, Project};
use cornerwise_studio::commands::Command;
use cornerwise_wood::Photos;
use egui::{Key, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, drag, middle, press, release, studio, text};
use crate::tracing::{dropped, wait};
use crate::typing::undone;

/// A photo of a face, 480 by 120 pixels: stripes of two woods on a blue bench, lighter or darker.
fn photo(folder: &Path, face: Face, light: f64) -> PathBuf {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, 480, 120);
    encoder.set_color(png::ColorType::Rgb);
    let mut writer = encoder.write_header().unwrap();
    let pixel = |x: usize, y: usize| -> [u8; 3] {
        if !(48..432).contains(&x) || !(12..108).contains(&y) {
            return [40, 60, 140];
        }
        let wood = if (x / 24).is_multiple_of(2) { [190.0, 150.0, 110.0] } else { [110.0, 70.0, 45.0] };
        wood.map(|v: f64| (v * light) as u8)
    };
    let data: Vec<u8> = (0..120).flat_map(|y| (0..480).map(move |x| (x, y))).flat_map(|(x, y)| pixel(x, y)).collect();
    writer.write_image_data(&data).unwrap();
    drop(writer);
    let path = folder.join(format!("face {}.png", face.number()));
    fs::write(&path, bytes).unwrap();
    path
}

fn photos(bench: &Bench) -> &Photos {
    bench.state().project().designs[0].wood.photos().unwrap()
}

fn there(bench: &Bench) -> usize {
    let wood = &bench.state().project().designs[0].wood;
    wood.photos().map_or(0, |photos| photos.photos.iter().filter(|photo| photo.pixels.0.is_some()).count())
}

fn click(bench: &mut Bench, label: &str) {
    bench.get_by_label(label).click();
    bench.run();
}

/// All four faces photographed, each by its own light.
fn photographed(folder: &Path) -> (Bench, String) {
    let mut bench = studio(Project::new());
    let before = text(bench.state().project());
    assert_eq!(Command::Photos.label(), "Photos of the blank");
    for (face, light) in Face::ALL.into_iter().zip([1.0, 0.8, 1.1, 0.9]) {
        bench.state_mut().view_mut().panels.photos = Some(face);
        dropped(&mut bench, &photo(folder, face, light));
        wait(&mut bench, |bench| there(bench) == face.index() + 1);
    }
    (bench, before)
}

#[test]
fn four_photos_are_laid_squared_up_balanced_and_undone_to_the_byte() {
    let folder = tempfile::tempdir().unwrap();
    let (mut bench, before) = photographed(folder.path());
    assert_eq!((bench.state().project().pictures.len(), photos(&bench).missing().len()), (4, 0));
    let laid = text(bench.state().project());
    // A corner by the mouse: one step, kept where it was let go.
    let was = photos(&bench).of(Face::Four).unwrap().corners;
    let at = middle(&bench, "corner at the foot, lower");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(-24.0, -12.0), 5, |_| {});
    release(&mut bench, at + vec2(-24.0, -12.0));
    bench.run();
    let is = photos(&bench).of(Face::Four).unwrap().corners;
    assert!(is[2][0] < was[2][0] - 0.02 && is[2][1] < was[2][1] - 0.02, "{is:?} from {was:?}");
    assert_eq!([is[0], is[1], is[3]], [was[0], was[1], was[3]]);
    assert_eq!(bench.state().history().undo_label(), Some("Square up the photo of face 4"));
    // One that would fold the face in stops short of it.
    let at = middle(&bench, "corner at the foot, lower");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(-560.0, -120.0), 6, |_| {});
    release(&mut bench, at - vec2(560.0, 120.0));
    bench.run();
    assert!(photos(&bench).of(Face::Four).unwrap().squaring().is_some());
    bench.get_by_label("Undo").click();
    bench.run();
    undone(&mut bench, &laid);
    // By keys alone.
    bench.get_by_label("corner at the top end, upper").focus();
    bench.run();
    bench.key_press(Key::ArrowRight);
    bench.run();
    assert!(photos(&bench).of(Face::Four).unwrap().corners[0][0] > was[0][0]);
    undone(&mut bench, &laid);
    click(&mut bench, "Balance colours");
    assert!(photos(&bench).is_balanced());
    assert_eq!(bench.state().history().undo_label(), Some("Balance the photos' colours"));
    let gain = |face| photos(&bench).of(face).unwrap().gain[0];
    assert!(gain(Face::Two) > 1.2 * gain(Face::Three), "the darker photo is made lighter");
    undone(&mut bench, &laid);
    // What they show is said once for all of them.
    assert!(!photos(&bench).glued_up);
    click(&mut bench, "the photos show a glue-up");
    assert!(photos(&bench).glued_up);
    assert_eq!(bench.state().history().undo_label(), Some("Say what the photos show"));
    undone(&mut bench, &laid);
    for _ in 0..3 {
        bench.get_by_label("Undo").click();
        bench.run();
    }
    undone(&mut bench, &before);
    assert!(!bench.state().history().is_dirty());
}

#[test]
fn a_damaged_photo_is_told_and_leaves_the_blank_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let (mut bench, _) = photographed(folder.path());
    let laid = text(bench.state().project());
    let broken = folder.path().join("broken.png");
    let bytes = fs::read(photo(folder.path(), Face::One, 1.0)).unwrap();
    fs::write(&broken, &bytes[..bytes.len() / 2]).unwrap();
    dropped(&mut bench, &broken);
    wait(&mut bench, |bench| bench.state().notice().is_some());
    let told = format!("{:?}", bench.state().notice().unwrap().words);
    assert!(told.contains("broken.png") && told.contains("damaged"), "{told}");
    assert_eq!(text(bench.state().project()), laid);
}

/// Opened with a photo that is not where it was: said at once, by its name, and beside the wood; the rest is there.
#[test]
fn a_photo_that_is_missing_when_a_project_is_opened_is_told_by_its_name() {
    let folder = tempfile::tempdir().unwrap();
    let (bench, _) = photographed(folder.path());
    let mut project = Project::clone(bench.state().project());
    let beside = folder.path().join("not there/face 2.png").to_string_lossy().into_owned();
    let picture = photos(&bench).of(Face::Two).unwrap().picture;
    for kept in project.pictures.iter_mut().filter(|one| one.hash == picture) {
        *kept = std::sync::Arc::new(Picture { kept: Kept::Beside(beside.clone()), ..Picture::clone(kept) });
    }
    let project = project.exposed(&|_| None).unwrap();
    let saved = text(&project);
    let mut bench = studio(project);
    wait(&mut bench, |bench| bench.state().notice().is_some() && there(bench) == 3);
    let told = format!("{:?}", bench.state().notice().unwrap().words);
    assert!(told.contains("face 2.png is not there"), "{told}");
    assert!(bench.query_by_label_contains("Missing or damaged: the photo of face 2.").is_some());
    assert_eq!(text(bench.state().project()), saved);
}
