//! What may be tried with layers. Between the faces their normal advances by W times its part across; the pattern carries
//! on where that is a whole number of repeats, and lines already meet where it is a whole number of some layers.

use cornerwise_geometry::{Cut, Length};
use cornerwise_wood::{Layer, Layers, Wood};

use super::tries::{Try, leaves_a_sliver, near};
use super::{Amount, Changeable, Step, apart_mm, axis};
use crate::{BlankSize, Design, Edit};

/// What the two angles are called.
const LEAN: &str = "lean of the layers";
const TOWARD: &str = "direction that the layers lean toward";

pub(super) fn tries(design: &Design, layers: &Layers, cut: Cut, kind: Changeable) -> Vec<Try> {
    let apart = apart_mm(design, cut);
    let across = layers.normal()[axis(cut)].abs();
    let advance = apart * across;
    let list = layers.in_order();
    let repeat = layers.repeat_mm();
    // Whole repeats first; then halves, thirds and so on, which a list of equal parts may do with.
    let units: Vec<f64> = (1..=list.len().min(4)).map(|parts| repeat / parts as f64).collect();
    let wood = |changed: Layers| Edit::SetWood { design: design.id, wood: Wood::Layers(changed) };
    let mut tries = Vec::new();
    match kind {
        Changeable::Thickness if advance > 1e-6 => {
            for unit in &units {
                for k in near(advance / unit, 4) {
                    tries.push(all_scaled(layers, advance / (k * unit), wood));
                }
            }
            for k in near(advance / repeat, 4) {
                let more = advance / k - repeat;
                tries.extend((0..layers.layers.len()).map(|index| one_thicker(layers, index, more, wood)));
            }
        }
        Changeable::Angle => {
            let toward = layers.normal()[axis(cut)] / layers.lean_deg.to_radians().sin();
            let toward = if toward.is_finite() { toward.abs() } else { 1.0 };
            let ks = std::iter::once(0.0)
                .chain(near(advance / repeat, 4))
                .chain(near(2.0 * advance / repeat, 4).into_iter().map(|k| k / 2.0));
            for k in ks {
                let sine = k * repeat / (apart * toward.max(1e-9));
                if sine <= 1.0 {
                    let deg = sine.asin().to_degrees().copysign(layers.lean_deg);
                    tries.push(Try {
                        changes: kind,
                        steps: vec![degrees(LEAN, layers.lean_deg, deg)],
                        edit: wood(Layers { lean_deg: deg, ..layers.clone() }),
                        size_mm: apart * (deg - layers.lean_deg).to_radians().abs(),
                        sure: true,
                    });
                }
            }
            tries.extend(turned(layers, cut, apart, &near(advance / repeat, 4), wood));
        }
        Changeable::Shift => {
            // The faces in the middle of a layer, or at a line; then evenly over a repeat.
            let mut at = 0.0;
            let mut marks = Vec::new();
            for layer in &list {
                marks.extend([at, at + 0.5 * layer.thickness.mm()]);
                at += layer.thickness.mm();
            }
            let closed = marks.into_iter().map(|mark| (-mark, true));
            let even = (0..24).map(|i| (repeat * f64::from(i) / 24.0, false));
            // Where layers stand along the leg, each face lies in one of them from end to end.
            let normal = layers.normal();
            let standing = normal[axis(cut)].abs() > 1.0 - 1e-9;
            let widths: Vec<f64> = list.iter().map(|layer| layer.thickness.mm()).collect();
            for (wanted, sure) in closed.chain(even) {
                if standing && leaves_a_sliver(&widths, wanted, normal[axis(cut)] * apart) {
                    continue;
                }
                let now = layers.shift.mm();
                let by = (wanted - now + 0.5 * repeat).rem_euclid(repeat) - 0.5 * repeat;
                tries.push(Try {
                    changes: kind,
                    steps: vec![Step {
                        what: "shift of the layers".to_owned(),
                        from: Amount::Length(now),
                        to: Amount::Length(now + by),
                    }],
                    edit: wood(Layers { shift: Length::from_mm(now + by), ..layers.clone() }),
                    size_mm: by.abs(),
                    sure,
                });
            }
        }
        Changeable::BlankWidth if across > 1e-6 => {
            for unit in &units {
                tries.extend(near(advance / unit, 4).into_iter().map(|k| blank(design, cut, k * unit / across)));
            }
        }
        _ => {}
    }
    tries
}

