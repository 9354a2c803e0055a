//! Timber: its rings, and the end of the blank with the pith in it or beside it, to be dragged.

use cornerwise_geometry::{Face, Length};
use cornerwise_project::{Edit, WoodPart};
use cornerwise_wood::{Sawn, Timber, Wood};
use egui::{Align2, Color32, Id, Pos2, Rect, RichText, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use super::{ask, end_grain, part_allowed, species_choice};
use crate::scene::{Ask, Scene};
use crate::tokens::{self, Tokens};
use crate::views::head::{ROOM, allowed, field, row};
use crate::views::hold::{self, Moved};

/// How large the end view is, points.
const END_PX: f32 = 150.0;
/// The least that the end view shows beyond the blank, as a share of its size.
const BESIDE: f64 = 0.3;

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, timber: &Timber, asks: &mut Vec<Ask>) {
    if let Some(species) = species_choice(ui, scene, "timber", timber.species, 146.0) {
        ask(scene, asks, WoodPart::Species(species));
    }
    row(ui, |ui| {
        let pith = |x: &Length, y: &Length| WoodPart::Pith { x: x.clone(), y: y.clone() };
        let (x, y) = (&timber.pith_x, &timber.pith_y);
        let reading = scene.reading();
        let new_x =
            field(scene, "Pith across", "timber", 3).length(ui, x, reading, |x| part_allowed(scene, pith(x, y)));
        let new_y = field(scene, "Pith deep", "timber", 3).length(ui, y, reading, |y| part_allowed(scene, pith(x, y)));
        let rings = field(scene, "Ring width", "timber", 3)
            .length(ui, &timber.ring_width, reading, |width| part_allowed(scene, WoodPart::RingWidth(width.clone())));
        if let Some(x) = new_x {
            ask(scene, asks, pith(&x, y));
        }
        if let Some(y) = new_y {
            ask(scene, asks, pith(x, &y));
        }
        if let Some(width) = rings {
            ask(scene, asks, WoodPart::RingWidth(width));
        }
    });
    end_view(ui, scene, timber, asks);
    shares(ui, scene, timber, asks);
}

/// What makes rings less regular, and where the sapwood begins.
fn shares(ui: &mut Ui, scene: &Scene<'_>, timber: &Timber, asks: &mut Vec<Ask>) {
    type Put = fn(&Timber, f64) -> Timber;
    let rows: [[(&str, f64, Put); 3]; 2] = [
        [
            ("Variation", timber.variation, |t, v| Timber { variation: v, ..t.clone() }),
            ("Wobble", timber.wobble, |t, v| Timber { wobble: v, ..t.clone() }),
            ("Taper", timber.taper, |t, v| Timber { taper: v, ..t.clone() }),
        ],
        [
            ("Lean across", timber.lean_x, |t, v| Timber { lean_x: v, ..t.clone() }),
            ("Lean deep", timber.lean_y, |t, v| Timber { lean_y: v, ..t.clone() }),
            ("Late wood", timber.late_share.unwrap_or(0.0), |t, v| Timber {
                late_share: (v > 0.0).then_some(v),
                ..t.clone()
            }),
        ],
    ];
    let edit = |timber: Timber| Edit::SetWood { design: scene.design.id, wood: Wood::Timber(timber) };
    for fields in rows {
        row(ui, |ui| {
            for (caption, value, put) in fields {
                let check = |v| {
                    let refused = allowed(scene, &edit(put(timber, v)));
                    // 0 is no share of late wood, and yet may be typed.
                    refused.map_err(
                        |why| if caption == "Late wood" { why + ", or 0 to leave it to the wood" } else { why },
                    )
                };
                if let Some(v) = field(scene, caption, "timber", 3).number(ui, value, "", check) {
                    asks.push(Ask::Edit(edit(put(timber, v))));
                }
            }
        });
    }
    row(ui, |ui| {
        let has = timber.sapwood_from.is_some();
        let mut wanted = has;
        ui.checkbox(&mut wanted, "Sapwood").on_hover_text("Lighter wood beyond a distance from the pith");
        if wanted != has {
            let from = wanted.then(|| Length::from_mm(farthest(scene, timber).round()));
            asks.push(Ask::Edit(edit(Timber { sapwood_from: from, ..timber.clone() })));
        }
        if let Some(from) = &timber.sapwood_from {
            let with = |mm: &Length| edit(Timber { sapwood_from: Some(mm.clone()), ..timber.clone() });
            let check = |mm: &Length| allowed(scene, &with(mm));
            if let Some(mm) = field(scene, "From the pith", "timber", 3).length(ui, from, scene.reading(), check) {
                asks.push(Ask::Edit(with(&mm)));
            }
        }
    });
}

