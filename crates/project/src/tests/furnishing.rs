//! Furniture: edits, what follows from the notches, hands, lists.

use crate::{
    Aprons, Base, Design, DesignId, Edit, Furniture, FurniturePart, Hand, History, Project, Rough, Shade, Standing,
    StockBoard, Top, blanks_from_board, board_feet, board_feet_by_surface_measure,
};
use approx::assert_relative_eq;
use cornerwise_geometry::fit::{Fit, Mirror, Notch};
use cornerwise_geometry::furniture::{ApronJoint, Arrangement, BoardKind, Body, Scene};
use cornerwise_geometry::{Blank, Length, Line, Piece, Shape, Units};
use std::sync::Arc;

fn cyma(swing: f64) -> Line {
    Line::Shape(Shape::Cyma { swing: swing.into(), turn: 0.5, aside: Length::ZERO })
}

fn arch(rise: f64) -> Line {
    Line::Shape(Shape::Arch { rise: rise.into(), crest: 0.4, aside: Length::ZERO })
}

fn with(first: Line, second: Line, notches: Vec<Notch>) -> Project {
    let fit = Fit { notches, ..Fit::default() };
    let design = Design { first, second, fit, ..Design::new(DesignId(1), 'A') };
    Project { designs: vec![Arc::new(design)], ..Project::new() }
}

fn part(part: FurniturePart) -> Edit {
    Edit::SetFurniture { part }
}

fn done(project: &Project, edit: &Edit) -> Project {
    project.apply(edit).expect("an edit")
}

fn four(project: &Project) -> Project {
    let arrangement = Arrangement::Rectangle { width: 600.0.into(), depth: 400.0.into() };
    done(project, &part(FurniturePart::Arrangement(arrangement)))
}

#[test]
fn every_change_is_one_step_with_a_name() {
    let mut history = History::new(Project::new());
    let mirrored = Standing { hand: Hand::Mirrored, ..Standing::default() };
    let turned = Standing { inside: Some(Piece::Two), ..mirrored };
    let steps = [
        (Arrangement::Rectangle { width: 600.0.into(), depth: 400.0.into() }, "Place four legs"),
        (Arrangement::Circle { radius: 200.0.into() }, "Place three legs round a circle"),
    ];
    for (arrangement, label) in steps {
        assert_eq!(history.apply(&part(FurniturePart::Arrangement(arrangement))), Ok(true));
        assert_eq!(history.undo_label(), Some(label));
    }
    for (standing, label) in
        [(mirrored, "Swap the hand of the leg in place 3"), (turned, "Choose the inside piece of the leg in place 3")]
    {
        assert_eq!(history.apply(&part(FurniturePart::Leg { place: 2, standing })), Ok(true));
        assert_eq!(history.undo_label(), Some(label));
    }
    assert_eq!(history.current().furniture.as_ref().map(|f| f.standing(2)), Some(turned));
    assert_eq!(history.apply(&Edit::RemoveFurniture), Ok(true));
    while history.undo() {}
    assert_eq!(**history.current(), Project::new());
    let silly = Arrangement::Circle { radius: (-5.0).into() };
    assert!(Project::new().apply(&part(FurniturePart::Arrangement(silly))).is_err());
    let nobody = Standing { design: DesignId(9), ..Standing::default() };
    let error = Project::new().apply(&part(FurniturePart::Leg { place: 0, standing: nobody })).unwrap_err();
    assert!(error.to_string().contains("furniture: the leg in place 1 is of design 9"), "{error}");
}

#[test]
fn a_leg_whose_design_is_deleted_is_the_first_one() {
    let project = four(&done(&Project::new(), &Edit::AddDesign));
    let standing = Standing { design: DesignId(2), ..Standing::default() };
    let project = done(&project, &part(FurniturePart::Leg { place: 1, standing }));
    assert_eq!(project.assemble().unwrap().legs[1].design.id, DesignId(2));
    let project = done(&project, &Edit::DeleteDesign { design: DesignId(2) });
    assert_eq!(project.check(), Ok(()));
    assert_eq!(project.assemble().unwrap().legs[1].design.id, DesignId(1));
}

