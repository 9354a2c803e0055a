//! Where knots end up, against a blank that is really cut into small cubes: each cube is in the knot or not by plain
//! arithmetic on what the maker marked, the pieces are rotated, and the sides are looked at.

use cornerwise_geometry::{BlankPoint, Face, Shape, Side};
use cornerwise_wood::Knot;

use crate::cases::Case;
use crate::cubes;

/// Whether a cube's middle lies in a knot: a round bar that slopes, by the words that a knot is documented with.
fn in_knot(knot: &Knot, [width, depth]: [f64; 2], p: BlankPoint) -> bool {
    let (across, inward) = match knot.face {
        Face::One => (p.x, p.y),
        Face::Two => (p.y, width - p.x),
        Face::Three => (width - p.x, depth - p.y),
        Face::Four => (depth - p.y, p.x),
    };
    let off_across = across - (knot.from_arris.mm() + knot.slope_across * inward);
    let off_along = p.s - (knot.from_top.mm() + knot.slope_along * inward);
    inward <= knot.depth.mm() && off_across.hypot(off_along) <= 0.5 * knot.size.mm()
}

/// The same knot, thicker and deeper by so much all round, mm; thinner and shallower where it is negative.
fn grown(knot: &Knot, more_mm: f64) -> Knot {
    let size = (knot.size.mm() + 2.0 * more_mm).max(0.0);
    Knot { size: size.into(), depth: (knot.depth.mm() + more_mm).into(), ..knot.clone() }
}

#[test]
fn knots_show_where_cubes_of_them_do() {
    let cyma = |swing: f64, turn| Shape::Cyma { swing: swing.into(), turn, aside: 0.0.into() };
    let case = Case::new("knotty", [48.0, 36.0, 150.0], cyma(14.0, 0.45), cyma(9.0, 0.6));
    let size = [48.0, 36.0];
    let [coarse, fine] = [1.0, 0.25];
    let [coarse_sides, fine_sides] = [coarse, fine].map(|cube_mm| cubes::sides(&case, cube_mm));
    let mut seen = 0;
    let mut wide = 0.0_f64;
    for (i, face) in Face::ALL.into_iter().cycle().take(24).enumerate() {
        let i = i as f64;
        let knot = Knot {
            size: (6.0 + (i * 1.7) % 9.0).into(),
            slope_along: (i * 0.37) % 1.4 - 0.7,
            slope_across: (i * 0.29) % 1.0 - 0.5,
            ..Knot::new(
                face,
                (15.0 + (i * 17.3) % 120.0).into(),
                (5.0 + (i * 7.9) % 30.0).into(),
                (6.0 + (i * 9.1) % 42.0).into(),
            )
        };
        let ends = knot.ends(&case.leg);
        for (side, (fine_side, coarse_side)) in Side::ALL.into_iter().zip(fine_sides.iter().zip(&coarse_sides)) {
            let told = ends.shows.iter().filter(|shows| shows.side == side);
            let told: f64 = told.map(|shows| shows.to_mm - shows.from_mm).sum();
            // Cubes lie up to a cube off the surface. So the knot must show at least as far as cubes show one that is smaller
            // by a cube all round, and at most as far as they show a larger one; two levels more for the ends.
            for (cubes_of, cube_mm) in [(fine_side, fine), (coarse_side, coarse)] {
                let [at_least, at_most] = [-cube_mm, cube_mm].map(|more| {
                    let near = grown(&knot, more);
                    let shows = |cubes: &Vec<BlankPoint>| cubes.iter().any(|cube| in_knot(&near, size, *cube));
                    let levels = cubes_of.levels.iter().filter(|(_, cubes)| shows(cubes));
                    levels.count() as f64 * cube_mm + more.signum() * 2.0 * cube_mm
                });
                assert!(
                    (at_least..=at_most).contains(&told),
                    "{side}: {told:.2} mm told, {at_least:.2} to {at_most:.2} by cubes of {cube_mm}: {knot:?}"
                );
                wide = wide.max(at_most - at_least);
            }
            seen += usize::from(told > 1.0);
        }
        assert_eq!(ends.is_hidden(), ends.sawn_by.is_empty());
    }
    assert!(seen > 20, "{seen} of 96 sides show a knot: too few to tell");
}
