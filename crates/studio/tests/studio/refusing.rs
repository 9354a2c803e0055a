//! What is refused says so, in words that help, and stands in nobody's way.

use cornerwise_project::{DesignId, Edit, Project};
use cornerwise_wood::{BlockPreset, SeamFit, Species, SpeciesRow, Timber, Wood};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::bench::{Bench, studio};
use crate::typing::type_into;

const A: DesignId = DesignId(1);

fn of(wood: Wood) -> Project {
    Project::new().apply(&Edit::SetWood { design: A, wood }).unwrap()
}

fn timber(x: f64, y: f64) -> Wood {
    Wood::Timber(Timber::new(Species::Oak, x.into(), y.into(), 3.0.into()))
}

fn tall(project: Project) -> Bench {
    let mut bench = studio(project);
    bench.set_size(egui::vec2(1280.0, 1500.0));
    bench.run();
    bench
}

fn says(bench: &Bench, words: &str) -> bool {
    bench.query_all_by_label_contains(words).next().is_some()
}

#[test]
fn an_own_wood_s_name_that_is_taken_or_empty_is_refused_with_a_word() {
    let row = SpeciesRow { name: "bog oak".to_owned(), ..Species::Oak.row().clone() };
    let mut bench = studio(Project::new().apply(&Edit::AddOwnWood { row: Box::new(row) }).unwrap());
    bench.key_press_modifiers(Modifiers::SHIFT, Key::W);
    bench.run();
    let field = "own wood, name";
    for (typed, words) in [
        ("ash", "Not taken: bog oak: there is another wood of the name \"ash\": each needs a name of its own"),
        (" ", "Not taken: a wood needs a name: type one, or Esc to keep bog oak"),
    ] {
        type_into(&mut bench, field, typed);
        assert!(says(&bench, words), "{typed}");
        assert_eq!(bench.state().project().own_woods[0].name, "bog oak");
        bench.key_press(Key::Escape);
        bench.run();
        assert_eq!(bench.get_by_label(field).value().as_deref(), Some("bog oak"));
    }
    type_into(&mut bench, field, "black oak");
    assert_eq!(bench.state().project().own_woods[0].name, "black oak");
    assert_eq!(bench.state().history().undo_label(), Some("Call the wood bog oak black oak"));
    type_into(&mut bench, "own wood, gravity", "-3");
    assert!(says(&bench, "Not taken: black oak: Gravity is -3: it must be 0.05 to 1.5"));
    // No caption wraps: fields of a row stand in line.
    let top = |name: &str| bench.get_by_label(name).rect().top();
    for row in [
        &["gravity", "bending, mpa", "stiffness, mpa"][..],
        &["compression, mpa", "shear, mpa"],
        &["shrinks radially, %", "tangentially, %"],
    ] {
        for name in row {
            assert_eq!(top(&format!("own wood, {name}")), top(&format!("own wood, {}", row[0])), "{name}");
        }
    }
}

/// The note covered the fields that follow, stayed there, and took the clicks that were meant for them.
#[test]
fn the_note_about_a_wrong_entry_stands_in_nobody_s_way() {
    let mut bench = tall(of(timber(20.0, 90.0)));
    type_into(&mut bench, "timber, variation", "0.8");
    let words = "Not taken: the rings' variation is 0.8: it must be 0 to 0.45";
    let note = bench.get_by_label_contains(words).rect();
    for next in ["wobble", "taper", "lean across", "lean deep", "late wood"] {
        let field = bench.get_by_label(&format!("timber, {next}")).rect();
        assert!(!note.expand(7.0).intersects(field), "{next}: {note:?} {field:?}");
    }
    type_into(&mut bench, "timber, lean across", "0.02");
    let Wood::Timber(timber) = bench.state().project().designs[0].wood.clone() else { unreachable!("timber") };
    assert_eq!(timber.lean_x, 0.02);
    assert!(!says(&bench, "Not taken"));
    // The field is still marked, and tells why where it is pointed at.
    assert_eq!(bench.get_by_label("timber, variation").value().as_deref(), Some("0.8"));
    let at = bench.get_by_label("timber, variation").rect().center();
    bench.hover_at(at);
    bench.run();
    assert!(says(&bench, words));
    // What the note covers is clicked through it.
    type_into(&mut bench, "timber, wobble", "99");
    let note = bench.get_by_label_contains("Not taken: the rings' wobble").rect();
    let under = bench.get_by_label("pith").rect();
    assert!(note.is_positive() && under.is_positive());
    bench.hover_at(note.center());
    bench.drag_at(note.center());
    bench.drop_at(note.center());
    bench.run();
    assert!(!says(&bench, "Not taken: the rings' wobble"), "a click elsewhere takes it away");
}

