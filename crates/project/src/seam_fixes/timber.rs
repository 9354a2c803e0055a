//! What may be tried with timber: a pith as far from both faces, in closed form; other piths, other rings and another blank
//! by search.

use cornerwise_geometry::{Cut, Length};
use cornerwise_wood::{Timber, Wood};

use super::layers::blank;
use super::tries::Try;
use super::{Amount, Changeable, Step, apart_mm, axis};
use crate::{Design, Edit};

/// How far the pith is moved in search, mm, and in how many steps each way.
const PITH_MM: f64 = 30.0;
const PITH_STEPS: i32 = 30;

pub(super) fn tries(design: &Design, timber: &Timber, cut: Cut, kind: Changeable) -> Vec<Try> {
    let apart = apart_mm(design, cut);
    let deep = axis(cut) == 1;
    let wood = |changed: Timber| Edit::SetWood { design: design.id, wood: Wood::Timber(changed) };
    let pith = if deep { timber.pith_y.mm() } else { timber.pith_x.mm() };
    let lean = if deep { timber.lean_y } else { timber.lean_x };
    let way = if deep { "from face 1" } else { "from arris 1" };
    let moved = |to: f64, straight: bool, sure: bool| {
        let mut changed = timber.clone();
        *(if deep { &mut changed.pith_y } else { &mut changed.pith_x }) = Length::from_mm(to);
        let mut steps = vec![Step { what: format!("pith {way}"), from: Amount::Length(pith), to: Amount::Length(to) }];
        if straight && lean != 0.0 {
            *(if deep { &mut changed.lean_y } else { &mut changed.lean_x }) = 0.0;
            steps.push(Step { what: "lean of the pith".to_owned(), from: Amount::Times(lean), to: Amount::Times(0.0) });
        }
        let tilt = if straight { lean.abs() * design.blank.length.mm() } else { 0.0 };
        let size_mm = (to - pith).abs().max(tilt);
        Try { changes: Changeable::Pith, steps, edit: wood(changed), size_mm, sure }
    };
    match kind {
        Changeable::Pith => {
            let search = (1..=PITH_STEPS)
                .flat_map(|i| [-1.0, 1.0].map(|sign| sign * PITH_MM * f64::from(i) / f64::from(PITH_STEPS)));
            let mut tries: Vec<Try> = search.map(|by| moved(pith + by, false, false)).collect();
            let middle = 0.5 * apart;
            tries.extend([moved(middle, false, true), moved(middle, true, true), in_the_middle(design, timber)]);
            tries
        }
        Changeable::RingWidth => {
            let now = timber.ring_width.mm();
            let factors = (1..=24).flat_map(|i| [1.0 - 0.02 * f64::from(i), 1.0 + 0.02 * f64::from(i)]);
            factors
                .map(|factor| Try {
                    changes: kind,
                    steps: vec![Step {
                        what: "ring width".to_owned(),
                        from: Amount::Length(now),
                        to: Amount::Length(now * factor),
                    }],
                    edit: wood(Timber { ring_width: Length::from_mm(now * factor), ..timber.clone() }),
                    size_mm: apart * (factor - 1.0).abs(),
                    sure: false,
                })
                .collect()
        }
        // The far face as far beyond the pith as the near one lies before it.
        Changeable::BlankWidth if pith > 0.0 => vec![blank(design, cut, 2.0 * pith)],
        _ => Vec::new(),
    }
}

/// The pith along the middle of the blank: there rings meet at all four seams, and hardly turn.
fn in_the_middle(design: &Design, timber: &Timber) -> Try {
    let middle = [&design.blank.width, &design.blank.depth].map(|size| 0.5 * size.mm());
    let was = [&timber.pith_x, &timber.pith_y].map(Length::mm);
    let mut steps: Vec<Step> = ["pith from arris 1", "pith from face 1"]
        .into_iter()
        .zip(was.into_iter().zip(middle))
        .filter(|(_, (from, to))| from != to)
        .map(|(what, (from, to))| Step { what: what.to_owned(), from: Amount::Length(from), to: Amount::Length(to) })
        .collect();
    for (what, lean) in [("lean across", timber.lean_x), ("lean deep", timber.lean_y)] {
        if lean != 0.0 {
            steps.push(Step { what: what.to_owned(), from: Amount::Times(lean), to: Amount::Times(0.0) });
        }
    }
    let [pith_x, pith_y] = middle.map(Length::from_mm);
    let changed = Timber { pith_x, pith_y, lean_x: 0.0, lean_y: 0.0, ..timber.clone() };
    let tilt = timber.lean_x.hypot(timber.lean_y) * design.blank.length.mm();
    Try {
        changes: Changeable::Pith,
        steps,
        edit: Edit::SetWood { design: design.id, wood: Wood::Timber(changed) },
        size_mm: (middle[0] - was[0]).abs().max((middle[1] - was[1]).abs()).max(tilt),
        sure: true,
    }
}
