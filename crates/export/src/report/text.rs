//! The report as plain text for the maker, in the project's units.

use super::{BendReport, DesignReport, KnotReport, PlaceReport, RegularityReport, Report, SeamReport};
use super::{WatchOutReport, fitted_text};
use cornerwise_geometry::{Length, MM_PER_INCH, Units};
use cornerwise_project::{Design, Project};
use cornerwise_wood::{Finish, LayerGrain, LayerOrder, Layers, Species, Timber, Wood};
use std::fmt::Write;

/// How many places of a seam are told one by one.
const PLACES_TOLD: usize = 6;

/// How wide the names of the quantities are.
const NAMES: usize = 18;

/// The report as plain text, in the project's units. `report` is [`super::report`] of this project.
pub fn text(project: &Project, report: &Report) -> String {
    let mut out = String::new();
    let title = if report.project.is_empty() { "Project without a name" } else { &report.project };
    line(&mut out, title);
    line(&mut out, &"=".repeat(title.chars().count()));
    for (design, measured) in project.designs.iter().zip(&report.designs) {
        line(&mut out, "");
        leg(&mut out, project.units, design, measured);
    }
    if let Some(furniture) = &report.furniture {
        line(&mut out, "");
        fitted_text::furniture(&mut out, project.units, furniture);
    }
    out
}

fn leg(out: &mut String, units: Units, design: &Design, measured: &DesignReport) {
    let mm = |mm: f64| units.show_with_unit(mm);
    line(out, &format!("Leg {}: {}", measured.letter, measured.name));
    let blank = &design.blank;
    let size = |length| units.show_length(length);
    quantity(out, "Blank", &format!("{} by {}, {} long", size(&blank.width), size(&blank.depth), size(&blank.length)));
    quantity(
        out,
        "",
        &format!("and {} to spare at the top, {} at the foot", size(&blank.spare_top), size(&blank.spare_foot)),
    );
    let finish = if design.finish == Finish::Oiled { ", oiled" } else { "" };
    quantity(out, "Wood", &(wood_in_words(units, &design.wood) + finish));
    if let Some(faces) = &measured.faces_sawn {
        quantity(out, "Sawn", &super::faces_sawn::in_words(faces));
    }
    quantity(out, "Volume", &volume(units, measured.volume_mm3));
    let [u, v, s] = measured.centre_of_mass_mm;
    quantity(out, "Centre of mass", &format!("{} from the top, u {} and v {} off the axis", mm(s), mm(u), mm(v)));
    let [across, deep] = measured.core_mm;
    // A straight column through layers that do not stand is glued up, and its grain is broken at every glue line.
    let core = match &design.wood {
        Wood::Photos(_) => "straight from top to foot, as far as photos of its faces tell",
        Wood::Blocks(_) => "straight from top to foot, across the glue lines",
        Wood::Layers(layers) if layers.lean_deg.abs() < 90.0 => "straight from top to foot, across the glue lines",
        _ => "of unbroken grain from top to foot",
    };
    quantity(out, "Core", &format!("{} by {} {core}", mm(across), mm(deep)));
    let bend = |bend: &BendReport| match (bend.radius_mm, bend.s_mm) {
        (Some(radius), Some(at)) => format!("radius {}, {} from the top", mm(radius), mm(at)),
        _ => "straight".to_owned(),
    };
    quantity(out, "Tightest bend", &format!("first cut: {}", bend(&measured.tightest.first)));
    quantity(out, "", &format!("second cut: {}", bend(&measured.tightest.second)));
    judged(out, units, measured);
    if let Some(fit) = &measured.fit {
        fitted_text::fit(out, units, fit);
    }
    for (i, KnotReport { kind, face, middle_mm: [from_top, _], ends, .. }) in measured.knots.iter().enumerate() {
        let name = if i == 0 { "Knots" } else { "" };
        let place = format!("{} {kind} on face {face}, {} from the top: {ends}", i + 1, mm(*from_top));
        quantity(out, name, &place);
    }
    line(out, "");
    seams(out, units, &measured.seams);
    line(out, "");
    stations(out, units, measured);
}

