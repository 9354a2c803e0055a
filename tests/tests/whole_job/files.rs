//! Files that are broken, and files that are saved again.

use std::fs;

use cornerwise_export::files;
use proptest::prelude::*;

use crate::{command, demos};

#[test]
fn a_demo_saved_and_loaded_is_the_same_project() {
    let folder = tempfile::tempdir().expect("a folder");
    for file in demos::all() {
        let project = demos::project(&file);
        let copy = folder.path().join("copy.ron");
        files::save(&project, &copy).unwrap_or_else(|e| panic!("{e}"));
        assert_eq!(demos::project(&copy), project, "{}", file.display());
        // And what is measured of it is the same to the last digit.
        let report = |file: &std::path::Path| command::done(["report".as_ref(), file.as_os_str(), "--json".as_ref()]);
        assert_eq!(report(&copy), report(&file), "{}", file.display());
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// A demo with a few of its bytes overwritten, cut out or doubled is either still a project or refused in
    /// words that name the file; nothing panics, and the file is left as it was.
    #[test]
    fn a_damaged_file_is_read_or_refused(
        demo in any::<prop::sample::Index>(),
        damage in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>(), 0..4u8), 1..6),
    ) {
        let demos = demos::all();
        let mut bytes = fs::read(demo.get(&demos)).expect("a demo");
        for (at, byte, how) in damage {
            let at = at.index(bytes.len());
            match how {
                0 => bytes[at] = byte,
                1 => { bytes.remove(at); }
                2 => bytes.insert(at, byte % 128),
                _ => { let tail = bytes.split_off(at); bytes.truncate(at.saturating_sub(3)); bytes.extend(tail); }
            }
        }
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("damaged.ron");
        fs::write(&file, &bytes).expect("written");
        let answer = command::cornerwise(["report".as_ref(), file.as_os_str(), "--json".as_ref()]);
        prop_assert!(answer.code <= 1, "{}", answer.err);
        if answer.code == 1 {
            prop_assert!(answer.out.is_empty() && answer.err.contains("damaged.ron"), "{}", answer.err);
        } else {
            prop_assert!(serde_json::from_str::<serde_json::Value>(&answer.out).is_ok());
        }
        prop_assert!(fs::read(&file).expect("still there") == bytes);
    }
}

/// A photo inside a project that is not what it was: no report of half a blank, but the file and the photo by name.
#[test]
fn a_damaged_photo_is_named_with_its_file() {
    let photographed = demos::all().into_iter().find(|file| file.ends_with("photographed-ash.ron")).expect("the demo");
    let text = fs::read_to_string(photographed).expect("a demo");
    // In the midst of the first photo's bytes, which are the longest words of the file.
    let at = text.len() / 8;
    let other = if text.as_bytes()[at] == b'A' { "B" } else { "A" };
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("one-bad-photo.ron");
    fs::write(&file, format!("{}{other}{}", &text[..at], &text[at + 1..])).expect("written");
    for job in ["report", "plan"] {
        let answer = command::cornerwise([job.as_ref(), file.as_os_str()]);
        if job == "report" {
            assert_eq!(answer.code, 1, "{}", answer.err);
            assert!(answer.err.contains("one-bad-photo.ron") && answer.err.contains("ash face"), "{}", answer.err);
        } else {
            // Nothing of the plan is read from photos.
            assert!(answer.code == 0 || answer.err.contains("one-bad-photo.ron"), "{}", answer.err);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn random_bytes_never_panic_the_loader(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        prop_assert!(files::read_bytes(&bytes).is_err());
    }
}

/// No file, a folder, an empty file: one sentence and exit code 1; a command that is not understood: 2.
#[test]
fn what_cannot_be_done_is_said_in_one_sentence() {
    let folder = tempfile::tempdir().expect("a folder");
    let empty = folder.path().join("empty.ron");
    fs::write(&empty, "").expect("written");
    for file in [folder.path().join("none.ron"), folder.path().to_owned(), empty] {
        let answer = command::cornerwise(["report".as_ref(), file.as_os_str()]);
        assert_eq!((answer.code, answer.out.as_str()), (1, ""));
        assert_eq!(answer.err.trim_end().lines().count(), 1, "{}", answer.err);
    }
    for args in [&["paper"][..], &["report", "x.ron", "--stations", "many"], &["unknown", "thing", "else"]] {
        let answer = command::cornerwise(args);
        assert_eq!((answer.code, answer.out.as_str()), (2, ""), "{args:?}");
        assert!(!answer.err.is_empty());
    }
}

/// The upright leg as a PNG: signature and size as the PNG specification has them (W3C, second edition, 5.2 and 11.2.2).
#[test]
fn a_picture_is_a_png_of_the_size_asked_for() {
    let folder = tempfile::tempdir().expect("a folder");
    let png = folder.path().join("leg.png");
    for file in demos::all() {
        let [file, out] = [&file, &png].map(|path| path.as_os_str());
        command::done(["picture".as_ref(), file, "--out".as_ref(), out, "--size".as_ref(), "120x320".as_ref()]);
        let bytes = fs::read(&png).expect("the picture");
        assert_eq!(&bytes[..8], b"\x89PNG\r\n\x1a\n");
        let number = |at: usize| u32::from_be_bytes(bytes[at..at + 4].try_into().expect("four bytes"));
        assert_eq!((&bytes[12..16], number(16), number(20)), (&b"IHDR"[..], 120, 320));
    }
}
