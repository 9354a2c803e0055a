//! The legs of a project on its paper: every page says whose it is.

use std::sync::Arc;

use cornerwise_geometry::Cut;
use cornerwise_project::{Design, Project};

use crate::demos;
use crate::marks::Page;

/// One leg's pages.
pub struct LegOnPaper<'a> {
    pub design: &'a Arc<Design>,
    pub mirrored: bool,
    pub pages: Vec<Page>,
}

/// Every leg that a project's paper has pages of; each design has some.
pub fn of<'a>(pages: &[Page], project: &'a Project) -> Vec<LegOnPaper<'a>> {
    let mut legs = Vec::new();
    for design in &project.designs {
        let before = legs.len();
        for mirrored in [false, true] {
            let title = format!("Leg {}{}", design.letter, if mirrored { " mirrored" } else { "" });
            let own = pages.iter().filter(|page| page.texts.iter().any(|text| text.words == title));
            let own: Vec<Page> = own.cloned().collect();
            if !own.is_empty() {
                legs.push(LegOnPaper { design, mirrored, pages: own });
            }
        }
        assert!(legs.len() > before, "no paper of leg {}", design.letter);
    }
    legs
}

impl LegOnPaper<'_> {
    /// What a cut's line is across its face at `s`, mm from the first arris, and its slope: drawn apart from the project. The
    /// mirror of a leg has its first line mirrored on face 1.
    pub fn line(&self, cut: Cut) -> impl Fn(f64) -> [f64; 2] + use<> {
        let (line, across) = (demos::plain(self.design, cut), self.design.across_mm(cut));
        let turned = self.mirrored && cut == Cut::First;
        move |s| {
            let [offset, slope, _] = line.measured(s);
            if turned { [across - offset, -slope] } else { [offset, slope] }
        }
    }

    /// What the pieces are called.
    pub fn piece(&self, number: usize) -> String {
        format!("{}{}{number}", self.design.letter, if self.mirrored { "m" } else { "" })
    }

    /// The chamfer of a pipe hole, mm: the hole's diameter over the square root of two.
    pub fn chamfer_mm(&self) -> f64 {
        let pipe = self.design.fit.pipe.as_ref();
        pipe.map_or(0.0, |pipe| (pipe.outside.mm() + pipe.clearance.mm()) / 2.0_f64.sqrt())
    }
}
