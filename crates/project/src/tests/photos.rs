//! Photos of a blank in a project: edits, their pixels, and what is let go of.

use std::sync::Arc;

use cornerwise_geometry::{Cut, Face};
use cornerwise_wood::{Exposed, Photo, PhotoPixels, Photos, SeamLimits, Species, Wood};

use crate::{
    BlankSize, Changeable, Design, DesignId, Edit, History, Kept, Picture, PictureBytes, PictureHash, Project,
    Question, Turn, Wanted, WoodPart, seam_fixes,
};

const A: DesignId = DesignId(1);

fn picture(number: u8) -> Arc<Picture> {
    let bytes = PictureBytes(vec![number; 4].into());
    let hash = PictureHash::of(&bytes.0);
    Arc::new(Picture { hash, name: format!("{number}.png"), width_px: 60, height_px: 20, kept: Kept::Inside(bytes) })
}

fn photo(face: Face, picture: &Picture) -> Photo {
    Photo::start(face, picture.hash, (-20.0).into(), 740.0.into())
}

fn set(photos: &Photos, pictures: Vec<Arc<Picture>>) -> Edit {
    Edit::SetPhotos { design: A, photos: Box::new(photos.clone()), pictures }
}

fn photos(project: &Project) -> &Photos {
    project.designs[0].wood.photos().unwrap()
}

#[test]
fn photos_bring_their_pictures_and_take_them_along() {
    let (one, two) = (picture(1), picture(2));
    let start = Project::new();
    let none = Photos::new(Species::Oak, [1.0, 1.0]);
    let with_one = none.with(photo(Face::One, &one));
    let edit = set(&with_one, vec![Arc::clone(&one)]);
    assert_eq!(edit.label(&start), "Take photos of the blank");
    let first = start.apply(&edit).unwrap();
    assert_eq!((first.pictures.len(), photos(&first).size_mm()), (1, [50.0, 50.0]), "told the blank's size");
    // A picture that the project has not is refused.
    let with_both = photos(&first).with(photo(Face::Three, &two));
    let error = first.apply(&set(&with_both, vec![])).unwrap_err();
    assert!(error.to_string().contains("picture"), "{error}");
    let edit = set(&with_both, vec![two]);
    assert_eq!(edit.label(&first), "Lay the photo on face 3");
    let both = first.apply(&edit).unwrap();
    // Gone from the blank, gone from the project.
    let edit = set(&photos(&both).without(Face::One), vec![]);
    assert_eq!(edit.label(&both), "Remove the photo of face 1");
    assert_eq!(both.apply(&edit).unwrap().pictures.len(), 1);
    let oak = both.apply(&Edit::SetWood { design: A, wood: Project::new().designs[0].wood.clone() }).unwrap();
    assert!(oak.pictures.is_empty());
    // Corners that make no face are refused, and the project stays.
    let [a, b, c, d] = photo(Face::One, &one).corners;
    let crossed = Photo { corners: [b, a, c, d], ..photo(Face::One, &one) };
    assert!(both.apply(&set(&photos(&both).with(crossed), vec![])).unwrap_err().to_string().contains("corners"));
}

#[test]
fn photos_follow_the_blank_and_refuse_what_they_have_not() {
    let one = picture(1);
    let none = Photos::new(Species::Oak, [1.0, 1.0]);
    let project = Project::new().apply(&set(&none.with(photo(Face::One, &one)), vec![one])).unwrap();
    let wider = project.apply(&Edit::SetBlankSize { design: A, size: BlankSize::Square, value: 62.0.into() }).unwrap();
    assert_eq!(photos(&wider).size_mm(), [62.0, 62.0]);
    let rolled = wider.apply(&Edit::TurnBlank { design: A, turn: Turn::Quarter }).unwrap();
    assert!(photos(&rolled).of(Face::Four).is_some() && photos(&rolled).of(Face::One).is_none());
    let cherry = project.apply(&Edit::SetWoodPart { design: A, part: WoodPart::Species(Species::Cherry) }).unwrap();
    assert_eq!(photos(&cherry).species, Species::Cherry);
    let lean = project.apply(&Edit::SetWoodPart { design: A, part: WoodPart::Lean(3.0) });
    assert!(lean.unwrap_err().to_string().contains("photos"));
    let text = ron::to_string(&project).unwrap();
    assert!(text.contains("Photos"), "{text}");
    let mut again: Project = ron::from_str(&text).unwrap();
    again.number();
    assert_eq!(again, project);
}

