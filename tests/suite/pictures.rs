//! A few things that only a picture can hold: how a dial, a card and a sheet look.

use deckcard::binder::{Binding, Sides, bind, gather};
use deckcard::block;
use deckcard::card::{Extras, back, compose};
use deckcard::drawing::{Card, Mark};
use deckcard::handout::{Evening, HandoutWeek, lay_out};
use deckcard::paint::pdf::{self, Meta};
use deckcard::paint::png;
use deckcard::plan::Plan;
use deckcard::session::Notice;
use deckcard::sheet::{Edge, Faces, Imposition, Paper, Sheet, impose};
use deckcard::stock::{Orientation, Stock};
use deckcard::words::Words;
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
    let dial = card.items().iter().find_map(|item| match &item.mark {
        Mark::Dial(at, width_pt, _) => Some((*at, *width_pt)),
        _ => None,
    });
    let (at, width_pt) = dial.expect("a dial");
    let edge = |pt: f32| (pt * 4.0).round() as u32;
    let (left, top) = (edge(at.x_pt - 1.5), edge(at.y_pt - 1.5));
    let (right, bottom) = (edge(at.x_pt + width_pt + 1.5), edge(at.y_pt + width_pt + 1.5));
    let whole = picture(&Sheet::of(card.clone()), 288);
    let cut = image::imageops::crop_imm(&whole, left, top, right - left, bottom - top);
    assert_picture("tests/pictures/dial.png", &cut.to_image());
}

#[test]
fn a_card() {
    let is = picture(&Sheet::of(first_card(&plans::ordinary(), "a6")), 60);
    assert_picture("tests/pictures/card-a6.png", &is);
}

fn stock(name: &str) -> Stock {
    Stock::named(name).expect("listed").expect("reads")
}

fn words(language: &str) -> Words {
    Words::named(language).expect("listed").expect("reads")
}

/// Rounds, send-offs, and the bar of shares at the side: what goes on after the first card.
#[test]
fn a_card_with_rounds_on_a_clock() {
    let cards = compose(&plans::crowded(), &Extras::default(), &stock("a5"), &words("en")).cards;
    let is = picture(&Sheet::of(cards.into_iter().nth(1).expect("a second card")), 60);
    assert_picture("tests/pictures/card-rounds-a5.png", &is);
}

/// A lane's card on its side, in French, with the lane's own times.
#[test]
fn a_card_on_its_side() {
    let side = Stock { orientation: Orientation::Landscape, ..stock("a6") };
    let cards = compose(&plans::lane(), &Extras::default(), &side, &words("fr")).cards;
    let is = picture(&Sheet::of(cards.into_iter().next().expect("a card")), 60);
    assert_picture("tests/pictures/card-landscape-fr.png", &is);
}

/// Marks above and below letters, other scripts, a word longer than its line.
#[test]
fn a_card_of_many_letters() {
    let is = picture(&Sheet::of(first_card(&plans::words(), "4x6")), 60);
    assert_picture("tests/pictures/card-letters-4x6.png", &is);
}

#[test]
fn a_back() {
    let is = picture(&Sheet::of(back(&plans::lane(), &stock("a6"), &words("en"))), 60);
    assert_picture("tests/pictures/card-back.png", &is);
}

/// A binder's first pages: contents, charts, a card at each side of the holes, a log.
#[test]
fn pages_of_a_binder() {
    let block = "demo-data/blocks/masters-month/block.toml";
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(block);
    let block = block::open(&path).expect("a block opens").checked.expect("a block");
    let binding = Binding::new(stock("binder-half-letter"), Sides::Both);
    let (outline, words) = gather(&block, plans::yards(25), &binding).outline.expect("an outline");
    let sheets = bind(&outline, &binding, &words).sheets;
    // Week 1 has two sessions of a card each: pages 3 and 4, then its log.
    for (index, name) in [(0, "contents"), (1, "charts"), (4, "log")] {
        // Alone, a page has nowhere to lead to.
        let page = sheets[index].clone().without_links();
        assert_picture(&format!("tests/pictures/binder-{name}.png"), &picture(&page, 60));
    }
}

/// A week of two lanes on A4: strips, fold and cut, and what is behind them.
#[test]
fn a_hand_out() {
    let plans = [plans::lane(), plans::lane_named("Lane 2")];
    let lines = ["The doors open at 19:00.", "", "The lifeguard's whistle means: to the wall."];
    let lines = lines.map(str::to_owned).to_vec();
    let notice = plans::placed(Notice { lines });
    let evening = || Evening { plans: &plans, extras: Extras::default() };
    let week = HandoutWeek {
        club: Some("Hernmarsh Lane Club".into()),
        notice: Some(&notice),
        evenings: vec![evening(), evening()],
    };
    let sheets = lay_out(&week, Paper::A4, &stock("handout"), &words("en")).sheets;
    assert_picture("tests/pictures/hand-out-front.png", &picture(&sheets[0], 40));
    assert_picture("tests/pictures/hand-out-back.png", &picture(&sheets[1], 40));
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
    for index in 0..whole.marks().len() {
        let mut marks = whole.marks().to_vec();
        marks.remove(index);
        let less = whole.clone().with_marks(marks);
        let seen = difference(&picture(&less, 60), &reference);
        assert!(seen.is_some(), "mark {index} is not missed");
    }
    let mut placed = whole.placed().to_vec();
    placed[0].at.x_pt += 0.5;
    let moved = Sheet::new(whole.paper(), placed).expect("cards inside the paper");
    let moved = moved.with_marks(whole.marks().to_vec());
    assert!(difference(&picture(&moved, 60), &reference).is_some());
}
