//! Projects and edits for property tests. Also compiled into the tests of the crate that reads and writes files.

use cornerwise_geometry::fit::{Fit, Joint, Notch, PipeHole, Takes};
use cornerwise_geometry::furniture::{ApronJoint, Arrangement};
use cornerwise_geometry::{
    Arris, Batten, Between, Blade, Blank, BlankSizes, Cut, Face, Finest, Holds, Length, Line, Link, OutOfTrue,
    ParameterValue, Piece, Pin, Point, PointId, PointKind, Saw, SawKind, Shape, ShapeKind, Side, Unit, Units,
};
use cornerwise_project::{
    Aprons, Base, CheckRule, Design, DesignId, Furniture, Ghost, Hand, Kept, OwnBlade, PageSize, PaperChoice,
    PaperExtra, Picture, PictureBytes, PictureHash, Project, Rough, Rule, Shade, Standing, StockBoard, StripLayout,
    Top, Trace,
};
use cornerwise_wood::{Blemish, BlockPreset, Finish, Knot, Layer, Layers, SeamFit, Species, Timber, Wood};
use proptest::prelude::*;
use proptest::sample::select;
use std::sync::Arc;

/// A length within limits, mm: dragged, or typed in one of the ways that makers type.
pub fn length(least: f64, most: f64) -> BoxedStrategy<Length> {
    let parsed = |text: String| Length::parse(&text, Unit::Mm).expect("a length");
    let typed = (0.0..1.0, 0..6_u8).prop_map(move |(share, way)| {
        let mm: f64 = least + share * (most - least);
        let inches = mm / 25.4;
        let whole = inches.abs().floor();
        let sixteenths = ((inches.abs() - whole) * 16.0).floor();
        let sign = if inches < 0.0 { "-" } else { "" };
        match way {
            0 => parsed(format!("{sign}{whole} {sixteenths}/16\"")),
            1 => parsed(format!("{inches:.3} in")),
            2 => parsed(format!("{mm:.2} mm")),
            3 => parsed(format!("{:.3} cm", mm / 10.0)),
            4 => {
                let sizes = BlankSizes { width_mm: 50.0, depth_mm: 44.0, length_mm: 700.0 };
                let text = if mm < 25.0 {
                    format!("W/2 - {:.2}", 25.0 - mm)
                } else {
                    format!("(W + {:.2})/2", 2.0 * mm - 50.0)
                };
                Length::parse_on(&text, Unit::Mm, &sizes).expect("a length")
            }
            _ => parsed(format!("{sign}{whole}-{sixteenths}/16 in")),
        }
    });
    let dragged = (least..=most).prop_map(Length::from_mm);
    prop_oneof![dragged, typed]
        .prop_map(move |length| {
            if (least..=most).contains(&length.mm()) { length } else { Length::from_mm(f64::midpoint(least, most)) }
        })
        .boxed()
}

/// Any name that prints: quotes, backslashes, accents, other scripts.
pub fn name() -> BoxedStrategy<String> {
    let odd = select(vec!['"', '\\', '\'', '(', ')', '/', '*', '#', 'é', 'ß', '木', '😀', ' ', '{', '\u{a0}']);
    prop::collection::vec(prop_oneof![odd, any::<char>()], 0..30)
        .prop_map(|chars| chars.into_iter().filter(|c| !c.is_control() && !"\u{2028}\u{2029}".contains(*c)).collect())
        .prop_map(|name: String| name.chars().filter(|c| !('\u{202a}'..='\u{2069}').contains(c)).collect())
        .boxed()
}

/// Points of a line that a saw could follow, over about `length_mm`; at most one is sharp.
pub fn points(length_mm: f64, across_mm: f64) -> BoxedStrategy<Vec<Point>> {
    let one = (0.2..1.0, -0.1..1.1, -0.3..0.3, 0.05..0.6, 0.05..0.6, -0.3..0.3);
    (prop::collection::vec(one, 2..9), any::<Option<u8>>())
        .prop_map(move |(raw, sharp)| {
            let whole: f64 = raw.iter().map(|one| one.0).sum();
            let sharp = sharp.map(|at| usize::from(at) % raw.len());
            let mut at = -0.05 * length_mm;
            let mut points = Vec::new();
            for (place, (gap, offset, slope, before, after, other_slope)) in raw.into_iter().enumerate() {
                let offset: f64 = offset;
                let step = gap / whole * 1.1 * length_mm;
                at += step;
                let (before_mm, after_mm) = (before * step, after * step);
                let kind = if sharp == Some(place) {
                    PointKind::Sharp { slope_before: slope, before_mm, slope_after: other_slope, after_mm }
                } else {
                    PointKind::Smooth { slope, before_mm, after_mm }
                };
                // Ids are not in the order of the points.
                let id = PointId(((place as u32) * 7) % 61 + 1);
                let tied = place % 3 == 1;
                points.push(Point { id, from_top: at.into(), offset: (offset * across_mm).into(), kind, tied });
            }
            points
        })
        .boxed()
}

