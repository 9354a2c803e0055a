//! How the seams meet, against a blank that is really cut into small cubes (`cubes`), against closed forms, and against
//! what every maker knows. The three questions are design.md's: do the lines meet, is it the same wood, does the pattern
//! carry on. What counts as an answer along a stretch is told in the rustdoc of `compare_seams`.

use std::sync::LazyLock;

use cornerwise_export::demo::DEMOS;
use cornerwise_geometry::{BlankPoint, Cut, Length, Shape};
use cornerwise_wood::{Layer, Layers, SeamAnswer, SeamLimits, Species, Timber, Wood, compare_seams, seam_edges};

use crate::block_seams::blocks_by_cubes;
use crate::cases::Case;
use crate::cubes::{self, Stock};

/// Layers of maple, walnut, and if there is a third thickness cherry.
fn layers(thicknesses: &[f64], lean_deg: f64, toward_deg: f64, shift: f64) -> Wood {
    let species = [Species::Maple, Species::Walnut, Species::Cherry];
    let layers =
        thicknesses.iter().zip(species).map(|(mm, species)| Layer { species, thickness: (*mm).into() }).collect();
    Wood::Layers(Layers::new(layers, lean_deg, toward_deg, shift.into()))
}

fn mm(mm: f64) -> Length {
    mm.into()
}

/// Two lines to try on a blank of this size: a cyma and waves.
fn curved(size_mm: [f64; 3]) -> Case {
    let waves = Shape::Waves { waves: 2, swing_top: mm(4.0), swing_foot: mm(14.0), shortening: 0.7, aside: mm(1.0) };
    Case::new("curved", size_mm, Shape::Cyma { swing: mm(17.0), turn: 0.45, aside: mm(-2.0) }, waves)
}

fn straight(size_mm: [f64; 3]) -> Case {
    Case::new("straight", size_mm, Shape::Straight { aside: mm(3.0) }, Shape::Straight { aside: mm(-5.3) })
}

/// The three answers as shares of the length.
pub type Shares = [f64; 3];

fn shares(answer: &SeamAnswer) -> Shares {
    [answer.lines_meet, answer.same_wood, answer.pattern_carries_on]
}

/// The three answers of layers by the cubes of one seam, from the wood where they touch.
pub fn layers_by_cubes(seam: &cubes::Seam, stock: &Stock, cube_mm: f64) -> Shares {
    let deep_mm = 0.01 * cube_mm;
    // Cubes go down the curve in steps: a line may arrive a level early or late on either side.
    let meet_mm = SeamLimits::default().meet_mm + 2.0 * cube_mm;
    let woods: Vec<[(u8, i64); 2]> = seam.touching.iter().map(|touching| touching.wood(stock)).collect();
    let arrivals = [0, 1].map(|side| -> Vec<f64> {
        let changes = woods.windows(2).enumerate().filter(|(_, pair)| pair[0][side].1 != pair[1][side].1);
        changes.map(|(i, _)| (seam.touching[i].s + seam.touching[i + 1].s) / 2.0).collect()
    });
    // The levels where a stretch ends, and whether a line arrives there from both sides.
    let mut ends = vec![(0.0, true), (f64::INFINITY, true)];
    for (side, other) in [(0, 1), (1, 0)] {
        for s in &arrivals[side] {
            let met = arrivals[other].iter().any(|there| (there - s).abs() <= meet_mm);
            ends.push((*s, met));
        }
    }
    ends.sort_by(|p, q| p.0.total_cmp(&q.0));
    let mut counts = [0; 3];
    for touching in &seam.touching {
        let stretch = ends.partition_point(|end| end.0 <= touching.s);
        let meet = ends[stretch - 1].1 && ends[stretch].1;
        let goes_on = |side: usize, other: usize| {
            touching.within(stock, side, -deep_mm) == touching.within(stock, other, deep_mm)
        };
        counts[0] += u32::from(meet);
        counts[1] += u32::from(touching.within(stock, 0, deep_mm) == touching.within(stock, 1, deep_mm));
        counts[2] += u32::from(meet && goes_on(0, 1) && goes_on(1, 0));
    }
    counts.map(|count| f64::from(count) / seam.touching.len() as f64)
}

fn worst(one: Shares, other: Shares) -> f64 {
    one.into_iter().zip(other).map(|(p, q)| (p - q).abs()).fold(0.0, f64::max)
}

