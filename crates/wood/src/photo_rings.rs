//! Ring lines followed on a photographed face along a seam's edge.
//!
//! Along the edge itself there is little to be seen of rings: it runs nearly as they do, one ring takes some 40 mm to pass,
//! and its line is as faint over a millimetre as dust and pores are; whether a change of colour there is above or below a
//! limit is chance. Across the edge, the same ring is a few millimetres wide. So the face is looked at across, level by
//! level: the brightness within some ring widths to either side is compared with waves of many lengths (the fundamental of
//! whatever a ring looks like), which gives the place within a ring, 0 to 1, at which the edge is. Levels next to each other
//! are taken together along lines of many slants. Of all wave lengths and slants the way is taken that, from top to foot,
//! is strongest while it hardly changes from level to level (dynamic programming): rings go on, streaks and pores do not.
//!
//! Where no way stands out clearly, or its waves are so long that the face is as good as flat-sawn, nothing is said.

use std::f64::consts::TAU;

use cornerwise_geometry::Face;

use crate::compare::Joint;
use crate::figure::PhotoFigure;

/// Levels are this far apart, mm, on legs of up to so many levels.
const STEP_MM: f64 = 2.0;
const MOST_ROWS: f64 = 2000.0;

/// How far to either side of the edge the face is looked at, and how often, mm.
const HALF_MM: f64 = 12.0;
const ACROSS_STEP_MM: f64 = 0.25;

/// Wave lengths that are tried: from, each so much longer than the last, up to, mm across the face.
const WAVES_MM: [f64; 2] = [1.0, 17.0];
const WAVE_RATIO: f64 = 1.12;
const WAVES: usize = 26;

/// Slants of lines against the blank that are tried: up to so many steps to either side.
const SLANTS: i32 = 6;
const SLANT_STEP: f64 = 0.025;

/// A wave is looked at within this share of its length to either side (standard deviation).
const WIDTH: f64 = 0.7;

/// Levels are taken together within so many mm along (standard deviation).
const ALONG_MM: f64 = 12.0;

/// What a change of wave length or slant to the next one costs, as a share of the strongest wave of a level.
const STIFF: f64 = 0.75;

/// What a slant costs, for its square: fibres mostly run along the blank.
const SLANTED: f64 = 2.0;

/// Lines count as seen where, on average over so many mm, the way followed is nearly the strongest wave there is, stands out
/// over what waves of any length come to, and has waves of a length between these, mm. Below, pores look like rings; above,
/// one ring covers most of what is looked at. Measured on painted timbers of known rings: see the tests.
const SURE_OVER_MM: f64 = 32.0;
const SURE_SHARE: f64 = 0.8;
const SURE_ABOVE: f64 = 2.0;
const SURE_WAVES_MM: [f64; 2] = [1.5, 9.0];

/// A line takes so many pixels at least.
const LEAST_PX: f64 = 4.0;

/// The edge at one level.
#[derive(Clone, Copy, Debug)]
pub(crate) struct RingMark {
    /// From the top, mm.
    pub s_mm: f64,
    /// The place within a ring, in rings; whole rings are left out. It grows toward where the saw line's offset grows.
    pub turn: f64,
    /// From ring line to ring line across the face, mm.
    pub spacing_mm: f64,
    /// Whether lines are seen clearly enough for that.
    pub seen: bool,
}

/// One wave length against the blank's grain.
struct Wave {
    mm: f64,
    /// For each place across: weight, and weight times the wave's two parts.
    window: Vec<[f64; 3]>,
}

