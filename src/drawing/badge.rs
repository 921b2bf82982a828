//! The club's badge: a PNG or JPEG made ready for print.

mod decode;

use image::imageops::thumbnail;
use image::{GrayImage, RgbImage};
use thiserror::Error;

use super::Size;
use crate::measure::LIMITS;

/// Pixels along both edges that no kind of picture is too large with.
const ALWAYS_READ_PX: u32 = 1_900;
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
    /// A file without a byte, such as a copy that was broken off leaves.
    #[error("the file is empty")]
    Empty,
    /// The file is larger than a badge needs to be.
    #[error("the picture is larger than {} MiB", LIMITS.badge_bytes.most / 1024 / 1024)]
    TooManyBytes,
    /// Neither a PNG nor a JPEG.
    #[error("the picture is neither a PNG nor a JPEG")]
    UnknownFormat,
    /// More pixels than a badge needs, or more memory than it may take.
    #[error(
        "the picture has {width} x {height} pixels, which is more than is read; save it smaller: \
         {ALWAYS_READ_PX} pixels along an edge are always read, and are plenty"
    )]
    TooManyPixels {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
    /// The first part of a picture: a copy or download that was broken off.
    #[error("the picture is cut short: its end is missing; copy or download the file again")]
    CutShort,
    /// A JPEG of one pass that has its colours one after the other.
    #[error("the picture is written in a way that is not read; open it and save it as a PNG")]
    ColourByColour,
    /// Not a picture all through.
    #[error("the picture is damaged; copy or download the file again, or save it anew")]
    Damaged,
}

impl Badge {
    /// Reads a whole PNG or JPEG within [`LIMITS`], turned upright where its camera says how it was
    /// held; alpha is laid onto white. Any other file is a [`BadgeError`].
    pub fn read(bytes: &[u8]) -> Result<Badge, BadgeError> {
        decode::decode(bytes)
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

#[cfg(test)]
mod tests;
