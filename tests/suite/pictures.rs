//! A few things that only a picture can hold: how a dial, a card and a sheet look.

use deckcard::card::stock::Stock;
use deckcard::card::words::Words;
use deckcard::card::{Card, Extras, Item, Mark, Role, Step, compose};
use deckcard::paint::pdf::{self, Meta};
use deckcard::paint::png;
use deckcard::plan::Plan;
use deckcard::sheet::{Edge, Faces, Imposition, Paper, Sheet, impose};
use image::GrayImage;

use crate::support::marked::{card, dimensions, extent};
use crate::support::pictures::{assert_picture, difference, grey};
use crate::support::plans;

fn picture(sheet: &Sheet, dpi: u32) -> GrayImage {
    let meta = Meta { title: "Pictures".into(), language: "en".into(), made: None };
    let bytes = pdf::write(std::slice::from_ref(sheet), &[], &meta).expect("a PDF");
    grey(&png::page(&bytes, 1, dpi).expect("a picture"))
}

fn first_card(plan: &Plan, stock: &str) -> Card {
    let stock = Stock::named(stock).expect("listed").expect("reads");
    let words = Words::named("en").expect("listed").expect("reads");
    let cards = compose(plan, &Extras::default(), &stock, &words).cards;
    cards.into_iter().next().expect("a card")
}

/// The clock face of a rest, cut out of its card at 288 dpi, 4 pixels to the point.
#[test]
fn a_dial() {
    let card = first_card(&plans::short(), "a7");
    // The figure, and what is drawn with it up to the next text.
    let is_dial = |item: &Item| matches!(&item.role, Role::Figure(_));
    let first = card.items.iter().position(is_dial).expect("a dial");
    let more = card.items[first + 1..].iter().take_while(|item| item.role == Role::Artifact);
    let mut points = Vec::new();
    for item in card.items[first..=first].iter().chain(more) {
        let (Mark::Fill(path, _) | Mark::Stroke(path, ..)) = &item.mark else { continue };
        points.extend(path.0.iter().filter_map(|step| match step {
            Step::Move(p) | Step::Line(p) | Step::Curve(_, _, p) => Some((p.x_pt, p.y_pt)),
            Step::Close => None,
        }));
    }
    let least = |of: fn(&(f32, f32)) -> f32| points.iter().map(of).fold(f32::MAX, f32::min);
    let most = |of: fn(&(f32, f32)) -> f32| points.iter().map(of).fold(f32::MIN, f32::max);
    let edge = |pt: f32, grow: f32| ((pt + grow) * 4.0).round() as u32;
    let (left, top) = (edge(least(|p| p.0), -1.5), edge(least(|p| p.1), -1.5));
    let (right, bottom) = (edge(most(|p| p.0), 1.5), edge(most(|p| p.1), 1.5));
    let whole = picture(&Sheet::of(card.clone()), 288);
    let cut = image::imageops::crop_imm(&whole, left, top, right - left, bottom - top);
    assert_picture("tests/pictures/dial.png", &cut.to_image());
}

#[test]
fn a_card() {
    let is = picture(&Sheet::of(first_card(&plans::ordinary(), "a6")), 60);
    assert_picture("tests/pictures/card-a6.png", &is);
}

/// Three A7 cards with bars on A4, gutters of 6 mm; the second without a back.
fn sheets(edge: Edge) -> Vec<Sheet> {
    let size = dimensions("74 mm", "105 mm");
    let card = card(size);
    let mut faces = vec![Faces { size, front: card.clone(), back: Some(card) }; 3];
    faces[1].back = None;
    let on =
        Imposition { gutter: extent("6 mm"), duplex: Some(edge), ..Imposition::plain(Paper::A4) };
    impose(&faces, &on).expect("sheets")
}

#[test]
fn a_sheet_and_its_backs() {
    let [front, long] = &sheets(Edge::Long)[..] else { panic!("a front and a back") };
    assert_picture("tests/pictures/sheet-front.png", &picture(front, 60));
    assert_picture("tests/pictures/sheet-back-long-edge.png", &picture(long, 60));
    let short = &sheets(Edge::Short)[1];
    assert_picture("tests/pictures/sheet-back-short-edge.png", &picture(short, 60));
}

/// The threshold sees the loss of any single crop mark, and of a card's place by half a point.
#[test]
fn the_threshold_sees_a_missing_mark() {
    let whole = sheets(Edge::Long).remove(0);
    let reference = picture(&whole, 60);
    assert_eq!(difference(&picture(&whole, 60), &reference), None);
    for index in 0..whole.marks.len() {
        let mut less = whole.clone();
        less.marks.remove(index);
        let seen = difference(&picture(&less, 60), &reference);
        assert!(seen.is_some(), "mark {index} is not missed");
    }
    let mut moved = whole.clone();
    moved.placed[0].at.x_pt += 0.5;
    assert!(difference(&picture(&moved, 60), &reference).is_some());
}
