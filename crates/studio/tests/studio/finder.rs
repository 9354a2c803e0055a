//! The command finder and the menus.

use cornerwise_studio::commands::Command;
use cornerwise_studio::view::Place;
use egui::accesskit::{Role, Toggled};
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::bench::{Bench, points, studio};

fn search(bench: &mut Bench, words: &str) {
    bench.key_press_modifiers(Modifiers::COMMAND, Key::K);
    bench.run();
    bench.get_by_role_and_label(Role::TextInput, "find a command").type_text(words);
    bench.run();
}

#[test]
fn every_command_can_be_reached_in_the_finder_by_its_name() {
    let mut bench = studio(points());
    for command in Command::all() {
        search(&mut bench, command.label());
        let rows: Vec<_> = bench
            .get_all_by_role(Role::ListBoxOption)
            .map(|row| row.accesskit_node().label().unwrap_or_default())
            .collect();
        let name = command.label().trim_end_matches('…');
        assert!(rows.first().is_some_and(|row| row.starts_with(name)), "{command:?}: {rows:?}");
        let keys = command.keys_in_words(&bench.ctx);
        assert!(rows[0].contains(&keys) && !keys.is_empty() || command.shortcuts().is_empty(), "{}", rows[0]);
        bench.key_press(Key::Escape);
        bench.run();
        assert!(bench.query_by_role_and_label(Role::TextInput, "find a command").is_none());
    }
}

#[test]
fn letters_arrows_and_enter_do_a_command() {
    let mut bench = studio(points());
    search(&mut bench, "pap");
    bench.key_press(Key::Enter);
    bench.run();
    assert_eq!(bench.state().view().place, Place::Paper);
    search(&mut bench, "place");
    let chosen = |bench: &Bench| {
        let rows = bench.get_all_by_role(Role::ListBoxOption);
        rows.filter(|row| row.accesskit_node().toggled() == Some(Toggled::True))
            .map(|row| row.accesskit_node().label().unwrap())
            .next()
            .unwrap()
    };
    let first = chosen(&bench);
    bench.key_press(Key::ArrowDown);
    bench.run();
    assert_ne!(first, chosen(&bench));
    bench.key_press(Key::ArrowUp);
    bench.run();
    assert_eq!(first, chosen(&bench));
    bench.key_press(Key::Enter);
    bench.run();
    assert_eq!(bench.state().view().place, Place::Shape);
    assert!(bench.query_by_role_and_label(Role::TextInput, "find a command").is_none());
}

#[test]
fn what_cannot_be_done_now_says_why_and_is_not_done() {
    let mut bench = studio(points());
    search(&mut bench, "delete point");
    assert!(bench.query_by_label_contains("no point of a saw line is chosen").is_some());
    let revision = bench.state().history().revision();
    bench.key_press(Key::Enter);
    bench.run();
    assert_eq!(revision, bench.state().history().revision());
    assert!(bench.query_by_role_and_label(Role::TextInput, "find a command").is_some(), "it stays to be read");
    bench.key_press(Key::Escape);
    bench.run();
    bench.get_by_label("first cut, point 2").click();
    bench.run();
    search(&mut bench, "delete point");
    bench.key_press(Key::Enter);
    bench.run();
    assert_ne!(revision, bench.state().history().revision());
}

#[test]
fn a_click_beside_it_puts_the_finder_away_and_one_on_a_row_does_it() {
    let mut bench = studio(points());
    search(&mut bench, "sides");
    let row = bench.get_all_by_role(Role::ListBoxOption).next().unwrap().rect().center();
    for at in [row, egui::pos2(20.0, 500.0)] {
        crate::bench::press(&mut bench, at);
        crate::bench::release(&mut bench, at);
        bench.run();
        assert!(bench.query_by_role_and_label(Role::TextInput, "find a command").is_none());
        assert!(bench.state().view().sides.open);
        search(&mut bench, "");
    }
}

#[test]
fn every_command_stands_in_a_menu_with_its_keys() {
    let mut bench = studio(points());
    let mut seen = Vec::new();
    for menu in ["file menu", "edit menu", "draw menu", "view menu"] {
        bench.get_by_label(menu).click();
        bench.run();
        for command in Command::all() {
            let found = bench.get_all_by_role(Role::Button).any(|button| {
                button.accesskit_node().label().is_some_and(|label| {
                    label.starts_with(command.label()) && label.ends_with(&command.keys_in_words(&bench.ctx))
                })
            });
            if found {
                seen.push(command);
            }
        }
        bench.key_press(Key::Escape);
        bench.run();
    }
    for command in Command::all() {
        assert!(seen.contains(&command), "{command:?}");
    }
}
