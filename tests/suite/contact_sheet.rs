//! The contact sheet, `demo-data/contact-sheet.png`: every demo on four stocks, in true
//! proportion. `UPDATE_EXPECT=1 cargo test contact_sheet` makes it anew.

use deckcard::paint::png;
use image::{GrayImage, imageops};

use crate::command::{Workdir, demo_sessions, stem};
use crate::support::pictures::{assert_picture, grey};

/// From the smallest to the largest, left to right.
const STOCKS: [&str; 4] = ["a7", "3x5", "a6", "a5"];
const DPI: u32 = 55;
/// Between cards and between demos, in pixels.
const GAP: u32 = 8;
const DEMO_GAP: u32 = 40;
/// A row takes demos up to this width, in pixels.
const WIDEST: u32 = 3800;
const DESK: u8 = 204;
/// Greys are kept in steps of this: seventeen greys are enough to look at, and pack well.
const STEP: u8 = 16;

/// The cards of every demo on `stock`, printed by the program, demo by demo.
fn cards(stock: &str) -> Vec<Vec<GrayImage>> {
    let mut workdir = Workdir::new()
        .file("badge.png", include_bytes!("../../demo-data/sessions/badge.png"))
        .file("bare.toml", format!("name = \"Hernmarsh Lane Club\"\nstock = \"{stock}\"\n"));
    let club = include_str!("../../demo-data/sessions/club.toml");
    assert!(club.contains("\"a6\""), "the club's stock, to be changed");
    workdir = workdir.file("club.toml", club.replace("\"a6\"", &format!("\"{stock}\"")));
    for path in demo_sessions() {
        let mut text = std::fs::read_to_string(&path).expect("a demo session");
        if !text.contains("\nclub") {
            text = format!("club = \"bare.toml\"\n{text}");
        }
        workdir = workdir.file(&format!("{}.toml", stem(&path)), text);
    }
    let ran = workdir.run(&["print", ".", "--as-written", "-o", "out"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let mut demos = Vec::new();
    for path in demo_sessions() {
        let begins = format!("{}-", stem(&path));
        let printed = std::fs::read_dir(workdir.path("out")).expect("the cards");
        let mut names = printed.map(|entry| entry.expect("an entry").path());
        let own = names.find(|name| stem(name).starts_with(&begins)).expect("a PDF of every demo");
        let bytes = std::fs::read(own).expect("a PDF");
        let pages = png::every_page(&bytes, DPI).expect("pictures");
        demos.push(pages.iter().map(|page| grey(page)).collect());
    }
    demos
}

/// The cards of one demo beside each other, stock after stock.
fn block(cards: &[&GrayImage]) -> GrayImage {
    let width = cards.iter().map(|card| card.width() + GAP).sum::<u32>() - GAP;
    let height = cards.iter().map(|card| card.height()).max().expect("a card");
    let mut block = GrayImage::from_pixel(width, height, image::Luma([DESK]));
    let mut left = 0;
    for card in cards {
        imageops::replace(&mut block, *card, left.into(), 0);
        left += card.width() + GAP;
    }
    block
}

/// Demos in the order of their names, as many to a row as it takes.
fn on_a_desk(blocks: &[GrayImage]) -> GrayImage {
    let (mut left, mut top, mut row_height, mut width) = (DEMO_GAP, DEMO_GAP, 0, 0);
    let mut corners = Vec::new();
    for block in blocks {
        if left > DEMO_GAP && left + block.width() + DEMO_GAP > WIDEST {
            (left, top, row_height) = (DEMO_GAP, top + row_height + DEMO_GAP, 0);
        }
        corners.push((left, top));
        left += block.width() + DEMO_GAP;
        row_height = row_height.max(block.height());
        width = width.max(left);
    }
    let height = top + row_height + DEMO_GAP;
    let mut workdir = GrayImage::from_pixel(width, height, image::Luma([DESK]));
    for (block, (left, top)) in blocks.iter().zip(corners) {
        imageops::replace(&mut workdir, block, left.into(), top.into());
    }
    workdir
}

#[test]
fn contact_sheet() {
    let by_stock: Vec<Vec<Vec<GrayImage>>> = STOCKS.map(cards).into();
    let blocks: Vec<GrayImage> = (0..demo_sessions().len())
        .map(|demo| block(&by_stock.iter().flat_map(|stock| &stock[demo]).collect::<Vec<_>>()))
        .collect();
    let mut sheet = on_a_desk(&blocks);
    for pixel in sheet.iter_mut() {
        *pixel = (u16::from(*pixel) + u16::from(STEP) / 2).min(255) as u8 / STEP * STEP;
        // The lightest step is paper.
        *pixel = if *pixel == 240 { 255 } else { *pixel };
    }
    assert_picture("demo-data/contact-sheet.png", &sheet);
}
