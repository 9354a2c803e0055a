//! What a comparison of the two pieces at a seam says.

use std::fmt;

use cornerwise_geometry::Seam;
use serde::Serialize;

/// What does not fit at a place of a seam.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Mismatch {
    /// The same wood, but its lines arrive at different places.
    LinesJump,
    /// Lines arrive at different places and so do different woods.
    LinesJumpWoodsDiffer,
    /// One wood ends and another begins, as the pattern wants it.
    WoodsDiffer,
    /// One wood ends and another begins, and the pattern does not want it.
    WoodsDifferPatternBreaks,
    /// The same wood and no line that jumps, but the pattern does not go on: a block of twice the width, say.
    PatternBreaks,
    /// The same wood, and lines that arrive at different places, as the pattern wants it: bricks of neighbouring courses.
    LinesJumpInPattern,
    /// Lines arrive at different places and so do different woods, as the pattern wants it.
    LinesJumpWoodsDifferInPattern,
    /// Ring lines meet but turn sharply at the seam.
    LinesTurn,
    /// Ring lines meet, those of heartwood and of sapwood.
    HeartMeetsSap,
    /// Ring lines arrive at different places, in heartwood and in sapwood.
    LinesJumpHeartMeetsSap,
    /// One of the two faces was not photographed there: nothing is known.
    NotPhotographed,
}

impl Mismatch {
    /// Whether the lines meet all the same.
    pub fn lines_meet(self) -> bool {
        !matches!(
            self,
            Mismatch::LinesJump
                | Mismatch::LinesJumpWoodsDiffer
                | Mismatch::LinesJumpInPattern
                | Mismatch::LinesJumpWoodsDifferInPattern
                | Mismatch::LinesJumpHeartMeetsSap
                | Mismatch::NotPhotographed
        )
    }

    /// Whether it is the same wood all the same.
    pub fn same_wood(self) -> bool {
        matches!(
            self,
            Mismatch::LinesJump | Mismatch::PatternBreaks | Mismatch::LinesTurn | Mismatch::LinesJumpInPattern
        )
    }

    /// Whether the pattern carries on all the same.
    pub fn pattern_carries_on(self) -> bool {
        matches!(self, Mismatch::WoodsDiffer | Mismatch::LinesJumpInPattern | Mismatch::LinesJumpWoodsDifferInPattern)
    }
}

impl fmt::Display for Mismatch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Mismatch::LinesJump => "the lines jump",
            Mismatch::LinesJumpWoodsDiffer => "the lines jump and the woods differ",
            Mismatch::WoodsDiffer => "the woods differ, the pattern carries on",
            Mismatch::WoodsDifferPatternBreaks => "the woods differ and the pattern breaks",
            Mismatch::PatternBreaks => "the pattern breaks",
            Mismatch::LinesJumpInPattern => "the lines jump, the pattern carries on",
            Mismatch::LinesJumpWoodsDifferInPattern => "the lines jump and the woods differ, the pattern carries on",
            Mismatch::LinesTurn => "the ring lines meet but turn",
            Mismatch::HeartMeetsSap => "heartwood meets sapwood",
            Mismatch::LinesJumpHeartMeetsSap => "the lines jump and heartwood meets sapwood",
            Mismatch::NotPhotographed => "not photographed",
        })
    }
}

/// A stretch of a seam where something does not fit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Place {
    /// Where it begins, mm from the top.
    pub from_mm: f64,
    /// Where it ends, mm from the top.
    pub to_mm: f64,
    /// What does not fit.
    pub what: Mismatch,
}

/// Three questions about one seam, each answered as a share of the length from top to foot, 0 to 1; of photos, of the
/// length of which anything is known.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SeamAnswer {
    /// Which seam.
    pub seam: Seam,
    /// Do the lines of layers or rings that arrive from both sides meet?
    pub lines_meet: f64,
    /// Is it the same wood on both sides?
    pub same_wood: f64,
    /// Do both sides together look like one uninterrupted pattern?
    pub pattern_carries_on: f64,
    /// The places where an answer is no, from the top; neighbours with the same finding are one place. Only the first
    /// [`SeamLimits::most_places`](crate::SeamLimits::most_places) are listed; the shares count all.
    pub places: Vec<Place>,
    /// How many places there are, listed or not.
    pub places_in_all: usize,
    /// Of photos of timber: the share of the length along which no ring lines can be made out at one of the edges, 0 to 1.
    /// `lines_meet` is of the rest, and 1 where there is none.
    pub lines_unseen: f64,
    /// The share of the length of which nothing is known, 0 to 1: of photos, where one of the two faces has none. With 1 the
    /// answers above are 0.
    pub unknown: f64,
}

/// The three answers over a stretch of seam.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Finding {
    pub lines_meet: bool,
    pub same_wood: bool,
    pub carries_on: bool,
    /// Whether these are rings of timber, whose lines turn where layers' patterns break, and whose woods are heart and sap.
    pub rings: bool,
}

impl Finding {
    fn mismatch(self) -> Option<Mismatch> {
        match (self.lines_meet, self.same_wood, self.carries_on) {
            (true, true, true) => None,
            (true, false, _) if self.rings => Some(Mismatch::HeartMeetsSap),
            (false, false, _) if self.rings => Some(Mismatch::LinesJumpHeartMeetsSap),
            (true, false, true) => Some(Mismatch::WoodsDiffer),
            (true, false, false) => Some(Mismatch::WoodsDifferPatternBreaks),
            (true, true, false) if self.rings => Some(Mismatch::LinesTurn),
            (true, true, false) => Some(Mismatch::PatternBreaks),
            (false, true, true) => Some(Mismatch::LinesJumpInPattern),
            (false, false, true) => Some(Mismatch::LinesJumpWoodsDifferInPattern),
            (false, true, false) => Some(Mismatch::LinesJump),
            (false, false, false) => Some(Mismatch::LinesJumpWoodsDiffer),
        }
    }
}

