//! Pages of a PDF to pictures; the only file that knows the rasteriser.
//!
//! It reads the very bytes that are printed, so that a preview cannot show another card than
//! the printer does.

use std::io::Cursor;
use std::ops::RangeInclusive;

use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::hayro_syntax::page::Page;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings, render};
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{ExtendedColorType, ImageEncoder};
use thiserror::Error;

/// Dots per inch a picture may have.
pub const DPI: RangeInclusive<u32> = 18..=1200;

/// Pixels one picture may have: A4 at 600 dots per inch, 4,960 x 7,016, is within.
pub const MOST_PIXELS: u64 = 36_000_000;

/// Points to the inch.
const POINTS: f32 = 72.0;

/// Why there is no picture of a page.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum PictureError {
    /// The bytes are no PDF that the rasteriser reads.
    #[error("the PDF could not be read back for its picture")]
    Unreadable,
    /// There are fewer pages.
    #[error("there is no page {asked}: {}", match pages { 1 => "there is one page".to_owned(), n => format!("there are {n} pages") })]
    NoSuchPage {
        /// The page asked for, counted from 1.
        asked: usize,
        /// How many there are.
        pages: usize,
    },
    /// Too coarse to see anything, or finer than any printer.
    #[error("{0} dpi is out of range: a picture has from {least} to {most} dpi", least = DPI.start(), most = DPI.end())]
    Dpi(u32),
    /// The picture would not fit in memory.
    #[error(
        "a picture of {width} x {height} pixels is too large, the most is {} million pixels; ask for fewer dpi",
        MOST_PIXELS / 1_000_000
    )]
    TooLarge {
        /// Across.
        width: u64,
        /// Down.
        height: u64,
    },
    /// The picture could not be encoded.
    #[error("the picture could not be written: {0}")]
    Encode(String),
}

/// A PNG of page `number`, counted from 1, on white, so many dots per inch.
///
/// Each edge has the page's points x dpi / 72, to the nearest pixel. A page without colour
/// becomes a grey picture. A page that is not there, a number of dots out of [`DPI`] and more than
/// [`MOST_PIXELS`] are a [`PictureError`].
pub fn page(pdf: &[u8], number: usize, dpi: u32) -> Result<Vec<u8>, PictureError> {
    let pdf = open(pdf)?;
    let pages = pdf.pages();
    let none = PictureError::NoSuchPage { asked: number, pages: pages.len() };
    let page = number.checked_sub(1).and_then(|index| pages.get(index)).ok_or(none)?;
    picture(page, &RenderCache::new(), dpi)
}

/// A PNG of every page, as [`page`] makes them.
pub fn every_page(pdf: &[u8], dpi: u32) -> Result<Vec<Vec<u8>>, PictureError> {
    let pdf = open(pdf)?;
    let cache = RenderCache::new();
    pdf.pages().iter().map(|page| picture(page, &cache, dpi)).collect()
}

fn open(pdf: &[u8]) -> Result<Pdf, PictureError> {
    Pdf::new(pdf.to_vec()).map_err(|_| PictureError::Unreadable)
}

fn picture<'a>(
    page: &'a Page<'a>,
    cache: &RenderCache<'a>,
    dpi: u32,
) -> Result<Vec<u8>, PictureError> {
    let (width_pt, height_pt) = page.render_dimensions();
    let (width, height) = size(width_pt, height_pt, dpi)?;
    // The rasteriser cuts off what is less than a whole pixel: a hundredth keeps the last one.
    let scale = |pixels: u16, points: f32| (f32::from(pixels) + 0.01) / points;
    let pixmap = PixmapSettings {
        x_scale: scale(width, width_pt),
        y_scale: scale(height, height_pt),
        bg_color: WHITE,
    };
    let interpreter = InterpreterSettings::default();
    let drawn = render(page, cache, &interpreter, &RenderSettings::default(), &pixmap);
    encode(drawn.data_as_u8_slice(), u32::from(drawn.width()), u32::from(drawn.height()))
}

/// Pixels across and down.
fn size(width_pt: f32, height_pt: f32, dpi: u32) -> Result<(u16, u16), PictureError> {
    if !DPI.contains(&dpi) {
        return Err(PictureError::Dpi(dpi));
    }
    // A float becomes the nearest integer it can be: nothing here wraps.
    let pixels = |points: f32| ((points * dpi as f32 / POINTS).round() as u64).max(1);
    let (width, height) = (pixels(width_pt), pixels(height_pt));
    let too_large = PictureError::TooLarge { width, height };
    if width.saturating_mul(height) > MOST_PIXELS {
        return Err(too_large);
    }
    match (u16::try_from(width), u16::try_from(height)) {
        (Ok(width), Ok(height)) => Ok((width, height)),
        _ => Err(too_large),
    }
}

/// Opaque pixels of four bytes to a PNG, grey where none has a colour.
fn encode(rgba: &[u8], width: u32, height: u32) -> Result<Vec<u8>, PictureError> {
    let grey = rgba.chunks_exact(4).all(|p| p[0] == p[1] && p[1] == p[2]);
    let (kind, kept) = if grey { (ExtendedColorType::L8, 1) } else { (ExtendedColorType::Rgb8, 3) };
    let pixels: Vec<u8> = rgba.chunks_exact(4).flat_map(|p| &p[..kept]).copied().collect();
    let mut bytes = Cursor::new(Vec::new());
    PngEncoder::new_with_quality(&mut bytes, CompressionType::Best, FilterType::Adaptive)
        .write_image(&pixels, width, height, kind)
        .map_err(|error| PictureError::Encode(error.to_string()))?;
    Ok(bytes.into_inner())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn edges_are_points_times_dpi_over_72() {
        // By hand: Letter is 612 x 792 pt; at 100 dpi 850 x 1100, at 144 dpi 1224 x 1584.
        assert_eq!(size(612.0, 792.0, 100), Ok((850, 1100)));
        assert_eq!(size(612.0, 792.0, 144), Ok((1224, 1584)));
        // A6, 105 x 148 mm at 144 dpi: 105 / 25.4 x 144 = 595.28, 148 / 25.4 x 144 = 839.06.
        assert_eq!(size(297.6378, 419.5276, 144), Ok((595, 839)));
        // A4 at 600 dpi: 210 / 25.4 x 600 = 4960.6, 297 / 25.4 x 600 = 7015.7.
        assert_eq!(size(595.2756, 841.8898, 600), Ok((4961, 7016)));
    }

    #[test]
    fn out_of_range_is_refused() {
        assert_eq!(size(612.0, 792.0, 17), Err(PictureError::Dpi(17)));
        assert_eq!(size(612.0, 792.0, 1201), Err(PictureError::Dpi(1201)));
        // By hand: A3, 297 x 420 mm at 600 dpi: 7015.7 x 9921.3 pixels, 69.6 million.
        let a3 = size(841.8898, 1190.5512, 600);
        assert_eq!(a3, Err(PictureError::TooLarge { width: 7016, height: 9921 }));
        assert!(matches!(size(f32::INFINITY, 1.0, 72), Err(PictureError::TooLarge { .. })));
        assert_eq!(page(b"no PDF", 1, 72), Err(PictureError::Unreadable));
    }
}
