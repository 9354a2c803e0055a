//! One leg: what is inside, the pipe, the crosscuts, the glue-up.

use super::Section;
use cornerwise_geometry::fit::{Keep, Mirror, Stance, mirror};
use cornerwise_geometry::{Cut, Leg, Piece, Seam, Units};
use cornerwise_project::{Hand, LegLine};

/// A clamp jaw slides on a side that leans more than this, rise per length: wood's friction on wood. Common practice, no
/// source.
const CLAMPS_HOLD_SLOPE: f64 = 0.2;
/// Places along a cut that are looked at for it.
const PLACES: usize = 401;

/// Everything about making one leg.
pub(super) fn sections(line: &LegLine, all: &[LegLine], units: Units) -> Vec<Section> {
    let mut sections = vec![about(line, units)];
    if !line.fit.notches.is_empty() {
        sections.push(crosscut(line, units));
        sections.push(spacers(line, units));
    }
    // A leg of the other hand is glued as the one that is drawn: its pieces lie the other way round, its halves are the same.
    let drawn = all.iter().find(|other| {
        let same = other.design.id == line.design.id && other.fit.notches == line.fit.notches;
        let halves = |line: &LegLine| [Piece::One, Piece::Two].contains(&line.fit.inside);
        same && line.hand == Hand::Mirrored && other.hand == Hand::Drawn && halves(line) == halves(other)
    });
    match drawn {
        Some(drawn) => {
            let mut section = Section::new(format!("Leg {}: glue-up", line.label()));
            section.say(format!(
                "As leg {}, step by step, with {} to {} for {} to {}.",
                drawn.label(),
                name(line, Piece::One),
                name(line, Piece::Four),
                name(drawn, Piece::One),
                name(drawn, Piece::Four)
            ));
            sections.push(section);
        }
        None => sections.push(glue_up(line, units)),
    }
    sections
}

/// The straight post, and mortises and dowels in the sides, which are cut after glue-up.
fn joinery(line: &LegLine, units: Units, section: &mut Section) {
    let mm = |mm: f64| units.show_with_unit(mm);
    let fit = &line.fit;
    if fit.post.mm() > 0.0 {
        section.say(format!(
            "Post: straight for {} from the finished top. Its sides are the first stretch of both passes: saw them straight, \
             along a fence if you like, and go on into the curve without stopping.",
            mm(fit.post.mm())
        ));
    }
    for (i, joint) in fit.joints.iter().enumerate() {
        let there = joint.fit(&line.leg);
        let (from, beside) = (joint.from_top.mm(), joint.beside.mm());
        let middle = if beside.abs() < 0.005 {
            format!("its middle on {}", Seam::ALL[joint.side.index()])
        } else {
            let way = if beside > 0.0 { "right" } else { "left" };
            format!("its middle {} to the {way} of {}, TOP up", mm(beside.abs()), Seam::ALL[joint.side.index()])
        };
        let straddles =
            there.straddles.map_or_else(String::new, |seam| format!(" It straddles {seam}: cut it after glue-up."));
        section.say(format!(
            "Mortise or dowels {} in {}: from {} to {} from the top, {} wide, {middle}, {} deep; {} of wood is left behind it.{straddles}",
            i + 1,
            joint.side,
            mm(from),
            mm(from + joint.height.mm()),
            mm(joint.width.mm()),
            mm(joint.depth.mm()),
            mm(there.behind_mm.max(0.0))
        ));
    }
}