/// Findings along one seam, collected from the top.
#[derive(Debug, Default)]
pub(crate) struct Tally {
    meet_mm: f64,
    /// Over which lines are seen at all.
    seen_mm: f64,
    same_mm: f64,
    carry_mm: f64,
    length_mm: f64,
    unknown_mm: f64,
    places: Vec<Place>,
    places_in_all: usize,
    last: Option<(f64, Mismatch)>,
}

impl Tally {
    /// Adds the stretch `from_mm` to `to_mm`, which begins where the one before it ended.
    pub fn add(&mut self, from_mm: f64, to_mm: f64, finding: Finding, most_places: usize) {
        if to_mm > from_mm {
            self.seen_mm += to_mm - from_mm;
            self.meet_mm += if finding.lines_meet { to_mm - from_mm } else { 0.0 };
            self.add_unseen(from_mm, to_mm, finding, most_places);
        }
    }

    /// Adds a stretch along which lines cannot be made out, and none is found to jump.
    pub fn add_unseen(&mut self, from_mm: f64, to_mm: f64, finding: Finding, most_places: usize) {
        let mm = to_mm - from_mm;
        if mm <= 0.0 {
            return;
        }
        self.length_mm += mm;
        self.same_mm += if finding.same_wood { mm } else { 0.0 };
        self.carry_mm += if finding.carries_on { mm } else { 0.0 };
        self.place(from_mm, to_mm, finding.mismatch(), most_places);
    }

    /// Adds a stretch of which nothing is known.
    pub fn add_unknown(&mut self, from_mm: f64, to_mm: f64, most_places: usize) {
        if to_mm > from_mm {
            self.unknown_mm += to_mm - from_mm;
            self.place(from_mm, to_mm, Some(Mismatch::NotPhotographed), most_places);
        }
    }

    fn place(&mut self, from_mm: f64, to_mm: f64, what: Option<Mismatch>, most_places: usize) {
        let goes_on = self.last.is_some_and(|(end, last)| end == from_mm && what == Some(last));
        self.last = what.map(|what| (to_mm, what));
        let Some(what) = what else { return };
        if !goes_on {
            self.places_in_all += 1;
            if self.places.len() < most_places {
                self.places.push(Place { from_mm, to_mm, what });
            }
        } else if self.places.len() == self.places_in_all
            && let Some(place) = self.places.last_mut()
        {
            place.to_mm = to_mm;
        }
    }

    /// The answer for a seam of this pair.
    pub fn answer(&self, seam: Seam) -> SeamAnswer {
        // An all-yes seam is 1 exactly: it is the same sum divided by itself.
        let share = |mm: f64| match self.length_mm {
            length if length > 0.0 => mm / length,
            _ if self.unknown_mm > 0.0 => 0.0,
            _ => 1.0,
        };
        SeamAnswer {
            seam,
            lines_meet: match self.seen_mm {
                seen if seen > 0.0 => self.meet_mm / seen,
                _ => share(self.length_mm),
            },
            lines_unseen: (1.0 - self.seen_mm / self.length_mm.max(1e-9)).max(0.0) * f64::from(self.length_mm > 0.0),
            same_wood: share(self.same_mm),
            pattern_carries_on: share(self.carry_mm),
            places: self.places.clone(),
            places_in_all: self.places_in_all,
            unknown: self.unknown_mm / (self.length_mm + self.unknown_mm).max(1e-9),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FINE: Finding = Finding { lines_meet: true, same_wood: true, carries_on: true, rings: false };
    const JUMP: Finding = Finding { lines_meet: false, same_wood: true, carries_on: false, rings: false };

    #[test]
    fn neighbours_with_one_finding_are_one_place_and_shares_count_what_is_not_listed() {
        let mut tally = Tally::default();
        tally.add(0.0, 10.0, FINE, 1);
        tally.add(10.0, 15.0, JUMP, 1);
        tally.add(15.0, 20.0, JUMP, 1);
        tally.add(20.0, 30.0, FINE, 1);
        tally.add(30.0, 40.0, JUMP, 1);
        tally.add(40.0, 50.0, JUMP, 1);
        let answer = tally.answer(Seam::Three);
        assert_eq!(answer.places, [Place { from_mm: 10.0, to_mm: 20.0, what: Mismatch::LinesJump }]);
        assert_eq!(answer.places_in_all, 2);
        assert!((answer.lines_meet - 0.4).abs() < 1e-12 && answer.same_wood == 1.0);
    }

    #[test]
    fn every_mismatch_says_what_its_answers_say() {
        for bits in 0..16 {
            let [lines_meet, same_wood, carries_on, rings] = [1, 2, 4, 8].map(|bit| bits & bit != 0);
            if rings && carries_on && !(lines_meet && same_wood) {
                continue; // cannot be
            }
            match (Finding { lines_meet, same_wood, carries_on, rings }).mismatch() {
                None => assert!(lines_meet && same_wood && carries_on),
                Some(what) => {
                    assert_eq!(what.lines_meet(), lines_meet);
                    assert_eq!(what.same_wood(), same_wood);
                    assert_eq!(what.pattern_carries_on(), carries_on);
                    assert!(what.to_string().chars().next().is_some_and(char::is_lowercase));
                }
            }
        }
    }
}
