//! The letters: DejaVu, on screen as on paper, so that strokes, primes and fractions look the same on every machine.

use std::sync::Arc;

use cornerwise_export::sheets::Typeface;
use egui::{Context, FontData, FontDefinitions, FontFamily};

/// The family of headings.
pub const BOLD: &str = "bold";

/// The family of a typeface on paper.
pub fn paper(typeface: Typeface) -> FontFamily {
    match typeface {
        Typeface::Sans => FontFamily::Name("paper".into()),
        Typeface::SansBold => FontFamily::Name("paper bold".into()),
        Typeface::Condensed => FontFamily::Proportional,
        Typeface::CondensedBold => FontFamily::Name(BOLD.into()),
    }
}

/// Puts DejaVu before egui's own letters, which follow for what it lacks.
pub fn install(ctx: &Context) {
    let mut fonts = FontDefinitions::default();
    let fallback = fonts.families.get(&FontFamily::Proportional).cloned().unwrap_or_default();
    for typeface in Typeface::ALL {
        let name = format!("{typeface:?}");
        fonts.font_data.insert(name.clone(), Arc::new(FontData::from_static(typeface.bytes())));
        let names = std::iter::once(name).chain(fallback.iter().cloned()).collect();
        fonts.families.insert(paper(typeface), names);
    }
    ctx.set_fonts(fonts);
}
