//! A crooked column: what its sections bear when it is pressed along a line that it wanders about.

/// How often at the most the load at which a column buckles is bettered; each time the error shrinks by about 4 or more.
const BETTERED: usize = 40;
/// It is good enough when it no longer changes by more than this, as a share.
const SETTLED: f64 = 1e-13;

/// How often at the most the load a column bears is come nearer to.
const NEARED: usize = 60;

/// A column, pinned at both ends on its load line, in two planes at once. Stations are evenly spaced, both ends among them.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// From end to end along the load line, mm.
    pub length_mm: f64,
    /// From the top, at least three.
    pub stations: Vec<ColumnStation>,
    /// Modulus of elasticity, MPa.
    pub stiffness_mpa: f64,
    /// Bending strength, MPa.
    pub bending_mpa: f64,
    /// Compression strength, MPa.
    pub compression_mpa: f64,
}

/// One section of a column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColumnStation {
    /// How far its middle stands off the load line in either plane, mm.
    pub off_mm: [f64; 2],
    /// Area square to the curve, mm².
    pub area_mm2: f64,
    /// Second moment of area for bending in either plane, mm⁴.
    pub inertia_mm4: [f64; 2],
    /// Section modulus for bending in either plane, mm³.
    pub modulus_mm3: [f64; 2],
    /// The share of the bending strength that is left here.
    pub bending_left: f64,
    /// The share of the compression strength that is left here.
    pub compression_left: f64,
}

/// A load on a column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColumnLoad {
    /// Along the load line, N.
    pub down_n: f64,
    /// Moments at the top in either plane, falling evenly to none at the foot (or the other way), N·mm.
    pub moment_nmm: [f64; 2],
    /// Whether they are greatest at the foot.
    pub at_foot: bool,
}

/// What a column bears under loads of one kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Borne {
    /// The greatest load along the line, N; 0 where the moments alone use more than all of its strength somewhere.
    pub load_n: f64,
    /// The station that uses most of its strength under that load.
    pub station: usize,
    /// The share that it uses: 1 but for rounding, and more where the moments alone are too much.
    pub used: f64,
}

/// Shares of the strength nearer to one another than this, as a share, are as much: the first station is told.
const AS_MUCH: f64 = 1e-9;

impl Column {
    fn step_mm(&self) -> f64 {
        self.length_mm / (self.stations.len().max(2) - 1) as f64
    }

    fn flexible(&self, plane: usize) -> Vec<f64> {
        self.stations.iter().map(|at| 1.0 / (self.stiffness_mpa * at.inertia_mm4[plane])).collect()
    }

    /// The load at which the straight column of these sections buckles, N, in the plane where that is less: Euler's, worked
    /// out for sections that change along it.
    pub fn buckles_n(&self) -> f64 {
        (0..2).map(|plane| self.buckles_in(plane)).fold(f64::INFINITY, f64::min)
    }

    fn buckles_in(&self, plane: usize) -> f64 {
        let (h, flexible) = (self.step_mm(), self.flexible(plane));
        let count = flexible.len();
        let mut shape: Vec<f64> =
            (0..count).map(|i| (std::f64::consts::PI * i as f64 / (count - 1).max(1) as f64).sin()).collect();
        let mut load = 0.0;
        for _ in 0..BETTERED {
            // -y'' = P y / EI: the shape that this y bends into, and how much of it.
            let pushed: Vec<f64> = shape.iter().zip(&flexible).map(|(y, f)| y * f).collect();
            let next = deflected(h, &vec![0.0; count], &pushed);
            let most = next.iter().fold(0.0_f64, |most, y| most.max(y.abs()));
            if most <= 0.0 {
                return f64::INFINITY;
            }
            let was = shape.iter().fold(0.0_f64, |most, y| most.max(y.abs()));
            let before = std::mem::replace(&mut load, was / most);
            if (load - before).abs() <= SETTLED * load {
                break;
            }
            shape = next.into_iter().map(|y| y / most).collect();
        }
        load
    }

