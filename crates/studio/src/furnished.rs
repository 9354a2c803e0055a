//! What follows from the furniture, each thing kept for as long as its own inputs stay the same: moving a notch solves no
//! leg and paints no wood, turning sorts facets and does nothing else.

use std::collections::BTreeMap;
use std::sync::Arc;

use cornerwise_geometry::fit::Fit;
use cornerwise_geometry::furniture::{
    BoardKind, BodyFacet, BodyPart, Scene, Stability, StandingLeg, leg_bodies, leg_levels,
};
use cornerwise_geometry::{Face, Leg, LegError, Surface, Units};
use cornerwise_project::{Apart, Assembly, Design, DesignId, FitFinding, Hand, LAMP_TILT_DEG, Project};
use egui::epaint::WHITE_UV;
use egui::{Color32, Context, TextureId};

use crate::atlas::Atlas;
use crate::kept::Kept;
use crate::patch::TexturePatch;
use crate::planks::{Lie, Plank, plank};
use crate::solid::{Order, Room, Skin};
use crate::tokens::Tokens;

/// Slabs are no longer than this share of a leg, so that light runs evenly over them.
const LONGEST_SLAB: f64 = 1.0 / 72.0;
/// Boards are painted no finer than this, texels per mm: they are seen from far away.
const PLANK_PX_PER_MM: f64 = 1.0;
/// Chamfers and other glue faces lie in the shadow of what is round them.
const SHADED: Color32 = Color32::from_gray(205);

/// The patches of a design's eight surfaces.
pub type Patches = [Option<TexturePatch>; 8];

/// Weight, kg, the centre of mass (u, v, height), mm, and how the whole stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Stands {
    /// All of it, kg.
    pub weight_kg: f64,
    /// The centre of mass, mm.
    pub centre_mm: [f64; 3],
    /// The footprint and the tilt; none without feet.
    pub stability: Option<Stability>,
}

/// A scene's inputs: the furniture, how far it is apart, how fine it is, whether its top is left out.
type OfScene = (Arc<Assembly>, f64, Apart, bool);
/// What was found about an assembly, in which units.
type OfFindings = (Arc<Assembly>, Units);

/// What is derived from the furniture.
#[derive(Default)]
pub struct Furnished {
    legs: BTreeMap<DesignId, (Arc<Design>, Arc<Leg>)>,
    assembly: Kept<Arc<Project>, Result<Arc<Assembly>, LegError>>,
    shown: Kept<OfScene, (Arc<Assembly>, Arc<Scene>)>,
    rooms: Kept<OfScene, Room>,
    order: Order,
    stands: Kept<Arc<Assembly>, Arc<Stands>>,
    found: Kept<OfFindings, Arc<Vec<FitFinding>>>,
    base: Kept<Arc<Assembly>, Option<f64>>,
    atlases: BTreeMap<(DesignId, Hand), Atlas>,
    faces: Atlas,
    plank: Atlas,
    planks: Kept<Arc<Assembly>, Option<Plank>>,
}

impl Furnished {
    /// The furniture put together.
    ///
    /// # Errors
    /// [`LegError`] where a design makes no leg, which a checked project's never does.
    pub fn assembly(&mut self, project: &Arc<Project>) -> Result<Arc<Assembly>, LegError> {
        let legs = &mut self.legs;
        self.assembly.get(Arc::clone(project), Arc::ptr_eq, |project| {
            legs.retain(|id, _| project.design(*id).is_some());
            project.assemble_with(|design| solved(legs, design)).map(Arc::new)
        })
    }

    /// The furniture as it is shown, drawn so far apart and perhaps without its top, and its bodies within
    /// `tolerance_mm`.
    pub fn scene(
        &mut self,
        assembly: &Arc<Assembly>,
        tolerance_mm: f64,
        apart: Apart,
        without_top: bool,
    ) -> (Arc<Assembly>, Arc<Scene>) {
        let same = |a: &OfScene, b: &OfScene| Arc::ptr_eq(&a.0, &b.0) && (a.1, a.2, a.3) == (b.1, b.2, b.3);
        let key = (Arc::clone(assembly), tolerance_mm, apart, without_top);
        self.shown.get(key, same, |(assembly, tolerance_mm, apart, without_top)| {
            let shown = drawn(assembly, *apart, *without_top);
            let longest = shown.legs.iter().map(|placed| placed.leg.length_mm).fold(f64::INFINITY, f64::min);
            let scene = Scene::new(shown.bodies_apart(*tolerance_mm, longest * LONGEST_SLAB, apart));
            (shown, Arc::new(scene))
        })
    }