/// A leg that has been sawn into cubes of both sizes; whatever the wood, they fall in the same places.
pub struct InCubes {
    pub case: Case,
    sizes: [(f64, [cubes::Seam; 4]); 2],
}

/// The straight and the curved lines, on a square and on a rectangular blank.
pub static LEGS: LazyLock<[InCubes; 4]> =
    LazyLock::new(|| [straight(SQUARE), straight(FLAT), curved(SQUARE), curved(FLAT)].map(InCubes::new));

impl InCubes {
    pub fn new(case: Case) -> InCubes {
        let sizes = [0.75, 0.25].map(|cube_mm| (cube_mm, cubes::seams(&case, cube_mm)));
        InCubes { case, sizes }
    }

    /// The seams in cubes, and how large the cubes are, mm: coarse, then fine.
    pub fn sizes(&self) -> [(f64, &[cubes::Seam; 4]); 2] {
        self.sizes.each_ref().map(|(cube_mm, seams)| (*cube_mm, seams))
    }
}

/// The scan and the cubes agree for all four seams, and the better the smaller the cubes. Gives the scan's answers.
pub fn agree(what: &str, leg: &InCubes, wood: &Wood, by_cubes: fn(&cubes::Seam, &Stock, f64) -> Shares) -> [Shares; 4] {
    let case = &leg.case;
    let answers = compare_seams(&case.leg, wood, &SeamLimits::default());
    let stock = Stock::new(wood);
    let off = leg.sizes.each_ref().map(|(cube_mm, seams)| {
        let each =
            seams.iter().zip(&answers).map(|(seam, answer)| worst(by_cubes(seam, &stock, *cube_mm), shares(answer)));
        each.fold(0.0, f64::max)
    });
    let scanned = answers.map(|answer| shares(&answer));
    eprintln!(
        "{what}, {}: {scanned:.3?}, cubes of 0.75 mm off by {:.4}, of 0.25 mm by {:.4}",
        case.name, off[0], off[1]
    );
    assert!(off[0] < 0.15 && off[1] < 0.05, "{what}, {}: off by {off:?} of {scanned:?}", case.name);
    // A hundredth of the length is six levels of cubes: so few lines are a level early or late by chance.
    assert!(off[1] <= (0.6 * off[0]).max(0.012), "{what}, {}: {off:?} does not shrink", case.name);
    scanned
}

/// The three answers of rings by the cubes of one seam: where in a ring the two cubes lie, and which way it runs on.
pub fn rings_by_cubes(seam: &cubes::Seam, stock: &Stock, cube_mm: f64) -> Shares {
    let limits = SeamLimits::default();
    let places: Vec<[f64; 2]> = seam.touching.iter().map(|t| t.faces().map(|face| stock.place(face))).collect();
    let mut counts = [0; 3];
    for (i, touching) in seam.touching.iter().enumerate() {
        let [one, other] = touching.faces().map(|face| stock.is_heart(face));
        counts[1] += usize::from(one == other);
        let apart = places[i][0] - places[i][1];
        if (apart - apart.round()).abs() > limits.ring_share {
            continue;
        }
        counts[0] += 1;
        // Cubes go down the curve in steps, and the run of many tells its slope. How fast rings go by is felt for in the
        // cubes round about; across the side from the first piece toward the second, and along it.
        let reach = (6.0 / cube_mm.sqrt()) as usize;
        let near = i.saturating_sub(reach)..(i + reach + 1).min(places.len());
        let run = |of: fn(BlankPoint) -> f64| {
            fitted_slope(near.clone().map(|k| (seam.touching[k].s, of(seam.touching[k].cubes[0]))))
        };
        let lean = [run(|cube| cube.x), run(|cube| cube.y), 1.0];
        let runs = [0, 1].map(|side| {
            let rates = rates(stock, touching.faces()[side], cube_mm / 2.0);
            let [x, y] = touching.inward[side];
            let across = (rates[0] * x + rates[1] * y) / x.hypot(y) * if side == 0 { -1.0 } else { 1.0 };
            let along = dot(rates, lean) / dot(lean, lean).sqrt();
            across.atan2(along)
        });
        let turn = (runs[0] - runs[1]).rem_euclid(std::f64::consts::PI);
        let turn_deg = turn.min(std::f64::consts::PI - turn).to_degrees();
        counts[2] += usize::from(turn_deg <= limits.kink_deg && one == other);
    }
    counts.map(|count| count as f64 / places.len() as f64)
}

