//! What to watch out for when a leg is fitted and set among others.

use crate::assembly::{PlacedLeg, are_mirrored};
use crate::{Assembly, Base, Design, Edit, FitPart, FurniturePart, LAMP_TILT_DEG};
use cornerwise_geometry::fit::{Notch, Takes};
use cornerwise_geometry::furniture::{Arrangement, BoardKind};
use cornerwise_geometry::{Leg, Units};

/// The least wood between a pipe hole and a side, mm. Common practice, no source: a quarter of an inch.
pub const LEAST_BESIDE_PIPE_MM: f64 = 6.0;
/// The pipe may leave an end this far off the middle before it is told, mm. Common practice, no source.
pub const OFF_CENTRE_MM: f64 = 1.0;
/// The least reach of a bearing under a board, either way, mm. Common practice, no source: a shelf pin's depth.
pub const LEAST_BEARING_MM: f64 = 10.0;
/// The least share of the whole section that is left beside a notch. Common practice, no source.
pub const LEAST_LEFT_SHARE: f64 = 0.55;
/// The least apron glue area for racking, both walls of one corner together, mm². Common practice, no source: a one-inch
/// strip three inches high on either wall.
pub const LEAST_APRON_GLUE_MM2: f64 = 2.0 * 25.4 * 76.2;
/// How far a post may stray, mm. Common practice, no source: what a shoulder hides.
pub const POST_STRAYS_MM: f64 = 0.3;

/// Something about the fit or the furniture to look at before wood is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct FitFinding {
    /// What, where, how much, against which limit and from where, in the maker's units.
    pub what: String,
    /// Where along the leg, mm from the top; none where it is about the whole.
    pub at_mm: Option<f64>,
    /// What to do, in words.
    pub fix: String,
    /// The change that clears it; none where only the maker can.
    pub edit: Option<Edit>,
}

impl Design {
    /// What to watch out for about its fit.
    pub fn fit_findings(&self, leg: &Leg, units: Units) -> Vec<FitFinding> {
        let mut found = Vec::new();
        self.pipe_findings(leg, units, &mut found);
        self.notch_findings(leg, units, &mut found);
        self.spacer_findings(units, &mut found);
        let strays = self.fit.post_strays_mm(leg);
        if strays > POST_STRAYS_MM {
            found.push(FitFinding {
                what: format!(
                    "The post is not straight down the middle: a line strays {} within it. {} is taken (common practice)",
                    units.show_with_unit(strays),
                    units.show_with_unit(POST_STRAYS_MM)
                ),
                at_mm: Some(0.0),
                fix: "Give both cuts a straight post as long, or make the post shorter.".to_owned(),
                edit: self.straight_part(leg).map(|post| self.fit_edit(FitPart::Post(post.into()))),
            });
        }
        for (place, joint) in self.fit.joints.iter().enumerate() {
            let there = joint.fit(leg);
            let name = format!("Joint {} in {}", place + 1, joint.side);
            let at_mm = Some(joint.from_top.mm());
            let mut tell = |what: String, fix: &str| {
                found.push(FitFinding { what, at_mm, fix: fix.to_owned(), edit: None });
            };
            if there.uneven_mm > POST_STRAYS_MM {
                let uneven = units.show_with_unit(there.uneven_mm);
                tell(
                    format!("{name}: the side is {uneven} uneven over it, and a shoulder would show a gap"),
                    "Move it to a straight part, or lengthen the post.",
                );
            }
            if there.behind_mm < LEAST_BESIDE_PIPE_MM {
                let behind = units.show_with_unit(there.behind_mm);
                tell(format!("{name}: only {behind} of wood is left behind it"), "Make it less deep.");
            }
            if there.beside_mm < LEAST_BESIDE_PIPE_MM {
                let beside = units.show_with_unit(there.beside_mm);
                tell(
                    format!("{name}: only {beside} of wood is left beside it"),
                    "Move it toward the seam, or narrow it.",
                );
            }
            if let Some(seam) = there.straddles {
                tell(
                    format!("{name} straddles {seam}: it holds in two pieces and is cut across a glue line"),
                    "Cut it after glue-up, or move it beside the seam.",
                );
            }
        }
        found
    }

