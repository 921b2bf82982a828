//! A picture file to pixels: strict about what is cut short, and bounded before it is decoded.
//!
//! A badge that is half there would be printed on every card and laminated, so a decoder's usual
//! kindness to broken files is not wanted here.

use std::io::Cursor;

use image::codecs::png::PngDecoder;
use image::imageops::thumbnail;
use image::metadata::Orientation;
use image::{DynamicImage, GrayImage, ImageDecoder, Limits, Rgb, RgbImage};
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use super::{Badge, BadgeError};
use crate::measure::LIMITS;

/// What files of the two kinds begin with: the PNG specification, 5.2; ITU-T T.81, B.2.1 (the mark
/// SOI and the first byte of the next).
const PNG: &[u8] = b"\x89PNG\r\n\x1a\n";
const JPEG: &[u8] = b"\xff\xd8\xff";

/// Pixels along an edge that are kept: 170 mm at 300 dpi, more than a badge is ever printed.
const MOST_KEPT_PX: u32 = 2_000;

/// The picture in a file, upright, with alpha laid onto white, no larger than print needs.
pub(super) fn decode(bytes: &[u8]) -> Result<Badge, BadgeError> {
    if bytes.is_empty() {
        return Err(BadgeError::Empty);
    }
    if !LIMITS.badge_bytes.holds(bytes.len() as u64) {
        return Err(BadgeError::TooManyBytes);
    }
    let (picture, turn) = if bytes.starts_with(PNG) {
        png(bytes)?
    } else if bytes.starts_with(JPEG) {
        jpeg(bytes)?
    } else {
        return Err(BadgeError::UnknownFormat);
    };
    // Shrunk first: turning takes as many bytes again.
    turned(shrunk(picture), turn)
}

/// Holds a picture's size against the limits; `per_pixel` is what decoding takes at its height.
fn bounded(width: u32, height: u32, per_pixel: u64) -> Result<(), BadgeError> {
    let taken = u64::from(width).saturating_mul(height.into()).saturating_mul(per_pixel);
    let edges = [width, height].map(u64::from);
    let holds = edges.iter().all(|edge| LIMITS.badge_edge.holds(*edge));
    if holds && LIMITS.badge_decoded.holds(taken) {
        return Ok(());
    }
    Err(BadgeError::TooManyPixels { width, height })
}

/// In our words: a decoder's are about its own code.
fn damaged<E>(_: E) -> BadgeError {
    BadgeError::Damaged
}

/// A big-endian number of four bytes.
fn number(bytes: &[u8], at: usize) -> Option<u32> {
    let bytes = bytes.get(at..at.checked_add(4)?)?;
    bytes.try_into().ok().map(u32::from_be_bytes)
}

/// Width and height as the header says them, which is the first chunk (PNG specification, 11.2.1).
fn png_size(bytes: &[u8]) -> Option<(u32, u32)> {
    (bytes.get(12..16)? == b"IHDR").then_some((number(bytes, 16)?, number(bytes, 20)?))
}

/// Whether a PNG goes on to its last chunk. A chunk is its length, its name, so many bytes and a
/// checksum (PNG specification, 5.3).
fn png_has_an_end(bytes: &[u8]) -> bool {
    let mut at = PNG.len();
    let chunks = std::iter::from_fn(|| {
        let length = usize::try_from(number(bytes, at)?).ok()?;
        let name = at.checked_add(4)?;
        at = at.checked_add(12)?.checked_add(length)?;
        // One that goes on behind the end of the file is no whole chunk.
        bytes.get(..at)?;
        bytes.get(name..name.checked_add(4)?)
    });
    chunks.into_iter().any(|name| name == b"IEND")
}

fn png(bytes: &[u8]) -> Result<(Badge, Orientation), BadgeError> {
    let damaged = |_| match png_has_an_end(bytes) {
        true => BadgeError::Damaged,
        false => BadgeError::CutShort,
    };
    // Its size is asked for before a decoder refuses it for its memory. A pixel is a byte at least.
    match png_size(bytes) {
        Some((0, _) | (_, 0)) => return Err(BadgeError::Damaged),
        Some((width, height)) => bounded(width, height, 1)?,
        None => {}
    }
    let mut limits = Limits::default();
    limits.max_alloc = Some(LIMITS.badge_decoded.most);
    let mut decoder = PngDecoder::with_limits(Cursor::new(bytes), limits).map_err(damaged)?;
    let (width, height) = decoder.dimensions();
    let decoded = u64::from(decoder.color_type().bytes_per_pixel());
    // Pixels of 16 bits are copied into those of 8; the others are laid onto white in place.
    let per_channel = decoded / u64::from(decoder.color_type().channel_count());
    bounded(width, height, if per_channel > 1 { decoded + 3 } else { decoded })?;
    let turn = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let picture = DynamicImage::from_decoder(decoder).map_err(damaged)?;
    Ok((on_white(picture)?, turn))
}

