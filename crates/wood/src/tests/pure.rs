//! Reading a wood is a pure function that never fails.

use cornerwise_geometry::{BlankPoint, Length, Surface};
use proptest::prelude::*;

use super::{layered, timber};
use crate::{Block, Blocks, Column, Layer, Layers, SeamLimits, Species, Timber, Wood, compare_seams};

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => -1e3..1e3f64,
        1 => any::<f64>(),
        1 => prop::sample::select(vec![0.0, -0.0, f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300, -1e300]),
    ]
}

fn any_wood() -> impl Strategy<Value = Wood> {
    let species = prop::sample::select(Species::ALL.to_vec());
    let layer = (species.clone(), any_number()).prop_map(|(species, mm)| Layer { species, thickness: mm.into() });
    let layers = (prop::collection::vec(layer, 0..5), any_number(), any_number(), any_number()).prop_map(
        |(layers, lean_deg, toward_deg, shift)| Wood::Layers(Layers::new(layers, lean_deg, toward_deg, shift.into())),
    );
    let crooked = prop::collection::vec(any_number(), 5);
    let timber = (species, any_number(), any_number(), any_number(), crooked).prop_map(|(species, x, y, ring, c)| {
        Wood::Timber(Timber {
            variation: c[0],
            lean_x: c[1],
            lean_y: c[2],
            taper: c[3],
            wobble: c[4],
            ..Timber::new(species, x.into(), y.into(), ring.into())
        })
    });
    let block = (prop::sample::select(Species::ALL.to_vec()), any_number())
        .prop_map(|(species, mm)| Block { species, height: mm.into() });
    let column = (prop::collection::vec(block, 0..4), any_number())
        .prop_map(|(blocks, shift)| Column { blocks, shift: shift.into() });
    let sizes = || prop::collection::vec(any_number().prop_map(|mm| mm.into()), 0..4);
    let offsets = prop::collection::vec(any_number().prop_map(Length::from_mm), 4);
    let blocks = (sizes(), sizes(), offsets, prop::collection::vec(column, 0..6)).prop_map(
        |(widths, depths, mut offsets, columns)| {
            let mut next = || offsets.pop().unwrap();
            Wood::Blocks(Blocks {
                widths,
                depths,
                shift_across: next(),
                shift_deep: next(),
                rise_across: next(),
                rise_deep: next(),
                columns,
            })
        },
    );
    prop_oneof![layers, timber, blocks]
}

proptest! {
    /// Any numbers, checked or not, give some wood, twice the same, without a panic.
    #[test]
    fn any_wood_can_be_read_anywhere(wood in any_wood(), x in any_number(), y in any_number(), s in any_number()) {
        let _ = wood.check();
        for surface in Surface::ALL {
            let p = BlankPoint { x, y, s };
            prop_assert_eq!(wood.at(p, surface), wood.at(p, surface));
        }
    }

    /// Even a wood that was never checked can be compared.
    #[test]
    fn any_wood_can_be_compared(wood in any_wood()) {
        for answer in compare_seams(&super::cyma_leg(20.0, 20.0, 60.0, 6.0, 0.5), &wood, &SeamLimits::default()) {
            prop_assert!((0.0..=1.0).contains(&answer.lines_meet));
        }
    }
}

#[test]
fn lists_that_look_alike_paint_alike() {
    let once = layered(&[(Species::Maple, 5.0), (Species::Walnut, 7.0)], 20.0, 10.0, 1.0);
    let thrice = layered(&[(Species::Maple, 5.0), (Species::Walnut, 7.0)].repeat(3), 20.0, 10.0, 1.0);
    for i in 0..500 {
        let p = BlankPoint { x: 0.1 * f64::from(i), y: 30.0, s: 1.3 * f64::from(i) };
        for surface in Surface::ALL {
            assert_eq!(once.at(p, surface), thrice.at(p, surface));
        }
    }
}

#[test]
fn rings_are_numbered_outward_from_the_pith_by_about_one_a_ring_width() {
    let wood = timber(0.0, 0.0, 2.5);
    let ring = |x: f64| wood.at(BlankPoint { x, y: 0.0, s: 100.0 }, Surface::ALL[0]).line;
    for i in 0..400 {
        let x = 0.25 * f64::from(i);
        assert!((ring(x) as f64 - x / 2.5).abs() < 2.5, "{x}: ring {}", ring(x));
        assert!((0..=1).contains(&(ring(x + 0.25) - ring(x))));
    }
}