/// Rings per mm in x, y and s round about a cube.
fn rates(stock: &Stock, p: BlankPoint, half_mm: f64) -> [f64; 3] {
    let along = |by: fn(BlankPoint, f64) -> BlankPoint| {
        (stock.place(by(p, half_mm)) - stock.place(by(p, -half_mm))) / (2.0 * half_mm)
    };
    [
        along(|p, d| BlankPoint { x: p.x + d, ..p }),
        along(|p, d| BlankPoint { y: p.y + d, ..p }),
        along(|p, d| BlankPoint { s: p.s + d, ..p }),
    ]
}

fn dot(p: [f64; 3], q: [f64; 3]) -> f64 {
    p[0] * q[0] + p[1] * q[1] + p[2] * q[2]
}

/// The slope of the straight line nearest to some points.
fn fitted_slope(points: impl Iterator<Item = (f64, f64)>) -> f64 {
    let points: Vec<(f64, f64)> = points.collect();
    let count = points.len() as f64;
    let mean = points.iter().fold((0.0, 0.0), |m, p| (m.0 + p.0 / count, m.1 + p.1 / count));
    let (over, under) = points.iter().fold((0.0, 0.0), |sum, p| {
        let (dx, dy) = (p.0 - mean.0, p.1 - mean.1);
        (sum.0 + dx * dy, sum.1 + dx * dx)
    });
    over / under
}

fn timber(pith_x: f64, pith_y: f64, ring_width: f64) -> Wood {
    Wood::Timber(Timber::new(Species::Ash, pith_x.into(), pith_y.into(), ring_width.into()))
}

const SQUARE: [f64; 3] = [48.0, 48.0, 150.0];
const FLAT: [f64; 3] = [48.0, 36.0, 150.0];
pub const YES: Shares = [1.0; 3];

/// Each wood with the straight and the curved lines, on the square and the rectangular blank.
fn on_every_leg(what: &str, wood: &Wood, look: impl Fn(&InCubes, [Shares; 4])) {
    for leg in LEGS.iter() {
        look(leg, agree(what, leg, wood, layers_by_cubes));
    }
}

/// Common practice, no source: level layers of a laminated blank line up at the seams.
#[test]
fn level_layers_match_everywhere() {
    on_every_leg("level", &layers(&[11.0, 6.0], 0.0, 0.0, 2.3), |leg, scanned| {
        assert_eq!(scanned, [YES; 4], "{}", leg.case.name);
    });
}

/// Common practice, no source: layers sloping at 30 degrees do not line up. By geometry, they jump only between faces
/// that lie apart the way they lean.
#[test]
fn layers_at_30_degrees_do_not_meet() {
    on_every_leg("30 degrees toward x", &layers(&[12.0, 10.0], 30.0, 0.0, 2.3), |leg, scanned| {
        assert!(scanned[0][0] < 0.05 && scanned[2][0] < 0.05, "{}: {scanned:?}", leg.case.name);
        assert_eq!([scanned[1], scanned[3]], [YES; 2], "{}", leg.case.name);
    });
    on_every_leg("30 degrees toward -y", &layers(&[12.0, 10.0], 30.0, -90.0, 2.3), |leg, scanned| {
        assert!(scanned[1][0] < 0.05 && scanned[3][0] < 0.05, "{}: {scanned:?}", leg.case.name);
        assert_eq!([scanned[0], scanned[2]], [YES; 2], "{}", leg.case.name);
    });
}

#[test]
fn layers_of_three_woods_leaning_askew() {
    on_every_leg("20 degrees toward 60", &layers(&[16.0, 7.5, 12.0], 20.0, 60.0, 2.3), |_, _| {});
    on_every_leg("-35 degrees toward 20", &layers(&[16.0, 9.5, 12.0], -35.0, 20.0, 2.3), |_, _| {});
}

