//! The end caps: which way round they are, and where the cuts start on them.

use std::path::Path;

use cornerwise_geometry::Cut;

use crate::legs::{self, LegOnPaper};
use crate::marks::Page;
use crate::{demos, marks, paper};

type Place = [f64; 2];

fn size(p: Place, q: Place) -> f64 {
    (p[0] - q[0]).hypot(p[1] - q[1])
}

/// The outlines on a page that are W by D.
fn outlines(page: &Page, across: Place) -> Vec<[Place; 4]> {
    let runs = page.strokes.iter().flat_map(|stroke| &stroke.runs);
    let closed = runs.filter(|run| run.len() == 5 && size(run[0], run[4]) < 1e-6);
    let corners = closed.map(|run| [run[0], run[1], run[2], run[3]]);
    corners
        .filter(|c| (size(c[0], c[1]) - across[0]).abs() < 0.01 && (size(c[1], c[2]) - across[1]).abs() < 0.01)
        .collect()
}

/// Seen from the top end the corners go round clockwise from 1 to 4, seen from the foot the other way; each cut starts on
/// the cap where the strip has it at that end of the blank.
#[test]
fn end_caps_are_seen_from_their_ends_and_cuts_start_where_the_strip_has_them() {
    let folder = tempfile::tempdir().expect("a folder");
    for file in demos::all() {
        let project = demos::project(&file);
        let read = marks::read(&paper::of(&file, &[], folder.path()));
        for leg in legs::of(&read, &project) {
            cap_is_true(&leg, &file);
        }
    }
}

fn cap_is_true(leg: &LegOnPaper<'_>, file: &Path) {
    let design = leg.design;
    let across = Cut::ALL.map(|cut| design.across_mm(cut));
    let blank = &design.blank;
    let ends = [
        ("TOP end of leg", -blank.spare_top.mm(), 1.0),
        ("FOOT end of leg", blank.length.mm() + blank.spare_foot.mm(), -1.0),
    ];
    let pages = &leg.pages;
    for (title, s, clockwise) in ends {
        let (page, title_at) = pages
            .iter()
            .find_map(|page| Some((page, page.text_at(title)?)))
            .unwrap_or_else(|| panic!("{}: no cap for the {title}", file.display()));
        let first_corner = |corners: &[Place; 4]| {
            let least = |i: usize| corners.iter().map(|c| c[i]).fold(f64::INFINITY, f64::min);
            size([least(0), least(1)], title_at)
        };
        let outline = outlines(page, across)
            .into_iter()
            .min_by(|p, q| first_corner(p).total_cmp(&first_corner(q)))
            .unwrap_or_else(|| panic!("{}: no outline of the {title}", file.display()));
        // The corner that each piece's name is written in.
        let corners = [1, 2, 3, 4].map(|piece| {
            let name = leg.piece(piece);
            let named = page.texts.iter().filter(|text| text.words == name).map(|text| text.at);
            let nearest = named.flat_map(|at| outline.map(|corner| (size(at, corner), corner)));
            nearest.min_by(|p, q| p.0.total_cmp(&q.0)).expect("a corner of that name").1
        });
        let round: f64 = (0..4)
            .map(|i| corners[i][0] * corners[(i + 1) % 4][1] - corners[(i + 1) % 4][0] * corners[i][1])
            .sum::<f64>()
            / 2.0;
        // Clockwise on a page is a positive area where y runs down.
        assert!((round * clockwise - across[0] * across[1]).abs() < 1.0, "{} {title}: {corners:?}", file.display());
        for (cut, [from, to]) in Cut::ALL.into_iter().zip([[corners[0], corners[1]], [corners[1], corners[2]]]) {
            let offset = leg.line(cut)(s)[0] / size(from, to);
            let starts = [from[0] + offset * (to[0] - from[0]), from[1] + offset * (to[1] - from[1])];
            let ends = page.strokes.iter().filter(|stroke| stroke.cut() == Some(cut)).flat_map(|stroke| &stroke.runs);
            let nearest = ends.flatten().map(|p| size(*p, starts)).fold(f64::INFINITY, f64::min);
            assert!(nearest < 0.1, "{} {title}: the {cut} starts {nearest} mm off", file.display());
        }
    }
}
