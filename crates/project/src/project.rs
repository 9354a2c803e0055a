use crate::{Design, DesignId, FORMAT, Furniture, OwnBlade, PaperChoice, Picture};
use cornerwise_geometry::{Limits, Line, PointId, Saw, Units};
use cornerwise_wood::{SpeciesRow, WoodLimits};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// Everything the maker wants kept: one or more designs, how lengths are shown, and how the paper is printed.
///
/// Plain data. A project read from a file or built by hand is checked by [`Project::check`]; a project that
/// [`Project::apply`] returns is valid when the one before was.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Project {
    /// The version of the file's format. Always [`FORMAT`].
    pub format: u32,
    /// The project's name: on the window, on every page. At most [`crate::MAX_NAME_CHARS`] characters.
    #[serde(default = "new_project_name")]
    pub name: String,
    /// How lengths are shown and how a number without a unit is read when typed on screen. A bare number in the file
    /// is always millimetres.
    #[serde(default = "millimetres")]
    pub units: Units,
    /// How the paper is printed.
    #[serde(default)]
    pub paper: PaperChoice,
    /// The saw that the legs go through, where the maker has told it. Without one only what is drawn is judged.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub saw: Option<Saw>,
    /// The maker's own blades, to choose from.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub blades: Vec<OwnBlade>,
    /// The limits that watch-outs are held against.
    #[serde(default, skip_serializing_if = "is_usual")]
    pub limits: Limits,
    /// The limits that seams and faces are judged by.
    #[serde(default, skip_serializing_if = "are_usual")]
    pub wood_limits: WoodLimits,
    /// The maker's own woods, used by their names.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub own_woods: Vec<SpeciesRow>,
    /// The designs, one leg each, at least one. Shared, so that a project of many designs is cheap to copy.
    pub designs: Vec<Arc<Design>>,
    /// The pictures that designs use.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pictures: Vec<Arc<Picture>>,
    /// Legs and boards together; nothing where only legs are drawn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub furniture: Option<Furniture>,
}

fn is_usual(limits: &Limits) -> bool {
    *limits == Limits::default()
}

fn are_usual(limits: &WoodLimits) -> bool {
    *limits == WoodLimits::default()
}

fn new_project_name() -> String {
    "New project".to_owned()
}

fn millimetres() -> Units {
    Units::Millimetres
}

impl Project {
    /// A new project with one design: a straight-sided blank with a gentle cyma on both faces, in plain timber.
    pub fn new() -> Project {
        Project {
            format: FORMAT,
            name: new_project_name(),
            units: millimetres(),
            paper: PaperChoice::default(),
            saw: None,
            blades: Vec::new(),
            limits: Limits::default(),
            wood_limits: WoodLimits::default(),
            own_woods: Vec::new(),
            designs: vec![Arc::new(Design::new(DesignId(1), 'A'))],
            pictures: Vec::new(),
            furniture: None,
        }
    }

    /// The design with this id.
    pub fn design(&self, id: DesignId) -> Option<&Arc<Design>> {
        self.designs.iter().find(|design| design.id == id)
    }

    /// Makes a project that was just read whole: own woods get their rows. Gives every design and every point without an id (0, "not given") one of its own. A file written by hand may leave
    /// ids out.
    pub fn number(&mut self) {
        self.know_own_woods();
        for design in &mut self.designs {
            if design.wood.photos().is_some() {
                Arc::make_mut(design).tell_photos();
            }
            if [&design.first, &design.second].into_iter().any(lacks_ids) {
                let design = Arc::make_mut(design);
                number_points(&mut design.first);
                number_points(&mut design.second);
            }
            if design.ghost.as_ref().is_some_and(|ghost| [&ghost.first, &ghost.second].into_iter().any(lacks_ids))
                && let Some(ghost) = &mut Arc::make_mut(design).ghost
            {
                let ghost = Arc::make_mut(ghost);
                number_points(&mut ghost.first);
                number_points(&mut ghost.second);
            }
        }
        self.number_designs();
    }

    fn number_designs(&mut self) {
        for place in 0..self.designs.len() {
            if self.designs[place].id == DesignId(0) {
                let id = self.next_design_id();
                Arc::make_mut(&mut self.designs[place]).id = id;
            }
        }
    }

    /// An id that no design has.
    pub(crate) fn next_design_id(&self) -> DesignId {
        let most = self.designs.iter().map(|design| design.id.0).max().unwrap_or(0);
        if let Some(next) = most.checked_add(1) {
            return DesignId(next);
        }
        DesignId((1..).find(|id| self.design(DesignId(*id)).is_none()).unwrap_or(u32::MAX))
    }

    /// The first capital letter that no design has; `A` when all are taken.
    pub(crate) fn next_letter(&self) -> char {
        ('A'..='Z').find(|letter| self.designs.iter().all(|design| design.letter != *letter)).unwrap_or('A')
    }
}

fn lacks_ids(line: &Line) -> bool {
    match line {
        Line::Points(points) => points.iter().any(|point| point.id == PointId(0)),
        Line::Batten(batten) => batten.pins.iter().any(|pin| pin.id == PointId(0)),
        Line::Shape(_) | Line::Linked(_) => false,
    }
}

fn number_points(line: &mut Line) {
    let ids: Vec<&mut PointId> = match line {
        Line::Points(points) => points.iter_mut().map(|point| &mut point.id).collect(),
        Line::Batten(batten) => batten.pins.iter_mut().map(|pin| &mut pin.id).collect(),
        Line::Shape(_) | Line::Linked(_) => Vec::new(),
    };
    let mut next = ids.iter().map(|id| id.0).max().unwrap_or(0);
    for id in ids.into_iter().filter(|id| **id == PointId(0)) {
        // Beyond the last number there is none to give: the check then names the points that share one.
        next = next.saturating_add(1);
        *id = PointId(next);
    }
}

impl Default for Project {
    fn default() -> Project {
        Project::new()
    }
}
