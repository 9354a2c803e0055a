//! Tests with real files.

use super::*;
use crate::files::{load, read_text, save, write_text};
use cornerwise_geometry::Cut;
use cornerwise_project::{DesignId, Edit, Project, Trace};
use image::{DynamicImage, GrayImage, Luma, Rgb, RgbImage};
use std::cell::Cell;
use std::sync::Arc;

const GO_ON: Watch<'static> = &|_, _| true;

/// A picture of stripes, `width` by `height` pixels, as a file.
fn stripes(width: u32, height: u32, format: ImageFormat) -> Vec<u8> {
    let image = RgbImage::from_fn(width, height, |x, y| Rgb([(x % 256) as u8, (y % 256) as u8, 90]));
    let mut bytes = Cursor::new(Vec::new());
    DynamicImage::ImageRgb8(image).write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

use std::io::Cursor;

fn project_with(picture: Picture) -> Project {
    let trace = Trace::start(Cut::First, picture.hash, [picture.width_px, picture.height_px], 700.0, 50.0);
    let (trace, picture) = (Some(Box::new(trace)), Some(Arc::new(picture)));
    let project = Project::new().apply(&Edit::SetTrace { design: DesignId(1), cut: Cut::First, trace, picture });
    project.unwrap()
}

#[test]
fn a_picture_is_kept_inside_to_the_last_byte_and_stored_once() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.png");
    fs::write(&path, stripes(40, 30, ImageFormat::Png)).unwrap();
    let taken = take(&path, GO_ON).unwrap();
    assert_eq!((taken.picture.width_px, taken.picture.height_px, taken.picture.name.as_str()), (40, 30, "leg.png"));
    let project = project_with(taken.picture.clone());
    // Under the other face too: stored once.
    let trace = Trace::start(Cut::Second, taken.picture.hash, [40, 30], 700.0, 50.0);
    let (trace, picture) = (Some(Box::new(trace)), Some(Arc::new(taken.picture)));
    let project = project.apply(&Edit::SetTrace { design: DesignId(1), cut: Cut::Second, trace, picture }).unwrap();
    assert_eq!(project.pictures.len(), 1);
    let text = write_text(&project).unwrap();
    let again = read_text(&text).unwrap();
    assert_eq!(again, project);
    assert_eq!(write_text(&again).unwrap(), text);
    assert_eq!(&*bytes(&again.pictures[0], GO_ON).unwrap().0, fs::read(&path).unwrap());
    // Once neither face uses it, it is let go; taking that back brings the very same bytes.
    let remove = |cut| Edit::SetTrace { design: DesignId(1), cut, trace: None, picture: None };
    let one = again.apply(&remove(Cut::First)).unwrap();
    assert_eq!(one.pictures.len(), 1);
    assert!(one.apply(&remove(Cut::Second)).unwrap().pictures.is_empty());
}

#[test]
fn a_picture_beside_the_project_moves_with_it_and_is_missed_by_name() {
    let folder = tempfile::tempdir().unwrap();
    let old = folder.path().join("old");
    fs::create_dir_all(old.join("photos")).unwrap();
    let path = old.join("photos").join("leg.jpg");
    fs::write(&path, stripes(64, 48, ImageFormat::Jpeg)).unwrap();
    let taken = take(&path, GO_ON).unwrap();
    let inside = project_with(taken.picture.clone());
    let beside = moved_beside(&taken.picture, &old.join("photos"), GO_ON).unwrap();
    let project = inside.apply(&Edit::ReplacePicture { was: beside.hash, picture: Arc::new(beside) }).unwrap();
    let file = old.join("legs.ron");
    save(&project, &file).unwrap();
    let text = fs::read_to_string(&file).unwrap();
    assert!(text.contains("Beside(\"photos/leg.jpg\")"), "{text}");
    assert_eq!(load(&file).unwrap(), project);
    // Both folders go elsewhere together.
    let new = folder.path().join("new");
    fs::rename(&old, &new).unwrap();
    let moved = load(&new.join("legs.ron")).unwrap();
    assert_eq!(PictureHash::of(&bytes(&moved.pictures[0], GO_ON).unwrap().0), taken.picture.hash);
    // Another file under its name, then none.
    let there = new.join("photos").join("leg.jpg");
    fs::write(&there, stripes(64, 49, ImageFormat::Jpeg)).unwrap();
    let said = bytes(&moved.pictures[0], GO_ON).unwrap_err().to_string();
    assert!(said.contains("leg.jpg has changed") && said.contains("take it as it is now"), "{said}");
    fs::remove_file(&there).unwrap();
    let said = bytes(&moved.pictures[0], GO_ON).unwrap_err().to_string();
    assert!(said.contains("leg.jpg is not there") && said.contains("photos/leg.jpg"), "{said}");
    // The project itself opens all the same, and saving it loses nothing.
    save(&moved, &new.join("again.ron")).unwrap();
    assert_eq!(load(&new.join("again.ron")).unwrap(), moved);
}

