//! A wood made ready to be read at millions of points.

use cornerwise_geometry::{BlankPoint, Cut, End, Face, Surface};

use crate::figure::blocks::BlockFigure;
use crate::figure::layers::LayerFigure;
pub(crate) use crate::figure::photos::{PhotoFigure, SeenFromColumn};
use crate::grid::InBlock;
use crate::noise::Weave;
use crate::runs::Run;
use crate::shade;
use crate::{Finish, Grain, Knot, Wood};

mod blocks;
mod knots;
mod layers;
mod photos;
mod timber;
mod timber_rows;

pub(crate) use knots::KnotFigure;
pub(crate) use timber::TimberFigure;
pub(crate) use timber_rows::{TexelColumn, TimberRows};

/// How thick a glue line is painted, mm.
const GLUE_LINE_MM: f64 = 0.12;

/// How much of the light a glue line takes.
const GLUE_LINE_DARK: f32 = 0.45;

/// How far inside a planed face or an end its wood is looked up, mm.
const JUST_INSIDE_MM: f64 = 1e-6;

/// A wood with its sums worked out: where its layers or rings lie and which way its fibres run.
///
/// Timber's fibres and those of blocks run along s. A layer's fibres run in the layer, as near to s as they can; level layers have theirs
/// across the leg, away from the direction they would lean toward.
#[derive(Clone, Debug)]
pub struct Figure {
    kind: Kind,
    knots: Vec<KnotFigure>,
}

#[derive(Clone, Debug)]
enum Kind {
    Layers(LayerFigure),
    Blocks(BlockFigure),
    Timber(TimberFigure),
    Photos(Box<PhotoFigure>),
}

/// How a surface cuts through a figure.
#[derive(Clone, Copy, Debug)]
pub struct View {
    surface: Surface,
    inside: [f64; 3],
    /// Which of x, y and s the surface lies square to.
    axis: usize,
    /// 1 where the fibres are cut square (end grain), 0 where they lie in the surface.
    end: f32,
    /// The same of fibres that run across their layer.
    end_turned: f32,
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
    size_mm: f32,
}

/// What all points at one distance from the top share.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Level {
    moved: f64,
    weave: Weave,
}

/// What was found at the texel before, where the next one mostly lies too.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Near {
    layer: Option<Run>,
    block: Option<InBlock>,
    photos: Option<photos::Looks>,
}

impl View {
    /// The place whose wood shows at a point of the surface.
    #[inline]
    fn just_inside(&self, p: BlankPoint) -> BlankPoint {
        BlankPoint { x: p.x + self.inside[0], y: p.y + self.inside[1], s: p.s + self.inside[2] }
    }
}

impl Steps {
    /// A texel without size: the colour at a point.
    pub const POINT: Steps = Steps { column: [0.0; 3], row: [0.0; 3], pores_show: 1.0, size_mm: 0.0 };

    /// To the next column and to the next row, as (x, y, s) in mm of the blank.
    pub fn new(column: [f64; 3], row: [f64; 3]) -> Steps {
        let size_mm = dot(column, column).max(dot(row, row)).sqrt();
        Steps { column, row, pores_show: shade::pores_show(size_mm), size_mm: size_mm as f32 }
    }
}

impl Figure {
    /// The figure of a wood. Numbers that [`Wood::check`] would refuse are taken at their limits.
    pub fn new(wood: &Wood) -> Figure {
        let kind = match wood {
            Wood::Layers(layers) => Kind::Layers(LayerFigure::new(layers)),
            Wood::Blocks(blocks) => Kind::Blocks(BlockFigure::new(blocks)),
            Wood::Timber(timber) => Kind::Timber(TimberFigure::new(timber)),
            Wood::Photos(photos) => Kind::Photos(Box::new(PhotoFigure::new(photos))),
        };
        Figure { kind, knots: Vec::new() }
    }

    /// The same under a finish.
    #[must_use]
    pub fn finished(mut self, finish: Finish) -> Figure {
        match &mut self.kind {
            Kind::Timber(timber) => timber.finish(finish),
            Kind::Layers(layers) => layers.finish(finish),
            Kind::Blocks(blocks) => blocks.finish(finish),
            Kind::Photos(photos) => photos.finish(finish),
        }
        self
    }

    /// The same with knots in it, in a blank of this width and depth.
    #[must_use]
    pub fn with_knots(mut self, knots: &[Knot], size_mm: [f64; 2]) -> Figure {
        self.knots = knots.iter().map(|knot| KnotFigure::new(knot, size_mm)).collect();
        self
    }

    /// The knots in it.
    pub(crate) fn knots(&self) -> &[KnotFigure] {
        &self.knots
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
        let square = |v: [f64; 3]| (v[axis] * v[axis]) as f32;
        let (along, turned, normal) = match &self.kind {
            Kind::Layers(layers) => (layers.along(), layers.across(), layers.normal()),
            Kind::Blocks(_) | Kind::Photos(_) => ([0.0, 0.0, 1.0], [0.0; 3], [0.0; 3]),
            Kind::Timber(timber) => (timber.rings.along(), [0.0; 3], [0.0; 3]),
        };
        View { surface, inside, axis, end: square(along), end_turned: square(turned), glue: 1.0 - square(normal) }
    }