#[test]
fn legs_stay_what_they_are_when_designs_change_places_in_the_list() {
    let project = four(&done(&Project::new(), &Edit::AddDesign));
    let ids = |project: &Project| project.assemble().unwrap().legs.iter().map(|leg| leg.design.id).collect::<Vec<_>>();
    let moved = done(&project, &Edit::MoveDesign { design: DesignId(2), place: 0 });
    assert_eq!(moved.designs[0].id, DesignId(2));
    assert_eq!(ids(&moved), ids(&project));
}

/// The apron's height is the notch, and the frame is the legs' axes.
#[test]
fn boards_follow_from_the_notches() {
    let project = four(&with(cyma(8.0), cyma(8.0), vec![Notch::apron(50.8), Notch::shelf(450.0, 18.0, 0.4)]));
    let top = Top { thickness: 22.0.into(), overhang: 35.0.into() };
    let project = done(&project, &part(FurniturePart::Top(Some(top))));
    let made = project.assemble().unwrap();
    let list = made.board_list();
    let wanted = [
        (BoardKind::Top, 1, [670.0, 470.0, 22.0]),
        (BoardKind::Apron, 2, [600.0, 50.8, 20.0]),
        (BoardKind::Apron, 2, [360.0, 50.8, 20.0]),
        (BoardKind::Shelf, 1, [600.0, 400.0, 18.0]),
    ];
    assert_eq!(list.len(), 4);
    for (line, (kind, count, size)) in list.iter().zip(wanted) {
        assert_eq!((line.kind, line.count), (kind, count));
        for (told, wanted) in line.size_mm.iter().zip(size) {
            assert_relative_eq!(*told, wanted, epsilon = 1e-9);
        }
    }
    let shelf = made.boards.iter().find(|board| board.kind == BoardKind::Shelf).unwrap();
    assert_relative_eq!(shelf.solid.span_mm[1], -(700.0 - 468.4), epsilon = 1e-9);
    let scene = Scene::new(made.bodies(0.2, 20.0, 0.0));
    assert_eq!(scene.overlaps(), []);
    assert_relative_eq!(made.height_mm(), 722.0, epsilon = 1e-9);
    let mitred = Aprons { joint: ApronJoint::Mitred, ..Aprons::default() };
    let mitred = done(&project, &part(FurniturePart::Aprons(mitred))).assemble().unwrap();
    assert_eq!(mitred.board_list()[1].size_mm[0], 600.0);
    assert_eq!(Scene::new(mitred.bodies(0.2, 20.0, 0.0)).overlaps(), []);
    assert_eq!(Scene::new(mitred.bodies(0.2, 20.0, 70.0)).overlaps(), [], "drawn apart");
}

#[test]
fn four_equal_legs_of_unequal_cuts_turn_and_hands_mirror_them() {
    let project = four(&with(cyma(12.0), arch(9.0), Vec::new()));
    let made = project.assemble().unwrap();
    assert_eq!(made.mirrored_across(), Some([false, false]));
    assert_eq!(made.mirror(0), Some(Mirror::OtherHand));
    // Its fix, given twice, makes left and right legs.
    let fix = |project: &Project| {
        let findings = project.assemble().unwrap().findings(Units::Millimetres);
        findings.into_iter().find(|finding| finding.what.contains("pinwheel")).map(|finding| finding.edit.unwrap())
    };
    let once = done(&project, &fix(&project).unwrap());
    let twice = done(&once, &fix(&once).unwrap());
    assert_eq!(twice.assemble().unwrap().mirrored_across(), Some([true, true]));
    assert_eq!(fix(&twice), None);
    let blanks = twice.assemble().unwrap().blank_list();
    assert_eq!(
        blanks.iter().map(|line| (line.hand, line.count)).collect::<Vec<_>>(),
        [(Hand::Drawn, 2), (Hand::Mirrored, 2)]
    );
    assert_eq!(blanks[1].hand.label('A'), "A mirrored");
    // With one curve on both faces four alike do, with piece 1 inside, and with piece 2 they need piece 4 for a mirror.
    let equal = four(&with(cyma(12.0), cyma(12.0), Vec::new()));
    assert_eq!(equal.assemble().unwrap().mirrored_across(), Some([true, true]));
    let two = (0..4).fold(equal, |project, place| {
        let standing = Standing { inside: Some(Piece::Two), ..Standing::default() };
        done(&project, &part(FurniturePart::Leg { place, standing }))
    });
    assert_eq!(two.assemble().unwrap().mirrored_across(), Some([false, false]));
    let once = done(&two, &fix(&two).unwrap());
    let twice = done(&once, &fix(&once).unwrap());
    let made = twice.assemble().unwrap();
    assert_eq!(made.mirrored_across(), Some([true, true]));
    assert_eq!(made.legs[1].fit.inside, Piece::Four);
    assert_eq!(made.blank_list().len(), 1, "one template makes all four");
}

