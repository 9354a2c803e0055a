//! What may be tried with blocks: widths that make the blank a whole number of columns, shifts that halve the outer ones,
//! rises of which all columns together climb a whole repeat.

use cornerwise_geometry::{Cut, Length};
use cornerwise_wood::{Blocks, Wood};

use super::layers::blank;
use super::tries::{Try, leaves_a_sliver, near};
use super::{Amount, Changeable, Step, apart_mm, axis};
use crate::{Design, Edit};

pub(super) fn tries(design: &Design, blocks: &Blocks, cut: Cut, kind: Changeable) -> Vec<Try> {
    let apart = apart_mm(design, cut);
    let deep = axis(cut) == 1;
    let way = if deep { "across face 2" } else { "across face 1" };
    let list = if deep { &blocks.depths } else { &blocks.widths };
    let total: f64 = list.iter().map(Length::mm).sum();
    if list.is_empty() || total <= 0.0 {
        return Vec::new();
    }
    let mean = total / list.len() as f64;
    let widest = list.iter().map(Length::mm).fold(0.0, f64::max);
    let shift = if deep { blocks.shift_deep.mm() } else { blocks.shift_across.mm() };
    let wood = |changed: Blocks| Edit::SetWood { design: design.id, wood: Wood::Blocks(changed) };
    let shifted = |mut changed: Blocks, mm: f64| {
        *(if deep { &mut changed.shift_deep } else { &mut changed.shift_across }) = Length::from_mm(mm);
        changed
    };
    let shift_step = |to: f64| Step {
        what: format!("shift of the columns {way}"),
        from: Amount::Length(shift),
        to: Amount::Length(to),
    };
    let mut tries = Vec::new();
    match kind {
        Changeable::Columns => {
            for count in near(apart / mean, 6) {
                let factor = apart / (count * mean);
                let scaled: Vec<Length> = list.iter().map(|mm| Length::from_mm(mm.mm() * factor)).collect();
                let mut changed = blocks.clone();
                *(if deep { &mut changed.depths } else { &mut changed.widths }) = scaled;
                let width = mean * factor;
                let step = Step {
                    what: format!("width of the columns {way}"),
                    from: Amount::Length(mean),
                    to: Amount::Length(width),
                };
                // As they are, beginning at the face, and with a half one at each face.
                for wanted in [shift * factor, 0.0, -0.5 * width] {
                    let mut steps = vec![step.clone()];
                    if (wanted - shift).abs() > 1e-9 {
                        steps.push(shift_step(wanted));
                    }
                    tries.push(Try {
                        changes: kind,
                        steps,
                        edit: wood(shifted(changed.clone(), wanted)),
                        // Of unequal columns the widest changes most.
                        size_mm: (widest * (factor - 1.0)).abs().max((wanted - shift).abs()),
                        sure: true,
                    });
                }
            }
        }
        Changeable::Shift => {
            let mut at = 0.0;
            let mut marks = Vec::new();
            for width in list {
                marks.extend([at, at + 0.5 * width.mm()]);
                at += width.mm();
            }
            let even = (0..24).map(|i| (total * f64::from(i) / 24.0, false));
            let widths: Vec<f64> = list.iter().map(Length::mm).collect();
            for (wanted, sure) in marks.into_iter().map(|mark| (-mark, true)).chain(even) {
                if leaves_a_sliver(&widths, wanted, apart) {
                    continue;
                }
                let by = (wanted - shift + 0.5 * total).rem_euclid(total) - 0.5 * total;
                tries.push(Try {
                    changes: kind,
                    steps: vec![shift_step(shift + by)],
                    edit: wood(shifted(blocks.clone(), shift + by)),
                    size_mm: by.abs(),
                    sure,
                });
            }
        }
        Changeable::Rise => {
            let rise = if deep { blocks.rise_deep.mm() } else { blocks.rise_across.mm() };
            let heights = blocks.columns.iter().map(|c| c.blocks.iter().map(|b| b.height.mm()).sum::<f64>());
            let count = (apart / mean).round().max(1.0);
            for height in heights {
                let now = count * rise / height;
                let whole = near(now.abs(), 4).into_iter().map(|k| k.copysign(now));
                for k in std::iter::once(0.0).chain(whole) {
                    let to = k * height / count;
                    let mut changed = blocks.clone();
                    *(if deep { &mut changed.rise_deep } else { &mut changed.rise_across }) = Length::from_mm(to);
                    tries.push(Try {
                        changes: kind,
                        steps: vec![Step {
                            what: format!("rise of each column {way}"),
                            from: Amount::Length(rise),
                            to: Amount::Length(to),
                        }],
                        edit: wood(changed),
                        size_mm: (to - rise).abs(),
                        sure: true,
                    });
                }
            }
        }
        Changeable::BlankWidth => {
            tries.extend(near(apart / mean, 8).into_iter().map(|count| blank(design, cut, count * mean)));
        }
        _ => {}
    }
    tries
}
