//! What is wrong, in the words of the screen: there nobody counts designs, and what is at hand needs no name.

use crate::{DesignId, EditError, Fault, Place, Project, ProjectError};

impl EditError {
    /// Why an edit of `project` is refused, for a maker who has the leg `here` at hand: other legs go by their letters, own
    /// woods by their names, figures by their captions.
    pub fn said(&self, project: &Project, here: DesignId) -> String {
        match self {
            EditError::Project(error) => error.said(project, here),
            other => other.to_string(),
        }
    }
}

impl ProjectError {
    fn said(&self, project: &Project, here: DesignId) -> String {
        let fault = match &self.fault {
            Fault::OwnWood(row) => {
                let (value, least, most) = (row.value, row.least, row.most);
                format!("{} is {value}: it must be {least} to {most}", row.caption())
            }
            other => other.to_string(),
        };
        match self.place.said(project, here) {
            Some(place) => format!("{place}: {fault}"),
            None => fault,
        }
    }
}

impl Place {
    /// The place as it is called on screen; nothing where it is what is at hand.
    fn said(self, project: &Project, here: DesignId) -> Option<String> {
        let (design, part) = self.parts();
        // What is wrong names these by itself.
        let plain = matches!(
            self,
            Place::Design { .. } | Place::Blank { .. } | Place::Wood { .. } | Place::Fit { .. } | Place::WoodLimits
        );
        let part = if plain { String::new() } else { part };
        let letter = design.and_then(|number| project.designs.get(number.checked_sub(1)?));
        let leg = letter.filter(|design| design.id != here).map(|design| format!("leg {}", design.letter));
        match self {
            // A new one has no place in the list yet, and its name is told where it matters.
            Place::OwnWood { number } => Some(project.own_woods.get(number.checked_sub(1)?)?.name.clone()),
            _ => match (leg, part) {
                (None, part) if part.is_empty() => None,
                (None, part) => Some(part),
                (Some(leg), part) if part.is_empty() => Some(leg),
                (Some(leg), part) => Some(format!("{leg}, {part}")),
            },
        }
    }
}