#[test]
fn a_leg_without_the_notch_its_neighbours_have_is_told_and_notched() {
    let project = four(&with(cyma(8.0), cyma(8.0), vec![Notch::shelf(300.0, 18.0, 0.0)]));
    let project = done(&project, &Edit::AddDesign);
    let standing = Standing { design: DesignId(2), ..Standing::default() };
    let project = done(&project, &part(FurniturePart::Leg { place: 2, standing }));
    let finding = |project: &Project| {
        let findings = project.assemble().unwrap().findings(Units::Millimetres);
        findings.into_iter().find(|finding| finding.what.contains("has no notch"))
    };
    let there = finding(&project).unwrap();
    assert!(there.what.contains("Leg B in place 3"), "{}", there.what);
    assert!(!Scene::new(project.assemble().unwrap().bodies(0.2, 20.0, 0.0)).overlaps().is_empty());
    let fixed = done(&project, &there.edit.unwrap());
    assert_eq!(finding(&fixed), None);
    assert!(Scene::new(fixed.assemble().unwrap().bodies(0.2, 20.0, 0.0)).overlaps().is_empty());
}

#[test]
fn aprons_thicker_than_the_piece_under_them_are_told() {
    let project = four(&with(cyma(2.0), cyma(2.0), vec![Notch::apron(90.0)]));
    let thick = |mm: f64| {
        let aprons = Aprons { thickness: mm.into(), ..Aprons::default() };
        done(&project, &part(FurniturePart::Aprons(aprons)))
    };
    let told = |project: &Project| {
        project.assemble().unwrap().findings(Units::Millimetres).into_iter().find(|f| f.what.contains("overhang"))
    };
    let fixed = done(&thick(30.0), &told(&thick(30.0)).unwrap().edit.unwrap());
    assert_eq!(told(&fixed), None);
    assert_eq!(told(&thick(22.0)), None);
}

/// A lamp on a plate: what it weighs, where its middle is, what tilt it bears.
#[test]
fn a_lamps_base_widens_its_footprint() {
    let straight = Line::Shape(Shape::Straight { aside: Length::ZERO });
    let project = with(straight.clone(), straight, Vec::new());
    let alone = project.assemble().unwrap();
    let (kg, centre) = alone.weight();
    // 50 mm square and 700 mm high: 1.75 litres of white oak, specific gravity 0.68 at 12 % (Wood Handbook): about 1.3 kg.
    assert!((kg - 1.75e-3 * 0.68 * 1.12 * 1000.0).abs() < 0.02, "{kg}");
    assert_relative_eq!(centre[2], 350.0, epsilon = 1e-9);
    let stands = alone.stability().unwrap();
    assert_relative_eq!(stands.tilt_deg, (25.0_f64 / 350.0).atan().to_degrees(), epsilon = 1e-9);
    let base = Base { across: 200.0.into(), thickness: 25.0.into(), round: false };
    let shade = Shade { across_top: 150.0.into(), across_foot: 300.0.into(), height: 200.0.into(), above: 60.0.into() };
    let lamp = done(&project, &part(FurniturePart::Base(Some(base))));
    let lamp = done(&lamp, &part(FurniturePart::Shade(Some(shade)))).assemble().unwrap();
    let stands = lamp.stability().unwrap();
    // Base 1.0 litres at 12.5 mm, leg 1.75 litres at 375 mm.
    assert_relative_eq!(stands.centre_mm[2], (12.5 * 1.0 + 375.0 * 1.75) / 2.75, epsilon = 1e-6);
    assert_relative_eq!(stands.margin_mm, 100.0, epsilon = 1e-9);
    assert!(stands.tilt_deg > 20.0);
    assert_relative_eq!(lamp.height_mm(), 700.0 + 25.0 + 260.0, epsilon = 1e-9);
    assert_eq!(Scene::new(lamp.bodies(0.2, 20.0, 50.0)).overlaps(), []);
}

