//! The search itself: every value is tried by making the change and comparing the seams anew.

use cornerwise_geometry::Cut;
use cornerwise_wood::{SeamLimits, Wood, compare_pair, seam_effort};

use super::tries::{Try, Way, listed, smallest_first, thin_out, way};
use super::{ALL_ALONG, Changeable, OfPairs, Question, SeamFix, SeamFixes, WORTH_IT, Wanted, chosen, layers, why};
use crate::{Design, Edit};

/// How many looks at a seam a search may take, all its tries together: about a second of work. It is shared out before the
/// first try, so that the same question has the same answer on any machine.
const MOST_LOOKS: f64 = 2e7;

/// The order in which pairs are told of.
const PAIRS: [Cut; 2] = [Cut::Second, Cut::First];

/// What comparing a pair of seams says.
#[derive(Clone, Copy, Default)]
struct Look {
    shares: [f64; 3],
    /// The share along which no lines are seen, and of which nothing is known at all: of photos.
    unseen: f64,
    unknown: f64,
}

/// By how much less may be seen of lines, as a share of the seam, before a change counts as hiding them.
const HIDDEN: f64 = 0.05;

/// The best of one way for each question: its place among those tried, and the share it gives.
type Best = [Option<(usize, f64)>; 3];

pub(super) struct Search<'a> {
    design: &'a Design,
    wanted: &'a Wanted,
    limits: SeamLimits,
    stop: &'a dyn Fn() -> bool,
    now: [Look; 2],
    /// What is wanted and is not so yet, and can be looked into.
    open: OfPairs<bool>,
    /// How many values of one kind are tried for one pair at most.
    most_tries: usize,
    complete: bool,
    stopped: bool,
}

