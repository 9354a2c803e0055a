//! The smallest changes that make seams meet: each is made, and the seams compared anew.

use std::cell::Cell;

use crate::{Changeable, Design, DesignId, Edit, OfPairs, Project, Question, SeamFix, SeamFixes, Wanted, seam_fixes};
use cornerwise_geometry::Cut;
use cornerwise_wood::{BlockPreset, Layer, Layers, SeamFit, SeamLimits, Species, Timber, Wood, compare_pair};

const CARRY_ON: usize = Question::PatternCarriesOn as usize;

fn project(wood: Wood) -> Project {
    let project = Project::new();
    project.apply(&Edit::SetWood { design: DesignId(1), wood }).unwrap()
}

fn design(project: &Project) -> &Design {
    &project.designs[0]
}

/// Asks, and makes every change that is offered.
fn ask_for(project: &Project, wanted: &Wanted, may: &[Changeable]) -> SeamFixes {
    let found = seam_fixes(design(project), wanted, may, &SeamLimits::default(), &|| false);
    assert!(found.complete);
    assert_eq!(found.now, shares(project));
    for fix in &found.fixes {
        let after = shares(&project.apply(&fix.edit).unwrap());
        assert_eq!(after, fix.after, "what was promised is what is seen: {fix:?}");
        assert!(fix.reaches.iter().flatten().any(|reached| *reached), "of no use: {fix:?}");
        for (cut, question) in Cut::ALL.into_iter().flat_map(|cut| Question::ALL.map(|question| (cut, question))) {
            let (pair, answer) = (cut.index(), question.index());
            if fix.reaches[pair][answer] {
                assert!(wanted.has(cut, question) && fix.after[pair][answer] > found.now[pair][answer]);
            }
        }
    }
    let in_order = |p: &SeamFix, q: &SeamFix| (p.loses, p.size_mm) <= (q.loses, q.size_mm + 1e-4);
    assert!(found.fixes.is_sorted_by(in_order), "the smallest first, what takes away last: {found:?}");
    found
}

fn ask(project: &Project, cut: Cut, question: Question) -> SeamFixes {
    ask_for(project, &Wanted::one(cut, question), &Changeable::ALL)
}

fn shares(project: &Project) -> OfPairs<f64> {
    let design = design(project);
    Cut::ALL.map(|cut| {
        let answer = compare_pair(&design.leg().unwrap(), &design.wood, cut, &SeamLimits::default());
        [answer.lines_meet, answer.same_wood, answer.pattern_carries_on]
    })
}

fn of(found: &SeamFixes, kind: Changeable) -> &SeamFix {
    found.fixes.iter().find(|fix| fix.changes == kind).unwrap_or_else(|| panic!("no {kind:?} among {found:?}"))
}

fn why(found: &SeamFixes, cut: Cut, question: Question) -> &str {
    found.why_none[cut.index()][question.index()].as_deref().unwrap_or_else(|| panic!("it says nothing: {found:?}"))
}

fn to(fix: &SeamFix) -> f64 {
    fix.steps[0].to.number()
}

/// 50 mm, layers of 12 and 10 mm that lean toward an azimuth.
fn leaning(lean_deg: f64, toward_deg: f64) -> Project {
    let layer = |species, mm: f64| Layer { species, thickness: mm.into() };
    let list = vec![layer(Species::Maple, 12.0), layer(Species::Walnut, 10.0)];
    project(Wood::Layers(Layers::new(list, lean_deg, toward_deg, 0.0.into())))
}

/// The same at 30 degrees toward x.
fn sloping() -> Project {
    leaning(30.0, 0.0)
}

fn blocks(kind: BlockPreset, count: usize) -> Project {
    project(Wood::Blocks(kind.build([50.0, 50.0], count, SeamFit::AsAsked, [Species::Maple, Species::Walnut])))
}

