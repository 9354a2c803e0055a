//! The letters on paper, and how long a line of them is.
//!
//! Text is set letter by letter at the font's own widths, without kerning, so that every writer and every measurement
//! agree exactly.

use std::sync::OnceLock;

/// The typefaces on paper: DejaVu, which has the signs a maker needs and may be embedded.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Typeface {
    /// DejaVu Sans.
    #[default]
    Sans,
    /// DejaVu Sans Bold.
    SansBold,
    /// DejaVu Sans Condensed.
    Condensed,
    /// DejaVu Sans Condensed Bold.
    CondensedBold,
}

/// Height of DejaVu's capitals as a share of the size a font is named by (1493 of 2048 units).
const CAPITALS: f64 = 1493.0 / 2048.0;

impl Typeface {
    /// Every typeface.
    pub const ALL: [Typeface; 4] = [Typeface::Sans, Typeface::SansBold, Typeface::Condensed, Typeface::CondensedBold];

    /// Its place in an array.
    pub fn index(self) -> usize {
        self as usize
    }

    /// The font file, TrueType.
    pub fn bytes(self) -> &'static [u8] {
        match self {
            Typeface::Sans => dejavu::sans::regular(),
            Typeface::SansBold => dejavu::sans::bold(),
            Typeface::Condensed => dejavu::sans_condensed::regular(),
            Typeface::CondensedBold => dejavu::sans_condensed::bold(),
        }
    }

    /// The size that the font is set at, for capitals of a height; both mm.
    pub fn size_mm(self, cap_mm: f64) -> f64 {
        cap_mm / CAPITALS
    }

    /// Length of a line of text, mm, its capitals `cap_mm` high.
    pub fn width_mm(self, text: &str, cap_mm: f64) -> f64 {
        self.size_mm(cap_mm) * text.chars().map(|c| self.letter(c).advance).sum::<f64>()
    }

    /// One letter. What the font lacks is its empty box; what cannot be printed is a space.
    pub fn letter(self, c: char) -> Letter {
        let c = if c.is_control() { ' ' } else { c };
        let tables = self.tables();
        let glyph = tables.glyph(c).unwrap_or(0);
        Letter { glyph, advance: tables.advance(glyph).unwrap_or(0.5) }
    }

    /// Breaks text into lines no longer than `width_mm`, at spaces. A single longer word has a line to itself.
    pub fn wrapped(self, text: &str, cap_mm: f64, width_mm: f64) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        for word in text.split_whitespace() {
            match lines.last_mut() {
                Some(line) if self.width_mm(&format!("{line} {word}"), cap_mm) <= width_mm => {
                    line.push(' ');
                    line.push_str(word);
                }
                _ => lines.push(word.to_owned()),
            }
        }
        lines
    }

    fn tables(self) -> &'static Tables {
        static TABLES: [OnceLock<Tables>; 4] = [const { OnceLock::new() }; 4];
        TABLES[self.index()].get_or_init(|| Tables::read(self.bytes()).unwrap_or_default())
    }
}

/// A letter of a typeface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Letter {
    /// Its number in the font.
    pub glyph: u16,
    /// How far it moves the next letter, as a share of the font's size.
    pub advance: f64,
}

/// The tables of a TrueType file that set a line of text: which glyph a character is, and how wide each is.
#[derive(Default)]
struct Tables {
    units_per_em: f64,
    wide_glyphs: usize,
    widths: &'static [u8],
    segments: &'static [u8],
}

impl Tables {
    fn read(font: &'static [u8]) -> Option<Tables> {
        let table = |tag: &[u8; 4]| {
            let count = usize::from(u16_at(font, 4)?);
            let entry = (0..count).map(|i| 12 + 16 * i).find(|at| font.get(*at..*at + 4) == Some(tag.as_slice()))?;
            font.get(u32_at(font, entry + 8)?..)
        };
        let cmap = table(b"cmap")?;
        // The Unicode subtable of format 4 holds every character below 65,536, which is all that paper needs.
        let subtable = (0..usize::from(u16_at(cmap, 2)?))
            .filter_map(|i| cmap.get(u32_at(cmap, 8 + 8 * i)?..))
            .find(|subtable| u16_at(subtable, 0) == Some(4))?;
        Some(Tables {
            units_per_em: f64::from(u16_at(table(b"head")?, 18)?),
            wide_glyphs: usize::from(u16_at(table(b"hhea")?, 34)?),
            widths: table(b"hmtx")?,
            segments: subtable,
        })
    }

    fn glyph(&self, c: char) -> Option<u16> {
        let code = u16::try_from(u32::from(c)).ok()?;
        let twice = usize::from(u16_at(self.segments, 6)?);
        let (mut low, mut high) = (0, twice / 2);
        while low < high {
            let middle = usize::midpoint(low, high);
            if u16_at(self.segments, 14 + 2 * middle)? < code { low = middle + 1 } else { high = middle }
        }
        let start = u16_at(self.segments, 16 + twice + 2 * low)?;
        if code < start {
            return None;
        }
        let delta = u16_at(self.segments, 16 + 2 * twice + 2 * low)?;
        let range_at = 16 + 3 * twice + 2 * low;
        match usize::from(u16_at(self.segments, range_at)?) {
            0 => Some(code.wrapping_add(delta)),
            range => match u16_at(self.segments, range_at + range + 2 * usize::from(code - start))? {
                0 => None,
                glyph => Some(glyph.wrapping_add(delta)),
            },
        }
    }

    fn advance(&self, glyph: u16) -> Option<f64> {
        let row = usize::from(glyph).min(self.wide_glyphs.checked_sub(1)?);
        Some(f64::from(u16_at(self.widths, 4 * row)?) / self.units_per_em)
    }
}

fn u16_at(bytes: &[u8], at: usize) -> Option<u16> {
    Some(u16::from_be_bytes(bytes.get(at..at + 2)?.try_into().ok()?))
}

fn u32_at(bytes: &[u8], at: usize) -> Option<usize> {
    usize::try_from(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?)).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_are_as_wide_as_the_font_says() {
        // DejaVu Sans 2.37, advance widths in units of 1/2048 of the size: from memory of its metrics.
        for (c, units) in [('A', 1401.0), (' ', 651.0), ('0', 1303.0), ('9', 1303.0)] {
            assert!((Typeface::Sans.letter(c).advance - units / 2048.0).abs() < 1e-12, "{c}");
        }
    }

    #[test]
    fn every_typeface_has_the_signs_that_paper_uses() {
        for typeface in Typeface::ALL {
            for c in "AZaz09 .,:;%°·×–—…½¼¾″′→←↑↓✂▶◀△⌀≤≥Ø√\"()[]/+-&éüßñŁЖΩ".chars()
            {
                assert_ne!(typeface.letter(c).glyph, 0, "{typeface:?} lacks {c}");
            }
        }
    }

    #[test]
    fn what_the_font_lacks_is_a_box_and_does_not_panic() {
        assert_eq!(Typeface::Sans.letter('\u{1F600}').glyph, 0);
        assert!(Typeface::Sans.width_mm("名\u{0}前", 3.0) > 0.0);
    }

    #[test]
    fn wrapped_lines_fit_and_keep_every_word() {
        let text = "Close the blank up again and tape it clear of the second line";
        let lines = Typeface::Condensed.wrapped(text, 2.5, 40.0);
        assert!(lines.len() > 1);
        assert!(lines.iter().all(|line| Typeface::Condensed.width_mm(line, 2.5) <= 40.0));
        assert_eq!(lines.join(" "), text);
    }
}
