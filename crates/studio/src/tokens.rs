//! What things look like: colours, strokes, text and spacing, in light and in dark. No other file names a colour.
//!
//! Paper and graphite; wood is the only thing with strong colour. The two cuts differ in dash as well as in hue: blue and
//! orange are told apart with every common kind of colour vision.

use cornerwise_geometry::Cut;
use egui::{
    Color32, Context, CornerRadius, FontFamily, FontId, Margin, Shadow, Stroke, Style, TextStyle, Theme, Visuals, vec2,
};

/// Colours of one theme.
#[derive(Clone, Copy, Debug)]
pub struct Tokens {
    /// What lies behind everything: bars and row heads.
    pub ground: Color32,
    /// What is drawn on: canvases and fields.
    pub sheet: Color32,
    /// What pages lie on.
    pub desk: Color32,
    /// Paper as it comes out of a printer; white in both themes, so that a page looks like a page.
    pub page: Color32,
    /// Printing ink.
    pub print: Color32,
    /// Text and firm lines.
    pub ink: Color32,
    /// Second text: captions, ticks, units.
    pub soft: Color32,
    /// Lines that only part one thing from another.
    pub hair: Color32,
    /// Outlines of fields and buttons.
    pub edge: Color32,
    /// Buttons at rest.
    pub raised: Color32,
    /// Buttons under the pointer.
    pub raised_more: Color32,
    /// Behind what is chosen.
    pub chosen: Color32,
    /// Text on what is chosen.
    pub on_chosen: Color32,
    /// The first cut.
    pub first: Color32,
    /// The second cut.
    pub second: Color32,
    /// Words about something wrong.
    pub wrong: Color32,
    /// Behind a notice.
    pub notice: Color32,
    /// Under a line, so that it reads on any wood.
    pub halo: Color32,
    /// A lamp's shade: cloth or paper that the lamp shines through.
    pub cloth: Color32,
}

const LIGHT: Tokens = Tokens {
    ground: Color32::from_rgb(0xEC, 0xE9, 0xE2),
    sheet: Color32::from_rgb(0xFA, 0xF8, 0xF3),
    desk: Color32::from_rgb(0xE0, 0xDC, 0xD3),
    page: Color32::WHITE,
    print: Color32::from_rgb(0x16, 0x16, 0x16),
    ink: Color32::from_rgb(0x26, 0x29, 0x2C),
    soft: Color32::from_rgb(0x5A, 0x5D, 0x60),
    hair: Color32::from_rgb(0xD3, 0xCF, 0xC5),
    edge: Color32::from_rgb(0xA3, 0x9F, 0x95),
    raised: Color32::from_rgb(0xF6, 0xF4, 0xEE),
    raised_more: Color32::WHITE,
    chosen: Color32::from_rgb(0x3C, 0x42, 0x47),
    on_chosen: Color32::from_rgb(0xFB, 0xFA, 0xF7),
    first: Color32::from_rgb(0x0F, 0x57, 0xA3),
    second: Color32::from_rgb(0xA8, 0x42, 0x08),
    wrong: Color32::from_rgb(0x94, 0x1F, 0x1F),
    notice: Color32::from_rgb(0xF5, 0xE9, 0xC8),
    halo: Color32::from_rgba_premultiplied(0xC8, 0xC6, 0xC2, 0xCC),
    cloth: Color32::from_rgb(0xF3, 0xEC, 0xDA),
};

const DARK: Tokens = Tokens {
    ground: Color32::from_rgb(0x2A, 0x2D, 0x30),
    sheet: Color32::from_rgb(0x1F, 0x22, 0x24),
    desk: Color32::from_rgb(0x1A, 0x1C, 0x1E),
    page: Color32::WHITE,
    print: Color32::from_rgb(0x16, 0x16, 0x16),
    ink: Color32::from_rgb(0xEA, 0xE6, 0xDC),
    soft: Color32::from_rgb(0xB2, 0xAF, 0xA6),
    hair: Color32::from_rgb(0x3F, 0x43, 0x47),
    edge: Color32::from_rgb(0x6C, 0x71, 0x75),
    raised: Color32::from_rgb(0x37, 0x3B, 0x3F),
    raised_more: Color32::from_rgb(0x45, 0x4A, 0x4E),
    chosen: Color32::from_rgb(0xD9, 0xD5, 0xCB),
    on_chosen: Color32::from_rgb(0x22, 0x25, 0x27),
    first: Color32::from_rgb(0x7D, 0xBA, 0xF7),
    second: Color32::from_rgb(0xF5, 0xA9, 0x66),
    wrong: Color32::from_rgb(0xFF, 0x9C, 0x8A),
    notice: Color32::from_rgb(0x4A, 0x41, 0x2B),
    halo: Color32::from_rgba_premultiplied(0x19, 0x1B, 0x1D, 0xCC),
    cloth: Color32::from_rgb(0xE9, 0xDF, 0xC6),
};

/// Width of a saw line on screen, points.
pub const SAW_LINE: f32 = 2.2;
/// Dash and gap of the second cut, points.
pub const DASH: [f32; 2] = [9.0, 5.0];
/// The smallest gap: between a caption and its field.
pub const TIGHT: f32 = 4.0;
/// Between things that belong together.
pub const GAP: f32 = 8.0;
/// Between groups.
pub const ROOMY: f32 = 16.0;
/// Radius of a saw line's points, points.
pub const POINT: f32 = 5.5;
/// Radius of a handle, points.
pub const HANDLE: f32 = 4.0;

/// Scroll bars in a narrow place: thin, beside what they scroll, and there whenever there is more to see.
pub fn thin_scroll_bars(ui: &mut egui::Ui) {
    ui.spacing_mut().scroll = egui::style::ScrollStyle {
        bar_width: 5.0,
        bar_inner_margin: 1.0,
        bar_outer_margin: 0.0,
        ..egui::style::ScrollStyle::thin()
    };
}

