//! What every page has: its head, the check rules, and what to print it at.

use super::check_rule::{self, FOUR_INCHES_MM, HALF_MM, check_rule};
use super::{Job, Leaf};
use crate::page::{Page, page_name};
use crate::sheets::{Anchor, Drawing, Pen, Sheet, Text, Typeface};
use kurbo::{Affine, Point};

/// Finishes a page, which is number `page` of `of` under this title.
pub(crate) fn sheet(job: &Job<'_>, title: &str, leaf: Leaf, page: usize, of: usize) -> Sheet {
    let mut drawing = Drawing::new();
    head(job, title, &leaf, page, of, &mut drawing);
    check_rules(job, &leaf.page, &mut drawing);
    drawing.marks.extend(leaf.drawing.marks);
    Sheet {
        label: format!("{title}, page {page} of {of}: {}", leaf.what),
        width_mm: leaf.page.width_mm,
        height_mm: leaf.page.height_mm,
        scale: leaf.page.scale,
        marks: drawing.marks,
    }
}

fn head(job: &Job<'_>, title: &str, leaf: &Leaf, page: usize, of: usize, drawing: &mut Drawing) {
    let area = leaf.page.head;
    let base = area.y0 + 3.4;
    let number = Text::new(format!("page {page} of {of}"), Point::new(area.x1, base), 2.8);
    let number = number.typeface(Typeface::SansBold).anchor(Anchor::End);
    let what = Text::new(leaf.what.as_str(), Point::new(area.x1 - number.width_mm() - 4.0, base), 2.5);
    let what = what.typeface(Typeface::Condensed).anchor(Anchor::End);
    let leg = Text::new(title, Point::new(area.x0, base), 3.2);
    let leg = leg.typeface(Typeface::SansBold);
    let names = match job.names.design.as_str() {
        "" => job.names.project.clone(),
        design => format!("{design} · {}", job.names.project),
    };
    let from = area.x0 + leg.width_mm() + 4.0;
    let names = Text::new(names, Point::new(from, base), 2.5).typeface(Typeface::Condensed);
    let room = what.at.x - what.width_mm() - 5.0 - from;
    for text in [leg, names.fitted(room, 2.0), what, number] {
        drawing.text(text);
    }
    drawing.line(Pen::Fine, (area.x0, area.y0 + 5.2), (area.x1, area.y0 + 5.2));
}

fn check_rules(job: &Job<'_>, page: &Page, drawing: &mut Drawing) {
    let measured = &job.choice.measured;
    let (short, long) = (measured.across.mm(), measured.along.mm());
    let edges = if job.kind.is_roll() {
        [("across the roll", short), ("along the roll", long)]
    } else if job.choice.landscape {
        [("along the long edge", long), ("along the short edge", short)]
    } else {
        [("along the short edge", short), ("along the long edge", long)]
    };
    let [lying, upright] = edges.map(|(edge, mm)| check_rule(&check_rule::words(edge, measured.rule, mm)));
    let foot = page.foot;
    let corner = Point::new(foot.x0 + HALF_MM, foot.y1 - HALF_MM);
    let across = Point::new(corner.x + HALF_MM + 2.4, corner.y);
    let up = Point::new(corner.x, page.rule_column.y1 - 1.0);
    drawing.add(&lying, Affine::translate(across.to_vec2()));
    drawing.add(&upright, Affine::translate(up.to_vec2()) * Affine::rotate(-std::f64::consts::FRAC_PI_2));

    let corrected = page.scale.iter().any(|scale| (scale - 1.0).abs() > 1e-12);
    let x = across.x + FOUR_INCHES_MM + 6.0;
    let printed = format!("Print at 100 % on {}", page_name(&job.choice.page));
    let (measure, then) = if corrected {
        (
            "The page is corrected for your printer, check rules too.".to_owned(),
            format!("A rule that is now true stays: do not type {}.", check_rule::name(measured.rule)),
        )
    } else {
        (
            "Never fit to page. Measure both check rules:".to_owned(),
            "if they are not true, type in what they measure.".to_owned(),
        )
    };
    let lines = [
        (printed, 2.5, Typeface::CondensedBold),
        (measure, 1.9, Typeface::Condensed),
        (then, 1.9, Typeface::Condensed),
    ];
    for (i, (words, cap_mm, typeface)) in lines.into_iter().enumerate() {
        let at = Point::new(x, foot.y1 - HALF_MM - 2.2 + 3.4 * i as f64);
        drawing.text(Text::new(words, at, cap_mm).typeface(typeface).fitted(foot.x1 - x, 1.2));
    }
}