    /// The room that the furniture takes, drawn so far apart and perhaps without its top.
    pub fn room(&mut self, assembly: &Arc<Assembly>, apart: Apart, without_top: bool) -> Room {
        let same = |a: &OfScene, b: &OfScene| Arc::ptr_eq(&a.0, &b.0) && (a.2, a.3) == (b.2, b.3);
        let key = (Arc::clone(assembly), 0.0, apart, without_top);
        self.rooms.get(key, same, |(assembly, _, apart, without_top)| {
            // Roughly: a millimetre is nothing here.
            Room::of(&drawn(assembly, *apart, *without_top).bodies_apart(2.0, f64::INFINITY, apart))
        })
    }

    /// The order in which a camera at these angles paints the facets of a scene.
    pub fn order(&mut self, scene: &Arc<Scene>, angles_deg: [f64; 2]) -> Arc<Vec<u32>> {
        self.order.of(scene, angles_deg)
    }

    /// How it stands.
    pub fn stands(&mut self, assembly: &Arc<Assembly>) -> Arc<Stands> {
        self.stands.get(Arc::clone(assembly), Arc::ptr_eq, |assembly| {
            let (weight_kg, centre_mm) = assembly.weight();
            Arc::new(Stands { weight_kg, centre_mm, stability: assembly.stability() })
        })
    }

    /// The least base that a lamp stands the published tilt on, mm. A search: while something moves, the last stays.
    pub fn least_base_mm(&mut self, assembly: &Arc<Assembly>, moving: bool) -> Option<f64> {
        let same = |a: &Arc<Assembly>, b: &Arc<Assembly>| moving || Arc::ptr_eq(a, b);
        self.base.get(Arc::clone(assembly), same, |assembly| assembly.least_base_mm(LAMP_TILT_DEG))
    }

    /// What to watch out for about the whole and about the fit of each leg in it. Searching for fixes takes a moment: while
    /// something moves, what was found last stays.
    pub fn findings(&mut self, assembly: &Arc<Assembly>, units: Units, moving: bool) -> Arc<Vec<FitFinding>> {
        let same = |a: &OfFindings, b: &OfFindings| moving || (Arc::ptr_eq(&a.0, &b.0) && a.1 == b.1);
        self.found.get((Arc::clone(assembly), units), same, |(assembly, units)| {
            let mut found = assembly.findings(*units);
            let mut seen: Vec<DesignId> = Vec::new();
            for placed in &assembly.legs {
                if !seen.contains(&placed.design.id) {
                    seen.push(placed.design.id);
                    if let Ok(leg) = placed.design.leg() {
                        found.extend(placed.design.fit_findings(&leg, *units));
                    }
                }
            }
            Arc::new(found)
        })
    }

    /// Paints what has changed of the legs and of the boards. The answer is whether something is coarse, and should be
    /// asked for again at rest.
    pub fn paint(&mut self, ctx: &Context, assembly: &Arc<Assembly>, px_per_mm: f64, moving: bool) -> bool {
        let mut coarse = false;
        self.atlases.retain(|(design, hand), _| assembly.has(*design, *hand));
        let mut done: Vec<(DesignId, Hand)> = Vec::new();
        for placed in &assembly.legs {
            let key = (placed.design.id, placed.hand);
            if !done.contains(&key) {
                done.push(key);
                let atlas = self.atlases.entry(key).or_default();
                coarse |= matches!(atlas.update(ctx, &placed.design, &placed.leg, px_per_mm, moving), Ok(true));
            }
        }
        let species = assembly.furniture.boards;
        let plank = self.planks.get(Arc::clone(assembly), Arc::ptr_eq, |made| plank(&made.boards, species));
        if let Some(Plank { design, leg, .. }) = plank {
            let px_per_mm = px_per_mm.min(PLANK_PX_PER_MM);
            coarse |= matches!(self.plank.update(ctx, &design, &leg, px_per_mm, moving), Ok(true));
        }
        coarse
    }

    /// The paint of faces 1 and 2 of a design, as it is drawn on.
    pub fn face_patches(
        &mut self,
        ctx: &Context,
        design: &Arc<Design>,
        leg: &Arc<Leg>,
        moving: bool,
    ) -> [[Option<TexturePatch>; 2]; 1] {
        let atlas = match self.atlases.get(&(design.id, Hand::Drawn)) {
            Some(atlas) => atlas,
            None => {
                // It stands nowhere here, or only mirrored. A surface that cannot be painted is drawn without wood.
                let _ = self.faces.update(ctx, design, leg, PLANK_PX_PER_MM, moving);
                &self.faces
            }
        };
        [[Face::One, Face::Two].map(|face| atlas.patch(Surface::Face(face)))]
    }

