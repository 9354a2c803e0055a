//! The parameters of a starting shape that is still live.

use cornerwise_geometry::{Cut, ParameterValue, Shape};
use cornerwise_project::Edit;
use egui::Ui;

use super::{allowed, field, row};
use crate::scene::{Ask, Scene};

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, cut: Cut, shape: &Shape, group: &str, asks: &mut Vec<Ask>) {
    let design = scene.design.id;
    let parameters: Vec<_> = shape.parameters().into_iter().enumerate().collect();
    for three in parameters.chunks(3) {
        row(ui, |ui| {
            for (index, parameter) in three {
                let edit = |value| Edit::SetShapeParameter { design, cut, index: *index, value };
                let (least, most) = (parameter.least, parameter.most);
                let within = |value: f64, shown: &dyn Fn(f64) -> String| {
                    if (least..=most).contains(&value) {
                        Ok(())
                    } else {
                        Err(format!("{} is {} to {}", parameter.name, shown(least), shown(most)))
                    }
                };
                let field = field(scene, parameter.name, group, 3);
                let taken = match &parameter.value {
                    ParameterValue::Length(value) => field
                        .length(ui, value, scene.reading(), |length| {
                            within(length.mm(), &|mm| scene.units().show_with_unit(mm))?;
                            allowed(scene, &edit(ParameterValue::Length(length.clone())))
                        })
                        .map(ParameterValue::Length),
                    ParameterValue::Number(value) => field
                        .number(ui, *value, "", |number| {
                            within(number, &crate::length_field::plain)?;
                            allowed(scene, &edit(ParameterValue::Number(number)))
                        })
                        .map(ParameterValue::Number),
                    ParameterValue::Count(value) => field
                        .number(ui, f64::from(*value), "", |number| {
                            within(number, &crate::length_field::plain)?;
                            if number.fract() == 0.0 { Ok(()) } else { Err("this takes whole numbers".to_owned()) }
                        })
                        // Checked to be whole and within the parameter's limits.
                        .map(|number| ParameterValue::Count(number as u32)),
                };
                if let Some(value) = taken {
                    asks.push(Ask::Edit(edit(value)));
                }
            }
        });
    }
}
