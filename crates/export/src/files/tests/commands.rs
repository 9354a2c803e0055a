//! Thousands of random editing commands, undo and redo mixed in, held against the files that they make.

use super::any;
use super::any_edit::{How, deed, edit};
use crate::files::write_text;
use cornerwise_geometry::Cut;
use cornerwise_project::{Edit, History, Project};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use std::collections::BTreeMap;

/// So many commands are run: edits, gestures, their ends, undo and redo.
const COMMANDS: usize = 8_000;

/// So many of them before everything is taken back and another project is begun with.
const IN_A_ROW: usize = 160;

/// What came of them.
#[derive(Debug, Default)]
struct Ran {
    commands: usize,
    changed: usize,
    refused: usize,
    undone: usize,
    redone: usize,
    /// For each kind of edit, how often it was asked for and how often it was taken.
    kinds: BTreeMap<String, [usize; 2]>,
}

/// The name of the kind of an edit.
fn kind(edit: &Edit) -> String {
    let text = format!("{edit:?}");
    text.split(|c: char| !c.is_alphanumeric()).next().unwrap_or_default().to_owned()
}

/// The names of all kinds of edits, as they stand where they are declared.
fn all_kinds() -> Vec<String> {
    let source = include_str!("../../../../project/src/edit.rs");
    let (_, body) = source.split_once("pub enum Edit {").expect("the list of edits");
    let (body, _) = body.split_once("\n}").expect("its end");
    let names = body.lines().filter_map(|line| {
        let name = line.strip_prefix("    ").filter(|line| line.starts_with(|c: char| c.is_ascii_uppercase()))?;
        Some(name.trim_end_matches([',', '{', ' ']).split('(').next().unwrap_or_default().to_owned())
    });
    names.collect()
}

fn one<T: std::fmt::Debug>(strategy: &impl Strategy<Value = T>, runner: &mut TestRunner) -> T {
    strategy.new_tree(runner).expect("a value").current()
}

/// Every line runs from the top to the foot without a gap, and no control polygon runs back.
fn assert_monotone(project: &Project) {
    for design in &project.designs {
        let leg = design.leg().expect("a leg");
        for cut in Cut::ALL {
            let chain = leg.line(cut).segments();
            for cubic in chain {
                let s = [cubic.p0.x, cubic.p1.x, cubic.p2.x, cubic.p3.x];
                // Handles shortened until they meet may overlap by the last bits.
                assert!(s.windows(2).all(|pair| pair[1] - pair[0] > -1e-9) && s[3] > s[0], "{cubic:?}");
            }
            let gap = |pair: &[kurbo::CubicBez]| (pair[0].p3 - pair[1].p0).hypot();
            assert!(chain.windows(2).map(gap).all(|mm| mm < 1e-9), "{cut} of {}", design.name);
            let ends = [chain[0].p0.x, chain[chain.len() - 1].p3.x];
            // A length taken from another one may be off by the last bits, here as between segments.
            assert!(
                ends[0] <= 1e-9 && ends[1] >= leg.length_mm - 1e-9,
                "{cut} of {}: {ends:?} of {}, {:?}",
                design.name,
                leg.length_mm,
                design.line(cut)
            );
        }
    }
}

/// Runs a row of commands from a project, and takes them all back.
fn run(first: &Project, runner: &mut TestRunner, ran: &mut Ran) {
    let deeds = deed();
    let bytes = write_text(first).expect("written");
    let mut history = History::new(first.clone());
    for _ in 0..IN_A_ROW {
        let deed = one(&deeds, runner);
        let asked = edit(history.at_rest(), &deed);
        let before = history.current().clone();
        let done = match deed.how {
            How::Step => Some(history.apply(&asked).map(|_| ())),
            How::Drag => Some(history.replace_drag(&asked)),
            How::Commit => (history.commit_drag(), None).1,
            How::Drop => (history.drop_drag(), None).1,
            // Several at once, as they come.
            How::Undo => {
                ran.undone += (0..=deed.place / 3).filter(|_| history.undo()).count();
                None
            }
            How::Redo => {
                ran.redone += (0..=deed.place / 3).filter(|_| history.redo()).count();
                None
            }
        };
        ran.commands += 1;
        if let Some(done) = done {
            let [asked_for, taken] = ran.kinds.entry(kind(&asked)).or_default();
            *asked_for += 1;
            *taken += usize::from(done.is_ok());
            ran.changed += usize::from(*history.current() != before);
            if done.is_err() {
                ran.refused += 1;
                assert_eq!(*history.current(), before, "what is refused changes nothing");
            }
        }
        assert_eq!(history.current().check(), Ok(()));
        assert_monotone(history.current());
    }
    history.commit_drag();
    let last = write_text(history.current()).expect("written");
    let mut back = 0;
    while history.undo() {
        back += 1;
    }
    assert_eq!(bytes, write_text(history.current()).expect("written"), "undone all the way, the first bytes");
    assert!(!history.is_dirty());
    (0..back).for_each(|_| assert!(history.redo()));
    assert_eq!(last, write_text(history.current()).expect("written"), "and redone, the last");
}

#[test]
fn thousands_of_random_commands_leave_every_project_sound_and_undo_restores_the_first_bytes() {
    let mut runner = TestRunner::deterministic();
    let projects = any::project();
    let mut ran = Ran::default();
    // More of them when wanted, for a longer look: CORNERWISE_RANDOM_COMMANDS=160000.
    let asked = std::env::var("CORNERWISE_RANDOM_COMMANDS").ok().and_then(|text| text.parse().ok());
    let most = asked.map_or(COMMANDS, |asked: usize| asked.max(COMMANDS));
    while ran.commands < most {
        run(&one(&projects, &mut runner), &mut runner, &mut ran);
    }
    let Ran { commands, changed, refused, undone, redone, .. } = ran;
    println!(
        "{commands} commands: {changed} changed the project, {refused} were refused, {undone} undone, {redone} redone"
    );
    assert!(commands >= COMMANDS && undone > COMMANDS / 10 && redone > COMMANDS / 100, "{ran:?}");
    assert!(changed > COMMANDS / 4, "most of what makers ask for is taken: {ran:?}");
    let kinds = all_kinds();
    assert!(kinds.len() > 45, "{kinds:?}");
    let never: Vec<_> = kinds.iter().filter(|kind| ran.kinds.get(*kind).is_none_or(|[_, taken]| *taken == 0)).collect();
    assert!(never.is_empty(), "no random command came to be {never:?}: any_edit.rs should give some");
}