#[test]
fn no_other_file_is_written_over_when_a_picture_is_put_beside() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.png");
    fs::write(&path, stripes(8, 8, ImageFormat::Png)).unwrap();
    let picture = take(&path, GO_ON).unwrap().picture;
    let there = folder.path().join("there");
    fs::create_dir(&there).unwrap();
    fs::write(there.join("leg.png"), "a note").unwrap();
    assert!(matches!(moved_beside(&picture, &there, GO_ON), Err(PictureError::NameTaken(_))));
    assert_eq!(fs::read_to_string(there.join("leg.png")).unwrap(), "a note");
    // A name that leads elsewhere is not followed.
    let sly = Picture { name: "../../sly.png".to_owned(), ..picture };
    let beside = moved_beside(&sly, &there, GO_ON).unwrap();
    assert!(matches!(beside.kept, Kept::Beside(path) if path.ends_with("there/sly.png")));
}

#[test]
fn a_damaged_picture_says_so_with_its_name() {
    for format in [ImageFormat::Png, ImageFormat::Jpeg] {
        let whole = stripes(200, 150, format);
        assert_eq!(develop(&whole, "leg", 1_000_000, 4096, GO_ON).unwrap().size_px, [200, 150]);
        for keep in [whole.len() * 2 / 3, 40, 12] {
            let said = match develop(&whole[..keep], "leg.png", 1_000_000, 4096, GO_ON) {
                Ok(_) => panic!("{format:?} {keep}"),
                Err(error) => error.to_string(),
            };
            assert!(said.contains("leg.png") && said.contains("damaged"), "{said}");
        }
        // Whatever is in it, it never does worse than that.
        for seed in 0..200_usize {
            let mut bad = whole.clone();
            for i in 0..6 {
                let at = (seed * 7919 + i * 104_729) % bad.len();
                bad[at] = (seed * 31 + i * 17) as u8;
            }
            let _ = develop(&bad, "leg.png", 1_000_000, 4096, GO_ON);
        }
    }
    let said = develop(b"GIF89a and so on", "leg.gif", 100, 100, GO_ON).err().unwrap().to_string();
    assert_eq!(said, "the picture leg.gif is neither a PNG nor a JPEG: save it as one of these");
}

#[test]
fn a_picture_of_too_many_pixels_is_not_even_decoded() {
    // A head that promises 60,000 by 60,000 grey pixels.
    let mut png = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
    png.extend([0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60, 8, 0, 0, 0, 0]);
    png.extend(crc(&png[12..]).to_be_bytes());
    png.extend(b"\0\0\0\0IDAT\x35\xaf\x06\x1e\0\0\0\0IEND\xae\x42\x60\x82");
    let said = develop(&png, "big.png", 100, 100, GO_ON).err().unwrap().to_string();
    assert!(said.contains("60000 by 60000 pixels, and at most 100 million"), "{said}");
}

/// The checksum of a PNG's chunks (ISO 3309, as PNG's annex D gives it).
fn crc(bytes: &[u8]) -> u32 {
    let step = |crc: u32| (0..8).fold(crc, |c, _| if c & 1 == 1 { 0xedb8_8320 ^ (c >> 1) } else { c >> 1 });
    !bytes.iter().fold(!0_u32, |crc, byte| step((crc ^ u32::from(*byte)) & 0xff) ^ (crc >> 8))
}

#[test]
fn a_photo_is_turned_upright_as_the_camera_says_and_made_as_small_as_asked() {
    // Exif orientation 6: the camera was turned, the picture is to be turned a quarter clockwise (Exif 2.3, table 6).
    let image = GrayImage::from_fn(60, 40, |x, _| Luma([if x < 30 { 250 } else { 10 }]));
    let mut jpeg = Cursor::new(Vec::new());
    DynamicImage::ImageLuma8(image).write_to(&mut jpeg, ImageFormat::Jpeg).unwrap();
    let jpeg = jpeg.into_inner();
    let exif = b"\xff\xe1\0\x22Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0";
    let turned = [&jpeg[..2], exif, &jpeg[2..]].concat();
    assert_eq!(develop::size_px(&turned, "leg").unwrap(), [40, 60]);
    let up = develop(&turned, "leg", 1_000_000, 4096, GO_ON).unwrap();
    assert_eq!((up.full_px, up.size_px), ([40, 60], [40, 60]));
    let grey = |x: usize, y: usize| up.rgba[4 * (y * 40 + x)];
    assert!(grey(20, 5) > 230 && grey(20, 55) < 30);
    let small = develop(&jpeg, "leg", 600, 4096, GO_ON).unwrap();
    assert!(small.size_px[0] * small.size_px[1] <= 600 && small.full_px == [60, 40]);
    assert_eq!(develop(&jpeg, "leg", 1_000_000, 30, GO_ON).unwrap().size_px, [30, 20]);
}

#[test]
fn loading_tells_how_far_it_is_and_stops_when_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("leg.jpg");
    fs::write(&path, stripes(900, 700, ImageFormat::Jpeg)).unwrap();
    let told = Cell::new(0);
    let watch = |_: &'static str, share: f32| {
        assert!((0.0..=1.0).contains(&share));
        told.set(told.get() + 1);
        true
    };
    let taken = take(&path, &watch).unwrap();
    develop(&taken.bytes.0, "leg.jpg", 10_000, 4096, &watch).unwrap();
    assert!(told.get() > 5);
    for after in 0..4 {
        let left = Cell::new(after);
        let stop = |_: &'static str, _: f32| left.replace(left.get() - 1) > 0;
        let done = take(&path, &stop).and_then(|t| develop(&t.bytes.0, "leg.jpg", 600_000, 4096, &stop));
        assert!(matches!(done, Err(PictureError::Stopped)), "{after}");
    }
}
