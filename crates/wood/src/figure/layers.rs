//! Layers made ready to be painted.

use cornerwise_geometry::BlankPoint;

use super::{GLUE_LINE_DARK, GLUE_LINE_MM, Steps, View, bytes, dot, overlap};
use crate::pattern::Pattern;
use crate::runs::Run;
use crate::shade::{Fibre, Shade};
use crate::{Finish, Grain, LayerGrain, Layers};

/// The most layers that are told apart within one texel; of a coarser one the first so many stand for the rest.
const MOST_LAYERS_IN_TEXEL: usize = 16;

/// Layers with their looks.
#[derive(Clone, Debug)]
pub(super) struct LayerFigure {
    pattern: Pattern,
    /// Unit vectors (x, y, s) along the fibres and across them within the layer; the normal is the third.
    along: [f64; 3],
    across: [f64; 3],
    /// Whether the fibres of every other layer run across those of its neighbours.
    alternating: bool,
    /// One for each layer of the list.
    shades: Vec<Shade>,
}

impl LayerFigure {
    pub fn new(layers: &Layers) -> LayerFigure {
        let pattern = Pattern::new(layers);
        let [x, y, s] = pattern.normal();
        let plan = x.hypot(y);
        // Which way the normal leans in plan; for level layers the direction that was given.
        let toward = layers.toward_deg.to_radians();
        let (cos, sin) = if plan > 1e-9 { (x / plan, y / plan) } else { (toward.cos(), toward.sin()) };
        let (cos, sin) = if (cos + sin).is_finite() { (cos, sin) } else { (1.0, 0.0) };
        LayerFigure {
            along: [-s * cos, -s * sin, plan],
            across: [-sin, cos, 0.0],
            alternating: layers.grain == LayerGrain::Alternating,
            shades: pattern.woods().iter().map(|species| Shade::new(*species)).collect(),
            pattern,
        }
    }

    /// Puts it under a finish.
    pub fn finish(&mut self, finish: Finish) {
        self.shades.iter_mut().for_each(|shade| *shade = shade.under(finish));
    }

    /// The thinnest layer, mm.
    pub fn thinnest_mm(&self) -> f64 {
        self.pattern.thinnest_mm()
    }

    /// The fibres' direction.
    pub fn along(&self) -> [f64; 3] {
        self.along
    }

    /// The direction of fibres that run across their layer.
    pub fn across(&self) -> [f64; 3] {
        self.across
    }

    pub fn normal(&self) -> [f64; 3] {
        self.pattern.normal()
    }

    #[inline]
    pub fn at(&self, view: &View, p: BlankPoint, steps: &Steps, near: &mut Option<Run>) -> Grain {
        let pattern = &self.pattern;
        let position = pattern.position(p);
        let layer = match near {
            Some(run) if run.holds(position) => *run,
            _ => *near.insert(pattern.find(position)),
        };
        let texel = dot(pattern.normal(), steps.column).abs() + dot(pattern.normal(), steps.row).abs();
        let at = [p.x, p.y, p.s];
        let fibre = Fibre {
            across: dot(self.across, at) as f32,
            through: position as f32,
            along: dot(self.along, at) as f32,
            pores_show: steps.pores_show,
            end: view.end,
        };
        let turned = Fibre { across: -fibre.along, along: fibre.across, end: view.end_turned, ..fibre };
        let colour_of = |layer: &Run| {
            let is_turned = self.alternating && layer.number & 1 == 1;
            self.shades[layer.index].of_layer(if is_turned { &turned } else { &fibre }, layer.number)
        };
        let calm_of = |layer: &Run| {
            let is_turned = self.alternating && layer.number & 1 == 1;
            self.shades[layer.index].calm_layer(if is_turned { view.end_turned } else { view.end }, layer.number)
        };
        let colour = average(pattern, position, &layer, texel, view.glue, colour_of, calm_of);
        Grain { species: pattern.woods()[layer.index], line: layer.number, colour: bytes(colour) }
    }
}

/// The mean of layers and glue lines over a texel that spans `texel` mm along the normal. Of layers so thin that several lie in
/// it, nobody sees streaks and pores.
#[inline]
fn average(
    pattern: &Pattern,
    position: f64,
    layer: &Run,
    texel: f64,
    glue_shows: f32,
    colour_of: impl Fn(&Run) -> [f32; 3],
    calm_of: impl Fn(&Run) -> [f32; 3],
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
        let colour = match &at {
            at if at.number == layer.number => own,
            at if at.to_mm - at.from_mm < 0.5 * texel => calm_of(at),
            at => colour_of(at),
        };
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
