//! The place Fit: notches under the hand and by keys, the inside piece, the pipe hole, joints.

use cornerwise_geometry::Piece;
use cornerwise_geometry::fit::{Notch, Takes};
use cornerwise_project::{DesignId, Edit, FitPart, Project};
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, drag, middle, press, release, studio, text};

fn fitted(parts: impl IntoIterator<Item = FitPart>) -> Project {
    parts
        .into_iter()
        .fold(Project::new(), |project, part| project.apply(&Edit::SetFit { design: DesignId(1), part }).unwrap())
}

fn at_fit(project: Project) -> Bench {
    let mut bench = studio(project);
    bench.key_press(Key::F2);
    bench.run();
    bench
}

fn notches(bench: &Bench) -> Vec<f64> {
    bench.state().project().designs[0].fit.notches.iter().map(|notch| notch.from_top.mm()).collect()
}

fn undo(bench: &mut Bench) {
    bench.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.run();
}

#[test]
fn a_notch_is_dragged_in_every_view_and_undone_to_the_very_bytes() {
    for (name, by) in [
        ("notch 1, on the ruler", vec2(40.0, 0.0)),
        ("notch 1, on the faces", vec2(40.0, 3.0)),
        ("notch 1, on the sides", vec2(40.0, 0.0)),
        ("notch 1, on the upright leg", vec2(0.0, 30.0)),
    ] {
        let mut bench = at_fit(fitted([FitPart::AddNotch(Notch::shelf(300.0, 18.0, 0.4))]));
        let before = text(bench.state().project());
        let at = bench.get_all_by_label_contains(name).next().unwrap().rect().center();
        press(&mut bench, at);
        let mut last = 300.0;
        drag(&mut bench, at, by, 6, |bench| {
            let now = notches(bench)[0];
            assert!(now >= last, "{name}: {now} after {last}");
            last = now;
        });
        release(&mut bench, at + by);
        bench.run();
        let moved = notches(&bench)[0];
        assert!(moved > 320.0 && moved < 400.0, "{name}: {moved}");
        assert_eq!(bench.state().history().undo_label(), Some("Move notch 1"));
        undo(&mut bench);
        assert_eq!(text(bench.state().project()), before, "{name}");
    }
}

#[test]
fn esc_drops_a_drag_and_a_notch_stops_short_of_its_neighbour() {
    let shelves = [300.0, 400.0].map(|from| FitPart::AddNotch(Notch::shelf(from, 18.0, 0.0)));
    let mut bench = at_fit(fitted(shelves));
    let before = text(bench.state().project());
    let at = middle(&bench, "notch 1, on the ruler");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(300.0, 0.0), 4, |_| {});
    assert_eq!(notches(&bench), [381.0, 400.0]);
    bench.key_press(Key::Escape);
    bench.run();
    assert_eq!(text(bench.state().project()), before);
    release(&mut bench, at);
    bench.run();
    assert_eq!(text(bench.state().project()), before);
    assert_eq!(bench.state().history().changes().len(), 0);
}

#[test]
fn an_apron_grows_by_its_lower_end() {
    let mut bench = at_fit(fitted([FitPart::AddNotch(Notch::apron(60.0))]));
    let at = middle(&bench, "notch 1, lower end, on the ruler");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(30.0, 0.0), 4, |_| {});
    release(&mut bench, at + vec2(30.0, 0.0));
    bench.run();
    let notch = bench.state().project().designs[0].fit.notches[0].clone();
    assert!(notch.board.mm() > 80.0 && notch.from_top.mm() == 0.0 && notch.takes == Takes::Apron, "{notch:?}");
    undo(&mut bench);
    assert_eq!(bench.state().project().designs[0].fit.notches[0].board.mm(), 60.0);
}

#[test]
fn notches_are_added_nudged_and_deleted_by_keys_alone() {
    let mut bench = at_fit(Project::new());
    let before = text(bench.state().project());
    bench.key_press(Key::N);
    bench.run();
    bench.key_press_modifiers(Modifiers::SHIFT, Key::N);
    bench.run();
    assert_eq!(notches(&bench), [0.0, 350.0]);
    bench.get_by_label("notch 2, on the ruler").focus();
    bench.run();
    for _ in 0..3 {
        bench.key_press(Key::ArrowRight);
        bench.run();
    }
    bench.key_press_modifiers(Modifiers::SHIFT, Key::ArrowLeft);
    bench.run();
    assert_eq!(notches(&bench), [0.0, 352.9]);
    bench.key_press(Key::Delete);
    bench.run();
    assert_eq!(notches(&bench), [0.0]);
    for _ in 0..7 {
        undo(&mut bench);
    }
    assert_eq!(text(bench.state().project()), before);
}

#[test]
fn the_inside_piece_is_chosen_by_stance_section_button_and_key() {
    let mut bench = at_fit(Project::new());
    let before = text(bench.state().project());
    let inside = |bench: &Bench| bench.state().project().designs[0].fit.inside;
    bench.get_by_label_contains("piece 3 inside: ").click();
    bench.run();
    assert_eq!(inside(&bench), Piece::Three);
    bench.get_by_label("section, piece 2 inside").click();
    bench.run();
    assert_eq!(inside(&bench), Piece::Two);
    bench.get_by_label("piece 4 inside").click();
    bench.run();
    assert_eq!(inside(&bench), Piece::Four);
    bench.key_press(Key::I);
    bench.run();
    assert_eq!(inside(&bench), Piece::One);
    for _ in 0..4 {
        undo(&mut bench);
    }
    assert_eq!(text(bench.state().project()), before);
}

