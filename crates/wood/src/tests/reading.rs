//! How well seams look, place by place.

use cornerwise_geometry::Cut;

use super::{cyma_leg, layered, timber};
use crate::Species::{Maple, Walnut};
use crate::{PairReading, Rating, RatingLimits, SeamLimits, Wood, read_pair};

fn read(wood: &Wood) -> PairReading {
    let leg = cyma_leg(50.0, 50.0, 700.0, 16.0, 0.45);
    read_pair(&leg, wood, Cut::Second, &SeamLimits::default(), &RatingLimits::default())
}

fn covers_the_leg(reading: &PairReading) {
    assert_eq!(reading.places.first().map(|place| place.from_mm), Some(0.0));
    assert_eq!(reading.places.last().map(|place| place.to_mm), Some(700.0));
    for pair in reading.places.windows(2) {
        assert!(pair[0].to_mm == pair[1].from_mm && pair[0].rating != pair[1].rating, "{pair:?}");
    }
    let sum: f64 = Rating::ALL.into_iter().map(|rating| reading.share(rating)).sum();
    assert!((sum - 1.0).abs() < 1e-9);
    // A share of nothing once showed as -0 %.
    assert!(Rating::ALL.into_iter().all(|rating| reading.share(rating).is_sign_positive()));
}

#[test]
fn mirrored_rings_are_good_all_along_and_nothing_jumps() {
    let reading = read(&timber(25.0, -40.0, 3.0));
    covers_the_leg(&reading);
    assert_eq!(reading.share(Rating::Good), 1.0);
    assert_eq!(reading.longest_good().map(|place| [place.from_mm, place.to_mm]), Some([0.0, 700.0]));
    let worst = reading.worst_jump().unwrap();
    assert!(worst.mm < 1e-9 && worst.ring_share.unwrap() < 1e-9);
    assert!(reading.worst_colour().unwrap()[0] < 1e-3);
}

#[test]
fn rings_off_the_middle_are_bad_somewhere_and_say_where() {
    let reading = read(&timber(-30.0, -20.0, 3.0));
    covers_the_leg(&reading);
    let worst = reading.worst_jump().unwrap();
    assert!(worst.ring_share.unwrap() > 0.45 && worst.ring_share.unwrap() <= 0.5, "{worst:?}");
    let there = reading.places.iter().find(|place| place.from_mm <= worst.at_mm && worst.at_mm <= place.to_mm).unwrap();
    assert_eq!(there.rating, Rating::Bad);
    assert!(reading.share(Rating::Good) > 0.0 && reading.share(Rating::Bad) > 0.0);
    assert!(reading.worst_colour().unwrap()[0] > 1.0);
}

#[test]
fn limits_are_the_makers() {
    let leg = cyma_leg(50.0, 50.0, 700.0, 16.0, 0.45);
    let all = RatingLimits { good_jump: 0.5, bad_jump: 0.5, good_colour: 200.0, bad_colour: 200.0 };
    let reading = read_pair(&leg, &timber(-30.0, -20.0, 3.0), Cut::Second, &SeamLimits::default(), &all);
    assert_eq!(reading.share(Rating::Good), 1.0);
    let none = RatingLimits { good_jump: f64::NAN, bad_jump: 0.0, good_colour: 0.0, bad_colour: 0.0 };
    let reading = read_pair(&leg, &timber(-30.0, -20.0, 3.0), Cut::Second, &SeamLimits::default(), &none);
    assert!(reading.share(Rating::Bad) > 0.95);
}

/// 50 mm at 30 degrees: lines climb 28.87 mm from face to face. Layers of 11 mm have lines every 12.70 mm along the leg, so
/// the nearest line of the other side is 28.87 - 2 * 12.70 = 3.46 mm away.
#[test]
fn sloping_layers_jump_by_what_is_left_of_whole_layers() {
    let reading = read(&layered(&[(Maple, 11.0), (Walnut, 11.0)], 30.0, 0.0, 0.0));
    covers_the_leg(&reading);
    let length = 11.0 / f64::to_radians(30.0).cos();
    let left = 50.0 * f64::to_radians(30.0).tan() - 2.0 * length;
    let worst = reading.worst_jump().unwrap();
    // Along the curve the layers' lines keep their distance: the lean is square to the curve's own direction.
    assert!((worst.mm - left).abs() < 1e-6, "{worst:?}, not {left}");
    assert_eq!(reading.share(Rating::Bad), 1.0);
    let level = read(&layered(&[(Maple, 11.0), (Walnut, 11.0)], 0.0, 0.0, 0.0));
    assert_eq!((level.share(Rating::Good), level.worst_jump().map(|jump| jump.mm)), (1.0, Some(0.0)));
}
