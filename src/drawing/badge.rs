//! The club's badge: a PNG or JPEG made ready for print.

use std::io::Cursor;

use image::imageops::thumbnail;
use image::{GrayImage, ImageReader, Limits, RgbImage, RgbaImage};
use thiserror::Error;

use super::Size;
use crate::measure::LIMITS;

/// Pixels along an edge at most.
pub(crate) const MOST_EDGE_PX: u32 = 8_000;
/// Memory the decoder may take.
const MOST_DECODED_BYTES: u64 = 256 * 1024 * 1024;
/// Dots per inch in print; more is lost on an office printer.
const PRINT_DPI: f32 = 300.0;

/// A badge without transparency: alpha laid onto white.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Badge {
    /// Black, white and what is between.
    Greys(GrayImage),
    /// Any colours.
    Colours(RgbImage),
}

/// Why a picture could not be used as a badge.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum BadgeError {
    /// The file is larger than a badge needs to be.
    #[error("the picture is larger than {} MiB", LIMITS.badge_bytes.most / 1024 / 1024)]
    TooManyBytes,
    /// Neither a PNG nor a JPEG.
    #[error("the picture is neither a PNG nor a JPEG")]
    UnknownFormat,
    /// More pixels than a badge needs, or more memory than it may take.
    #[error("the picture is larger than {MOST_EDGE_PX} pixels along an edge")]
    TooManyPixels,
    /// Not a picture all through: broken or cut short.
    #[error("the picture is damaged: {0}")]
    Damaged(String),
}

impl Badge {
    /// Reads a PNG or JPEG of up to 8,000 pixels along an edge; alpha is laid onto white. Any other
    /// file is a [`BadgeError`].
    pub fn read(bytes: &[u8]) -> Result<Badge, BadgeError> {
        if !LIMITS.badge_bytes.holds(bytes.len() as u64) {
            return Err(BadgeError::TooManyBytes);
        }
        let mut reader = ImageReader::new(Cursor::new(bytes))
            .with_guessed_format()
            .map_err(|e| BadgeError::Damaged(e.to_string()))?;
        if reader.format().is_none() {
            return Err(BadgeError::UnknownFormat);
        }
        let mut limits = Limits::default();
        limits.max_image_width = Some(MOST_EDGE_PX);
        limits.max_image_height = Some(MOST_EDGE_PX);
        limits.max_alloc = Some(MOST_DECODED_BYTES);
        reader.limits(limits);
        let picture = reader.decode().map_err(fault)?;
        Ok(on_white(&picture.to_rgba8()))
    }

    /// The same picture in greys, as light as its colours look (ITU-R BT.709).
    pub fn in_greys(&self) -> Badge {
        match self {
            Badge::Greys(_) => self.clone(),
            Badge::Colours(picture) => Badge::Greys(image::imageops::grayscale(picture)),
        }
    }

    /// Width and height in pixels.
    pub fn size_px(&self) -> (u32, u32) {
        match self {
            Badge::Greys(picture) => picture.dimensions(),
            Badge::Colours(picture) => picture.dimensions(),
        }
    }

    /// Its pixels, row by row from the top: a byte of grey each, or red, green and blue.
    pub fn bytes(&self) -> &[u8] {
        match self {
            Badge::Greys(picture) => picture.as_raw(),
            Badge::Colours(picture) => picture.as_raw(),
        }
    }

    /// The picture with no more pixels than 300 dpi needs at its printed size.
    pub fn for_print(&self, printed: Size) -> Badge {
        let needed = |points: f32| ((points / 72.0 * PRINT_DPI).ceil() as u32).max(1);
        let (width_px, height_px) = (needed(printed.width_pt), needed(printed.height_pt));
        let own_px = self.size_px();
        if width_px >= own_px.0 || height_px >= own_px.1 {
            return self.clone();
        }
        // Each dot is the mean of the pixels it covers.
        match self {
            Badge::Greys(picture) => Badge::Greys(thumbnail(picture, width_px, height_px)),
            Badge::Colours(picture) => Badge::Colours(thumbnail(picture, width_px, height_px)),
        }
    }
}

