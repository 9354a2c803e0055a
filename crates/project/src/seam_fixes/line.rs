//! What may be tried with the saw line alone.

use cornerwise_geometry::{Cut, Length, Line, ParameterValue};

use super::tries::Try;
use super::{Amount, Changeable, Step};
use crate::{Design, Edit, LineTool, PointPlace};

pub(super) fn tries(design: &Design, cut: Cut, kind: Changeable) -> Vec<Try> {
    let tool = |tool: LineTool| Edit::ReshapeLine { design: design.id, cut, tool };
    let steps = |what: &str, from: Amount, to: Amount| vec![Step { what: format!("{what} {cut}"), from, to }];
    let signs = [-1.0, 1.0];
    match kind {
        Changeable::LineAside => (1..=24)
            .flat_map(|i| signs.map(|sign| 0.5 * f64::from(i) * sign))
            .map(|by| Try {
                changes: kind,
                steps: steps("the", Amount::Length(0.0), Amount::Length(by)),
                edit: aside(design, cut, by),
                size_mm: by.abs(),
                sure: false,
            })
            .collect(),
        Changeable::LineSwing => {
            let offsets: Vec<f64> = design.points(cut).iter().map(|point| point.offset.mm()).collect();
            let least = offsets.iter().copied().fold(f64::INFINITY, f64::min);
            let most = offsets.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            let about = Length::from_mm(0.5 * (least + most));
            (1..=20)
                .flat_map(|i| signs.map(|sign| 1.0 + 0.02 * f64::from(i) * sign))
                .map(|factor| Try {
                    changes: kind,
                    steps: steps("swing of the", Amount::Times(1.0), Amount::Times(factor)),
                    edit: tool(LineTool::ScaleSwing { factor, about: about.clone() }),
                    size_mm: 0.5 * (most - least) * (factor - 1.0).abs(),
                    sure: false,
                })
                .collect()
        }
        Changeable::LineAlong => (1..=16)
            .flat_map(|i| signs.map(|sign| 2.0 * f64::from(i) * sign))
            .map(|by| Try {
                changes: kind,
                steps: steps("the", Amount::Length(0.0), Amount::Length(by)),
                edit: tool(LineTool::Shift { by: Length::from_mm(by) }),
                size_mm: by.abs(),
                sure: false,
            })
            .collect(),
        _ => Vec::new(),
    }
}

/// A starting shape stays live: its own figure is changed.
fn aside(design: &Design, cut: Cut, by_mm: f64) -> Edit {
    if let Line::Shape(shape) = design.line(cut) {
        let all = shape.parameters();
        let aside = all.iter().enumerate().find(|(_, parameter)| parameter.name == "Aside");
        if let Some((index, ParameterValue::Length(now))) = aside.map(|(index, parameter)| (index, &parameter.value)) {
            let value = ParameterValue::Length(Length::from_mm(now.mm() + by_mm));
            return Edit::SetShapeParameter { design: design.id, cut, index, value };
        }
    }
    let place = |point: cornerwise_geometry::Point| PointPlace {
        cut,
        point: point.id,
        from_top: point.from_top.clone(),
        offset: Length::from_mm(point.offset.mm() + by_mm),
    };
    Edit::MovePoints { design: design.id, points: design.points(cut).into_iter().map(place).collect() }
}
