//! From pins to the points of a saw line.

use super::relax::Mesh;
use super::{BATTEN_ACCURACY_MM, Batten, BattenError, MAX_PINS, MIN_PIN_GAP_MM, Pin};
use crate::saw_line::{MAX_POINTS, MAX_SLOPE, MIN_GAP_MM};
use crate::{Point, PointId, SawLineError};

/// The farthest that any number of a pin may be from zero, mm; well beyond every blank.
const FARTHEST_MM: f64 = 20_000.0;

/// Rounding of a distance between pins.
const NEARLY: f64 = 1.0 - 1e-9;

/// Where a cubic is compared with the two that take its place, as shares of each of the two.
const COMPARED: [f64; 3] = [0.25, 0.5, 1.0];

impl Batten {
    /// The points whose cubics are the batten, to [`BATTEN_ACCURACY_MM`], its pins among them with their own ids.
    ///
    /// # Errors
    /// [`BattenError`] names the pin that does not fit.
    pub fn solve(&self) -> Result<Vec<Point>, BattenError> {
        self.solve_within(BATTEN_ACCURACY_MM)
    }

    /// The same to an accuracy of one's own, mm (1e-9 at the finest): each span between two pins is a chain of cubics, as
    /// many as it takes until twice as many move it by less than that.
    ///
    /// The least bending is sought by Newton's method from the natural cubic spline through the pins; of the curves that
    /// bend less than every curve near them it is the one next to the spline.
    ///
    /// # Errors
    /// [`BattenError`] names the pin that does not fit.
    pub fn solve_within(&self, accuracy_mm: f64) -> Result<Vec<Point>, BattenError> {
        self.check()?;
        let accuracy_mm = accuracy_mm.max(1e-9);
        let no_rest = || BattenError::NoRest { pin: self.sharpest_turn() };
        let spans = self.pins.len() - 1;
        let (mut counts, mut active) = (vec![1_usize; spans], vec![true; spans]);
        let mut mesh = self.unbent();
        if !mesh.rest_from_spline(accuracy_mm) {
            return Err(no_rest());
        }
        loop {
            for (span, pair) in self.pins.windows(2).enumerate() {
                // A cubic this short is a pencil line's width; a saw line takes none shorter.
                active[span] &=
                    (pair[1].from_top.mm() - pair[0].from_top.mm()) / (2 * counts[span]) as f64 > MIN_GAP_MM;
            }
            if !active.contains(&true) {
                return Ok(self.points_of(&mesh, &counts));
            }
            let finer: Vec<usize> =
                counts.iter().zip(&active).map(|(n, active)| if *active { 2 * n } else { *n }).collect();
            if finer.iter().sum::<usize>() + 1 > MAX_POINTS {
                return Err(BattenError::TooFine);
            }
            let mut fine = refined(&mesh, &counts, &active);
            if !fine.rest(accuracy_mm) {
                return Err(no_rest());
            }
            let (mut coarse_at, mut fine_at) = (0, 0);
            for span in 0..spans {
                if active[span] {
                    active[span] = moved(&mesh, coarse_at, &fine, fine_at, counts[span]) > accuracy_mm;
                }
                (coarse_at, fine_at) = (coarse_at + counts[span], fine_at + finer[span]);
            }
            (mesh, counts) = (fine, finer);
        }
    }

    /// Everything that can be wrong with pins before a strip is laid along them.
    fn check(&self) -> Result<(), BattenError> {
        match self.pins.len() {
            few @ 0..=1 => return Err(BattenError::TooFew(few)),
            2..=MAX_PINS => {}
            many => return Err(BattenError::TooMany(many)),
        }
        let mut before: Option<&Pin> = None;
        for pin in &self.pins {
            // A range holds no NaN.
            let range = -FARTHEST_MM..=FARTHEST_MM;
            let unsound = |what| BattenError::NotSound { pin: pin.id, what };
            if !range.contains(&pin.from_top.mm()) {
                return Err(unsound("the distance from the top"));
            }
            if !range.contains(&pin.offset.mm()) {
                return Err(unsound("the offset"));
            }
            match pin.holds.slope() {
                Some(slope) if !slope.is_finite() => return Err(unsound("the direction")),
                Some(slope) if slope.abs() > MAX_SLOPE => {
                    return Err(BattenError::TooSteep { pin: pin.id, slope: slope.abs() });
                }
                _ => {}
            }
            if let Some(before) = before {
                let (at_mm, before_mm) = (pin.from_top.mm(), before.from_top.mm());
                let gap = at_mm - before_mm;
                if gap < MIN_PIN_GAP_MM * NEARLY {
                    return Err(BattenError::TooClose { pin: pin.id, at_mm, before_mm });
                }
                let slope = ((pin.offset.mm() - before.offset.mm()) / gap).abs();
                if slope > MAX_SLOPE {
                    return Err(BattenError::TooSteep { pin: pin.id, slope });
                }
            }
            before = Some(pin);
        }
        let mut ids: Vec<PointId> = self.pins.iter().map(|pin| pin.id).collect();
        ids.sort_unstable();
        match ids.windows(2).find(|pair| pair[0] == pair[1]) {
            Some(pair) => Err(BattenError::SameId(pair[0])),
            None => Ok(()),
        }
    }

