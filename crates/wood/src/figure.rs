//! A wood made ready to be read at millions of points.

use cornerwise_geometry::{BlankPoint, End, Face, Surface};

use crate::noise::Weave;
use crate::pattern::{InLayer, Pattern};
use crate::rings::Rings;
use crate::shade::{self, Fibre, Shade};
use crate::{Grain, Species, Wood};

/// How thick a glue line is painted, mm.
const GLUE_LINE_MM: f64 = 0.12;

/// How much of the light a glue line takes.
const GLUE_LINE_DARK: f32 = 0.45;

/// The most layers that are told apart within one texel; of a coarser one the first so many stand for the rest.
const MOST_LAYERS_IN_TEXEL: usize = 16;

/// How far inside a planed face or an end its wood is looked up, mm.
const JUST_INSIDE_MM: f64 = 1e-6;

/// A wood with its sums worked out: where its layers or rings lie and which way its fibres run.
///
/// Timber's fibres run along s. A layer's fibres run in the layer, as near to s as they can; level layers have theirs
/// across the leg, away from the direction they would lean toward.
#[derive(Clone, Debug)]
pub struct Figure {
    kind: Kind,
}

#[derive(Clone, Debug)]
enum Kind {
    Layers {
        pattern: Pattern,
        /// Unit vectors (x, y, s) along the fibres and across them within the layer; the normal is the third.
        along: [f64; 3],
        across: [f64; 3],
        /// By index of [`Species::ALL`].
        shades: Vec<Shade>,
    },
    Timber {
        rings: Rings,
        species: Species,
        shade: Shade,
    },
}

/// How a surface cuts through a figure.
#[derive(Clone, Copy, Debug)]
pub struct View {
    inside: [f64; 3],
    /// 1 where the fibres are cut square (end grain), 0 where they lie in the surface.
    end: f32,
    /// 1 where layers are cut square, 0 where they lie in the surface: there no glue line shows, or all of it would.
    glue: f32,
}

/// From one texel to the next column and the next row. Colours are averaged over the texel, so that thin lines are not
/// lost between texels nor beat with them; lines and woods are its centre's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steps {
    column: [f64; 3],
    row: [f64; 3],
    pores_show: f32,
}

/// What all points at one distance from the top share.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Level {
    drift: f64,
    weave: Weave,
}

impl Level {
    pub fn new(s: f64) -> Level {
        Level { drift: Rings::drift(s).0, weave: Weave::new(s as f32) }
    }
}

impl Steps {
    /// A texel without size: the colour at a point.
    pub const POINT: Steps = Steps { column: [0.0; 3], row: [0.0; 3], pores_show: 1.0 };

    /// To the next column and to the next row, as (x, y, s) in mm of the blank.
    pub fn new(column: [f64; 3], row: [f64; 3]) -> Steps {
        let size_mm = dot(column, column).max(dot(row, row)).sqrt();
        Steps { column, row, pores_show: shade::pores_show(size_mm) }
    }
}

impl Figure {
    /// The figure of a wood. Numbers that [`Wood::check`] would refuse are taken at their limits.
    pub fn new(wood: &Wood) -> Figure {
        let kind = match wood {
            Wood::Layers(layers) => {
                let pattern = Pattern::new(layers);
                let [x, y, s] = pattern.normal();
                let plan = x.hypot(y);
                // Which way the normal leans in plan; for level layers the direction that was given.
                let toward = layers.toward_deg.to_radians();
                let (cos, sin) = if plan > 1e-9 { (x / plan, y / plan) } else { (toward.cos(), toward.sin()) };
                let (cos, sin) = if (cos + sin).is_finite() { (cos, sin) } else { (1.0, 0.0) };
                Kind::Layers {
                    pattern,
                    along: [-s * cos, -s * sin, plan],
                    across: [-sin, cos, 0.0],
                    shades: Species::ALL.map(Shade::new).to_vec(),
                }
            }
            Wood::Timber(timber) => {
                Kind::Timber { rings: Rings::new(timber), species: timber.species, shade: Shade::new(timber.species) }
            }
        };
        Figure { kind }
    }

    /// How a surface shows this figure. A sawn surface counts as lying along the blank; its slope is left out.
    pub fn view(&self, surface: Surface) -> View {
        let e = JUST_INSIDE_MM;
        let (inside, axis) = match surface {
            Surface::Cut(cut) => ([0.0; 3], 1 - usize::from(cut.index() == 0)),
            Surface::Face(Face::One) => ([0.0, e, 0.0], 1),
            Surface::Face(Face::Two) => ([-e, 0.0, 0.0], 0),
            Surface::Face(Face::Three) => ([0.0, -e, 0.0], 1),
            Surface::Face(Face::Four) => ([e, 0.0, 0.0], 0),
            Surface::End(End::Top) => ([0.0, 0.0, e], 2),
            Surface::End(End::Foot) => ([0.0, 0.0, -e], 2),
        };
        let (along, normal) = match &self.kind {
            Kind::Layers { pattern, along, .. } => (along[axis], pattern.normal()[axis]),
            Kind::Timber { .. } => ([0.0, 0.0, 1.0][axis], 0.0),
        };
        View { inside, end: (along * along) as f32, glue: (1.0 - normal * normal) as f32 }
    }

