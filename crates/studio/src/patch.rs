//! A painted surface where a graphics card can get at it.

use cornerwise_geometry::{BlankPoint, Cut};
use cornerwise_wood::{Painted as Texels, page_from_blank};
use egui::{Color32, ColorImage, Pos2, TextureId, pos2};

use crate::ruler::Stretch;

/// Part of a texture that shows part of a surface of the blank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TexturePatch {
    /// The texture.
    pub texture: TextureId,
    /// The surface.
    pub surface: cornerwise_geometry::Surface,
    /// Where the patch begins on the texture, as shares of it.
    pub from_uv: [f64; 2],
    /// Where it ends.
    pub to_uv: [f64; 2],
    /// Where it begins on the surface (along columns, along rows), mm.
    pub from_mm: [f64; 2],
    /// Where it ends.
    pub to_mm: [f64; 2],
}

/// Where every surface of the blank is painted, in the order of [`cornerwise_geometry::Surface::ALL`].
pub type Painted = [Option<TexturePatch>; 8];

impl TexturePatch {
    /// Where a point of the surface lies on the texture. Affine, so a flat facet is painted exactly.
    pub fn uv(&self, p: BlankPoint) -> Pos2 {
        let page = page_from_blank(self.surface, p);
        let [x, y] = [0, 1].map(|i| {
            let share = (page[i] - self.from_mm[i]) / (self.to_mm[i] - self.from_mm[i]);
            self.from_uv[i] + share * (self.to_uv[i] - self.from_uv[i])
        });
        pos2(x as f32, y as f32)
    }
}

/// The finest paint of a cut's surface that covers a stretch, of patches that are sorted from coarse to fine.
pub fn finest(patches: &[[Option<TexturePatch>; 2]], cut: Cut, shown: Stretch) -> Option<&TexturePatch> {
    let covers =
        |patch: &&TexturePatch| patch.from_mm[0] <= shown.from_mm + 1e-9 && patch.to_mm[0] >= shown.to_mm - 1e-9;
    patches.iter().rev().filter_map(|patches| patches[cut.index()].as_ref()).find(covers)
}

/// An image of `painted`, `columns` by `rows` texels large, with a copy of its border one texel wide all round, so that
/// blending at its edge finds its own colours. Coarse paint is spread over the texels.
pub fn bordered_image(painted: &Texels, columns: usize, rows: usize) -> ColorImage {
    let (width, height) = (columns + 2, rows + 2);
    let mut pixels: Vec<Color32> = Vec::with_capacity(width * height);
    let from = |i: usize, count: usize, painted: usize| (i.min(count).max(1) - 1) * painted / count;
    let source: Vec<usize> = (0..width).map(|x| from(x, columns, painted.columns)).collect();
    let mut above = None;
    for y in 0..height {
        let row = from(y, rows, painted.rows) * painted.columns;
        // Coarse paint is the same over several rows.
        if above == Some(row) {
            pixels.extend_from_within(pixels.len() - width..);
            continue;
        }
        above = Some(row);
        for x in &source {
            let at = 4 * (row + x);
            pixels.push(match painted.rgba.get(at..at + 3) {
                Some(c) => Color32::from_rgb(c[0], c[1], c[2]),
                None => Color32::BLACK,
            });
        }
    }
    ColorImage::new([width, height], pixels)
}

#[cfg(test)]
mod tests {
    use super::*;
    use cornerwise_geometry::{Face, Surface};

    #[test]
    fn the_border_is_a_copy_and_coarse_paint_is_spread() {
        let rgba = [[10, 0, 0, 255], [20, 0, 0, 255], [30, 0, 0, 255], [40, 0, 0, 255]].concat();
        let painted = Texels {
            surface: Surface::Face(Face::One),
            columns: 2,
            rows: 2,
            from_mm: [0.0, 0.0],
            to_mm: [2.0, 2.0],
            rgba,
        };
        let image = bordered_image(&painted, 4, 2);
        assert_eq!(image.size, [6, 4]);
        let reds: Vec<Vec<u8>> = image.pixels.chunks(6).map(|row| row.iter().map(|c| c.r()).collect()).collect();
        let (upper, lower) = (vec![10, 10, 10, 20, 20, 20], vec![30, 30, 30, 40, 40, 40]);
        assert_eq!(reds, [upper.clone(), upper, lower.clone(), lower]);
    }
}
