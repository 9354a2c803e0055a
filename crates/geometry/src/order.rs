//! The order in which facets are painted so that what is near covers what is far.

use crate::{Camera, Cut, Facets, Piece, Stage};

/// The numbers of the facets that face the camera, back to front: painted in this order, each covers only what it
/// really hides. Exact for every direction, the axis itself included; there is no depth buffer and no sorting by
/// distance. Facets turned away, or seen exactly edge-on, are left out.
///
/// Slabs lie between levels, so they go by the direction's share along s. Within a slab the pieces go by the planes that
/// part them. A piece in a slab is convex: of those of its facets that face the viewer none hides another.
pub fn draw_order(facets: &Facets, camera: &Camera) -> Vec<u32> {
    let toward = camera.toward();
    let in_blank = facets.opening().in_blank(toward);
    let mut order = Vec::with_capacity(facets.len() / 2 + 8);
    let mut add_slab = |slab: usize| {
        for piece in pieces_back_to_front(parted(facets, slab, toward)) {
            order.extend(facets.of_piece(slab, piece).filter(|&number| facets.faces(number, in_blank)));
        }
    };
    // Seen from above, toward points to smaller s: the foot is farthest.
    if toward[2] < 0.0 {
        (0..facets.slabs()).rev().for_each(&mut add_slab);
    } else {
        (0..facets.slabs()).for_each(&mut add_slab);
    }
    order
}

/// On which side of each of the two planes that part the four pieces in a slab the viewer is: above 0 on the side of
/// pieces 2 and 3, and of pieces 3 and 4.
///
/// While the cut is closed or opens, those planes are the saw cuts themselves and lean with them. Once the pieces
/// rotate, each is in its own quadrant, and the planes are u = 0 and v = 0.
fn parted(facets: &Facets, slab: usize, toward: [f64; 3]) -> [f64; 2] {
    match facets.opening().stage() {
        Stage::Blank | Stage::Parting => {
            [facets.beyond(Cut::First, slab, toward), facets.beyond(Cut::Second, slab, toward)]
        }
        Stage::Rotating | Stage::Meeting | Stage::Finished => [toward[0], toward[1]],
    }
}

/// The four pieces of a slab from the farthest to the nearest. The second and third lie across both planes from each
/// other, each nearer than the other by one of them, so neither hides the other. A plane seen edge-on hides nothing
/// either way.
fn pieces_back_to_front([across, into]: [f64; 2]) -> [Piece; 4] {
    match (across > 0.0, into > 0.0) {
        (true, true) => [Piece::One, Piece::Two, Piece::Four, Piece::Three],
        (false, true) => [Piece::Two, Piece::One, Piece::Three, Piece::Four],
        (true, false) => [Piece::Four, Piece::One, Piece::Three, Piece::Two],
        (false, false) => [Piece::Three, Piece::Two, Piece::Four, Piece::One],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{End, Facet, Opening, Side, Solved, Surface};

    fn facets(share: f64) -> Facets {
        let solved = Solved {
            width_mm: 50.0,
            depth_mm: 50.0,
            s: vec![0.0, 100.0, 200.0],
            a: vec![20.0, 30.0, 30.0],
            b: vec![25.0; 3],
        };
        Facets::new(&solved, &Opening::new(&solved, share))
    }

    #[test]
    fn every_facet_that_faces_the_viewer_once() {
        for share in [0.0, 0.4, 1.0] {
            let facets = facets(share);
            let camera = Camera::new(33.0, 21.0);
            let mut order = draw_order(&facets, &camera);
            order.sort_unstable();
            let turned = |number: &u32| {
                let outward = facets.get(*number).unwrap().outward();
                let toward = camera.toward();
                outward[0] * toward[0] + outward[1] * toward[1] + outward[2] * toward[2] > 0.0
            };
            assert_eq!(order, (0..facets.len() as u32).filter(turned).collect::<Vec<_>>());
        }
    }

    #[test]
    fn straight_down_shows_the_top_and_only_what_leans_below_it() {
        let facets = facets(1.0);
        let order = draw_order(&facets, &Camera::new(0.0, 90.0));
        let seen: Vec<_> = order.iter().map(|&number| facets.get(number).unwrap()).collect();
        // a grows in the first slab, so the leg veers toward -u there and side 4 looks up; nothing else leans.
        let count = |what: &dyn Fn(&Facet) -> bool| seen.iter().filter(|facet| what(facet)).count();
        assert_eq!(count(&|facet| facet.surface == Surface::End(End::Top)), 4);
        assert_eq!(count(&|facet| facet.side() == Some(Side::Four) && facet.slab == 0), 2);
        assert_eq!(seen.len(), 6);
    }

    #[test]
    fn the_nearest_quadrant_is_painted_last() {
        for (turn_deg, nearest) in
            [(45.0, Piece::Two), (135.0, Piece::Three), (225.0, Piece::Four), (315.0, Piece::One)]
        {
            let facets = facets(0.5);
            let order = draw_order(&facets, &Camera::new(turn_deg, 0.0));
            assert_eq!(order.last().and_then(|&number| facets.get(number)).map(|facet| facet.piece), Some(nearest));
        }
    }
}