    /// One cubic from pin to pin, not at rest yet.
    fn unbent(&self) -> Mesh {
        Mesh {
            s: self.pins.iter().map(|pin| pin.from_top.mm()).collect(),
            y: self.pins.iter().map(|pin| pin.offset.mm()).collect(),
            m: self.pins.iter().map(|pin| pin.holds.slope().unwrap_or(0.0)).collect(),
            pinned: vec![true; self.pins.len()],
            held: self.pins.iter().map(|pin| pin.holds.slope().is_some()).collect(),
        }
    }

    fn points_of(&self, mesh: &Mesh, counts: &[usize]) -> Vec<Point> {
        let mut taken: Vec<u32> = self.pins.iter().map(|pin| pin.id.0).collect();
        taken.sort_unstable();
        let mut free = (1..=u32::MAX).filter(|id| taken.binary_search(id).is_err());
        let third = |i: usize| (mesh.s[i + 1] - mesh.s[i]) / 3.0;
        let last = mesh.s.len() - 1;
        let mut points = Vec::with_capacity(mesh.s.len());
        let (mut next_pin, mut pins) = (0, self.pins.iter());
        let mut spans = counts.iter();
        for i in 0..=last {
            let (before, after) = (third(i.saturating_sub(1)), third(i.min(last - 1)));
            let mut point = Point::smooth(0, mesh.s[i], mesh.y[i], mesh.m[i], before, after);
            if i == next_pin
                && let Some(pin) = pins.next()
            {
                next_pin += spans.next().copied().unwrap_or(1);
                (point.id, point.from_top, point.offset) = (pin.id, pin.from_top.clone(), pin.offset.clone());
            } else {
                point.id = PointId(free.next().unwrap_or(u32::MAX));
            }
            points.push(point);
        }
        points
    }

    /// What is wrong with the solved line, said of the nearest pin: nobody has seen the points between them.
    pub(crate) fn in_terms_of_pins(&self, error: SawLineError) -> SawLineError {
        match error {
            SawLineError::TooSteep { s_mm, slope, .. } => {
                BattenError::TooSteep { pin: self.nearest(s_mm), slope }.into()
            }
            SawLineError::TooMany(_) => BattenError::TooFine.into(),
            other => other,
        }
    }

    fn nearest(&self, s_mm: f64) -> PointId {
        let away = |pin: &&Pin| (pin.from_top.mm() - s_mm).abs();
        self.pins.iter().min_by(|a, b| away(a).total_cmp(&away(b))).map_or(PointId(0), |pin| pin.id)
    }

    /// The pin at which the chords to its neighbours, or its held direction, turn most.
    fn sharpest_turn(&self) -> PointId {
        let chord = |a: &Pin, b: &Pin| ((b.offset.mm() - a.offset.mm()) / (b.from_top.mm() - a.from_top.mm())).atan();
        let turn = |place: usize| {
            let pin = &self.pins[place];
            let before = place.checked_sub(1).map(|before| chord(&self.pins[before], pin));
            let after = self.pins.get(place + 1).map(|after| chord(pin, after));
            let held = pin.holds.slope().map(f64::atan);
            let between = |a: Option<f64>, b: Option<f64>| a.zip(b).map_or(0.0, |(a, b)| (a - b).abs());
            between(before, after).max(between(before, held)).max(between(held, after))
        };
        let most = (0..self.pins.len()).max_by(|a, b| turn(*a).total_cmp(&turn(*b)));
        most.map_or(PointId(0), |place| self.pins[place].id)
    }
}

/// The same curve with every cubic of the active spans cut in two.
fn refined(mesh: &Mesh, counts: &[usize], active: &[bool]) -> Mesh {
    let room = 2 * mesh.s.len();
    let mut fine = Mesh {
        s: Vec::with_capacity(room),
        y: Vec::with_capacity(room),
        m: Vec::with_capacity(room),
        pinned: Vec::with_capacity(room),
        held: Vec::with_capacity(room),
    };
    let mut node = |s: f64, [y, m]: [f64; 2], pinned: bool, held: bool| {
        fine.s.push(s);
        fine.y.push(y);
        fine.m.push(m);
        fine.pinned.push(pinned);
        fine.held.push(held);
    };
    let old = |i: usize| (mesh.s[i], [mesh.y[i], mesh.m[i]], mesh.pinned[i], mesh.held[i]);
    let mut i = 0;
    for (count, active) in counts.iter().zip(active) {
        for _ in 0..*count {
            let (s, place, pinned, held) = old(i);
            node(s, place, pinned, held);
            if *active {
                node(f64::midpoint(mesh.s[i], mesh.s[i + 1]), mesh.at(i, 0.5), false, false);
            }
            i += 1;
        }
    }
    let (s, place, pinned, held) = old(i);
    node(s, place, pinned, held);
    fine
}

/// How far a span of `count` cubics lies from its double with twice as many, mm.
fn moved(coarse: &Mesh, coarse_at: usize, fine: &Mesh, fine_at: usize, count: usize) -> f64 {
    let mut most = 0.0_f64;
    for i in 0..count {
        for half in 0..2 {
            for x in COMPARED {
                let was = coarse.at(coarse_at + i, 0.5 * (half as f64 + x))[0];
                most = most.max((fine.at(fine_at + 2 * i + half, x)[0] - was).abs());
            }
        }
    }
    most
}