/// A distance from the pith at which the sapwood takes the outer quarter of the blank.
fn farthest(scene: &Scene<'_>, timber: &Timber) -> f64 {
    let [w, d] = [scene.leg.width_mm, scene.leg.depth_mm];
    let corners = [[0.0, 0.0], [w, 0.0], [w, d], [0.0, d]];
    let out = corners.map(|[x, y]| (x - timber.pith_x.mm()).hypot(y - timber.pith_y.mm()));
    let (least, most) = out.iter().fold((f64::INFINITY, 0.0_f64), |(a, b), mm| (a.min(*mm), b.max(*mm)));
    (least + 0.75 * (most - least)).max(1.0)
}

/// The top end of the blank as it is seen from the top, face 1 up, in its own end grain, with the pith.
fn end_view(ui: &mut Ui, scene: &Scene<'_>, timber: &Timber, asks: &mut Vec<Ask>) {
    let (rect, ground) = ui.allocate_exact_size(vec2(ROOM, END_PX), Sense::hover());
    ground.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "top end of the blank"));
    let t = Tokens::here(ui);
    let [w, d] = [scene.leg.width_mm, scene.leg.depth_mm];
    let pith_mm = [timber.pith_x.mm(), timber.pith_y.mm()];
    let id = Id::unique(("pith", scene.design.id.0));
    // How much is shown stays as it is while the pith is in hand.
    let held = hold::held(ui, id);
    let shown_mm = held.map_or_else(
        || {
            let beyond = |at: f64, size: f64| (at - 0.5 * size).abs() * 2.0 + 0.45 * size;
            let fits = (1.0 + BESIDE) * d.max(w * f64::from(END_PX / ROOM));
            // A far pith is shown at the edge: the blank must not shrink to a dot.
            fits.max(beyond(pith_mm[1], d).min(3.5 * d))
        },
        |held| held.kept,
    );
    let px_per_mm = f64::from(END_PX) / shown_mm.max(1e-6);
    // Looking along the leg with face 1 up, x runs to the right and y down.
    let middle = rect.center();
    let at = |x: f64, y: f64| middle + vec2(((x - 0.5 * w) * px_per_mm) as f32, ((y - 0.5 * d) * px_per_mm) as f32);
    let mm = |at: Pos2| {
        let by = at - middle;
        [0.5 * w + f64::from(by.x) / px_per_mm, 0.5 * d + f64::from(by.y) / px_per_mm]
    };
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 4.0, t.sheet);
    let blank = Rect::from_two_pos(at(0.0, 0.0), at(w, d));
    // Beyond the blank the tree's rings are drawn, so that a pith outside it is seen to be the middle of something.
    let pith = at(pith_mm[0], pith_mm[1]);
    ring_lines(&painter, timber, pith, rect, px_per_mm, t.hair);
    if let Some(texture) = end_grain::painted(ui, scene, px_per_mm) {
        let whole = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
        painter.image(texture.id(), blank, whole, Color32::WHITE);
    }
    // End grain is dark, and its late wood hardly darker where a ring is a pixel or two: the lines tell how it lies.
    let [r, g, b] = timber.species.late_colour().map(|v| v / 2);
    let line = Color32::from_rgb(r, g, b).gamma_multiply(0.6);
    ring_lines(&painter.with_clip_rect(blank.intersect(rect)), timber, pith, blank, px_per_mm, line);
    painter.rect_stroke(blank, 0.0, Stroke::new(1.2, t.ink), StrokeKind::Outside);
    // The pith, or where it lies beyond the picture.
    let true_place = at(pith_mm[0], pith_mm[1]);
    let place = seen_from_middle(rect.shrink(9.0), true_place);
    let response = ui.interact(Rect::from_center_size(place, vec2(22.0, 22.0)), id.with("grip"), Sense::drag());
    response.widget_info(|| WidgetInfo::labeled(Role::GraphicsObject, true, "pith"));
    let put = |at: Pos2| {
        let tenth = |mm: f64| Length::from_mm((mm * 10.0).round() / 10.0);
        let [x, y] = mm(at).map(tenth);
        Ask::Drag(Edit::SetWoodPart { design: scene.design.id, part: WoodPart::Pith { x, y } })
    };
    // From where it truly lies: one that is farther out must not jump to the edge.
    match hold::drag(ui, &response, id, true_place, shown_mm) {
        Some(Moved::To(at)) => asks.push(put(at)),
        Some(Moved::LetGo(at)) => asks.extend([put(at), Ask::DragEnds { keep: true }]),
        Some(Moved::Dropped) => asks.push(Ask::DragEnds { keep: false }),
        None => {}
    }
    let lit = response.hovered() || response.dragged();
    painter.circle(place, if lit { 7.0 } else { 5.5 }, t.sheet, Stroke::new(2.0, t.ink));
    painter.circle_filled(place, 2.0, t.ink);
    let words = if place == true_place { "pith" } else { "pith, farther out that way" };
    // In a corner where they cover neither the pith nor the blank.
    let wide = painter.layout_no_wrap(words.to_owned(), tokens::small(), t.soft).size() + vec2(6.0, 0.0);
    let inside = rect.shrink2(vec2(4.0, 3.0));
    let corners = [Align2::LEFT_TOP, Align2::RIGHT_TOP, Align2::LEFT_BOTTOM, Align2::RIGHT_BOTTOM];
    let grip = Rect::from_center_size(place, vec2(18.0, 18.0));
    let covers = |corner: &Align2| {
        let words = corner.align_size_within_rect(wide, inside);
        (words.intersects(grip), words.intersects(blank))
    };
    if let Some(corner) = corners.into_iter().min_by_key(covers) {
        let at = corner.pos_in_rect(&inside);
        let told = crate::paint::label(&painter, t, at, corner, words, tokens::small(), t.soft);
        let id = id.with("words");
        // Its grip is called the pith already.
        let name = if place == true_place { "the pith, in sight" } else { words };
        ui.interact(told, id, Sense::hover()).widget_info(|| WidgetInfo::labeled(Role::Label, true, name));
    }
    response.on_hover_text("Drag the pith: where the middle of the tree lies at the top end");
    let limits = scene.project.wood_limits.sawn_deg();
    let sawn = [Face::One, Face::Two, Face::Three, Face::Four].map(|face| {
        let deg = timber.ring_angle_deg(face, [w, d], 0.0);
        format!("{} {}", face.number(), Sawn::of(deg, limits).name())
    });
    let told = format!("Sawn, by face: {}", sawn.join(", "));
    ui.label(RichText::new(told).font(tokens::small()).color(t.soft)).on_hover_text(format!(
        "By the angle of the rings to the face at its middle: flat to {}°, quarter from {}°. Both can be set under \
             Limits, beside the seams",
        limits[0], limits[1]
    ));
}

