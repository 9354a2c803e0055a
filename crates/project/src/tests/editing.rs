//! What each edit does to a project, and how it is called.

use crate::{
    BlankSize, Design, DesignId, EDIT_GAP_MM, Edit, EditError, Handle, History, MAX_NAME_CHARS, PaperChoice, Project,
    WoodPart,
};
use cornerwise_geometry::{Blank, Cut, Finest, Length, Line, ParameterValue, PointId, Shape, ShapeKind, Unit, Units};
use cornerwise_wood::{Block, BlockPreset, Layer, Layers, SeamFit, Species, Wood};
use std::sync::Arc;

const FIRST: DesignId = DesignId(1);

fn done(project: &Project, edit: &Edit) -> Project {
    project.apply(edit).expect("an edit")
}

#[test]
fn every_edit_has_a_name_in_the_maker_s_words() {
    let (design, cut, point) = (FIRST, Cut::First, PointId(2));
    let points = done(&Project::new(), &Edit::ShapeToPoints { design, cut });
    let shape = Shape::start(ShapeKind::Arch, 700.0, 50.0);
    let layer = Layer { species: Species::Maple, thickness: 5.0.into() };
    let wood = |part| Edit::SetWoodPart { design, part };
    let value = ParameterValue::Number(0.4);
    let names = [
        (
            Edit::MovePoint { design, cut, point, from_top: 1.0.into(), offset: 1.0.into() },
            "Move point 2 of the first cut",
        ),
        (
            Edit::MoveHandle { design, cut, point, handle: Handle::After, slope: 0.0, reach_mm: 9.0, tied: false },
            "Move a handle of point 2 of the first cut",
        ),
        (
            Edit::PlaceHandle { design, cut, point, handle: Handle::After, slope: 0.0, reach_mm: 9.0 },
            "Move a handle of point 2 of the first cut",
        ),
        (Edit::AddMockUp { design, factor: 0.5 }, "Make a mock-up"),
        (Edit::TieHandles { design, cut, point, tied: true }, "Tie the handles of point 2 of the first cut"),
        (Edit::AddPoint { design, cut, from_top_mm: 100.0 }, "Add a point to the first cut"),
        (Edit::DeletePoint { design, cut, point }, "Delete point 2 of the first cut"),
        (Edit::SetPointKind { design, cut, point, sharp: true }, "Make point 2 of the first cut sharp"),
        (Edit::SetShape { design, cut: Cut::Second, shape }, "Make the second cut an arch"),
        (Edit::SetShapeParameter { design, cut: Cut::Second, index: 1, value }, "Change turn of the second cut"),
        (Edit::SetBlankSize { design, size: BlankSize::Length, value: 1.0.into() }, "Change the finished length"),
        (wood(WoodPart::Layer { index: 0, layer: layer.clone() }), "Change layer 1"),
        (wood(WoodPart::DeleteLayer { index: 2 }), "Delete layer 3"),
        (wood(WoodPart::Species(Species::Ash)), "Make it of ash"),
        (wood(WoodPart::Pith { x: 0.0.into(), y: 0.0.into() }), "Move the pith"),
        (Edit::SetUnits { units: Units::Inches(Finest::Sixteenth) }, "Show inches"),
        (Edit::SetLetter { design, letter: 'C' }, "Letter C"),
    ];
    for (edit, name) in names {
        assert_eq!(edit.label(&points), name);
    }
}

#[test]
fn sizes_of_the_blank_keep_their_typed_text_and_silly_ones_are_refused() {
    let typed = Length::parse("2 3/4", Unit::Inch).expect("a length");
    let size = |size, value: Length| Edit::SetBlankSize { design: FIRST, size, value };
    let square = done(&Project::new(), &size(BlankSize::Square, typed.clone()));
    let blank = &square.designs[0].blank;
    assert_eq!((blank.width.typed(), blank.depth.typed(), blank.width.mm()), (Some("2 3/4\""), Some("2 3/4\""), 69.85));
    for (which, mm) in [
        (BlankSize::Width, 45.0),
        (BlankSize::Depth, 46.0),
        (BlankSize::Length, 647.0),
        (BlankSize::SpareTop, 18.0),
        (BlankSize::SpareFoot, 19.0),
    ] {
        let next = done(&Project::new(), &size(which, mm.into()));
        let was = &Project::new().designs[0].blank;
        let is = &next.designs[0].blank;
        let changed = [
            (&was.width, &is.width),
            (&was.depth, &is.depth),
            (&was.length, &is.length),
            (&was.spare_top, &is.spare_top),
            (&was.spare_foot, &is.spare_foot),
        ];
        assert_eq!(changed.iter().filter(|(was, is)| was != is).count(), 1, "{which:?}");
        assert!(changed.iter().any(|(_, is)| is.mm() == mm));
        let error = Project::new().apply(&size(which, f64::NAN.into())).expect_err("refused");
        assert!(error.to_string().starts_with("design 1, blank: "), "{error}");
    }
    let error = Project::new().apply(&Edit::SetBlank { design: FIRST, blank: Blank::square(50.0, 9e8) });
    assert!(matches!(error, Err(EditError::Project(_))));
}

