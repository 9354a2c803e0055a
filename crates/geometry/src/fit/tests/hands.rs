//! The hands rule, against mirrored sections.

use super::{arch, cyma, leg_of, start, straight};
use crate::fit::{Mirror, mirror};
use crate::{Leg, Line, Piece, ShapeKind};

/// With one curve on both faces, a leg is its own mirror when piece 1 or 3 is inside; with 2 or 4 inside it is the mirror
/// of the leg with 4 or 2 inside. Unequal cuts need left and right legs. Common practice, no source.
#[test]
fn the_rule_of_the_trade() {
    let equal = leg_of([50.0, 50.0, 700.0], &cyma(20.0), &cyma(20.0));
    assert_eq!(
        Piece::ALL.map(|inside| mirror(&equal, inside)),
        [Mirror::Itself, Mirror::WithInside(Piece::Four), Mirror::Itself, Mirror::WithInside(Piece::Two)]
    );
    let unequal = leg_of([50.0, 50.0, 700.0], &cyma(20.0), &arch(10.0));
    assert_eq!(Piece::ALL.map(|inside| mirror(&unequal, inside)), [Mirror::OtherHand; 4]);
    let oblong = leg_of([50.0, 44.0, 700.0], &cyma(20.0), &cyma(20.0));
    assert_eq!(mirror(&oblong, Piece::One), Mirror::OtherHand);
}

/// Four numbers tell a square section: how far it reaches from the axis to -u, +u, -v, +v.
fn reaches(leg: &Leg, s: f64) -> [f64; 4] {
    [leg.a(s), leg.width_mm - leg.a(s), leg.b(s), leg.depth_mm - leg.b(s)]
}

/// Places a leg with a piece toward (-u, -v) by quarter turns and says how far it reaches.
fn standing(leg: &Leg, inside: Piece, s: f64) -> [f64; 4] {
    let [u0, u1, v0, v1] = reaches(leg, s);
    // A quarter turn from u toward v takes -u to -v, +u to +v, -v to +u, +v to -u; pieces 4, 3 and 2 (at -u+v, +u+v and
    // +u-v) come to -u-v after one, two and three of them.
    match inside {
        Piece::One => [u0, u1, v0, v1],
        Piece::Four => [v1, v0, u0, u1],
        Piece::Three => [u1, u0, v1, v0],
        Piece::Two => [v0, v1, u1, u0],
    }
}

/// The answer, found the long way: a mirror in the diagonal through the inside corner changes u and v.
fn by_sections(leg: &Leg, inside: Piece) -> Mirror {
    let same = |other: Piece| {
        leg.uniform_stations(301).into_iter().all(|s| {
            let [u0, u1, v0, v1] = standing(leg, inside, s);
            let mirrored = [v0, v1, u0, u1];
            standing(leg, other, s).iter().zip(mirrored).all(|(p, q)| (p - q).abs() < 1e-2)
        })
    };
    if same(inside) {
        return Mirror::Itself;
    }
    Piece::ALL.into_iter().find(|other| same(*other)).map_or(Mirror::OtherHand, Mirror::WithInside)
}

#[test]
fn any_leg_against_its_mirrored_sections() {
    let opposite = |line: &Line| match line {
        Line::Shape(crate::Shape::Cyma { swing, turn, aside }) => {
            Line::Shape(crate::Shape::Cyma { swing: (-swing.mm()).into(), turn: *turn, aside: (-aside.mm()).into() })
        }
        other => other.clone(),
    };
    let knee = start(ShapeKind::PostAndKnee, 700.0, 50.0);
    let cases = [
        ([50.0, 50.0], cyma(20.0), cyma(20.0)),
        ([50.0, 50.0], cyma(20.0), opposite(&cyma(20.0))),
        ([50.0, 50.0], cyma(20.0), straight(0.0)),
        ([50.0, 50.0], straight(0.0), arch(9.0)),
        ([50.0, 44.0], straight(0.0), arch(9.0)),
        ([50.0, 44.0], cyma(12.0), straight(0.0)),
        ([50.0, 50.0], cyma(20.0), straight(2.0)),
        ([50.0, 50.0], straight(0.0), straight(0.0)),
        ([50.0, 50.0], knee.clone(), knee.clone()),
        ([50.0, 50.0], knee, cyma(8.0)),
    ];
    let mut kinds = [0; 3];
    for ([width, depth], first, second) in cases {
        let leg = leg_of([width, depth, 700.0], &first, &second);
        for inside in Piece::ALL {
            let told = mirror(&leg, inside);
            let long = by_sections(&leg, inside);
            let agree = match (told, long) {
                // Two pieces may answer when the leg repeats itself as it turns.
                (Mirror::WithInside(_), Mirror::WithInside(_)) => true,
                (told, long) => told == long,
            };
            assert!(agree, "{told:?} for {long:?}: {first:?}, {second:?}, {inside}");
            kinds[match told {
                Mirror::Itself => 0,
                Mirror::WithInside(_) => 1,
                Mirror::OtherHand => 2,
            }] += 1;
        }
    }
    assert!(kinds.iter().all(|count| *count >= 4), "{kinds:?}");
}
