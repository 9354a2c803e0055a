//! How deep the brackets of a text lie in one another and how many there are, in one quick pass before it is parsed.
//!
//! The parser has a limit of its own for the depth, but takes 18 µs to fail on each bracket beyond it: a minute for a
//! full-size file. A full-size file of points takes it seconds, only for them to be too many.

use super::{DEEPEST, MOST_BRACKETS};

/// Why brackets are too many.
pub(super) enum Trouble {
    /// One lies in more than [`DEEPEST`] others.
    TooDeep,
    /// There are more than [`MOST_BRACKETS`].
    TooMany,
}

/// A place in a text, from 1; columns count characters.
pub(super) struct Place {
    pub line: usize,
    pub column: usize,
}

/// The first bracket that is one too many; brackets in texts and comments do not count.
pub(super) fn trouble(text: &str) -> Option<(Place, Trouble)> {
    let (mut depth, mut count) = (0_usize, 0_usize);
    let mut chars = text.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        match c {
            '(' | '[' | '{' => {
                (depth, count) = (depth + 1, count + 1);
                if depth > DEEPEST {
                    return Some((place_of(at, text), Trouble::TooDeep));
                }
                if count > MOST_BRACKETS {
                    return Some((place_of(at, text), Trouble::TooMany));
                }
            }
            ')' | ']' | '}' => depth = depth.saturating_sub(1),
            '"' => {
                while let Some((_, c)) = chars.next() {
                    match c {
                        '\\' => drop(chars.next()),
                        '"' => break,
                        _ => {}
                    }
                }
            }
            '/' if chars.next_if(|(_, next)| *next == '/').is_some() => {
                for (_, c) in chars.by_ref() {
                    if c == '\n' {
                        break;
                    }
                }
            }
            '/' if chars.next_if(|(_, next)| *next == '*').is_some() => {
                let mut open = 1_usize;
                while open > 0
                    && let Some((_, c)) = chars.next()
                {
                    if c == '*' && chars.next_if(|(_, next)| *next == '/').is_some() {
                        open -= 1;
                    } else if c == '/' && chars.next_if(|(_, next)| *next == '*').is_some() {
                        open += 1;
                    }
                }
            }
            _ => {}
        }
    }
    None
}

fn place_of(at: usize, text: &str) -> Place {
    let before = &text[..at];
    let line = 1 + before.matches('\n').count();
    let column = 1 + before.chars().rev().take_while(|c| *c != '\n').count();
    Place { line, column }
}
