//! The smallest changes that make seams meet: each is made, and the seams compared anew.

use crate::{Amount, Changeable, Design, DesignId, Edit, Project, Question, SeamFix, SeamFixes, seam_fixes};
use cornerwise_geometry::Cut;
use cornerwise_wood::{BlockPreset, Layer, Layers, SeamFit, SeamLimits, Species, Timber, Wood, compare_pair};

fn project(wood: Wood) -> Project {
    let project = Project::new();
    project.apply(&Edit::SetWood { design: DesignId(1), wood }).unwrap()
}

fn design(project: &Project) -> &Design {
    &project.designs[0]
}

fn ask(project: &Project, cut: Cut, question: Question) -> SeamFixes {
    let found = seam_fixes(design(project), cut, question, &Changeable::ALL, &SeamLimits::default(), &|| false);
    assert!(found.complete);
    for fix in &found.fixes {
        let after = share(&project.apply(&fix.edit).unwrap(), cut, question);
        assert_eq!(after, fix.after, "what was promised is what is seen: {fix:?}");
        let other = Cut::ALL.into_iter().find(|other| *other != cut).unwrap();
        let theirs =
            [project.clone(), project.apply(&fix.edit).unwrap()].map(|project| share(&project, other, question));
        assert_eq!(theirs, fix.other, "what becomes of the other pair is told too: {fix:?}");
        assert!(fix.after > found.now && fix.before == found.now);
    }
    found
}

fn share(project: &Project, cut: Cut, question: Question) -> f64 {
    let design = design(project);
    let answer = compare_pair(&design.leg().unwrap(), &design.wood, cut, &SeamLimits::default());
    match question {
        Question::LinesMeet => answer.lines_meet,
        Question::SameWood => answer.same_wood,
        Question::PatternCarriesOn => answer.pattern_carries_on,
    }
}

fn of(found: &SeamFixes, kind: Changeable) -> &SeamFix {
    found.fixes.iter().find(|fix| fix.changes == kind).unwrap_or_else(|| panic!("no {kind:?} among {found:?}"))
}

fn to(fix: &SeamFix) -> f64 {
    match fix.steps[0].to {
        Amount::Length(v) | Amount::Degrees(v) | Amount::Times(v) => v,
    }
}

/// 50 mm, layers of 12 and 10 mm at 30 degrees toward x.
fn sloping() -> Project {
    let layer = |species, mm: f64| Layer { species, thickness: mm.into() };
    let list = vec![layer(Species::Maple, 12.0), layer(Species::Walnut, 10.0)];
    project(Wood::Layers(Layers::new(list, 30.0, 0.0, 0.0.into())))
}

/// Common practice, no source: layers sloping at 30 degrees do not meet. design.md: they carry on where W tan t is a whole
/// number of their repeats along s, which is W sin t = k p for repeats of p across the layers.
#[test]
fn sloping_layers_are_given_the_nearest_thickness_angle_and_width() {
    let project = sloping();
    let found = ask(&project, Cut::Second, Question::PatternCarriesOn);
    assert_eq!(found.now, 0.0);
    // W sin 30 = 25: one repeat of 25 instead of 22, both layers in proportion.
    let thickness = of(&found, Changeable::Thickness);
    let parts = thickness.steps.iter().map(|step| match step.to {
        Amount::Length(mm) => mm,
        _ => panic!("a thickness is a length"),
    });
    assert!((parts.sum::<f64>() - 25.0).abs() < 1e-9, "{thickness:?}");
    let angle = to(of(&found, Changeable::Angle));
    assert!((angle - (22.0_f64 / 50.0).asin().to_degrees()).abs() < 1e-9, "{angle}");
    assert!((to(of(&found, Changeable::BlankWidth)) - 44.0).abs() < 1e-9);
    assert!(!found.fixes.iter().any(|fix| Changeable::LINE.contains(&fix.changes)));
    // Smallest first; and the same answer every time.
    assert_eq!(found, ask(&project, Cut::Second, Question::PatternCarriesOn));
    // The other pair lies across the lean: nothing to do.
    let other = ask(&project, Cut::First, Question::PatternCarriesOn);
    assert!(other.fixes.is_empty() && other.now == 1.0 && other.why_none.is_some());
}

#[test]
fn where_only_the_saw_line_may_move_it_says_why_that_is_no_use() {
    let project = sloping();
    let found = seam_fixes(
        design(&project),
        Cut::Second,
        Question::LinesMeet,
        &Changeable::LINE,
        &SeamLimits::default(),
        &|| false,
    );
    let why = found.why_none.unwrap();
    // 50 tan 30.
    assert!(found.fixes.is_empty() && why.contains("28.9 mm") && why.contains("wherever the saw line runs"), "{why}");
}