    /// What shows at a point of the blank, mm, its colour averaged over a texel of the given steps.
    pub fn at(&self, view: &View, p: BlankPoint, steps: &Steps) -> Grain {
        self.at_level(view, &Level::new(p.s), p, steps)
    }

    /// The same where what belongs to the level is known: a whole column of texels shares it.
    #[inline]
    pub(crate) fn at_level(&self, view: &View, level: &Level, p: BlankPoint, steps: &Steps) -> Grain {
        let p = BlankPoint { x: p.x + view.inside[0], y: p.y + view.inside[1], s: p.s + view.inside[2] };
        match &self.kind {
            Kind::Layers { pattern, along, across, shades } => {
                let position = pattern.position(p);
                let layer = pattern.find(position);
                let texel = dot(pattern.normal(), steps.column).abs() + dot(pattern.normal(), steps.row).abs();
                let at = [p.x, p.y, p.s];
                let fibre = Fibre {
                    across: dot(*across, at) as f32,
                    through: position as f32,
                    along: dot(*along, at) as f32,
                    pores_show: steps.pores_show,
                    end: view.end,
                };
                let colour_of = |layer: &InLayer| shades[layer.species as usize].of_layer(&fibre, layer.number);
                let colour = average(pattern, position, &layer, texel, view.glue, colour_of);
                Grain { species: layer.species, line: layer.number, colour: bytes(colour) }
            }
            Kind::Timber { rings, species, shade } => {
                let out_mm = rings.out_mm(p.x, p.y);
                let ring = Rings::ring(out_mm * rings.per_mm() + level.drift);
                let fibre = Fibre {
                    across: p.x as f32,
                    through: p.y as f32,
                    along: p.s as f32,
                    pores_show: steps.pores_show,
                    end: view.end,
                };
                let [px, py] = rings.pith();
                let (dx, dy) = (p.x - px, p.y - py);
                // How fast rings go by: the steps along the line from the pith.
                let grow = |step: &[f64; 3]| (dx * step[0] + dy * step[1]).abs();
                let rings_by = (grow(&steps.column) + grow(&steps.row)) * rings.per_mm();
                let texel = rings_by as f32 / (out_mm * ring.width).max(1e-9) as f32;
                let colour = shade.of_ring(&fibre, &level.weave, ring.share as f32, texel);
                Grain { species: *species, line: ring.ring, colour: bytes(colour) }
            }
        }
    }
}

/// The mean of layers and glue lines over a texel that spans `texel` mm along the normal.
#[inline]
fn average(
    pattern: &Pattern,
    position: f64,
    layer: &InLayer,
    texel: f64,
    glue_shows: f32,
    colour_of: impl Fn(&InLayer) -> [f32; 3],
) -> [f32; 3] {
    // A glue line lies half in each layer, and a texel without size still sees it.
    let span = texel.max(1e-6);
    let (from, to) = (position - 0.5 * span, position + 0.5 * span);
    let reach = 0.5 * GLUE_LINE_MM;
    let own = colour_of(layer);
    if from > layer.from_mm + reach && to < layer.to_mm - reach {
        return own;
    }
    let mut sum = [0.0; 3];
    let mut seen = 0.0;
    let mut at = pattern.find(from);
    for _ in 0..MOST_LAYERS_IN_TEXEL {
        let wood = overlap(from, to, at.from_mm, at.to_mm);
        let glue = overlap(from, to, at.from_mm, at.from_mm + reach) + overlap(from, to, at.to_mm - reach, at.to_mm);
        let light = (wood - glue.min(wood) * f64::from(GLUE_LINE_DARK * glue_shows)) as f32;
        let colour = if at.number == layer.number { own } else { colour_of(&at) };
        for (sum, channel) in sum.iter_mut().zip(colour) {
            *sum += light * channel;
        }
        seen += wood;
        if at.to_mm >= to {
            break;
        }
        at = pattern.find(at.to_mm);
    }
    if seen > 0.0 { sum.map(|v| v / seen as f32) } else { own }
}

fn overlap(a: f64, b: f64, c: f64, d: f64) -> f64 {
    (b.min(d) - a.max(c)).max(0.0)
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn bytes(colour: [f32; 3]) -> [u8; 3] {
    // A cast from float to byte saturates.
    colour.map(|v| (v + 0.5) as u8)
}
