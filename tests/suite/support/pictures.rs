//! Reference pictures: small, grey, and accepted by `UPDATE_EXPECT=1`.
//!
//! The rasteriser is the same code everywhere, so a picture may differ from its reference in a
//! handful of pixels only: a single hairline of 2 mm is more than that.

use std::path::{Path, PathBuf};

use image::GrayImage;

/// A pixel differs when its grey is off by more than this, of 255.
const LEVELS: u8 = 24;
/// Pixels that may differ in a whole picture.
const PIXELS: usize = 4;

/// A PNG as grey pixels.
pub fn grey(png: &[u8]) -> GrayImage {
    image::load_from_memory(png).expect("a PNG").to_luma8()
}

/// How `is` differs from `was` by more than the threshold, if it does.
pub fn difference(is: &GrayImage, was: &GrayImage) -> Option<String> {
    if is.dimensions() != was.dimensions() {
        return Some(format!("{:?} pixels instead of {:?}", is.dimensions(), was.dimensions()));
    }
    let differs = |(a, b): (&u8, &u8)| a.abs_diff(*b) > LEVELS;
    let count = is.as_raw().iter().zip(was.as_raw()).filter(|pair| differs(*pair)).count();
    (count > PIXELS).then(|| format!("{count} pixels differ by more than {LEVELS} of 255"))
}

/// Holds a picture against `reference`, a file in the project, or accepts it. Where they differ,
/// both and their difference are left in the target's folder for temporary files.
pub fn assert_picture(reference: &str, is: &GrayImage) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(reference);
    if std::env::var_os("UPDATE_EXPECT").is_some() {
        let was = std::fs::read(&path).ok().map(|png| grey(&png));
        if was.is_none_or(|was| difference(is, &was).is_some()) {
            save(is, &path);
        }
        return;
    }
    let accept = "UPDATE_EXPECT=1 cargo test accepts it";
    let was = std::fs::read(&path).unwrap_or_else(|_| panic!("no {reference}: {accept}"));
    let was = grey(&was);
    if let Some(told) = difference(is, &was) {
        let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("pictures");
        std::fs::create_dir_all(&folder).expect("a folder");
        let name = Path::new(reference).file_stem().expect("a name").to_string_lossy();
        save(is, &folder.join(format!("{name}-is.png")));
        save(&was, &folder.join(format!("{name}-was.png")));
        save(&apart(is, &was), &folder.join(format!("{name}-difference.png")));
        panic!("{reference}: {told}; see {}; {accept}", folder.display());
    }
}

/// White where they agree, the darker the more they differ; black where only one has a pixel.
fn apart(is: &GrayImage, was: &GrayImage) -> GrayImage {
    let (width, height) = (is.width().max(was.width()), is.height().max(was.height()));
    GrayImage::from_fn(width, height, |x, y| {
        let pair = is.get_pixel_checked(x, y).zip(was.get_pixel_checked(x, y));
        image::Luma([pair.map_or(0, |(a, b)| 255 - a.0[0].abs_diff(b.0[0]))])
    })
}

fn save(picture: &GrayImage, path: &Path) {
    use image::ImageEncoder;
    use image::codecs::png::{CompressionType, FilterType, PngEncoder};
    let mut bytes = Vec::new();
    let (width, height) = picture.dimensions();
    PngEncoder::new_with_quality(&mut bytes, CompressionType::Best, FilterType::Adaptive)
        .write_image(picture.as_raw(), width, height, image::ExtendedColorType::L8)
        .expect("a PNG");
    std::fs::write(path, bytes).expect("written");
}
