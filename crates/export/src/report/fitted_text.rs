//! What the report in words says of the fit of a leg, and of furniture.

use super::text::{line, quantity};
use super::{FitReport, FurnitureReport};
use cornerwise_geometry::Units;

/// The fit of one leg.
pub(super) fn fit(out: &mut String, units: Units, fit: &FitReport) {
    let mm = |mm: f64| units.show_with_unit(mm);
    quantity(out, "Inside piece", &format!("{}: {}", fit.inside_piece, fit.stance));
    if let Some(pipe) = &fit.pipe {
        let chamfer = (mm(pipe.chamfer_leg_mm), mm(pipe.chamfer_face_mm));
        quantity(
            out,
            "Pipe hole",
            &format!(
                "{} wide, chamfers of {} along each face, their own face {}",
                mm(pipe.hole_mm),
                chamfer.0,
                chamfer.1
            ),
        );
        let thinnest = (mm(pipe.thinnest_mm), pipe.thinnest_side, mm(pipe.thinnest_at_mm));
        let words = format!("least wood {} at side {}, {} from the top", thinnest.0, thinnest.1, thinnest.2);
        quantity(out, "", &format!("{words}; pipe {} long", mm(pipe.pipe_length_mm)));
    }
    for (i, notch) in fit.notches.iter().enumerate() {
        let [from, to] = notch.from_to_mm.map(mm);
        let [u, v] = notch.bearing_mm.map(mm);
        let words = format!("{}, {from} to {to}: {} of {}", i + 1, notch.takes, mm(notch.board_mm));
        let left = notch.left_mm2 / 100.0;
        quantity(
            out,
            if i == 0 { "Notches" } else { "" },
            &format!("{words} stands on {u} by {v}; {left:.1} cm² of wood left"),
        );
    }
    let [first, second, together] = fit.glue_mm2.map(|mm2| mm2 / 100.0);
    let words = format!("{first:.0} and {second:.0} cm² in the halves, {together:.0} cm² between them");
    quantity(out, "Glue", &words);
    if fit.post_mm[0] > 0.0 {
        quantity(out, "Post", &format!("straight for {}, strays {}", mm(fit.post_mm[0]), mm(fit.post_mm[1])));
    }
    for found in &fit.watch_outs {
        quantity(out, "Watch out", &found.what);
        quantity(out, "", &found.fix);
    }
}

/// The furniture of a project.
pub(super) fn furniture(out: &mut String, units: Units, furniture: &FurnitureReport) {
    let mm = |mm: f64| units.show_with_unit(mm);
    line(out, "Furniture");
    for (i, leg) in furniture.legs.iter().enumerate() {
        let [u, v] = leg.axis_mm.map(mm);
        let hand = if leg.mirrored { " mirrored" } else { "" };
        let words = format!("{}: leg {}{hand}, piece {} inside, axis at {u}, {v}", i + 1, leg.letter, leg.inside_piece);
        quantity(out, if i == 0 { "Places" } else { "" }, &words);
    }
    for (i, board) in furniture.boards.iter().enumerate() {
        let ([long, wide, thick], [low, high]) = (board.size_mm.map(mm), board.height_mm.map(mm));
        let words = format!("{}, {long} by {wide}, {thick} thick, {low} to {high} above the floor", board.kind);
        quantity(out, if i == 0 { "Boards" } else { "" }, &words);
    }
    for (i, blank) in furniture.blanks.iter().enumerate() {
        let ([long, wide, deep], hand) = (blank.rough_mm.map(mm), if blank.mirrored { " mirrored" } else { "" });
        let (feet, kg) = (blank.board_feet, blank.weight_kg);
        let words = format!("{} for leg {}{hand}, {wide} by {deep}, {long} long", blank.count, blank.letter);
        quantity(out, if i == 0 { "Blanks" } else { "" }, &format!("{words} ({feet:.2} board feet, {kg:.1} kg each)"));
    }
    if let Some(list) = &furniture.cut_list {
        let [long, wide, thick] = list.board_mm.map(mm);
        quantity(out, "Boards to buy", &format!("{} of {wide} by {thick}, {long} long", list.boards));
        for offcut in &list.offcuts {
            let [long, wide, thick] = offcut.size_mm.map(mm);
            quantity(out, "", &format!("offcut, {}: {wide} by {thick}, {long} long", offcut.name));
        }
    }
    if let Some([across_u, across_v]) = furniture.mirrored_across {
        let words = match (across_u, across_v) {
            (true, true) => "left and right, front and back mirror one another",
            (true, false) => "left and right mirror one another",
            (false, true) => "front and back mirror one another",
            (false, false) => "they do not mirror one another",
        };
        quantity(out, "Hands", words);
    }
    quantity(out, "Weighs", &format!("{:.1} kg, {} high", furniture.weight_kg, mm(furniture.height_mm)));
    if let Some(standing) = &furniture.standing {
        quantity(out, "Stands", &format!("falls over when tilted {:.1} degrees (comparison)", standing.tilt_deg));
        for (i, kg) in standing.tips_kg.iter().enumerate() {
            let words =
                kg.map_or_else(|| "nothing there tips it".to_owned(), |kg| format!("{kg:.0} kg at its middle tip it"));
            quantity(out, "", &format!("edge {} of the top: {words}", i + 1));
        }
    }
    for found in &furniture.watch_outs {
        quantity(out, "Watch out", &found.what);
        quantity(out, "", &found.fix);
    }
}