/// Common practice, no source: layers sloping at 30 degrees do not meet. design.md: they carry on where W tan t is a whole
/// number of their repeats along s, which is W sin t = k p for repeats of p across the layers.
#[test]
fn sloping_layers_are_given_the_nearest_thickness_angle_and_width() {
    let project = sloping();
    let found = ask(&project, Cut::Second, Question::PatternCarriesOn);
    assert_eq!(found.now[Cut::Second.index()][CARRY_ON], 0.0);
    // W sin 30 = 25: one repeat of 25 instead of 22, both layers in proportion.
    let thickness = of(&found, Changeable::Thickness);
    let parts = thickness.steps.iter().map(|step| step.to.number());
    assert!((parts.sum::<f64>() - 25.0).abs() < 1e-9, "{thickness:?}");
    let angle = of(&found, Changeable::Angle);
    assert!((to(angle) - (22.0_f64 / 50.0).asin().to_degrees()).abs() < 1e-9, "{angle:?}");
    // Its size: what 3.9 degrees move over the 50 mm from face to face.
    assert!((angle.size_mm - 50.0 * (30.0 - to(angle)).to_radians()).abs() < 1e-9);
    let width = of(&found, Changeable::BlankWidth);
    assert!((to(width) - 44.0).abs() < 1e-9 && (width.size_mm - 6.0).abs() < 1e-9);
    assert!(!found.fixes.iter().any(|fix| Changeable::LINE.contains(&fix.changes)));
    // The same answer every time.
    assert_eq!(found, ask(&project, Cut::Second, Question::PatternCarriesOn));
    // The other pair lies across the lean: nothing to do.
    let other = ask(&project, Cut::First, Question::PatternCarriesOn);
    assert!(other.fixes.is_empty() && other.now[Cut::First.index()][CARRY_ON] == 1.0);
    assert_eq!(other.why_none, OfPairs::default());
}

/// 25 mm between the faces is one repeat of 25 or two of 12.5: of 22 mm the layers become 3 mm thicker or 9.5 mm thinner
/// in all.
#[test]
fn of_one_kind_the_nearest_thinner_and_the_nearest_thicker_are_told() {
    let wanted = Wanted::one(Cut::Second, Question::PatternCarriesOn);
    let found = ask_for(&sloping(), &wanted, &[Changeable::Thickness]);
    assert!(found.fixes.len() > 2 && found.fixes.len() <= 5, "{found:?}");
    let whole: Vec<f64> = (found.fixes.iter().filter(|fix| fix.steps.len() == 2))
        .map(|fix| fix.steps.iter().map(|step| step.to.number()).sum())
        .collect();
    assert!(whole.len() == 2 && (whole[0] - 25.0).abs() < 1e-9 && (whole[1] - 12.5).abs() < 1e-9, "{whole:?}");
    // Or one layer alone.
    assert!(found.fixes.iter().any(|fix| fix.steps.len() == 1));
    let width = ask_for(&sloping(), &wanted, &[Changeable::BlankWidth]);
    assert_eq!(width.fixes.iter().map(|fix| to(fix).round()).collect::<Vec<_>>(), [44.0], "88 is another piece");
}

#[test]
fn where_only_the_saw_line_may_move_it_says_why_that_is_no_use_and_what_would_be() {
    let found = ask_for(&sloping(), &Wanted::ALL, &Changeable::LINE);
    let why = why(&found, Cut::Second, Question::LinesMeet);
    // 50 tan 30, and 22 / cos 30.
    assert!(found.fixes.is_empty() && why.contains("28.9 mm") && why.contains("wherever the saw line runs"), "{why}");
    assert!(why.contains("25.4 mm") && why.ends_with("thickness, angle or blank's size"), "{why}");
    // Of the other pair everything is so already.
    assert_eq!(found.why_none[Cut::First.index()], [const { None }; 3]);
}

