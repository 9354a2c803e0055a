//! Why nothing makes seams meet, in words. Lengths are written in mm, as [`cornerwise_geometry::Units::told`] reads them.

use cornerwise_geometry::{Cut, Length};
use cornerwise_wood::Wood;

use super::{Changeable, Question, apart_mm, axis};
use crate::Design;

/// Why nothing is known of a pair of seams, of which nothing is.
pub(super) fn unknown(design: &Design, cut: Cut) -> Option<String> {
    let photos = design.wood.photos()?;
    let missing = cut.seam_faces().into_iter().find(|face| photos.of(*face).is_none());
    Some(match missing {
        Some(face) => format!("{face} has no photo, so nothing is known of these seams"),
        None => "the photos of these seams' faces are not there, so nothing is known of them".to_owned(),
    })
}

/// Why nothing is told about the lines of a pair of photographed edges.
pub(super) const NO_LINES: &str =
    "no ring lines can be made out in the photos of these seams' faces, so whether they meet is not seen";

/// Why nothing that may change answers a question about a pair, and which kinds of change would if they were allowed.
pub(super) fn none(design: &Design, cut: Cut, question: Question, would: &[Changeable]) -> String {
    let reason = reason(design, cut, question);
    let names: Vec<&str> = would.iter().map(|kind| kind.name()).collect();
    match names.split_last() {
        None => reason,
        Some((last, [])) => format!("{reason}. It would help to let this change: {last}"),
        Some((last, others)) => format!("{reason}. It would help to let these change: {} or {last}", others.join(", ")),
    }
}

fn reason(design: &Design, cut: Cut, question: Question) -> String {
    let apart = apart_mm(design, cut);
    match (&design.wood, question) {
        (Wood::Layers(layers), Question::LinesMeet | Question::PatternCarriesOn) => {
            let normal = layers.normal();
            let across = normal[axis(cut)].abs();
            let repeat = layers.repeat_mm();
            if normal[2].abs() > 1e-9 {
                let (jump, every) = (apart * across / normal[2].abs(), repeat / normal[2].abs());
                format!(
                    "the layers jump by {jump:.1} mm along the leg from face to face, wherever the saw line runs, and that is \
                     no whole number of their repeats of {every:.1} mm"
                )
            } else {
                format!(
                    "the layers stand, and from face to face they advance by {:.1} mm, wherever the saw line runs: that is no \
                     whole number of their repeats of {repeat:.1} mm",
                    apart * across
                )
            }
        }
        (Wood::Layers(_), Question::SameWood) => {
            "layers of different woods lie at the two faces that meet here, and nothing that was tried brings the same to \
             both all along"
                .to_owned()
        }
        (Wood::Blocks(blocks), _) => {
            let list = if axis(cut) == 1 { &blocks.depths } else { &blocks.widths };
            let total: f64 = list.iter().map(Length::mm).sum();
            let count = apart * list.len() as f64 / total.max(1e-9);
            let woods = match question {
                Question::SameWood => "blocks of different woods lie at the two faces that meet here",
                Question::LinesMeet => "the joints of the blocks at the two faces that meet here lie at different levels",
                Question::PatternCarriesOn => "the pattern does not come out even from face to face",
            };
            format!("{woods}, wherever the saw line runs: across the {apart:.1} mm there are {count:.2} columns")
        }
        (Wood::Photos(_), _) => {
            "no place, swing or shift of the saw line that was tried makes these photographed edges alike; turning the blank \
             puts other faces together"
                .to_owned()
        }
        (Wood::Timber(timber), _) => {
            let turn = match question {
                Question::PatternCarriesOn => ", and carry on without a turn only where it lies near the saw line too",
                Question::LinesMeet | Question::SameWood => "",
            };
            let pith = if axis(cut) == 1 { &timber.pith_y } else { &timber.pith_x }.mm();
            format!(
                "rings meet all along only where the pith lies as far from both faces and runs along the blank{turn}: it \
                 lies {:.1} mm from the one and {:.1} mm from the other",
                pith.abs(),
                (apart - pith).abs()
            )
        }
    }
}
