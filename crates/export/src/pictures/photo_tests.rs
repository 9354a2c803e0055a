//! Blanks whose photos lie inside their project's file and beside it: saved, moved elsewhere together, opened again.

use super::{PictureError, Watch, moved_beside, moved_inside, take, with_photos};
use crate::files::{load, save, write_text};
use cornerwise_geometry::{Face, Length, Surface};
use cornerwise_project::{DesignId, Edit, Kept, Project};
use cornerwise_wood::{Figure, Photo, Photos, SeamLimits, Species, Steps, Timber, Wood, compare_seams};
use image::{DynamicImage, ImageFormat, Rgb, RgbImage};
use std::fs;
use std::io::Cursor;
use std::path::Path;
use std::sync::Arc;

const GO_ON: Watch<'static> = &|_, _| true;
const SIDE_MM: f64 = 50.0;

/// A face of a timber blank on a blue bench, as a picture's file.
fn photographed(figure: &Figure, face: Face, format: ImageFormat) -> Vec<u8> {
    let view = figure.view(Surface::Face(face));
    let image = RgbImage::from_fn(500, 80, |column, row| {
        if !(50..450).contains(&column) || !(8..72).contains(&row) {
            return Rgb([40, 60, 140]);
        }
        let (s, across) = (1.75 * (f64::from(column) - 49.5), SIDE_MM * (f64::from(row) - 7.5) / 64.0);
        Rgb(figure.at(&view, face.point(s, across, [SIDE_MM; 2]), &Steps::POINT).colour)
    });
    let mut bytes = Cursor::new(Vec::new());
    DynamicImage::ImageRgb8(image).write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

/// What is seen all over the faces, and at the seams.
fn seen(project: &Project) -> (Vec<[u8; 3]>, Vec<[f64; 3]>) {
    let design = &project.designs[0];
    let places = (0..70).flat_map(|i| (0..5).map(move |j| (5.0 + 10.0 * f64::from(i), 5.0 + 10.0 * f64::from(j))));
    let colour =
        |face: Face, (s, across)| design.wood.at(face.point(s, across, [SIDE_MM; 2]), Surface::Face(face)).colour;
    let colours = places.flat_map(|place| Face::ALL.map(|face| colour(face, place))).collect();
    let seams = compare_seams(&design.leg().unwrap(), &design.wood, &SeamLimits::default());
    (colours, seams.into_iter().map(|seam| [seam.lines_meet, seam.same_wood, seam.unknown]).collect())
}

/// A blank of four photos in a folder, two of them inside the project and two beside it, and the project's text.
fn blank_in(folder: &Path) -> (Project, String) {
    let timber = Timber::new(Species::Oak, 20.0.into(), 70.0.into(), 3.0.into());
    let figure = Figure::new(&Wood::Timber(Timber { lean_x: 0.02, ..timber }));
    let mut project = Project::new();
    for face in Face::ALL {
        let format = if face.number() % 2 == 0 { ImageFormat::Jpeg } else { ImageFormat::Png };
        let path = folder.join(format!("photos/face {}.{}", face.number(), format.extensions_str()[0]));
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, photographed(&figure, face, format)).unwrap();
        let taken = take(&path, GO_ON).unwrap().picture;
        let beside = face.number() > 2;
        let taken = if beside { moved_beside(&taken, path.parent().unwrap(), GO_ON).unwrap() } else { taken };
        assert_eq!(matches!(taken.kept, Kept::Beside(_)), beside);
        let none = Photos::new(Species::Oak, [SIDE_MM; 2]);
        let photo = Photo::start(face, taken.hash, Length::ZERO, 700.0.into());
        let photos = project.designs[0].wood.photos().unwrap_or(&none).with(photo);
        let edit = Edit::SetPhotos { design: DesignId(1), photos: Box::new(photos), pictures: vec![Arc::new(taken)] };
        project = project.apply(&edit).unwrap();
    }
    save(&project, &folder.join("blank.ron")).unwrap();
    let text = write_text(&project).unwrap();
    (project, text)
}

/// Opens a project and develops its photos.
fn opened(file: &Path) -> (Project, Vec<PictureError>) {
    with_photos(load(file).unwrap(), GO_ON)
}

