//! What the cover says of hands, the inside piece, notches and the pipe, and the steps that they add.

use super::Job;
use super::column::Block;
use cornerwise_project::{Hand, StripLayout};

/// Facts, in a column of a width.
pub(crate) fn facts(job: &Job<'_>, width: f64) -> Vec<Block> {
    let show = |mm: f64| job.units.show_with_unit(mm);
    let mut facts = Vec::new();
    let mut fact = |name: &str, value: &str| facts.push(Block::fact(name, value, width));
    if job.names.make > 0 {
        fact("make", &job.names.make.to_string());
    }
    if job.names.hand == Hand::Mirrored {
        fact("hand", &format!("mirrored: its pieces are {} to {}", job.piece(1), job.piece(4)));
    }
    let (fit, inside) = (job.fit, job.piece(job.fit.inside.number()));
    if !fit.notches.is_empty() {
        let count = fit.notches.len();
        let notches = if count == 1 { "1 notch".to_owned() } else { format!("{count} notches") };
        fact("inside", &format!("{inside}, {notches}: see the crosscut strip"));
    } else if job.inside_is_told() {
        fact("inside", &inside);
    }
    if let Some(pipe) = &fit.pipe {
        let told = pipe.fit(job.leg);
        let name = if pipe.name.is_empty() { String::new() } else { format!("{}, ", pipe.name) };
        fact("pipe", &format!("{name}{} outside, {} long", show(pipe.outside.mm()), show(told.pipe_length_mm)));
        let chamfer =
            format!("{} along each face, its own face {} wide", show(told.chamfer_leg_mm), show(told.chamfer_face_mm));
        fact("chamfer", &chamfer);
    }
    facts
}

/// Adds the steps of the pipe and of notches where they belong in the order of the work.
pub(crate) fn add_steps(job: &Job<'_>, steps: &mut Vec<(&str, String)>) {
    let show = |mm: f64| job.units.show_with_unit(mm);
    if let Some(pipe) = &job.fit.pipe {
        let told = pipe.fit(job.leg);
        let sizes = format!(
            "all four arrises at 45 degrees, {} along each face; the chamfer's own face is {} wide, and easier to measure",
            show(told.chamfer_leg_mm),
            show(told.chamfer_face_mm)
        );
        match job.choice.layout {
            StripLayout::Wrapped => {
                let words = format!(
                    "This strip is laid out before chamfering. With the paper on, chamfer {sizes}: down to the dashed lines."
                );
                steps.insert(1.min(steps.len()), ("Chamfer", words));
            }
            StripLayout::PerFace { .. } => {
                let words = format!(
                    "Before any paper goes on, chamfer {sizes}. A chamfered blank has lost its arrises: each strip is as wide as \
                     the flat that is left, and its edges go on the edges of the flat."
                );
                for (_, stick) in steps.iter_mut() {
                    *stick = stick.replace("edges on their arrises", "edges on the edges of the flats");
                }
                steps.insert(0, ("Chamfer first", words));
            }
        }
    }
    if !job.fit.notches.is_empty() {
        let inside = job.piece(job.fit.inside.number());
        let words = format!(
            "Crosscut {inside} at its marks, an original flat face down and the other against the fence, never a sawn face on \
             the table. The blade runs in the shaded length, which is thrown away. Glue it in with waxed spacers."
        );
        steps.insert(steps.len().saturating_sub(1), ("Crosscut the inside piece", words));
    }
}