#[test]
fn a_shape_follows_its_parameters_and_turns_into_points_without_a_change_to_the_line() {
    let project = Project::new();
    let shape = Shape::start(ShapeKind::PostAndKnee, 700.0, 50.0);
    let project = done(&project, &Edit::SetShape { design: FIRST, cut: Cut::Second, shape: shape.clone() });
    let post = ParameterValue::Length(Length::parse("200 mm", Unit::Mm).expect("a length"));
    let edit = Edit::SetShapeParameter { design: FIRST, cut: Cut::Second, index: 0, value: post };
    let project = done(&project, &edit);
    assert_eq!(project.designs[0].leg().expect("a leg").second.sharp_point(), Some(200.0));
    let points = done(&project, &Edit::ShapeToPoints { design: FIRST, cut: Cut::Second });
    assert!(matches!(&points.designs[0].second, Line::Points(points) if points.len() == 6));
    assert_eq!(points.designs[0].leg(), project.designs[0].leg());

    let refused = |project: &Project, edit: &Edit| project.apply(edit).expect_err("refused").to_string();
    let again = Edit::ShapeToPoints { design: FIRST, cut: Cut::Second };
    assert_eq!(refused(&points, &again), "the second cut is made of points, and has no shape to change");
    assert_eq!(refused(&points, &edit), "the second cut is made of points, and has no shape to change");
    let value = ParameterValue::Number(1.0);
    let none = Edit::SetShapeParameter { design: FIRST, cut: Cut::Second, index: usize::MAX, value };
    assert!(refused(&project, &none).starts_with("the shape (post and knee) has no parameter number"));
}

#[test]
fn a_change_of_one_point_of_a_shape_makes_it_points_in_one_step() {
    let before = Project::new();
    let mut history = History::new(before.clone());
    let (design, cut) = (FIRST, Cut::First);
    let point = before.designs[0].points(cut)[1].clone();
    let moved = Edit::MovePoint {
        design,
        cut,
        point: point.id,
        from_top: point.from_top.clone(),
        offset: (point.offset.mm() + 2.0).into(),
    };
    history.replace_drag(&moved).expect("moved");
    assert!(history.commit_drag());
    assert_eq!(history.undo_label(), Some("Move point 2 of the first cut, now points"));
    let now = &history.current().designs[0];
    assert!(matches!(now.line(cut), Line::Points(_)));
    assert_eq!(now.points(cut)[1].offset.mm(), point.offset.mm() + 2.0);
    assert_eq!(now.points(cut)[0], before.designs[0].points(cut)[0], "the other points stay");
    assert!(history.undo());
    assert_eq!(**history.current(), before);
    assert!(!history.undo(), "one step");
    let add = Edit::AddPoint { design, cut, from_top_mm: 300.0 };
    assert_eq!(done(&before, &add).designs[0].points(cut).len(), before.designs[0].points(cut).len() + 1);
}

#[test]
fn a_typed_place_is_taken_exactly_or_not_at_all() {
    let before = Project::new();
    let cut = Cut::First;
    let points = before.designs[0].points(cut);
    let place = |from_top: Length, offset: Length| {
        before.apply(&Edit::PlacePoint { design: FIRST, cut, point: points[1].id, from_top, offset })
    };
    let typed = Length::parse("1 1/4 in", Unit::Mm).expect("a length");
    let placed = place(points[1].from_top.clone(), typed.clone()).expect("placed");
    assert_eq!(placed.designs[0].points(cut)[1].offset, typed);
    let past = place(650.0.into(), typed.clone()).expect_err("past its neighbour").to_string();
    let most = format!("{:.2} mm from the top", points[2].from_top.mm() - EDIT_GAP_MM);
    assert!(past.contains(&most), "{past}");
    assert!(matches!(place(points[1].from_top.clone(), 5000.0.into()), Err(EditError::NoRoomAcross { .. })));
    let beside: Length = (points[2].from_top.mm() - EDIT_GAP_MM).into();
    assert!(matches!(place(beside, 90.0.into()), Err(EditError::Line { .. })), "too steep to saw");
}