/// woodworkingtips.com (etip04): 1 by 9 by 96 in is 6 board feet, 1 1/2 by 9 by 96 in is 9. NHLA, told at
/// americanhardwood.org: 2 in by 6 1/4 in by 8 ft has a surface measure of 4 1/6, so 4, and 8 board feet. Stock under 1 in
/// counts as 1 in (goodwoodcorp.com). Square blanks by hand: 2 by 2 by 30 in 0.8333, 3 by 3 by 30 1.875, 4 by 4 by 24 2.6667.
#[test]
fn board_feet_as_lumber_is_sold() {
    let inch = |size: [f64; 3]| size.map(|s| s * 25.4);
    for (size, feet) in [
        ([96.0, 9.0, 1.0], 6.0),
        ([96.0, 9.0, 1.5], 9.0),
        ([96.0, 9.0, 0.75], 6.0),
        ([30.0, 2.0, 2.0], 0.8333),
        ([30.0, 3.0, 3.0], 1.875),
        ([24.0, 4.0, 4.0], 2.6667),
    ] {
        assert_relative_eq!(board_feet(inch(size)), feet, epsilon = 5e-5);
    }
    assert_eq!(board_feet_by_surface_measure(inch([96.0, 6.25, 2.0])), 8.0);
}

#[test]
fn blanks_from_a_board_and_what_is_left() {
    // Two 760 mm lengths and a kerf in 1600 mm; three 56 mm squares and two kerfs in 180 mm.
    let cut = blanks_from_board([1600.0, 180.0, 56.0], [760.0, 56.0, 56.0], 3.0);
    assert_eq!((cut.counts, cut.blanks()), ([2, 3, 1], 6));
    assert_relative_eq!(cut.left_mm[0], 1600.0 - 2.0 * 763.0, epsilon = 1e-9);
    assert_relative_eq!(cut.left_mm[1], 180.0 - 3.0 * 59.0, epsilon = 1e-9);
    assert_eq!(blanks_from_board([500.0, 180.0, 56.0], [760.0, 56.0, 56.0], 3.0).blanks(), 0);
}