    /// The moment at every station in a plane under a load, N·mm, the column's own bending included: EI y'' + P (y + e) + M
    /// = 0 with y = 0 at both ends. The load must be less than [`Column::buckles_n`].
    fn moments(&self, plane: usize, load: &ColumnLoad) -> Vec<f64> {
        let (h, flexible) = (self.step_mm(), self.flexible(plane));
        let last = (flexible.len() - 1).max(1) as f64;
        let first_order: Vec<f64> = self
            .stations
            .iter()
            .enumerate()
            .map(|(i, at)| {
                let share = if load.at_foot { i as f64 / last } else { 1.0 - i as f64 / last };
                load.down_n * at.off_mm[plane] + load.moment_nmm[plane] * share
            })
            .collect();
        let softness: Vec<f64> = flexible.iter().map(|f| load.down_n * f).collect();
        let pushed: Vec<f64> = first_order.iter().zip(&flexible).map(|(m, f)| m * f).collect();
        let bent = deflected(h, &softness, &pushed);
        first_order.iter().zip(bent).map(|(m, y)| m + load.down_n * y).collect()
    }

    /// The share of its strength that is used at every station: compression over what is left of that strength, plus bending
    /// in both planes over what is left of that. None where the column would buckle.
    pub fn used(&self, load: &ColumnLoad) -> Option<Vec<f64>> {
        if load.down_n >= self.buckles_n() {
            return None;
        }
        Some(self.used_below_buckling(load))
    }

    /// The share of its strength that is used at every station under stresses that [`Column::stress_below_buckling`] gave.
    pub fn used_under(&self, stress_mpa: &[[f64; 2]]) -> Vec<f64> {
        self.stations.iter().zip(stress_mpa).map(|(at, stress)| self.share_used(at, *stress)).collect()
    }

    /// The share of its strength that a station uses under a stress.
    fn share_used(&self, at: &ColumnStation, [pressed, bent]: [f64; 2]) -> f64 {
        pressed / (self.compression_mpa * at.compression_left) + bent / (self.bending_mpa * at.bending_left)
    }

    fn used_below_buckling(&self, load: &ColumnLoad) -> Vec<f64> {
        let stress = self.stress_below_buckling(load);
        self.stations.iter().zip(stress).map(|(at, stress)| self.share_used(at, stress)).collect()
    }

    /// Stress at every station, MPa: compression, and bending in both planes at the fibre where they add up. The load must be
    /// less than [`Column::buckles_n`].
    pub fn stress_below_buckling(&self, load: &ColumnLoad) -> Vec<[f64; 2]> {
        let moments = [self.moments(0, load), self.moments(1, load)];
        self.stations
            .iter()
            .enumerate()
            .map(|(i, at)| {
                let bent: f64 = (0..2).map(|plane| moments[plane][i].abs() / at.modulus_mm3[plane]).sum();
                [load.down_n / at.area_mm2, bent]
            })
            .collect()
    }

    /// The greatest load along the line at which no section uses more than all of its strength, and the station that uses
    /// most there; `buckles_n` is what [`Column::buckles_n`] gave, and `with` gives the whole load for one along the line.
    pub fn bears(&self, buckles_n: f64, with: impl Fn(f64) -> ColumnLoad) -> Borne {
        let worst = |down: f64| {
            let used = self.used_below_buckling(&with(down));
            let more = |worst: f64, u: f64| u > worst * (1.0 + AS_MUCH);
            used.into_iter().enumerate().fold((0, 0.0), |worst, (i, u)| if more(worst.1, u) { (i, u) } else { worst })
        };
        let borne = |load_n: f64, at: f64| {
            let (station, used) = worst(at);
            Borne { load_n, station, used }
        };
        // The share used grows like 1 / (1 - P / P_buckles); times that it is nearly straight, and regula falsi finds where it
        // is 1 in a few steps. An end that stays twice is made to count half (Illinois), so that neither sticks.
        let beyond = |down: f64| (worst(down).1 - 1.0) * (1.0 - down / buckles_n);
        let (mut lo, mut hi) = (0.0, buckles_n * (1.0 - 1e-9));
        let (mut under, mut over) = (beyond(lo), beyond(hi));
        if under > 0.0 {
            // The place is where the moments alone use most.
            return borne(0.0, 0.0);
        }
        let mut stayed = 0;
        for _ in 0..NEARED {
            if over <= 0.0 || hi - lo <= 1e-12 * hi {
                break;
            }
            let next = (lo - under * (hi - lo) / (over - under)).clamp(lo, hi);
            let value = beyond(next);
            if value.abs() < 1e-13 {
                lo = next;
                break;
            }
            if value <= 0.0 {
                (lo, under) = (next, value);
                if stayed < 0 {
                    over /= 2.0;
                }
                stayed = -1;
            } else {
                (hi, over) = (next, value);
                if stayed > 0 {
                    under /= 2.0;
                }
                stayed = 1;
            }
        }
        borne(lo, if lo > 0.0 { lo } else { hi })
    }
}