#[test]
fn a_range_that_is_told_is_the_true_one() {
    let mut bench = tall(of(timber(20.0, 90.0)));
    type_into(&mut bench, "timber, late wood", "2");
    assert!(says(&bench, "it must be 0.05 to 0.95, or 0 to leave it to the wood"));
    bench.key_press(Key::Escape);
    bench.run();
    bench.key_press_modifiers(Modifiers::SHIFT, Key::L);
    bench.run();
    type_into(&mut bench, "limits, jump, good to", "0.5");
    assert!(says(&bench, "Not taken: jump, good to is 0.5: it must be 0 to 0.3 (where bad begins)"));
    bench.key_press(Key::Escape);
    bench.run();
    type_into(&mut bench, "limits, flat to", "70");
    assert!(says(&bench, "Not taken: flat to is 70°: it must be 0° to 60° (where quarter begins)"));
}

/// The pith was held in the picture each way by itself, so that one far to the right was shown in the corner.
#[test]
fn a_far_pith_is_shown_where_it_lies_and_its_words_cover_nothing() {
    for (x, y) in [(5000.0, 106.8), (-60.0, -80.0), (24.0, -3000.0), (-4000.0, 4000.0), (25.0, 25.0), (25.0, 2.0)] {
        let bench = tall(of(timber(x, y)));
        let view = bench.get_by_label("top end of the blank").rect();
        let words = bench.query_by_label("pith, farther out that way");
        let words = words.unwrap_or_else(|| bench.get_by_label("the pith, in sight")).rect();
        let grip = bench.get_by_label("pith").rect();
        let ring = egui::Rect::from_center_size(grip.center(), egui::vec2(14.0, 14.0));
        assert!(!ring.intersects(words) && view.contains_rect(words), "{x} {y}: {ring:?} {words:?}");
        let seen = (grip.center() - view.center()).angle();
        let truly = egui::vec2(x as f32 - 25.0, y as f32 - 25.0);
        if truly.length() > 1.0 {
            assert!((seen - truly.angle()).abs() < 0.02, "{x} {y}: {seen} for {}", truly.angle());
        }
    }
}

#[test]
fn columns_outside_the_blank_are_told_and_so_is_a_count_made_even() {
    let woods = [Species::Maple, Species::Walnut];
    let blocks = BlockPreset::Brick.build([50.0, 50.0], 4, SeamFit::AsAsked, woods).spelled_out([50.0, 50.0], 700.0);
    let mut bench = tall(of(Wood::Blocks(blocks)));
    assert!(!says(&bench, "outside the blank"));
    type_into(&mut bench, "blocks, column width", "60");
    assert!(says(&bench, "Columns 2 to 4 lie outside the blank, across face 1"));
    assert_eq!(bench.state().history().undo_label(), Some("Change the width of column 1"));
    bench.get_by_label("fewer columns").click();
    bench.run();
    assert!(says(&bench, "Made even: 4 columns (3 where they climb)"));
}

#[test]
fn plywood_has_both_faces_alike() {
    let mut bench = tall(of(timber(20.0, 90.0)));
    bench.get_by_label("Layers").click();
    bench.run();
    bench.get_by_label("Plywood").click();
    bench.run();
    assert!(says(&bench, "33 plies: both faces run along"));
    assert_eq!(bench.state().history().undo_label(), Some("Make it plywood"));
}
