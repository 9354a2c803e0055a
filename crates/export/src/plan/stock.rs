//! What to buy and to mill.

use super::Section;
use cornerwise_project::{Assembly, BlankLine, LegLine, Project};

/// Stock, boards, milling.
pub(super) fn sections(project: &Project, lines: &[LegLine], made: Option<&Assembly>) -> Vec<Section> {
    let mm = |mm: f64| project.units.show_with_unit(mm);
    let mut stock = Section::new("Stock, rough");
    // Legs that differ only in their inside piece are sawn from the same blanks.
    let blanks = made.map_or_else(Vec::new, Assembly::blank_list);
    let unplaced = lines.iter().filter(|line| line.places.is_empty()).map(BlankLine::of);
    for line in blanks.into_iter().chain(unplaced) {
        let [long, wide, deep] = line.rough_mm;
        let (feet, kg) = (line.board_feet, line.weight_kg);
        stock.say(format!(
            "Leg {}: make {}, each blank {} by {}, {} long ({feet:.2} board feet, {kg:.1} kg)",
            line.hand.label(line.design.letter),
            line.count,
            mm(wide),
            mm(deep),
            mm(long)
        ));
    }
    let mut sections = vec![stock];
    let boards = made.map_or_else(Vec::new, Assembly::board_list);
    if !boards.is_empty() {
        let mut section = Section::new("Boards, finished");
        for line in boards {
            let [long, wide, thick] = line.size_mm;
            let (count, name) = (line.count, line.kind.name());
            section.say(format!("{count} × {name}, {} by {}, {} thick", mm(long), mm(wide), mm(thick)));
        }
        sections.push(section);
    }
    // Common practice, no source, but for the last: the planed faces become the glue faces, by geometry.
    let mut milling = Section::new("Milling");
    for words in [
        "Rough the blanks out, let them rest for a day or more, then mill them again: straight, without twist.",
        "Opposite faces parallel matters most: the planed faces become the glue faces.",
        "Measure the milled blank and type in what it is. Squaring a laminated blank again changes its width, and with it \
         how its pattern carries on over the seams.",
        "Avoid stock with the pith: it comes to the outside.",
    ] {
        milling.say(words);
    }
    sections.push(milling);
    sections
}
