//! Going from place to place, and what commands do to the fit of a leg and to the furniture.

use cornerwise_geometry::Piece;
use cornerwise_geometry::fit::{LEAST_KEPT_MM, Notch};
use cornerwise_geometry::furniture::Arrangement;
use cornerwise_project::{Assembly, Design, Edit, FitPart, FurniturePart};

use super::Studio;
use crate::commands::Command;
use crate::view::Place;

/// A shelf, and what its notch is longer than it, mm. Common practice, no source.
const SHELF_MM: [f64; 2] = [18.0, 0.4];
/// An apron's height, mm. Common practice, no source.
const APRON_MM: f64 = 60.0;
/// How far apart legs stand at first, mm.
const WIDE_MM: f64 = 500.0;
const DEEP_MM: f64 = 350.0;
const RADIUS_MM: f64 = 250.0;

impl Studio {
    pub(super) fn go_to_place(&mut self, place: Place) {
        self.history.commit_drag();
        self.gesture = None;
        self.fit.hand.let_go();
        self.view.place = place;
    }

    /// What is done to the fit of the leg that is shown; not while a hand moves a notch.
    pub(super) fn fit_leg(&mut self, command: Command) {
        if self.fit.hand.is_holding() {
            return;
        }
        let Some(design) = self.view.shown(self.history.current()).cloned() else { return };
        let part = match command {
            Command::AddShelf => {
                let [board, clearance] = SHELF_MM;
                let from = free_place(&design, self.view.cursor_mm, board + clearance);
                FitPart::AddNotch(Notch::shelf(from, board, clearance))
            }
            Command::AddApron => {
                let free = design.fit.notches.first().map_or(design.blank.length.mm(), |notch| notch.from_top.mm());
                FitPart::AddNotch(Notch::apron(APRON_MM.min((free - LEAST_KEPT_MM).floor()).max(1.0)))
            }
            Command::DeleteNotch => match self.view.fit.notch {
                Some(index) => FitPart::DeleteNotch { index },
                None => return,
            },
            _ => FitPart::Inside(Piece::ALL[(design.fit.inside.index() + 1) % 4]),
        };
        let before = design.fit.notches.clone();
        self.edit_and_choose(&Edit::SetFit { design: design.id, part });
        // The notch that is new is chosen; of one that is gone, nothing.
        if let Some(design) = self.view.shown(self.history.current()).filter(|now| now.fit.notches != before) {
            self.view.fit.notch = design.fit.notches.iter().position(|notch| !before.contains(notch));
        }
    }

    /// What is done to the furniture.
    pub(super) fn put_together(&mut self, command: Command) {
        let project = self.history.current();
        let made = project.assemble().ok();
        let part = match command {
            Command::StandColumn => FurniturePart::Arrangement(Arrangement::Column),
            Command::StandRectangle => {
                FurniturePart::Arrangement(Arrangement::Rectangle { width: WIDE_MM.into(), depth: DEEP_MM.into() })
            }
            Command::StandCircle => FurniturePart::Arrangement(Arrangement::Circle { radius: RADIUS_MM.into() }),
            Command::StandRow => FurniturePart::Arrangement(Arrangement::Row { spacing: DEEP_MM.into(), count: 3 }),
            Command::SwapHand => {
                let place = self.view.furniture.place;
                let placed = place.and_then(|place| made.as_ref()?.legs.get(place));
                let (Some(place), Some(placed)) = (place, placed) else { return };
                let mut standing =
                    project.furniture.as_ref().map(|furniture| furniture.standing(place)).unwrap_or_default();
                standing.design = placed.design.id;
                standing.hand = standing.hand.other();
                FurniturePart::Leg { place, standing }
            }
            _ => {
                let legs =
                    if command == Command::LeftAndRight { Assembly::left_and_right } else { Assembly::all_alike };
                let Some(legs) = made.as_ref().and_then(legs) else { return };
                FurniturePart::Legs(legs)
            }
        };
        self.edit_and_choose(&Edit::SetFurniture { part });
    }
}

/// Where a notch of a height can begin, as near to `wanted_mm` as there is room; there where there is none, to be refused
/// with its reason.
fn free_place(design: &Design, wanted_mm: f64, height_mm: f64) -> f64 {
    let wanted = wanted_mm.round();
    let mut free_from = 0.0;
    let mut best: Option<f64> = None;
    let ends = design.fit.notches.iter().map(|notch| notch.span_mm()).chain([[design.blank.length.mm(); 2]]);
    for [from, to] in ends {
        let (least, most) = (free_from, from - LEAST_KEPT_MM - height_mm);
        if most >= least {
            let here = wanted.max(least).min(most);
            if best.is_none_or(|best| (here - wanted).abs() < (best - wanted).abs()) {
                best = Some(here);
            }
        }
        free_from = to + LEAST_KEPT_MM;
    }
    best.unwrap_or(wanted)
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_project::DesignId;

    #[test]
    fn a_new_notch_finds_the_nearest_room() {
        let mut design = Design::new(DesignId(1), 'A');
        assert_eq!(free_place(&design, 300.2, 18.0), 300.0);
        assert_eq!(free_place(&design, 900.0, 18.0), 681.0, "short of the foot");
        design.fit.notches = vec![Notch::apron(60.0), Notch::shelf(300.0, 20.0, 0.0)];
        assert_eq!(free_place(&design, 10.0, 18.0), 61.0, "below the apron");
        assert_eq!(free_place(&design, 295.0, 18.0), 281.0, "above the shelf");
        assert_eq!(free_place(&design, 315.0, 18.0), 321.0);
    }
}