fn about(line: &LegLine, units: Units) -> Section {
    let mm = |mm: f64| units.show_with_unit(mm);
    let (leg, fit) = (&*line.leg, &line.fit);
    let mut section = Section::new(format!("Leg {}: {}", line.label(), line.design.name));
    let many = line.insides().len() > 1;
    for inside in line.insides() {
        let places: Vec<String> =
            line.places.iter().filter(|(_, own)| *own == inside).map(|(place, _)| (place + 1).to_string()).collect();
        let at = if many { format!(" in place {}", places.join(", ")) } else { String::new() };
        section.say(format!("{} is inside{at}: {}.", capital(&inside.to_string()), Stance::of(leg, inside).name()));
    }
    section.say(match mirror(leg, fit.inside) {
        Mirror::Itself => "It is its own mirror: left and right are the same leg.".to_owned(),
        Mirror::WithInside(piece) => {
            format!("Its mirror is the same leg with {piece} inside: one template makes both.")
        }
        Mirror::OtherHand => {
            "Left and right differ: the other hand needs a template and a label of its own.".to_owned()
        }
    });
    joinery(line, units, &mut section);
    let Some(pipe) = &fit.pipe else { return section };
    let told = pipe.fit(leg);
    section.say(format!(
        "Pipe hole: before sawing, chamfer all four arrises at 45 degrees, {} along each face; the chamfer's own face is {} \
         wide, and easier to measure. Lay out the lines first, or use one strip for each face: a chamfered blank has lost its \
         arrises.",
        mm(told.chamfer_leg_mm),
        mm(told.chamfer_face_mm)
    ));
    section.say(format!(
        "The pipe is {} long. The least wood beside the hole is {}, at {}, {} from the top. Keep glue shy of the chamfers, or \
         the pipe will not pass.",
        mm(told.pipe_length_mm),
        mm(told.thinnest.mm),
        told.thinnest.side,
        mm(told.thinnest.s_mm)
    ));
    if pipe.recess.mm() > 0.0 {
        let recess = mm(pipe.recess.mm());
        section.say(format!("Bore a recess {recess} deep for the nut at the foot, and a way out for the cord."));
    }
    section.say("Wiring, earthing and strain relief follow the local electrical code and a licensed electrician.");
    section
}

fn crosscut(line: &LegLine, units: Units) -> Section {
    let mm = |mm: f64| units.show_with_unit(mm);
    let list = line.fit.crosscut(&line.leg);
    let mut section = Section::new(format!("Leg {}: crosscut {}", line.label(), name(line, line.fit.inside)));
    section.say(
        "An original flat face down and the other against the fence, never a sawn face on the table. Measure every mark from \
         the finished top.",
    );
    for mark in &list.marks {
        let side = match mark.keep {
            Keep::TowardTop => "keep the wood toward the top, blade on the foot's side",
            Keep::TowardFoot => "keep the wood toward the foot, blade on the top's side",
        };
        section.say(format!("{}: {side}", mm(mark.from_top_mm)));
    }
    for part in &list.parts {
        let [from, to] = part.span_mm;
        let what = if part.kept { "keep" } else { "throw away" };
        // Spare length is measured with the part it is on.
        let first = if from < 0.0 { "the top end of the blank".to_owned() } else { mm(from) };
        let last = if to > line.leg.length_mm { "its foot end".to_owned() } else { mm(to) };
        section.say(format!("part {}: {what}, {first} to {last} ({} long)", part.number, mm(to - from)));
    }
    for place in &list.too_short_for_two_cuts {
        section.say(format!("Notch {} is no longer than two kerfs: take it out in one wide pass.", place + 1));
    }
    section
}

fn spacers(line: &LegLine, units: Units) -> Section {
    let mm = |mm: f64| units.show_with_unit(mm);
    let mut section = Section::new(format!("Leg {}: spacers and boards", line.label()));
    section.say("Wax the spacers. Each is as long as its notch and no wider than its board's bearing.");
    for (place, notch) in line.fit.notches.iter().enumerate() {
        let Some(there) = line.fit.notch_fit(&line.leg, place) else { continue };
        let [u, v] = there.bearing.reach_mm;
        section.say(format!(
            "notch {}: waxed spacer {} long, {} by {}; the {} of {} stands on {} by {}, its corner square on the axis; {:.1} \
             cm² of wood left beside it",
            place + 1,
            mm(notch.height_mm()),
            mm(u),
            mm(v),
            notch.takes.name(),
            units.show_length(&notch.board),
            mm(u),
            mm(v),
            there.weakest.area_mm2 / 100.0
        ));
    }
    section
}