fn jpeg(bytes: &[u8]) -> Result<(Badge, Orientation), BadgeError> {
    // The mark of the end is looked for apart: a decoder may fill a last row in silence.
    if !has_an_end(bytes) {
        return Err(BadgeError::CutShort);
    }
    // Any size a JPEG can have: what is too large is reported with its size, and before it is decoded.
    let any = usize::from(u16::MAX);
    let options =
        DecoderOptions::default().set_strict_mode(true).set_max_width(any).set_max_height(any);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    decoder.decode_headers().map_err(damaged)?;
    let (width, height) = decoder.dimensions().ok_or(BadgeError::Damaged)?;
    let (width, height) = (width as u32, height as u32);
    if width == 0 || height == 0 {
        return Err(BadgeError::Damaged);
    }
    let is_grey = decoder.input_colorspace() == Some(ColorSpace::Luma);
    let channels = if is_grey { 1 } else { 3 };
    // Passes are added up in two bytes for each channel.
    bounded(width, height, if is_progressive(bytes)? { channels * 3 } else { channels })?;
    let wanted = if is_grey { ColorSpace::Luma } else { ColorSpace::RGB };
    decoder.set_options(options.jpeg_set_out_colorspace(wanted));
    let exif = decoder.exif().and_then(|exif| Orientation::from_exif_chunk(exif));
    let pixels = decoder.decode().map_err(damaged)?;
    let badge = match is_grey {
        true => GrayImage::from_raw(width, height, pixels).map(Badge::Greys),
        false => RgbImage::from_raw(width, height, pixels).and_then(in_fewest_channels),
    };
    // Too few pixels to fill it.
    let badge = badge.ok_or(BadgeError::Damaged)?;
    Ok((badge, exif.unwrap_or(Orientation::NoTransforms)))
}

/// The markers of a JPEG that are asked about here (ITU-T T.81, table B.1).
mod marker {
    /// An escaped byte of picture data, which is no marker.
    pub const STUFFED: u8 = 0x00;
    /// Alone, with no length behind them: TEM, and those that restart the decoder.
    pub const TEM: u8 = 0x01;
    pub const RESTARTS: std::ops::RangeInclusive<u8> = 0xd0..=0xd7;
    pub const START: u8 = 0xd8;
    pub const END: u8 = 0xd9;
    pub const START_OF_SCAN: u8 = 0xda;
    pub const FILL: u8 = 0xff;
    /// Frames in one scan, row by row.
    pub const SEQUENTIAL: std::ops::RangeInclusive<u8> = 0xc0..=0xc1;
}

/// The markers of a JPEG in order, without those inside a header: a
/// small picture there has an end of its own.
fn markers(bytes: &[u8]) -> impl Iterator<Item = u8> {
    let mut at = 0;
    std::iter::from_fn(move || {
        let found = bytes.get(at..)?.windows(2).position(|pair| {
            pair[0] == marker::FILL && pair[1] != marker::FILL && pair[1] != marker::STUFFED
        })?;
        let code = *bytes.get(at.checked_add(found)?.checked_add(1)?)?;
        at = at.checked_add(found)?.checked_add(2)?;
        let is_alone = matches!(code, marker::TEM | marker::START | marker::END)
            || marker::RESTARTS.contains(&code);
        if !is_alone {
            let length = bytes.get(at..at.checked_add(2)?)?;
            at = at.checked_add(usize::from(u16::from_be_bytes([length[0], length[1]])))?;
        }
        Some(code)
    })
}

/// Whether a JPEG goes on to the mark of its end.
fn has_an_end(bytes: &[u8]) -> bool {
    markers(bytes).any(|code| code == marker::END)
}

/// Whether a JPEG is written in one pass, or in several that each make the picture finer.
fn is_progressive(bytes: &[u8]) -> Result<bool, BadgeError> {
    if !markers(bytes).any(|code| marker::SEQUENTIAL.contains(&code)) {
        return Ok(true);
    }
    let scans = markers(bytes).filter(|code| *code == marker::START_OF_SCAN).count();
    if scans > 1 { Err(BadgeError::ColourByColour) } else { Ok(false) }
}