#[test]
fn boards_of_one_size_give_rows_of_blanks_and_offcuts_with_names() {
    let mut project = with(cyma(8.0), cyma(8.0), Vec::new());
    let design = Design { blank: Blank::square(48.0, 700.0), ..(*project.designs[0]).clone() };
    project.designs = vec![Arc::new(design)];
    let board =
        |length: f64, width: f64| StockBoard { length: length.into(), width: width.into(), thickness: 60.0.into() };
    let list = |board: StockBoard| {
        let rough = Rough { board: Some(board), ..Rough::default() };
        let project = done(&four(&project), &part(FurniturePart::Rough(rough)));
        project.assemble().unwrap().cut_list().unwrap()
    };
    // Blanks of 765 by 54 by 54: two and a kerf in 1600 mm, two rows and a kerf in 150 mm. One board holds all four.
    let cut = list(board(1600.0, 150.0));
    assert_eq!((cut.boards, cut.rows.len(), cut.too_large.len()), (1, 2, 0));
    assert!(cut.rows.iter().all(|row| row.blanks == [0, 0] && (row.left_mm - 63.6).abs() < 1e-9), "{cut:?}");
    let named: Vec<&str> = cut.offcuts.iter().map(|offcut| offcut.name.as_str()).collect();
    assert_eq!(named, ["end of row 1 of board 1", "end of row 2 of board 1", "edge of board 1"]);
    assert_relative_eq!(cut.offcuts[2].size_mm[1], 150.0 - 2.0 * 57.2, epsilon = 1e-9);
    // One row to a board, one blank to a row: four boards, each with a long end. Too short a board holds none.
    let cut = list(board(1200.0, 100.0));
    assert_eq!((cut.boards, cut.rows.len()), (4, 4));
    assert_relative_eq!(cut.offcuts[0].size_mm[0], 1200.0 - 768.2, epsilon = 1e-9);
    assert_eq!(list(board(700.0, 100.0)).too_large, [0]);
    // Nothing is made out of nothing: blanks, offcuts and kerfs never exceed the boards.
    for (length, width) in [(800.0, 60.0), (1700.0, 130.0), (2500.0, 300.0), (3100.0, 180.0)] {
        let cut = list(board(length, width));
        let blanks: usize = cut.rows.iter().map(|row| row.blanks.len()).sum();
        let volume = |size: [f64; 3]| size.iter().product::<f64>();
        let kept: f64 = cut.offcuts.iter().map(|offcut| volume(offcut.size_mm)).sum();
        assert_eq!(blanks, 4);
        assert!(4.0 * volume([765.0, 54.0, 54.0]) + kept <= cut.boards as f64 * volume(cut.board_mm));
    }
}

#[test]
fn blanks_are_bought_with_spare_length_and_rough_allowance() {
    let mut project = with(cyma(8.0), cyma(8.0), Vec::new());
    let design = Design { blank: Blank::square(48.0, 700.0), ..(*project.designs[0]).clone() };
    project.designs = vec![Arc::new(design)];
    let list = four(&project).assemble().unwrap().blank_list();
    assert_eq!((list.len(), list[0].count, list[0].rough_mm), (1, 4, [765.0, 54.0, 54.0]));
    assert_relative_eq!(list[0].board_feet, 765.0 * 54.0 * 54.0 / 25.4_f64.powi(3) / 144.0, epsilon = 1e-9);
    assert!(list[0].weight_kg > 1.0 && list[0].weight_kg < 3.0);
    assert_eq!(Furniture::column().standing(5), Standing::default());
}

#[test]
fn left_and_right_legs_are_made_in_one_step_and_all_alike_again() {
    let project = four(&with(cyma(12.0), arch(9.0), Vec::new()));
    let made = project.assemble().unwrap();
    assert!(made.are_alike() && made.hands_in_words().unwrap().contains("pinwheel"));
    let legs = |standings: Option<Vec<Standing>>| part(FurniturePart::Legs(standings.unwrap()));
    let both = done(&project, &legs(made.left_and_right()));
    let made = both.assemble().unwrap();
    assert_eq!(made.mirrored_across(), Some([true, true]));
    assert!(made.hands_in_words().unwrap().starts_with("The four legs mirror one another"));
    let hands: Vec<Hand> = made.legs.iter().map(|leg| leg.hand).collect();
    assert_eq!(hands, [Hand::Drawn, Hand::Mirrored, Hand::Drawn, Hand::Mirrored]);
    // Begun with a mirrored leg it comes to the same, the other way about.
    let standing = Standing { hand: Hand::Mirrored, ..Standing::default() };
    let other = done(&project, &part(FurniturePart::Leg { place: 0, standing })).assemble().unwrap();
    let other = done(&project, &legs(other.left_and_right())).assemble().unwrap();
    assert_eq!(other.mirrored_across(), Some([true, true]));
    assert_eq!(other.legs[1].hand, Hand::Drawn);
    let alike = done(&both, &legs(made.all_alike()));
    assert!(alike.assemble().unwrap().are_alike());
}