fn glue_up(line: &LegLine, units: Units) -> Section {
    let mm = |mm: f64| units.show_with_unit(mm);
    let (leg, fit) = (&*line.leg, &line.fit);
    let [one, two, three, four] = Piece::ALL.map(|piece| name(line, piece));
    let mut section = Section::new(format!("Leg {}: glue-up", line.label()));
    section.step("Between the cuts, tape the halves together clear of the second line, ends flush.");
    section.step(format!("Number the pieces {one} to {four} before the paper is peeled off."));
    section.step("Dry fit with rubber bands; every glue line must close by hand.");
    // Halves first, so that each is glued flat on the bench; the half with the inside piece needs spacers where that is in
    // lengths, and so does the joint of the halves.
    let notched = !fit.notches.is_empty();
    let in_first = [Piece::One, Piece::Two].contains(&fit.inside);
    let with = |here: bool| if notched && here { ", waxed spacers in every notch" } else { "" };
    section.step(format!(
        "Glue {one} to {two}{}, and {three} to {four}{}, each half flat on the bench.",
        with(in_first),
        with(!in_first)
    ));
    section.step(if notched {
        "Take the spacers out before the glue is hard. Clean the backs of the halves flat; what that takes off makes the leg \
         thinner, so take little."
    } else {
        "Clean the backs of the halves flat; what that takes off makes the leg thinner, so take little."
    });
    section.step(format!("Glue the two halves together{}.", with(true)));
    for (cut, sides) in [(Cut::First, "2 and 4"), (Cut::Second, "1 and 3")] {
        section.step(clamping(leg, cut, sides, units));
    }
    let areas = fit.glue_areas(leg);
    let cm2 = |mm2: f64| mm2 / 100.0;
    section.step(format!(
        "Glue area: {one} to {two} {:.0} cm², {three} to {four} {:.0} cm², the halves {:.0} cm². Spread 170 to 250 g for each \
         m² (woodworkingnetwork.com, preparing solid wood joints), small even squeeze-out; glue on the day the faces are \
         machined.",
        cm2(areas.halves_mm2[0]),
        cm2(areas.halves_mm2[1]),
        cm2(areas.together_mm2)
    ));
    section.step(
        "Pressure: softwood 100 to 150 psi, hardwood 175 to 250 psi (a glue maker's clamp guidance, second hand). White glue \
         stays clamped for 30 to 60 minutes and bears nothing for a day (common practice); the glue's own label comes first, \
         for open time too.",
    );
    if fit.pipe.is_some() {
        section.step("Keep glue shy of the chamfers, and draw a rag through the hole before the glue is hard.");
    }
    section.step(
        "To keep parts from sliding, rub coarse grit over the wet glue (common practice): it will nick plane irons afterwards. \
         Small brads, nipped short, do the same.",
    );
    section.step(format!(
        "Trim {} at the top and {} at the foot, and level the feet to the floor.",
        mm(leg.spare_top_mm),
        mm(leg.spare_foot_mm)
    ));
    section.step("Sand across the seams only after assembly; never round a glue face.");
    section
}

fn clamping(leg: &Leg, cut: Cut, sides: &str, units: Units) -> String {
    let mm = |mm: f64| units.show_with_unit(mm);
    let steep = steep_places(leg, cut);
    if steep.is_empty() {
        return format!("Sides {sides} are near parallel to the axis all along, and clamps hold on them.");
    }
    let slope = |s: f64| if cut == Cut::First { leg.station(s).a_slope } else { leg.station(s).b_slope };
    let most = leg.uniform_stations(PLACES).into_iter().map(|s| slope(s).abs()).fold(0.0, f64::max);
    let places: Vec<String> = steep.iter().map(|[from, to]| format!("{} to {}", mm(*from), mm(*to))).collect();
    format!(
        "Sides {sides} lean up to {:.0} degrees, most at {} from the top: use cauls sawn to the same curve there, one board \
         gives both. Elsewhere clamps hold.",
        most.atan().to_degrees(),
        places.join(", ")
    )
}

/// Where a cut's sides lean too much for a clamp, from and to, whole mm from the top.
fn steep_places(leg: &Leg, cut: Cut) -> Vec<[f64; 2]> {
    let mut places: Vec<[f64; 2]> = Vec::new();
    let mut open = false;
    for s in leg.uniform_stations(PLACES) {
        let at = leg.station(s);
        let slope = if cut == Cut::First { at.a_slope } else { at.b_slope };
        let steep = slope.abs() > CLAMPS_HOLD_SLOPE;
        match places.last_mut() {
            Some(last) if steep && open => last[1] = s.round(),
            _ if steep => places.push([s.round(), s.round()]),
            _ => {}
        }
        open = steep;
    }
    places
}

fn name(line: &LegLine, piece: Piece) -> String {
    line.hand.piece(line.design.letter, piece.number())
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first: String = letters.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
    first + letters.as_str()
}
