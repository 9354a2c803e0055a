//! Refusals and changes in the words of the screen.

use cornerwise_geometry::{Cut, PointId};
use cornerwise_wood::{
    BlockPreset, Blocks, Layer, LayerGrain, Layers, SeamFit, Species, SpeciesRow, Timber, Wood, WoodLimits,
};

use crate::{DesignId, Edit, Project, WoodPart};

const A: DesignId = DesignId(1);
const B: DesignId = DesignId(2);

fn two_legs() -> Project {
    Project::new().apply(&Edit::DuplicateDesign { design: A }).unwrap()
}

#[test]
fn nobody_counts_designs_on_screen() {
    let project = two_legs();
    let rings = |design| Edit::SetWoodPart { design, part: WoodPart::RingWidth(0.0.into()) };
    let says = |edit: &Edit| project.apply(edit).unwrap_err();
    let error = says(&rings(A));
    assert_eq!(error.said(&project, A), "the ring width is 0 mm: it must be 0.2 mm to 100 mm");
    assert_eq!(error.said(&project, B), "leg A: the ring width is 0 mm: it must be 0.2 mm to 100 mm");
    // A file has lines, and no leg at hand.
    assert!(error.to_string().starts_with("design 1, wood: "));
    assert!(says(&rings(B)).said(&project, A).starts_with("leg B: the ring width"));
    // What of the leg it is stays where the fault does not say it.
    let far = cornerwise_geometry::Point {
        id: PointId(1),
        from_top: 1.0.into(),
        offset: 1.0.into(),
        ..project.designs[0].points(Cut::First)[0].clone()
    };
    let curve = Edit::TakeCurve { design: B, cut: Cut::First, points: vec![far] };
    let words = says(&curve).said(&project, A);
    assert!(words.contains("first cut") && !words.contains("design"), "{words}");
}

#[test]
fn an_own_wood_goes_by_its_name_and_its_figure_by_its_caption() {
    let row = SpeciesRow { name: "bog oak".to_owned(), ..Species::Oak.row().clone() };
    let project = Project::new().apply(&Edit::AddOwnWood { row: Box::new(row.clone()) }).unwrap();
    let says = |row: SpeciesRow| {
        let edit = Edit::SetOwnWood { index: 0, row: Box::new(row) };
        project.apply(&edit).unwrap_err().said(&project, A)
    };
    let heavy = says(SpeciesRow { specific_gravity: -3.0, ..row.clone() });
    assert_eq!(heavy, "bog oak: Gravity is -3: it must be 0.05 to 1.5");
    let taken = says(SpeciesRow { name: "ash".to_owned(), ..row.clone() });
    assert_eq!(taken, "bog oak: there is another wood of the name \"ash\": each needs a name of its own");
    // A new one has no place yet.
    let new = Edit::AddOwnWood { row: Box::new(SpeciesRow { rays: 2.0, name: "new".to_owned(), ..row }) };
    assert_eq!(project.apply(&new).unwrap_err().said(&project, A), "Rays is 2: it must be 0 to 1");
}

#[test]
fn the_limit_that_was_typed_is_the_one_that_is_named() {
    let project = Project::new();
    let says = |limits: WoodLimits| {
        project.apply(&Edit::SetWoodLimits { limits: Box::new(limits) }).unwrap_err().said(&project, A)
    };
    let usual = project.wood_limits;
    assert_eq!(
        says(WoodLimits { good_jump: 0.5, ..usual }),
        "jump, good to is 0.5: it must be 0 to 0.3 (where bad begins)"
    );
    assert_eq!(
        says(WoodLimits { flat_deg: 70.0, ..usual }),
        "flat to is 70°: it must be 0° to 60° (where quarter begins)"
    );
}

fn label(before: &Wood, after: &Wood) -> String {
    let project = Project::new().apply(&Edit::SetWood { design: A, wood: before.clone() }).unwrap();
    Edit::SetWood { design: A, wood: after.clone() }.label(&project)
}