/// Follows ring lines along the edge that lies `apart` across, on this face, from one place to another, mm from the top.
pub(crate) fn follow(
    joint: &Joint,
    figure: &PhotoFigure,
    face: Face,
    apart: f64,
    [begin, end]: [f64; 2],
) -> Vec<RingMark> {
    let count = ((end - begin) / STEP_MM).ceil().clamp(1.0, MOST_ROWS) as usize;
    let step_mm = (end - begin) / count as f64;
    let levels: Vec<f64> = (0..count).map(|row| begin + (row as f64 + 0.5) * step_mm).collect();
    let offsets: Vec<f64> = levels.iter().map(|s| joint.offset(*s)).collect();
    let waves = waves();
    let slants = (2 * SLANTS + 1) as usize;
    let states = waves.len() * slants;

    let mut seen_waves = vec![[0.0; 2]; count * waves.len()];
    for (row, seen) in seen_waves.chunks_exact_mut(waves.len()).enumerate() {
        let (from, values) = across(joint, figure, face, apart, [levels[row], step_mm]);
        for (wave, seen) in waves.iter().zip(seen) {
            // As from the face's own edge, so that neighbouring levels can be put together.
            *seen = turned(wave.of(from, &values), -offsets[row] / wave.mm);
        }
    }
    let together = together(&seen_waves, &waves, count, step_mm);
    let powers = smoothed(&together, states, count, (4.0 / step_mm).round() as usize);
    let way = strongest_way(&powers, states, slants);

    let mut about: Vec<[f64; 2]> = Vec::with_capacity(count);
    for (row, powers) in powers.chunks_exact(states).enumerate() {
        let most = powers.iter().copied().fold(1e-12, f64::max);
        let mut sorted = powers.to_vec();
        let middle = sorted.select_nth_unstable_by(states / 2, f64::total_cmp).1.max(1e-12);
        let here = powers[way[row]];
        about.push([here / most, (here / middle).sqrt()]);
    }
    let least_mm = SURE_WAVES_MM[0].max(LEAST_PX * figure.pixel_across_mm(face).unwrap_or(f64::INFINITY));
    let half = (0.5 * SURE_OVER_MM / step_mm).round() as usize;
    (0..count)
        .map(|row| {
            let state = way[row];
            let spacing_mm = waves[state / slants].mm;
            let [re, im] = together[row * states + state];
            let near = &about[row.saturating_sub(half)..(row + half + 1).min(count)];
            let mean = |i: usize| near.iter().map(|about| about[i]).sum::<f64>() / near.len() as f64;
            let seen = (least_mm..=SURE_WAVES_MM[1]).contains(&spacing_mm)
                && mean(0) > SURE_SHARE
                && mean(1) > SURE_ABOVE
                && re.hypot(im) > 1e-9;
            let turn = im.atan2(re) / TAU + offsets[row] / spacing_mm;
            RingMark { s_mm: levels[row], turn, spacing_mm, seen }
        })
        .collect()
}

fn waves() -> Vec<Wave> {
    let half = (HALF_MM / ACROSS_STEP_MM) as i32;
    let wave = |number: usize| {
        let mm = (WAVES_MM[0] * WAVE_RATIO.powi(number as i32)).min(WAVES_MM[1]);
        let window = (-half..=half).map(|i| {
            let t = f64::from(i) * ACROSS_STEP_MM / mm;
            let weight = bell(t / WIDTH);
            let (sin, cos) = (TAU * t).sin_cos();
            [weight, weight * cos, weight * sin]
        });
        Wave { mm, window: window.collect() }
    };
    (0..WAVES).map(wave).collect()
}

/// The brightness across the face about the edge at one level: the first place that is on the face, and the values from
/// there on.
fn across(joint: &Joint, figure: &PhotoFigure, face: Face, apart: f64, [s, step_mm]: [f64; 2]) -> (usize, Vec<f64>) {
    let half = (HALF_MM / ACROSS_STEP_MM) as i32;
    let (edge, wide) = (joint.offset(s), joint.across_mm());
    let mut values = Vec::with_capacity(2 * half as usize + 1);
    let mut from = 0;
    for i in -half..=half {
        let offset = edge + f64::from(i) * ACROSS_STEP_MM;
        // What is next to an arris may be the bench behind it.
        if offset < 0.3 {
            from += 1;
        } else if offset <= wide - 0.3 {
            let p = joint.point(apart, offset, s);
            let seen = figure.photographed(face, s, figure.across(face, p), [step_mm, ACROSS_STEP_MM]);
            let [red, green, blue] = seen.unwrap_or_default();
            values.push(f64::from(0.3 * red + 0.6 * green + 0.1 * blue));
        }
    }
    (from, values)
}

impl Wave {
    /// How strongly values have this wave in them, and where in it the middle is: a complex number.
    fn of(&self, from: usize, values: &[f64]) -> [f64; 2] {
        let (mut weights, mut sum) = ([0.0; 3], [0.0; 3]);
        for ([weight, cos, sin], value) in self.window.iter().skip(from).zip(values) {
            weights = [weights[0] + weight, weights[1] + cos, weights[2] + sin];
            sum = [sum[0] + weight * value, sum[1] + cos * value, sum[2] + sin * value];
        }
        let all = weights[0].max(1e-9);
        let mean = sum[0] / all;
        [(sum[1] - mean * weights[1]) / all, (mean * weights[2] - sum[2]) / all]
    }
}

/// The height of the bell curve so many standard deviations from its middle, where it is 1.
pub(crate) fn bell(deviations: f64) -> f64 {
    (-0.5 * deviations * deviations).exp()
}

