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

/// The first bracket that is one too many; brackets in texts, raw texts, single letters in quotes and
/// comments do not count.
pub(super) fn trouble(text: &str) -> Option<(Place, Trouble)> {
    let (mut depth, mut count) = (0_usize, 0_usize);
    let mut chars = text.char_indices().peekable();
    let mut before = ' ';
    while let Some((at, c)) = chars.next() {
        let (rest, in_a_name) = (&text[at..], before.is_alphanumeric() || before == '_');
        before = c;
        // Past the b of bytes: b"…", br"…" and b'…' are read like the others.
        if c == 'b' && !in_a_name && rest.get(1..).is_some_and(|next| next.starts_with(['r', '"', '\''])) {
            before = ' ';
            continue;
        }
        let skipped = match c {
            'r' if !in_a_name => raw_text(rest),
            '\'' => letter(rest),
            _ => None,
        };
        if let Some(length) = skipped {
            while chars.next_if(|(next, _)| *next < at + length).is_some() {}
            continue;
        }
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

/// How long the raw text is that starts here, bytes: `r"…"`, `r#"…"#`. One without an end takes all that is left; the
/// parser says so.
fn raw_text(rest: &str) -> Option<usize> {
    let hashes = rest.bytes().skip(1).take_while(|b| *b == b'#').count();
    let inside = 1 + hashes + 1;
    if rest.as_bytes().get(inside - 1) != Some(&b'"') {
        return None;
    }
    let close = format!("\"{}", "#".repeat(hashes));
    let end = rest[inside..].find(&close);
    Some(end.map_or(rest.len(), |end| inside + end + close.len()))
}

/// How long the letter in single quotes is that starts here, bytes: `'x'`, `'\''`, `'\u{41}'`. What is none is not
/// skipped, so that a stray quote hides no bracket.
fn letter(rest: &str) -> Option<usize> {
    const LONGEST_ESCAPE: usize = 10; // \u{10FFFF}
    let mut chars = rest.char_indices().skip(1);
    let (_, first) = chars.next()?;
    if first == '\\' {
        chars.next()?;
    }
    let most = if first == '\\' { LONGEST_ESCAPE } else { 1 };
    chars.take(most).find(|(_, c)| *c == '\'').map(|(at, _)| at + 1)
}

fn place_of(at: usize, text: &str) -> Place {
    let before = &text[..at];
    let line = 1 + before.matches('\n').count();
    let column = 1 + before.chars().rev().take_while(|c| *c != '\n').count();
    Place { line, column }
}
