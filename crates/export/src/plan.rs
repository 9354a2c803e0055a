//! What to mill, what to cut, what to leave out, and in what order to glue: plain text, made from the very project.

use std::fmt::Write;

use crate::paper::Notes;
use cornerwise_geometry::fit::{Keep, Mirror, Stance, mirror};
use cornerwise_geometry::furniture::tilt_tests;
use cornerwise_geometry::{Cut, Leg, LegError, Units};
use cornerwise_project::{Assembly, BlankLine, Design, Hand, Project};

/// The plan as plain text, in the project's units.
///
/// # Errors
/// [`LegError`] where a design makes no leg, which a checked project's never does.
pub fn plan(project: &Project) -> Result<String, LegError> {
    let made = project.assemble()?;
    let mut out = String::new();
    let mut say = |words: &str| {
        out.push_str(words);
        out.push('\n');
    };
    say(&format!("{}: what to mill, cut and glue", project.name));
    stock(&made, project.units, &mut say);
    for line in made.blank_list() {
        let drawn = line.design.leg()?;
        let (leg, inside) = match line.hand {
            Hand::Drawn => (drawn, line.design.fit.inside),
            Hand::Mirrored => (drawn.mirrored(), line.design.fit.inside.mirrored()),
        };
        let fit = cornerwise_geometry::fit::Fit { inside, ..line.design.fit.clone() };
        one_leg(&line, &leg, &fit, project.units, &mut say);
    }
    standing(&made, project.units, &mut say);
    watch_out(project, &mut say)?;
    Ok(out)
}

/// What to watch out for about each leg, and what its maker has accepted: the words of its paper.
fn watch_out(project: &Project, say: &mut impl FnMut(&str)) -> Result<(), LegError> {
    for design in &project.designs {
        let notes = Notes::of(project, design, &design.leg()?);
        if notes.open.is_empty() && notes.accepted.is_empty() {
            continue;
        }
        say(&format!("\nWatch out, leg {}", design.letter));
        for words in notes.open.iter().chain(&notes.accepted) {
            say(&format!("  {words}"));
        }
    }
    Ok(())
}

fn stock(made: &Assembly, units: Units, say: &mut impl FnMut(&str)) {
    let mm = |mm: f64| units.show_with_unit(mm);
    say("\nStock, rough");
    for BlankLine { design, hand, count, rough_mm: [long, wide, deep], board_feet, weight_kg } in made.blank_list() {
        say(&format!(
            "  Leg {}: make {count}, each blank {} by {}, {} long ({board_feet:.2} board feet, {weight_kg:.1} kg)",
            hand.label(design.letter),
            mm(wide),
            mm(deep),
            mm(long)
        ));
    }
    let boards = made.board_list();
    if !boards.is_empty() {
        say("\nBoards, finished");
        for line in boards {
            let [long, wide, thick] = line.size_mm;
            let (count, name) = (line.count, line.kind.name());
            say(&format!("  {count} x {name}, {} by {}, {} thick", mm(long), mm(wide), mm(thick)));
        }
    }
    // Common practice, no source, but for the last: the planed faces become the glue faces, by geometry.
    say("\nMilling");
    for words in [
        "Rough the blanks out, let them rest for a day or more, then mill them again: straight, without twist.",
        "Opposite faces parallel matters most: the planed faces become the glue faces.",
        "Measure the milled blank and type in what it is. Squaring a laminated blank again changes its width, and with it \
         how its pattern carries on over the seams.",
        "Avoid stock with the pith: it comes to the outside.",
    ] {
        say(&format!("  {words}"));
    }
}

