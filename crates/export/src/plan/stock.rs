//! What to buy and to mill.

use super::Section;
use cornerwise_project::{Assembly, BlankLine, LegLine, Project, STOCK_KERF_MM, board_feet};

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
    sections.extend(made.and_then(|made| from_boards(project, made)));
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

/// How the blanks are cut from boards of the size that the maker buys.
fn from_boards(project: &Project, made: &Assembly) -> Option<Section> {
    let mm = |mm: f64| project.units.show_with_unit(mm);
    let list = made.cut_list()?;
    let blanks = made.blank_list();
    let label = |line: usize| blanks.get(line).map_or_else(String::new, |line| line.hand.label(line.design.letter));
    let [long, wide, thick] = list.board_mm;
    let mut section = Section::new("Blanks from boards");
    let count = if list.boards == 1 { "1 board".to_owned() } else { format!("{} boards", list.boards) };
    let feet = list.boards as f64 * board_feet(list.board_mm);
    section.say(format!(
        "{count} of {} by {}, {} long ({feet:.2} board feet). Rip rows, then crosscut them; {} is for each saw kerf.",
        mm(wide),
        mm(thick),
        mm(long),
        mm(STOCK_KERF_MM)
    ));
    for row in &list.rows {
        let legs: Vec<String> = row.blanks.iter().map(|line| label(*line)).collect();
        section.say(format!("board {}, row {}: leg {}", row.board, row.row, legs.join(", leg ")));
    }
    for line in &list.too_large {
        section.say(format!("No such board holds a blank for leg {}.", label(*line)));
    }
    for offcut in &list.offcuts {
        let [long, wide, thick] = offcut.size_mm;
        section.say(format!("offcut, {}: {} by {}, {} long", offcut.name, mm(wide), mm(thick), mm(long)));
    }
    Some(section)
}
