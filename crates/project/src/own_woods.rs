//! The maker's own woods in a project: a list of rows, used by their names.

use cornerwise_wood::{OwnWood, Species, SpeciesRow};
use std::sync::Arc;

use crate::{EditError, Fault, Place, Project, ProjectError};

/// The most own woods in one project.
pub const MAX_OWN_WOODS: usize = 60;

impl Project {
    /// The woods to choose from: the built-in ones, then the maker's own.
    pub fn woods(&self) -> Vec<Species> {
        Species::ALL.into_iter().chain(self.own_woods.iter().map(|row| Species::Own(OwnWood::new(row)))).collect()
    }

    /// Lets every own wood that is used have the row that the list has by its name. A file gives only the names.
    pub(crate) fn know_own_woods(&mut self) {
        let rows = self.own_woods.clone();
        self.change_woods(|species| match species {
            Species::Own(own) => {
                let row = rows.iter().find(|row| row.name == own.row().name);
                row.map_or(species, |row| Species::Own(OwnWood::new(row)))
            }
            built_in => built_in,
        });
    }

    /// Every wood that is used becomes another.
    fn change_woods(&mut self, to: impl Fn(Species) -> Species) {
        for design in &mut self.designs {
            let changed = design.wood.with_species(&to);
            if changed != design.wood {
                Arc::make_mut(design).wood = changed;
            }
        }
        if let Some(furniture) = &mut self.furniture {
            furniture.boards = to(furniture.boards);
        }
    }

    /// Where a wood is used: the legs' letters, and the boards.
    fn uses_of(&self, name: &str) -> Vec<String> {
        let own = |species: &Species| matches!(species, Species::Own(own) if own.row().name == name);
        let legs = self.designs.iter().filter(|design| design.wood.species().iter().any(own));
        let boards = self.furniture.iter().filter(|furniture| own(&furniture.boards)).map(|_| "the boards".to_owned());
        legs.map(|design| format!("leg {}", design.letter)).chain(boards).collect()
    }

    pub(crate) fn set_own_wood(&mut self, index: usize, row: &SpeciesRow) -> Result<(), EditError> {
        let count = self.own_woods.len();
        let slot = self.own_woods.get_mut(index);
        let slot = slot.ok_or(EditError::NoSuchOwnWood { number: index.saturating_add(1), count })?;
        let was = std::mem::replace(slot, row.clone()).name;
        let now = Species::Own(OwnWood::new(row));
        self.change_woods(|species| match species {
            Species::Own(own) if own.row().name == was => now,
            other => other,
        });
        Ok(())
    }

    pub(crate) fn delete_own_wood(&mut self, index: usize) -> Result<(), EditError> {
        let count = self.own_woods.len();
        let Some(row) = self.own_woods.get(index) else {
            return Err(EditError::NoSuchOwnWood { number: index.saturating_add(1), count });
        };
        let uses = self.uses_of(&row.name);
        if !uses.is_empty() {
            return Err(EditError::OwnWoodInUse { name: row.name.clone(), uses: uses.join(", ") });
        }
        self.own_woods.remove(index);
        Ok(())
    }

    /// Checks the list, and that every own wood that is used is in it.
    pub(crate) fn check_own_woods(&self) -> Result<(), ProjectError> {
        if self.own_woods.len() > MAX_OWN_WOODS {
            return Err(Fault::TooManyOwnWoods(self.own_woods.len()).at(Place::Project));
        }
        for (place, row) in self.own_woods.iter().enumerate() {
            let here = Place::OwnWood { number: place + 1 };
            row.check().map_err(|error| Fault::OwnWood(error).at(here))?;
            crate::check::check_name(&row.name).map_err(|fault| fault.at(here))?;
            let taken = Species::ALL.iter().any(|species| species.name() == row.name);
            if taken || self.own_woods[..place].iter().any(|other| other.name == row.name) {
                return Err(Fault::SameWoodName(row.name.clone()).at(here));
            }
        }
        let listed = |species: &Species| match species {
            Species::Own(own) => self.own_woods.iter().any(|row| row == own.row()),
            _ => true,
        };
        for (place, design) in self.designs.iter().enumerate() {
            if let Some(missing) = design.wood.species().iter().find(|species| !listed(species)) {
                let here = Place::Wood { design: place + 1 };
                return Err(Fault::NoSuchWood(missing.name().to_owned()).at(here));
            }
        }
        match &self.furniture {
            Some(furniture) if !listed(&furniture.boards) => {
                Err(Fault::NoSuchWood(furniture.boards.name().to_owned()).at(Place::Furniture))
            }
            _ => Ok(()),
        }
    }
}