/// Where a place is seen in a view: there, or, where it lies beyond, where the line to it from the view's middle leaves.
fn seen_from_middle(view: Rect, place: Pos2) -> Pos2 {
    let (middle, by) = (view.center(), place - view.center());
    let half = 0.5 * view.size();
    let share = (half.x / by.x.abs()).min(half.y / by.y.abs());
    if share < 1.0 { middle + by * share } else { place }
}

/// The lines between the rings where they lie at the top end, as many as can be told apart.
fn ring_lines(painter: &egui::Painter, timber: &Timber, pith: Pos2, over: Rect, px_per_mm: f64, colour: Color32) {
    let corners = [over.left_top(), over.right_top(), over.right_bottom(), over.left_bottom()];
    let most = corners.iter().map(|corner| corner.distance(pith)).fold(0.0, f32::max);
    let within = [over.distance_to_pos(pith), most].map(|px| f64::from(px) / px_per_mm);
    // Closer than this they would run together.
    let every = (5.0 / (timber.ring_width.mm() * px_per_mm).max(1e-3)).ceil().clamp(1.0, 1e4) as u32;
    for mm in timber.ring_lines_mm(0.0, within, every, 200) {
        painter.circle_stroke(pith, (mm * px_per_mm) as f32, Stroke::new(1.0, colour));
    }
}
