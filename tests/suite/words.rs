//! Words: the languages of a card, and a club's own words file.

use deckcard::card::{Extras, Fault, compose};
use deckcard::drawing::{Mark, Role};
use deckcard::plan::Plan;
use deckcard::stock::Stock;
use deckcard::words::Words;

use crate::command::{GOOD, Workdir};
use crate::support::plans;

fn named(tag: &str) -> Words {
    Words::named(tag).expect("listed").expect("reads")
}

#[test]
fn no_english_is_left_on_a_card_of_another_language() {
    // Words of the card itself, none of which another of the languages has.
    const ENGLISH: [&str; 16] = [
        " lengths",
        " pool",
        " rounds",
        "leave on",
        "each time",
        "lifeguard",
        "as written",
        "recut",
        "with ",
        "Warm-up",
        "Main set",
        "Cool-down",
        "continued",
        "Bring",
        "Clock face",
        "Badge of",
    ];
    // Where they can be found if they are left: the plans have no badge.
    let english = cards_own("en");
    for word in ENGLISH.iter().filter(|word| **word != "Badge of") {
        assert!(english.contains(word), "no card says {word:?}:\n{english}");
    }
    for tag in ["es", "fr", "de"] {
        let text = cards_own(tag);
        for word in ENGLISH {
            let found = text.lines().find(|line| line.contains(word));
            assert_eq!(found, None, "{tag}: {word}");
        }
    }
}

/// Every text of the cards of all plans in a language, a line each, without what the coach wrote.
fn cards_own(tag: &str) -> String {
    let stock = Stock::named("a5").expect("listed").expect("reads");
    let words = named(tag);
    let mut text = String::new();
    for (_, plan) in plans::all() {
        let coach = coachs_own(&plan);
        let cards = compose(&plan, &Extras::default(), &stock, &words).cards;
        for item in cards.iter().flat_map(|card| card.items()) {
            let said = match (&item.mark, &item.role) {
                (_, Role::Figure(label)) => label.clone(),
                (Mark::Text(run), _) => run.text.replace('\u{a0}', " "),
                _ => continue,
            };
            // The coach's words may wrap; the sign between a note and a cue is the card's.
            let bare = said.trim_matches(|c: char| c.is_whitespace() || c == '·');
            if coach.iter().any(|words| words.contains(bare)) {
                continue;
            }
            // In a heading or a list they are beside words of the card's.
            let own = coach.iter().fold(said, |text, words| text.replace(words, "…"));
            text.push_str(&own);
            text.push('\n');
        }
    }
    text
}

/// What the coach wrote, in any language.
fn coachs_own(plan: &Plan) -> Vec<&str> {
    let mut texts = vec![plan.title()];
    texts.extend(plan.focus());
    texts.extend(plan.club());
    texts.extend(plan.lane().map(|lane| &lane.name));
    texts.extend(plan.gear());
    for part in plan.parts() {
        texts.extend(&part.title);
        for set in part.sets() {
            texts.extend(&set.cue);
            texts.extend(&set.gear);
        }
    }
    texts.into_iter().map(|text| text.value.as_str()).collect()
}

#[test]
fn every_language_fits_every_stock_and_has_its_letters() {
    for tag in Words::tags() {
        let words = named(tag);
        for name in Stock::names() {
            let stock = Stock::named(name).expect("listed").expect("reads");
            for (plan_name, plan) in plans::all().into_iter().take(4) {
                let composed = compose(&plan, &Extras::default(), &stock, &words);
                let lost = |fault: &Fault| !matches!(fault, Fault::BelowReadingSize { .. });
                assert!(!composed.faults.iter().any(lost), "{tag}, {plan_name} on {name}");
                for item in composed.cards.iter().flat_map(|card| card.items()) {
                    if let Mark::Text(run) = &item.mark {
                        let whole = run.glyphs.iter().all(|glyph| glyph.id != 0);
                        assert!(whole, "{tag}: {:?}", run.text);
                    }
                }
            }
        }
    }
}

fn pdf_language(workdir: &Workdir, pdf: &str) -> String {
    let bytes = std::fs::read(workdir.path(pdf)).expect("a PDF");
    let document = lopdf::Document::load_mem(&bytes).expect("reads");
    let catalog = document.catalog().expect("a catalog");
    let language = catalog.get(b"Lang").and_then(|lang| lang.as_str()).expect("a language");
    String::from_utf8_lossy(language).into_owned()
}