#[test]
fn an_odd_checkerboard_is_given_an_even_count_or_halves_and_a_climb_a_whole_rise() {
    let build = |kind: BlockPreset, count| {
        project(Wood::Blocks(kind.build([50.0, 50.0], count, SeamFit::AsAsked, [Species::Maple, Species::Walnut])))
    };
    let odd = build(BlockPreset::Checkerboard, 5);
    let found = ask(&odd, Cut::Second, Question::PatternCarriesOn);
    let columns = of(&found, Changeable::Columns);
    assert_eq!(columns.after, 1.0);
    assert!([50.0 / 6.0, 50.0 / 4.0].iter().any(|width| (to(columns) - width).abs() < 1e-9), "{columns:?}");
    let width = to(of(&found, Changeable::BlankWidth));
    assert!((width - 40.0).abs() < 1e-9 || (width - 60.0).abs() < 1e-9, "{width}");
    let even = build(BlockPreset::Checkerboard, 4);
    let same = ask(&even, Cut::Second, Question::SameWood);
    assert_eq!(of(&same, Changeable::Shift).after, 1.0, "half columns at the faces: {same:?}");
    let climbing = build(BlockPreset::Climbing, 5);
    let rise = ask(&climbing, Cut::Second, Question::PatternCarriesOn);
    // Columns of 10 with blocks of 10 and 10, climbing 10 / 3: five climb 16.7, and a repeat is 20.
    assert!((to(of(&rise, Changeable::Rise)) - 4.0).abs() < 1e-9);
}

/// A shift that leaves a strip too thin to be glued on makes the woods the same, and is of no use.
#[test]
fn no_shift_leaves_a_sliver_at_a_face() {
    let even = BlockPreset::Checkerboard.build([60.0, 60.0], 4, SeamFit::AsAsked, [Species::Maple, Species::Walnut]);
    let blank = project(Wood::Blocks(even));
    let wider = |project: Project, size| {
        project.apply(&Edit::SetBlankSize { design: DesignId(1), size, value: 60.0.into() }).unwrap()
    };
    let project = wider(wider(blank, crate::BlankSize::Width), crate::BlankSize::Depth);
    let found = ask(&project, Cut::Second, Question::SameWood);
    let shift = to(of(&found, Changeable::Shift));
    assert!((3.75..=11.25).contains(&shift.rem_euclid(15.0)), "a quarter of 15 mm at least: {shift}");
}

/// The nearest directions in which layers of 22 mm that lean by 30 degrees across 50 mm advance by a whole repeat:
/// 50 sin 30 cos t = 22.
#[test]
fn layers_may_lean_toward_another_side() {
    let project = sloping();
    let found = seam_fixes(
        design(&project),
        Cut::Second,
        Question::PatternCarriesOn,
        &[Changeable::Angle],
        &SeamLimits::default(),
        &|| false,
    );
    assert_eq!(found.fixes.len(), 1);
    let Wood::Layers(mut layers) = design(&project).wood.clone() else { unreachable!("layers") };
    layers.toward_deg = (22.0_f64 / 25.0).acos().to_degrees();
    let turned = project.apply(&Edit::SetWood { design: DesignId(1), wood: Wood::Layers(layers) }).unwrap();
    assert!(share(&turned, Cut::Second, Question::PatternCarriesOn) > 0.9995);
}

/// A far pith is brought to the middle of the blank where only there the rings carry on.
#[test]
fn where_rings_turn_at_the_seam_the_pith_goes_to_the_middle_of_the_blank() {
    let timber = Timber::new(Species::Oak, (-40.0).into(), 130.0.into(), 3.0.into());
    let found = ask(&project(Wood::Timber(timber)), Cut::Second, Question::PatternCarriesOn);
    let pith = of(&found, Changeable::Pith);
    assert_eq!(pith.steps.iter().map(|step| step.to).collect::<Vec<_>>(), [Amount::Length(25.0); 2], "{pith:?}");
}

#[test]
fn a_pith_is_brought_to_the_middle_between_the_faces() {
    let crooked = Timber { lean_x: 0.01, ..Timber::new(Species::Ash, 15.0.into(), (-60.0).into(), 3.0.into()) };
    for (timber, steps) in [(crooked.clone(), 2), (Timber { lean_x: 0.0, ..crooked }, 1)] {
        let found = ask(&project(Wood::Timber(timber)), Cut::Second, Question::LinesMeet);
        let pith = of(&found, Changeable::Pith);
        assert_eq!((to(pith), pith.after, pith.steps.len()), (25.0, 1.0, steps));
    }
}

#[test]
fn a_search_that_is_stopped_says_so() {
    let found = seam_fixes(
        design(&sloping()),
        Cut::Second,
        Question::LinesMeet,
        &Changeable::ALL,
        &SeamLimits::default(),
        &|| true,
    );
    assert!(!found.complete && found.fixes.is_empty());
}
