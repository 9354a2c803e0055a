//! How legs and boards come together.

use super::Section;
use cornerwise_geometry::furniture::{ApronJoint, Arrangement, BoardKind};
use cornerwise_project::{Assembly, Project};

/// The order of assembly, and what to watch out for about the whole.
pub(super) fn sections(project: &Project, made: &Assembly) -> Vec<Section> {
    let mut sections = Vec::new();
    let assembly = assembly(made);
    if !assembly.items.is_empty() {
        sections.push(assembly);
    }
    let findings = made.findings(project.units);
    if !findings.is_empty() {
        let mut section = Section::new("Watch out, the whole");
        for found in findings {
            section.say(format!("{}. {}", found.what.trim_end_matches('.'), found.fix));
        }
        sections.push(section);
    }
    sections
}

/// Which leg stands where; nothing for a leg by itself.
pub(super) fn places(project: &Project, made: &Assembly) -> Option<Section> {
    if made.legs.len() < 2 {
        return None;
    }
    let mm = |mm: f64| project.units.show_with_unit(mm);
    let mut section = Section::new("Which leg stands where");
    section.say(match &made.furniture.arrangement {
        Arrangement::Column => "One column.".to_owned(),
        Arrangement::Rectangle { width, depth } => {
            format!(
                "Axis to axis {} by {}: the outside of the apron frame, and of a shelf.",
                mm(width.mm()),
                mm(depth.mm())
            )
        }
        Arrangement::Circle { radius } => {
            format!("Evenly round a circle, {} from its middle to each axis.", mm(radius.mm()))
        }
        Arrangement::Row { spacing, .. } => format!("In a row, {} from axis to axis.", mm(spacing.mm())),
    });
    for (place, placed) in made.legs.iter().enumerate() {
        section.say(format!(
            "place {}: leg {}, {} toward the middle",
            place + 1,
            placed.label(),
            placed.piece(placed.fit.inside)
        ));
    }
    Some(section)
}

/// Common practice, no source: the order follows from what can still be slid in.
fn assembly(made: &Assembly) -> Section {
    let has = |kind: BoardKind| made.boards.iter().any(|board| board.kind == kind);
    let (aprons, shelves) = (has(BoardKind::Apron), has(BoardKind::Shelf));
    let mut section = Section::new("Putting it together");
    let four = matches!(made.furniture.arrangement, Arrangement::Rectangle { .. });
    if aprons || shelves {
        section.step("Dry fit everything, legs in their places, before any glue is opened.");
    }
    if aprons {
        let joint = match made.furniture.aprons.joint {
            ApronJoint::Butted => "butted",
            ApronJoint::Mitred => "mitred",
        };
        section.step(format!(
            "Aprons, {joint}: their outer corners meet on the axis of each leg, and their outer faces lie on the two planed walls \
             of the notch. Glue both walls; add a corner block inside."
        ));
    }
    if shelves {
        section.step(
            "Shelves: each corner goes square into its notch, up to the axis. A notch is open only toward the middle, so a shelf \
             cannot be slid in once all legs stand.",
        );
    }
    if four && (aprons || shelves) {
        section.step(
            "Glue the legs in places 1 and 2 to what runs between them, and those in 3 and 4; then bring both pairs together with \
             the rest. Measure both diagonals: equal is square.",
        );
    }
    let moves = match (shelves, has(BoardKind::Top)) {
        (true, true) => "glue a shelf at two corners only, and fasten the top so that it can move",
        (true, false) => "glue a shelf at two corners only",
        (false, true) => "fasten the top so that it can move",
        (false, false) => "",
    };
    if !moves.is_empty() {
        section.step(format!("Solid boards move across their grain: {moves} (common practice)."));
    }
    if has(BoardKind::Base) {
        let pipe = made.legs.iter().any(|placed| placed.fit.pipe.is_some());
        section.step(if pipe {
            "Base: bore it for the pipe, recess it below for washer and nut and for the cord's way out, and draw column and base \
             together with the nut. The foot must lie flat on it."
        } else {
            "Base: screw it to the foot from below. The foot must lie flat on it."
        });
    }
    if made.legs.len() > 2 {
        section.step("Stand it on something flat, level the top with wedges, scribe the feet all round and trim them.");
    }
    section
}