#[test]
fn an_odd_checkerboard_is_given_an_even_count_or_halves_and_a_climb_a_whole_rise() {
    let found = ask(&blocks(BlockPreset::Checkerboard, 5), Cut::Second, Question::PatternCarriesOn);
    let columns = of(&found, Changeable::Columns);
    assert_eq!(columns.after[Cut::Second.index()][CARRY_ON], 1.0);
    assert!([50.0 / 6.0, 50.0 / 4.0].iter().any(|width| (to(columns) - width).abs() < 1e-9), "{columns:?}");
    let width = to(of(&found, Changeable::BlankWidth));
    assert!((width - 40.0).abs() < 1e-9 || (width - 60.0).abs() < 1e-9, "{width}");
    let same = ask(&blocks(BlockPreset::Checkerboard, 4), Cut::Second, Question::SameWood);
    let shift = of(&same, Changeable::Shift);
    assert_eq!(shift.after[Cut::Second.index()][1], 1.0, "half columns at the faces: {same:?}");
    let rise = ask(&blocks(BlockPreset::Climbing, 5), Cut::Second, Question::PatternCarriesOn);
    // Columns of 10 with blocks of 10 and 10, climbing 10 / 3: five climb 16.7, and a repeat is 20.
    assert!((to(of(&rise, Changeable::Rise)) - 4.0).abs() < 1e-9);
}

/// The faces of an odd checkerboard show the same woods, and carry on in neither direction: one change for both.
#[test]
fn both_pairs_are_made_to_meet_by_one_change() {
    let carry_on = Wanted { pairs: [true; 2], questions: [false, false, true] };
    let found = ask_for(&blocks(BlockPreset::Checkerboard, 5), &carry_on, &Changeable::ALL);
    for kind in [Changeable::Columns, Changeable::BlankWidth] {
        let both = found.fixes.iter().find(|fix| fix.changes == kind && Cut::ALL.iter().all(|cut| fix.helps(*cut)));
        let both = both.unwrap_or_else(|| panic!("no {kind:?} for both: {found:?}"));
        assert!(both.reaches_all && both.steps.len() >= 2, "{both:?}");
    }
    // Layers that lean toward an arris: 50 sin t cos u is one repeat of 22, and 50 sin t sin u another.
    let found = ask_for(&leaning(40.0, 40.0), &carry_on, &[Changeable::Angle]);
    let both = found.fixes.iter().find(|fix| fix.reaches_all).expect("both angles at once");
    let [lean, toward] = [0, 1].map(|step| both.steps[step].to.number());
    assert!((lean - (0.44 * 2.0_f64.sqrt()).asin().to_degrees()).abs() < 1e-9 && (toward - 45.0).abs() < 1e-9);
}