#[test]
fn a_mirror_with_another_piece_inside_needs_no_other_template_even_from_a_mirrored_leg() {
    for hand in [Hand::Drawn, Hand::Mirrored] {
        let project = four(&with(cyma(12.0), cyma(12.0), Vec::new()));
        let inside = Some(Piece::Two);
        let standing = Standing { hand, inside, ..Standing::default() };
        let first = done(&project, &part(FurniturePart::Leg { place: 0, standing })).assemble().unwrap();
        let both = done(&project, &part(FurniturePart::Legs(first.left_and_right().unwrap()))).assemble().unwrap();
        assert_eq!(both.mirrored_across(), Some([true, true]), "{hand:?}");
        assert!(both.legs.iter().all(|leg| leg.hand == hand));
    }
}

#[test]
fn drawn_apart_nothing_is_in_anothers_place() {
    for joint in [ApronJoint::Butted, ApronJoint::Mitred] {
        let project = four(&with(cyma(8.0), cyma(8.0), vec![Notch::apron(50.8), Notch::shelf(450.0, 18.0, 0.4)]));
        let project = done(&project, &part(FurniturePart::Aprons(Aprons { joint, ..Aprons::default() })));
        let made = project.assemble().unwrap();
        for share in [0.0, 0.02, 0.1, 0.5, 0.6, 0.75, 0.9, 1.0] {
            let apart = made.apart(share);
            let scene = Scene::new(made.drawn_apart(&apart).bodies_apart(0.2, 20.0, &apart));
            assert_eq!(scene.overlaps(), [], "{joint:?} at {share}");
        }
    }
}

#[test]
fn a_leg_by_itself_parts_into_halves_and_then_into_pieces() {
    let made = with(cyma(8.0), cyma(8.0), Vec::new()).assemble().unwrap();
    let half = made.apart(0.5);
    assert!(half.legs_mm == 0.0 && half.pieces_mm[0] == 0.0 && half.pieces_mm[1] > 5.0);
    let facets = |share: f64| Scene::new(made.bodies_apart(0.2, 20.0, &made.apart(share))).len();
    // The planed faces show once they are no longer glued: two of eight walls for the halves, then all of them.
    let (together, halves, pieces) = (facets(0.0), facets(0.5), facets(1.0));
    assert!(together < halves && halves < pieces);
    assert_eq!(halves - together, pieces - halves);
    let volume =
        |share: f64| made.bodies_apart(0.2, 20.0, &made.apart(share)).iter().map(Body::volume_mm3).sum::<f64>();
    assert_relative_eq!(volume(0.0), volume(1.0), max_relative = 1e-12);
}

#[test]
fn the_two_facing_legs_of_a_row_carry_boards_that_run_into_nothing() {
    let notches = vec![Notch::apron(80.0), Notch::shelf(400.0, 18.0, 0.4)];
    for count in [2, 3, 4] {
        let arrangement = Arrangement::Row { spacing: 420.0.into(), count };
        let project =
            done(&with(cyma(8.0), arch(5.0), notches.clone()), &part(FurniturePart::Arrangement(arrangement)));
        let made = project.assemble().expect("put together");
        let list = made.board_list();
        assert_eq!(
            list.iter().map(|line| (line.kind, line.count)).collect::<Vec<_>>(),
            [(BoardKind::Apron, 1), (BoardKind::Shelf, 1)]
        );
        // As high as the notch, and as long as the axes are apart.
        assert_relative_eq!(list[0].size_mm[0], 420.0, max_relative = 1e-12);
        assert_eq!((list[0].size_mm[1], list[1].size_mm[2]), (80.0, 18.0));
        let scene = Scene::new(made.bodies(0.1, 40.0, 0.0));
        assert!(scene.overlaps().is_empty(), "{count}: {:?}", scene.overlaps());
    }
}
