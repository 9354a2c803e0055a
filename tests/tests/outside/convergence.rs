//! The leg between stations comes to the smooth leg as stations grow: errors fall with the square of the spacing. The
//! smooth leg is worked out apart from the project, by de Casteljau's construction and bisection.

use cornerwise_geometry::Solved;

use crate::cases::{self, Case};
use crate::sawn::pieces;

/// Evenly spaced, the sharp point and the places where a line leaves the blank among them: elsewhere the leg is smooth
/// enough for the square law.
fn stations(case: &Case, count: usize) -> Vec<f64> {
    let mut stations = case.leg.uniform_stations(count + 1);
    stations.extend(case.leg.first.sharp_point());
    stations.sort_by(f64::total_cmp);
    stations.dedup_by(|next, kept| *next - *kept < 1e-9);
    stations
}

/// How far the straight slabs are from the smooth lines, at worst, mm.
fn worst_mm(case: &Case, solved: &Solved) -> f64 {
    let mut worst = 0.0_f64;
    for i in 1..solved.s.len() {
        for k in 0..=8 {
            let share = f64::from(k) / 8.0;
            let between = |of: &[f64]| of[i - 1] + share * (of[i] - of[i - 1]);
            let [a, b] = case.held(between(&solved.s));
            worst = worst.max((between(&solved.a) - a).abs()).max((between(&solved.b) - b).abs());
        }
    }
    worst
}

/// Volumes of the smooth pieces, mm³, and the smooth leg's centre of mass (u, v): Gauss's rule with five points on each
/// of many short runs between joints.
fn smooth(case: &Case) -> ([f64; 4], [f64; 2]) {
    let [width, depth, length] = case.size_mm();
    let mut joints = [case.first.joints(), case.second.joints()].concat();
    joints.sort_by(f64::total_cmp);
    let (mut volumes, mut centre) = ([0.0; 4], [0.0; 2]);
    // Nodes and weights of Gauss's rule for five points: Abramowitz and Stegun, table 25.4.
    let rule = [
        (0.0, 0.568_888_888_888_889),
        (0.538_469_310_105_683, 0.478_628_670_499_366),
        (0.906_179_845_938_664, 0.236_926_885_056_189),
    ];
    for pair in joints.windows(2) {
        let runs = 40;
        let half = (pair[1] - pair[0]) / f64::from(runs) / 2.0;
        for run in 0..runs {
            let middle = pair[0] + half * f64::from(2 * run + 1);
            for (node, weight) in rule {
                for s in if node == 0.0 { vec![middle] } else { vec![middle - half * node, middle + half * node] } {
                    let ([a, b], w) = (case.held(s), weight * half);
                    for (volume, area) in
                        volumes.iter_mut().zip([a * b, (width - a) * b, (width - a) * (depth - b), a * (depth - b)])
                    {
                        *volume += w * area;
                    }
                    centre[0] += w * (width / 2.0 - a) / length;
                    centre[1] += w * (depth / 2.0 - b) / length;
                }
            }
        }
    }
    (volumes, centre)
}

/// The order of the law by which `errors` fall, one per doubling of the stations: 2 for the square law.
fn order(errors: &[f64]) -> f64 {
    (errors[0] / errors[errors.len() - 1]).log2() / (errors.len() - 1) as f64
}

#[test]
fn offsets_come_to_the_drawn_line_with_the_square_of_the_spacing() {
    for case in [cases::cyma(), cases::waves(), cases::post(), cases::arch()] {
        let errors: Vec<f64> =
            [64, 128, 256, 512, 1024].map(|n| worst_mm(&case, &case.leg.solve(&stations(&case, n)))).to_vec();
        let order = order(&errors);
        eprintln!("{}: off by {errors:?} mm, order {order:.2}", case.name);
        assert!((1.8..2.2).contains(&order), "{}: {errors:?}, order {order}", case.name);
    }
}

#[test]
fn volumes_and_centre_of_mass_come_to_the_smooth_legs() {
    for case in [cases::cyma(), cases::waves(), cases::post(), cases::arch()] {
        let (volumes, centre) = smooth(&case);
        let blank: f64 = case.size_mm().iter().product();
        assert!((volumes.iter().sum::<f64>() - blank).abs() < 1e-9 * blank, "{}", case.name);
        // The project's own centre is exact, not sampled.
        let exact = case.leg.centre_of_mass_mm();
        let off = (exact[0] - centre[0]).hypot(exact[1] - centre[1]);
        assert!(off < 1e-8 && exact[2] == case.leg.length_mm / 2.0, "{}: off by {off} mm", case.name);

        let (mut volume_errors, mut centre_errors) = (Vec::new(), Vec::new());
        for count in [32, 64, 128] {
            let stations = stations(&case, count);
            let solved = case.leg.solve(&stations);
            let each = solved.piece_volumes_mm3().into_iter().zip(volumes).map(|(v, smooth)| (v - smooth).abs());
            volume_errors.push(each.fold(0.0, f64::max));
            let lines = [&case.first, &case.second]
                .map(|line| -> Vec<[f64; 2]> { stations.iter().map(|s| [*s, line.offset(*s)]).collect() });
            let made = pieces(case.size_mm(), &lines[0], &lines[1]);
            let moment = made.iter().map(|piece| piece.moment()).fold([0.0; 3], |m, p| [0, 1, 2].map(|i| m[i] + p[i]));
            centre_errors.push((moment[0] / blank - centre[0]).hypot(moment[1] / blank - centre[1]));
            assert!((moment[2] / blank - exact[2]).abs() < 1e-9);
        }
        let (by_volume, by_centre) = (order(&volume_errors), order(&centre_errors));
        eprintln!(
            "{}: volumes {volume_errors:?} mm³ {by_volume:.2}, centre {centre_errors:?} mm {by_centre:.2}",
            case.name
        );
        // The error has a sign and parts of it cancel, so the law shows less evenly than for the worst offset.
        assert!(by_volume > 1.7 && by_centre > 1.7, "{}: orders {by_volume}, {by_centre}", case.name);
    }
}

#[test]
fn stations_for_a_tolerance_keep_it_and_are_not_far_more_than_it_needs() {
    for case in cases::all() {
        for tolerance in [0.5, 0.05, 0.005, 0.0005] {
            let worst = worst_mm(&case, &case.leg.solve(&case.leg.stations_within(tolerance)));
            assert!(worst <= tolerance * (1.0 + 1e-9), "{}: {worst} mm for {tolerance}", case.name);
            assert!(worst > 0.1 * tolerance, "{}: {worst} mm for {tolerance}", case.name);
        }
    }
}
