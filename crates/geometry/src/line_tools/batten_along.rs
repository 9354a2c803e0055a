use super::{FARTHEST_MM, LineToolError, greatest_distance, within};
use crate::{Batten, Holds, Line, MIN_PIN_GAP_MM, Pin, Point, PointId, SawLine};

/// The least tolerance that pins are sought for, mm: below it nothing that a saw could follow would change.
const LEAST_TOLERANCE_MM: f64 = 1e-2;

/// The most pins that are tried; a line that needs more was not drawn with a batten.
const MOST_PINS: usize = 60;

/// A batten that stays within `tolerance_mm` (at least 0.01) of the line everywhere on a leg of `length_mm`, measured
/// across the blank on the batten as it lies, along few pins: from the line's first point to its last, each on the line.
/// The end pins hold their direction only where the batten would not stay within the tolerance otherwise.
///
/// A pin is set where the batten is farthest from the line, until it is near enough; then every pin that is not needed
/// is taken away again, the one that is missed least first.
///
/// # Errors
/// [`LineToolError`] when the tolerance is not sound, the points are no saw line, the line has a sharp point, or more
/// than 60 pins would be needed.
pub fn batten_along(points: &[Point], length_mm: f64, tolerance_mm: f64) -> Result<Batten, LineToolError> {
    let tolerance_mm = within("the tolerance in mm", tolerance_mm, LEAST_TOLERANCE_MM, FARTHEST_MM)?;
    let line = SawLine::from_points(points, length_mm)?;
    if let Some(s_mm) = line.sharp_point() {
        return Err(LineToolError::SharpPoint { s_mm });
    }
    let search = Search { line, length_mm, tolerance_mm };
    let (first, last) = (&points[0], &points[points.len() - 1]);
    let end = |point: &Point, slope| Pin {
        from_top: point.from_top.clone(),
        offset: point.offset.clone(),
        holds: Holds::Direction { slope },
        id: PointId(0),
    };
    let pins = vec![end(first, first.kind.before().0), end(last, last.kind.after().0)];
    let mut pins = search.fewer(search.enough(pins)?);
    for (pin, id) in pins.iter_mut().zip(1..) {
        pin.id = PointId(id);
    }
    Ok(Batten { pins })
}

struct Search {
    line: SawLine,
    length_mm: f64,
    tolerance_mm: f64,
}

impl Search {
    /// How far the batten along these pins is from the line, and where; None where there is no such batten.
    fn miss(&self, pins: &[Pin]) -> Option<[f64; 2]> {
        let numbered = pins.iter().zip(1..).map(|(pin, id)| Pin { id: PointId(id), ..pin.clone() });
        let batten = Line::Batten(Batten { pins: numbered.collect() });
        // The width of the face makes no difference to a batten.
        let solved = batten.solve(self.length_mm, 0.0).ok()?;
        let accuracy = 1e-3 * self.tolerance_mm;
        let distance = greatest_distance(&self.line, &solved, accuracy);
        Some([distance.mm + accuracy, distance.s_mm])
    }

    /// Pins added until the batten is near enough.
    fn enough(&self, mut pins: Vec<Pin>) -> Result<Vec<Pin>, LineToolError> {
        loop {
            let place = match self.miss(&pins) {
                Some([mm, _]) if mm <= self.tolerance_mm => return Ok(pins),
                Some([_, s_mm]) => self.room(&pins, s_mm),
                // Where no batten lies along them, pins closer together lead one along the line.
                None => None,
            };
            let place = place.or_else(|| self.middle_of_widest(&pins));
            let Some((place, s_mm)) = place.filter(|_| pins.len() < MOST_PINS) else {
                return Err(LineToolError::ManyPins { tolerance_mm: self.tolerance_mm, most: MOST_PINS });
            };
            pins.insert(place, Pin::new(0, s_mm, self.line.offset(s_mm)));
        }
    }

    /// Where a new pin at a place comes in the list: in whole millimetres where there is room, in the middle between the
    /// next pins otherwise.
    fn room(&self, pins: &[Pin], s_mm: f64) -> Option<(usize, f64)> {
        let place = pins.partition_point(|pin| pin.from_top.mm() < s_mm).clamp(1, pins.len() - 1);
        let (above, below) = (pins[place - 1].from_top.mm(), pins[place].from_top.mm());
        let fits = |s: &f64| s - above >= 2.0 * MIN_PIN_GAP_MM && below - s >= 2.0 * MIN_PIN_GAP_MM;
        [s_mm.round(), s_mm, f64::midpoint(above, below)].into_iter().find(fits).map(|s| (place, s))
    }

    fn middle_of_widest(&self, pins: &[Pin]) -> Option<(usize, f64)> {
        let gap = |place: &usize| pins[*place].from_top.mm() - pins[place - 1].from_top.mm();
        let place = (1..pins.len()).max_by(|a, b| gap(a).total_cmp(&gap(b)))?;
        self.room(pins, f64::midpoint(pins[place - 1].from_top.mm(), pins[place].from_top.mm()))
    }

    /// The pins without those that are not needed, and without directions that need not be held.
    fn fewer(&self, mut pins: Vec<Pin>) -> Vec<Pin> {
        loop {
            let mut best: Option<(f64, Vec<Pin>)> = None;
            for place in 0..pins.len() {
                let mut without = pins.clone();
                if place > 0 && place + 1 < pins.len() {
                    without.remove(place);
                } else if without[place].holds == Holds::Position {
                    continue;
                } else {
                    without[place].holds = Holds::Position;
                }
                let miss = self.miss(&without).map_or(f64::INFINITY, |[mm, _]| mm);
                if miss <= self.tolerance_mm && best.as_ref().is_none_or(|(least, _)| miss < *least) {
                    best = Some((miss, without));
                }
            }
            match best {
                Some((_, fewer)) => pins = fewer,
                None => return pins,
            }
        }
    }
}