    fn fit_edit(&self, part: FitPart) -> Edit {
        Edit::SetFit { design: self.id, part }
    }

    fn pipe_findings(&self, leg: &Leg, units: Units, found: &mut Vec<FitFinding>) {
        let Some(pipe) = &self.fit.pipe else { return };
        let fit = pipe.fit(leg);
        let mm = |mm: f64| units.show_with_unit(mm);
        if fit.thinnest.mm < LEAST_BESIDE_PIPE_MM {
            let what = if fit.thinnest.mm <= 0.0 {
                format!("The pipe hole breaks out of {} {} from the top", fit.thinnest.side, mm(fit.thinnest.s_mm))
            } else {
                format!(
                    "Only {} of wood is left between the pipe hole and {}, {} from the top. At least {} is wanted \
                     (common practice)",
                    mm(fit.thinnest.mm),
                    fit.thinnest.side,
                    mm(fit.thinnest.s_mm),
                    mm(LEAST_BESIDE_PIPE_MM)
                )
            };
            let less = LEAST_BESIDE_PIPE_MM - fit.thinnest.mm;
            // Less swing brings the side away from the axis by as much; about the middle both turns share it.
            found.push(FitFinding {
                what,
                at_mm: Some(fit.thinnest.s_mm),
                fix: format!("Move the {} {} away from the hole there.", fit.thinnest.side.cut(), mm(less)),
                edit: self.less_swing(leg, fit.thinnest.side.cut(), less + pipe.chamfer_mm() + fit.thinnest.mm),
            });
        }
        for (end, name, s) in [(fit.ends[0], "top", 0.0), (fit.ends[1], "foot", leg.length_mm)] {
            if end.off_mm() > OFF_CENTRE_MM {
                found.push(FitFinding {
                    what: format!(
                        "The pipe leaves the {name} {} off the middle ({} across face 1, {} across face 2). {} is taken \
                         (common practice)",
                        mm(end.off_mm()),
                        mm(end.u_mm.abs()),
                        mm(end.v_mm.abs()),
                        mm(OFF_CENTRE_MM)
                    ),
                    at_mm: Some(s),
                    fix: "Bring both lines to the middle of their faces at the ends.".to_owned(),
                    edit: Some(self.fit_edit(FitPart::CentreEnds)),
                });
            }
        }
    }

    /// A whole-line change that keeps a cut at least `near_mm` from both of its arrises.
    fn less_swing(&self, leg: &Leg, cut: cornerwise_geometry::Cut, near_mm: f64) -> Option<Edit> {
        let (extent, across) = (leg.line(cut).extent(), leg.across_mm(cut));
        let about = across / 2.0;
        let reach = (extent.most - about).max(about - extent.least);
        let room = about - near_mm;
        (room > 0.0 && reach > 0.0).then(|| Edit::ReshapeLine {
            design: self.id,
            cut,
            // A hair more, so that rounding does not leave it outside.
            tool: crate::LineTool::ScaleSwing { factor: (room / reach * (1.0 - 1e-6)).min(1.0), about: about.into() },
        })
    }

