//! What a change of the wood is called: by what is another afterwards.

use crate::Design;
use cornerwise_wood::{Blocks, LayerGrain, Layers, Timber, Wood};

/// So many things that changed are named one by one.
const MOST_NAMED: usize = 3;

/// What making the blank of `after` is called.
pub(crate) fn label(before: Option<&Design>, after: &Wood) -> String {
    let words = match (before.map(|design| &design.wood), after) {
        (Some(Wood::Timber(was)), Wood::Timber(is)) => change(&timber(was, is), "the timber"),
        (Some(Wood::Layers(was)), Wood::Layers(is)) => layers(was, is),
        (Some(Wood::Blocks(was)), Wood::Blocks(is)) => blocks(before, was, is),
        (_, Wood::Timber(_)) => "Make the blank of timber".to_owned(),
        (_, Wood::Layers(is)) if is.grain == LayerGrain::Alternating => "Make the blank of plywood".to_owned(),
        (_, Wood::Layers(_)) => "Make the blank of layers".to_owned(),
        (_, Wood::Blocks(_)) => "Make the blank of blocks".to_owned(),
        (_, Wood::Photos(_)) => "Take photos of the blank".to_owned(),
    };
    if words.is_empty() { "Change the wood".to_owned() } else { words }
}

/// "Change the ring width and the rings' taper"; the whole, where there is too much of it.
fn change(names: &[String], whole: &str) -> String {
    match names.split_last() {
        None => String::new(),
        Some(_) if names.len() > MOST_NAMED => format!("Change {whole}"),
        Some((last, [])) => format!("Change {last}"),
        Some((last, others)) => format!("Change {} and {last}", others.join(", ")),
    }
}

/// The names of those that changed.
fn changed(all: &[(bool, &str)]) -> Vec<String> {
    all.iter().filter(|(changed, _)| *changed).map(|(_, name)| (*name).to_owned()).collect()
}

fn timber(was: &Timber, is: &Timber) -> Vec<String> {
    changed(&[
        (was.species != is.species, "the kind of timber"),
        (was.pith_x != is.pith_x || was.pith_y != is.pith_y, "the pith's place"),
        (was.ring_width != is.ring_width, "the ring width"),
        (was.variation != is.variation, "the rings' variation"),
        (was.wobble != is.wobble, "the rings' wobble"),
        (was.taper != is.taper, "the rings' taper"),
        (was.lean_x != is.lean_x, "the pith's lean across"),
        (was.lean_y != is.lean_y, "the pith's lean deep"),
        (was.late_share != is.late_share, "the late wood"),
        (was.sapwood_from != is.sapwood_from, "the sapwood"),
    ])
}

fn layers(was: &Layers, is: &Layers) -> String {
    if was.grain != is.grain && was.layers != is.layers && is.grain == LayerGrain::Alternating {
        return "Make it plywood".to_owned();
    }
    let count = (was.layers.len(), is.layers.len());
    let mut names: Vec<String> = if count.0 == count.1 {
        let pairs = was.layers.iter().zip(&is.layers).enumerate();
        pairs.filter(|(_, (was, is))| was != is).map(|(i, _)| format!("layer {}", i + 1)).collect()
    } else {
        vec!["the list of layers".to_owned()]
    };
    names.extend(changed(&[
        (was.lean_deg != is.lean_deg, "the layers' lean"),
        (was.toward_deg != is.toward_deg, "the way the layers lean"),
        (was.shift != is.shift, "the layers' shift"),
        (was.order != is.order, "the layers' order"),
        (was.grain != is.grain, "the layers' grain"),
    ]));
    change(&names, "the layers")
}

fn blocks(before: Option<&Design>, was: &Blocks, is: &Blocks) -> String {
    let lists = |blocks: &Blocks| [blocks.widths.len(), blocks.depths.len(), blocks.columns.len()];
    let spelled_out = |design: &Design| {
        let blank = &design.blank;
        was.spelled_out([blank.width.mm(), blank.depth.mm()], blank.length.mm()) == *is
    };
    if before.is_some_and(spelled_out) {
        return "List every block by itself".to_owned();
    }
    if lists(was) != lists(is) {
        return "Lay another pattern of blocks".to_owned();
    }
    let mut names = Vec::new();
    for (was, is, what) in [(&was.widths, &is.widths, "width"), (&was.depths, &is.depths, "depth")] {
        let pairs = was.iter().zip(is).enumerate();
        names.extend(pairs.filter(|(_, (was, is))| was != is).map(|(i, _)| format!("the {what} of column {}", i + 1)));
    }
    names.extend(changed(&[
        (was.shift_across != is.shift_across, "the columns' shift across"),
        (was.shift_deep != is.shift_deep, "the columns' shift deep"),
        (was.rise_across != is.rise_across, "the columns' rise across"),
        (was.rise_deep != is.rise_deep, "the columns' rise deep"),
    ]));
    for (i, (was, is)) in was.columns.iter().zip(&is.columns).enumerate() {
        let number = i + 1;
        if was.shift != is.shift {
            names.push(format!("the shift of column {number}"));
        }
        let grown = is.blocks.len() as i64 - was.blocks.len() as i64;
        if names.is_empty() && was.shift == is.shift && was_only_here(&was.blocks, &is.blocks, grown) {
            let words = if grown > 0 { "Add a block to" } else { "Take a block out of" };
            return format!("{words} column {number}");
        }
        if grown != 0 {
            names.push(format!("the blocks of column {number}"));
            continue;
        }
        for (block, (was, is)) in was.blocks.iter().zip(&is.blocks).enumerate() {
            let of = format!("block {} of column {number}", block + 1);
            match (was.height != is.height, was.species != is.species) {
                (true, false) => names.push(format!("the height of {of}")),
                (_, true) => names.push(of),
                (false, false) => {}
            }
        }
    }
    change(&names, "the blocks")
}

/// Whether a list has one more, or one less, and is else as it was.
fn was_only_here<T: PartialEq>(was: &[T], is: &[T], grown: i64) -> bool {
    let (short, long) = match grown {
        1 => (was, is),
        -1 => (is, was),
        _ => return false,
    };
    let same = short.iter().zip(long).take_while(|(a, b)| a == b).count();
    short[same..] == long[same + 1..]
}
