//! Which blade every bend of a leg needs.

use cornerwise_geometry::{Bend, Blade, Cut, SawKind, Survey};

use crate::{Project, blades};

/// A bend, and what goes round it.
#[derive(Clone, Debug, PartialEq)]
pub struct BendNeeds {
    /// The cut that bends.
    pub cut: Cut,
    /// Where and how much.
    pub bend: Bend,
    /// The widest blade of the fitted one's body and kerf that goes round by the derived radius, mm.
    pub widest_mm: f64,
    /// The widest of the maker's own blades and of those of the table that goes round for certain, by what is derived and by all
    /// that is published for it; none where none does.
    pub blade: Option<String>,
    /// Whether the fitted blade goes round for certain.
    pub goes_round: bool,
}

impl Project {
    /// Every bend of a surveyed leg with the blade it needs, the first cut's first, in order from the top. Nothing without a
    /// saw.
    pub fn bend_needs(&self, survey: &Survey) -> Vec<BendNeeds> {
        let Some(saw) = &self.saw else { return Vec::new() };
        let kind = if saw.kind == SawKind::Scroll { SawKind::Scroll } else { SawKind::Band };
        let own = self.blades.iter().filter(|own| own.kind == kind).map(|own| (own.name.clone(), own.blade.clone()));
        let table = blades().iter().filter(|row| row.kind == kind).map(|row| (row.name.clone(), row.blade()));
        let mut offered: Vec<(String, Blade)> = own.chain(table).collect();
        offered.sort_by(|a, b| b.1.width.mm().total_cmp(&a.1.width.mm()));
        let round = |blade: &Blade, bend: &Bend| blade.least_radii_mm()[1] <= bend.radius_mm;
        let needs = |cut: Cut, bend: &Bend| BendNeeds {
            cut,
            bend: *bend,
            widest_mm: saw.blade.widest_for_mm(bend.radius_mm),
            blade: offered.iter().find(|(_, blade)| round(blade, bend)).map(|(name, _)| name.clone()),
            goes_round: round(&saw.blade, bend),
        };
        Cut::ALL
            .into_iter()
            .flat_map(|cut| survey.bends(cut).iter().map(move |bend| (cut, bend)))
            .map(|(cut, bend)| needs(cut, bend))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{OwnBlade, SURVEYED};
    use cornerwise_geometry::{Line, Saw, Shape};
    use std::sync::Arc;

    /// Waves that shorten toward the foot bend ever tighter, and need ever narrower blades.
    #[test]
    fn tighter_bends_need_narrower_blades_and_an_own_one_is_offered_where_it_is_the_widest() {
        let mut project = Project { saw: Some(Saw::default()), ..Project::new() };
        let swelling = Shape::Waves {
            waves: 3,
            swing_top: 6.0.into(),
            swing_foot: 34.0.into(),
            shortening: 0.6,
            aside: 0.0.into(),
        };
        Arc::make_mut(&mut project.designs[0]).first = Line::Shape(swelling);
        let design = Arc::clone(&project.designs[0]);
        let survey = project.survey(&design, &design.leg().expect("a leg"), SURVEYED);
        let needs = project.bend_needs(&survey);
        let first: Vec<_> = needs.iter().filter(|one| one.cut == Cut::First).collect();
        assert!(first.len() >= 3, "{needs:?}");
        let (gentle, tight) = (first.first().expect("a bend"), first.last().expect("a bend"));
        assert!(gentle.widest_mm > tight.widest_mm && gentle.blade != tight.blade, "{needs:?}");
        for one in &needs {
            let row = blades().iter().find(|row| Some(&row.name) == one.blade.as_ref());
            assert!(row.is_none_or(|row| row.blade().least_radii_mm()[1] <= one.bend.radius_mm));
        }
        let wide = Blade { width: 60.0.into(), kerf: 6.0.into(), thickness: 0.1.into(), ..Blade::default() };
        project.blades.push(OwnBlade { name: "Broad".to_owned(), kind: SawKind::Band, blade: wide });
        let easy = project.bend_needs(&survey).into_iter().filter(|one| one.bend.radius_mm > 90.0);
        assert!(easy.clone().count() > 0 && easy.into_iter().all(|one| one.blade.as_deref() == Some("Broad")));
        project.saw = None;
        assert_eq!(project.bend_needs(&survey), []);
    }
}