    fn notch_findings(&self, leg: &Leg, units: Units, found: &mut Vec<FitFinding>) {
        let mm = |mm: f64| units.show_with_unit(mm);
        for (place, notch) in self.fit.notches.iter().enumerate() {
            let Some(there) = self.fit.notch_fit(leg, place) else { continue };
            let number = place + 1;
            let [_, to] = there.span_mm;
            let [u, v] = there.bearing.reach_mm;
            if u.min(v) < LEAST_BEARING_MM {
                let better = self.better_place(leg, place, |reach| reach[0].min(reach[1]) >= LEAST_BEARING_MM);
                found.push(FitFinding {
                    what: format!(
                        "Notch {number}: {} has little to stand on, {} by {} of {} at {} from the top. At least {} either way \
                         is wanted (common practice)",
                        board(notch),
                        mm(u),
                        mm(v),
                        self.fit.inside,
                        mm(to),
                        mm(LEAST_BEARING_MM)
                    ),
                    at_mm: Some(to),
                    fix: match better {
                        Some(from) => format!("Move it to {} from the top, or turn another piece inside.", mm(from)),
                        None => "Turn another piece inside, or bring the lines away from that corner.".to_owned(),
                    },
                    edit: better.map(|from| {
                        let notch = Notch { from_top: from.into(), ..notch.clone() };
                        self.fit_edit(FitPart::Notch { index: place, notch })
                    }),
                });
            }
            let share = there.weakest.area_mm2 / (leg.width_mm * leg.depth_mm);
            if share < LEAST_LEFT_SHARE {
                let most = 1.0 - LEAST_LEFT_SHARE;
                let better =
                    self.better_place(leg, place, |reach| reach[0] * reach[1] <= most * leg.width_mm * leg.depth_mm);
                found.push(FitFinding {
                    what: format!(
                        "Notch {number}: only {:.0} % of the section is left {} from the top. At least {:.0} % is wanted \
                         (common practice)",
                        100.0 * share,
                        mm(there.weakest_mm),
                        100.0 * LEAST_LEFT_SHARE
                    ),
                    at_mm: Some(there.weakest_mm),
                    fix: match better {
                        Some(from) => format!("Move it to {} from the top, or turn another piece inside.", mm(from)),
                        None => "Turn another piece inside there.".to_owned(),
                    },
                    edit: better.map(|from| {
                        let notch = Notch { from_top: from.into(), ..notch.clone() };
                        self.fit_edit(FitPart::Notch { index: place, notch })
                    }),
                });
            }
            if notch.takes == Takes::Apron {
                let glue: f64 = there.bearing.walls_mm2.iter().sum();
                if glue < LEAST_APRON_GLUE_MM2 {
                    found.push(FitFinding {
                        what: format!(
                            "Notch {number}: the aprons are glued to {glue:.0} mm² of the leg, little against racking. At least \
                             {LEAST_APRON_GLUE_MM2:.0} mm² is wanted (common practice)"
                        ),
                        at_mm: Some(notch.from_top.mm()),
                        fix: "Glue and screw a corner block behind both aprons, or make the aprons higher.".to_owned(),
                        edit: None,
                    });
                }
            }
        }
    }

    /// Spacers that are missing, once the maker has noted those at hand: a notch was added, or a board changed.
    fn spacer_findings(&self, units: Units, found: &mut Vec<FitFinding>) {
        let missing = self.fit.without_spacer();
        let Some(first) = missing.first().and_then(|place| self.fit.notches.get(*place)) else { return };
        if self.fit.spacers.is_empty() {
            return;
        }
        let numbers: Vec<String> = missing.iter().map(|place| (place + 1).to_string()).collect();
        let notches = if missing.len() == 1 { "notch" } else { "notches" };
        let mut spacers = self.fit.spacers.clone();
        for notch in missing.iter().filter_map(|place| self.fit.notches.get(*place)) {
            if spacers.iter().all(|mm| (mm.mm() - notch.height_mm()).abs() > 1e-6) {
                spacers.push(notch.height_mm().into());
            }
        }
        found.push(FitFinding {
            what: format!(
                "No spacer at hand for {notches} {}, {} long: without one the lengths of {} slide together at glue-up (common \
                 practice)",
                numbers.join(", "),
                units.show_with_unit(first.height_mm()),
                self.fit.inside
            ),
            at_mm: Some(first.from_top.mm()),
            fix: "Make a waxed spacer of that length, and note it.".to_owned(),
            edit: Some(self.fit_edit(FitPart::Spacers(spacers))),
        });
    }