/// Lumber, load and watch-outs.
fn judged(out: &mut String, units: Units, measured: &DesignReport) {
    let lumber = &measured.lumber;
    quantity(out, "Blank weighs", &format!("{:.2} kg, {:.2} board feet", lumber.blank_kg, lumber.board_feet));
    if let Some(load) = &measured.load {
        quantity(
            out,
            "Bears",
            &format!("{:.0} N down with a push of {:.0} N, by the model", load.bears_n, load.push_n),
        );
        quantity(out, "", load.says);
    }
    if let Some(sawn) = &measured.sawn {
        let (size, small) = (|mm: f64| units.show_with_unit(mm), |mm: f64| units.fine().show_with_unit(mm));
        let share = 100.0 * sawn.lost_mm3 / measured.volume_mm3;
        quantity(out, "As sawn", &format!("kerf {}, {share:.1} % of the wood lost", small(sawn.kerf_mm)));
        let least =
            |of: &dyn Fn(&super::SawnStationReport) -> f64| sawn.stations.iter().map(of).fold(f64::INFINITY, f64::min);
        let (across, deep) = (least(&|at| at.size_mm[0]), least(&|at| at.size_mm[1]));
        quantity(out, "", &format!("at the least {} by {}", size(across), size(deep)));
        let [core_across, core_deep] = sawn.core_mm;
        quantity(out, "", &format!("a core of {} by {}", size(core_across), size(core_deep)));
        let steps = sawn.most_step_mm.map(small).join(", ");
        quantity(out, "", &format!("steps at seams 1 to 4 of up to {steps}"));
        quantity(out, "", &format!("a gap of up to {} between closed halves", small(sawn.most_gap_mm)));
    }
    for one @ WatchOutReport { weight, title, verdict, fixes, accepted, .. } in &measured.watch_outs {
        let mut name = weight.to_string();
        name[..1].make_ascii_uppercase();
        quantity(out, &name, &format!("{title}. {verdict}"));
        quantity(out, "", &place_and_figure(one, units));
        quantity(out, "", &format!("the limit: {}", one.limit_source));
        for fix in fixes {
            quantity(out, "", &format!("clears it: {fix}"));
        }
        if let Some(reason) = accepted {
            quantity(out, "", &format!("accepted: {reason}"));
        }
    }
}

/// Where a watch-out is, and its figure against its limit.
fn place_and_figure(one: &WatchOutReport, units: Units) -> String {
    let concern = one.concern;
    let limit = concern.limit_words(units, one.limit).map(|limit| format!(" against a limit of {limit}"));
    let figure = format!("{}{}", concern.figure(units, one.value), limit.unwrap_or_default());
    if concern.is_of_the_whole_leg() {
        return format!("the whole leg: {figure}");
    }
    let [from, to] = one.from_to_mm;
    let stretch = if to > from {
        format!(", in a stretch from {} to {}", units.show(from), units.show_with_unit(to))
    } else {
        String::new()
    };
    format!("{} from the top{stretch}: {figure}", units.show_with_unit(one.at_mm))
}

fn seams(out: &mut String, units: Units, seams: &[SeamReport]) {
    let share = |share: f64| format!("{:.0} %", 100.0 * share);
    let mut rows = vec![["Seam", "lines meet", "same wood", "pattern carries on"].map(str::to_owned).to_vec()];
    let alike = alike(seams);
    for (numbers, seam) in &alike {
        let mut shares = [seam.lines_meet, seam.same_wood, seam.pattern_carries_on]
            .map(|part| if seam.unknown >= 1.0 { "not known".to_owned() } else { share(part) });
        if seam.lines_unseen >= 1.0 {
            shares[0] = "not seen".to_owned();
        }
        rows.push(std::iter::once(numbers.clone()).chain(shares).collect());
    }
    table(out, &rows);
    for (numbers, seam) in &alike {
        if seam.unknown > 0.0 {
            let words = "not photographed on both faces, and not known there";
            line(out, &format!("  {numbers}: {} of the length {words}", share(seam.unknown)));
        }
        if seam.unknown >= 1.0 {
            continue;
        }
        if seam.lines_unseen > 0.0 {
            let words = "no ring lines that can be made out in the photos; whether lines meet is told of the rest";
            line(out, &format!("  {numbers}: {} of the length has {words}", share(seam.lines_unseen)));
        }
        let looks = &seam.looks;
        let shares = [("good", looks.good), ("doubtful", looks.doubtful), ("bad", looks.bad)];
        let shares = shares.map(|(word, part)| format!("{word} {}", share(part)));
        let worst = match (looks.worst_jump_mm, looks.worst_jump_at_mm) {
            (Some(jump), Some(at)) => {
                let of_ring =
                    looks.worst_jump_of_ring.map(|part| format!(" or {part:.2} of a ring")).unwrap_or_default();
                let (jump, at) = (units.show_with_unit(jump), units.show_with_unit(at));
                format!("; worst jump {jump}{of_ring}, {at} from the top")
            }
            _ => String::new(),
        };
        line(out, &format!("  Seam {numbers} looks {}{worst}", shares.join(", ")));
        if let Some(RegularityReport { in_order, as_ruled }) = seam.regularity {
            let (order, rule) = (share(in_order), share(as_ruled));
            line(out, &format!("  Side {numbers} keeps {order} of the order of the glue-up, {rule} as its rule says"));
        }
        for PlaceReport { from_mm, to_mm, what } in seam.places.iter().take(PLACES_TOLD) {
            let (from, to) = (units.show(*from_mm), units.show_with_unit(*to_mm));
            line(out, &format!("  Seam {numbers}: {from} to {to} from the top, {what}"));
        }
        let told = seam.places.len().min(PLACES_TOLD);
        if seam.places_in_all > told {
            line(out, &format!("  Seam {numbers}: and {} more places", seam.places_in_all - told));
        }
    }
}