fn one_leg(line: &BlankLine, leg: &Leg, fit: &cornerwise_geometry::fit::Fit, units: Units, say: &mut impl FnMut(&str)) {
    let mm = |mm: f64| units.show_with_unit(mm);
    let design: &Design = &line.design;
    let label = line.hand.label(design.letter);
    say(&format!("\nLeg {label}: {}", design.name));
    say(&format!("  {} is inside: {}.", capital(&fit.inside.to_string()), Stance::of(leg, fit.inside).name()));
    say(&match mirror(leg, fit.inside) {
        Mirror::Itself => "  It is its own mirror: left and right are the same leg.".to_owned(),
        Mirror::WithInside(piece) => {
            format!("  Its mirror is the same leg with {piece} inside: one template makes both.")
        }
        Mirror::OtherHand => {
            "  Left and right differ: the other hand needs a template and a label of its own.".to_owned()
        }
    });
    if let Some(pipe) = &fit.pipe {
        let told = pipe.fit(leg);
        say(&format!(
            "  Pipe hole: before sawing, chamfer all four arrises at 45 degrees, {} along each face; the chamfer's own face \
             is {} wide, and easier to measure. Lay out the lines first, or use one strip for each face: a chamfered blank \
             has lost its arrises.",
            mm(told.chamfer_leg_mm),
            mm(told.chamfer_face_mm)
        ));
        say(&format!(
            "  The pipe is {} long. The least wood beside the hole is {}, at {}, {} from the top. Keep glue shy of the \
             chamfers, or the pipe will not pass.",
            mm(told.pipe_length_mm),
            mm(told.thinnest.mm),
            told.thinnest.side,
            mm(told.thinnest.s_mm)
        ));
        if pipe.recess.mm() > 0.0 {
            let recess = mm(pipe.recess.mm());
            say(&format!("  Bore a recess {recess} deep for the nut at the foot, and a way out for the cord."));
        }
        say("  Wiring, earthing and strain relief follow the local electrical code and a licensed electrician.");
    }
    if !fit.notches.is_empty() {
        crosscut(leg, fit, &label, units, say);
    }
    glue_up(leg, fit, &label, units, say);
}

fn crosscut(leg: &Leg, fit: &cornerwise_geometry::fit::Fit, label: &str, units: Units, say: &mut impl FnMut(&str)) {
    let mm = |mm: f64| units.show_with_unit(mm);
    let list = fit.crosscut(leg);
    say(&format!(
        "  Crosscut {label}{}, an original flat face down and the other against the fence, never a sawn face on the table. \
         Measure every mark from the finished top:",
        fit.inside.number()
    ));
    for mark in &list.marks {
        let side = match mark.keep {
            Keep::TowardTop => "keep the wood toward the top, blade on the foot's side",
            Keep::TowardFoot => "keep the wood toward the foot, blade on the top's side",
        };
        say(&format!("    {}: {side}", mm(mark.from_top_mm)));
    }
    for part in &list.parts {
        let [from, to] = part.span_mm;
        let what = if part.kept { "keep" } else { "throw away" };
        say(&format!("    part {}: {what}, {} to {} ({} long)", part.number, mm(from), mm(to), mm(to - from)));
    }
    for (place, notch) in fit.notches.iter().enumerate() {
        if let Some(there) = fit.notch_fit(leg, place) {
            let [u, v] = there.bearing.reach_mm;
            say(&format!(
                "    notch {}: waxed spacer {} long; the {} stands on {} by {}, its corner square on the axis; {:.0} mm² of \
                 wood left beside it",
                place + 1,
                mm(notch.height_mm()),
                notch.takes.name(),
                mm(u),
                mm(v),
                there.weakest.area_mm2
            ));
        }
    }
}

fn glue_up(leg: &Leg, fit: &cornerwise_geometry::fit::Fit, label: &str, units: Units, say: &mut impl FnMut(&str)) {
    let mm = |mm: f64| units.show_with_unit(mm);
    say("  Glue-up:");
    let mut number = 0;
    let mut step = |words: &str| {
        number += 1;
        say(&format!("    {number}. {words}"));
    };
    step("Between the cuts, tape the halves together clear of the second line, ends flush.");
    step(&format!("Number the pieces {label}1 to {label}4 before the paper is peeled off."));
    step("Dry fit with rubber bands; every glue line must close by hand.");
    // Halves first, so that each is glued flat on the bench; with the inside piece in lengths, its half needs spacers.
    let number_of = |piece: cornerwise_geometry::Piece| piece.number();
    let [one, two, three, four] = cornerwise_geometry::Piece::ALL.map(number_of);
    let spacers = if fit.notches.is_empty() { String::new() } else { ", waxed spacers in every notch".to_owned() };
    step(&format!(
        "Glue {label}{one} to {label}{two}, and {label}{three} to {label}{four}, each flat on the bench{spacers}."
    ));
    step("Take the spacers out before the glue is hard, clean the backs flat, and allow for what that takes.");
    step(&format!("Glue the two halves together{spacers}."));
    let slope = |cut: Cut| {
        let steepest = leg.uniform_stations(201).into_iter().map(|s| match cut {
            Cut::First => leg.station(s).a_slope.abs(),
            Cut::Second => leg.station(s).b_slope.abs(),
        });
        steepest.fold(0.0, f64::max)
    };
    // A clamp jaw slides on a side that leans more than wood's friction, about 1 in 5. Common practice, no source.
    for (cut, sides) in [(Cut::First, "2 and 4"), (Cut::Second, "1 and 3")] {
        if slope(cut) > 0.2 {
            step(&format!(
                "Sides {sides} lean up to {:.0} degrees from the axis: clamp them with cauls sawn to the same curve, one board \
                 gives both.",
                slope(cut).atan().to_degrees()
            ));
        } else {
            step(&format!("Sides {sides} are near parallel all along, and clamps hold on them."));
        }
    }
    // Seams 1 and 3 lie between pieces across u, on walls as deep as b and D - b; together D. The same for 2 and 4.
    let area = [leg.depth_mm * leg.length_mm, leg.width_mm * leg.length_mm].map(|mm2| mm2 / 100.0);
    step(&format!(
        "Glue area: {:.0} cm² where the halves are made of pieces side by side, {:.0} cm² where the two halves meet. Spread \
         170 to 250 g for each m² (woodworkingnetwork.com, preparing solid wood joints), small even squeeze-out.",
        area[0], area[1]
    ));
    step(
        "Pressure: softwood 100 to 150 psi, hardwood 175 to 250 psi (a glue maker's clamp guidance, second hand). White glue \
         stays clamped for 30 to 60 minutes and bears nothing for a day (common practice); the glue's own label comes first.",
    );
    step(
        "To keep parts from sliding, rub coarse grit over the wet glue (common practice): it will nick plane irons afterwards. \
         Small brads, nipped short, do the same.",
    );
    step(&format!(
        "Trim {} at the top and {} at the foot, and level the feet to the floor.",
        mm(leg.spare_top_mm),
        mm(leg.spare_foot_mm)
    ));
    step("Sand across the seams only after assembly; never round a glue face.");
}