/// A complex number turned so far, in turns.
fn turned([re, im]: [f64; 2], turns: f64) -> [f64; 2] {
    let (sin, cos) = (TAU * turns).sin_cos();
    [re * cos - im * sin, im * cos + re * sin]
}

/// Neighbouring levels put together along lines of each slant: for each level all wave lengths, of each all slants.
fn together(seen: &[[f64; 2]], waves: &[Wave], count: usize, step_mm: f64) -> Vec<[f64; 2]> {
    let reach = (2.0 * ALONG_MM / step_mm).round() as i32;
    let slants = -SLANTS..=SLANTS;
    let along_mm: Vec<f64> = (-reach..=reach).map(|along| f64::from(along) * step_mm).collect();
    let weights: Vec<f64> = along_mm.iter().map(|mm| bell(mm / ALONG_MM)).collect();
    let mut turns = Vec::new();
    for wave in waves {
        for slant in slants.clone() {
            let turn = |mm: f64| -f64::from(slant) * SLANT_STEP * mm / wave.mm;
            turns.extend(along_mm.iter().zip(&weights).map(|(mm, weight)| turned([*weight, 0.0], turn(*mm))));
        }
    }
    let (each, per_wave) = (weights.len(), slants.count());
    let mut all = Vec::with_capacity(count * waves.len() * per_wave);
    for row in 0..count as i32 {
        let (first, last) = ((row - reach).max(0), (row + reach).min(count as i32 - 1));
        let skip = (first - row + reach) as usize;
        let rows = first as usize..last as usize + 1;
        let weight: f64 = weights[skip..skip + rows.len()].iter().sum();
        for wave in 0..waves.len() {
            for slant in 0..per_wave {
                let turns = &turns[(wave * per_wave + slant) * each + skip..];
                let (mut re, mut im) = (0.0, 0.0);
                for (row, [cos, sin]) in rows.clone().zip(turns) {
                    let [a, b] = seen[row * waves.len() + wave];
                    (re, im) = (re + a * cos - b * sin, im + b * cos + a * sin);
                }
                all.push([re / weight, im / weight]);
            }
        }
    }
    all
}

/// How strong each wave is at each level, averaged over so many levels to either side.
fn smoothed(together: &[[f64; 2]], states: usize, count: usize, near: usize) -> Vec<f64> {
    let power = |row: usize, state: usize| {
        let [re, im] = together[row * states + state];
        re * re + im * im
    };
    let mut powers = vec![0.0; count * states];
    for (row, powers) in powers.chunks_exact_mut(states).enumerate() {
        let rows = row.saturating_sub(near)..(row + near + 1).min(count);
        for (state, smooth) in powers.iter_mut().enumerate() {
            *smooth = rows.clone().map(|row| power(row, state)).sum::<f64>() / rows.len() as f64;
        }
    }
    powers
}

/// The way from top to foot, a state for each level, along which waves are the strongest while they hardly change.
fn strongest_way(powers: &[f64], states: usize, slants: usize) -> Vec<usize> {
    let waves = states / slants;
    let mut best = vec![0.0_f64; states];
    let mut came: Vec<Vec<u16>> = Vec::with_capacity(powers.len() / states);
    for powers in powers.chunks_exact(states) {
        let most = powers.iter().copied().fold(1e-12, f64::max);
        let mut next = vec![0.0; states];
        let mut from = vec![0_u16; states];
        for wave in 0..waves {
            for slant in 0..slants {
                let (mut value, mut before) = (f64::NEG_INFINITY, 0);
                for other in wave.saturating_sub(1)..(wave + 2).min(waves) {
                    for lean in slant.saturating_sub(1)..(slant + 2).min(slants) {
                        let state = other * slants + lean;
                        let changes = other.abs_diff(wave) + lean.abs_diff(slant);
                        let there = best[state] - STIFF * changes as f64;
                        if there > value {
                            (value, before) = (there, state);
                        }
                    }
                }
                let state = wave * slants + slant;
                let lean = (slant as f64 - f64::from(SLANTS)) * SLANT_STEP;
                next[state] = value + powers[state] / most - SLANTED * lean * lean;
                from[state] = before as u16;
            }
        }
        best = next;
        came.push(from);
    }
    let mut state = (0..states).max_by(|p, q| best[*p].total_cmp(&best[*q])).unwrap_or(0);
    let mut way: Vec<usize> = Vec::with_capacity(came.len());
    for from in came.iter().rev() {
        way.push(state);
        state = usize::from(from[state]);
    }
    way.reverse();
    way
}
