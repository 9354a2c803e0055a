//! What the search for changes promises, against legs that are really cut into small cubes: each change is made to the
//! project, the changed blank is cut up, and what touches at its seams is compared with the share that was promised.

use cornerwise_export::demo::DEMOS;
use cornerwise_geometry::Cut;
use cornerwise_project::{Changeable, Design, DesignId, Edit, Project, Question, SeamFix, Wanted, seam_fixes};
use cornerwise_wood::{BlockPreset, Layer, Layers, SeamFit, SeamLimits, Species, Timber, Wood};

use crate::block_seams::blocks_by_cubes;
use crate::cases::Case;
use crate::seams::{InCubes, agree, layers_by_cubes, rings_by_cubes};

/// Asks for changes, makes each of them, and cuts the changed blank into cubes. Gives how many there were.
fn confirmed(what: &'static str, project: &Project, cut: Cut, question: Question, may: &[Changeable]) -> usize {
    all_confirmed(what, project, &Wanted::one(cut, question), may).len()
}

/// The same for whatever is asked; gives the changes.
fn all_confirmed(what: &'static str, project: &Project, wanted: &Wanted, may: &[Changeable]) -> Vec<SeamFix> {
    let design = &project.designs[0];
    let found = seam_fixes(design, wanted, may, &SeamLimits::default(), &|| false);
    assert!(found.complete, "{what}");
    for fix in &found.fixes {
        let changed = project.apply(&fix.edit).expect("what is offered can be done");
        let changed: &Design = &changed.designs[0];
        let by_cubes = match changed.wood {
            Wood::Layers(_) => layers_by_cubes,
            Wood::Blocks(_) => blocks_by_cubes,
            Wood::Timber(_) => rings_by_cubes,
            Wood::Photos(_) => unreachable!("no photos here"),
        };
        let leg = InCubes::new(Case::of(what, changed));
        let scanned = agree(&format!("{:?}", fix.changes), &leg, &changed.wood, by_cubes);
        // What it promises of both pairs and all three questions, not only of what was asked.
        for (cut, scanned) in [(Cut::Second, scanned[0]), (Cut::First, scanned[1])] {
            for (question, share) in Question::ALL.into_iter().zip(scanned) {
                let promised = fix.after[cut.index()][question.index()];
                assert!((share - promised).abs() < 1e-9, "{what}: {fix:?} gives {share} for {cut}, {question:?}");
            }
        }
    }
    found.fixes
}

/// A short leg, so that there are not too many cubes; thick enough that even large cubes tell a step from none.
fn short(wood: Wood) -> Project {
    use cornerwise_project::BlankSize::{Depth, Length, Width};
    let id = DesignId(1);
    [(Length, 160.0), (Width, 60.0), (Depth, 60.0)]
        .into_iter()
        .map(|(size, mm)| Edit::SetBlankSize { design: id, size, value: mm.into() })
        .chain([Edit::SetWood { design: id, wood }])
        .fold(Project::new(), |project, edit| project.apply(&edit).expect("a short leg"))
}

#[test]
fn what_is_promised_for_sloping_layers_is_what_cubes_show() {
    let demo = DEMOS.iter().find(|demo| demo.file_name == "sloping-layers.ron").expect("a demo");
    let project = demo.project().expect("a demo");
    assert!(confirmed("sloping", &project, Cut::Second, Question::PatternCarriesOn, &Changeable::ALL) >= 3);
}

#[test]
fn what_is_promised_for_an_odd_checkerboard_and_a_climb_is_what_cubes_show() {
    let build = |kind: BlockPreset, count| {
        short(Wood::Blocks(kind.build([60.0; 2], count, SeamFit::AsAsked, [Species::Maple, Species::Walnut])))
    };
    let odd = build(BlockPreset::Checkerboard, 5);
    assert!(confirmed("odd", &odd, Cut::Second, Question::PatternCarriesOn, &Changeable::ALL) >= 2);
    let even = build(BlockPreset::Checkerboard, 4);
    assert!(confirmed("even", &even, Cut::First, Question::SameWood, &Changeable::ALL) >= 2);
    let climbing = build(BlockPreset::Climbing, 5);
    // Many short blocks: of another width their joints fall so that one level of cubes, early or late, is no small share.
    // The nearest rise below and the nearest above.
    assert_eq!(confirmed("climbing", &climbing, Cut::First, Question::PatternCarriesOn, &[Changeable::Rise]), 2);
}

#[test]
fn what_is_promised_for_timber_is_what_cubes_show() {
    let timber = Timber::new(Species::Ash, 12.0.into(), (-50.0).into(), 3.0.into());
    let project = short(Wood::Timber(timber));
    assert!(confirmed("timber", &project, Cut::Second, Question::LinesMeet, &Changeable::ALL) >= 1);
}

/// One change for both pairs: columns of both directions at once, and both angles of layers that lean toward an arris.
#[test]
fn what_is_promised_for_both_pairs_at_once_is_what_cubes_show() {
    let carry_on = Wanted { pairs: [true; 2], questions: [false, false, true] };
    let woods = [Species::Maple, Species::Walnut];
    let odd = short(Wood::Blocks(BlockPreset::Checkerboard.build([60.0; 2], 5, SeamFit::AsAsked, woods)));
    let layer = |species, mm: f64| Layer { species, thickness: mm.into() };
    let list = vec![layer(Species::Maple, 15.0), layer(Species::Walnut, 11.0)];
    let toward_an_arris = short(Wood::Layers(Layers::new(list, 40.0, 40.0, 0.0.into())));
    for (what, project, kind) in
        [("odd both ways", odd, Changeable::Columns), ("toward an arris", toward_an_arris, Changeable::Angle)]
    {
        let fixes = all_confirmed(what, &project, &carry_on, &[kind]);
        assert!(fixes.iter().any(|fix| fix.reaches_all), "{what}: {fixes:?}");
    }
}
