//! Reads a PDF back with a library that shares no code with the one that writes it.

use hayro::hayro_interpret::font::GlyphRun;
use hayro::hayro_interpret::hayro_cmap::BfString;
use hayro::hayro_interpret::{
    BlendMode, ClipPath, Context, Device, DrawMode, DrawProps, Image, ImageDrawProps,
    InterpreterCache, InterpreterSettings, SoftMask, interpret_page,
};
use hayro::hayro_syntax::Pdf;
use hayro::kurbo::{Affine, BezPath, Rect};
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings, render};

/// A page as read.
pub struct ReadPage {
    /// Width and height in points.
    pub size_pt: (f32, f32),
    /// The characters its glyphs stand for, in the order they are drawn.
    pub text: String,
    /// Pictures drawn.
    pub pictures: usize,
}

#[derive(Default)]
struct Listener {
    text: String,
    pictures: usize,
}

impl<'a> Device<'a> for Listener {
    fn draw_path(&mut self, _: &BezPath, _: DrawProps<'a>, _: &DrawMode) {}
    fn push_clip_path(&mut self, _: &ClipPath) {}
    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {}
    fn draw_glyph_run(&mut self, run: &GlyphRun<'_, 'a>, _: DrawProps<'a>, _: &DrawMode) {
        for glyph in run.glyphs() {
            match glyph.as_unicode() {
                Some(BfString::Char(c)) => self.text.push(c),
                Some(BfString::String(s)) => self.text.push_str(&s),
                None => self.text.push('\u{fffd}'),
            }
        }
    }
    fn draw_image(&mut self, _: Image<'a, '_>, _: ImageDrawProps<'a>) {
        self.pictures += 1;
    }
    fn pop_clip(&mut self) {}
    fn pop_transparency_group(&mut self) {}
}

pub fn open(bytes: &[u8]) -> Pdf {
    Pdf::new(bytes.to_vec()).expect("a PDF that reads")
}

/// Every page of a PDF.
pub fn read(bytes: &[u8]) -> Vec<ReadPage> {
    let pdf = open(bytes);
    let cache = InterpreterCache::new();
    let mut pages = Vec::new();
    for page in pdf.pages().iter() {
        let (width, height) = page.render_dimensions();
        let all = Rect::new(0.0, 0.0, width.into(), height.into());
        let settings = InterpreterSettings::default();
        let mut context = Context::new(Affine::IDENTITY, all, &cache, pdf.xref(), settings);
        let mut listener = Listener::default();
        interpret_page(page, &mut context, &mut listener);
        let Listener { text, pictures } = listener;
        pages.push(ReadPage { size_pt: (width, height), text, pictures });
    }
    pages
}

/// A page as a picture: width, height and the darkness of each pixel.
#[derive(PartialEq)]
pub struct Raster {
    pub width: usize,
    pub height: usize,
    pub dark: Vec<u8>,
}

impl Raster {
    /// Left, top, right and bottom of all that is not white, in pixels.
    pub fn ink(&self) -> Option<(usize, usize, usize, usize)> {
        let inked = |x: usize, y: usize| self.dark[y * self.width + x] > 40;
        let mut found: Option<(usize, usize, usize, usize)> = None;
        for y in 0..self.height {
            for x in (0..self.width).filter(|x| inked(*x, y)) {
                found =
                    Some(found.map_or((x, y, x, y), |(l, t, r, b)| {
                        (l.min(x), t.min(y), r.max(x), b.max(y))
                    }));
            }
        }
        found
    }
}

/// Every page of a PDF as a picture, so many pixels to the point.
pub fn rasters(bytes: &[u8], scale: f32) -> Vec<Raster> {
    let pdf = open(bytes);
    let cache = RenderCache::new();
    let pixmap = PixmapSettings { x_scale: scale, y_scale: scale, bg_color: WHITE };
    let mut rasters = Vec::new();
    for page in pdf.pages().iter() {
        let settings = InterpreterSettings::default();
        let picture = render(page, &cache, &settings, &RenderSettings::default(), &pixmap);
        rasters.push(Raster {
            width: usize::from(picture.width()),
            height: usize::from(picture.height()),
            dark: picture.data_as_u8_slice().chunks_exact(4).map(|p| 255 - p[0]).collect(),
        });
    }
    rasters
}