/// The picture with alpha laid onto white.
fn on_white(picture: DynamicImage) -> Result<Badge, BadgeError> {
    let badge = match picture {
        DynamicImage::ImageLuma8(greys) => Some(Badge::Greys(greys)),
        DynamicImage::ImageRgb8(colours) => in_fewest_channels(colours),
        DynamicImage::ImageLumaA8(greys) => {
            let (width, height) = greys.dimensions();
            let bytes = laid_on_white::<2>(greys.into_raw());
            GrayImage::from_raw(width, height, bytes).map(Badge::Greys)
        }
        DynamicImage::ImageRgba8(colours) => {
            let (width, height) = colours.dimensions();
            let bytes = laid_on_white::<4>(colours.into_raw());
            RgbImage::from_raw(width, height, bytes).and_then(in_fewest_channels)
        }
        deep => in_fewest_channels(of_8_bits(&deep)),
    };
    // An empty badge in its place would be printed without a word.
    badge.ok_or(BadgeError::Damaged)
}

/// Pixels of 16 bits in 8, on white.
fn of_8_bits(picture: &DynamicImage) -> RgbImage {
    // Its pixels are read one by one: as 8 bits with alpha they would all be copied once more.
    RgbImage::from_fn(picture.width(), picture.height(), |x, y| {
        let image::Rgba([red, green, blue, alpha]) =
            image::GenericImageView::get_pixel(picture, x, y);
        Rgb([red, green, blue].map(|part| over_white(part, alpha)))
    })
}

/// Drops the last of every `N` channels, its alpha, by laying the others onto white.
fn laid_on_white<const N: usize>(mut bytes: Vec<u8>) -> Vec<u8> {
    let mut to = 0;
    for from in (0..bytes.len()).step_by(N) {
        let Some(&alpha) = bytes.get(from + N - 1) else { break };
        for channel in from..from + N - 1 {
            let laid = bytes.get(channel).map_or(u8::MAX, |part| over_white(*part, alpha));
            if let Some(place) = bytes.get_mut(to) {
                *place = laid;
            }
            to += 1;
        }
    }
    bytes.truncate(to);
    bytes
}

fn over_white(part: u8, alpha: u8) -> u8 {
    let mixed = u32::from(part) * u32::from(alpha) + 255 * (255 - u32::from(alpha));
    // Fits a byte: the two weights add up to 255.
    ((mixed + 127) / 255) as u8
}

/// In greys where no pixel has a colour; `None` where the greys do not fill it.
fn in_fewest_channels(picture: RgbImage) -> Option<Badge> {
    let is_grey = |pixel: &Rgb<u8>| pixel[0] == pixel[1] && pixel[1] == pixel[2];
    if !picture.pixels().all(is_grey) {
        return Some(Badge::Colours(picture));
    }
    let (width, height) = picture.dimensions();
    let mut bytes = picture.into_raw();
    let count = bytes.len() / 3;
    for index in 0..count {
        if let Some(&grey) = bytes.get(index * 3)
            && let Some(place) = bytes.get_mut(index)
        {
            *place = grey;
        }
    }
    bytes.truncate(count);
    bytes.shrink_to_fit();
    GrayImage::from_raw(width, height, bytes).map(Badge::Greys)
}

/// The picture with no more pixels than are kept.
fn shrunk(badge: Badge) -> Badge {
    let (width, height) = badge.size_px();
    let longer = width.max(height);
    if longer <= MOST_KEPT_PX {
        return badge;
    }
    let scaled = |edge: u32| {
        let kept = u64::from(edge) * u64::from(MOST_KEPT_PX) / u64::from(longer);
        u32::try_from(kept).unwrap_or(MOST_KEPT_PX).max(1)
    };
    match badge {
        Badge::Greys(picture) => Badge::Greys(thumbnail(&picture, scaled(width), scaled(height))),
        Badge::Colours(picture) => {
            Badge::Colours(thumbnail(&picture, scaled(width), scaled(height)))
        }
    }
}

/// The picture as its camera was held.
fn turned(badge: Badge, turn: Orientation) -> Result<Badge, BadgeError> {
    if turn == Orientation::NoTransforms {
        return Ok(badge);
    }
    let mut picture = match badge {
        Badge::Greys(picture) => DynamicImage::ImageLuma8(picture),
        Badge::Colours(picture) => DynamicImage::ImageRgb8(picture),
    };
    picture.apply_orientation(turn);
    on_white(picture)
}