/// design.md: layers sloping at an angle t carry on where W tan t is a whole number of their repeats along s. At 30
/// degrees repeats of p lie p / cos 30 apart along s, so W sin 30 = 24 mm is to be a whole number of p; for D = 36, 18.
#[test]
fn layers_that_jump_a_whole_number_of_repeats_carry_on() {
    for (wood, seams) in [
        (layers(&[5.0, 7.0], 30.0, 0.0, 2.3), [0, 2]),
        (layers(&[14.0, 10.0], 30.0, 180.0, 2.3), [0, 2]),
        (layers(&[4.0, 2.5, 5.5], -30.0, 0.0, 2.3), [0, 2]),
    ] {
        on_every_leg("30 degrees, whole repeats", &wood, |leg, scanned| {
            assert_eq!(seams.map(|seam| scanned[seam]), [YES; 2], "{}", leg.case.name);
            looks_uninterrupted(leg, &wood, seams);
        });
    }
    let wood = layers(&[10.0, 8.0], 30.0, 90.0, 2.3);
    on_every_leg("30 degrees, whole repeats of D", &wood, |leg, scanned| {
        let is_whole = leg.case.size_mm()[1] == 36.0;
        assert_eq!(scanned[1][2] == 1.0 && scanned[3][2] == 1.0, is_whole, "{}: {scanned:?}", leg.case.name);
        if is_whole {
            looks_uninterrupted(leg, &wood, [1, 3]);
        }
    });
}

/// Lines meet up to the limit and not beyond it, whatever the limit: layers at 30 degrees whose repeat p is a hair short of
/// half of W sin 30 miss one another by 2 (12 - p) / cos 30 mm along the leg.
#[test]
fn lines_meet_up_to_the_limit_that_is_set() {
    let case = straight(SQUARE);
    for meet_mm in [0.05, 0.2, 1.0] {
        let limits = SeamLimits { meet_mm, ..SeamLimits::default() };
        for (share, meets) in [(0.97, true), (1.03, false)] {
            let short = share * meet_mm * f64::to_radians(30.0).cos() / 2.0;
            let wood = layers(&[5.0, 7.0 - short], 30.0, 0.0, 2.3);
            let answers = compare_seams(&case.leg, &wood, &limits);
            // What arrives within the limit of an end of the seam may meet something beyond it.
            let off = (shares(&answers[0])[0] - f64::from(u8::from(meets))).abs();
            assert!(off <= 2.0 * meet_mm / case.leg.length_mm, "{meet_mm} mm, {share} of it: off by {off}");
        }
    }
}

/// design.md: an even count of columns carries on though the woods differ at the seam, an odd count shows a double block,
/// half-width outer columns hide the seam. Common practice, no source: regular stripes line up (an odd count).
#[test]
fn standing_stripes_answer_by_their_count() {
    let across_x = |scanned: [Shares; 4]| [scanned[0], scanned[2]];
    on_every_leg("three stripes", &layers(&[16.0, 16.0], 90.0, 0.0, 0.0), |_, scanned| {
        assert_eq!(across_x(scanned), [[1.0, 1.0, 0.0]; 2]);
    });
    let four = layers(&[12.0, 12.0], 90.0, 0.0, 0.0);
    on_every_leg("four stripes", &four, |leg, scanned| {
        assert_eq!(across_x(scanned), [[1.0, 0.0, 1.0]; 2]);
        looks_uninterrupted(leg, &four, [0, 2]);
    });
    let half = layers(&[12.0, 12.0], 90.0, 0.0, 6.0);
    on_every_leg("half-width outer stripes", &half, |leg, scanned| {
        assert_eq!(scanned, [YES; 4]);
        looks_uninterrupted(leg, &half, [0, 2]);
    });
    on_every_leg("stripes askew", &layers(&[13.0, 9.0], 90.0, 45.0, 1.0), |_, _| {});
}

/// A pith as far from two opposite faces at every level has the same place of the same ring on both sides of the seams
/// between them, which then meet all along; where the ring lines slope they come together in a V. One to the side has
/// nothing of the sort for any seam.
#[test]
fn growth_rings_meet_where_the_pith_is_as_far_from_both_faces() {
    let centred = timber(24.0, -35.0, 3.0);
    for leg in LEGS.iter() {
        let scanned = agree("pith beyond the middle of face 1", leg, &centred, rings_by_cubes);
        assert!(scanned[0][0] == 1.0 && scanned[2][0] == 1.0, "{}: {scanned:?}", leg.case.name);
        if leg.case.name == "curved" {
            assert!(scanned[0][2] < 0.5, "{scanned:?}");
        }
    }
    // On straight lines a place in a ring hardly changes along the leg: it may lie at the limit for long, and no cube is
    // small enough to tell.
    for leg in LEGS.iter().filter(|leg| leg.case.name == "curved") {
        let scanned = agree("pith to one side", leg, &timber(-30.0, -20.0, 3.0), rings_by_cubes);
        assert!(scanned.iter().all(|seam| seam[0] < 0.8 && seam[1] == 1.0), "{scanned:?}");
        agree("pith within", leg, &timber(20.0, 15.0, 4.0), rings_by_cubes);
        let Wood::Timber(straight) = timber(-30.0, -20.0, 3.0) else { unreachable!("timber") };
        let leaning = Timber { lean_x: 0.06, lean_y: -0.03, ..straight.clone() };
        agree("a leaning pith", leg, &Wood::Timber(leaning), rings_by_cubes);
        let tapering = Timber { taper: 0.04, lean_x: 0.02, ..straight.clone() };
        agree("rings that taper", leg, &Wood::Timber(tapering), rings_by_cubes);
        // Where heartwood ends within the blank, it meets sapwood along part of some seam.
        let with_sap = Timber { sapwood_from: Some(58.0.into()), ..straight };
        let scanned = agree("sapwood", leg, &Wood::Timber(with_sap), rings_by_cubes);
        assert!(scanned.iter().any(|[_, same, carries_on]| *same < 0.9 && carries_on <= same), "{scanned:?}");
    }
}