/// Both angles at once, so that the layers advance by a whole number of repeats between the faces of both pairs: W sin t cos u
/// is k repeats and D sin t sin u is m.
pub(super) fn both_angles(design: &Design, layers: &Layers) -> Vec<Try> {
    let repeat = layers.repeat_mm();
    let [w, d] = [Cut::Second, Cut::First].map(|cut| apart_mm(design, cut));
    let normal = layers.normal();
    let counts = |apart: f64, part: f64| {
        let counts = std::iter::once(0.0).chain(near(apart * part.abs() / repeat, 3));
        counts.map(|k| k.copysign(part)).collect::<Vec<f64>>()
    };
    let (across, deep) = (counts(w, normal[0]), counts(d, normal[1]));
    let pairs = across.iter().flat_map(|k| deep.iter().map(move |m| [k * repeat / w, m * repeat / d]));
    let leans = pairs.map(|[x, y]| (x.hypot(y), [x, y])).filter(|(sine, _)| *sine > 0.0 && *sine <= 1.0);
    leans
        .map(|(sine, [x, y])| {
            let lean = sine.asin().to_degrees().copysign(layers.lean_deg);
            let back = if layers.lean_deg < 0.0 { 180.0 } else { 0.0 };
            let by = shortest_turn(layers.toward_deg, y.atan2(x).to_degrees() + back);
            let toward = layers.toward_deg + by;
            let sine_now = layers.lean_deg.to_radians().sin().abs();
            let [lean_mm, by_mm] =
                [(lean - layers.lean_deg).to_radians(), sine_now * by.to_radians()].map(|by| w.max(d) * by.abs());
            Try {
                changes: Changeable::Angle,
                steps: vec![degrees(LEAN, layers.lean_deg, lean), degrees(TOWARD, layers.toward_deg, toward)],
                edit: Edit::SetWood {
                    design: design.id,
                    wood: Wood::Layers(Layers { lean_deg: lean, toward_deg: toward, ..layers.clone() }),
                },
                size_mm: lean_mm.max(by_mm),
                sure: true,
            }
        })
        .collect()
}

/// The same lean toward another side: then they advance by `k` repeats, or not at all.
fn turned(layers: &Layers, cut: Cut, apart: f64, ks: &[f64], wood: impl Fn(Layers) -> Edit) -> Vec<Try> {
    let sine = layers.lean_deg.to_radians().sin();
    let repeat = layers.repeat_mm();
    let part = |k: f64| k * repeat / (apart * sine.abs());
    let parts = std::iter::once(0.0).chain(ks.iter().map(|k| part(*k))).filter(|part| *part <= 1.0);
    let to = parts.flat_map(|part| {
        // Across face 1 the cosine of the direction counts, across face 2 its sine: each has it at two directions, and at
        // the opposite ones.
        let angle = if axis(cut) == 0 { part.acos() } else { part.asin() }.to_degrees();
        [angle, -angle, 180.0 - angle, 180.0 + angle]
    });
    to.map(|to| {
        let by = shortest_turn(layers.toward_deg, to);
        let to = layers.toward_deg + by;
        Try {
            changes: Changeable::Angle,
            steps: vec![degrees(TOWARD, layers.toward_deg, to)],
            edit: wood(Layers { toward_deg: to, ..layers.clone() }),
            size_mm: apart * sine.abs() * by.to_radians().abs(),
            sure: true,
        }
    })
    .collect()
}

/// A step from one angle to another.
fn degrees(what: &str, from: f64, to: f64) -> Step {
    Step { what: what.to_owned(), from: Amount::Degrees(from), to: Amount::Degrees(to) }
}

/// By how much one direction turns to another the shorter way, degrees.
fn shortest_turn(from_deg: f64, to_deg: f64) -> f64 {
    (to_deg - from_deg + 180.0).rem_euclid(360.0) - 180.0
}

fn all_scaled(layers: &Layers, factor: f64, wood: impl Fn(Layers) -> Edit) -> Try {
    let scaled = |layer: &Layer| Layer { thickness: Length::from_mm(layer.thickness.mm() * factor), ..layer.clone() };
    let changed: Vec<Layer> = layers.layers.iter().map(scaled).collect();
    let steps = layers.layers.iter().zip(&changed).enumerate().map(|(i, (was, now))| Step {
        what: format!("layer {}", i + 1),
        from: Amount::Length(was.thickness.mm()),
        to: Amount::Length(now.thickness.mm()),
    });
    let thickest = layers.layers.iter().map(|layer| layer.thickness.mm()).fold(0.0, f64::max);
    Try {
        changes: Changeable::Thickness,
        steps: steps.collect(),
        edit: wood(Layers { layers: changed, ..layers.clone() }),
        size_mm: thickest * (factor - 1.0).abs(),
        sure: true,
    }
}

fn one_thicker(layers: &Layers, index: usize, more_mm: f64, wood: impl Fn(Layers) -> Edit) -> Try {
    let mut changed = layers.layers.clone();
    let was = changed[index].thickness.mm();
    changed[index].thickness = Length::from_mm(was + more_mm);
    Try {
        changes: Changeable::Thickness,
        steps: vec![Step {
            what: format!("layer {}", index + 1),
            from: Amount::Length(was),
            to: Amount::Length(was + more_mm),
        }],
        edit: wood(Layers { layers: changed, ..layers.clone() }),
        size_mm: more_mm.abs(),
        sure: true,
    }
}

/// Another width of the blank between the faces of a pair.
pub(super) fn blank(design: &Design, cut: Cut, mm: f64) -> Try {
    let now = apart_mm(design, cut);
    let (size, what) = match cut {
        Cut::First => (BlankSize::Depth, "depth of the blank"),
        Cut::Second => (BlankSize::Width, "width of the blank"),
    };
    Try {
        changes: Changeable::BlankWidth,
        steps: vec![Step { what: what.to_owned(), from: Amount::Length(now), to: Amount::Length(mm) }],
        edit: Edit::SetBlankSize { design: design.id, size, value: Length::from_mm(mm) },
        size_mm: (mm - now).abs(),
        sure: true,
    }
}