    /// The nearest place for a notch, in steps of a millimetre, where the inside piece's reach over all of it passes;
    /// between its neighbours.
    fn better_place(&self, leg: &Leg, place: usize, passes: impl Fn([f64; 2]) -> bool) -> Option<f64> {
        let notch = self.fit.notches.get(place)?;
        let height = notch.height_mm();
        let before = place.checked_sub(1).and_then(|i| self.fit.notches.get(i)).map_or(0.0, |n| n.span_mm()[1] + 1.0);
        let after = self.fit.notches.get(place + 1).map_or(leg.length_mm, |n| n.from_top.mm()) - 1.0 - height;
        let sound = |from: f64| {
            (0..=16).all(|i| {
                let s = from + height * f64::from(i) / 16.0;
                let inside = self.fit.inside.reach(leg.width_mm, leg.depth_mm, leg.a(s), leg.b(s));
                passes(inside.map(f64::abs))
            })
        };
        let here = notch.from_top.mm();
        (1..=5000)
            .map(f64::from)
            .flat_map(|step| [(here - step).round(), (here + step).round()])
            .find(|from| *from >= before && *from <= after && sound(*from))
    }

    /// How long both cuts run straight down the middle from the top, mm; none where they do not.
    fn straight_part(&self, leg: &Leg) -> Option<f64> {
        let mut fit = self.fit.clone();
        let post = self.fit.post.mm().floor();
        (1..=5000).map(|step| post - f64::from(step)).take_while(|length| *length > 0.0).find(|length| {
            fit.post = (*length).into();
            fit.post_strays_mm(leg) <= POST_STRAYS_MM
        })
    }
}

impl Assembly {
    /// What to watch out for about the whole.
    pub fn findings(&self, units: Units) -> Vec<FitFinding> {
        let mm = |mm: f64| units.show_with_unit(mm);
        let mut found = Vec::new();
        if let Some(first) = self.legs.first() {
            for (place, placed) in self.legs.iter().enumerate().skip(1) {
                if (placed.leg.length_mm - first.leg.length_mm).abs() > 0.05 {
                    found.push(FitFinding {
                        what: format!(
                            "The leg in place {} is {} long, and the one in place 1 {}: boards would not be level",
                            place + 1,
                            mm(placed.leg.length_mm),
                            mm(first.leg.length_mm)
                        ),
                        at_mm: None,
                        fix: "Give both designs the same length.".to_owned(),
                        edit: None,
                    });
                } else if self.furniture.arrangement.frame().is_some() {
                    self.missing_notches(place, placed, first, units, &mut found);
                }
            }
        }
        self.apron_reach(units, &mut found);
        self.lamp_tilt(units, &mut found);
        // Where front and back are different designs on purpose, left and right mirroring one another is all there can be.
        let one_design = self.legs.iter().all(|placed| placed.design.id == self.legs[0].design.id);
        if let Some([across_u, across_v]) = self.mirrored_across()
            && !(across_u && across_v || !one_design && (across_u || across_v))
        {
            found.push(FitFinding {
                what: "The legs do not mirror one another across the middle: four alike make a turning figure, like a \
                       pinwheel"
                    .to_owned(),
                at_mm: None,
                fix: "If that is not wanted, stand legs of the other hand in places 2 and 4.".to_owned(),
                edit: self.mirror_edit(),
            });
        }
        found
    }

    /// The change that makes the leg in place 2 the mirror of the one in place 1; place 4 follows in the same way.
    fn mirror_edit(&self) -> Option<Edit> {
        let first = self.legs.first()?;
        let unlike = |place: &usize| self.legs.get(*place).is_some_and(|leg| !are_mirrored(first, leg));
        let place = [1, 3].into_iter().find(unlike)?;
        let standing = first.mirror_standing();
        Some(Edit::SetFurniture { part: FurniturePart::Leg { place, standing } })
    }