/// The cubes round the seams, laid beside what the one piece's blank would show if it went on: over eight cubes each way
/// nothing differs, but on levels where a line passes within a cube.
fn looks_uninterrupted(leg: &InCubes, wood: &Wood, seams: [usize; 2]) {
    let stock = Stock::new(wood);
    let (_, all) = &leg.sizes[0];
    for number in seams {
        let mut differ = 0;
        let mut seen = 0;
        for touching in &all[number].touching {
            for (side, other) in [(0, 1), (1, 0)] {
                for cube in 0..8 {
                    seen += 1;
                    differ += i32::from(touching.row(&stock, side, -1 - cube) != touching.row(&stock, other, cube));
                }
            }
        }
        assert!(f64::from(differ) < 1e-3 * f64::from(seen), "seam {}: {differ} of {seen} cubes differ", number + 1);
    }
}

/// The demo projects, as they come.
#[test]
fn the_demo_projects_seams_are_those_of_the_cubes() {
    for demo in DEMOS {
        let project = demo.project().unwrap_or_else(|e| panic!("{}: {e}", demo.file_name));
        for design in &project.designs {
            let case = Case::of(demo.file_name, design);
            let by_cubes = match design.wood {
                Wood::Layers(_) => layers_by_cubes,
                Wood::Blocks(_) => blocks_by_cubes,
                Wood::Timber(_) => rings_by_cubes,
                // Photos have cubes of their own, see `photos`.
                Wood::Photos(_) => continue,
            };
            agree("demo", &InCubes::new(case), &design.wood, by_cubes);
        }
    }
}

/// Closed form: layers that lean by t toward x arrive at the far face W tan t nearer the top than at the near one, whatever
/// the saw line. Where they lean toward an azimuth c a straight line has jumps of W tan t cos c at seams 1 and 3 and of
/// D tan t sin c at seams 2 and 4; along a curved one the other slope comes in.
#[test]
fn leaning_layers_jump_by_w_times_the_tangent() {
    for (lean, toward) in [(30.0, 0.0), (30.0, 90.0), (-20.0, 180.0), (12.5, 40.0), (-45.0, 150.0), (50.0, 10.0)] {
        for case in [straight(FLAT), curved(FLAT)] {
            if case.name == "curved" && toward % 90.0 != 0.0 {
                continue;
            }
            let wood = layers(&[9.0, 6.0], lean, toward, 1.7);
            let [tangent, azimuth] = [f64::to_radians(lean).tan(), f64::to_radians(toward)];
            let [width, depth, length] = case.size_mm();
            for (cut, jump) in
                [(Cut::Second, width * tangent * azimuth.cos()), (Cut::First, depth * tangent * azimuth.sin())]
            {
                let [near, far] = seam_edges(&case.leg, &wood, cut);
                // Lines that arrive on both sides within the leg: the jump takes some off one end.
                let both: Vec<f64> = near.iter().map(|s| s - jump).filter(|s| (0.0..=length).contains(s)).collect();
                let seen: Vec<f64> = far.iter().copied().filter(|s| (0.0..=length).contains(&(s + jump))).collect();
                assert!(both.len() > 3, "{lean} {toward} {cut}: {near:?}");
                assert_eq!(both.len(), seen.len(), "{lean} {toward} {cut}: {both:?} {seen:?}");
                for (wanted, found) in both.iter().zip(&seen) {
                    assert!((wanted - found).abs() < 1e-6, "{lean} {toward} {cut}: {found} for {wanted}");
                }
            }
        }
    }
}