/// y with y'' + softness·y = -pushed, and y = 0 at both ends, at evenly spaced stations.
fn deflected(h: f64, softness: &[f64], pushed: &[f64]) -> Vec<f64> {
    let count = pushed.len();
    let mut y = vec![0.0; count];
    if count < 3 {
        return y;
    }
    // Forward elimination and back substitution of the tridiagonal equations.
    let (mut ratio, mut rest) = (vec![0.0; count], vec![0.0; count]);
    for i in 1..count - 1 {
        let diagonal = -2.0 + h * h * softness[i] - ratio[i - 1];
        ratio[i] = 1.0 / diagonal;
        rest[i] = (-h * h * pushed[i] - rest[i - 1]) / diagonal;
    }
    for i in (1..count - 1).rev() {
        y[i] = rest[i] - ratio[i] * y[i + 1];
    }
    y
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    const COUNT: usize = 401;

    /// A straight-grained column of one section, its middle off the load line as `off` says (share of the length to mm).
    fn column(
        length: f64,
        area: f64,
        inertia: f64,
        modulus: f64,
        stiffness: f64,
        strength: f64,
        off: impl Fn(f64) -> f64,
    ) -> Column {
        let at = |i: usize| ColumnStation {
            off_mm: [off(i as f64 / (COUNT - 1) as f64), 0.0],
            area_mm2: area,
            inertia_mm4: [inertia, 1e3 * inertia],
            modulus_mm3: [modulus, modulus],
            bending_left: 1.0,
            compression_left: 1.0,
        };
        Column {
            length_mm: length,
            stations: (0..COUNT).map(at).collect(),
            stiffness_mpa: stiffness,
            bending_mpa: strength,
            compression_mpa: strength,
        }
    }

    fn down(down_n: f64) -> ColumnLoad {
        ColumnLoad { down_n, moment_nmm: [0.0; 2], at_foot: false }
    }

    /// Euler: red oak 1.75 in square, 29 in, E 1.82 million psi, pinned: 16,693 lb (the project's check values). Any one
    /// system of units does; here pounds and inches.
    #[test]
    fn it_buckles_at_euler_s_load() {
        let inertia = 1.75_f64.powi(4) / 12.0;
        let oak = column(29.0, 1.75 * 1.75, inertia, inertia / 0.875, 1.82e6, 14_300.0, |_| 0.0);
        assert!((oak.buckles_n() / 16_693.0 - 1.0).abs() < 1e-4, "{}", oak.buckles_n());
    }

    /// Mott, Machine Elements in Mechanical Design, 4th ed., p. 251: a crooked column of 0.75 in diameter, 32 in, 1/8 in
    /// out of straight, yield 42 ksi, E 30 million psi, a factor of 3: 1,077 lb; unrounded 1,076.4.
    #[test]
    fn it_bears_what_the_crooked_column_of_the_textbook_bears() {
        let d = 0.75_f64;
        let (area, inertia) = (PI * d * d / 4.0, PI * d.powi(4) / 64.0);
        let bar = column(32.0, area, inertia, inertia / (d / 2.0), 30e6, 42_000.0, |x| 0.125 * (PI * x).sin());
        let Borne { load_n: bears, station: worst, .. } = bar.bears(bar.buckles_n(), |p| down(3.0 * p));
        // The search runs to the load at which the column itself would buckle, and a third of that is what is borne.
        assert!((bears - 1_076.4).abs() < 0.5, "{bears}");
        assert_eq!(worst, COUNT / 2);
    }

    /// What is come nearer to by regula falsi is what plain halving finds, with a push and without, crooked and straight.
    #[test]
    fn what_it_bears_is_where_halving_ends_too() {
        for (off, moment) in [(0.0, 0.0), (0.0, 4e4), (8.0, 0.0), (25.0, 6e4), (1.0, 3e7)] {
            let stations = (0..33)
                .map(|i| ColumnStation {
                    off_mm: [off * (PI * f64::from(i) / 32.0).sin(), 0.4 * off],
                    area_mm2: 1600.0,
                    inertia_mm4: [213_333.0 - 2000.0 * f64::from(i), 213_333.0],
                    modulus_mm3: [10_667.0; 2],
                    bending_left: 1.0 - 0.02 * f64::from(i % 7),
                    compression_left: 1.0,
                })
                .collect();
            let column = Column {
                length_mm: 700.0,
                stations,
                stiffness_mpa: 12_500.0,
                bending_mpa: 60.0,
                compression_mpa: 28.0,
            };
            let with = |down_n: f64| ColumnLoad { down_n, moment_nmm: [moment, 0.5 * moment], at_foot: false };
            let buckles = column.buckles_n();
            let most = |down: f64| column.used(&with(down)).unwrap().into_iter().fold(0.0, f64::max);
            let (mut lo, mut hi) = (0.0, buckles * (1.0 - 1e-9));
            for _ in 0..60 {
                let middle = (lo + hi) / 2.0;
                if most(middle) <= 1.0 { lo = middle } else { hi = middle }
            }
            let bears = column.bears(buckles, with).load_n;
            assert!((bears - lo).abs() <= 1e-8 * lo.max(1e-3), "{off} {moment}: {bears} {lo}");
        }
    }

    /// The secant formula, a published example (ecoursesbook.com 09.3): a tube of radii 3 and 2.75 in, effective length 720
    /// in, 5 kip at an eccentricity of 3 in, E 29,000 ksi: P/A 1.107 ksi, most stress 6.342 ksi. Beer and Johnston's (from
    /// memory): A 3.54, I 8.00, c 2, e 0.75, 192 in, 31.1 kip: 22.0 ksi.
    #[test]
    fn eccentric_load_gives_the_stress_of_the_secant_formula() {
        let (ro, ri) = (3.0_f64, 2.75_f64);
        let (area, inertia) = (PI * (ro * ro - ri * ri), PI / 4.0 * (ro.powi(4) - ri.powi(4)));
        let tube = column(720.0, area, inertia, inertia / ro, 29_000.0, 1.0, |_| 3.0);
        let most = |column: &Column, kip: f64| column.used(&down(kip)).unwrap().into_iter().fold(0.0, f64::max);
        assert!((most(&tube, 5.0) - 6.342).abs() < 0.01, "{}", most(&tube, 5.0));
        let steel = column(192.0, 3.54, 8.0, 8.0 / 2.0, 29_000.0, 1.0, |_| 0.75);
        assert!((most(&steel, 31.1) - 22.0).abs() < 0.1, "{}", most(&steel, 31.1));
        assert_eq!(steel.used(&down(1e9)), None, "it has buckled");
    }

    /// Where the moments alone are too much the place is where they use most, not where the column would buckle.
    #[test]
    fn a_moment_that_is_too_much_alone_is_told_where_it_is_greatest() {
        let bar = column(500.0, 2500.0, 520_833.3, 20_833.3, 12_000.0, 100.0, |x| 20.0 * (PI * x).sin());
        for at_foot in [false, true] {
            let with = |down_n: f64| ColumnLoad { down_n, moment_nmm: [3e6, 0.0], at_foot };
            let borne = bar.bears(bar.buckles_n(), with);
            assert_eq!((borne.load_n, borne.station), (0.0, if at_foot { COUNT - 1 } else { 0 }));
            assert!((borne.used - 3e6 / 20_833.3 / 100.0).abs() < 1e-9, "{borne:?}");
        }
    }

    /// A moment at one end alone and a small load: the stress at that end is M / S.
    #[test]
    fn a_push_bends_it_most_where_it_is_held() {
        let bar = column(500.0, 2500.0, 520_833.3, 20_833.3, 12_000.0, 100.0, |_| 0.0);
        let load = ColumnLoad { down_n: 1e-6, moment_nmm: [100.0 * 500.0, 0.0], at_foot: false };
        let used = bar.used(&load).unwrap();
        assert!((used[0] - 50_000.0 / 20_833.3 / 100.0).abs() < 1e-9 && used[COUNT - 1] < 1e-9, "{}", used[0]);
        let used = bar.used(&ColumnLoad { at_foot: true, ..load }).unwrap();
        assert!(used[0] < 1e-9 && used[COUNT - 1] > 0.02);
    }
}