#[test]
fn language_chooses_the_words_and_the_pdfs_language() {
    let french = GOOD.replacen("pool", "language = \"fr\"\npool", 1);
    let workdir = Workdir::new().file("s.toml", french);
    let ran = workdir.run(&["print", "s.toml"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert_eq!(pdf_language(&workdir, "s-25m.pdf"), "fr");
    // Told once, though two versions are printed; no finding, so nothing to allow.
    assert_eq!(ran.err.matches("have not been read over").count(), 1, "{}", ran.err);
    let ran = workdir.run(&["check", "s.toml"]);
    assert_eq!((ran.exit, ran.err.as_str()), (0, ""));
    let workdir = Workdir::new().file("s.toml", GOOD);
    assert!(!workdir.run(&["print", "s.toml"]).err.contains("read over"));
    assert_eq!(pdf_language(&workdir, "s-25m.pdf"), "en");
}

#[test]
fn a_club_brings_its_own_words_and_every_fault_is_named() {
    let english = include_str!("../../templates/words/en.toml");
    let dutch = english
        .replace("language = \"en\"", "language = \"nl\"")
        .replace("{count} lengths", "{count} banen");
    let club = "name = \"Hernmarsh Lane Club\"\nlanguage = \"words/nl.toml\"\n";
    let session = GOOD.replacen("pool", "club = \"club.toml\"\npool", 1);
    let workdir = Workdir::new()
        .file("s.toml", session)
        .file("club.toml", club)
        .file("words/nl.toml", &dutch);
    let ran = workdir.run(&["print", "s.toml"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert_eq!(pdf_language(&workdir, "s-25m.pdf"), "nl");
    let broken = dutch.replace("leave_on = ", "leaveon = ").replace("bring = \"Bring\"\n", "");
    let workdir = workdir.file("words/nl.toml", broken);
    let ran = workdir.run(&["check", "s.toml", "--format", "short"]);
    assert_eq!(ran.exit, 1);
    assert!(
        ran.err.contains("error[unknown-key]: the [set] of a words file has no key \"leaveon\"")
            && ran.err.contains("error[missing-key]: the [foot] of a words file needs bring"),
        "{}",
        ran.err
    );
    let workdir = workdir.file("club.toml", club.replace("nl.toml", "nv.toml"));
    let ran = workdir.run(&["check", "s.toml", "--format", "short"]);
    assert_eq!(ran.exit, 1);
    assert!(ran.err.contains("club.toml:2:12: error[language-unknown]"), "{}", ran.err);
}

#[test]
fn a_grey_badge_has_no_colour_in_the_pdf() {
    // A red badge; the club prints on an office printer.
    let picture = image::RgbImage::from_pixel(40, 40, image::Rgb([200, 30, 30]));
    let mut png = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut png, image::ImageFormat::Png).expect("a PNG");
    let session = GOOD.replacen("pool", "club = \"club.toml\"\npool", 1);
    let space = |grey: &str| {
        let club = format!("name = \"Hernmarsh Lane Club\"\nbadge = \"b.png\"\n{grey}");
        let workdir = Workdir::new()
            .file("s.toml", &session)
            .file("club.toml", club)
            .file("b.png", png.get_ref());
        let ran = workdir.run(&["print", "s.toml", "--as-written"]);
        assert_eq!(ran.exit, 0, "{}", ran.err);
        let bytes = std::fs::read(workdir.path("s-25m.pdf")).expect("a PDF");
        let document = lopdf::Document::load_mem(&bytes).expect("reads");
        let image = document.objects.values().find_map(|object| {
            let stream = object.as_stream().ok()?;
            let is_image = stream.dict.get(b"Subtype").and_then(|t| t.as_name()).ok()? == b"Image";
            let space = stream.dict.get(b"ColorSpace").and_then(|space| space.as_name()).ok()?;
            is_image.then(|| String::from_utf8_lossy(space).into_owned())
        });
        image.expect("a picture")
    };
    // ISO 32000-1, 8.6.4: DeviceGray has one component, and with it no colour.
    assert_eq!(space("badge_grey = true\n"), "DeviceGray");
    assert_eq!(space(""), "DeviceRGB");
}
