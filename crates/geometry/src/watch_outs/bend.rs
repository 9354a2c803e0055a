//! Bends against the blade that is fitted.

use super::{AS_BAD, Concern, Limit, WatchOut, Worst, found};
use crate::{Bend, Cut, Survey, Units};

/// The tightest of bends, with its cut: of those that are as tight the one nearest to the top.
pub(super) fn tightest(bends: impl Iterator<Item = (Cut, Bend)>) -> Option<(Cut, Bend)> {
    bends.reduce(|least, one| {
        let [radius, least_radius] = [one.1.radius_mm, least.1.radius_mm];
        let alike = (radius - least_radius).abs() <= AS_BAD * least_radius;
        let first = if alike { one.1.s_mm < least.1.s_mm } else { radius < least_radius };
        if first { one } else { least }
    })
}

pub(super) fn check(survey: &Survey, units: Units) -> Option<WatchOut> {
    let blade = &survey.saw()?.blade;
    let derived = blade.least_radius_mm();
    let [least, most] = blade.least_radii_mm();
    let (cut, bend) =
        tightest(Cut::ALL.into_iter().flat_map(|cut| survey.bends(cut).iter().map(move |bend| (cut, *bend))))?;
    let tight: usize =
        Cut::ALL.iter().map(|cut| survey.bends(*cut).iter().filter(|bend| bend.radius_mm < most).count()).sum();
    let more = match tight.saturating_sub(1) {
        0 => String::new(),
        1 => ", and one more bend is too tight".to_owned(),
        more => format!(", and {more} more bends are too tight"),
    };
    let fine = units.fine();
    let published = match &blade.published_radius {
        Some([from, to]) if from.mm() == to.mm() => format!("published {}, ", units.show_truly(from.mm())),
        Some([from, to]) => format!("published {} to {}, ", units.show_truly(from.mm()), units.show_truly(to.mm())),
        None => String::new(),
    };
    let verdict = format!(
        "The {cut} bends to a radius of {}{more}. A blade {} wide goes round {published}derived {}. The widest that goes \
         round this one is {}.",
        fine.show_with_unit(bend.radius_mm),
        units.show_truly(blade.width.mm()),
        fine.show_with_unit(derived),
        units.show_at_most(blade.widest_for_mm(bend.radius_mm)),
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