impl Tokens {
    /// The colours of a theme.
    pub fn of(theme: Theme) -> &'static Tokens {
        match theme {
            Theme::Light => &LIGHT,
            Theme::Dark => &DARK,
        }
    }

    /// The colours of the theme that a `Ui` is shown in.
    pub fn here(ui: &egui::Ui) -> &'static Tokens {
        Tokens::of(if ui.visuals().dark_mode { Theme::Dark } else { Theme::Light })
    }

    /// The colour of a cut.
    pub fn cut(&self, cut: Cut) -> Color32 {
        match cut {
            Cut::First => self.first,
            Cut::Second => self.second,
        }
    }
}

/// Small text: captions and ticks.
pub fn small() -> FontId {
    FontId::new(12.0, FontFamily::Proportional)
}

/// Text of fields and figures.
pub fn body() -> FontId {
    FontId::new(14.0, FontFamily::Proportional)
}

/// Headings of rows.
pub fn bold() -> FontId {
    FontId::new(14.0, FontFamily::Name(crate::fonts::BOLD.into()))
}

/// Gives both themes their look.
pub fn install(ctx: &Context) {
    crate::fonts::install(ctx);
    // Where the desktop does not say, paper is light.
    ctx.options_mut(|options| {
        options.fallback_theme = Theme::Light;
        // Ctrl and plus is one Shift away from zooming the rows, and would rescale the whole window.
        options.zoom_with_keyboard = false;
    });
    for theme in [Theme::Light, Theme::Dark] {
        ctx.set_style_of(theme, style(theme));
    }
}

fn style(theme: Theme) -> Style {
    let t = Tokens::of(theme);
    let mut visuals = match theme {
        Theme::Light => Visuals::light(),
        Theme::Dark => Visuals::dark(),
    };
    let corner = CornerRadius::same(4);
    for (widget, fill, edge, text) in [
        (&mut visuals.widgets.noninteractive, t.ground, t.hair, t.ink),
        (&mut visuals.widgets.inactive, t.raised, t.edge, t.ink),
        (&mut visuals.widgets.hovered, t.raised_more, t.soft, t.ink),
        (&mut visuals.widgets.active, t.raised_more, t.ink, t.ink),
        (&mut visuals.widgets.open, t.raised_more, t.soft, t.ink),
    ] {
        widget.bg_fill = fill;
        widget.weak_bg_fill = fill;
        widget.bg_stroke = Stroke::new(1.0, edge);
        widget.fg_stroke = Stroke::new(1.0, text);
        widget.corner_radius = corner;
        widget.expansion = 0.0;
    }
    visuals.selection.bg_fill = t.chosen;
    visuals.selection.stroke = Stroke::new(1.0, t.on_chosen);
    visuals.text_cursor.stroke = Stroke::new(2.0, t.ink);
    visuals.text_cursor.blink = false; // nothing moves at rest
    visuals.panel_fill = t.ground;
    visuals.window_fill = t.sheet;
    visuals.window_stroke = Stroke::new(1.0, t.edge);
    visuals.window_corner_radius = corner;
    visuals.menu_corner_radius = corner;
    visuals.extreme_bg_color = t.sheet;
    visuals.text_edit_bg_color = Some(t.sheet);
    visuals.faint_bg_color = t.raised;
    visuals.weak_text_color = Some(t.soft);
    visuals.hyperlink_color = t.first;
    visuals.error_fg_color = t.wrong;
    visuals.warn_fg_color = t.wrong;
    visuals.popup_shadow = Shadow { offset: [0, 2], blur: 8, spread: 0, color: Color32::from_black_alpha(40) };
    visuals.window_shadow = visuals.popup_shadow;
    visuals.slider_trailing_fill = false;
    let mut style = Style { visuals, animation_time: 0.0, ..Style::default() };
    style.text_styles = [
        (TextStyle::Small, small()),
        (TextStyle::Body, body()),
        (TextStyle::Button, body()),
        (TextStyle::Heading, FontId::new(17.0, FontFamily::Name(crate::fonts::BOLD.into()))),
        (TextStyle::Monospace, FontId::new(13.0, FontFamily::Monospace)),
    ]
    .into();
    style.spacing.item_spacing = vec2(GAP, 6.0);
    style.spacing.button_padding = vec2(8.0, 3.0);
    style.spacing.interact_size = vec2(36.0, 24.0);
    style.spacing.menu_margin = Margin::same(6);
    style.spacing.combo_width = 60.0;
    style.interaction.selectable_labels = false;
    style.interaction.tooltip_delay = 0.4;
    style
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance and contrast as WCAG 2.1 defines them (constants from memory).
    fn contrast(a: Color32, b: Color32) -> f64 {
        let luminance = |c: Color32| {
            let part = |v: u8| {
                let v = f64::from(v) / 255.0;
                if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
            };
            0.2126 * part(c.r()) + 0.7152 * part(c.g()) + 0.0722 * part(c.b())
        };
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn all_text_reads_on_what_it_stands_on() {
        for theme in [Theme::Light, Theme::Dark] {
            let t = Tokens::of(theme);
            assert!(contrast(t.soft, t.desk) >= 4.5);
            for ground in [t.ground, t.sheet, t.raised] {
                for text in [t.ink, t.soft, t.first, t.second, t.wrong] {
                    assert!(contrast(text, ground) >= 4.5, "{text:?} on {ground:?}: {:.2}", contrast(text, ground));
                }
            }
            assert!(contrast(t.ink, t.notice) >= 4.5);
            assert!(contrast(t.on_chosen, t.chosen) >= 4.5);
        }
    }
}
