//! The passes of the saw: their order, where each goes in, and how far it is backed out.

use cornerwise_geometry::{End, Leg, Pass, Units, passes};
use egui::{CollapsingHeader, RichText, Ui};

use crate::scene::Scene;
use crate::tokens::{self, Tokens};

/// The rule for all of them, as the paper gives it too.
const RULE: &str = "Split the line: its middle is the true line, and no side is waste. If you stray, stay fair and do not go \
                    back: both pieces take the wobble, and the seam still closes.";

/// Shows the passes, folded until they are wanted.
pub fn show(ui: &mut Ui, scene: &Scene<'_>) {
    CollapsingHeader::new(RichText::new("Passes").font(tokens::bold())).id_salt("passes").show_unindented(ui, |ui| {
        let t = Tokens::here(ui);
        for pass in passes(scene.leg) {
            ui.label(RichText::new(words(&pass, scene.leg, scene.units())).font(tokens::small()).color(t.ink));
        }
        ui.label(RichText::new(RULE).font(tokens::small()).color(t.soft));
    });
}

/// A pass in words: "1. The first cut, in from the top and out at the foot".
fn words(pass: &Pass, leg: &Leg, units: Units) -> String {
    let begins = format!("{}. The {}, in from the {}", pass.number, pass.cut, pass.enters);
    let Some(stops) = pass.stops_at else {
        let out = if pass.enters == End::Top { End::Foot } else { End::Top };
        return format!("{begins} and out at the {out}.");
    };
    let back = match pass.enters {
        End::Top => stops + leg.spare_top_mm,
        End::Foot => leg.length_mm - stops + leg.spare_foot_mm,
    };
    let ends = match pass.enters {
        End::Top => "let the blade stop and back out",
        End::Foot => "pare what is left, and back out",
    };
    let at = units.show_with_unit(stops);
    format!("{begins}: stop a hair short of the sharp point at {at}, {ends} {}.", units.show_with_unit(back))
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::{Blank, Line, Shape};

    #[test]
    fn a_sharp_point_takes_two_passes_each_backed_out_over_its_own_way() {
        let post = Shape::PostAndKnee {
            post: 100.0.into(),
            knee: 9.0.into(),
            ankle: 10.0.into(),
            kick: 0.2,
            aside: 0.0.into(),
        };
        let straight = Shape::Straight { aside: 0.0.into() };
        let leg = Leg::new(&Blank::square(50.0, 700.0), &Line::Shape(post), &Line::Shape(straight)).unwrap();
        let all: Vec<String> = passes(&leg).iter().map(|pass| words(pass, &leg, Units::Millimetres)).collect();
        assert_eq!(
            all,
            [
                "1. The first cut, in from the top: stop a hair short of the sharp point at 100 mm, let the blade stop and back \
                 out 120 mm.",
                "2. The first cut, in from the foot: stop a hair short of the sharp point at 100 mm, pare what is left, and back \
                 out 620 mm.",
                "3. The second cut, in from the top and out at the foot.",
            ]
        );
    }
}