#[test]
fn photos_inside_and_beside_show_the_same_wood_after_a_move() {
    let folder = tempfile::tempdir().unwrap();
    let old = folder.path().join("old");
    let (project, _) = blank_in(&old);
    let saved = fs::read_to_string(old.join("blank.ron")).unwrap();
    assert!(saved.contains("Beside(\"photos/face 3.png\")") && saved.matches("Inside(\"").count() == 2);
    let (before, errors) = opened(&old.join("blank.ron"));
    assert!(errors.is_empty(), "{errors:?}");
    assert_eq!(load(&old.join("blank.ron")).unwrap(), project);
    let was = seen(&before);
    assert!(was.1.iter().all(|[_, _, unknown]| *unknown == 0.0));
    let plain = seen(&project);
    assert_ne!(plain.0, was.0, "without pixels there is only the wood's own colour");
    // Both go elsewhere together, and the old place is gone.
    let new = folder.path().join("bench/deep");
    fs::create_dir_all(new.parent().unwrap()).unwrap();
    fs::rename(&old, &new).unwrap();
    let (after, errors) = opened(&new.join("blank.ron"));
    assert!(errors.is_empty(), "{errors:?}");
    assert_eq!(seen(&after), was);
    // The developed project's file is the same: pixels are none of it.
    save(&after, &new.join("blank.ron")).unwrap();
    assert_eq!(fs::read_to_string(new.join("blank.ron")).unwrap(), saved);
    // Saved in another folder it still finds its photos where they are.
    fs::create_dir(folder.path().join("other")).unwrap();
    let other = folder.path().join("other/blank.ron");
    save(&after, &other).unwrap();
    let (from_there, errors) = opened(&other);
    assert!(errors.is_empty(), "{errors:?}");
    assert_eq!(seen(&from_there), was);
    // What lay inside is put beside and the other way about: the same wood.
    let mut swapped = after;
    for picture in swapped.pictures.clone() {
        let moved = match picture.kept {
            Kept::Inside(_) => moved_beside(&picture, &new, GO_ON).unwrap(),
            Kept::Beside(_) => moved_inside(&picture, GO_ON).unwrap(),
        };
        swapped = swapped.apply(&Edit::ReplacePicture { was: picture.hash, picture: Arc::new(moved) }).unwrap();
    }
    assert_eq!(seen(&swapped), was, "only where they are kept has changed");
    save(&swapped, &new.join("swapped.ron")).unwrap();
    let (again, errors) = opened(&new.join("swapped.ron"));
    assert!(errors.is_empty(), "{errors:?}");
    assert_eq!(seen(&again), was);
}

#[test]
fn a_photo_that_is_missing_or_damaged_is_named_and_nothing_else_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    let (_, text) = blank_in(folder.path());
    let file = folder.path().join("blank.ron");
    let was = seen(&opened(&file).0);
    let (there, away) = (folder.path().join("photos/face 4.jpg"), folder.path().join("away.jpg"));
    let whole = fs::read(&there).unwrap();
    fs::rename(&there, &away).unwrap();
    let spoil: [(&str, &dyn Fn()); 4] = [
        ("is not there", &|| {}),
        ("has changed", &|| fs::write(&there, &whole[..whole.len() / 2]).unwrap()),
        ("has changed", &|| fs::write(&there, "").unwrap()),
        ("cannot be read", &|| {
            fs::remove_file(&there).unwrap();
            fs::create_dir(&there).unwrap();
        }),
    ];
    for (says, spoil) in spoil {
        spoil();
        let (project, errors) = opened(&file);
        let said: Vec<String> = errors.iter().map(ToString::to_string).collect();
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(said[0].contains("face 4.jpg") && said[0].contains(says), "{said:?}");
        // The seams of the other two faces are known as before, and of this one nothing is said.
        let now = seen(&project);
        assert_eq!([now.1[1], now.1[3]], [was.1[1], was.1[3]]);
        assert_eq!([now.1[0][2], now.1[2][2]], [1.0, 1.0]);
        let others =
            |colours: &[[u8; 3]]| -> Vec<[u8; 3]> { colours.chunks(4).flat_map(|faces| faces[..3].to_vec()).collect() };
        assert_eq!(others(&now.0), others(&was.0));
        // Saved again, the file is what it was.
        assert_eq!(write_text(&project).unwrap(), text);
        save(&project, &file).unwrap();
    }
    fs::remove_dir(&there).unwrap();
    fs::rename(&away, &there).unwrap();
    let (project, errors) = opened(&file);
    assert!(errors.is_empty(), "{errors:?}");
    assert_eq!(seen(&project), was);
}

#[test]
fn a_photo_damaged_inside_the_projects_file_is_named() {
    let folder = tempfile::tempdir().unwrap();
    blank_in(folder.path());
    let file = folder.path().join("blank.ron");
    let text = fs::read_to_string(&file).unwrap();
    // A letter of the bytes of the first picture inside.
    let at = text.find("Inside(\"").unwrap() + 2000;
    let other = if text.as_bytes()[at] == b'A' { "B" } else { "A" };
    fs::write(&file, format!("{}{other}{}", &text[..at], &text[at + 1..])).unwrap();
    let (project, errors) = opened(&file);
    assert_eq!(errors.len(), 1);
    let said = errors[0].to_string();
    assert!(said.contains("face 1.png is damaged inside the project's file"), "{said}");
    // Opened, and all that is in the file is kept as it is.
    assert_eq!(project.pictures.len(), 4);
    assert_eq!(seen(&project).1.iter().filter(|[_, _, unknown]| *unknown == 1.0).count(), 2);
}