fn shape(length_mm: f64, across_mm: f64) -> BoxedStrategy<Shape> {
    let values = prop::collection::vec(0.3..0.7_f64, 6);
    (select(ShapeKind::ALL.to_vec()), values)
        .prop_map(move |(kind, shares)| {
            let mut shape = Shape::start(kind, length_mm, across_mm);
            for (index, share) in shares.into_iter().enumerate() {
                let Some(parameter) = shape.parameters().into_iter().nth(index) else { break };
                let value = match parameter.value {
                    ParameterValue::Length(length) => ParameterValue::Length((length.mm() * 2.0 * share).into()),
                    ParameterValue::Number(number) => ParameterValue::Number(number * (0.7 + share)),
                    ParameterValue::Count(count) => ParameterValue::Count(count),
                };
                shape = shape.with_parameter(index, &value);
            }
            shape
        })
        .boxed()
}

/// Pins over about `length_mm`; most lists hold a batten.
pub fn batten(length_mm: f64, across_mm: f64) -> BoxedStrategy<Batten> {
    let one = (0.3..1.0_f64, 0.2..0.8_f64, any::<Option<u8>>(), -0.2..0.2_f64);
    prop::collection::vec(one, 2..9)
        .prop_map(move |raw| {
            let whole: f64 = raw.iter().map(|one| one.0).sum();
            let mut at = -0.05 * length_mm;
            let pin = |(place, (gap, offset, held, slope)): (u32, (f64, f64, Option<u8>, f64))| {
                at += gap / whole * 1.1 * length_mm;
                let holds = if held.is_some_and(|way| way < 90) { Holds::Direction { slope } } else { Holds::Position };
                // Ids are not in the order of the pins.
                Pin { holds, ..Pin::new(place * 7 % 61 + 1, at, offset * across_mm) }
            };
            Batten { pins: (0..).zip(raw).map(pin).collect() }
        })
        .boxed()
}

fn link(length_mm: f64) -> BoxedStrategy<Link> {
    let shifted = length(-0.5 * length_mm, 0.5 * length_mm).prop_map(|by| Link::Shifted { by });
    prop_oneof![select(vec![Link::Same, Link::Mirrored, Link::EndForEnd]), shifted].boxed()
}

fn line(length_mm: f64, across_mm: f64) -> BoxedStrategy<Line> {
    prop_oneof![
        2 => points(length_mm, across_mm).prop_map(Line::Points),
        2 => shape(length_mm, across_mm).prop_map(Line::Shape),
        1 => batten(length_mm, across_mm).prop_map(Line::Batten),
    ]
    .boxed()
}

fn second_line(length_mm: f64, across_mm: f64) -> BoxedStrategy<Line> {
    prop_oneof![3 => line(length_mm, across_mm), 1 => link(length_mm).prop_map(Line::Linked)].boxed()
}

pub fn wood() -> BoxedStrategy<Wood> {
    let layer = (select(Species::ALL.to_vec()), length(1.0, 40.0))
        .prop_map(|(species, thickness)| Layer { species, thickness });
    let layers = (prop::collection::vec(layer, 1..6), -90.0..90.0, -360.0..360.0, length(-50.0, 50.0)).prop_map(
        |(layers, lean_deg, toward_deg, shift)| Wood::Layers(Layers::new(layers, lean_deg, toward_deg, shift)),
    );
    let timber = (select(Species::ALL.to_vec()), length(-200.0, 200.0), length(-200.0, 200.0), length(0.5, 8.0))
        .prop_map(|(species, pith_x, pith_y, ring_width)| {
            Wood::Timber(Timber::new(species, pith_x, pith_y, ring_width))
        });
    let size = (20.0..120.0_f64, 20.0..120.0_f64, 1..9_usize);
    let fitted = (select(BlockPreset::ALL.to_vec()), select(SeamFit::ALL.to_vec()));
    let blocks = (size, fitted, select(Species::ALL.to_vec())).prop_map(|((w, d, count), (kind, fit), species)| {
        Wood::Blocks(kind.build([w, d], count, fit, [species, Species::Maple]))
    });
    prop_oneof![layers, timber, blocks].boxed()
}