impl<'a> Search<'a> {
    pub fn new(design: &'a Design, wanted: &'a Wanted, limits: &SeamLimits, stop: &'a dyn Fn() -> bool) -> Search<'a> {
        let looks = design.leg().map_or(1.0, |leg| 0.5 * seam_effort(&leg, &design.wood)).max(1.0);
        // Of all kinds that there are, so that what is tried of one does not depend on which others may change.
        let kinds = Changeable::ALL.iter().filter(|kind| kind.applies_to(&design.wood)).count();
        let most_tries = (MOST_LOOKS / (looks * (2 * kinds.max(1)) as f64)).max(1.0) as usize;
        let limits = SeamLimits { most_places: 0, ..*limits };
        let nothing = [[false; 3]; 2];
        Search {
            design,
            wanted,
            limits,
            stop,
            now: Default::default(),
            open: nothing,
            most_tries,
            complete: true,
            stopped: false,
        }
    }

    pub fn run(mut self, may: &[Changeable]) -> SeamFixes {
        let mut why_none: OfPairs<Option<String>> = Default::default();
        for cut in Cut::ALL {
            let pair = cut.index();
            let now = self.look(self.design, cut).unwrap_or_default();
            self.now[pair] = now;
            for question in Question::ALL.into_iter().filter(|question| self.wanted.has(cut, *question)) {
                let answer = question.index();
                why_none[pair][answer] = match question {
                    _ if now.unknown >= 1.0 => why::unknown(self.design, cut),
                    Question::LinesMeet if now.unseen >= 1.0 => Some(why::NO_LINES.to_owned()),
                    _ => None,
                };
                self.open[pair][answer] = why_none[pair][answer].is_none() && now.shares[answer] < ALL_ALONG;
            }
        }
        let mut fixes = Vec::new();
        for kind in may.iter().filter(|kind| kind.applies_to(&self.design.wood)) {
            fixes.extend(self.kind(*kind));
        }
        let unreached = |fixes: &[SeamFix], open: &OfPairs<bool>, cut: Cut, question: Question| {
            let (pair, answer) = (cut.index(), question.index());
            open[pair][answer] && !fixes.iter().any(|fix| fix.reaches[pair][answer])
        };
        let left = asked().filter(|(cut, question)| unreached(&fixes, &self.open, *cut, *question));
        let left: Vec<(Cut, Question)> = left.collect();
        if !self.stopped && !left.is_empty() {
            // What may not change but would help is told by name.
            self.open = [[false; 3]; 2];
            for (cut, question) in &left {
                self.open[cut.index()][question.index()] = true;
            }
            let mut would = Vec::new();
            let others = Changeable::ALL.into_iter().filter(|kind| !may.contains(kind));
            for kind in others.filter(|kind| kind.applies_to(&self.design.wood)) {
                would.extend(self.kind(kind));
            }
            for (cut, question) in left.into_iter().filter(|_| !self.stopped) {
                let (pair, answer) = (cut.index(), question.index());
                let mut would: Vec<Changeable> =
                    would.iter().filter(|fix| fix.reaches[pair][answer]).map(|fix| fix.changes).collect();
                would.dedup();
                why_none[pair][answer] = Some(why::none(self.design, cut, question, &would));
            }
        }
        SeamFixes {
            now: self.now.map(|look| look.shares),
            lines_seen: self.now.map(|look| look.unseen < 1.0),
            fixes: chosen::few(fixes),
            why_none,
            complete: self.complete,
        }
    }

    /// What a change of one kind can do: for each way it can go the smallest that answers a question, for either pair and
    /// for both together.
    fn kind(&mut self, kind: Changeable) -> Vec<SeamFix> {
        let found = PAIRS.map(|cut| self.one_pair(cut, kind));
        let mut together = self.together(kind, &found);
        if let (Wood::Layers(layers), Changeable::Angle) = (&self.design.wood, kind)
            && self.open.iter().all(|pair| pair.contains(&true))
        {
            let tries = layers::both_angles(self.design, layers);
            together.extend(
                tries
                    .into_iter()
                    .filter_map(|one| self.fix(one))
                    .filter(|fix| Cut::ALL.iter().all(|cut| fix.helps(*cut))),
            );
        }
        found.into_iter().flatten().map(|(_, fix)| fix).chain(together).collect()
    }

    /// The smallest changes that answer a question of one pair, with their places in the list of what is tried.
    fn one_pair(&mut self, cut: Cut, kind: Changeable) -> Vec<(usize, SeamFix)> {
        let open = self.open[cut.index()];
        if !open.contains(&true) {
            return Vec::new();
        }
        let mut tries = smallest_first(self.design, cut, kind);
        if thin_out(&mut tries, self.most_tries) {
            self.complete = false;
        }
        let mut best: Vec<(Way, Best)> = Vec::new();
        for (index, (_, one)) in tries.iter().enumerate() {
            if (self.stop)() {
                (self.complete, self.stopped) = (false, true);
                break;
            }
            let way = way(one.changes, &one.steps);
            let known = best.iter().position(|(of, _)| *of == way).unwrap_or_else(|| {
                best.push((way, [None; 3]));
                best.len() - 1
            });
            let of_way = &mut best[known].1;
            if (0..3).all(|i| !open[i] || of_way[i].is_some_and(|(_, share)| share >= ALL_ALONG)) {
                continue;
            }
            let next = self.design.with_edit(&one.edit);
            let Some(after) = next.and_then(|next| self.look(&next, cut)) else { continue };
            for i in (0..3).filter(|i| open[*i]) {
                let most = of_way[i].map_or(0.0, |(_, share)| share);
                let share = after.shares[i];
                if most < ALL_ALONG && share > most + 1e-9 && is_reached(&self.now[cut.index()], &after, i) {
                    of_way[i] = Some((index, share));
                }
            }
        }
        let mut found: Vec<usize> =
            best.iter().flat_map(|(_, of_way)| of_way).flatten().map(|(index, _)| *index).collect();
        found.sort_unstable();
        found.dedup();
        found.into_iter().filter_map(|index| Some((tries[index].0, self.fix(tries[index].1.clone())?))).collect()
    }

    /// A change of each pair at once, where they do not change the same thing.
    fn together(&self, kind: Changeable, found: &[Vec<(usize, SeamFix)>; 2]) -> Vec<SeamFix> {
        let mut both = Vec::new();
        let [second, first] = found;
        // Three of each are nine of both: few beside the search, unless that had to be short.
        let few = (self.most_tries / 16).clamp(1, 3);
        let smallest = |found: &'_ [(usize, SeamFix)]| found.iter().take(few).cloned().collect::<Vec<_>>();
        for (_, one) in smallest(second) {
            let Some(half_done) = self.design.with_edit(&one.edit) else { continue };
            for (place, other) in smallest(first) {
                if (self.stop)() {
                    return both;
                }
                let apart = other.steps.iter().all(|step| one.steps.iter().all(|mine| mine.what != step.what));
                // The other half of the change, made to what the first half leaves.
                let again = listed(&half_done, Cut::First, kind).into_iter().nth(place);
                let Some(again) = again.filter(|again| apart && way(kind, &again.steps) == other.way()) else {
                    continue;
                };
                let edit = match again.edit {
                    whole @ Edit::SetWood { .. } => whole,
                    half => Edit::Together { design: self.design.id, edits: vec![one.edit.clone(), half] },
                };
                let steps = one.steps.iter().cloned().chain(again.steps).collect();
                let size_mm = one.size_mm.max(other.size_mm);
                both.extend(self.fix(Try { changes: kind, steps, edit, size_mm, sure: true }));
            }
        }
        both.retain(|fix| Cut::ALL.iter().all(|cut| fix.helps(*cut)));
        both
    }

    /// What comes of a change.
    fn fix(&self, one: Try) -> Option<SeamFix> {
        let next = self.design.with_edit(&one.edit)?;
        let mut after = [Look::default(); 2];
        for cut in Cut::ALL {
            after[cut.index()] = self.look(&next, cut)?;
        }
        let (mut reaches, mut reaches_all, mut loses) = ([[false; 3]; 2], true, false);
        for (cut, question) in asked().filter(|(cut, question)| self.wanted.has(*cut, *question)) {
            let (pair, answer) = (cut.index(), question.index());
            let (was, is) = (&self.now[pair], &after[pair]);
            let reached = is_reached(was, is, answer);
            reaches[pair][answer] = self.open[pair][answer] && reached;
            reaches_all &= is.shares[answer] >= ALL_ALONG || reached;
            loses |= was.shares[answer] >= ALL_ALONG && is.shares[answer] < WORTH_IT;
        }
        let lines_seen = after.map(|look| look.unseen < 1.0);
        let after = after.map(|look| look.shares);
        let Try { changes, steps, edit, size_mm, .. } = one;
        Some(SeamFix { changes, steps, edit, size_mm, after, lines_seen, reaches, reaches_all, loses })
    }

    /// The shares of a pair of seams over which the three answers are yes.
    fn look(&self, design: &Design, cut: Cut) -> Option<Look> {
        let answer = compare_pair(&design.leg().ok()?, &design.wood, cut, &self.limits);
        let shares = [answer.lines_meet, answer.same_wood, answer.pattern_carries_on];
        Some(Look { shares, unseen: answer.lines_unseen, unknown: answer.unknown })
    }
}

/// Both pairs, each with every question.
fn asked() -> impl Iterator<Item = (Cut, Question)> {
    PAIRS.into_iter().flat_map(|cut| Question::ALL.map(|question| (cut, question)))
}

/// Whether a change makes an answer yes that was not; not by bringing the seam where less is seen.
fn is_reached(was: &Look, is: &Look, answer: usize) -> bool {
    let hides = is.unseen > was.unseen + HIDDEN || is.unknown > was.unknown + HIDDEN;
    is.shares[answer] >= WORTH_IT && is.shares[answer] > was.shares[answer] + 1e-3 && !hides
}