#[test]
fn a_click_on_a_piece_of_the_upright_leg_turns_it_inside() {
    let mut bench = at_fit(Project::new());
    let leg = bench.get_by_label("upright leg with what is fitted").rect();
    bench.hover_at(leg.center() - vec2(17.0, 0.0));
    bench.run();
    press(&mut bench, leg.center() - vec2(17.0, 0.0));
    release(&mut bench, leg.center() - vec2(17.0, 0.0));
    bench.run();
    assert_ne!(bench.state().project().designs[0].fit.inside, Piece::One);
}

#[test]
fn a_pipe_of_the_table_gives_its_chamfer_and_is_taken_out_again() {
    let mut bench = at_fit(Project::new());
    let before = text(bench.state().project());
    bench.get_by_label("pipe").click();
    bench.run();
    bench.get_by_label_contains("1/8 IP").click();
    bench.run();
    let pipe = bench.state().project().designs[0].fit.pipe.clone().unwrap();
    // The trade name is not the diameter (ASME B1.20.1 pipe, .405 in outside); the hole is 7/16 in, and the chamfer's leg
    // is 0.7071 of it: .3094 in.
    assert!((pipe.outside.mm() - 0.405 * 25.4).abs() < 1e-9);
    assert!(bench.query_by_label_contains("7.86 mm along each face").is_some());
    undo(&mut bench);
    assert_eq!(text(bench.state().project()), before);
}

#[test]
fn several_shelves_are_made_by_their_heights_and_a_wrong_list_says_why() {
    let mut bench = at_fit(fitted([FitPart::AddNotch(Notch::apron(60.0))]));
    let before = text(bench.state().project());
    bench.get_by_label("By heights…").click();
    bench.run();
    let field = "several notches, heights from the floor";
    bench.get_by_label(field).focus();
    bench.run();
    bench.get_by_label(field).type_text("120; 300; 480");
    bench.key_press(Key::Enter);
    bench.run();
    bench.get_by_label("Make the shelves").click();
    bench.run();
    let want = [0.0, 700.0 - 480.4, 700.0 - 300.4, 700.0 - 120.4];
    for (is, want) in notches(&bench).iter().zip(want) {
        assert!((is - want).abs() < 1e-9, "{is} for {want}");
    }
    assert_eq!(notches(&bench).len(), 4);
    undo(&mut bench);
    assert_eq!(text(bench.state().project()), before);
}

#[test]
fn a_finding_about_the_fit_offers_the_change_that_clears_it() {
    let mut bench = at_fit(fitted([FitPart::Post(120.0.into())]));
    bench.get_by_label_contains("The post is not straight");
    let fix = bench.get_by_label_contains("Give both cuts a straight post");
    fix.click();
    bench.run();
    assert!(bench.query_by_label_contains("The post is not straight").is_none());
    undo(&mut bench);
    assert!(bench.query_by_label_contains("The post is not straight").is_some());
}

#[test]
fn spacers_at_hand_are_typed_and_one_is_noted_for_every_notch_that_has_none() {
    let shelves = [(200.0, 18.0), (400.0, 12.0)].map(|(from, board)| FitPart::AddNotch(Notch::shelf(from, board, 0.4)));
    let mut bench = at_fit(fitted(shelves));
    let before = text(bench.state().project());
    let spacers = |bench: &Bench| -> Vec<f64> {
        bench.state().project().designs[0].fit.spacers.iter().map(cornerwise_geometry::Length::mm).collect()
    };
    bench.get_by_label("fit, spacers at hand").focus();
    bench.run();
    bench.get_by_label("fit, spacers at hand").type_text("18.4; 30");
    bench.key_press(Key::Enter);
    bench.run();
    assert_eq!(spacers(&bench), [18.4, 30.0]);
    assert!(bench.query_by_label_contains("None for notch 2").is_some());
    bench.get_by_label("Note one for each").click();
    bench.run();
    assert_eq!(spacers(&bench), [18.4, 30.0, 12.4]);
    assert!(bench.query_by_label_contains("There is one for every notch").is_some());
    undo(&mut bench);
    undo(&mut bench);
    assert_eq!(text(bench.state().project()), before);
}

#[test]
fn the_ends_of_the_lines_are_snapped_to_the_middle_beside_the_pipe() {
    let aside = Edit::SetShape {
        design: DesignId(1),
        cut: cornerwise_geometry::Cut::First,
        shape: cornerwise_geometry::Shape::Straight { aside: 3.0.into() },
    };
    let mut bench = at_fit(Project::new().apply(&aside).unwrap());
    bench.get_by_label("pipe").click();
    bench.run();
    bench.get_by_label_contains("1/8 IP").click();
    bench.run();
    let before = text(bench.state().project());
    bench.get_by_label("Snap the lines' ends to the middle").click();
    bench.run();
    let design = &bench.state().project().designs[0];
    let leg = design.leg().unwrap();
    for s in [0.0, leg.length_mm] {
        assert!((leg.a(s) - leg.width_mm / 2.0).abs() < 1e-9 && (leg.b(s) - leg.depth_mm / 2.0).abs() < 1e-9);
    }
    assert!(bench.query_by_label("Snap the lines' ends to the middle").is_none());
    undo(&mut bench);
    assert_eq!(text(bench.state().project()), before);
}