/// Undo and redo go through pixels that came in between; they are none of the maker's changes.
#[test]
fn pixels_are_put_in_everywhere_and_change_nothing() {
    let (one, two) = (picture(1), picture(2));
    let none = Photos::new(Species::Oak, [50.0, 50.0]);
    let mut history = History::new(Project::new());
    history.apply(&set(&none.with(photo(Face::One, &one)), vec![Arc::clone(&one)])).unwrap();
    history.mark_saved(Arc::clone(history.current()));
    let more = photos(history.current()).with(photo(Face::Two, &two));
    history.apply(&set(&more, vec![two])).unwrap();
    let bytes = ron::to_string(&**history.current()).unwrap();
    let pixels = Arc::new(PhotoPixels::new([2, 1], &[9; 8]).unwrap());
    history.expose(&|hash| (hash == one.hash).then(|| Arc::clone(&pixels)));
    let there = |project: &Project| photos(project).photos.iter().map(|p| p.pixels.0.is_some()).collect::<Vec<_>>();
    assert_eq!(there(history.current()), [true, false]);
    assert_eq!(ron::to_string(&**history.current()).unwrap(), bytes);
    assert!(history.undo() && !history.is_dirty(), "the project that was saved, pixels and all");
    assert_eq!(there(history.current()), [true]);
    assert!(history.redo() && history.is_dirty());
    history.expose(&|_| None);
    assert_eq!(there(history.current()), [false, false]);
}

#[test]
fn the_search_says_which_face_has_no_photo() {
    let one = picture(1);
    let none = Photos::new(Species::Oak, [50.0, 50.0]);
    let project = Project::new().apply(&set(&none.with(photo(Face::One, &one)), vec![one])).unwrap();
    let design = &project.designs[0];
    let found = seam_fixes(design, &Wanted::ALL, &Changeable::ALL, &SeamLimits::default(), &|| false);
    let ask = |cut: Cut| found.why_none[cut.index()][Question::LinesMeet.index()].clone();
    assert!(ask(Cut::First).unwrap().starts_with("face 3 has no photo"));
    assert!(ask(Cut::Second).unwrap().starts_with("face 4 has no photo"));
    let may: Vec<Changeable> =
        Changeable::ALL.into_iter().filter(|kind| kind.applies_to(&Wood::Photos(photos(&project).clone()))).collect();
    assert_eq!(may, Changeable::LINE);
}

/// A design of four photos, each of `at` (face, mm along, mm across), two pixels to the mm.
fn photographed(at: fn(Face, f64, f64) -> u8) -> Design {
    let size = [1520, 100];
    let photo = |face: Face| {
        let grey = |i: usize| at(face, (i % size[0]) as f64 / 2.0, (i / size[0]) as f64 / 2.0);
        let rgba: Vec<u8> = (0..size[0] * size[1]).flat_map(|i| [grey(i), grey(i), grey(i), 255]).collect();
        let pixels = Exposed(PhotoPixels::new(size, &rgba).map(Arc::new));
        Photo { pixels, ..Photo::start(face, PictureHash([face.number(); 32]), (-20.0).into(), 760.0.into()) }
    };
    let none = Photos::new(Species::Oak, [50.0, 50.0]);
    let photos = Face::ALL.into_iter().fold(none, |photos, face| photos.with(photo(face)));
    Design { wood: Wood::Photos(photos), ..Design::new(A, 'A') }
}

/// Photos of one plain colour: the same wood, and of lines nothing is seen; so nothing is promised about them.
#[test]
fn where_no_lines_are_seen_in_photos_none_are_promised_to_meet() {
    let design = photographed(|_, _, _| 120);
    let found = seam_fixes(&design, &Wanted::ALL, &Changeable::ALL, &SeamLimits::default(), &|| false);
    assert_eq!((found.lines_seen, found.complete, found.fixes.len()), ([false; 2], true, 0));
    for pair in &found.why_none {
        assert!(pair[0].as_deref().is_some_and(|why| why.starts_with("no ring lines can be made out")), "{pair:?}");
        assert_eq!(pair[1..], [None, None], "the same wood all along");
    }
}

/// Rings of 4 mm on one face and of 5 mm on the other never meet for long: there is too much to look at for every step, and
/// that is said, and why there is nothing too.
#[test]
fn a_search_among_photos_takes_wide_steps_and_says_why_there_is_nothing() {
    let design = photographed(|face, _, across| {
        let ring = if matches!(face, Face::One | Face::Two) { 4.0 } else { 5.0 };
        (120.0 + 60.0 * (across / ring * std::f64::consts::TAU).sin()) as u8
    });
    let found = seam_fixes(&design, &Wanted::ALL, &Changeable::ALL, &SeamLimits::default(), &|| false);
    assert_eq!((found.lines_seen, found.complete, found.fixes.len()), ([true; 2], false, 0), "{found:?}");
    for pair in &found.why_none {
        assert!(pair[0].as_deref().is_some_and(|why| why.starts_with("no place, swing or shift")), "{pair:?}");
    }
}
