//! Whole rows of timber at once: the same colours as point by point, many times as fast.
//!
//! What a column of texels shares is worked out once, the rings are looked up in a [`RingTable`], wobble is taken straight
//! over three millimetres at most, and each step is done for a whole run of texels, so that the processor can do several
//! at a time. A test holds the result against [`TimberFigure::at`].

use cornerwise_geometry::BlankPoint;
use pulp::{Arch, Simd, WithSimd};

use super::timber::{LEAST_BLUR, TimberFigure};
use super::{Level, SeenFromColumn, Steps, View};
use crate::noise::{self, Weave};
use crate::rays::RayPlace;
use crate::ring_table::RingTable;
use crate::shade::{Fibre, RingLook, pore_cell};

/// How many texels are done together.
const RUN: usize = 64;

/// Over how long wobble is taken as straight at the most, along rows and across them, mm: its own bends are thirty and more.
const WOBBLE_STEP_MM: f64 = 3.0;

/// What all texels of a column share.
pub(crate) struct TexelColumn {
    /// Where it lies at row 0.
    pub from: [f64; 3],
    pub steps: Steps,
    pub level: Level,
    /// What photos show of it.
    pub seen: Option<SeenFromColumn>,
}

/// A sheet of timber to be painted row by row.
pub(crate) struct TimberRows<'a> {
    timber: &'a TimberFigure,
    view: View,
    table: RingTable,
    /// What one row adds along x and y, mm.
    row: [f64; 2],
    /// Padded to whole runs. From the pith at row 0, mm.
    from_pith: Vec<[f64; 2]>,
    /// How far the rings have moved, in mean rings.
    moved: Vec<f64>,
    /// Rings that go by from this column to the next: for each unit of the way out along x, along y, and by taper.
    by: Vec<[f32; 3]>,
    s: Vec<f64>,
    /// Where its fibre runs at the top but for the taper, at row 0, mm.
    at_top: Vec<[f64; 2]>,
    weave: Vec<Weave>,
    pores_show: Vec<f32>,
    size_mm: Vec<f32>,
    wobble: Option<Wobble>,
}

/// How far the rings waver, in mean rings, worked out at every few columns and rows and taken as straight in between.
struct Wobble {
    /// From one place to the next: columns, which divide a run, and rows.
    step: [usize; 2],
    /// How many places there are along a row.
    along: usize,
    /// Row after row.
    at: Vec<f64>,
}

impl<'a> TimberRows<'a> {
    /// `row` is what one row adds along x and y, mm; rows are numbered from 0 to below `rows`.
    pub fn new(timber: &'a TimberFigure, view: View, columns: &[TexelColumn], row: [f64; 2], rows: usize) -> Self {
        let rings = &timber.rings;
        let per_mm = rings.per_mm();
        let [lean_x, lean_y] = rings.lean();
        let padded = columns.len().next_multiple_of(RUN);
        let all = || (0..padded).filter_map(|i| columns.get(i.min(columns.len() - 1)));
        let from_pith: Vec<[f64; 2]> = all()
            .map(|c| {
                let [px, py] = rings.pith_at(c.from[2] + view.inside[2]);
                [c.from[0] + view.inside[0] - px, c.from[1] + view.inside[1] - py]
            })
            .collect();
        let moved: Vec<f64> = all().map(|c| c.level.moved).collect();
        let by: Vec<[f32; 3]> = all()
            .map(|c| {
                let [x, y, s] = c.steps.column;
                [x - lean_x * s, y - lean_y * s, rings.taper() * s].map(|v| (v * per_mm) as f32)
            })
            .collect();
        let row_mm = row[0].hypot(row[1]);
        let texel = by.iter().fold(0.0_f64, |most, [x, y, t]| most.max(f64::from(x.hypot(*y) + t.abs())));
        let texel = texel + row_mm * per_mm;
        // The rings of a column lie between its ends and the place nearest to the pith.
        let last = rows as f64;
        let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
        for ([x, y], moved) in from_pith.iter().zip(&moved) {
            let out = |rows: f64| (x + row[0] * rows).hypot(y + row[1] * rows);
            let nearest = -(x * row[0] + y * row[1]) / (row_mm * row_mm).max(1e-12);
            let near = out(nearest.clamp(0.0, last));
            least = least.min(near * per_mm + moved);
            most = most.max(out(0.0).max(out(last)) * per_mm + moved);
        }
        let beyond = 0.5 * texel + rings.most_wobble() + 1e-3;
        let pitch = columns.first().map_or(1.0, |c| c.steps.column.iter().map(|v| v * v).sum::<f64>().sqrt());
        let blank: Vec<[f64; 2]> = all().map(|c| [0, 1].map(|i| c.from[i] + view.inside[i])).collect();
        let s: Vec<f64> = all().map(|c| c.from[2] + view.inside[2]).collect();
        let wobble = (rings.most_wobble() > 0.0).then(|| {
            let most = |pitch: f64| (WOBBLE_STEP_MM / pitch.max(1e-9)).clamp(1.0, RUN as f64) as usize;
            let step = [1 << most(pitch).ilog2(), most(row_mm)];
            let [along, down] = [padded / step[0] + 1, rows / step[1] + 2];
            let places = (0..down).flat_map(|j| (0..along).map(move |i| (i * step[0], (j * step[1]) as f64)));
            let at = places.filter_map(|(column, rows)| {
                let column = column.min(padded - 1);
                let ([x, y], s) = (blank.get(column)?, s.get(column)?);
                Some(rings.wobble_at(BlankPoint { x: x + row[0] * rows, y: y + row[1] * rows, s: *s }))
            });
            Wobble { step, along, at: at.collect() }
        });
        TimberRows {
            timber,
            view,
            table: RingTable::new(timber, least - beyond, most + beyond, texel),
            row,
            moved,
            by,
            at_top: blank.iter().zip(&s).map(|([x, y], s)| [x - lean_x * s, y - lean_y * s]).collect(),
            s,
            from_pith,
            weave: all().map(|c| c.level.weave).collect(),
            pores_show: all().map(|c| c.steps.pores_show).collect(),
            size_mm: all().map(|c| c.steps.size_mm).collect(),
            wobble,
        }
    }

