//! Battens against a published spline, the law of the elastica, and a minimiser that shares nothing with them.

use cornerwise_geometry::{Batten, Line, Pin, SawLine};

fn batten(places: &[[f64; 2]], length_mm: f64) -> SawLine {
    let pins = (1..).zip(places).map(|(id, [s, offset])| Pin::new(id, *s, *offset)).collect();
    Line::Batten(Batten { pins }).solve(length_mm, 100.0).unwrap()
}

/// Burden and Faires, Numerical Analysis (9th ed.), section 3.5, example 1 (from memory; that it passes its points, is
/// twice smooth and has no bending at its ends was worked again by hand): the natural cubic spline through (1, 2), (2, 3),
/// (3, 5) is 2 + 3/4 (x - 1) + 1/4 (x - 1)³ up to 2, and 3 + 3/2 (x - 2) + 3/4 (x - 2)² - 1/4 (x - 2)³ beyond.
fn published(x: f64) -> f64 {
    if x <= 2.0 {
        let d = x - 1.0;
        2.0 + 0.75 * d + 0.25 * d.powi(3)
    } else {
        let d = x - 2.0;
        3.0 + 1.5 * d + 0.75 * d * d - 0.25 * d.powi(3)
    }
}

#[test]
fn where_it_lies_nearly_along_the_blank_a_batten_is_the_published_spline() {
    const STEP_MM: f64 = 300.0;
    let away = |height_mm: f64| {
        let place = |x: f64| [STEP_MM * (x - 1.0), 20.0 + height_mm * published(x)];
        let line = batten(&[place(1.0), place(2.0), place(3.0)], 2.0 * STEP_MM);
        (0..=600)
            .map(|i| 1.0 + f64::from(i) / 300.0)
            .map(|x| (line.offset(STEP_MM * (x - 1.0)) - (20.0 + height_mm * published(x))).abs())
            .fold(0.0, f64::max)
    };
    assert!(away(3.0) < 2e-3, "{}", away(3.0));
    // A batten is not that spline where it is steep: the difference grows with the cube of the slope.
    let [low, high] = [away(30.0), away(60.0)];
    assert!((5.0..10.0).contains(&(high / low)), "{low} and {high}");
}

/// Places through which a batten is far from any cubic spline.
const STEEP: [[f64; 2]; 4] = [[0.0, 10.0], [110.0, 95.0], [190.0, 20.0], [300.0, 80.0]];

/// Euler, Methodus inveniendi (1744), additamentum 1, from memory: what holds a strip pulls at its ends along one line,
/// so between two pins the curvature is in proportion to the distance from a straight line, the line of thrust.
#[test]
fn between_two_pins_curvature_goes_by_the_distance_from_a_line() {
    let line = batten(&STEEP, 300.0);
    for span in STEEP.windows(2) {
        let at = |share: f64| {
            let s = span[0][0] + share * (span[1][0] - span[0][0]);
            let at = line.at(s);
            ([s, at.offset, 1.0], at.curvature)
        };
        // Three places give the line; every other one is held against it.
        let [low, middle, high] = [at(0.13), at(0.52), at(0.91)];
        let rows = [low.0, middle.0, high.0];
        let right = [low.1, middle.1, high.1];
        let det = |m: [[f64; 3]; 3]| {
            m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
                + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
        };
        let thrust: Vec<f64> = (0..3)
            .map(|column| {
                let mut with = rows;
                for (row, value) in with.iter_mut().zip(right) {
                    row[column] = value;
                }
                det(with) / det(rows)
            })
            .collect();
        let most = (0..=100).map(|i| at(f64::from(i) / 100.0).1.abs()).fold(0.0, f64::max);
        let worst = (1..100)
            .map(|i| at(f64::from(i) / 100.0))
            .map(|(place, curvature)| (place.iter().zip(&thrust).map(|(p, t)| p * t).sum::<f64>() - curvature).abs())
            .fold(0.0, f64::max);
        assert!(worst < 0.02 * most, "{worst} of {most} from {span:?}");
    }
}

/// Second derivatives of the natural cubic spline through (x, y), by the textbook's recurrence for its three bands.
fn natural(x: &[f64], y: &[f64]) -> Vec<f64> {
    let n = x.len();
    let (mut second, mut rest) = (vec![0.0; n], vec![0.0; n]);
    for i in 1..n - 1 {
        let share = (x[i] - x[i - 1]) / (x[i + 1] - x[i - 1]);
        let pivot = share * second[i - 1] + 2.0;
        second[i] = (share - 1.0) / pivot;
        let turn = (y[i + 1] - y[i]) / (x[i + 1] - x[i]) - (y[i] - y[i - 1]) / (x[i] - x[i - 1]);
        rest[i] = (6.0 * turn / (x[i + 1] - x[i - 1]) - share * rest[i - 1]) / pivot;
    }
    let mut out = vec![0.0; n];
    for i in (1..n - 1).rev() {
        out[i] = second[i] * out[i + 1] + rest[i];
    }
    out
}