/// Any knots of a blank this long.
pub fn knots(length_mm: f64) -> BoxedStrategy<Vec<Knot>> {
    let place = (select(Face::ALL.to_vec()), length(-20.0, length_mm), length(0.0, 80.0));
    let size = (length(1.0, 40.0), length(1.0, 60.0), -1.0..1.0_f64, -1.0..1.0_f64);
    let knot = (select(Blemish::ALL.to_vec()), place, size).prop_map(
        |(kind, (face, from_top, from_arris), (size, depth, slope_along, slope_across))| Knot {
            kind,
            face,
            from_top,
            from_arris,
            size,
            depth,
            slope_along,
            slope_across,
        },
    );
    prop::collection::vec(knot, 0..4).boxed()
}

fn finish() -> BoxedStrategy<Finish> {
    select(Finish::ALL.to_vec()).boxed()
}

fn blank() -> BoxedStrategy<Blank> {
    let untrue = (-2.0..2.0_f64, length(-2.0, 2.0), length(-2.0, 2.0), any::<bool>());
    let untrue = untrue.prop_map(|(corner_deg, taper_width, taper_depth, told)| match told {
        true => OutOfTrue { corner_deg, taper_width, taper_depth },
        false => OutOfTrue::default(),
    });
    (length(20.0, 120.0), length(20.0, 120.0), length(150.0, 1500.0), length(0.0, 60.0), length(0.0, 60.0), untrue)
        .prop_map(|(width, depth, length, spare_top, spare_foot, out_of_true)| Blank {
            width,
            depth,
            length,
            spare_top,
            spare_foot,
            out_of_true,
        })
        .boxed()
}

/// Any fit of a leg this long: notches one after another, each in its own share of the length.
pub fn fit(length_mm: f64) -> BoxedStrategy<Fit> {
    let pipe = (length(2.0, 30.0), length(0.0, 2.0), length(-20.0, 60.0), length(0.0, 20.0)).prop_map(
        |(outside, clearance, above, recess)| PipeHole {
            name: "\"1/8\" IP".to_owned(),
            outside,
            clearance,
            above,
            below: Length::ZERO,
            recess,
        },
    );
    let notches = prop::collection::vec((0.0..0.4, 0.05..0.4, length(0.0, 1.0), any::<bool>()), 0..4).prop_map(
        move |notches| -> Vec<Notch> {
            let share = (length_mm - 5.0) / notches.len().max(1) as f64;
            let notch = |(i, (from, board, clearance, apron)): (usize, (f64, f64, Length, bool))| Notch {
                from_top: (share * (i as f64 + from)).into(),
                board: (share * board).into(),
                clearance,
                takes: if apron { Takes::Apron } else { Takes::Shelf },
            };
            notches.into_iter().enumerate().map(notch).collect()
        },
    );
    let joint = (select(Side::ALL.to_vec()), length(0.0, 60.0), length(5.0, 60.0), length(3.0, 12.0)).prop_map(
        |(side, from_top, height, width)| Joint {
            side,
            from_top,
            height,
            width,
            beside: Length::ZERO,
            depth: 20.0.into(),
        },
    );
    let joints = prop::collection::vec(joint, 0..3);
    (prop::option::of(pipe), select(Piece::ALL.to_vec()), notches, length(0.0, 5.0), length(0.0, 100.0), joints)
        .prop_map(|(pipe, inside, notches, crosscut_kerf, post, joints)| Fit {
            pipe,
            inside,
            spacers: notches.iter().take(2).map(|notch| notch.height_mm().into()).collect(),
            notches,
            crosscut_kerf,
            post,
            joints,
        })
        .boxed()
}

