//! Cards as a document, for tests that read it with lopdf.

use deckcard::card::{Extras, compose};
use deckcard::drawing::Card;
use deckcard::paint::pdf::{self, Meta};
use deckcard::plan::Plan;
use deckcard::sheet::Sheet;
use deckcard::stock::Stock;
use deckcard::words::Words;
use lopdf::Document;

/// The cards of a plan on A6.
pub fn cards(plan: &Plan) -> Vec<Card> {
    let stock = Stock::named("a6").expect("listed").expect("reads");
    let words = Words::named("en").expect("listed").expect("reads");
    compose(plan, &Extras::default(), &stock, &words).cards
}

/// `sheets` as a document.
pub fn written(sheets: &[Sheet]) -> Document {
    let meta = Meta { title: "T".into(), language: "en".into(), made: None };
    let bytes = pdf::write(sheets, &[], &meta).expect("a PDF");
    Document::load_mem(&bytes).expect("reads")
}
