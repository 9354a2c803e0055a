//! The words on the cover: how the work goes, and the usual cautions at the saw.
//!
//! The cautions are the usual ones. They do not replace the saw's manual, the rules of the place, or a teacher.

/// How the work goes, in the order of the work. The sharp point's line is left out where there is none.
pub(crate) const STEPS: [(&str, &str); 6] = [
    (
        "Print and stick on",
        "Print at 100 %. Measure both check rules. Join the pages, cut out, and stick the strip on faces 1 and 2, TOP at \
         the top end, edges on their arrises. Stick the caps on the ends.",
    ),
    (
        "First cut",
        "Face 1 up. Saw the solid line, splitting the line: its middle is the true line. If you stray, stay fair and do not \
         go back: both sides of the cut fit each other whatever the line.",
    ),
    (
        "Close up",
        "Put the two halves back together with the saw dust out of the cut, ends level, and tape them round, the tape \
         clear of the second line.",
    ),
    ("Roll", "Roll the blank a quarter round, away from you: face 2 comes up."),
    ("Second cut", "Saw the dashed line in the same way. Take the tape off: you hold four pieces."),
    (
        "Rotate and glue",
        "Rotate each piece half round about its own length, so that the four corners meet in the middle. Glue pieces 1 \
         and 2, then 3 and 4; clean the backs flat; glue the halves.",
    ),
];

/// What a sharp point changes.
pub(crate) const SHARP_POINT: &str = "The line has a sharp point: saw in from one end and stop a hair short of it, let the \
    blade stop and back out; then saw in from the other end, stop a hair short of it too, and pare what is left. The passes are \
    numbered.";

/// Where the cautions stand back.
pub(crate) const CAUTIONS_DEFER: &str = "Your saw's manual, the rules of your shop and the law come first. If you have not sawn curves before, learn from \
     someone who has.";

/// The usual cautions.
pub(crate) const CAUTIONS: [&str; 9] = [
    // Figures found: 1/8 in (an association's school test), 1/4 in (four school sheets), 1/2 in (a saw's manual).
    // Federal US rules (29 CFR 1910.213(i)) give no figure, one state's say as small as practical.
    "Set the guide and guard no more than 6 mm (1/4 in) above the work.",
    // 2 in in school sheets, 3 in, 4 in and 100 mm elsewhere; in line with the cut: common practice, no source.
    "Keep hands 75 mm (3 in) from the blade and never in line with it. Finish the cut with a push stick.",
    // Common practice, no source.
    "Wear eye, ear and dust protection. No gloves, loose sleeves or rings.",
    // A school's sheet on band sawing: a flat face must sit on the table, round or irregular work needs a holder.
    "A flat face must bear on the table from start to end of the cut.",
    // Common practice, no source.
    "After the first cut, tape the halves together again before the second, so that the blank bears flat.",
    // The same sheet: at least for any cut over 2 in.
    "Let the blade stop before you back out of a cut.",
    // The same sheet; published tables of blade width against radius name the width for a bend.
    "A blade that twists is too wide for the curve: change the blade, do not force it.",
    // A woodworking magazine's page on small pieces: tape alone is not relied on.
    "Hold a small blank in a carrier or a handscrew, never in your fingers alone.",
    // The same saw manual as the first, and common practice.
    "Stop the saw and unplug it before you change or clear anything.",
];