#[test]
fn one_cut_is_drawn_like_the_other_either_way() {
    let arch = Shape::start(ShapeKind::Arch, 700.0, 50.0);
    let project = done(&Project::new(), &Edit::SetShape { design: FIRST, cut: Cut::First, shape: arch.clone() });
    let same = done(&project, &Edit::CopyCut { design: FIRST, from: Cut::First });
    assert_eq!(same.designs[0].second, Line::Shape(arch));
    let back = done(&project, &Edit::CopyCut { design: FIRST, from: Cut::Second });
    assert_eq!(back.designs[0].first, project.designs[0].second);
}

#[test]
fn designs_are_added_copied_and_deleted_with_ids_and_letters_of_their_own() {
    let project = done(&Project::new(), &Edit::AddDesign);
    assert_eq!((project.designs[1].id, project.designs[1].letter), (DesignId(2), 'B'));
    let project = done(&project, &Edit::DuplicateDesign { design: FIRST });
    let ids: Vec<_> = project.designs.iter().map(|design| (design.id.0, design.letter)).collect();
    assert_eq!(ids, [(1, 'A'), (3, 'C'), (2, 'B')], "the copy stands beside what it was copied from");
    assert_eq!(project.designs[1].name, "New leg copy");
    assert_eq!(project.designs[1].first, project.designs[0].first);
    let project = done(&project, &Edit::DeleteDesign { design: FIRST });
    assert_eq!(project.designs.len(), 2);
    assert_eq!(done(&project, &Edit::AddDesign).designs[2].letter, 'A', "a letter is free again");
    let gone = Edit::RenameDesign { design: FIRST, name: "x".to_owned() };
    assert_eq!(project.apply(&gone), Err(EditError::NoSuchDesign(FIRST)));
    assert_eq!(Project::new().apply(&Edit::DeleteDesign { design: FIRST }), Err(EditError::LastDesign));
}

#[test]
fn designs_are_put_in_another_order_and_keep_their_letters() {
    let project = done(&done(&Project::new(), &Edit::AddDesign), &Edit::AddDesign);
    let letters = |project: &Project| project.designs.iter().map(|design| design.letter).collect::<String>();
    let last = done(&project, &Edit::MoveDesign { design: FIRST, place: 99 });
    assert_eq!((letters(&project).as_str(), letters(&last).as_str()), ("ABC", "BCA"));
    assert_eq!(letters(&done(&last, &Edit::MoveDesign { design: DesignId(3), place: 0 })), "CBA");
    assert_eq!(
        project.apply(&Edit::MoveDesign { design: DesignId(9), place: 0 }),
        Err(EditError::NoSuchDesign(DesignId(9)))
    );
}

#[test]
fn both_cuts_start_from_one_shape_each_to_its_own_face() {
    let size = Edit::SetBlankSize { design: FIRST, size: BlankSize::Depth, value: 30.0.into() };
    let project = done(&done(&Project::new(), &size), &Edit::StartFrom { design: FIRST, kind: ShapeKind::Arch });
    let design = &project.designs[0];
    let length = design.blank.length.mm();
    assert_eq!(design.first, Line::Shape(Shape::start(ShapeKind::Arch, length, 50.0)));
    assert_eq!(design.second, Line::Shape(Shape::start(ShapeKind::Arch, length, 30.0)));
}

#[test]
fn a_copy_of_a_long_name_is_still_a_name() {
    let name = "木".repeat(MAX_NAME_CHARS);
    let project = done(&Project::new(), &Edit::RenameDesign { design: FIRST, name });
    let project = done(&project, &Edit::DuplicateDesign { design: FIRST });
    assert_eq!(project.designs[1].name.chars().count(), MAX_NAME_CHARS);
}

#[test]
fn at_most_two_hundred_designs() {
    let mut project = Project::new();
    project.designs = (1..=200).map(|i| Arc::new(Design::new(DesignId(i), 'A'))).collect();
    assert!(matches!(project.apply(&Edit::AddDesign), Err(EditError::Project(_))));
    let copy = project.apply(&Edit::DuplicateDesign { design: FIRST }).expect_err("refused");
    assert_eq!(copy.to_string(), "the project: it has 201 designs, and at most 200 are taken");
}