fn standing(made: &Assembly, units: Units, say: &mut impl FnMut(&str)) {
    let mm = |mm: f64| units.show_with_unit(mm);
    let (kg, centre) = made.weight();
    let Some(stands) = made.stability() else { return };
    say("\nStanding (comparison, not compliance)");
    let mut words = String::new();
    let _ = write!(
        words,
        "  {kg:.1} kg, {} high, centre of mass {} above the floor; it falls over when tilted {:.1} degrees.",
        mm(made.height_mm()),
        mm(centre[2]),
        stands.tilt_deg
    );
    say(&words);
    for test in tilt_tests() {
        say(&format!("  Beside: {}, {:.0} degrees.", test.name, test.deg));
    }
    let top = made.boards.iter().find(|board| board.kind == cornerwise_geometry::furniture::BoardKind::Top);
    if let Some(top) = top {
        for (i, edge) in stands.tipping_edges(&top.solid.upper).into_iter().enumerate() {
            say(&match edge.load_share {
                Some(share) => format!("  Edge {} of the top: {:.0} kg at its middle tip it.", i + 1, share * kg),
                None => format!("  Edge {} of the top: within the feet, no load there tips it.", i + 1),
            });
        }
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first: String = letters.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
    first + letters.as_str()
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::fit::Notch;
    use cornerwise_geometry::furniture::Arrangement;
    use cornerwise_project::{DesignId, Edit, FitPart, FurniturePart, Standing};

    #[test]
    fn the_plan_is_of_this_very_design() {
        let edits = [
            Edit::SetFit { design: DesignId(1), part: FitPart::AddNotch(Notch::shelf(400.0, 18.0, 0.5)) },
            Edit::SetFurniture {
                part: FurniturePart::Arrangement(Arrangement::Rectangle { width: 600.0.into(), depth: 400.0.into() }),
            },
            Edit::SetFurniture {
                part: FurniturePart::Leg {
                    place: 1,
                    standing: Standing { hand: Hand::Mirrored, ..Standing::default() },
                },
            },
        ];
        let project = edits.iter().fold(Project::new(), |project, edit| project.apply(edit).unwrap());
        let text = plan(&project).unwrap();
        for words in [
            "Leg A: make 3, each blank 56 mm by 56 mm, 765 mm long",
            "Leg A mirrored: make 1",
            "1 x shelf, 600 mm by 400 mm, 18 mm thick",
            "400 mm: keep the wood toward the top",
            "418.5 mm: keep the wood toward the foot",
            "part 2: throw away, 400 mm to 418.5 mm (18.5 mm long)",
            "It is its own mirror",
            "waxed spacer 18.5 mm long",
            "comparison, not compliance",
        ] {
            assert!(text.contains(words), "{words}: {text}");
        }
        assert!(!text.contains("Pipe hole"));
    }
}
