//! Prints every plan of the tests, to be looked at.

use deckcard::card::{Extras, compose};
use deckcard::paint::pdf::{self, Made, Meta};
use deckcard::sheet::Sheet;
use deckcard::stock::Stock;
use deckcard::words::Words;

#[test]
fn every_plan_prints() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("cards");
    std::fs::create_dir_all(&folder).expect("a folder");
    let words = Words::named("en").expect("listed").expect("reads");
    for name in Stock::names() {
        let stock = Stock::named(name).expect("listed").expect("reads");
        for (plan_name, plan) in crate::support::plans::all() {
            let composed = compose(&plan, &Extras::default(), &stock, &words);
            let (cards, scale) = (composed.cards.len(), composed.scale);
            println!("{plan_name} on {name}: {cards} cards at {scale:.2}, {:?}", composed.faults);
            let sheets: Vec<Sheet> = composed.cards.into_iter().map(Sheet::of).collect();
            let meta = Meta {
                title: plan.title().value.clone(),
                language: "en".into(),
                made: plan.date().map(Made::on),
            };
            let bytes = pdf::write(&sheets, &[], &meta).expect("a PDF");
            let again = pdf::write(&sheets, &[], &meta).expect("a PDF");
            assert!(bytes == again, "{plan_name}: other bytes the second time");
            std::fs::write(folder.join(format!("{plan_name}-{name}.pdf")), bytes).expect("written");
        }
    }
}
