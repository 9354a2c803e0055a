//! Finding a command by words: which commands a search means, the likeliest first.

use crate::commands::Command;

/// The commands that hold every word of a search, the likeliest first; all of them, in the order of the list, for none.
pub fn found(search: &str) -> Vec<Command> {
    let words = words(search);
    let mut found: Vec<(u32, Command)> =
        Command::all().filter_map(|command| Some((how_far(command, &words)?, command))).collect();
    found.sort_by_key(|(far, _)| *far); // stable: equals stay in the order of the list
    found.into_iter().map(|(_, command)| command).collect()
}

/// Its words in small letters, without what stands between them.
fn words(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_lowercase).collect()
}

/// How far a command is from what the words say, each word counted where it fits best; nothing where one fits nowhere.
fn how_far(command: Command, search: &[String]) -> Option<u32> {
    let [label, does, about] = [command.label(), command.does(), command.group().word()].map(words);
    if search == label {
        return Some(0);
    }
    search.iter().try_fold(0, |far, word| {
        let starts = |with: &String| with.starts_with(word.as_str());
        let step = if label.first().is_some_and(starts) {
            1
        } else if label.iter().any(starts) {
            2
        } else if does.iter().any(starts) || about.iter().any(starts) {
            4
        } else if label.iter().any(|with| with.contains(word.as_str())) {
            6
        } else {
            return None;
        };
        Some(far + step)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_command_is_found_first_by_its_own_name() {
        for command in Command::all() {
            assert_eq!(found(command.label()).first(), Some(&command));
            assert!(found(command.does()).contains(&command), "{command:?} is not found by what it does");
            assert!(found("").contains(&command));
        }
    }

    #[test]
    fn a_few_letters_or_another_word_for_it_are_enough() {
        assert_eq!(found("und").first(), Some(&Command::Undo));
        assert_eq!(found("stretched").first(), Some(&Command::TrueShape));
        assert_eq!(found("pdf paper").first(), Some(&Command::SavePaper));
        assert_eq!(found("PAPER pdf").first(), Some(&Command::SavePaper));
        assert!(found("zoom").starts_with(&[Command::ZoomIn, Command::ZoomOut]));
        assert!(found("no such thing").is_empty());
    }
}