    /// What shows at a point of the blank, mm, its colour averaged over a texel of the given steps.
    pub fn at(&self, view: &View, p: BlankPoint, steps: &Steps) -> Grain {
        let grain = self.at_level(view, (&self.level(p.s), None), p, steps, &mut Near::default());
        let over = |colour, knot: &KnotFigure| knot.over(colour, p, steps);
        let knots = self.knots.iter().filter(|_| self.shows_knots(view.surface));
        let colour = knots.fold(grain.colour.map(f32::from), over);
        Grain { colour: bytes(colour), ..grain }
    }

    /// Whether a surface shows a photo of it.
    pub fn is_photographed(&self, surface: Surface) -> bool {
        matches!(&self.kind, Kind::Photos(photos) if photos.shows_photo(surface))
    }

    /// Whether knots are painted on a surface: a photo shows what there is itself.
    pub(crate) fn shows_knots(&self, surface: Surface) -> bool {
        !self.is_photographed(surface)
    }

    /// The colour of the wood about a point, averaged over `patch_mm` and without streaks and pores, sRGB on 0 to 255.
    pub(crate) fn calm_colour(&self, p: BlankPoint, patch_mm: f64) -> [f32; 3] {
        match &self.kind {
            Kind::Timber(timber) => timber.calm_colour(p, patch_mm),
            Kind::Layers(_) | Kind::Blocks(_) | Kind::Photos(_) => {
                let view = self.view(Surface::Cut(Cut::First));
                self.at(&view, p, &Steps::POINT).colour.map(f32::from)
            }
        }
    }

    pub(crate) fn level(&self, s: f64) -> Level {
        let moved = match &self.kind {
            Kind::Timber(timber) => timber.rings.moved(s),
            Kind::Layers(_) | Kind::Blocks(_) | Kind::Photos(_) => 0.0,
        };
        Level { moved, weave: Weave::new(s as f32) }
    }

    /// The same where what belongs to the level is known, and without knots: a whole column of texels shares it.
    #[inline]
    pub(crate) fn at_level(
        &self,
        view: &View,
        (level, column): (&Level, Option<&SeenFromColumn>),
        p: BlankPoint,
        steps: &Steps,
        near: &mut Near,
    ) -> Grain {
        let p = view.just_inside(p);
        match &self.kind {
            Kind::Layers(layers) => layers.at(view, p, steps, &mut near.layer),
            Kind::Blocks(blocks) => blocks.at(view, p, steps, &mut near.block),
            Kind::Timber(timber) => timber.at(view, level, p, steps),
            Kind::Photos(photos) => photos.at(view, p, steps, column, &mut near.photos),
        }
    }

    /// What the photos show that a whole column of a sawn surface shares; nothing of other woods.
    pub(crate) fn seen_from_column(
        &self,
        view: &View,
        p: BlankPoint,
        steps: &Steps,
        near: &mut Near,
    ) -> Option<SeenFromColumn> {
        match &self.kind {
            Kind::Photos(photos) => photos.seen_from_column(view, view.just_inside(p), steps, &mut near.photos),
            Kind::Layers(_) | Kind::Blocks(_) | Kind::Timber(_) => None,
        }
    }

    /// About how long a texel of this size takes to be painted on one thread of the machine this was measured on, ns (`cargo
    /// bench -p cornerwise-wood`): what may be painted within a frame is planned by it. In a large texel there is more to see.
    pub fn texel_ns(&self, texel_mm: f64) -> f64 {
        match &self.kind {
            Kind::Timber(timber) => {
                let pored = timber.rays.is_some() || timber.shade.has_pores();
                let crooked = timber.rings.most_wobble() > 0.0;
                let straight = if pored { 32.0 } else { 15.0 } + 8.0 * texel_mm;
                straight + if crooked { 13.0 + 15.0 * texel_mm } else { 0.0 }
            }
            Kind::Layers(layers) => 45.0 + 35.0 * (texel_mm / layers.thinnest_mm()).min(16.0),
            Kind::Blocks(blocks) => 75.0 + 300.0 * (texel_mm / blocks.thinnest_mm()).min(1.0),
            Kind::Photos(_) => 75.0,
        }
    }

    /// The timber it is, if it is.
    pub(crate) fn timber(&self) -> Option<&TimberFigure> {
        match &self.kind {
            Kind::Timber(timber) => Some(timber),
            Kind::Layers(_) | Kind::Blocks(_) | Kind::Photos(_) => None,
        }
    }
}

fn overlap(a: f64, b: f64, c: f64, d: f64) -> f64 {
    (b.min(d) - a.max(c)).max(0.0)
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(crate) fn bytes(colour: [f32; 3]) -> [u8; 3] {
    // A cast from float to byte saturates.
    colour.map(|v| (v + 0.5) as u8)
}