fn fault(error: image::ImageError) -> BadgeError {
    match error {
        image::ImageError::Limits(_) => BadgeError::TooManyPixels,
        image::ImageError::Unsupported(_) => BadgeError::UnknownFormat,
        other => BadgeError::Damaged(other.to_string()),
    }
}

fn on_white(picture: &RgbaImage) -> Badge {
    let over = |c: u8, alpha: u8| {
        let mixed = u32::from(c) * u32::from(alpha) + 255 * (255 - u32::from(alpha));
        // Fits a byte: the two weights add up to 255.
        ((mixed + 127) / 255) as u8
    };
    let pixels = || picture.as_raw().chunks_exact(4);
    let (width, height) = picture.dimensions();
    if pixels().all(|pixel| pixel[0] == pixel[1] && pixel[1] == pixel[2]) {
        let bytes = pixels().map(|pixel| over(pixel[0], pixel[3])).collect();
        return Badge::Greys(GrayImage::from_raw(width, height, bytes).unwrap_or_default());
    }
    let bytes = pixels().flat_map(|pixel| [0, 1, 2].map(|part| over(pixel[part], pixel[3])));
    Badge::Colours(RgbImage::from_raw(width, height, bytes.collect()).unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn png(width: u32, height: u32, pixel: [u8; 4]) -> Vec<u8> {
        let picture = RgbaImage::from_pixel(width, height, image::Rgba(pixel));
        let mut bytes = Cursor::new(Vec::new());
        picture.write_to(&mut bytes, image::ImageFormat::Png).expect("a PNG");
        bytes.into_inner()
    }

    #[test]
    fn alpha_is_laid_onto_white() {
        let badge = Badge::read(&png(2, 2, [0, 0, 0, 128])).expect("a badge");
        assert_eq!(badge.bytes(), [127; 4]);
    }

    #[test]
    fn greys_are_as_light_as_the_colours() {
        // ITU-R BT.709: 0.2126 R + 0.7152 G + 0.0722 B, of 255: 54.2, 182.4, 18.4.
        for (colour, grey) in [
            ([255, 0, 0, 255], 54_u8),
            ([0, 255, 0, 255], 182),
            ([0, 0, 255, 255], 18),
            ([255, 255, 255, 255], 255),
            ([0, 0, 0, 255], 0),
        ] {
            let badge = Badge::read(&png(2, 2, colour)).expect("a badge").in_greys();
            // The crate may round either way.
            let bytes = badge.bytes();
            assert!(bytes.iter().all(|own| own.abs_diff(grey) <= 1), "{colour:?}: {bytes:?}");
            assert_eq!(bytes.len(), 4);
        }
    }

    #[test]
    fn pixels_beyond_300_dpi_are_dropped() {
        let badge = Badge::read(&png(600, 300, [9, 9, 9, 255])).expect("a badge");
        // By hand: 36 pt is half an inch, so 150 dots.
        let printed = badge.for_print(Size { width_pt: 36.0, height_pt: 18.0 });
        assert_eq!(printed.size_px(), (150, 75));
    }

    #[test]
    fn what_is_no_picture_is_reported() {
        assert_eq!(Badge::read(b"a line of text"), Err(BadgeError::UnknownFormat));
        assert_eq!(
            Badge::read(&vec![0; LIMITS.badge_bytes.most as usize + 1]),
            Err(BadgeError::TooManyBytes)
        );
        let mut broken = png(20, 20, [1, 2, 3, 255]);
        broken.truncate(40);
        assert!(matches!(Badge::read(&broken), Err(BadgeError::Damaged(_))));
        assert_eq!(Badge::read(&png(8_001, 1, [0; 4])), Err(BadgeError::TooManyPixels));
    }
}