/// An even checkerboard carries on, with other woods at every seam. A shift by a quarter of a column and more gives the same
/// woods and lets it carry on; an odd count gives the same woods too, by a smaller change, but then it does not.
#[test]
fn what_takes_away_what_is_wanted_and_there_comes_last() {
    let even = blocks(BlockPreset::Checkerboard, 4);
    let found = ask_for(&even, &Wanted::ALL, &Changeable::ALL);
    let first = &found.fixes[0];
    assert!(first.changes == Changeable::Shift && !first.loses, "{first:?}");
    assert!(found.fixes.iter().any(|fix| fix.reaches_all), "shifted both ways");
    // With an odd count, two and a half millimetres less for a column, nothing is made to meet that would not part another.
    let found = ask_for(&even, &Wanted::ALL, &[Changeable::Columns]);
    let odd = found.fixes.iter().find(|fix| fix.loses).expect("an odd count");
    assert!((odd.size_mm - 2.5).abs() < 1e-9 && odd.after.iter().any(|pair| pair[CARRY_ON] == 0.0), "{odd:?}");
    // Where only the woods are asked for, it is the smallest that is wanted.
    let found = ask(&even, Cut::Second, Question::SameWood);
    assert_eq!((found.fixes[0].changes, found.fixes[0].loses), (Changeable::Columns, false));
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

/// Layers of 22 mm that lean by 80 degrees advance by whole repeats across 50 mm where 50 sin 80 cos t = 44: from 30 degrees
/// that is the nearest, because no lean at all does (the sine would be 1.016).
#[test]
fn layers_are_made_to_lean_toward_another_side() {
    let project = leaning(80.0, 30.0);
    let wanted = Wanted::one(Cut::Second, Question::PatternCarriesOn);
    let found = ask_for(&project, &wanted, &[Changeable::Angle]);
    let first = &found.fixes[0];
    assert_eq!(first.steps[0].what, "direction that the layers lean toward", "{found:?}");
    let wanted_deg = (44.0 / (50.0 * 80.0_f64.to_radians().sin())).acos().to_degrees();
    assert!((to(first) - wanted_deg).abs() < 1e-9, "{first:?}");
    assert_eq!(first.after[Cut::Second.index()][CARRY_ON], 1.0);
    // Beside a smaller change of the lean it is told too: 50 sin 30 cos t = 22.
    let found = ask_for(&sloping(), &wanted, &[Changeable::Angle]);
    let turned = (22.0_f64 / 25.0).acos().to_degrees();
    assert!(found.fixes.iter().any(|fix| (to(fix).abs() - turned).abs() < 1e-9), "{found:?}");
}

/// A far pith is brought to the middle of the blank where only there the rings carry on.
#[test]
fn where_rings_turn_at_the_seam_the_pith_goes_to_the_middle_of_the_blank() {
    let timber = Timber::new(Species::Oak, (-40.0).into(), 130.0.into(), 3.0.into());
    let found = ask_for(&project(Wood::Timber(timber)), &Wanted::ALL, &Changeable::ALL);
    let pith = found.fixes.iter().find(|fix| fix.reaches_all).expect("the middle does all of it");
    assert_eq!(pith.steps.iter().map(|step| step.to.number()).collect::<Vec<_>>(), [25.0; 2], "{pith:?}");
    // Nearer, the pith makes the lines of one pair meet.
    assert!(found.fixes.iter().any(|fix| fix.size_mm < pith.size_mm && fix.helps(Cut::Second)));
}

#[test]
fn a_pith_is_brought_to_the_middle_between_the_faces() {
    let crooked = Timber { lean_x: 0.01, ..Timber::new(Species::Ash, 15.0.into(), (-60.0).into(), 3.0.into()) };
    for (timber, steps) in [(crooked.clone(), 2), (Timber { lean_x: 0.0, ..crooked }, 1)] {
        let found = ask(&project(Wood::Timber(timber)), Cut::Second, Question::LinesMeet);
        let middle = found.fixes.iter().find(|fix| to(fix) == 25.0).expect("the middle");
        assert_eq!((middle.after[Cut::Second.index()][0], middle.steps.len()), (1.0, steps), "{found:?}");
    }
}

/// Whatever the wood: no more than five for a pair and for both, no more than two of a kind but where it is needed, and the
/// same answer every time.
#[test]
fn a_few_are_told_and_the_same_every_time() {
    let timber = Timber::new(Species::Pine, 70.0.into(), (-90.0).into(), 4.0.into());
    let woods = [project(Wood::Timber(timber)), leaning(35.0, 20.0), blocks(BlockPreset::Brick, 5)];
    for project in woods {
        let found = ask_for(&project, &Wanted::ALL, &Changeable::ALL);
        let helps = |fix: &&SeamFix| Cut::ALL.map(|cut| fix.helps(cut));
        for pairs in [[true, true], [true, false], [false, true]] {
            assert!(found.fixes.iter().filter(|fix| helps(fix) == pairs).count() <= 7, "{found:?}");
        }
        assert_eq!(found, ask_for(&project, &Wanted::ALL, &Changeable::ALL));
        // What is asked of one pair alone is among what is asked of both.
        let one = Wanted { pairs: [false, true], ..Wanted::ALL };
        for fix in ask_for(&project, &one, &Changeable::ALL).fixes {
            assert!(fix.helps(Cut::Second) && !fix.helps(Cut::First));
        }
    }
}

#[test]
fn a_search_that_is_stopped_says_so_and_tells_what_it_found() {
    let project = sloping();
    let search = |most: usize| {
        let asked = Cell::new(0);
        let stop = || asked.replace(asked.get() + 1) >= most;
        seam_fixes(design(&project), &Wanted::ALL, &Changeable::ALL, &SeamLimits::default(), &stop)
    };
    let nothing = search(0);
    assert!(!nothing.complete && nothing.fixes.is_empty() && nothing.why_none == OfPairs::default());
    let some = search(30);
    assert!(!some.complete && !some.fixes.is_empty() && some.why_none == OfPairs::default());
}
