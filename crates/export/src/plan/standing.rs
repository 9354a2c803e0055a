//! How furniture stands.

use super::Section;
use cornerwise_geometry::Units;
use cornerwise_geometry::furniture::{Arrangement, BoardKind, tilt_tests};
use cornerwise_project::{Assembly, LAMP_TILT_DEG};

/// How it stands; nothing where a single leg has neither base nor top, for then it does not stand alone.
pub(super) fn section(made: &Assembly, units: Units) -> Option<Section> {
    let mm = |mm: f64| units.show_with_unit(mm);
    // Closer than a millimetre nobody measures a centre of mass.
    if !made.stands_alone() {
        return None;
    }
    let (kg, centre) = made.weight();
    let stands = made.stability()?;
    let mut section = Section::new("Standing (comparison, not compliance)");
    section.say(format!(
        "{kg:.1} kg, {} high, centre of mass {} above the floor; it falls over when tilted {:.1} degrees.",
        mm(made.height_mm()),
        mm(centre[2].round()),
        stands.tilt_deg
    ));
    // The published tilts are for lamps.
    if matches!(made.furniture.arrangement, Arrangement::Column) {
        for test in tilt_tests() {
            section.say(format!("Beside: {}, {:.0} degrees.", test.name, test.deg));
        }
        if let Some(least) = made.least_base_mm(LAMP_TILT_DEG) {
            section.say(format!("A base at least {} across stands {LAMP_TILT_DEG:.0} degrees.", mm(least.ceil())));
        }
    }
    if let Some(top) = made.boards.iter().find(|board| board.kind == BoardKind::Top) {
        for (i, edge) in stands.tipping_edges(&top.solid.upper).into_iter().enumerate() {
            section.say(match edge.load_share {
                Some(share) => format!("Edge {} of the top: {:.0} kg at its middle tip it.", i + 1, share * kg),
                None => format!("Edge {} of the top: within the feet, no load there tips it.", i + 1),
            });
        }
    }
    Some(section)
}
