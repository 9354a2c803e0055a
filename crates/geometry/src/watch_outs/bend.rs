//! Bends against the blade that is fitted.

use super::{Concern, Limit, WatchOut, Worst, found};
use crate::{Bend, Cut, Survey, Units};

pub(super) fn check(survey: &Survey, units: Units) -> Option<WatchOut> {
    let blade = &survey.saw()?.blade;
    let derived = blade.least_radius_mm();
    let [least, most] = blade.least_radii_mm();
    let tightest = |cut: Cut| survey.bends(cut).iter().min_by(|a, b| a.radius_mm.total_cmp(&b.radius_mm)).copied();
    let (cut, bend): (Cut, Bend) = Cut::ALL
        .into_iter()
        .filter_map(|cut| tightest(cut).map(|bend| (cut, bend)))
        .min_by(|a, b| a.1.radius_mm.total_cmp(&b.1.radius_mm))?;
    let tight: usize =
        Cut::ALL.iter().map(|cut| survey.bends(*cut).iter().filter(|bend| bend.radius_mm < most).count()).sum();
    let more = match tight.saturating_sub(1) {
        0 => String::new(),
        1 => ", and one more bend is too tight".to_owned(),
        more => format!(", and {more} more bends are too tight"),
    };
    let published = match &blade.published_radius {
        Some([from, to]) if from.mm() == to.mm() => format!("published {}, ", units.show_with_unit(from.mm())),
        Some([from, to]) => format!("published {} to {}, ", units.show(from.mm()), units.show_with_unit(to.mm())),
        None => String::new(),
    };
    let verdict = format!(
        "The {cut} bends to a radius of {}{more}. A blade {} wide goes round {published}derived {}. The widest that goes \
         round this one is {}.",
        units.show_with_unit(bend.radius_mm),
        units.show_with_unit(blade.width.mm()),
        units.show_with_unit(derived),
        units.show_with_unit(blade.widest_for_mm(bend.radius_mm)),
    );
    let mut stretches_mm: Vec<[f64; 2]> = Cut::ALL
        .iter()
        .flat_map(|cut| survey.bends(*cut))
        .filter(|bend| bend.radius_mm < most)
        .map(|bend| [bend.s_mm; 2])
        .collect();
    stretches_mm.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let worst = Worst { stretches_mm, ..Worst::at(bend.s_mm, bend.radius_mm) };
    found(Concern::Bend, worst, Limit { look: most, watch: least }, Some(cut), verdict)
}