    /// The patches of a leg that was painted.
    pub fn patches(&self, design: DesignId, hand: Hand) -> Option<Patches> {
        let atlas = self.atlases.get(&(design, hand))?;
        Some(Surface::ALL.map(|surface| atlas.patch(surface)))
    }

    /// How every facet of the furniture that was painted looks.
    pub fn skins(&mut self, painted: &Arc<Assembly>, shown: &Assembly, t: &'static Tokens) -> Skins {
        let species = painted.furniture.boards;
        let plank = self.planks.get(Arc::clone(painted), Arc::ptr_eq, |made| plank(&made.boards, species));
        let board = Surface::ALL.map(|surface| self.plank.patch(surface));
        Skins {
            legs: shown.legs.iter().map(|placed| self.patches(placed.design.id, placed.hand)).collect(),
            lies: shown.boards.iter().map(Lie::of).collect(),
            plank: board,
            scale: plank.map_or(1.0, |plank| plank.scale),
            t,
        }
    }
}

/// The furniture with its aprons drawn out, perhaps without its top.
fn drawn(assembly: &Arc<Assembly>, apart: Apart, without_top: bool) -> Arc<Assembly> {
    if apart == Apart::default() && !without_top {
        return Arc::clone(assembly);
    }
    let mut drawn = assembly.drawn_apart(&apart);
    drawn.boards.retain(|board| !(without_top && board.kind == BoardKind::Top));
    Arc::new(drawn)
}

/// A leg of a design, the one that is known where blank and lines are the same.
fn solved(known: &mut BTreeMap<DesignId, (Arc<Design>, Arc<Leg>)>, design: &Arc<Design>) -> Result<Arc<Leg>, LegError> {
    if let Some((was, leg)) = known.get(&design.id)
        && (Arc::ptr_eq(was, design)
            || (was.blank == design.blank && was.first == design.first && was.second == design.second))
    {
        return Ok(Arc::clone(leg));
    }
    let leg = Arc::new(design.leg()?);
    known.insert(design.id, (Arc::clone(design), Arc::clone(&leg)));
    Ok(leg)
}

/// How facets look.
pub struct Skins {
    legs: Vec<Option<Patches>>,
    lies: Vec<Option<Lie>>,
    plank: Patches,
    scale: f64,
    t: &'static Tokens,
}

impl Skins {
    /// How a facet looks.
    pub fn of(&self, facet: &BodyFacet) -> Option<Skin> {
        match facet.part {
            BodyPart::Piece { place, .. } => wood_skin(self.legs.get(place)?.as_ref()?, facet),
            BodyPart::Board(board) => {
                let Some(lie) = self.lies.get(board)? else { return Some(plain(self.t.cloth)) };
                let (surface, corners) = lie.shown(facet, self.scale);
                let Some(patch) = &self.plank[surface.index()] else { return Some(plain(self.t.raised)) };
                let uv = corners.map(|corner| patch.uv(corner));
                Some(Skin { texture: patch.texture, uv, tint: Color32::WHITE })
            }
        }
    }
}

fn plain(tint: Color32) -> Skin {
    Skin { texture: TextureId::default(), uv: [WHITE_UV; 4], tint }
}

/// How a facet of a leg looks in the wood of its design. Of the pipe's chamfer, it is the face it was cut into.
pub fn wood_skin(patches: &Patches, facet: &BodyFacet) -> Option<Skin> {
    let wood = facet.wood.as_ref()?;
    let (surface, tint) = match wood.surface {
        Some(surface @ Surface::Face(_)) => (surface, SHADED),
        Some(surface) => (surface, Color32::WHITE),
        None => {
            let face = if wood.piece.beyond_second() { Face::Three } else { Face::One };
            (Surface::Face(face), SHADED)
        }
    };
    let patch = patches[surface.index()].as_ref()?;
    Some(Skin { texture: patch.texture, uv: wood.blank.map(|corner| patch.uv(corner)), tint })
}

/// One leg by itself as bodies, its axis at the middle of the frame and its foot on the floor.
pub fn lone_scene(leg: &Leg, fit: &Fit, tolerance_mm: f64) -> Scene {
    let standing = StandingLeg { leg, fit, axis_mm: [0.0, 0.0], turn_deg: 0.0, foot_above_mm: 0.0 };
    Scene::new(leg_bodies(&standing, 0, &leg_levels(leg, fit, tolerance_mm, leg.length_mm / 120.0)))
}