/// Any furniture of the project's first designs.
pub fn furniture() -> BoxedStrategy<Furniture> {
    let arrangement = prop_oneof![
        Just(Arrangement::Column),
        (length(50.0, 900.0), length(50.0, 900.0)).prop_map(|(width, depth)| Arrangement::Rectangle { width, depth }),
        length(50.0, 900.0).prop_map(|radius| Arrangement::Circle { radius }),
        (length(50.0, 900.0), 1..6_u32).prop_map(|(spacing, count)| Arrangement::Row { spacing, count }),
    ];
    let standing = (0..2_u32, prop::option::of(select(Piece::ALL.to_vec())), any::<bool>()).prop_map(
        |(design, inside, mirrored)| Standing {
            design: DesignId(design),
            inside,
            hand: if mirrored { Hand::Mirrored } else { Hand::Drawn },
        },
    );
    let top = (length(5.0, 40.0), length(-20.0, 90.0)).prop_map(|(thickness, overhang)| Top { thickness, overhang });
    let base = (length(50.0, 300.0), length(5.0, 40.0), any::<bool>()).prop_map(|(across, thickness, round)| Base {
        across,
        thickness,
        round,
    });
    let shade = (length(50.0, 300.0), length(50.0, 300.0), length(50.0, 300.0), length(0.0, 90.0))
        .prop_map(|(across_top, across_foot, height, above)| Shade { across_top, across_foot, height, above });
    let parts = (prop::option::of(top), prop::option::of(base), prop::option::of(shade));
    let aprons = (length(5.0, 40.0), any::<bool>()).prop_map(|(thickness, mitred)| Aprons {
        thickness,
        joint: if mitred { ApronJoint::Mitred } else { ApronJoint::Butted },
    });
    let board = (length(100.0, 3000.0), length(20.0, 400.0), length(20.0, 100.0))
        .prop_map(|(length, width, thickness)| StockBoard { length, width, thickness });
    let bought = (select(Species::ALL.to_vec()), prop::option::of(board));
    (arrangement, prop::collection::vec(standing, 0..5), aprons, parts, bought)
        .prop_map(|(arrangement, legs, aprons, (top, base, shade), (boards, board))| Furniture {
            arrangement,
            legs,
            aprons,
            top,
            base,
            shade,
            boards,
            rough: Rough { board, ..Rough::default() },
        })
        .boxed()
}

fn design() -> BoxedStrategy<Design> {
    blank()
        .prop_flat_map(|blank| {
            let (length, width, depth) = (blank.length.mm(), blank.width.mm(), blank.depth.mm());
            let letter = select(vec!['A', 'B', 'Z', 'Ä', '7']);
            let (lines, looks) = ((line(length, width), second_line(length, depth)), (wood(), knots(length), finish()));
            (Just(blank), name(), letter, lines, looks, fit(length))
        })
        .prop_map(|(blank, name, letter, (first, second), (wood, knots, finish), fit)| Design {
            id: DesignId(0),
            name,
            letter,
            blank,
            first,
            second,
            wood,
            knots,
            finish,
            load: None,
            accepted: Vec::new(),
            ghost: None,
            traces: Vec::new(),
            fit,
        })
        .boxed()
}

pub fn paper() -> BoxedStrategy<PaperChoice> {
    let roll = length(200.0, 2_000.0).prop_map(|width| PageSize::Roll { width });
    let fixed = select(vec![PageSize::A4, PageSize::A3, PageSize::Letter, PageSize::Tabloid]);
    let face_1 = select(vec![Arris::One, Arris::Two]);
    let face_2 = select(vec![Arris::Two, Arris::Three]);
    let per_face = (face_1, face_2).prop_map(|(face_1_by, face_2_by)| StripLayout::PerFace { face_1_by, face_2_by });
    let layout = prop_oneof![Just(StripLayout::Wrapped), per_face];
    let measured = prop_oneof![
        (length(90.0, 110.0), length(90.0, 110.0)).prop_map(|(across, along)| CheckRule {
            rule: Rule::HundredMillimetres,
            across,
            along
        }),
        (length(90.0, 110.0), length(90.0, 110.0)).prop_map(|(across, along)| CheckRule {
            rule: Rule::FourInches,
            across,
            along
        }),
    ];
    let also = proptest::sample::subsequence(PaperExtra::ALL.to_vec(), 0..=4);
    let gauge_at = proptest::collection::vec(length(0.0, 900.0), 0..4);
    (prop_oneof![fixed, roll], any::<[bool; 3]>(), layout, length(5.0, 60.0), measured, also, gauge_at)
        .prop_map(|(page, [landscape, kerf_edges, clean_up], layout, overlap, measured, also, gauge_at)| PaperChoice {
            page,
            landscape,
            layout,
            overlap,
            measured,
            kerf_edges,
            clean_up,
            also,
            gauge_at,
        })
        .boxed()
}

pub fn units() -> BoxedStrategy<Units> {
    select(vec![
        Units::Millimetres,
        Units::Inches(Finest::Sixteenth),
        Units::Inches(Finest::ThirtySecond),
        Units::Inches(Finest::SixtyFourth),
        Units::Inches(Finest::Thousandth),
    ])
    .boxed()
}