    /// Paints one row, `at` rows down (its middle, so half a row for the first).
    pub fn fill(&self, at: f64, rgba: &mut [u8]) {
        self.fill_as(Arch::new(), at, rgba);
    }

    /// The same by what a kind of processor can do; the colours do not depend on it.
    pub fn fill_as(&self, arch: Arch, at: f64, rgba: &mut [u8]) {
        let add = self.row.map(|mm| mm * at);
        arch.dispatch(Row { rows: self, at, add, rgba });
    }

    #[inline(always)]
    fn fill_run(&self, first: usize, at: f64, [add_x, add_y]: [f64; 2], rgba: &mut [u8]) {
        let timber = self.timber;
        let (shade, rings) = (&timber.shade, &timber.rings);
        let runs = (
            run_of(&self.from_pith, first),
            run_of(&self.moved, first),
            run_of(&self.by, first),
            run_of(&self.s, first),
            run_of(&self.at_top, first),
            run_of(&self.weave, first),
        );
        let (Some(from_pith), Some(moved), Some(by), Some(s), Some(at_top), Some(weave)) = runs else { return };
        let sizes = (run_of(&self.pores_show, first), run_of(&self.size_mm, first));
        let (Some(pores_show), Some(size_mm)) = sizes else { return };
        let mut waver = [0.0_f64; RUN];
        if let Some(wobble) = &self.wobble {
            wobble.fill(first, at, &mut waver);
        }
        // From the pith, how far, and where that is among the rings.
        let per_mm = rings.per_mm();
        let row_rings = [(self.row[0].abs() * per_mm) as f32, (self.row[1].abs() * per_mm) as f32];
        let (mut dx, mut dy, mut out) = ([0.0_f32; RUN], [0.0_f32; RUN], [0.0_f32; RUN]);
        let (mut place, mut half, mut per_out) = ([0.0_f32; RUN], [0.0_f32; RUN], [0.0_f32; RUN]);
        let mut sap = [0.0_f32; RUN];
        let least = (LEAST_BLUR * per_mm) as f32;
        let half_entry = 0.5 * self.table.per_ring();
        for i in 0..RUN {
            let (x, y) = (from_pith[i][0] + add_x, from_pith[i][1] + add_y);
            let far = (x * x + y * y).sqrt();
            place[i] = self.table.place(far * per_mm + moved[i] + waver[i]);
            (dx[i], dy[i], out[i]) = (x as f32, y as f32, far as f32);
        }
        if timber.has_sapwood() {
            for i in 0..RUN {
                sap[i] = timber.sap(f64::from(out[i]));
            }
        }
        for i in 0..RUN {
            per_out[i] = 1.0 / out[i].max(1e-9);
            let (x, y) = (dx[i] * per_out[i], dy[i] * per_out[i]);
            let column = (x * by[i][0] + y * by[i][1] - by[i][2]).abs();
            half[i] = half_entry * (column + x.abs() * row_rings[0] + y.abs() * row_rings[1]).max(least * size_mm[i]);
        }
        let mut fibres = [[0.0_f32; 2]; RUN];
        for i in 0..RUN {
            fibres[i] = [(at_top[i][0] + add_x) as f32, (at_top[i][1] + add_y) as f32];
        }
        if rings.taper() != 0.0 {
            for i in 0..RUN {
                let back = rings.back_mm(f64::from(out[i]), s[i]) as f32 * per_out[i];
                fibres[i] = [fibres[i][0] - dx[i] * back, fibres[i][1] - dy[i] * back];
            }
        }
        let mut looks = [RingLook::default(); RUN];
        for i in 0..RUN {
            looks[i] = self.table.look(place[i], half[i]);
        }
        let mut streaks = [0.0_f32; RUN];
        let sheet = noise::sheet();
        for i in 0..RUN {
            streaks[i] = weave[i].streak_of(sheet, fibres[i][0], fibres[i][1]);
        }
        let mut depth = [0.0_f32; RUN];
        let mut light = [1.0_f32; RUN];
        let (mut x, mut y, mut z) = ([0.0_f32; RUN], [0.0_f32; RUN], [0.0_f32; RUN]);
        let end = self.view.end;
        if shade.has_pores() {
            for i in 0..RUN {
                let [across, through] = fibres[i];
                let fibre = Fibre { across, through, along: s[i] as f32, pores_show: pores_show[i], end };
                [x[i], y[i], z[i]] = pore_cell(&fibre);
            }
            let (chance, along) = noise::cells(&x, &y, &z);
            for i in 0..RUN {
                light[i] = shade.ring_light(looks[i], shade.pore_in(pores_show[i], end, chance[i], along[i]));
            }
        }
        if let Some(rays) = &timber.rays {
            let square = [&dx, &dy].get(self.view.axis).map_or([0.0; RUN], |way| **way);
            let place = |i: usize| RayPlace {
                from_pith: [dx[i], dy[i]],
                out_mm: out[i],
                per_out: per_out[i],
                s_mm: s[i] as f32,
                square_mm: square[i],
                end,
                texel_mm: size_mm[i],
                per_texel: 1.0 / size_mm[i],
            };
            for i in 0..RUN {
                [x[i], y[i], z[i]] = rays.cell(&place(i));
            }
            let (chance, along) = noise::cells(&x, &y, &z);
            for i in 0..RUN {
                light[i] *= rays.light_in(&place(i), x[i], chance[i], along[i]);
            }
        }
        for i in 0..RUN {
            depth[i] = shade.depth(looks[i], streaks[i]);
        }
        let end = shade.end_light(self.view.end);
        let mut colours = [0_u32; RUN];
        for i in 0..RUN {
            let [r, g, b] = shade.lit(depth[i], light[i], sap[i], end).map(noise::byte);
            colours[i] = r | g << 8 | b << 16 | 0xff00_0000;
        }
        for (texel, colour) in rgba.chunks_exact_mut(4).zip(colours) {
            texel.copy_from_slice(&colour.to_le_bytes());
        }
    }
}