#[test]
fn a_change_of_timber_says_of_what() {
    let oak = Timber::new(Species::Oak, 20.0.into(), 90.0.into(), 3.0.into());
    let of = |timber: Timber| Wood::Timber(timber);
    let now = |timber: Timber| label(&of(oak.clone()), &of(timber));
    assert_eq!(now(Timber { wobble: 0.5, ..oak.clone() }), "Change the rings' wobble");
    assert_eq!(now(Timber { late_share: Some(0.3), ..oak.clone() }), "Change the late wood");
    assert_eq!(
        now(Timber { taper: 0.01, lean_x: 0.01, ring_width: 2.0.into(), ..oak.clone() }),
        "Change the ring width, the rings' taper and the pith's lean across"
    );
    let other = Timber { wobble: 0.1, variation: 0.1, taper: 0.01, lean_y: 0.01, ..oak.clone() };
    assert_eq!(now(other), "Change the timber");
    let layers = Wood::Layers(Layers::plywood_through(Species::Birch, 50.0, 1.5));
    assert_eq!(label(&of(oak.clone()), &layers), "Make the blank of plywood");
    assert_eq!(label(&layers, &of(oak)), "Make the blank of timber");
}

#[test]
fn a_change_of_layers_says_of_what() {
    let layer = |species, mm: f64| Layer { species, thickness: mm.into() };
    let two = Layers::new(vec![layer(Species::Maple, 12.0), layer(Species::Oak, 10.0)], 30.0, 0.0, 0.0.into());
    let now = |layers: Layers| label(&Wood::Layers(two.clone()), &Wood::Layers(layers));
    assert_eq!(now(Layers { lean_deg: 20.0, ..two.clone() }), "Change the layers' lean");
    assert_eq!(now(Layers { grain: LayerGrain::Alternating, ..two.clone() }), "Change the layers' grain");
    assert_eq!(now(Layers::plywood_through(Species::Maple, 50.0, 1.5)), "Make it plywood");
    let thin = Layers { layers: vec![layer(Species::Maple, 12.0), layer(Species::Oak, 9.0)], ..two.clone() };
    assert_eq!(now(thin), "Change layer 2");
}

#[test]
fn a_change_of_blocks_says_of_what() {
    let woods = [Species::Maple, Species::Walnut];
    let brick = BlockPreset::Brick.build([50.0, 50.0], 4, SeamFit::CarriesOn, woods);
    let now = |change: &dyn Fn(&mut Blocks)| {
        let mut changed = brick.clone();
        change(&mut changed);
        label(&Wood::Blocks(brick.clone()), &Wood::Blocks(changed))
    };
    assert_eq!(now(&|b| b.widths[1] = 14.0.into()), "Change the width of column 2");
    assert_eq!(now(&|b| b.columns[1].shift = 3.0.into()), "Change the shift of column 2");
    assert_eq!(now(&|b| b.columns[1].blocks[0].height = 3.0.into()), "Change the height of block 1 of column 2");
    assert_eq!(now(&|b| b.rise_deep = 3.0.into()), "Change the columns' rise deep");
    let more = |b: &mut Blocks| {
        let block = b.columns[1].blocks[0].clone();
        b.columns[1].blocks.insert(1, block);
    };
    assert_eq!(now(&more), "Add a block to column 2");
    assert_eq!(now(&|b| drop(b.columns[2].blocks.remove(0))), "Take a block out of column 3");
    let blank = Project::new().designs[0].blank.clone();
    let size = [blank.width.mm(), blank.depth.mm()];
    assert_eq!(now(&|b| *b = b.spelled_out(size, blank.length.mm())), "List every block by itself");
    let stripes = BlockPreset::Stripes.build(size, 4, SeamFit::CarriesOn, woods);
    assert_eq!(now(&|b| *b = stripes.clone()), "Lay another pattern of blocks");
}
