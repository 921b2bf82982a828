use std::fs;
use std::io::Cursor;
use std::path::{Path, PathBuf};

use image::{DynamicImage, ImageBuffer, ImageFormat, Rgba, RgbaImage};

use super::*;
use crate::measure::LIMITS;

fn png_of(picture: impl Into<DynamicImage>) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.into().write_to(&mut bytes, ImageFormat::Png).expect("a PNG");
    bytes.into_inner()
}

fn png(width: u32, height: u32, pixel: [u8; 4]) -> Vec<u8> {
    png_of(RgbaImage::from_pixel(width, height, Rgba(pixel)))
}

const JPEGS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/badges");
/// The one of them that cannot be read.
const COLOUR_BY_COLOUR: &str = "colour-by-colour.jpg";

/// The JPEGs that can be read.
fn jpegs() -> Vec<(PathBuf, Vec<u8>)> {
    let files = fs::read_dir(JPEGS).expect("a folder").map(|entry| entry.expect("an entry").path());
    let files = files.filter(|path| {
        path.extension().is_some_and(|end| end == "jpg") && !path.ends_with(COLOUR_BY_COLOUR)
    });
    files.map(|path| (path.clone(), fs::read(path).expect("a file"))).collect()
}

/// A colour at a place: which of its channels is the strongest, or 3 where all are strong.
fn colour(badge: &Badge, x: u32, y: u32) -> usize {
    let Badge::Colours(picture) = badge else { panic!("colours") };
    let pixel = picture.get_pixel(x, y).0;
    match pixel.iter().all(|part| *part > 240) {
        true => 3,
        false => (0..3).max_by_key(|channel| pixel[*channel]).expect("three channels"),
    }
}

/// The colours of its quarters, row by row.
fn quarters(badge: &Badge) -> [usize; 4] {
    let (width, height) = badge.size_px();
    let at = |x, y| colour(badge, width * x / 4, height * y / 4);
    [at(1, 1), at(3, 1), at(1, 3), at(3, 3)]
}