impl Wobble {
    /// That of a run of columns, `at` rows down.
    #[inline(always)]
    fn fill(&self, first: usize, at: f64, waver: &mut [f64; RUN]) {
        let [step, rows] = self.step;
        let down = at / rows as f64;
        let (row, part) = (down as usize, down.fract());
        let place = |i: usize| {
            let i = row * self.along + first / step + i;
            let [above, below] = [i, i + self.along].map(|i| self.at.get(i).copied().unwrap_or_default());
            above + part * (below - above)
        };
        let mut here = place(0);
        for (i, values) in waver.chunks_exact_mut(step).enumerate() {
            let there = place(i + 1);
            let slope = (there - here) / step as f64;
            for (k, value) in values.iter_mut().enumerate() {
                *value = here + slope * k as f64;
            }
            here = there;
        }
    }
}

/// One row to be painted, compiled once for processors that do eight texels at a time and once for all others. Nothing is
/// reordered or fused, so the colours are the same.
struct Row<'a, 'b> {
    rows: &'a TimberRows<'b>,
    at: f64,
    add: [f64; 2],
    rgba: &'a mut [u8],
}

impl WithSimd for Row<'_, '_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        for (run, part) in self.rgba.chunks_mut(4 * RUN).enumerate() {
            self.rows.fill_run(run * RUN, self.at, self.add, part);
        }
    }
}

/// A run of a list that is padded to whole runs.
#[inline]
fn run_of<T>(list: &[T], first: usize) -> Option<&[T; RUN]> {
    list.get(first..)?.first_chunk()
}