/// A saw, or none yet.
pub fn saw() -> BoxedStrategy<Option<Saw>> {
    let blade = (length(1.0, 25.0), length(0.2, 0.9), length(1.0, 2.0), any::<Option<u8>>(), length(1.0, 20.0))
        .prop_map(|(width, thickness, kerf, teeth, radius)| Blade {
            width,
            thickness,
            kerf,
            teeth_per_inch: teeth.map(|teeth| f64::from(teeth % 30 + 1)),
            published_radius: teeth.map(|_| [radius.clone(), (radius.mm() + 1.0).into()]),
        });
    let between = prop_oneof![Just(Between::ClosedUp), length(0.0, 3.0).prop_map(Between::Packed)];
    let rest = (
        length(40.0, 300.0),
        (length(100.0, 600.0), length(200.0, 900.0)),
        -2.0..2.0_f64,
        -2.0..2.0_f64,
        length(-3.0, 3.0),
    );
    let bows = (length(-1.0, 1.0), length(-1.0, 1.0));
    (select(SawKind::ALL.to_vec()), blade, between, rest, length(0.0, 1.0), bows, any::<bool>())
        .prop_map(|(kind, blade, between, (height, (throat, table), first, second, slip), sanding, bows, told)| {
            let (bow_first, bow_second) = bows;
            let (tilt_first_deg, tilt_second_deg) = (first, second);
            told.then_some(Saw {
                kind,
                blade,
                height,
                throat,
                table,
                tilt_first_deg,
                tilt_second_deg,
                bow_first,
                bow_second,
                between,
                slip,
                sanding,
            })
        })
        .boxed()
}

/// Lays pictures under faces of every other design: one inside the project, one beside it.
fn add_traces(project: &mut Project) {
    for (place, design) in project.designs.iter_mut().enumerate().filter(|(place, _)| place % 2 == 0) {
        let bytes = design.name.as_bytes();
        let inside = PictureBytes(bytes.into());
        let name = "a photo.png".to_owned();
        let picture =
            Picture { hash: PictureHash::of(bytes), name, width_px: 40, height_px: 30, kept: Kept::Inside(inside) };
        let kept = Kept::Beside("/photos/b.jpg".to_owned());
        let beside = Picture { hash: PictureHash([place as u8; 32]), kept, ..picture.clone() };
        for (cut, picture) in Cut::ALL.into_iter().zip([picture, beside]) {
            let trace = Trace::start(cut, picture.hash, [40, 30], design.blank.length.mm(), 50.0);
            let turn_deg = place as f64 * 7.5;
            let trace = Trace { turn_deg, locked: place == 2, ..trace };
            Arc::make_mut(design).traces.push(trace);
            if project.pictures.iter().all(|one| one.hash != picture.hash) {
                project.pictures.push(Arc::new(picture));
            }
        }
    }
}

/// Any sound project. A line that came out too steep is replaced by a straight one.
pub fn project() -> BoxedStrategy<Project> {
    let furnished = (any::<[bool; 3]>(), prop::option::of(furniture()));
    (name(), units(), paper(), saw(), prop::collection::vec(design(), 1..4), furnished)
        .prop_map(|(name, units, paper, saw, mut designs, (ghosts, furniture))| {
            for design in &mut designs {
                for cut in Cut::ALL {
                    let (length, across) = (design.blank.length.mm(), design.across_mm(cut));
                    if design.own_line(cut).solve(length, across).is_err() {
                        let straight = Line::Shape(Shape::start(ShapeKind::Straight, length, across));
                        match cut {
                            Cut::First => design.first = straight,
                            Cut::Second => design.second = straight,
                        }
                    }
                }
            }
            for (design, _) in designs.iter_mut().zip(ghosts).filter(|(_, ghost)| *ghost) {
                design.ghost = Some(Arc::new(Ghost::of(design)));
            }
            // A saw that is told has its blade in the maker's own list too.
            let own = |saw: &Saw| OwnBlade { name: "Own".to_owned(), kind: saw.kind, blade: saw.blade.clone() };
            let blades = saw.iter().map(own).collect();
            let mut project =
                Project { name, units, paper, saw, blades, designs: Vec::new(), furniture, ..Project::new() };
            project.designs = designs.into_iter().map(Arc::new).collect();
            add_traces(&mut project);
            project.number();
            project
        })
        .boxed()
}
