//! What a maker may let change, and what belongs to which wood.

use cornerwise_wood::Wood;

/// What may be changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Changeable {
    /// How thick the layers are: all alike, or one of them.
    Thickness,
    /// The two angles of layers.
    Angle,
    /// Where layers or columns begin.
    Shift,
    /// How wide the columns are, and with that how many there are.
    Columns,
    /// How much farther each column begins than the one before it.
    Rise,
    /// The blank's width or depth.
    BlankWidth,
    /// Where the pith lies and whether it leans.
    Pith,
    /// How wide the rings are.
    RingWidth,
    /// The saw line, aside.
    LineAside,
    /// The saw line's swing.
    LineSwing,
    /// The saw line, along the leg.
    LineAlong,
}

impl Changeable {
    /// All of them: the wood, the blank, the saw line.
    pub const ALL: [Changeable; 11] = [
        Changeable::Thickness,
        Changeable::Angle,
        Changeable::Shift,
        Changeable::Columns,
        Changeable::Rise,
        Changeable::Pith,
        Changeable::RingWidth,
        Changeable::BlankWidth,
        Changeable::LineAside,
        Changeable::LineSwing,
        Changeable::LineAlong,
    ];

    /// What it is called beside a tick.
    pub fn name(self) -> &'static str {
        match self {
            Changeable::Thickness => "thickness",
            Changeable::Angle => "angle",
            Changeable::Shift => "shift",
            Changeable::Columns => "columns",
            Changeable::Rise => "rise",
            Changeable::BlankWidth => "blank's size",
            Changeable::Pith => "pith",
            Changeable::RingWidth => "ring width",
            Changeable::LineAside => "line aside",
            Changeable::LineSwing => "line's swing",
            Changeable::LineAlong => "line along",
        }
    }

    /// Whether a wood has it.
    pub fn applies_to(self, wood: &Wood) -> bool {
        match self {
            Changeable::Thickness | Changeable::Angle => matches!(wood, Wood::Layers(_)),
            Changeable::Shift => matches!(wood, Wood::Layers(_) | Wood::Blocks(_)),
            Changeable::Columns | Changeable::Rise => matches!(wood, Wood::Blocks(_)),
            Changeable::Pith | Changeable::RingWidth => matches!(wood, Wood::Timber(_)),
            // What was photographed is as large as it is.
            Changeable::BlankWidth => !matches!(wood, Wood::Photos(_)),
            Changeable::LineAside | Changeable::LineSwing | Changeable::LineAlong => true,
        }
    }

    /// What may still move when the blank is glued up or chosen.
    pub const LINE: [Changeable; 3] = [Changeable::LineAside, Changeable::LineSwing, Changeable::LineAlong];
}
