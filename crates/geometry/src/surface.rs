//! The surfaces of a sawn blank.

use std::fmt;

use crate::{Cut, End, Face};

/// A surface of the blank's wood, where it can be seen: planed, sawn or trimmed.
///
/// There are eight. The four sides of the finished leg show only two of them: both sides of a cut are one surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Surface {
    /// Sawn: the points (a(s), y, s) of the first cut, or (x, b(s), s) of the second.
    Cut(Cut),
    /// Planed: y = 0 is face 1, x = W face 2, y = D face 3, x = 0 face 4. A glue face of the finished leg.
    Face(Face),
    /// Trimmed to length: end grain, at s = 0 or s = L.
    End(End),
}

impl Surface {
    /// All eight: the two sawn surfaces, the four planed faces, the two ends.
    pub const ALL: [Surface; 8] = [
        Surface::Cut(Cut::First),
        Surface::Cut(Cut::Second),
        Surface::Face(Face::One),
        Surface::Face(Face::Two),
        Surface::Face(Face::Three),
        Surface::Face(Face::Four),
        Surface::End(End::Top),
        Surface::End(End::Foot),
    ];

    /// Its place in [`Surface::ALL`], 0 to 7.
    pub fn index(self) -> usize {
        match self {
            Surface::Cut(cut) => cut.index(),
            Surface::Face(face) => 2 + face.index(),
            Surface::End(End::Top) => 6,
            Surface::End(End::Foot) => 7,
        }
    }
}

impl fmt::Display for Surface {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Surface::Cut(cut) => cut.fmt(f),
            Surface::Face(face) => face.fmt(f),
            Surface::End(end) => end.fmt(f),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_surface_has_its_own_place_and_name() {
        for (place, surface) in Surface::ALL.into_iter().enumerate() {
            assert_eq!(surface.index(), place);
        }
        let names = Surface::ALL.map(|surface| surface.to_string());
        for (place, name) in names.iter().enumerate() {
            assert!(!names[..place].contains(name), "{name} twice");
        }
    }
}
