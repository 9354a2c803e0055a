//! Where a saw line leaves the blank through a face's edge and comes back.

use super::face_strip::saw_line;
use super::strip::{FaceStrip, Strip};
use cornerwise_geometry::Units;
use kurbo::{PathEl, Point};

/// Ends of a line this close to the ends of the blank are those, mm.
const AT_END_MM: f64 = 1e-6;

/// One crossing of a saw line and an edge of its face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Crossing {
    /// Where it is on the strip.
    pub at: Point,
    /// Seen from the top: out of the face, or into it.
    pub leaves: bool,
}

impl Crossing {
    /// What is written at it.
    pub fn words(&self, units: Units) -> String {
        let what = if self.leaves { "leaves the face here" } else { "comes back" };
        let side = if self.at.x < 0.0 { "beyond" } else { "from" };
        format!("{what}, {} {side} TOP", units.show_with_unit(self.at.x.abs()))
    }
}

/// All crossings of one face between the ends of the blank, from the top.
pub(crate) fn crossings(strip: &Strip<'_>, face: &FaceStrip) -> Vec<Crossing> {
    let [from, to] = strip.ends();
    let (mut found, mut last) = (Vec::new(), None);
    let leaves = |at: Option<Point>| at.filter(|at| at.x < to - AT_END_MM).map(|at| Crossing { at, leaves: true });
    for element in saw_line(strip, face, strip.rect(face)).elements() {
        if let PathEl::MoveTo(at) = element {
            found.extend(leaves(last));
            if at.x > from + AT_END_MM {
                found.push(Crossing { at: *at, leaves: false });
            }
        }
        last = element.end_point().or(last);
    }
    found.extend(leaves(last));
    found
}
