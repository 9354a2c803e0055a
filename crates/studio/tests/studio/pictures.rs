//! Pictures of the window, from a renderer that is the same everywhere. Asserted by what is in them.

use std::io::{self, Write};
use std::panic;

use cornerwise_geometry::Length;
use cornerwise_project::{DesignId, Edit, Project};
use cornerwise_studio::app::Studio;
use cornerwise_wood::{Layer, Layers, Species, Wood};
use egui::{Key, Pos2, Rect, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use egui_kittest::wgpu::{WgpuTestRenderer, create_render_state, default_wgpu_setup};

use crate::bench::{Bench, drag, middle, points, press, release, rest};

/// CI sets it: then a picture that cannot be drawn is a failure.
const REQUIRED: &str = "CORNERWISE_REQUIRE_PICTURES";

/// A renderer on a software Vulkan and on nothing else: with a GL driver present, another one would be taken silently,
/// and it draws other pixels.
fn software_vulkan() -> Option<WgpuTestRenderer> {
    let state = panic::catch_unwind(|| create_render_state(default_wgpu_setup(), Default::default())).ok()?;
    let info = state.adapter.get_info();
    let software = format!("{:?}", info.device_type) == "Cpu" && format!("{:?}", info.backend) == "Vulkan";
    software.then(|| WgpuTestRenderer::from_render_state(state))
}

/// A studio whose frames can be drawn; nothing, and a loud word, where they cannot.
fn studio_with_pictures(project: Project) -> Option<Bench> {
    let Some(renderer) = software_vulkan() else {
        let words =
            format!("picture tests SKIPPED: no software Vulkan (Debian: mesa-vulkan-drivers). {REQUIRED}=1 insists");
        // `eprintln!` is swallowed in a test that passes.
        let _ = writeln!(io::stderr(), "{words}");
        assert!(std::env::var_os(REQUIRED).is_none_or(|value| value != "1"), "{words}");
        return None;
    };
    let mut bench = Harness::builder()
        .with_size(vec2(1280.0, 800.0))
        .with_step_dt(1.0 / 60.0)
        .with_max_steps(64)
        .with_theme(egui::Theme::Light)
        .renderer(renderer)
        .build_eframe(|creation| Studio::new(&creation.egui_ctx, project, None));
    bench.run();
    rest(&mut bench);
    Some(bench)
}

/// The frame's pixels, and how to ask for them.
struct Picture {
    width: usize,
    rgba: Vec<u8>,
}

impl Picture {
    fn of(bench: &mut Bench) -> Picture {
        bench.remove_cursor();
        bench.run();
        let image = bench.render().unwrap();
        Picture { width: image.width() as usize, rgba: image.into_raw() }
    }

    fn at(&self, at: Pos2) -> [u8; 3] {
        let start = 4 * (at.y as usize * self.width + at.x as usize);
        [self.rgba[start], self.rgba[start + 1], self.rgba[start + 2]]
    }

    fn brightness(&self, area: Rect) -> f64 {
        let pixels = self.pixels(area);
        let sum: f64 = pixels.iter().map(|c| c.iter().map(|v| f64::from(*v)).sum::<f64>() / 3.0).sum();
        sum / pixels.len() as f64
    }

    fn pixels(&self, area: Rect) -> Vec<[u8; 3]> {
        let (xs, ys) = (area.left() as usize..area.right() as usize, area.top() as usize..area.bottom() as usize);
        ys.flat_map(|y| xs.clone().map(move |x| (x, y))).map(|(x, y)| self.at(Pos2::new(x as f32, y as f32))).collect()
    }

    /// Brown: red well above blue, which nothing but wood is within the canvas of the leg.
    fn wood(&self, area: Rect) -> Vec<bool> {
        self.pixels(area).into_iter().map(|[r, _, b]| i32::from(r) > i32::from(b) + 20).collect()
    }
}

#[test]
fn the_leg_is_there_in_wood_and_moves_with_a_dragged_point() {
    let Some(mut bench) = studio_with_pictures(points()) else { return };
    let leg = bench.get_by_label("upright leg").rect();
    let before = Picture::of(&mut bench);
    let wood = before.wood(leg);
    let covered = wood.iter().filter(|w| **w).count() as f64;
    // 700 mm by 50 mm at the scale that fills the height; seen from a corner it is wider than one side.
    let px_per_mm = f64::from(leg.height() - 28.0) / 740.0;
    let least = 0.8 * 700.0 * 50.0 * px_per_mm * px_per_mm;
    assert!(covered > least && covered < 2.2 * least, "{covered} pixels of wood, at least {least}");
    let at = middle(&bench, "first cut, point 2");
    press(&mut bench, at);
    drag(&mut bench, at, vec2(0.0, -60.0), 4, |_| {});
    release(&mut bench, at - vec2(0.0, 60.0));
    bench.run();
    rest(&mut bench);
    let after = Picture::of(&mut bench);
    let moved = after.wood(leg).iter().zip(&wood).filter(|(a, b)| a != b).count();
    assert!(moved > 300, "only {moved} pixels of the outline moved");
    let same = after.wood(leg).iter().filter(|w| **w).count() as f64;
    assert!((same / covered - 1.0).abs() < 0.12, "the leg keeps its size: {covered} and {same}");
    bench.key_press_modifiers(egui::Modifiers::COMMAND, Key::Z);
    bench.run();
    rest(&mut bench);
    assert_eq!(Picture::of(&mut bench).wood(leg), wood, "undone, it looks as before");
}

/// Maple from arris 1 to the middle of face 1, then walnut: standing layers, so left and right cannot be mistaken.
fn two_woods() -> Project {
    let layer = |species| Layer { species, thickness: 25.0.into() };
    let wood =
        Wood::Layers(Layers::new(vec![layer(Species::Maple), layer(Species::Walnut)], 90.0, 0.0, Length::from_mm(0.0)));
    let design = DesignId(1);
    let straight = |cut| {
        let shape = cornerwise_geometry::Shape::start(cornerwise_geometry::ShapeKind::Straight, 700.0, 50.0);
        Edit::SetShape { design, cut, shape }
    };
    let edits = [
        Edit::SetWood { design, wood },
        straight(cornerwise_geometry::Cut::First),
        straight(cornerwise_geometry::Cut::Second),
    ];
    edits.iter().fold(Project::new(), |project, edit| project.apply(edit).unwrap())
}

#[test]
fn nothing_on_screen_is_a_mirror_image() {
    let Some(mut bench) = studio_with_pictures(two_woods()) else { return };
    bench.key_press(Key::F5);
    bench.run();
    bench.state_mut().view_mut().turn_deg = 0.0;
    bench.state_mut().view_mut().tilt_deg = 0.0;
    bench.run();
    rest(&mut bench);
    let picture = Picture::of(&mut bench);
    let small = |at: Pos2| Rect::from_center_size(at, vec2(8.0, 8.0));
    // Face 1: maple at arris 1, which is up; walnut at arris 2. Face 2 is all walnut.
    let line = middle(&bench, "first cut, point 1");
    let along = vec2(150.0, 0.0);
    let (up, down) = (line + along - vec2(0.0, 30.0), line + along + vec2(0.0, 30.0));
    assert!(picture.brightness(small(up)) > picture.brightness(small(down)) + 25.0);
    let second = middle(&bench, "second cut, point 1") + along;
    assert!((picture.brightness(small(second + vec2(0.0, 30.0))) - picture.brightness(small(down))).abs() < 12.0);
    // Side 1 upright, seen squarely: piece 1, with arris 1 at the seam, is on the right.
    let leg = bench.get_by_label("upright leg").rect();
    let seam = Pos2::new(leg.center().x, leg.center().y);
    let beside = |dx: f32| picture.brightness(small(seam + vec2(dx, 0.0)));
    assert!(beside(8.0) > beside(-8.0) + 60.0, "{} {}", beside(8.0), beside(-8.0));
    // The same side in its row, top end left: piece 1 is the upper half, maple.
    let sides = bench.get_by_label("sides 1 to 4").rect();
    let first = Rect::from_min_size(sides.min, vec2(sides.width(), sides.height() / 4.0));
    let bright: Vec<f64> = (0..first.height() as usize)
        .map(|y| picture.brightness(Rect::from_min_size(first.min + vec2(300.0, y as f32), vec2(20.0, 1.0))))
        .collect();
    let wood: Vec<usize> = bright.iter().enumerate().filter(|(_, b)| **b < 215.0).map(|(y, _)| y).collect();
    let (top, bottom) = (wood[0], wood[wood.len() - 1]);
    let quarter = (bottom - top) / 4;
    assert!(bright[top + quarter] > bright[bottom - quarter] + 60.0, "{bright:?}");
}

#[test]
fn paper_is_white_with_ink_on_it() {
    let Some(mut bench) = studio_with_pictures(points()) else { return };
    bench.key_press(Key::F4);
    bench.run();
    let page = bench.get_by_label_contains("page 2 of").rect();
    let pixels = Picture::of(&mut bench).pixels(page.shrink(4.0));
    let white = pixels.iter().filter(|c| **c == [255, 255, 255]).count();
    let dark = pixels.iter().filter(|[r, g, b]| r.max(g).max(b) < &110).count();
    assert!(white * 10 > pixels.len() * 6, "{white} of {}", pixels.len());
    assert!(dark > 500, "{dark}");
}
