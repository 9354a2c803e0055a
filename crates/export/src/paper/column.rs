//! Blocks of a cover, set in columns.

use crate::sheets::{Drawing, Ink, Text, Typeface};
use kurbo::{Affine, Point};

/// Something set in a column, its upper left corner at the origin.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Block {
    pub drawing: Drawing,
    pub height_mm: f64,
}

/// Capitals of running text, mm.
const TEXT_MM: f64 = 2.3;
/// From line to line, mm.
const LEADING_MM: f64 = 4.25;
/// From a column's edge to the values of its facts, mm.
const VALUE_MM: f64 = 26.0;
/// Most lines for one fact.
const MOST_LINES: usize = 3;

impl Block {
    /// A heading.
    pub fn heading(words: &str) -> Block {
        let mut drawing = Drawing::new();
        drawing.text(Text::new(words, Point::new(0.0, 4.2), 3.2).typeface(Typeface::SansBold));
        Block { drawing, height_mm: 7.6 }
    }

    /// A paragraph behind a sign: a number, a dot, or nothing.
    pub fn item(sign: &str, title: &str, words: &str, width_mm: f64) -> Block {
        let indent = if sign.is_empty() { 0.0 } else { 6.0 };
        let mut drawing = Drawing::new();
        let mut y = TEXT_MM + 0.6;
        if !sign.is_empty() {
            drawing.text(Text::new(sign, Point::new(0.0, y), TEXT_MM).typeface(Typeface::SansBold));
        }
        if !title.is_empty() {
            drawing.text(Text::new(title, Point::new(indent, y), TEXT_MM).typeface(Typeface::CondensedBold));
            y += LEADING_MM;
        }
        for line in Typeface::Condensed.wrapped(words, TEXT_MM, width_mm - indent) {
            drawing.text(Text::new(line, Point::new(indent, y), TEXT_MM).typeface(Typeface::Condensed));
            y += LEADING_MM;
        }
        Block { drawing, height_mm: y - TEXT_MM + 1.0 }
    }

    /// Two words on a line: what it is, and how much, over as many lines as that takes. Only a single word too long for a
    /// line, and names that go on for lines, are made smaller or shorter.
    pub fn fact(name: &str, value: &str, width_mm: f64) -> Block {
        let mut drawing = Drawing::new();
        let y = TEXT_MM + 0.4;
        drawing.text(Text::new(name, Point::new(0.0, y), TEXT_MM).typeface(Typeface::Condensed).ink(Ink::Grey));
        let room = width_mm - VALUE_MM;
        let mut lines = Typeface::Condensed.wrapped(value, TEXT_MM, room);
        if lines.len() > MOST_LINES {
            let rest = lines.split_off(MOST_LINES - 1).join(" ");
            lines.push(rest);
        }
        let count = lines.len().max(1);
        for (i, line) in lines.into_iter().enumerate() {
            let at = Point::new(VALUE_MM, y + i as f64 * LEADING_MM);
            drawing.text(Text::new(line, at, TEXT_MM).typeface(Typeface::Condensed).fitted(room, 1.6));
        }
        Block { drawing, height_mm: count as f64 * LEADING_MM }
    }

    /// Nothing, for air.
    pub fn space(height_mm: f64) -> Block {
        Block { drawing: Drawing::new(), height_mm }
    }
}

/// Sets blocks in columns of a width and height, as many columns to a page as there are, as many pages as it takes. A
/// group stays together where a column can hold it. Each page's upper left corner is at its origin.
pub(crate) fn set(groups: &[Vec<Block>], columns: usize, width_mm: f64, gap_mm: f64, height_mm: f64) -> Vec<Drawing> {
    let mut pages = vec![Drawing::new()];
    let (mut column, mut y) = (0, 0.0_f64);
    let next_column = |pages: &mut Vec<Drawing>, column: &mut usize| {
        *column += 1;
        if *column >= columns {
            *column = 0;
            pages.push(Drawing::new());
        }
    };
    for group in groups {
        let needed: f64 = group.iter().map(|block| block.height_mm).sum();
        if y > 0.0 && y + needed > height_mm && needed <= height_mm {
            next_column(&mut pages, &mut column);
            y = 0.0;
        }
        for block in group {
            if y > 0.0 && y + block.height_mm > height_mm {
                next_column(&mut pages, &mut column);
                y = 0.0;
            }
            let at = Affine::translate((column as f64 * (width_mm + gap_mm), y));
            if let Some(page) = pages.last_mut() {
                page.add(&block.drawing, at);
            }
            y += block.height_mm;
        }
    }
    pages
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_passes_to_a_sharp_point_are_as_large_as_everything_round_them() {
        let passes = "second cut, from foot to a hair short of the sharp point at about 12 13/32\" (315 mm exactly)";
        let block = Block::fact("pass 3", passes, 76.0);
        let mut read = String::new();
        for mark in &block.drawing.marks {
            let crate::sheets::Mark::Text(text) = mark else { continue };
            assert!(text.cap_mm >= TEXT_MM, "{text:?}");
            assert!(text.bounds().x1 <= 76.0 && text.bounds().y1 <= block.height_mm + 0.6, "{text:?}");
            read += &format!("{} ", text.text);
        }
        assert_eq!(read.trim(), format!("pass 3 {passes}"));
        // A name without end stays within its block.
        let long = Block::fact("design", &"very long ".repeat(100), 76.0);
        assert!(long.height_mm <= 3.0 * LEADING_MM && long.drawing.bounds().x1 <= 76.0);
    }

    #[test]
    fn groups_stay_together_and_pages_hold_what_they_are_given() {
        let groups: Vec<Vec<Block>> =
            (0..9).map(|i| vec![Block::item(&i.to_string(), "", "a line", 50.0); 3]).collect();
        let height = 3.2 * groups[0].iter().map(|b| b.height_mm).sum::<f64>();
        let pages = set(&groups, 2, 60.0, 5.0, height);
        assert_eq!(pages.len(), 2, "three groups to a column, two columns to a page");
        assert!(pages.iter().all(|page| page.bounds().y1 <= height));
    }
}