/// ∫ κ² along the spline through (x, y), by Simpson's rule.
fn bending(x: &[f64], y: &[f64]) -> f64 {
    let second = natural(x, y);
    let mut sum = 0.0;
    for i in 1..x.len() {
        let h = x[i] - x[i - 1];
        for (share, weight) in [(0.0, 1.0), (0.25, 4.0), (0.5, 2.0), (0.75, 4.0), (1.0, 1.0)] {
            let (a, b) = (1.0 - share, share);
            let slope = (y[i] - y[i - 1]) / h - (3.0 * a * a - 1.0) / 6.0 * h * second[i - 1]
                + (3.0 * b * b - 1.0) / 6.0 * h * second[i];
            let bend = a * second[i - 1] + b * second[i];
            sum += weight * h / 12.0 * bend * bend / (1.0 + slope * slope).powf(2.5);
        }
    }
    sum
}

/// The least that bends, by Newton's method on nothing but values of `bending`: slopes and their changes are taken from
/// small steps up and down. It knows no elements and no equations of the elastica.
fn bent_least(x: &[f64], y: &mut [f64], free: &[usize]) {
    const H: f64 = 1e-2;
    let n = free.len();
    for _ in 0..100 {
        let value = |moves: &[(usize, f64)]| {
            let mut y = y.to_vec();
            moves.iter().for_each(|(i, by)| y[free[*i]] += by);
            bending(x, &y)
        };
        let here = value(&[]);
        let mut rows = vec![vec![0.0; n + 1]; n];
        (0..n).for_each(|i| {
            rows[i][n] = (value(&[(i, -H)]) - value(&[(i, H)])) / (2.0 * H);
            rows[i][i] = (value(&[(i, H)]) - 2.0 * here + value(&[(i, -H)])) / (H * H);
            (0..i).for_each(|j| {
                let mixed = value(&[(i, H), (j, H)]) - value(&[(i, H), (j, -H)]) - value(&[(i, -H), (j, H)])
                    + value(&[(i, -H), (j, -H)]);
                rows[i][j] = mixed / (4.0 * H * H);
                rows[j][i] = rows[i][j];
            });
        });
        // Where Newton's step does not lead down, ever more of the plain way down is mixed in (Levenberg 1944).
        let stiffest = (0..n).map(|i| rows[i][i].abs()).fold(0.0, f64::max);
        let down = (-9..4).map(|power| stiffest * 10_f64.powi(power)).find_map(|damping| {
            let mut damped = rows.clone();
            (0..n).for_each(|i| damped[i][i] += damping);
            let moves: Vec<(usize, f64)> = solved(damped).into_iter().enumerate().collect();
            (value(&moves) < here).then_some(moves)
        });
        let Some(moves) = down else { return };
        moves.iter().for_each(|(i, by)| y[free[*i]] += by);
    }
}

/// Gauss's elimination; the right side is the last column.
fn solved(mut rows: Vec<Vec<f64>>) -> Vec<f64> {
    let n = rows.len();
    for i in 0..n {
        let best = (i..n).max_by(|a, b| rows[*a][i].abs().total_cmp(&rows[*b][i].abs())).unwrap();
        rows.swap(i, best);
        for j in (0..n).filter(|j| *j != i) {
            let share = rows[j][i] / rows[i][i];
            let row = rows[i].clone();
            rows[j].iter_mut().zip(row).for_each(|(to, from)| *to -= share * from);
        }
    }
    (0..n).map(|i| rows[i][n] / rows[i][i]).collect()
}

#[test]
fn no_curve_found_by_trial_bends_less_than_the_batten() {
    let line = batten(&STEEP, 300.0);
    // ∫ κ² along the batten itself, by the midpoint rule.
    let batten_bends: f64 = (0..300_000)
        .map(|i| line.at((f64::from(i) + 0.5) * 1e-3))
        .map(|at| at.curvature.powi(2) * at.slope.hypot(1.0) * 1e-3)
        .sum();
    let mut away = Vec::new();
    for parts in [5_usize, 10] {
        let mut x = vec![STEEP[0][0]];
        for span in STEEP.windows(2) {
            x.extend((1..=parts).map(|i| span[0][0] + i as f64 / parts as f64 * (span[1][0] - span[0][0])));
        }
        // From a curve that bends a good deal more, so that there is a way to go.
        let mut y: Vec<f64> = x.iter().map(|s| line.offset(*s)).collect();
        let free: Vec<usize> = (0..y.len()).filter(|i| i % parts != 0).collect();
        free.iter().for_each(|i| y[*i] += if i % 2 == 0 { 6.0 } else { 2.0 });
        assert!(bending(&x, &y) > 1.1 * batten_bends);
        bent_least(&x, &mut y, &free);
        let trial = bending(&x, &y);
        assert!((0.999..1.01).contains(&(trial / batten_bends)), "{batten_bends} and {trial} in {parts} parts");
        away.push(x.iter().zip(&y).map(|(s, y)| (line.offset(*s) - y).abs()).fold(0.0, f64::max));
    }
    // What is left is the trial's own: its curve is made of few cubics, and comes nearer as they grow more.
    assert!(away[1] < 0.6 && away[1] < 0.2 * away[0], "{away:?} mm away");
}