/// The seams without those that are the same as an earlier one, each with the numbers of all that are like it.
fn alike(seams: &[SeamReport]) -> Vec<(String, &SeamReport)> {
    let mut found: Vec<(String, &SeamReport)> = Vec::new();
    for seam in seams {
        let same = |other: &SeamReport| SeamReport { seam: seam.seam, ..other.clone() } == *seam;
        match found.iter_mut().find(|(_, other)| same(other)) {
            Some((numbers, _)) => *numbers = format!("{} and {}", numbers.replace(" and ", ", "), seam.seam),
            None => found.push((seam.seam.to_string(), seam)),
        }
    }
    found
}

fn stations(out: &mut String, units: Units, measured: &DesignReport) {
    let unit = match units {
        Units::Millimetres => "mm",
        Units::Inches(_) => "inches",
    };
    line(
        out,
        &format!("  Lengths in {unit}; slopes as offset per length; the edge angle is the smaller one, in degrees."),
    );
    let head = ["From top", "first cut", "second cut", "slope 1", "slope 2", "edge", "thick 1", "thick 2"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for at in &measured.stations {
        let slope = |slope: f64| format!("{slope:+.3}");
        rows.push(vec![
            units.show(at.s_mm),
            units.show(at.a_mm),
            units.show(at.b_mm),
            slope(at.a_slope),
            slope(at.b_slope),
            format!("{:.1}", at.edge_angle_deg),
            units.show(at.thickness_mm[0]),
            units.show(at.thickness_mm[1]),
        ]);
    }
    table(out, &rows);
}

/// Rows of equal length, each column as wide as its widest text, the texts to the right.
fn table(out: &mut String, rows: &[Vec<String>]) {
    let columns = rows.first().map_or(0, Vec::len);
    let width_of = |column: usize| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..columns).map(width_of).collect();
    for row in rows {
        let cells = row.iter().zip(&widths).map(|(cell, width)| format!("{cell:>width$}"));
        line(out, &format!("  {}", cells.collect::<Vec<_>>().join("  ")));
    }
}

fn wood_in_words(units: Units, wood: &Wood) -> String {
    match wood {
        Wood::Timber(Timber { species, ring_width, .. }) => {
            format!("{}, rings about {} wide", species.name(), units.show_length(ring_width))
        }
        Wood::Photos(photos) => {
            let faces: Vec<String> = photos.photos.iter().map(|photo| photo.face.number().to_string()).collect();
            let missing: Vec<String> = photos.missing().into_iter().map(|face| face.number().to_string()).collect();
            let shown = match faces[..] {
                [] => "no face photographed".to_owned(),
                _ if missing.is_empty() => "all four faces photographed".to_owned(),
                _ => format!("photographed on {}, not on {}", faces.join(", "), missing.join(", ")),
            };
            let balanced = if photos.is_balanced() { ", colours balanced" } else { "" };
            let glued = if photos.glued_up { ", a glue-up" } else { "" };
            format!("{}{glued}, {shown}{balanced}; its inside is only a guess", photos.species.name())
        }
        Wood::Layers(Layers { layers, lean_deg, toward_deg, order, grain, .. }) => {
            let list: Vec<String> = layers
                .iter()
                .map(|layer| format!("{} {}", layer.species.name(), units.show_length(&layer.thickness)))
                .collect();
            let direction = match *lean_deg {
                0.0 => "level".to_owned(),
                lean if lean.abs() == 90.0 => format!("standing, square to {toward_deg}° in plan"),
                lean => format!("leaning {lean}° toward {toward_deg}° in plan"),
            };
            let order = match order {
                LayerOrder::Repeated => "repeating",
                LayerOrder::Mirrored => "there and back",
            };
            let grain = match grain {
                LayerGrain::Along => "",
                LayerGrain::Alternating => ", grain along and across by turns",
            };
            format!("layers, {direction}, {order} {}{grain}", list.join(", "))
        }
        Wood::Blocks(blocks) => {
            let list = |lengths: &[Length]| {
                let shown: Vec<String> = lengths.iter().map(|mm| units.show_length(mm)).collect();
                shown.join(", ")
            };
            let woods: Vec<&str> = wood.species().into_iter().map(Species::name).collect();
            format!(
                "blocks of {}, in columns of {} across face 1 and {} across face 2, repeating",
                woods.join(", "),
                list(&blocks.widths),
                list(&blocks.depths)
            )
        }
    }
}

fn volume(units: Units, mm3: f64) -> String {
    match units {
        Units::Millimetres => format!("{:.1} cm³", mm3 / 1000.0),
        Units::Inches(_) => format!("{:.2} cubic inches", mm3 / MM_PER_INCH.powi(3)),
    }
}

pub(super) fn quantity(out: &mut String, name: &str, value: &str) {
    line(out, &format!("  {name:NAMES$}{value}"));
}

pub(super) fn line(out: &mut String, text: &str) {
    // Writing into a String cannot fail.
    let _ = writeln!(out, "{}", text.trim_end());
}