#[test]
fn alpha_is_laid_onto_white() {
    let badge = Badge::read(&png(2, 2, [0, 0, 0, 128])).expect("a badge");
    assert_eq!(badge.bytes(), [127; 4]);
    // By hand: half of each with half of 255: (200 + 255) / 2, (100 + 255) / 2, (0 + 255) / 2.
    let badge = Badge::read(&png(2, 2, [200, 100, 0, 128])).expect("a badge");
    for (own, hand) in badge.bytes().iter().zip([227_u8, 177, 127].into_iter().cycle()) {
        assert!(own.abs_diff(hand) <= 1, "{own} {hand}");
    }
    // The same in 16 bits.
    let deep: ImageBuffer<Rgba<u16>, Vec<u16>> =
        ImageBuffer::from_pixel(2, 2, Rgba([200 * 257, 100 * 257, 0, 128 * 257]));
    assert_eq!(Badge::read(&png_of(deep)).expect("a badge"), badge);
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
fn every_way_a_jpeg_is_written_is_read() {
    let jpegs = jpegs();
    assert!(jpegs.len() >= 4);
    for (path, bytes) in jpegs {
        let badge = Badge::read(&bytes).unwrap_or_else(|error| panic!("{path:?}: {error}"));
        assert_eq!(badge.size_px(), (48, 32), "{path:?}");
        match path.file_stem().is_some_and(|stem| stem == "greys") {
            true => assert!(matches!(badge, Badge::Greys(_))),
            false => assert_eq!(quarters(&badge), [0, 1, 2, 3], "{path:?}"),
        }
    }
}

/// The decoder leaves all its colours out where some are stored more coarsely than others.
#[test]
fn a_jpeg_stored_colour_by_colour_is_refused_with_the_cure() {
    let bytes = fs::read(Path::new(JPEGS).join(COLOUR_BY_COLOUR)).expect("a file");
    assert_eq!(Badge::read(&bytes), Err(BadgeError::ColourByColour));
}

/// What is missing would be printed as grey, and laminated.
#[test]
fn a_picture_cut_short_is_refused_wherever_it_is_cut() {
    let png = png_of(RgbaImage::from_fn(40, 30, |x, y| Rgba([x as u8 * 6, y as u8 * 8, 9, 255])));
    // A picture's last mark says no more than that it ends: 12 bytes of a PNG (11.2.5 of its
    // specification) hold no pixels.
    for (path, bytes, pixels) in jpegs()
        .into_iter()
        .map(|(path, bytes)| (path, bytes.clone(), bytes.len()))
        .chain([(PathBuf::from("a PNG"), png.clone(), png.len() - 12)])
    {
        for length in 0..pixels {
            let read = Badge::read(&bytes[..length]);
            assert!(read.is_err(), "{path:?} cut to {length} of {}", bytes.len());
        }
    }
}

#[test]
fn a_jpeg_cut_short_is_called_so() {
    for (path, bytes) in jpegs() {
        let read = Badge::read(&bytes[..bytes.len() * 9 / 10]);
        assert_eq!(read, Err(BadgeError::CutShort), "{path:?}");
    }
}

/// A small picture inside the header has an end of its own.
#[test]
fn the_end_of_a_picture_in_the_header_is_not_the_pictures() {
    for (path, bytes) in jpegs() {
        let inner = [&[0xff, 0xe1, 0, 6][..], &[0xff, 0xd9, 0xff, 0xd9]].concat();
        let whole = [&bytes[..2], &inner, &bytes[2..]].concat();
        assert!(Badge::read(&whole).is_ok(), "{path:?}");
        let cut = &whole[..whole.len() - 40];
        assert_eq!(Badge::read(cut), Err(BadgeError::CutShort), "{path:?}");
    }
}

/// An Exif segment with nothing but an orientation (CIPA DC-008, 4.5.4 and 4.6.4): a TIFF header, one
/// entry of tag 274 as a short, no further directory.
fn held(bytes: &[u8], orientation: u8) -> Vec<u8> {
    let mut tiff = b"Exif\0\0II*\0\x08\0\0\0\x01\0".to_vec();
    tiff.extend([0x12, 0x01, 0x03, 0, 1, 0, 0, 0, orientation, 0, 0, 0, 0, 0, 0, 0]);
    let length = u16::try_from(tiff.len() + 2).expect("short").to_be_bytes();
    [&bytes[..2], &[0xff, 0xe1], &length, &tiff, &bytes[2..]].concat()
}

/// By hand, from the table of orientations (CIPA DC-008, 4.6.4: where row 0 and column 0 of the
/// stored picture are seen): quarters row by row; 0 red, 1 green, 2 blue, 3 white.
#[test]
fn a_picture_is_turned_as_its_camera_was_held() {
    let bytes = fs::read(Path::new(JPEGS).join("one-pass.jpg")).expect("a file");
    for (orientation, seen, size) in [
        (1, [0, 1, 2, 3], (48, 32)),
        // Row 0 at the top, column 0 at the right: mirrored.
        (2, [1, 0, 3, 2], (48, 32)),
        // Bottom, right: upside down.
        (3, [3, 2, 1, 0], (48, 32)),
        // Bottom, left.
        (4, [2, 3, 0, 1], (48, 32)),
        // Row 0 at the left, column 0 at the top.
        (5, [0, 2, 1, 3], (32, 48)),
        // Row 0 at the right, column 0 at the top: a quarter turn to the right.
        (6, [2, 0, 3, 1], (32, 48)),
        // Right, bottom.
        (7, [3, 1, 2, 0], (32, 48)),
        // Left, bottom: a quarter turn to the left.
        (8, [1, 3, 0, 2], (32, 48)),
        // No orientation of the table.
        (9, [0, 1, 2, 3], (48, 32)),
    ] {
        let badge = Badge::read(&held(&bytes, orientation)).expect("a badge");
        assert_eq!((quarters(&badge), badge.size_px()), (seen, size), "{orientation}");
    }
}

#[test]
fn what_is_no_picture_is_reported() {
    assert_eq!(Badge::read(b"a line of text"), Err(BadgeError::UnknownFormat));
    assert_eq!(Badge::read(b""), Err(BadgeError::Empty));
    assert_eq!(
        Badge::read(&vec![0; LIMITS.badge_bytes.most as usize + 1]),
        Err(BadgeError::TooManyBytes)
    );
    let mut broken = png(20, 20, [1, 2, 3, 255]);
    broken.truncate(40);
    assert_eq!(Badge::read(&broken), Err(BadgeError::CutShort));
}

/// The header of a PNG names its edges in bytes 16 to 23 (its specification, 11.2.1), and may say up to
/// 2,147,483,647 for each (the same, 7.1).
#[test]
fn a_png_larger_than_any_memory_is_called_too_large() {
    let mut bytes = png(20, 20, [1, 2, 3, 255]);
    for (at, edge) in [(16, 0x7fff_ffff_u32), (20, 0x7fff_ffff)] {
        bytes[at..at + 4].copy_from_slice(&edge.to_be_bytes());
    }
    let size = BadgeError::TooManyPixels { width: 0x7fff_ffff, height: 0x7fff_ffff };
    assert_eq!(Badge::read(&bytes), Err(size));
    bytes[16..24].fill(0);
    assert_eq!(Badge::read(&bytes), Err(BadgeError::Damaged));
}

#[test]
fn a_fault_inside_a_picture_is_said_in_our_words() {
    let mut bytes = png(20, 20, [1, 2, 3, 255]);
    // A byte of the first pixels: behind the signature, the header and the names of two chunks.
    let pixels = bytes.windows(4).position(|name| name == b"IDAT").expect("pixels") + 8;
    bytes[pixels] ^= 0xff;
    let error = Badge::read(&bytes).expect_err("damaged");
    let said = "the picture is damaged; copy or download the file again, or save it anew";
    assert_eq!(error.to_string(), said);
}

/// A JPEG's header says how large it is (ITU-T T.81, B.2.2): 6,000 x 6,000 here, and nothing behind it.
#[test]
fn a_picture_is_measured_before_it_is_decoded() {
    let size = |width: u32, height: u32| Err(BadgeError::TooManyPixels { width, height });
    assert_eq!(Badge::read(&png(8_001, 1, [0; 4])), size(8_001, 1));
    let (_, mut bytes) = jpegs().pop().expect("a JPEG");
    let frame = bytes.windows(2).position(|pair| pair[0] == 0xff && matches!(pair[1], 0xc0..=0xc2));
    let frame = frame.expect("a frame");
    bytes[frame + 5..frame + 9].copy_from_slice(&[0x17, 0x70, 0x17, 0x70]);
    assert_eq!(Badge::read(&bytes), size(6_000, 6_000));
}

/// By hand: of 41,943,040 bytes, 11 a pixel (8 of 16-bit red, green, blue and alpha, 3 of the result)
/// leave room for 3,813,003 pixels: 1,952 x 1,952 are 3,810,304 and 1,953 x 1,953 are 3,814,209.
#[test]
fn deep_pixels_count_for_all_their_bytes() {
    let deep = |edge: u32| {
        let picture: ImageBuffer<Rgba<u16>, Vec<u16>> = ImageBuffer::new(edge, edge);
        Badge::read(&png_of(picture)).map(|badge| badge.size_px())
    };
    assert_eq!(deep(1_952), Ok((1_952, 1_952)));
    let refused = deep(1_953).expect_err("too many bytes");
    assert_eq!(refused, BadgeError::TooManyPixels { width: 1_953, height: 1_953 });
    // No kind of picture takes more than those 11, so that what the message advises holds.
    assert!(u64::from(ALWAYS_READ_PX).pow(2) * 11 <= LIMITS.badge_decoded.most);
}

#[test]
fn no_more_pixels_are_kept_than_print_needs() {
    // By hand: 3,000 x 150 shrunk to 2,000 along its longer edge.
    let badge = Badge::read(&png(3_000, 150, [9, 9, 9, 255])).expect("a badge");
    assert_eq!(badge.size_px(), (2_000, 100));
}