#[test]
fn the_wood_changes_part_by_part() {
    let layer = |species, mm: f64| Layer { species, thickness: mm.into() };
    let layers = Layers::new(vec![layer(Species::Walnut, 20.0), layer(Species::Maple, 3.0)], 0.0, 0.0, 0.0.into());
    let part = |part| Edit::SetWoodPart { design: FIRST, part };
    let timber = Project::new();
    assert_eq!(timber.apply(&part(WoodPart::Lean(10.0))), Err(EditError::NotLayers));
    let ash = done(&timber, &part(WoodPart::Species(Species::Ash)));
    let ash = done(&ash, &part(WoodPart::RingWidth(4.0.into())));
    let ash = done(&ash, &part(WoodPart::Pith { x: 5.0.into(), y: 6.0.into() }));
    match &ash.designs[0].wood {
        Wood::Timber(timber) => {
            assert_eq!((timber.species, timber.ring_width.mm()), (Species::Ash, 4.0));
            assert_eq!((timber.pith_x.mm(), timber.pith_y.mm()), (5.0, 6.0));
        }
        _ => panic!("timber"),
    }
    assert!(matches!(ash.apply(&part(WoodPart::RingWidth(f64::NAN.into()))), Err(EditError::Project(_))));

    let mut project = done(&timber, &Edit::SetWood { design: FIRST, wood: Wood::Layers(layers) });
    assert_eq!(project.apply(&part(WoodPart::Species(Species::Ash))), Err(EditError::NotTimber));
    for edit in [
        WoodPart::Lean(30.0),
        WoodPart::Toward(45.0),
        WoodPart::Shift(2.0.into()),
        WoodPart::Layer { index: 1, layer: layer(Species::Cherry, 4.0) },
        WoodPart::AddLayer { index: 99, layer: layer(Species::Ash, 2.0) },
        WoodPart::DeleteLayer { index: 0 },
    ] {
        project = done(&project, &part(edit));
    }
    let expected = Layers::new(vec![layer(Species::Cherry, 4.0), layer(Species::Ash, 2.0)], 30.0, 45.0, 2.0.into());
    assert_eq!(project.designs[0].wood, Wood::Layers(expected));
    let beyond = part(WoodPart::DeleteLayer { index: 2 });
    assert_eq!(project.apply(&beyond), Err(EditError::NoSuchLayer { layer: 3, count: 2 }));
    project = done(&project, &part(WoodPart::DeleteLayer { index: 1 }));
    assert_eq!(project.apply(&part(WoodPart::DeleteLayer { index: 0 })), Err(EditError::LastLayer));
    assert!(matches!(project.apply(&part(WoodPart::Lean(f64::NAN))), Err(EditError::Project(_))));
}

#[test]
fn a_block_is_given_another_wood_by_itself() {
    let blocks =
        BlockPreset::Checkerboard.build([50.0, 50.0], 4, SeamFit::CarriesOn, [Species::Maple, Species::Walnut]);
    let part = |part| Edit::SetWoodPart { design: FIRST, part };
    let block = Block { species: Species::Cherry, height: 9.0.into() };
    let change = part(WoodPart::Block { column: 0, index: 1, block: block.clone() });
    assert_eq!(Project::new().apply(&change), Err(EditError::NotBlocks));
    let project = done(&Project::new(), &Edit::SetWood { design: FIRST, wood: Wood::Blocks(blocks) });
    let changed = done(&project, &change);
    assert!(matches!(&changed.designs[0].wood, Wood::Blocks(now) if now.columns[0].blocks[1] == block));
    let beyond = part(WoodPart::Block { column: 7, index: 1, block });
    assert_eq!(project.apply(&beyond), Err(EditError::NoSuchBlock { column: 8, block: 2 }));
    assert_eq!(project.apply(&part(WoodPart::Lean(1.0))), Err(EditError::IsBlocks));
}

#[test]
fn names_units_letters_and_paper() {
    let project = done(&Project::new(), &Edit::RenameProject { name: "Reading room".to_owned() });
    let project = done(&project, &Edit::SetUnits { units: Units::Inches(Finest::SixtyFourth) });
    let project = done(&project, &Edit::SetLetter { design: FIRST, letter: 'Q' });
    let paper = PaperChoice { landscape: true, ..PaperChoice::default() };
    let project = done(&project, &Edit::SetPaper { paper: paper.clone() });
    assert_eq!((project.name.as_str(), project.units), ("Reading room", Units::Inches(Finest::SixtyFourth)));
    assert_eq!((project.designs[0].letter, &project.paper), ('Q', &paper));
    let paper = PaperChoice { overlap: f64::INFINITY.into(), ..paper };
    assert!(project.apply(&Edit::SetPaper { paper }).is_err());
    assert!(project.apply(&Edit::RenameProject { name: "a\tb".to_owned() }).is_err());
    assert!(project.apply(&Edit::SetLetter { design: FIRST, letter: '\n' }).is_err());
}