    fn missing_notches(
        &self,
        place: usize,
        placed: &PlacedLeg,
        first: &PlacedLeg,
        units: Units,
        found: &mut Vec<FitFinding>,
    ) {
        for notch in &first.fit.notches {
            let [from, to] = notch.board_span_mm();
            let fits = placed.fit.notches.iter().any(|own| {
                let [upper, lower] = own.span_mm();
                upper <= from + 0.01 && (lower - to).abs() <= 0.01
            });
            if !fits {
                found.push(FitFinding {
                    what: format!(
                        "Leg {} in place {} has no notch for the {} at {} from the top",
                        placed.label(),
                        place + 1,
                        notch.takes.name(),
                        units.show_with_unit(from)
                    ),
                    at_mm: Some(from),
                    fix: format!("Notch it like leg {}.", first.label()),
                    edit: Some(Edit::SetFit {
                        design: placed.design.id,
                        part: FitPart::Notches(first.fit.notches.clone()),
                    }),
                });
                return;
            }
        }
    }

    /// A lamp that falls over before the published tilt.
    fn lamp_tilt(&self, units: Units, found: &mut Vec<FitFinding>) {
        let column = matches!(self.furniture.arrangement, Arrangement::Column);
        if !column || !self.stands_alone() {
            return;
        }
        let Some(stands) = self.stability().filter(|stands| stands.tilt_deg < LAMP_TILT_DEG) else { return };
        let least = self.least_base_mm(LAMP_TILT_DEG).map(f64::ceil);
        let with_base = self.furniture.base.as_ref().zip(least);
        found.push(FitFinding {
            what: format!(
                "It falls over when tilted {:.1} degrees. UL 153 tilts portable lamps by {LAMP_TILT_DEG:.0} degrees \
                 (comparison, not compliance)",
                stands.tilt_deg.max(0.0)
            ),
            at_mm: None,
            fix: match least {
                Some(least) => format!("Make the base at least {} across, or heavier.", units.show_with_unit(least)),
                None => "Give it a base, wide or heavy enough.".to_owned(),
            },
            edit: with_base.map(|(base, across)| Edit::SetFurniture {
                part: FurniturePart::Base(Some(Base { across: across.into(), ..base.clone() })),
            }),
        });
    }

    /// Aprons that are thicker than the inside piece reaches stand out of the leg's side.
    fn apron_reach(&self, units: Units, found: &mut Vec<FitFinding>) {
        if !self.boards.iter().any(|board| board.kind == BoardKind::Apron) {
            return;
        }
        let thick = self.furniture.aprons.thickness.mm();
        for (place, placed) in self.legs.iter().enumerate() {
            for (index, notch) in placed.fit.notches.iter().enumerate() {
                let Some(there) = placed.fit.notch_fit(&placed.leg, index) else { continue };
                let least = there.bearing.reach_mm[0].min(there.bearing.reach_mm[1]);
                if notch.takes == Takes::Apron && least < thick {
                    found.push(FitFinding {
                        what: format!(
                            "The aprons are {} thick, and the inside piece of leg {} in place {} reaches only {} under them: \
                             they overhang the leg's side",
                            units.show_with_unit(thick),
                            placed.label(),
                            place + 1,
                            units.show_with_unit(least)
                        ),
                        at_mm: Some(there.span_mm[1]),
                        fix: format!("Make the aprons at most {} thick.", units.show_with_unit(least)),
                        edit: Some(Edit::SetFurniture {
                            part: FurniturePart::Aprons(crate::Aprons {
                                thickness: least.into(),
                                joint: self.furniture.aprons.joint,
                            }),
                        })
                        .filter(|_| least >= 0.5),
                    });
                }
            }
        }
    }
}

fn board(notch: &Notch) -> String {
    match notch.takes {
        Takes::Shelf => "the shelf's corner".to_owned(),
        Takes::Apron => "the aprons' corner".to_owned(),
    }
}
