//! How much lumber a blank is.

use crate::{Blank, MM_PER_INCH};

/// Board feet of a blank, spare length included: 1 ft by 1 ft by 1 in, 144 cubic inches. Stock under an inch thick counts as
/// an inch.
pub fn board_feet(blank: &Blank) -> f64 {
    let inches = |mm: f64| mm / MM_PER_INCH;
    let (width, depth) = (inches(blank.width.mm()), inches(blank.depth.mm()));
    let (thick, wide) = (width.min(depth).max(1.0), width.max(depth));
    thick * wide * inches(blank.length.mm() + blank.spare_top.mm() + blank.spare_foot.mm()) / 144.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// 1 by 9 by 96 in is 6 board feet, 1 1/2 by 9 by 96 is 9 (woodworkingtips.com, etip04); 2 by 2 by 30 is 0.8333. A
    /// half-inch board counts as an inch (goodwoodcorp.com, hardwood terms).
    #[test]
    fn board_feet_are_those_of_the_published_examples() {
        let of = |thick: f64, wide: f64, long: f64| {
            let mm = |inches: f64| (inches * MM_PER_INCH).into();
            let none = 0.0.into();
            board_feet(&Blank {
                width: mm(thick),
                depth: mm(wide),
                length: mm(long - 1.0),
                spare_top: mm(1.0),
                spare_foot: none,
                out_of_true: crate::OutOfTrue::default(),
            })
        };
        assert_relative_eq!(of(1.0, 9.0, 96.0), 6.0, epsilon = 1e-9);
        assert_relative_eq!(of(1.5, 9.0, 96.0), 9.0, epsilon = 1e-9);
        assert_relative_eq!(of(2.0, 2.0, 30.0), 0.833_333, epsilon = 1e-6);
        assert_relative_eq!(of(0.5, 9.0, 96.0), 6.0, epsilon = 1e-9);
    }
}
